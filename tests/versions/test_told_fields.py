"""Every field of every value that is compared says how its change is told, or that it is not."""

from dataclasses import dataclass, fields, is_dataclass
from typing import Any, get_args, get_type_hints

import pytest

from docgen.resolve import Build
from docgen.told import KEY, list_told, told, untold


def find_compared(owner: type[Any]) -> list[type[Any]]:
    """The class, and those of the parts in its fields."""
    hints = get_type_hints(owner)
    parts = [hints[field] for field, said in list_told(owner) if said.is_part]
    inner = [
        kind for part in parts for kind in (part, *get_args(part)) if isinstance(kind, type) and is_dataclass(kind)
    ]
    return [owner, *inner]


def list_unmarked(owner: type[Any]) -> list[str]:
    return [item.name for item in fields(owner) if KEY not in item.metadata]


def test_all_parts_of_a_build_are_among_them():
    assert " ".join(kind.__name__ for kind in find_compared(Build)) == (
        "Build Piece Strap Join Seam Material Stitch Hardware UsedPart Trimming Step Care Shop Printing Limits Machine "
        "Inside Costs"
    )


@pytest.mark.parametrize("kind", find_compared(Build))
def test_every_field_has_words_or_is_marked(kind):
    assert list_unmarked(kind) == []
    names = [said.words for _, said in list_told(kind)]
    assert all(names)
    assert len(set(names)) == len(names)


def test_a_field_that_has_neither_is_found():
    @dataclass(frozen=True)
    class Clasp:
        title: str = told("title")
        width_mm: float = untold(default=0.0)
        colour: str = ""

    assert list_unmarked(Clasp) == ["colour"]
    assert [(field, said.words, said.figure) for field, said in list_told(Clasp)] == [("title", "title", "words")]
