"""Layers follow from the rest of a build: stacks, needle points and posts come back when they are taken out."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from docgen.assemble import put_together
from docgen.checks import resolve_build
from docgen.read import read_spec
from docgen.resolve import Build

SPECS = sorted((Path(__file__).parents[2] / "specs").glob("*.toml"))


def strip_layers(build: Build) -> Build:
    """The build without anything that follows from how its parts lie on each other."""
    bare = {"layers": (), "stack_mm": 0.0, "thinnest_mm": 0.0, "thickest_mm": 0.0, "landed": ()}
    points = {"machine": "leather", "hand": ""}
    return replace(
        build,
        stitches=tuple(
            item if item.is_point_given else replace(item, point=points[item.by]) for item in build.stitches
        ),
        seams=tuple(replace(seam, **bare) for seam in build.seams),
    )


@pytest.mark.parametrize("path", SPECS, ids=[path.stem for path in SPECS])
def test_layers_are_found_again_from_the_rest_alone(path):
    build = resolve_build(read_spec(path))
    bare = strip_layers(build)
    laid = put_together(bare)
    assert any(seam.layers for seam in laid.seams)
    assert laid == build
    assert put_together(laid) == laid
    assert bare == strip_layers(build)


def test_other_steps_want_another_assembly() -> None:
    build = resolve_build(read_spec(SPECS[0]))
    with pytest.raises(ValueError, match="put the build together again"):
        replace(build, steps=build.steps[1:])
    assert replace(build, steps=build.steps) == build
