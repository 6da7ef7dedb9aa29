"""An item of hardware that stands where another is meant: one is wanted too often, and another as seldom, or never."""

from collections import Counter
from collections.abc import Mapping

from docgen.checks.trade.check import Found, Subject
from docgen.problems import Place
from docgen.resolve import Hardware

HELD = ("ring", "buckle")


def idle_fittings(subject: Subject) -> frozenset[str]:
    """The rings and buckles that nothing is folded round."""
    held = {fold.around for piece in subject.build.pieces for fold in piece.marks.folds}
    held |= {name for strap in subject.build.straps for end in strap.ends for name in end.rings}
    return frozenset(item.name for item in subject.build.hardware if item.kind in HELD and item.name not in held)


def meant_round(subject: Subject, width_mm: float) -> str:
    """The one fitting that nothing uses, and that an end so wide goes through without play; "" where there is none."""
    most_mm = width_mm + subject.build.limits.strap_play_mm
    idle = idle_fittings(subject)
    fit = [one.name for one in subject.build.hardware if one.name in idle and width_mm <= one.inside_mm <= most_mm]
    return fit[0] if len(fit) == 1 else ""


def find_exchanged_ends(subject: Subject, item: Hardware) -> Found | None:
    """A strap that goes round one item with more ends than there are of it, where one that nothing uses would do: both
    ends of one strap before one end of several."""
    ends = [
        (strap, which) for strap in subject.build.straps for which in (0, 1) if item.name in strap.ends[which].rings
    ]
    if len(ends) <= item.count or any(
        fold.around == item.name for one in subject.build.pieces for fold in one.marks.folds
    ):
        return None
    twice = [end for end in ends if sum(strap.name == end[0].name for strap, _ in ends) > 1] or ends
    strap, which = twice[-1]
    meant = meant_round(subject, strap.end_width_mm(which))
    others = [item for item in subject.build.hardware if item.name == meant]
    if not meant or len({one.name for one, _ in twice}) > 1 or others[0].count != (len(ends) - item.count) * strap.cut:
        return None
    lines = _lines([one.ends[at].place for one, at in twice])
    what = (
        f'"{item.name}" is held by {len(ends)} ends of straps, and the count is {item.count}; "{meant}", as wide, is held '
        f"by none (line {others[0].place.line})"
    )
    return strap.ends[which].place, what, f'write around = "{meant}" at one of these ends{lines}', item.name


def find_exchanged_folds(subject: Subject, item: Hardware) -> Found | None:
    """A piece folded round an item of which fewer are counted than are held, where as many as there are of the piece are
    counted of a fitting that nothing uses, and that is as wide inside."""
    round_it = [(piece, fold) for piece in subject.build.pieces for fold in piece.own_folds if fold.around == item.name]
    ends = sum(strap.cut for strap in subject.build.straps for end in strap.ends if item.name in end.rings)
    idle = idle_fittings(subject)
    for piece, fold in round_it if ends == item.count else ():
        meant = [
            one
            for one in subject.build.hardware
            if one.name in idle and one.count == piece.cut and one.inside_mm == item.inside_mm
        ]
        if len(meant) == 1 == len(round_it):
            what = (
                f'"{item.name}" is held by {ends + piece.cut} of one make, and the count is {item.count}; '
                f'"{meant[0].name}", as wide, is held by none (line {meant[0].place.line})'
            )
            return fold.place, what, f'did you mean around = "{meant[0].name}"?', piece.name
    return None


def find_exchanged_holes(subject: Subject, item: Hardware, places: Mapping[str, int]) -> Found | None:
    """Holes that take an item of which fewer are counted, where as many of another are counted and have no hole: those of
    the one part that would make both counts right, beside holes of the other if there are any."""
    surplus = places[item.name] - item.count
    others = [one for one in subject.build.hardware if one.count - places.get(one.name, 0) == surplus]
    others = [one for one in others if one.kind not in HELD and item.kind not in HELD and one is not item]
    if surplus <= 0 or len(others) != 1:
        return None
    meant = others[0].name
    parts = {one.name: [hole for hole in one.marks.holes if hole.takes == item.name] for one in subject.build.cut}
    fit = [name for name, holes in parts.items() if holes and len(holes) * subject.counts[name] == surplus]
    taken = {one.name for one in subject.build.cut if any(hole.takes == meant for hole in one.marks.holes)}
    found = [name for name in fit if name in taken] or fit
    if len(found) != 1:
        return None
    what = (
        f'"{item.name}" goes into {places[item.name]} places of one make, and the count is {item.count}; "{meant}" into '
        f"{places.get(meant, 0)}, and the count is {others[0].count} (line {others[0].place.line})"
    )
    hole = parts[found[0]][0]
    return hole.place, what, f'did you mean takes = "{meant}" here?', item.name


def _lines(places: list[Place]) -> str:
    lines = sorted(Counter(place.line for place in places))
    return f" (lines {' and '.join(str(line) for line in lines)})" if lines else ""
