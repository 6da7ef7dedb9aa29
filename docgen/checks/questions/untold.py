"""Where parts lie, and which side of them faces out: what nothing says, and no picture can be drawn without."""

from collections.abc import Iterator
from typing import Final

from docgen.assemble import (
    FACES_UNTOLD,
    LINE_UNTOLD,
    NO_HOLD,
    NO_HOLE,
    ON_STRIP,
    PLACE_UNTOLD,
    POINTS_UNTOLD,
    SNAP_APART,
    SPOT_UNTOLD,
    WAY_UNTOLD,
    Copy,
    folds_either_way,
)
from docgen.checks.questions.question import Question, question, told_by
from docgen.checks.trade import Subject
from docgen.checks.trade.facing import find_other_edge, tell_shown
from docgen.geometry.outline import outline_box
from docgen.problems import Place, name_words
from docgen.resolve import Hole
from docgen.written.units.telling import format_short_punch

ENDS_IN_WIDTHS: Final = 3.0  # so many widths from its end a strap is held by that: our choice


@question
def ask_places(subject: Subject) -> Iterator[Question]:
    """Which side of a part faces out, and where a part lies; once for a part, and of two that face alike for one, unless
    both say it: then a check speaks of their edges. So it does of what stands by itself and has others lying on it, as a
    loose lid does."""
    build, shown = subject.build, tell_shown(subject.spec)
    hosts = {lies.host.part for lies in build.assembly.lies}
    told = {caution.at for caution in build.cautions if caution.check in ("landing-empty", "copies-left-over")}
    told |= {caution.at for caution in told_by(subject, "piece-loose")}
    mirrors = {piece.name: piece.mirror.place for piece in subject.spec.pieces if piece.mirror}
    for copy, why in subject.apart.withheld.items():
        name, placed = copy.part, build.space.part(copy)
        host = placed.host.part if placed and placed.host else ""
        if name in told or _slides(subject, name):
            continue
        if why == FACES_UNTOLD and placed and placed.how == "back to back" and host:
            told |= {name, host}
            if shown >= {name, host}:
                continue
            what = f'nothing says which side of "{name}" faces out: it is sewn to "{host}", and both face one way'
            place, answer = _answer_facing(subject, name, host)
            yield Question(place=mirrors.get(name) or place, what=what, answer=answer)
        elif why == FACES_UNTOLD and (lined := _lined_on_its_back(subject, copy)) is not None:
            if lined[0] not in told:
                what = (
                    f'nothing says which side of "{lined[0]}" is seen: as it is sewn to "{lined[1]}" it fits with its '
                    f'grain side to that, and "{name}" lies on it'
                )
                place, answer = _answer_facing(subject, *lined)
                yield Question(place=place, what=what, answer=answer)
            told |= {name, lined[0]}
        elif why == POINTS_UNTOLD:
            told.add(name)
            what = f'nothing says which way "{name}" points from the hole by which it is riveted'
            answer = f'write in landings of what it lies on: {{ piece = "{name}", at = ... }}, so that both holes meet'
            yield Question(place=_place_of(subject, name), what=what, answer=answer)
        elif why == ON_STRIP:
            told.add(name)
            yield from _ask_through(subject, name)
        elif why == SNAP_APART:
            told.add(name)
            yield from _ask_inside(subject, name, host)
        elif why == PLACE_UNTOLD and name in hosts:
            continue
        elif (
            why in (LINE_UNTOLD, PLACE_UNTOLD, SPOT_UNTOLD)
            and (strips := subject.parts.strips(name))
            and not strips[0].lid_of
        ):
            told.add(name)
            yield _ask_where(subject, name, host, why)


def _ask_inside(subject: Subject, name: str, host: str) -> Iterator[Question]:
    """A flap that is said to lie inside what it lands on, and whose half of a snap does not come to the other."""
    own = subject.piece_spec(host)
    lands = [item for item in own.landings if item.piece and item.piece.value == name] if own else []
    value = lands[0].inside if len(lands) == 1 else None
    if value is not None and value.value and subject.parts.pieces[name].bends_over:
        what = (
            f'"{name}" lies on the inside of "{host}", and as it bends its snap does not come to lie on the other half'
        )
        answer = "leave inside out where it goes over the edge from outside; else look which way it bends"
        yield Question(place=value.place, what=what, answer=answer)


def _ask_through(subject: Subject, name: str) -> Iterator[Question]:
    """What a part is riveted to that lands on a strip of a join: its copies share the template of the strip, so that its
    own holes say it."""
    hole = next((hole for hole in subject.parts.pieces[name].marks.holes if hole.takes), None)
    for join in subject.build.joins:
        for strip in subject.parts.strips(join.name):
            if hole and any(mark.piece == name for mark in strip.marks.landings):
                what = f'"{name}" lands on "{strip.name}", a strip of "{join.name}", and its holes do not say that they go '
                what += "through that"
                answer = f'write through = ["{join.name}"] in each of its holes that takes "{hole.takes}" there'
                yield Question(place=_place_of(subject, name), what=what, answer=answer)
                return


