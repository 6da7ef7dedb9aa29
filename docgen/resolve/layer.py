"""A layer of a stack."""

from __future__ import annotations

from docgen.classes import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Layer:
    """One layer of a stack, after skiving: as thick as it mostly is there, and at its thinnest and thickest
    place (None: as mostly). What lies under a part of a seam only is 0 at its thinnest."""

    part: str
    material: str
    thickness_mm: float
    thinnest_mm: float | None = None
    thickest_mm: float | None = None

    @property
    def least_mm(self) -> float:
        return self.thickness_mm if self.thinnest_mm is None else self.thinnest_mm

    @property
    def most_mm(self) -> float:
        return self.thickness_mm if self.thickest_mm is None else self.thickest_mm
