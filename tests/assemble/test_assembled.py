"""Layers follow from the rest of a build: stacks, needle points and posts come back when they are taken out."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from docgen.assemble import put_together
from docgen.checks import resolve_build
from docgen.problems import SpecRejected
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


def test_what_cannot_be_read_is_placed_nowhere(tmp_path):
    """A material whose kind is misspelt is told; nothing is reckoned with the pieces that are cut from it."""
    text = (SPECS[0].parent / "field-bag.toml").read_text("utf-8").replace('kind      = "foam"', 'kind      = "fam"')
    path = tmp_path / "a.toml"
    path.write_text(text, "utf-8")
    with pytest.raises(SpecRejected) as caught:
        resolve_build(read_spec(path))
    assert [problem.what for problem in caught.value.problems] == ['kind cannot be "fam"']
