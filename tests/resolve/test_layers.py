"""Layers follow from the parts alone: stacks, needle points and fittings of a build come back from what else is in it."""

from dataclasses import replace
from pathlib import Path

import pytest

from docgen.read import read_spec
from docgen.resolve import Build, resolve_build
from docgen.resolve.layers import lay_layers
from docgen.resolve.parts import Parts

SPECS = sorted((Path(__file__).parents[2] / "specs").glob("*.toml"))


def strip_layers(build: Build) -> Parts:
    """The parts of a build without anything that follows from how they lie on each other."""
    bare = {"layers": (), "stack_mm": 0.0, "thinnest_mm": 0.0, "thickest_mm": 0.0, "landed": (), "strength_n": 0.0}
    points = {"machine": "leather", "hand": ""}
    return Parts(
        limits=build.limits,
        materials={item.name: item for item in build.materials},
        stitches={
            item.name: item if item.is_point_given else replace(item, point=points[item.by]) for item in build.stitches
        },
        hardware={item.name: item for item in build.hardware},
        straps={item.name: item for item in build.straps},
        pieces={item.name: item for item in build.pieces},
        joins={item.name: replace(item, stack_mm=0.0) for item in build.joins},
        seams=tuple(replace(seam, **bare) for seam in build.seams),
    )


@pytest.mark.parametrize("path", SPECS, ids=[path.stem for path in SPECS])
def test_layers_are_found_again_from_the_parts_alone(path):
    build = resolve_build(read_spec(path))
    bare = strip_layers(build)
    laid = lay_layers(bare)
    assert any(seam.layers for seam in laid.seams)
    assert laid.seams == build.seams
    assert tuple(laid.joins.values()) == build.joins
    assert tuple(laid.stitches.values()) == build.stitches
    assert laid.fittings == build.fittings
    assert lay_layers(laid) == laid
    assert bare == strip_layers(build)
