"""Checks of what comes in two halves: snaps, zips, and rings that hang between a tab and a strap."""

import re
from collections import Counter
from collections.abc import Iterator

from docgen.checks.trade.check import Found, Subject, check
from docgen.checks.trade.fittings import count_holders
from docgen.checks.trade.holes import free_holes
from docgen.problems import Place, count_words
from docgen.resolve import Hardware, side_words
from docgen.tables.hardware import half_of_snap

MAGNET_RE = re.compile(r"\b(magnet|magnetic|snap)\b", re.I)


@check(
    "snap-halves",
    "There are as many caps of a snap as studs, unless both are counted as their holes take them.",
    "counted",
    needs_whole=True,
)
def find_odd_halves(subject: Subject) -> Iterator[Found]:
    """Where caps and studs are two items of hardware: their counts, and the holes that take them. A second stud, to close
    it tighter, is counted and has its hole; a half in the end of a strap may have one that does not say so."""
    for cap, stud in pair_snaps(subject):
        holes = Counter({item.name: _count_takings(subject, item.name) for item in (cap, stud)})
        if all(holes[item.name] == item.count for item in (cap, stud)):
            continue
        if min(holes.values()) == 0 and _has_strap_hole(subject):
            holes = Counter({item.name: max(holes.values()) for item in (cap, stud)})
        yield from _tell_halves(subject, cap, stud, holes)


def _has_strap_hole(subject: Subject) -> bool:
    """Whether a strap has a hole of its own that nothing else is said to go through."""
    through = Counter(name for piece in subject.build.cut for hole in piece.marks.holes for name in hole.through)
    straps = subject.build.straps
    return any(
        len([hole for hole in free_holes(subject, strap.piece) if not hole.takes]) > through[strap.name]
        for strap in straps
    )


def pair_snaps(subject: Subject) -> list[tuple[Hardware, Hardware]]:
    """A cap and the stud it closes on, where they are two items of hardware."""
    snaps = [item for item in subject.build.hardware if item.kind == "snap" or MAGNET_RE.search(item.what)]
    caps, studs = ([item for item in snaps if half_of_snap(item.what) == half] for half in ("cap", "stud"))
    return [(caps[0], studs[0])] if len(caps) == len(studs) == 1 else []


def _tell_halves(subject: Subject, cap: Hardware, stud: Hardware, holes: Counter[str]) -> Iterator[Found]:
    if holes[cap.name] != holes[stud.name]:
        few, many = sorted((cap, stud), key=lambda item: holes[item.name])
        what = (
            f'{count_words(holes[many.name], "place")} for "{many.name}", and {holes[few.name]} for "{few.name}", '
            "which closes on it"
        )
        yield _place(subject, few), what, f'let as many holes take "{few.name}" as "{many.name}"', few.name
    elif cap.count != stud.count:
        places = holes[cap.name]
        odd, other = (stud, cap) if stud.count != places or cap.count == places else (cap, stud)
        line = _place(subject, other).line
        closes = f'"{other.name}", which closes on it, {other.count} (line {line})'
        what = f'"{odd.name}" is counted {odd.count} times, and {closes}'
        mend = f"write count = {other.count}"
        mend += "" if other.count == places else f', or count = {odd.count} for "{other.name}"'
        yield _place(subject, odd), what, mend, odd.name


def _count_takings(subject: Subject, item: str) -> int:
    return sum(piece.cut for piece in subject.build.cut for hole in piece.marks.holes if hole.takes == item)


def _place(subject: Subject, item: Hardware) -> Place:
    return subject.written_at(subject.spec.hardware, item.name, "count")


@check("zip-side-twice", "Each side of a zip is sewn in.", "counted", needs_whole=True)
def find_odd_zip_sides(subject: Subject) -> Iterator[Found]:
    """Zips of which two seams take one side, and none the other."""
    for item in subject.build.trimmings:
        uses = [use for seam in subject.build.seams for use in seam.trimmings if use.name == item.name]
        sides = Counter(use.side for use in uses)
        if item.kind == "zip" and len(uses) > 1 and len(sides) == 1 and item.number == 1 and uses[0].side:
            side = uses[0].side
            other = "right" if side == "left" else "left"
            what = f'{len(uses)} seams take the {side} side of "{item.name}", and none the {other}'
            yield uses[-1].place, what, f'write "{item.name}: {other}" in one of them', item.name


@check(
    "zip-sides-one-edge",
    "The two sides of a zip are sewn to two edges.",
    "plain from the work",
    needs_whole=True,
    waits_for=("lining-short",),
)
def find_edges_on_both_sides(subject: Subject) -> Iterator[Found]:
    """One edge of a piece that is cut once, in the seam of either side of a zip; told with the edge beside which it is
    missing, where one like it has none."""
    for item in subject.build.trimmings:
        seams = [seam for seam in subject.build.seams for use in seam.trimmings if use.name == item.name and use.side]
        if item.kind != "zip" or len(seams) != 2 or seams[0] is seams[1]:
            continue
        first, second = ({(side.part, side.edges): side for side in seam.sides if side.edges} for seam in seams)
        for key in first.keys() & second.keys():
            if subject.counts[key[0]] == 1 and first[key].stretch_mm is None:
                words = side_words(second[key])
                what = (
                    f'both sides of "{item.name}" are sewn to {words}, in "{seams[0].name}" (line '
                    f'{first[key].place.line}) and in "{seams[1].name}"'
                )
                yield second[key].place, what, "name another part in one of them", seams[1].name


@check(
    "ring-alone",
    "As many ends of straps turn round a ring as tabs hold it.",
    "counted; a ring that hangs on its tab alone may be accepted",
    needs_whole=True,
)
def find_lone_rings(subject: Subject) -> Iterator[Found]:
    for item in subject.build.hardware:
        pieces, ends = count_holders(subject, item)
        tabs, straps = sum(pieces.values()), sum(ends.values())
        if item.kind == "buckle" or not tabs or not straps or tabs == straps or item.count not in (tabs, straps):
            continue
        few = ends if straps < tabs else pieces
        name = next(iter(few))
        held = ", ".join(f"{part} {count}" for part, count in (*pieces.items(), *ends.items()))
        what = (
            f'"{item.name}" is held by {count_words(tabs, "tab")} and {count_words(straps, "end")} of straps ({held})'
        )
        place = subject.written_at((*subject.spec.pieces, *subject.spec.straps), name, "cut")
        yield place, what, "look how many are cut of each, or accept this", name
