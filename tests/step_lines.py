"""The lines of a step as they are printed, and plans of demos with words exchanged, for the tests that read them."""

from collections.abc import Iterable
from pathlib import Path

from demos import PATHS

from docgen.checks import resolve_build
from docgen.pages.work.acts import tell
from docgen.plan import Act, Plan, plan_work
from docgen.read import read_spec


def words_of(told: Iterable[Act]) -> list[str]:
    """Lines as they are read: what holds a figure to its unit is a space."""
    return [tell(one).replace("\u00a0", " ") for one in told]


def lines(plan: Plan, number: int) -> list[str]:
    """What is done in the step of that number, from 1."""
    return words_of(plan.steps[number - 1].acts)


def every_line(plan: Plan) -> list[str]:
    """What is done in all steps, one after the other."""
    return [line for step in plan.steps for line in words_of(step.acts)]


def good(plan: Plan, number: int) -> list[str]:
    """What can be measured or seen once it is done well."""
    return words_of(plan.steps[number - 1].good)


def variant(tmp_path: Path, name: str, *edits: tuple[str, str]) -> Plan:
    """The plan of a demo or starter with words exchanged."""
    text = PATHS[name].read_text(encoding="utf-8")
    for old, new in edits:
        assert old in text
        text = text.replace(old, new)
    path = tmp_path / "a.toml"
    path.write_text(text, encoding="utf-8")
    return plan_work(resolve_build(read_spec(path)))
