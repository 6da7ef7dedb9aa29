"""The demos and the starters are good work: nothing in them is wrong, and nothing calls for a caution."""

from pathlib import Path

import pytest

from docgen.calls.asked import CheckCall
from docgen.calls.check import check_spec
from docgen.checks import resolve_variants
from docgen.read import read_spec

ROOT = Path(__file__).parents[2]
SPECS = (*sorted(ROOT.glob("specs/*.toml")), *sorted(ROOT.glob("docgen/starters/*.toml")))


def test_all_demos_and_starters_are_here() -> None:
    assert {path.stem for path in SPECS} >= {"field-bag", "notebook-sleeve", "cable-roll", "bag", "sleeve", "strap"}


@pytest.mark.parametrize("path", SPECS, ids=[path.stem for path in SPECS])
def test_a_demo_is_silent(path: Path) -> None:
    spec = read_spec(path)
    assert spec.problems == ()
    for build in resolve_variants(spec):
        assert build.cautions == ()
    assert check_spec(CheckCall(spec=path)).cautions == ()