def _slides(subject: Subject, name: str) -> bool:
    """Whether a piece has holes that take nothing, and comes in hand with a cord: it slides on that, and lies nowhere."""
    cords = {item.name for item in subject.build.trimmings if item.kind == "cord"}
    piece = subject.parts.pieces.get(name)
    holes = piece.marks.holes if piece and cords and name not in subject.sewn else ()
    is_with = any(name in step.pieces and cords & {*step.trimmings} for step in subject.build.steps)
    return bool(holes) and is_with and not any(hole.takes for hole in holes)


def _answer_facing(subject: Subject, name: str, host: str) -> tuple[Place, str]:
    """Where it is written how two parts fit with the grain side of one on the flesh side of the other, and what lets them
    lie flesh to flesh."""
    other = find_other_edge(subject.build, name, host)
    if other is None:
        return _place_of(subject, name), _answer_uneven(subject, name, host)
    seam, side, edges = other
    answer = (
        f'where they are to lie flesh to flesh, and the grain side of both is seen, write {edges} for "{side.part}" in the '
        f'seam "{seam.name}" (left of the one meets right of the other); else shows = "flesh" for the one whose flesh '
        "side is seen"
    )
    third = ({"left", "right"} - {*side.edges}).pop()
    seams = [{one.part: one.edges for one in seam.sides} for seam in subject.build.seams]
    is_closed = any(third in one.get(name, ()) and third in one.get(host, ()) for one in seams)
    if len(side.edges) > 1 and not is_closed and side.stretch_mm is None:
        answer = f"name {third} of both too where that is to be closed; {answer}"
    return seam.place_of(side), answer


def _lined_on_its_back(subject: Subject, copy: Copy) -> tuple[str, str] | None:
    """The lining that a copy lies on, and what that lies behind, where it lies behind something."""
    space = subject.build.space
    placed = space.part(copy)
    lining = space.part(placed.host) if placed and placed.host else None
    if lining is None or lining.how != "lies behind" or lining.host is None:
        return None
    return lining.copy.part, lining.host.part


def _answer_uneven(subject: Subject, name: str, host: str) -> str:
    """What lets two parts lie flesh to flesh whose outlines fit on each other one way up alone."""
    like = next(
        (one for one in (name, host) if one in subject.parts.pieces and subject.parts.pieces[one].model != one), ""
    )
    turned = (
        f'write mirror = true for "{like}", or take it out' if like else f'draw "{name}" turned over, left for right'
    )
    return (
        f"{turned}, where the grain side of both is seen: as they are cut they fit with the grain side of one on the flesh "
        f'side of the other; where that is meant, write shows = "flesh" for the one whose flesh side is seen'
    )


@question
def ask_folds(subject: Subject) -> Iterator[Question]:
    """Which side lies inside a closed fold that may be meant either way; once for a part."""
    found = {
        placed.copy.part: next(fold for fold in placed.item.folds if not fold.is_open and not fold.inside)
        for placed in subject.build.space.parts
        if folds_either_way(subject.build, placed)
    }
    for name, fold in found.items():
        what = f'nothing says which side of "{name}" lies inside its fold: it may go either way there'
        yield Question(place=fold.place, what=what, answer='write inside = "grain" or inside = "flesh" in the fold')


@question
def ask_riveted(subject: Subject) -> Iterator[Question]:
    """Where a piece is riveted to another that has no hole for it; where a check tells that already, it is enough."""
    told = {caution.at for caution in subject.build.cautions if caution.check == "hole-not-in-partner"}
    told |= {one.copy.part for one in subject.build.space.parts}  # for one of them there is a hole: others are too many
    lost = (one.copy.part for one in subject.build.space.unplaced if one.why == NO_HOLE)
    unheld = dict.fromkeys(part for part in lost if part not in told)
    for name in (name for name in unheld if name in subject.parts.pieces):
        hole = next(hole for hole in subject.parts.pieces[name].marks.holes if hole.takes and hole.through)
        on = name_words(hole.through)
        bored = next((strip.name for strip in subject.parts.strips(hole.through[0])), hole.through[0])
        place = _place_of(subject, name)
        if any(one.takes == hole.takes and not one.through for one in _holes_of(subject, bored)):
            what = f'the holes of "{bored}" take "{hole.takes}" of their own, and none is left for that of "{name}"'
            yield Question(
                place=place, what=what, answer="leave takes out of those through which it is riveted: it is said once"
            )
            continue
        what = f'nothing says where on {on} "{name}" is riveted: the template there has no hole for it'
        punch = format_short_punch(hole.diameter_mm, subject.build.show)
        answer = f'write in holes of "{bored}", without takes: {{ at = ..., punch = "{punch}", through = ["{name}"] }}'
        yield Question(place=place, what=what, answer=answer)


