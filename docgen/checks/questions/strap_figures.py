"""Straps and keepers whose figures have lost a digit, or are of another thing: a keeper wider than what it holds, a handle
as long as a sling, too wide or too thin, or held on too little, ends that take most of a strap, a strap thinner than its
lining, twins of which one is far longer, rings with far too thick a bar, a fitting for a wider strap by its words."""

from collections.abc import Iterator
from typing import Final

from docgen.checks.called import is_called
from docgen.checks.questions.question import Question, question
from docgen.checks.sizes_said import said_size
from docgen.checks.trade import Subject
from docgen.problems import Place, line_words, shorten
from docgen.read import StrapSpec
from docgen.resolve import Strap, slot_long_mm
from docgen.tables.cautions import has_phrase
from docgen.tables.usual import (
    HANDLE_HELD_MM,
    HANDLE_LONG_MM,
    HANDLE_THICK_MM,
    HANDLE_WIDE_MM,
    KEEPER_WIDE_MM,
    KEEPER_WIDE_TIMES,
    STRAP_THICK_MM,
)

SAME_MM: Final = 0.1
SHORT: Final = ("chape", "tab", "loop")
TABS: Final = ("chape", "tab")
TAB_LONG_MM: Final = 250.0  # a tab that only holds a buckle is hardly longer: common practice, no published source
MOST_BACK: Final = 0.5  # and hardly more lies back at its ends, unless it is a tab: our choice
MOST_OVER_MM: Final = 60.0  # mostly no more of an end lies fast: our choice
MOST_HELD: Final = 0.6  # of a strap hardly more lies fast: our choice
SHORT_SLOT: Final = 0.7  # of the way in which a tongue swings a slot is hardly shorter: our choice
THICK_BAR: Final = 1 / 3  # of what it is inside a ring or buckle is hardly as thick: our choice
WIDE_TAB: Final = 0.8  # and of a tab for a ring or buckle: our choice
WIDE_STRAP: Final = 0.4  # of its length a strap is hardly wider: our choice
TWINS: Final = (("left", "right"), ("left-strap", "right-strap"), ("strap-left", "strap-right"))
WORDS_MM: Final = 2.0  # a fitting is hardly so much narrower inside than its words say: our choice
UNLIKE: Final = 3.0  # so many times as long a strap is no twin of another: our choice


@question
def ask_keepers(subject: Subject) -> Iterator[Question]:
    """Keepers narrower or wider than is usual, or of other goods than what they hold."""
    for own, strap in _written_straps(subject):
        if strap.keeper_for:
            held = subject.parts.straps.get(strap.keeper_for)
            least_mm, most_mm = (times * held.width_mm if held else 0.0 for times in KEEPER_WIDE_TIMES)
            most_mm = max(most_mm, KEEPER_WIDE_MM)
            if not least_mm - SAME_MM <= strap.width_mm <= most_mm + SAME_MM:
                wide, least, most = map(subject.length, (strap.width_mm, least_mm, most_mm))
                what = f'the keeper "{own.name}" is {wide} wide, and such keepers mostly {least} to {most}'
                answer = "look at its width; where it is so there is nothing to do"
                yield Question(place=_width(subject, own), what=what, answer=answer)
        held = subject.parts.straps.get(strap.keeper_for)
        if held is not None and own.of and strap.material != held.material and _is_odd_keeper(subject, strap):
            what = f'the keeper "{own.name}" is of "{strap.material}", and "{held.name}" of "{held.material}"'
            answer = "look at both names; where it is meant so there is nothing to do"
            yield Question(place=own.of.place, what=what, answer=answer)


