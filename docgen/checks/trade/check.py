"""What a check is, and what it looks at."""

import math
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import cached_property
from string import Formatter

from docgen.assemble import Assembled, Space, TakenApart, find_leather_stitches
from docgen.classes import dataclass
from docgen.problems import Place, Problem
from docgen.read import NamedTable, PieceSpec, Spec
from docgen.resolve import Material, Parts, Piece, Stitch, find_parts
from docgen.tables.hardware import HOLE_BY_KIND_MM
from docgen.tables.limits import Limits, limit_words
from docgen.written.units.table import MM_PER_INCH
from docgen.written.units.telling import Show, format_length, format_mm, format_number

PRACTICE = "common practice, no published source"


@dataclass(frozen=True, kw_only=True)
class Subject:
    """A build, the spec it was made from, and its parts by name; `drawn` is what can be drawn of it, where that is worked
    out already."""

    spec: Spec
    build: Assembled
    drawn: TakenApart | None = None

    @cached_property
    def parts(self) -> Parts:
        return find_parts(self.build)

    @cached_property
    def specs(self) -> Mapping[str, PieceSpec]:
        """The tables of the pieces by name; a piece that a join or a part makes has none."""
        return {spec.name: spec for spec in self.spec.pieces}

    @property
    def apart(self) -> TakenApart:
        """What can be drawn of the build."""
        return self.drawn or TakenApart(self.build)

    @property
    def space(self) -> Space:
        """Where all parts lie."""
        return self.build.space

    @cached_property
    def counts(self) -> Mapping[str, int]:
        """How many there are of each part for one make."""
        return Counter(copy.part for copy in self.build.assembly.copies)

    def lies_behind(self, one: str, other: str) -> bool:
        """Whether either of two parts lies on the other, or lines it."""
        lies = {(each.host.part, each.copy.part) for each in self.build.assembly.lies}
        return (one, other) in lies or (other, one) in lies

    @cached_property
    def leather_stitches(self) -> frozenset[str]:
        """The stitches that go through leather."""
        return find_leather_stitches(self.build)

    @cached_property
    def odd_punches(self) -> frozenset[Place]:
        """Where holes are written that no punch makes, or that are far too large for what they take: told as that alone."""
        most_mm = self.build.limits.largest_punch_mm
        largest = {
            item.name: 2 * (item.hole_mm or HOLE_BY_KIND_MM.get(item.kind, (0.0, most_mm))[1])
            for item in self.build.hardware
        }
        return frozenset(
            hole.place
            for piece in self.build.cut
            for hole in piece.marks.holes
            if hole.diameter_mm > min(most_mm, largest.get(hole.takes, most_mm))
        )

    @property
    def show(self) -> Show:
        return self.build.show

    def length(self, mm: float) -> str:
        """A length in both units, the one that the build shows first in front."""
        return format_length(mm, self.show)

    def pitch(self, stitch: Stitch, mm: float, *, is_most: bool) -> str:
        """The most or least that a stitch may be long, as its pitch is written: `6.4 mm or shorter`, `4 per inch or
        more`."""
        value = next((spec.pitch for spec in self.spec.stitches if spec.name == stitch.name), None)
        if value is None or "per" not in value.value:
            return f"{format_mm(mm)} or {'shorter' if is_most else 'longer'}"
        count = MM_PER_INCH / mm
        whole = math.ceil(2 * count - 1e-9) / 2 if is_most else math.floor(2 * count + 1e-9) / 2
        return f"{format_number(whole, 1)} per inch or {'more' if is_most else 'fewer'}"

    def inset_mm(self, stitch: str) -> float:
        """How far from the edge a stitch is sewn; 0 of one that is not there."""
        return self.parts.stitches[stitch].inset_mm if stitch in self.parts.stitches else 0.0

    @cached_property
    def sewn(self) -> Mapping[str, frozenset[str]]:
        """The parts that are in a seam, each with those of its edges that are, as they are written there: none of what is
        sewn flat alone."""
        found: dict[str, set[str]] = {}
        for seam in self.build.seams:
            for side in seam.sides:
                found.setdefault(side.part, set()).update(side.edges)
        return {part: frozenset(edges) for part, edges in found.items()}

    def edges_sewn(self, part: str) -> frozenset[str]:
        """The edges of a part that are in a seam."""
        return self.sewn.get(part, frozenset())

    def material(self, piece: Piece) -> Material | None:
        return self.parts.materials.get(piece.material)

    def place_of(self, stitch: Stitch, key: str) -> Place:
        """Where the spec says something of a stitch, a needle by its thread, a pitch perhaps by its iron; its table where
        it does not."""
        iron = next((iron for iron in self.spec.irons if iron.name == stitch.iron), None) if key == "pitch" else None
        if iron is not None and iron.pitch is not None:
            return iron.pitch.place
        keys = (key, "thread") if key == "needle" else (key,)
        return self.written_at(self.spec.stitches, stitch.name, *keys)

    def piece_spec(self, name: str) -> PieceSpec | None:
        """The table of a piece, None for what has none of its own."""
        return self.specs.get(name)

    def size_place(self, piece: Piece, *, is_across: bool) -> Place:
        """Where the width of a piece is written, else its height; its table where no single figure gives it."""
        spec = self.piece_spec(piece.name)
        value = spec and (spec.size[0 if is_across else -1] if spec.size else spec.diameter)
        return value.place if value else piece.place

    def written_at(self, specs: Iterable[NamedTable], name: str, *keys: str) -> Place:
        """Where the table of this name says the first of these keys that it does; the table itself where none."""
        spec = next(spec for spec in specs if spec.name == name)
        place: Place = next((value.place for key in keys if (value := getattr(spec, key)) is not None), spec.place)
        return place


