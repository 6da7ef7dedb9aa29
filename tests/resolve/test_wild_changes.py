"""A demo with values thrown about: it is built and planned, or rejected with problems; it never breaks docgen."""

import re
from pathlib import Path
from tempfile import TemporaryDirectory

from hypothesis import given, settings
from hypothesis import strategies as st

from docgen.checks import resolve_build
from docgen.plan import plan_work
from docgen.problems import SpecRejected
from docgen.read import read_spec

DEMO = (Path(__file__).parents[2] / "specs" / "field-bag.toml").read_text(encoding="utf-8")
VALUES = [match.span() for match in re.finditer(r'"[^"\n]*"|\b\d+\b', DEMO)]
WILD = (
    '"solve"|"0"|"-1 in"|"9 m"|"width"|"0.01 mm"|"1/2 in"|"left"|"all"|"bottom"|"centre"|"left bottom right"|'
    '"1 in from top"|"20 in from left, middle"|"gusset"|"front: left"|"back: all"|"circle"|"strip"|"outline"|"turned"|'
    "0|12|true"
)


def build_or_reject(text: str) -> int:
    """Number of steps planned; -1 when the spec is rejected, which is as good."""
    with TemporaryDirectory() as folder:
        path = Path(folder, "bag.toml")
        path.write_text(text, encoding="utf-8")
        try:
            return len(plan_work(resolve_build(read_spec(path))).steps)
        except SpecRejected:
            return -1


@settings(derandomize=True, max_examples=20, deadline=None)
@given(st.lists(st.tuples(st.sampled_from(VALUES), st.sampled_from(WILD.split("|"))), min_size=1, max_size=3))
def test_any_change_is_built_or_rejected(changes: list[tuple[tuple[int, int], str]]) -> None:
    text = DEMO
    for (start, end), word in sorted(changes, reverse=True):
        text = text[:start] + word + text[end:]
    assert build_or_reject(text) in (-1, *range(1, 50))


def test_the_demo_itself_is_built() -> None:
    assert build_or_reject(DEMO) == DEMO.count("[[steps]]")