@question
def ask_worn_short(subject: Subject) -> Iterator[Question]:
    """Straps whose first hole lies in what lies back."""
    for own, strap in _written_straps(subject):
        back_mm = strap.ends[0].back_mm if strap.ends[0].shape == "turned" else 0.0
        if own.wears and strap.worn_mm and 0 < min(strap.worn_mm) <= back_mm:
            least, back = map(subject.length, (min(strap.worn_mm), back_mm))
            what = f'"{own.name}" is {least} long at its first hole, which lies in what lies back, {back} long'
            answer = "look at wears and at its holes; where it is so short there is nothing to do"
            yield Question(place=own.wears.place, what=what, answer=answer)


@question
def ask_fast_straps(subject: Subject) -> Iterator[Question]:
    """Straps that lie fast over most of their length, or by one end alone, and rows of holes without a middle one."""
    for own, strap in _written_straps(subject):
        yield from _ask_held(subject, own, strap)
        yield from _ask_even(own)
        yield from _ask_free_end(subject, own, strap)


@question
def ask_turned_far(subject: Subject) -> Iterator[Question]:
    """Straps of which most lies back at their ends; no tabs and loops."""
    for own, strap in _written_straps(subject):
        turned_mm = sum(end.back_mm for end in strap.ends if end.shape == "turned")
        is_short = is_called(strap, SHORT)
        if own.finished and not is_short and turned_mm >= MOST_BACK * strap.finished_mm > 0:
            back, long = map(subject.length, (turned_mm, strap.finished_mm))
            what = f'"{own.name}" is {long} long when finished, and {back} lies back at its ends'
            answer = "look at both figures; where it is so short there is nothing to do"
            yield Question(place=own.finished.place, what=what, answer=answer)


@question
def ask_long_tabs(subject: Subject) -> Iterator[Question]:
    """Tabs and chapes by their word, turned round a buckle, that are as long as a strap."""
    buckles = {item.name for item in subject.build.hardware if item.kind == "buckle"}
    for own, strap in _written_straps(subject):
        is_tab = is_called(strap, TABS) and any(not buckles.isdisjoint(end.rings) for end in strap.ends)
        if own.finished and is_tab and strap.finished_mm > TAB_LONG_MM:
            long = subject.length(strap.finished_mm)
            what = f'"{own.name}" is a tab for a buckle by its words, and {long} long'
            answer = "look at the figure; where it is so long there is nothing to do"
            yield Question(place=own.finished.place, what=what, answer=answer)


@question
def ask_wide_straps(subject: Subject) -> Iterator[Question]:
    """Straps hardly longer than they are wide."""
    for own, strap in _written_straps(subject):
        is_tab = any(end.shape == "turned" and end.around for end in strap.ends)
        if own.finished and strap.width_mm > (WIDE_TAB if is_tab else WIDE_STRAP) * strap.finished_mm > 0:
            wide, long = map(subject.length, (strap.width_mm, strap.finished_mm))
            what = f'the strap "{own.name}" is {wide} wide and {long} long'
            answer = "look at both figures; where it is so short there is nothing to do"
            yield Question(place=_width(subject, own), what=what, answer=answer)


@question
def ask_long_handles(subject: Subject) -> Iterator[Question]:
    """Handles by their word that are as long as a sling."""
    for own, strap in _written_straps(subject):
        if own.finished and strap.finished_mm > HANDLE_LONG_MM and _is_handle(strap):
            long, most = map(subject.length, (strap.finished_mm, HANDLE_LONG_MM))
            what = f'the handle "{own.name}" is {long} long, and such handles mostly no more than {most}'
            answer = "look at its length; where it goes over the shoulder there is nothing to do"
            yield Question(place=own.finished.place, what=what, answer=answer)


