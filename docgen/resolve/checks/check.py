"""What a check is, and what it looks at."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from docgen.problems import Place
from docgen.read import Spec
from docgen.resolve.build import Build
from docgen.resolve.goods.values import Material
from docgen.resolve.parts import Parts
from docgen.resolve.piece import Piece
from docgen.resolve.seams.seam import Stitch
from docgen.written.units import Show

PRACTICE = "common practice, no published source"


@dataclass(frozen=True, slots=True, kw_only=True)
class Subject:
    """A build, the spec it was made from, and its parts by name."""

    spec: Spec
    build: Build
    parts: Parts

    @property
    def show(self) -> Show:
        return self.build.show

    @property
    def cut(self) -> tuple[Piece, ...]:
        """Everything that is cut: pieces, then straps."""
        return (*self.build.pieces, *(strap.piece for strap in self.build.straps))

    def material(self, piece: Piece) -> Material | None:
        return self.parts.materials.get(piece.material)

    def place_of(self, stitch: Stitch, key: str) -> Place:
        """Where the spec says something of a stitch; its table where it does not."""
        spec = next(spec for spec in self.spec.stitches if spec.name == stitch.name)
        value = getattr(spec, key)
        place: Place = spec.place if value is None else value.place
        return place


Found = tuple[Place, str, str, str]
"""Where, what is wrong, what would mend it, and the part it concerns."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """One check: `id`, a sentence for a person, the source of its figure, and what finds it.

    `stops` tells an error from a caution. A check that `needs_whole` is left out while the build has errors: what hangs
    on a mistake would seem wrong.
    """

    id: str
    says: str
    source: str
    find: Callable[[Subject], Iterable[Found]]
    stops: bool = False
    needs_whole: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class EarlierCheck:
    """A check without which nothing can be made: as `Check`, and the module `found_in` which it is noted."""

    id: str
    says: str
    source: str
    found_in: str
