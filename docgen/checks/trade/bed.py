"""Check of what a machine's bed can get behind, once the rest is closed."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.assemble import Closing, Copy, Sewn, is_host
from docgen.checks.trade.check import PRACTICE, Found, Subject, check
from docgen.classes import dataclass
from docgen.geometry.measure import distance_to_path
from docgen.geometry.outline import edge_names, edge_path
from docgen.geometry.path import flatten
from docgen.problems import Place, name_words
from docgen.resolve import Piece, Seam, closes, find_bed
from docgen.written.units.telling import format_length

HELP = {"flat": "on a cylinder or post bed, or by hand", "cylinder": "on a post bed, or by hand"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Work:
    """A build and what closes in it."""

    subject: Subject
    closing: Closing

    @property
    def steps(self) -> int:
        return len(self.subject.build.assembly.steps)

    def step_of(self, event: int) -> int:
        """The step of an event, from 0."""
        return self.subject.build.assembly.events[event].step

    def place(self, event: int, own: Place) -> Place:
        """The step in the spec, where it has any; else what is sewn."""
        steps, at = self.subject.build.steps, self.step_of(event)
        return steps[at].place if at < len(steps) else own

    @property
    def reach_mm(self) -> float:
        """How far from an open edge a flat bed still gets."""
        return self.subject.build.limits.flat_reach_mm

    def doing(self, event: int) -> str:
        """`step 7`, or words for what no step names."""
        at = self.step_of(event)
        return f"step {at + 1}" if at < self.steps else "the work after the last step"


@check(
    "bed-cannot-reach",
    "Where a machine says its bed, what it sews can be reached. Stitches that lie flat on a part which a body runs round "
    "(a tube, a bag, a pouch), more than {flat_reach} from an edge that is still open, and a lap or joint "
    "longer than that which closes a tube, want a cylinder or post bed; stitches on a floor with closed walls round it "
    "want a post bed. Edges sewn to edges stand out, and are reached from outside on any bed: the last panel lies on it, "
    "the bag stands beside the foot. Round the corners of a stiff one an arm is handier; how stiff it is follows from no "
    "spec, so that no caution is given. How long and how thick an arm or a post is, is not judged.",
    PRACTICE,
    needs_whole=True,
)
def find_out_of_reach(subject: Subject) -> Iterator[Found]:
    """What the bed of the named machine cannot get behind, each seam once, at its step."""
    build = subject.build
    if not any(machine.bed for machine in build.machines):
        return
    work = Work(subject=subject, closing=Closing(build, build.assembly))
    seams = {seam.name: seam for seam in build.seams}
    told: set[str] = set()
    for once in build.assembly.sewn:
        seam = seams[once.seam]
        if seam.name not in told and (bed := find_bed(build, seam.stitch)) in HELP:
            found = [*_find_landed(work, seam, once, bed), *_find_lapped(work, seam, once, bed)][:1]
            told |= {seam.name} if found else set()
            yield from found
    yield from _find_rings(work)
    yield from _find_dividers(work)


def _find_landed(work: Work, seam: Seam, once: Sewn, bed: str) -> Iterator[Found]:
    """What is sewn flat on to a part that is closed by then."""
    for side, host in zip(seam.sides, once.sides, strict=True):
        if side.edges or not is_host(work.closing.goods, seam, side):
            continue
        laid = [other.part for other in seam.sides if other.edges]
        closed = _closing_event(work, host, once.event, bed)
        if closed is not None and not (bed == "flat" and _is_near_edge(work, host, once.event, laid)):
            words = name_words(laid)
            what = (
                f'{work.doing(once.event)} sews {words} on to "{host.part}", {_closed_words(work, closed, once.event)}'
            )
            yield (
                work.place(once.event, seam.place),
                f"{what}: {_bed_words(work, seam.stitch, bed)}",
                f"sew it on {_earlier(work, closed, once.event)}, or {HELP[bed]}",
                seam.name,
            )


def _closing_event(work: Work, host: Copy, event: int, bed: str) -> int | None:
    """The event that closes the host to this bed, of those before; None where it can be reached."""
    if (found := _walled_event(work, host, event, bed)) is not None or bed != "flat":
        return found
    piece = work.subject.parts.pieces.get(host.part)
    for once in work.subject.build.assembly.sewn:
        seam = work.closing.goods.seams[once.seam]
        lies = any(side.part == host.part and not side.edges for side in seam.sides) and host in once.sides
        if once.event < event and piece is not None and lies and closes(seam, piece):
            return once.event
    return None


def _walled_event(work: Work, host: Copy, event: int, bed: str) -> int | None:
    """The same for a floor, and for the wall of a body."""
    closing = work.closing
    for is_closed in (closing.is_floor, closing.is_round) if bed == "flat" else (closing.is_floor,):
        if is_closed(host, event):
            return closing.find_first(is_closed, host, event)
    return None


def _is_near_edge(work: Work, host: Copy, event: int, laid: list[str]) -> bool:
    """Whether all that is laid on the host has its place within reach of an open edge of it."""
    free = work.closing.free_edges(host, event)
    found = [_reach_mm(piece, free, laid, 2 * work.reach_mm) for piece in work.closing.goods.strips(host.part)]
    return 0 < max(found, default=0.0) <= work.reach_mm


def _reach_mm(piece: Piece, free: tuple[str, ...], laid: list[str], far_mm: float) -> float:
    """How far what lands on a piece reaches from its open edges; 0 where nothing of it has its place there, and so far,
    farther than counts, where no edge is open."""
    edges = [edge_path(piece.sewn_outline, name) for name in free if name in edge_names(piece.sewn_outline)]
    outlines = [landing.outline for landing in piece.marks.landings if landing.piece in laid]
    outlines += [landing.outline for landing in piece.strap_landings if landing.strap in laid]
    spots = [at for outline in outlines for at in flatten(outline)]
    return max((min((distance_to_path(edge, at) for edge in edges), default=far_mm) for at in spots), default=0.0)


def _find_lapped(work: Work, seam: Seam, once: Sewn, bed: str) -> Iterator[Found]:
    """A lap whose own stitches close a tube, so that they lie inside of it."""
    closing = work.closing
    if bed != "flat" or seam.length_mm <= work.reach_mm or not any(side.lap_mm for side in seam.sides):
        return
    for copy in once.sides:
        if closing.is_round(copy, once.event + 1) and not closing.is_round(copy, once.event):
            length = format_length(seam.length_mm, work.subject.show)
            what = f'{work.doing(once.event)} laps "{seam.name}" over {length} and closes the tube with it'
            mend = "sew the edges face to face and turn it, or use a cylinder or post bed, or sew it by hand"
            what = f"{what}: {_bed_words(work, seam.stitch, bed)}"
            yield work.place(once.event, seam.place), what, mend, seam.name
            return


def _find_rings(work: Work) -> Iterator[Found]:
    """The joint that closes a wide ring."""
    build = work.subject.build
    for join in build.joins:
        is_lapped = join.is_ring and join.overlap_mm > 0 and join.width_mm > work.reach_mm
        if is_lapped and find_bed(build, join.stitch) == "flat" and join.name in work.closing.rings:
            event, width = work.closing.rings[join.name], format_length(join.width_mm, work.subject.show)
            what = f'{work.doing(event)} closes the ring "{join.name}" by a joint of {width}'
            mend = "use a cylinder or post bed, or sew that joint by hand"
            what = f"{what}: {_bed_words(work, join.stitch, 'flat')}"
            yield work.place(event, join.place), what, mend, join.name


def _find_dividers(work: Work) -> Iterator[Found]:
    """Dividing lines that go through a part which is closed by then."""
    build = work.subject.build
    for event, one in enumerate(build.assembly.events):
        piece = work.subject.parts.pieces.get(one.name) if one.kind == "dividers" else None
        for line in piece.dividers[:1] if piece else ():
            bed = find_bed(build, line.stitch)
            host = Copy(line.on or one.name, 1)
            closed = _walled_event(work, host, event, bed) if bed in HELP else None
            if closed is not None and piece is not None:
                what = (
                    f'{work.doing(event)} sews the dividing lines of "{one.name}" through "{host.part}", '
                    f"{_closed_words(work, closed, event)}: {_bed_words(work, line.stitch, bed)}"
                )
                mend = f"sew them {_earlier(work, closed, event)}, or {HELP[bed]}"
                yield work.place(event, piece.place), what, mend, one.name


def _closed_words(work: Work, closed: int, event: int) -> str:
    if work.step_of(closed) == work.step_of(event):
        return "which it has closed already"
    return f"which {work.doing(closed)} has closed already"


def _earlier(work: Work, closed: int, event: int) -> str:
    return "first in that step" if work.step_of(closed) == work.step_of(event) else f"before {work.doing(closed)}"


def _bed_words(work: Work, stitch: str, bed: str) -> str:
    build = work.subject.build
    machine = next(one.machine for one in build.stitches if one.name == stitch)
    return f'the {bed} bed of "{machine}" does not get behind it'