Found = tuple[Place, str, str, str]
"""Where, what is wrong, what would mend it, and the part it concerns."""


Find = Callable[[Subject], Iterable[Found]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """One check: `id`, a sentence for a person, the source of its figure, and what finds it.

    In the sentence stands {a_limit}, the key of a limit with `_`, for the figure in force. `stops` tells an error from a
    caution. A check that `needs_whole` is left out while the build has errors: what hangs on a mistake would seem wrong.
    What is noted before there is a build to look at says in which module, `found_in`. One cause is one problem: what is
    found is left out where a check that it `gives_way` to tells of the same part or line, and where one that it
    `waits_for` tells of anything; for the doubt of a figure that is accepted nothing waits.
    """

    id: str
    says: str
    source: str
    find: Find
    stops: bool = False
    needs_whole: bool = False
    found_in: str = ""
    gives_way: tuple[str, ...] = ()
    waits_for: tuple[str, ...] = ()

    @property
    def limits(self) -> tuple[str, ...]:
        """The keys of the limits that it goes by."""
        return tuple(key for _, key, _, _ in Formatter().parse(self.says) if key)

    def sentence(self, limits: Limits) -> str:
        """What must hold, by these limits."""
        return self.says.format(**limit_words(limits))


REGISTERED: list[Check] = []


def check(
    id: str,
    says: str,
    source: str,
    *,
    stops: bool = False,
    needs_whole: bool = False,
    gives_way: tuple[str, ...] = (),
    waits_for: tuple[str, ...] = (),
) -> Callable[[Find], Find]:
    """Makes a check of the function below; `Check` tells what its parts are."""

    def register(find: Find) -> Find:
        REGISTERED.append(
            Check(
                id=id,
                says=says,
                source=source,
                find=find,
                stops=stops,
                needs_whole=needs_whole,
                gives_way=gives_way,
                waits_for=waits_for,
            )
        )
        return find

    return register


def doubts_of(name: str, of: Callable[[Subject], Iterable[Problem]]) -> Find:
    """What finds the doubts of this id among those that the assembly, or the placing of its parts, tells."""

    def find(subject: Subject) -> Iterator[Found]:
        yield from ((doubt.place, doubt.what, doubt.mend, doubt.at) for doubt in of(subject) if doubt.check == name)

    return find
