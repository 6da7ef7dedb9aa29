"""The assembly: which copies there are, what joins them in which order, and which layers lie under each needle and post.

Nothing here is a place in space: layers, copies and order follow from what is joined to what, and when.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Literal, NamedTuple

from docgen.classes import dataclass
from docgen.geometry.vector import Transform
from docgen.problems import Place, Problem
from docgen.resolve import Layer, Step, WorkKind

EventKind = WorkKind
Half = Literal["", "cap", "stud"]
RoomKind = Literal["box", "pouch", "round"]


class Copy(NamedTuple):
    """One of those that are cut (or joined) of a part for one make, counted from 1."""

    part: str
    number: int = 1


@dataclass(frozen=True, slots=True)
class Event:
    """One thing done: in which step (from 0; the number of steps for what no step names), what kind of work, and on
    what, by the key of a step that names it."""

    step: int
    kind: EventKind
    name: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Stack:
    """Layers that lie on each other under a needle or a post, from the first partner on, and their sum: as it mostly
    is, at its thinnest and at its thickest place. `landed` are parts that lie there besides the partners, at the
    thickest place. `places` tell how thick each layer is at one place: of all that are unlike, those that show them
    all; none where all lie at one. One that `is_vague` has layers of which nothing tells whether they lie at one place,
    so that its thickest is the most that it may be. `at_most` are the layers at the thickest place, as thick as there."""

    layers: tuple[Layer, ...]
    usual_mm: float
    thinnest_mm: float
    thickest_mm: float
    landed: tuple[str, ...] = ()
    places: tuple[tuple[float, ...], ...] = ()
    is_vague: bool = False
    at_most: tuple[Layer, ...] = ()

    @property
    def parts(self) -> tuple[str, ...]:
        """The parts that its layers are of, each once."""
        return tuple(dict.fromkeys(layer.part for layer in self.layers))


@dataclass(frozen=True, slots=True, kw_only=True)
class Bit:
    """From where to where along a side of a seam, as shares of it, its layers are so thick, in a `row` (None: in all)."""

    begin: float
    end: float
    mms: tuple[float, ...]
    row: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """Layers that lie on each other along a side of a seam, by its number (-1 for none). Where along it the bits of one
    that `is_loose` lie is not known."""

    layers: tuple[tuple[Copy, Layer], ...]
    bits: tuple[Bit, ...]
    side: int = -1
    is_loose: bool = False

    @property
    def kinds(self) -> frozenset[tuple[float, ...]]:
        return frozenset(bit.mms for bit in self.bits)


@dataclass(frozen=True, slots=True, kw_only=True)
class Sewn:
    """A seam sewn once: with these copies of its sides, as the event of that place in the order, through these layers,
    which are those of its columns from the top down."""

    seam: str
    event: int
    sides: tuple[Copy, ...]
    stack: Stack
    columns: tuple[Column, ...] = ()

    @property
    def parts(self) -> frozenset[str]:
        """The names of the parts that it sews."""
        return frozenset(copy.part for copy in self.sides)


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """Stitching that is no seam: dividing lines of a piece, the joints of a join, the edges of a strap. `runs` of them
    are sewn for one make, each `length_mm` long in `stitches` stitches. `turned_mm` is how far from the cut ends of a
    strap, first and second, its row begins beyond turned ends that are sewn through; else 0. `spans_mm` are the lengths
    between its ends and sharp corners. `line` is the name of its stitch lines where that is not the part's, `where` says
    on which end of the part it is."""

    part: str
    kind: EventKind
    stitch: str
    event: int
    runs: int
    length_mm: float
    stitches: int
    stack: Stack
    turned_mm: tuple[float, float] = (0.0, 0.0)
    line: str = ""
    where: str = ""
    spans_mm: tuple[float, ...] = ()

    @property
    def is_after_turning(self) -> bool:
        """Whether turned ends of a strap are sewn through."""
        return sum(self.turned_mm) > 0

    @property
    def work(self) -> str:
        """The name of its event: that of the part, of a strap that is sewn on that of its stitch lines."""
        return self.line if self.kind == "landings" else self.part


@dataclass(frozen=True, slots=True, kw_only=True)
class Fastened:
    """Hardware in its place: `count` of them for one make in `part`, set by that event, through these layers. A snap's
    halves each go through their own piece: `half` says which. `around` is what the end of a strap turns round there.

    A post of `post_least_mm` to `post_most_mm` is wanted; `post_mm` is the one chosen from the drawer, 0 where none is
    named, or none will do. Foam gives: `shorter_mm` are the posts of the drawer from the one that fits with foam pressed
    flat up to that. `places` are those of all its holes in the spec, `place` the first."""

    hardware: str
    part: str
    count: int
    event: int
    stack: Stack
    half: Half = ""
    around: str = ""
    post_least_mm: float = 0.0
    post_most_mm: float = 0.0
    post_mm: float = 0.0
    shorter_mm: tuple[float, ...] = ()
    place: Place = Place()
    places: tuple[Place, ...] = ()

    @property
    def items(self) -> int:
        """How many whole items they are: those whose cap is here."""
        return 0 if self.half == "stud" else self.count


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """Room inside, worked out from these parts: an estimate. A "pouch" has no depth of its own, so that what goes in is
    as wide and thick together as it is wide; a "round" one is as wide as it is deep. One that `closes` is a cover, which
    lies on what is thinner than its spine as well."""

    kind: RoomKind
    width_mm: float
    height_mm: float
    depth_mm: float
    parts: tuple[str, ...]
    closes: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Lies:
    """A part that lies on another: moved so from its own place; a lining (`is_cover`) behind it, and what `is_inside` on
    the side that does not show. The number of a host is 0 where it is a strip of a join, whose copies share their
    template, else which of those that come several times in it."""

    host: Copy
    copy: Copy
    move: Transform = Transform()
    is_cover: bool = False
    is_inside: bool = False

    @property
    def is_behind(self) -> bool:
        """Whether it lies on the side of its host that does not show."""
        return self.is_cover or self.is_inside

    @property
    def is_over(self) -> bool:
        """Whether it lies half round, its free end beyond the edge of its host; what is only turned over does not."""
        return self.move.a < 0 and not self.move.is_mirror


@dataclass(frozen=True, slots=True, kw_only=True)
class Assembly:
    """How a build goes together. `steps` are the spec's own, else proposed (`is_proposed`); `doubts` what does not
    follow, or cannot be. `through` tells of a hole, by its part and where it is written, what its hardware goes
    through; `turning` of a piece with hems the step (from 0) that turns them over, `ends_turned` of a strap and its first
    (0) or second (1) end, which no hardware closes, the event that turns it."""

    steps: tuple[Step, ...] = ()
    is_proposed: bool = False
    events: tuple[Event, ...] = ()
    copies: tuple[Copy, ...] = ()
    sewn: tuple[Sewn, ...] = ()
    runs: tuple[Run, ...] = ()
    fastened: tuple[Fastened, ...] = ()
    joined: tuple[tuple[tuple[Copy, ...], ...], ...] = ()
    through: tuple[tuple[str, Place, tuple[str, ...]], ...] = ()
    lies: tuple[Lies, ...] = ()
    laid: tuple[tuple[Copy, Copy, int], ...] = ()  # host, what lies on it, and the event that lays it there
    stood_off: tuple[Lies, ...] = ()  # what a wall holds off the part on which it has its place
    turning: tuple[tuple[str, int], ...] = ()
    ends_turned: tuple[tuple[str, int, int], ...] = ()
    doubts: tuple[Problem, ...] = ()
    room: Room | None = None

    def unturned(self, step: int) -> frozenset[str]:
        """The pieces whose hems a step (from 0) finds not turned over, since a later one does that."""
        return frozenset(piece for piece, at in self.turning if at > step)

    def laid_at(self, host: str, part: str) -> int:
        """The event that lays a part on a host: of what is riveted or sewn there by the same step, that; the number of
        events where none does. What comes first lies beneath."""
        at = next((at for on, it, at in self.laid if (on.part, it.part) == (host, part)), len(self.events))
        held = [one.event for one in self.fastened if {host, part} <= {*one.stack.parts}]
        held += [run.event for run in self.runs if run.kind == "landings" and run.part == part]
        steps = [event.step for event in self.events]
        return min((k for k in held if at < k < len(steps) and steps[k] == steps[at]), default=at)

    def laid_order(self, host: str, part: str) -> tuple[int, int]:
        """The same, and of what one seam lays there how far from the host it names it: what is less lies beneath."""
        at = self.laid_at(host, part)
        found = ([side.part for side in one.sides] for one in self.sewn if one.event == at)
        sides = next((parts for parts in found if {host, part} <= {*parts}), [])
        return at, abs(sides.index(part) - sides.index(host)) if sides else 0

    def times(self, seam: str) -> int:
        """How often a seam is sewn for one make."""
        return sum(once.seam == seam for once in self.sewn) or 1

    def stack(self, seam: str) -> Stack:
        """The layers of a seam, with the range of all the times that it is sewn."""
        return unite([once.stack for once in self.sewn if once.seam == seam])

    def groups_before(self, step: int) -> tuple[tuple[Copy, ...], ...]:
        """Copies that hang together before a step (from 0), each group in the order of the spec; single ones left out."""
        return self.joined[step]


def group_joined(copies: Sequence[Copy], ties: Iterable[Sequence[Copy]]) -> list[tuple[Copy, ...]]:
    """What hangs together by these ties, each of copies that are among the others; single ones too, in their order."""
    heads = {copy: copy for copy in copies}

    def head(copy: Copy) -> Copy:
        while heads[copy] != copy:
            copy = heads[copy]
        return copy

    for tie in ties:
        for copy in tie[1:]:
            heads[head(copy)] = head(tie[0])
    found: dict[Copy, list[Copy]] = {}
    for copy in copies:
        found.setdefault(head(copy), []).append(copy)
    return [tuple(group) for group in found.values()]


def unite(stacks: list[Stack]) -> Stack:
    """Stacks of one kind of place as one: layers and usual thickness of the first, the range of all."""
    thickest = max(stacks, key=lambda stack: stack.thickest_mm)
    return Stack(
        layers=stacks[0].layers,
        usual_mm=stacks[0].usual_mm,
        thinnest_mm=min(stack.thinnest_mm for stack in stacks),
        thickest_mm=thickest.thickest_mm,
        landed=thickest.landed,
        at_most=thickest.at_most,
    )