@question
def ask_handles(subject: Subject) -> Iterator[Question]:
    """Handles by their word that are wider than a hand takes, of one thin layer, or sewn on over too little."""
    for own, strap in _written_straps(subject):
        if not _is_handle(strap):
            continue
        if strap.width_mm > HANDLE_WIDE_MM:
            wide, most = map(subject.length, (strap.width_mm, HANDLE_WIDE_MM))
            what = f'the handle "{own.name}" is {wide} wide, and such handles mostly no more than {most}'
            answer = "look at its width; where it is so wide, or folded in, there is nothing to do"
            yield Question(place=_width(subject, own), what=what, answer=answer)
        is_single = not strap.lining and own.name not in subject.sewn
        if own.of and is_single and strap.thickness_mm < HANDLE_THICK_MM:
            thick, least = map(subject.length, (strap.thickness_mm, HANDLE_THICK_MM))
            what = f'the handle "{own.name}" is one layer of "{strap.material}", {thick} thick; mostly a handle has {least}'
            answer = "look at its material, or double it; where it is to be so thin there is nothing to do"
            yield Question(place=own.of.place, what=what, answer=answer)
        ends = [end for base in subject.build.pieces for end in base.strap_landings if end.strap == own.name]
        short = next((end for end in ends if end.stitch and not end.holes and end.over_mm < HANDLE_HELD_MM), None)
        if short is not None and len({end.over_mm for end in ends}) == 1:
            over, least = map(subject.length, (short.over_mm, HANDLE_HELD_MM))
            what = f'the handle "{own.name}" is sewn on over {over} at its ends, and mostly that is {least} or more'
            answer = "look at over; where something else holds it there is nothing to do"
            yield Question(place=short.place, what=what, answer=answer)


DOUBTED = ("thickness-unusual", "thickness-in-other-unit")
"""Checks that tell of a material by whose thickness all else is measured."""


@question
def ask_thick_straps(subject: Subject) -> Iterator[Question]:
    """Straps thicker in all than a buckle takes, or with a lining thicker than themselves."""
    told = {caution.at for caution in subject.build.cautions if caution.check in DOUBTED}
    lines = {
        item.name: item.thickness.place for item in subject.spec.materials if item.thickness and item.name not in told
    }
    thick = {item.name: item.thickness_mm for item in subject.build.materials if item.kind == "leather"}
    for own, strap in _written_straps(subject):
        outer_mm, inner_mm = thick.get(strap.material, 0.0), thick.get(strap.lining, 0.0)
        if 0 < outer_mm < inner_mm and strap.lining in lines:
            inner, outer = map(subject.length, (inner_mm, outer_mm))
            what = f'the lining of "{own.name}", "{strap.lining}", is {inner} thick, and "{strap.material}" {outer}'
            answer = "look at both names and figures; where the lining is to be the thicker there is nothing to do"
            yield Question(place=lines[strap.lining], what=what, answer=answer)
        elif strap.thickness_mm > STRAP_THICK_MM and strap.material in lines and not strap.keeper_for:
            whole, most = map(subject.length, (strap.thickness_mm, STRAP_THICK_MM))
            what = f'"{own.name}" is {whole} thick in all, and straps are mostly no more than {most}'
            answer = "look at the thickness; where it is to be so thick there is nothing to do"
            yield Question(place=lines[strap.material], what=what, answer=answer)


@question
def ask_fittings(subject: Subject) -> Iterator[Question]:
    """Fittings that are narrower inside than their words say, and that hold a strap of another width than these."""
    hardware = {item.name: item for item in subject.build.hardware}
    for own in subject.spec.hardware:
        item = hardware.get(own.name)
        if item is None or own.what is None:
            continue
        said_mm = said_size(own.what.value)[1]
        held = (one for one in subject.parts.straps.values() if any(end.around == own.name for end in one.ends))
        strap = next((one for one in held if said_mm - one.width_mm > WORDS_MM), None)
        if strap is not None and 0 < item.inside_mm < said_mm - WORDS_MM:
            inside, wide = map(subject.length, (item.inside_mm, strap.width_mm))
            what = f'the words of "{own.name}" are "{shorten(own.what.value, 40)}", its inside is {inside}, and '
            what += f'"{strap.name}", which goes round it, is {wide} wide'
            answer = "look at its words; where it is called so there is nothing to do"
            yield Question(place=own.what.place, what=what, answer=answer)


