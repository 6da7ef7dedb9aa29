"""Checks of the ends of strips by which a join takes them: no seam sews those, and what is skived for it lies there."""

from collections.abc import Iterator

from docgen.checks.trade.check import Found, Subject, check
from docgen.geometry.outline import ACROSS_STRIPS
from docgen.problems import Place, line_words
from docgen.resolve import Join, Piece, SeamSide, joint_ends, strip_ends, turned_strip


@check(
    "joint-end-sewn",
    "The end of a strip that lies in a joint is in no seam of its own.",
    "plain from the work",
    needs_whole=True,
)
def find_joints_in_seams(subject: Subject) -> Iterator[Found]:
    """Strips that a join takes by one end alone, and a seam by the same; once for a strip, at its band where that tells by
    which end it is joined."""
    for join in subject.build.joins:
        for strip, end in _ended(subject, join):
            side = _sewn_by(subject, strip, end)
            if side is None:
                continue
            what = f'"{join.name}" joins "{strip.name}" by its {end}, and a seam sews that edge to another part'
            band = _band_at(subject, strip, end) if _is_turned(subject, join, strip) else None
            other = ACROSS_STRIPS.get(end, "other end")
            if band is None:
                yield side.place, what, f"name its {other} in the seam", strip.name
                continue
            what += f"{line_words(side.place.line)}: the band skived here says by which end it is joined"
            yield band, what, f'write edges = "{other}" here, or name the {other} in the seam', strip.name


@check(
    "skive-off-joint",
    "A strip that is skived at one end, and joined by one, is skived at the end by which it is joined.",
    "plain from the work",
    needs_whole=True,
    gives_way=("joint-end-sewn",),
)
def find_bands_off_joints(subject: Subject) -> Iterator[Found]:
    """Strips with a band at the end that no join, seam or hem takes, and none at that of the joint; once for a strip."""
    for join in subject.build.joins:
        for strip, end in _ended(subject, join):
            other = ACROSS_STRIPS.get(end, "")
            band = _band_at(subject, strip, other)
            is_bare = other not in strip.hemmed and _sewn_by(subject, strip, other) is None
            if band is not None and is_bare and _band_at(subject, strip, end) is None:
                what = (
                    f'"{strip.name}" is skived at its {other}, and "{join.name}" joins it by its {end}'
                    f"{line_words(join.place.line)}"
                )
                yield band, what, f'write edges = "{end}"', strip.name


def _ended(subject: Subject, join: Join) -> Iterator[tuple[Piece, str]]:
    """The strips of a join that it takes by one of their two ends, in that join alone."""
    pieces = subject.parts.pieces
    for name, ends in joint_ends(join, pieces).items():
        others = [one for one in subject.build.joins if name in one.pieces]
        if len(ends) == 1 and len(others) == 1 and strip_ends(pieces[name].outline):
            yield pieces[name], ends[0]


def _is_turned(subject: Subject, join: Join, strip: Piece) -> bool:
    """Whether both copies of a strip are joined by the end that its own bands tell."""
    return turned_strip(join, subject.parts.pieces) is not None and join.pieces[0] == strip.name


def _sewn_by(subject: Subject, strip: Piece, end: str) -> SeamSide | None:
    """The first side of a seam with another part that sews this end, and that alone."""
    for seam in subject.build.seams:
        for side in seam.sides:
            if side.part == strip.name and side.edges == (end,) and len(seam.parts) > 1:
                return side
    return None


def _band_at(subject: Subject, strip: Piece, end: str) -> Place | None:
    """Where the band along this end, and not the other, is written; the piece where that is not known, None for none."""
    if not any(end in skive.edges.split() for skive in strip.marks.skives):
        return None
    for name in dict.fromkeys((strip.name, strip.model)):
        own = subject.piece_spec(name)
        for item in own.skives if own else ():
            if item.edges and end in item.edges.value.split():
                return item.edges.place
    return strip.place