def _holes_of(subject: Subject, part: str) -> tuple[Hole, ...]:
    """The holes of a piece or of a strap."""
    piece = next((one for one in subject.build.cut if one.name == part), None)
    return piece.marks.holes if piece else ()


@question
def ask_sides(subject: Subject) -> Iterator[Question]:
    """On which side of a piece a strap lies that is riveted to it, and has no landing there, or which way it leads."""
    loose = {one.copy.part: one.why for one in subject.build.space.unplaced if one.why in (NO_HOLD, WAY_UNTOLD)}
    found: dict[tuple[str, str], None] = {}
    for fit in subject.build.assembly.fastened:
        if fit.part in subject.parts.pieces and not fit.around:
            landed = {landing.strap for landing in subject.parts.pieces[fit.part].strap_landings}
            held = [name for name in fit.stack.parts if name in subject.parts.straps and name not in landed]
            straps = [name for name in held if name in loose]
            found.update({(name, fit.part): None for name in straps if _is_held_by_end(subject, name, fit.part)})
    for name, host in found:
        what = f'nothing says on which side of "{host}" "{name}" lies where it is riveted'
        if loose[name] == WAY_UNTOLD:
            what = f'nothing says which way "{name}" leads from its holes on "{host}": they fit both ways'
        answer = f'write in landings of "{host}": {{ strap = "{name}", at = ..., leads = ... }}; it lies outside then'
        yield Question(place=_place_of(subject, name), what=what, answer=answer)


def _is_held_by_end(subject: Subject, strap: str, host: str) -> bool:
    """Whether the holes for that piece lie near open ends of a strap: what lies across has no key for it."""
    piece, title = subject.parts.straps[strap].piece, subject.parts.pieces[host].title
    box = outline_box(piece.outline)
    near_mm = ENDS_IN_WIDTHS * box.width
    holes = [hole for hole in piece.marks.holes if title in hole.meets]
    is_turned = any(end.shape == "turned" for end in subject.parts.straps[strap].ends)
    return not is_turned and all(min(hole.at.y - box.bottom, box.top - hole.at.y) <= near_mm for hole in holes)


def _ask_where(subject: Subject, name: str, host: str, why: str) -> Question:
    """On which side of its seam a piece lies, or where at all; of copies of which the steps lay some, that these are not
    all."""
    laid = {lies.copy for lies in subject.build.assembly.lies if lies.copy.part == name}
    cut = subject.parts.pieces[name].cut if name in subject.parts.pieces else 1
    if 0 < len(laid) < cut:
        what = f'{cut} of "{name}" are cut, and the steps lay {len(laid)}'
        answer = f'name "{name}" in pieces of the step that lays the next as well, with the piece on which that lies'
        return Question(place=_place_of(subject, name), what=what, answer=answer)
    own, its = (next((strip.name for strip in subject.parts.strips(part)), "") for part in (name, host))
    on = f'landings of "{its}"' if its else "landings of the piece that it lies on"
    answer = f'write in {on}: {{ piece = "{own}", at = ... }}, with inside = true where it lies on the hidden side'
    side = f'on which side of its seam "{name}" lies' + (f', on "{host}" or beside it' if host else "")
    what = f"nothing says {side}" if why == LINE_UNTOLD else f'nothing says where "{name}" lies'
    return Question(place=_place_of(subject, name), what=what, answer=answer)


@question
def ask_straps(subject: Subject) -> Iterator[Question]:
    """Straps that nothing holds in a build whose steps are not written: where they are, a check tells it. What hooks or
    buckles on, or closes on itself, is left."""
    loose = {one.copy.part for one in subject.build.space.unplaced if one.why == NO_HOLD}
    for strap in subject.build.straps if subject.build.assembly.is_proposed and subject.build.seams else ():
        if strap.name in loose and not (strap.partner or strap.hole_tips_mm or any(end.rings for end in strap.ends)):
            answer = f'write a landing for it, {{ strap = "{strap.name}", at = ... }}, or name it in through of a hole'
            what = f'nothing says what holds "{strap.name}"'
            yield Question(place=_place_of(subject, strap.name), what=what, answer=answer)


def _place_of(subject: Subject, name: str) -> Place:
    """Where the table of a part begins."""
    if name in subject.parts.pieces:
        return subject.parts.pieces[name].place
    return subject.parts.joins[name].place if name in subject.parts.joins else subject.parts.straps[name].piece.place