@question
def ask_riveted(subject: Subject) -> Iterator[Question]:
    """Straps held by rivets alone, of which more are cut than the holes that go through them are for."""
    landed = {end.strap for base in subject.build.pieces for end in base.strap_landings} | subject.sewn.keys()
    for own, strap in _written_straps(subject):
        holes = [hole for hole in strap.piece.marks.holes[strap.row_holes :] if not (hole.takes or hole.long_mm)]
        is_held = own.name in landed or any(end.takes or end.rings for end in strap.ends)
        if strap.cut < 2 or own.cut is None or is_held or not holes:
            continue
        named = sum(
            base.cut * hole.through.count(own.name) for base in subject.build.pieces for hole in base.marks.holes
        )
        if named and not named % len(holes) and named // len(holes) < strap.cut:
            what = (
                f'{strap.cut} of "{own.name}" are cut, and the holes that go through it are for {named // len(holes)}'
            )
            answer = "look at cut, and at the holes; where one is to spare there is nothing to do"
            yield Question(place=own.cut.place, what=what, answer=answer)


def _written_straps(subject: Subject) -> Iterator[tuple[StrapSpec, Strap]]:
    """The straps that have a width, each with its table."""
    for own in subject.spec.straps:
        if own.name in subject.parts.straps and own.width is not None:
            yield own, subject.parts.straps[own.name]


def _width(subject: Subject, own: StrapSpec) -> Place:
    return subject.written_at(subject.spec.straps, own.name, "width")


def _ask_free_end(subject: Subject, own: StrapSpec, strap: Strap) -> Iterator[Question]:
    """Handles by their word that land by one end alone, and whose other end has nothing that holds it."""
    ends = {end.end: end for base in subject.build.pieces for end in base.strap_landings if end.strap == own.name}
    if len(ends) != 1 or not _is_handle(strap):
        return
    ((which, landing),) = ends.items()
    other, middle_mm = strap.ends[1 - which], strap.cut_length_mm / 2
    has_hole = any((hole.at.y > middle_mm) != bool(which) for hole in strap.piece.marks.holes)
    if other.shape != "turned" and not has_hole and strap.name not in subject.sewn:
        name = ("first", "second")[1 - which]
        what = f'the handle "{own.name}" is held by its {("first", "second")[which]} end alone'
        answer = f'write end = "{name}" in one of its landings; where it hangs free there is nothing to do'
        yield Question(place=landing.place, what=what, answer=answer)


def _ask_even(own: StrapSpec) -> Iterator[Question]:
    """Rows of buckle holes without a middle one, of straps that do not say how long they are worn."""
    rows = [own.holes, *(end.holes for end in own.ends)]
    for row in rows if own.wears is None else ():
        if row is not None and row.count is not None and row.count.value % 2 == 0:
            what = f'{row.count.value} holes of "{own.name}" have no middle one'
            answer = "write one more or one less; where none is to be the middle there is nothing to do"
            yield Question(place=row.count.place, what=what, answer=answer)


def _is_odd_keeper(subject: Subject, keeper: Strap) -> bool:
    """Whether a keeper is of thicker leather than what it holds, or another keeper is of the leather of what that holds:
    mostly one is cut from a thinner leather of the subject.build."""
    thick = {item.name: item.thickness_mm for item in subject.build.materials}
    held = subject.parts.straps[keeper.keeper_for]
    others = [
        one
        for one in subject.parts.straps.values()
        if one.keeper_for in subject.parts.straps and one.name != keeper.name
    ]
    is_thicker = thick.get(keeper.material, 0.0) > thick.get(held.material, 0.0)
    return is_thicker or any(subject.parts.straps[one.keeper_for].material == one.material for one in others)


