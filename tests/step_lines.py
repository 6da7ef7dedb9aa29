"""The lines of a step as they are printed, and plans of demos with words exchanged, for the tests that read them."""

from pathlib import Path

from demos import PATHS

from docgen.checks import resolve_build
from docgen.pages.work.acts import tell
from docgen.plan import Plan, plan_work
from docgen.read import read_spec


def lines(plan: Plan, number: int) -> list[str]:
    """What is done in the step of that number, from 1."""
    return [tell(one).replace("\u00a0", " ") for one in plan.steps[number - 1].acts]


def good(plan: Plan, number: int) -> list[str]:
    """What can be measured or seen once it is done well."""
    return [tell(one).replace("\u00a0", " ") for one in plan.steps[number - 1].good]


def variant(tmp_path: Path, name: str, *edits: tuple[str, str]) -> Plan:
    """The plan of a demo or starter with words exchanged."""
    text = PATHS[name].read_text(encoding="utf-8")
    for old, new in edits:
        assert old in text
        text = text.replace(old, new)
    path = tmp_path / "a.toml"
    path.write_text(text, encoding="utf-8")
    return plan_work(resolve_build(read_spec(path)))
