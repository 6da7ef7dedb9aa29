"""A layer of a stack, and hardware in its place through such layers."""

from dataclasses import dataclass

from docgen.problems import Place


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


@dataclass(frozen=True, slots=True, kw_only=True)
class Fitting:
    """Hardware in its place: `count` of them for one make, through these layers of `part` and of what lies there.

    A post of `post_least_mm` to `post_most_mm` is wanted; `post_mm` is the one chosen from the drawer, 0 where none
    is named, or none will do. `around` is the hardware that the end of a strap turns round there; empty elsewhere.
    """

    hardware: str
    part: str
    count: int
    layers: tuple[Layer, ...]
    stack_mm: float
    around: str = ""
    post_least_mm: float = 0.0
    post_most_mm: float = 0.0
    post_mm: float = 0.0
    place: Place = Place()
