"""A pile: layers on each other from the top down, each with the way its grain side looks."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Literal

from docgen.classes import dataclass

Grain = Literal["up", "down", ""]


@dataclass(frozen=True, slots=True, kw_only=True)
class Ply:
    """A layer of a pile: as thick as it mostly is there, or, where it lies under a part of a seam only (`is_partial`), as
    it is at most. `grain` is "" for what is no leather, and where it is not told."""

    part: str
    material: str
    thickness_mm: float
    grain: Grain = ""
    is_leather: bool = False
    is_partial: bool = False


Pile = tuple[Ply, ...]


def turn_over(pile: Sequence[Ply]) -> Pile:
    """The pile with its underside up."""
    other: dict[Grain, Grain] = {"up": "down", "down": "up", "": ""}
    return tuple(replace(ply, grain=other[ply.grain]) for ply in reversed(pile))
