"""Builds that are right are silent: what makers build of other kinds than the demos, invented, worked out by hand."""

from pathlib import Path

import pytest
from slips.builds import FOLDERS

from docgen.checks import resolve_variants
from docgen.read import read_spec

BUILDS = sorted(FOLDERS["short: "].glob("*.toml"))


def test_there_are_many_of_them() -> None:
    assert len(BUILDS) >= 28


@pytest.mark.parametrize("path", BUILDS, ids=[path.stem for path in BUILDS])
def test_a_right_build_is_silent(path: Path) -> None:
    builds = resolve_variants(read_spec(path))
    assert [f"{one.check}: {one.what}" for build in builds for one in build.cautions] == []
