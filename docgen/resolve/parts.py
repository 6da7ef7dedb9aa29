"""What a build is made of, by name: what the steps of `resolve` hand on to each other."""

from collections.abc import Mapping
from dataclasses import field

from docgen.classes import dataclass
from docgen.resolve.goods.values import Hardware, Material, Trimming
from docgen.resolve.piece import Piece
from docgen.resolve.seams.seam import Join, Seam, Stitch
from docgen.resolve.straps.strap import Strap
from docgen.tables.limits import Limits


@dataclass(frozen=True, slots=True, kw_only=True)
class Parts:
    """Everything that a build is made of, by name. Each step takes it and gives it back with more in it."""

    limits: Limits = Limits()
    materials: Mapping[str, Material] = field(default_factory=dict)
    stitches: Mapping[str, Stitch] = field(default_factory=dict)
    hardware: Mapping[str, Hardware] = field(default_factory=dict)
    trimmings: Mapping[str, Trimming] = field(default_factory=dict)
    straps: Mapping[str, Strap] = field(default_factory=dict)
    pieces: Mapping[str, Piece] = field(default_factory=dict)
    joins: Mapping[str, Join] = field(default_factory=dict)
    seams: tuple[Seam, ...] = ()
    solved: Mapping[str, float] = field(default_factory=dict)  # open lengths that a seam gave, by the piece, in mm

    def strips(self, name: str) -> tuple[Piece, ...]:
        """The pieces behind a name, each once: of a join its strips; none for a strap."""
        names = self.joins[name].pieces if name in self.joins else (name,)
        return tuple(self.pieces[strip] for strip in dict.fromkeys(names) if strip in self.pieces)

    def full_mm(self, piece: Piece) -> float:
        """Thickness of a piece before skiving; 0 when its material is not known."""
        material = self.materials.get(piece.material)
        return material.thickness_mm if material else 0.0