def _ask_held(subject: Subject, own: StrapSpec, strap: Strap) -> Iterator[Question]:
    """Straps that lie fast over nearly all their length: farther than up to what lies back at a free end."""
    ends = [end for base in subject.build.pieces for end in base.strap_landings if end.strap == own.name]
    held_mm = sum(end.over_mm for end in ends) / strap.cut
    is_doubted = len(ends) > strap.cut * 2 or any(end.over_mm > strap.finished_mm for end in ends)
    held = {end.end for end in ends}
    free_mm = sum(end.back_mm for which, end in enumerate(strap.ends) if end.shape == "turned" and which not in held)
    is_short = held_mm > MOST_HELD * strap.finished_mm > 0 and (
        not free_mm or held_mm > strap.finished_mm - free_mm + SAME_MM
    )
    if own.finished and is_short and not is_doubted and not (len(held) == 1 and len(ends) > strap.cut):
        fast, long = map(subject.length, (held_mm, strap.finished_mm))
        what = f'"{own.name}" is {long} long, and lies fast over {fast} of that'
        overs = [
            item.over
            for piece in subject.spec.pieces
            for item in piece.landings
            if item.strap and item.strap.value == own.name
        ]
        over = overs[0] if len(overs) == 1 and held_mm > MOST_OVER_MM else None
        what += line_words(own.finished.place.line) if over else ""
        answer = "look at both figures; where it is to lie fast so far there is nothing to do"
        yield Question(place=over.place if over else own.finished.place, what=what, answer=answer)


@question
def ask_twins(subject: Subject) -> Iterator[Question]:
    """Straps called left and right of which one is many times as long as the other."""
    owns = {own.name: own for own in subject.spec.straps if own.finished}
    for one, other in TWINS:
        if one in owns and other in owns and one in subject.parts.straps and other in subject.parts.straps:
            longs = [subject.parts.straps[name].finished_mm for name in (one, other)]
            if 0 < UNLIKE * min(longs) <= max(longs):
                later = max((owns[one], owns[other]), key=lambda own: own.place.line)
                told = [subject.length(mm) for mm in longs]
                what = f'"{one}" is {told[0]} long, and "{other}" {told[1]}'
                answer = "look at both figures; where they are meant to be so unlike there is nothing to do"
                yield Question(place=later.finished.place if later.finished else later.place, what=what, answer=answer)


@question
def ask_slots(subject: Subject) -> Iterator[Question]:
    """Slots for a tongue that are written far shorter than the tongue swings in."""
    hardware = {item.name: item for item in subject.build.hardware}
    for own, strap in _written_straps(subject):
        for spec, end in zip(own.ends, strap.ends, strict=False):
            item = hardware.get(end.around)
            thick_mm = end.skive.to_mm if end.skive else strap.thickness_mm
            usual_mm = slot_long_mm(item.bar_mm, item.tongue_mm, thick_mm) if item and item.tongue_mm else 0.0
            if spec.slot and item and 0 < end.slot_long_mm < SHORT_SLOT * usual_mm:
                written, most = map(subject.length, (end.slot_long_mm, usual_mm))
                what = f'the slot of "{own.name}" is {written} long, and the tongue of "{item.name}" swings in {most}'
                answer = (
                    "make it longer, or leave slot out: then it is reckoned; where it is enough there is nothing to do"
                )
                yield Question(place=spec.slot.place, what=what, answer=answer)


@question
def ask_bars(subject: Subject) -> Iterator[Question]:
    """Rings and buckles with a bar far too thick for how wide they are."""
    bars = {item.name: item.bar for item in subject.spec.hardware}
    for item in subject.build.hardware:
        value = bars.get(item.name)
        if value and item.inside_mm and item.bar_mm > THICK_BAR * item.inside_mm:
            bar, wide = map(subject.length, (item.bar_mm, item.inside_mm))
            what = f'"{item.name}" is {wide} wide inside, and its bar {bar} thick'
            answer = "look at both figures; where it is so thick there is nothing to do"
            yield Question(place=value.place, what=what, answer=answer)


def _is_handle(strap: Strap) -> bool:
    words = f"{strap.name} {strap.title}"
    return has_phrase(words, "handle") and not has_phrase(words, "shoulder")
