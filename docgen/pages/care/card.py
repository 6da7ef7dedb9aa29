"""One care card: its faces with everything that all cards of a language share, and what one order adds."""

from collections.abc import Sequence
from contextlib import suppress
from dataclasses import replace
from typing import Final

from docgen.classes import dataclass
from docgen.fonts import descent_mm, text_width_mm, wrap_text
from docgen.geometry.shapes import Box
from docgen.pages.care.advice import (
    LEADING,
    LEAST_GAP_MM,
    LEAST_PT,
    Setting,
    baseline,
    choose_setting,
    divide,
    draw_lines,
    draw_setting,
    height_mm,
    letters_over,
)
from docgen.pages.care.card_format import CardFormat
from docgen.pages.care.care_words import Advice, CareWords, list_advice, list_closing
from docgen.pages.marks.page import CodeMark, ImageMark, Mark, TextMark, level_line
from docgen.pages.setting.blocks import PageStyle
from docgen.pages.setting.tag import QUIET_MODULES, code_rows, code_size_mm, draw_code
from docgen.plan import Plan
from docgen.problems import Place, Problem, SpecRejected, make_error
from docgen.read import Order, Picture
from docgen.written.units.table import MM_PER_POINT

LEAST_MM: Final = LEAST_PT * MM_PER_POINT
LABEL_MM: Final = LEAST_MM
VERSION_MM: Final = 8 * MM_PER_POINT
VALUE_MM: Final = 10 * MM_PER_POINT
OFF_LINE_MM: Final = 0.25
"""Between a line to write on and the deepest letter above it."""
BESIDE_RULE_MM: Final = 2.6
SMALLER_TITLES_PT: Final = (8.0, 7.5, LEAST_PT)
"""For a title that leaves too little room on the card in its own least type."""

MARK_HIGH_MM: Final = 11.0
MARK_SHARE: Final = 0.28
"""Of the panel's width, that the name mark takes at most."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Slot:
    """Where one order's words come, beside their label: the baseline from `x_mm` on, so wide, in type of at most
    `size_mm`."""

    key: str
    label: str
    x_mm: float
    y_mm: float
    width_mm: float
    size_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Blank:
    """The faces of a card from (0, 0), what the codes on them say, the room between head and foot of the first, and the
    places on it of what differs from card to card."""

    faces: tuple[tuple[Mark, ...], ...]
    room: Box
    slots: tuple[Slot, ...]
    personal: Box
    payload: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CodeFoot:
    """A code; how far to the right the room beside it goes, and where that above its white begins."""

    mark: CodeMark
    right: float
    high: float


@dataclass(frozen=True, slots=True, kw_only=True)
class BlankKind:
    """What decides how a blank is divided: language, the rows to fill in, and the lines of the personal words."""

    language: str
    rows: tuple[str, ...]
    personal_lines: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """What a blank is drawn with: its words, what its codes say, the version as printed, the style."""

    said: CareWords
    payload: str
    version: str
    style: PageStyle


def find_kind(order: Order, plan: Plan, form: CardFormat) -> BlankKind:
    """The kind of blank for an order; a row for the serial only where it has one."""
    lines = break_personal(order, form)
    rows = ("for", "serial", "on") if order.serial else ("for", "on")
    return BlankKind(language=order.language or plan.build.care.language, rows=rows, personal_lines=len(lines))


def break_personal(order: Order, form: CardFormat) -> tuple[str, ...]:
    """The personal line as it stands on the card, on several lines where it is long."""
    return wrap_text(order.personal_line, "regular", form.personal_pt * MM_PER_POINT, form.panel().width)


def draw_blank(plan: Plan, form: CardFormat, kind: BlankKind, look: Look) -> Blank:
    """The card without an order. Raises SpecRejected when its words do not fit."""
    try:
        return _draw_faces(plan, form, kind, look)
    except SpecRejected:
        for least_pt in SMALLER_TITLES_PT:
            with suppress(SpecRejected):
                return _draw_faces(plan, replace(form, title_pt=(form.title_pt[0], least_pt)), kind, look)
        raise


def _draw_faces(plan: Plan, form: CardFormat, kind: BlankKind, look: Look) -> Blank:
    front = _draw_front(plan, form, kind, look)
    if front.room.height < 0:
        raise SpecRejected([_crowd_problem(plan, form, _count_title(plan, form, kind, look))])
    return replace(front, faces=(_fold_faces if form.is_folded else _flat_faces)(plan, form, look, front))


def _flat_faces(plan: Plan, form: CardFormat, look: Look, front: Blank) -> tuple[tuple[Mark, ...], ...]:
    """Advice between head and foot, and on the back where there is one; on the smallest card on the back only."""
    said, style = look.said, look.style
    listed = [*list_advice(plan, said, is_short=form.is_short), *list_closing(plan, said, is_short=form.is_short)]
    head, back = ((), form.panel()) if form.is_short else _draw_top(form.panel(), said, style)
    code = draw_code_foot(form.panel(), look.payload)
    above = Box(back.left, code.high, back.right, back.top)
    # The smallest card has words beside the code of its back too.
    backs = [above, Box(back.left, back.bottom, code.right, code.high - LEAST_GAP_MM)] if form.is_short else [above]
    rooms = ([front.room] if form.has_advice_in_front else []) + (backs if form.sides == 2 else [])
    setting = _set(plan, form, said, listed, rooms)
    drawn = list(draw_setting(setting, rooms, form.gap_mm))
    first = (*front.faces[0], *drawn.pop(0)) if form.has_advice_in_front else front.faces[0]
    return (first, (*head, code.mark, *(mark for marks in drawn for mark in marks))) if form.sides == 2 else (first,)


def _fold_faces(plan: Plan, form: CardFormat, look: Look, front: Blank) -> tuple[tuple[Mark, ...], ...]:
    """Outside the cover at the right and the shop's words at the left; inside the advice on both panels."""
    said, style = look.said, look.style
    left, right = form.panel(0), form.panel(1)
    head, room = _draw_top(left, said, style)
    code = draw_code_foot(right, look.payload)
    rooms = [room, Box(right.left, code.high, right.right, room.top)]
    setting = _set(plan, form, said, list_advice(plan, said), rooms)
    rule = level_line(right.left, right.right, room.top + BESIDE_RULE_MM, style.thick_line_mm)
    inside = (*head, rule, code.mark, *(mark for marks in draw_setting(setting, rooms, form.gap_mm) for mark in marks))
    closing = list_closing(plan, said)
    if not closing:
        return front.faces[0], inside
    size = min(_set(plan, form, said, closing, [left]).size_mm, setting.size_mm)
    foot = Box(left.left, left.bottom, left.right, left.bottom + height_mm(closing, left.width, size) + len(closing))
    last = draw_setting(Setting(size_mm=size, rooms=(closing,)), [foot], form.gap_mm)[0]
    return (*front.faces[0], *last), inside


def _set(plan: Plan, form: CardFormat, said: CareWords, listed: Sequence[Advice], rooms: Sequence[Box]) -> Setting:
    setting = choose_setting(listed, rooms, form.largest_pt, form.ease_pt, form.most)
    if setting is None:
        raise SpecRejected([_make_problem(plan, form, said, listed, rooms)])
    return setting


def _draw_top(panel: Box, said: CareWords, style: PageStyle) -> tuple[tuple[Mark, ...], Box]:
    """The head of a panel without a title, and the room under it."""
    label, y = draw_lines((said.labels["card"],), "regular", LABEL_MM, panel.left, panel.top, style.help_grey)
    y -= 0.6
    rule = level_line(panel.left, panel.right, y, style.thick_line_mm)
    return (*label, rule), Box(panel.left, panel.bottom, panel.right, y - BESIDE_RULE_MM)


def _draw_front(plan: Plan, form: CardFormat, kind: BlankKind, look: Look) -> Blank:
    """The first face with its head and foot alone."""
    panel = form.panel(1) if form.is_folded else form.panel()
    head, top = _draw_head(plan, form, panel, look)
    size = form.personal_pt * MM_PER_POINT
    personal_mm = kind.personal_lines * size * LEADING
    personal = Box(panel.left, top - BESIDE_RULE_MM / 2 - personal_mm, panel.right, top - BESIDE_RULE_MM / 2)
    high = personal.bottom if kind.personal_lines else top
    foot, slots, low = _draw_foot(form, panel, kind, look)
    gap = BESIDE_RULE_MM if form.has_advice_in_front else 0.5
    room = Box(panel.left, low + gap, panel.right, high - gap)
    return Blank(faces=((*head, *foot),), room=room, slots=slots, personal=personal, payload=look.payload)


def _draw_head(plan: Plan, form: CardFormat, panel: Box, look: Look) -> tuple[tuple[Mark, ...], float]:
    """Title, shop and contact with a line under them; and the height of that line."""
    build, said, style = plan.build, look.said, look.style
    image = _place_mark(build.shop.mark, form, panel)
    wide = image[0].x_mm - BESIDE_RULE_MM - panel.left if image else panel.width
    largest, least = (size * MM_PER_POINT for size in form.title_pt)
    size = min(largest, max(least, wide / text_width_mm(build.title, "bold", 1.0)))
    shop_mm = form.shop_pt * MM_PER_POINT
    marks, y = draw_lines((said.labels["card"],), "regular", LABEL_MM, panel.left, panel.top, style.help_grey)
    if form.is_short:
        marks = (*marks, replace(marks[0], x_mm=panel.right, text=_word_version(look), anchor="end", grey=0.0))
    title, y = draw_lines(wrap_text(build.title, "bold", size, wide), "bold", size, panel.left, y)
    wide = panel.width if image and y - 0.4 <= image[0].y_mm else wide
    shop = break_shop(build.shop.name, build.shop.contact, shop_mm, wide)
    below, y = draw_lines(shop, "regular", shop_mm, panel.left, y - 0.4)
    y -= 1.6 if form.has_advice_in_front else 1.0
    y = min(y, image[0].y_mm - 1.0) if image else y
    return (*marks, *title, *below, *image, level_line(panel.left, panel.right, y, style.thick_line_mm)), y


def break_shop(name: str, contact: str, size_mm: float, width_mm: float) -> tuple[str, ...]:
    """Name and contact on one line with a point between them, else each from a line of its own."""
    both = " · ".join(word for word in (name, contact) if word)
    if text_width_mm(both, "regular", size_mm) <= width_mm:
        return (both,) if both else ()
    return wrap_text(f"{name}\n{contact}", "regular", size_mm, width_mm)


def _word_version(look: Look) -> str:
    return f"{look.said.labels['version']} {look.version}"


def _place_mark(picture: Picture | None, form: CardFormat, panel: Box) -> tuple[ImageMark, ...]:
    """The shop's name mark in the upper right corner, beside title and shop; on the smallest card below its version."""
    if picture is None:
        return ()
    ratio = picture.width_mm / picture.height_mm
    most, top = (0.7 * MARK_HIGH_MM, panel.top - LABEL_MM * LEADING) if form.is_short else (MARK_HIGH_MM, panel.top)
    high = min(most, MARK_SHARE * panel.width / ratio)
    return (ImageMark(picture=picture, x_mm=panel.right - high * ratio, y_mm=top - high, height_mm=high),)


def _draw_foot(
    form: CardFormat, panel: Box, kind: BlankKind, look: Look
) -> tuple[tuple[Mark, ...], tuple[Slot, ...], float]:
    """Lines to fill in, the version, the code at the right with its words below; and the foot's height."""
    said, style, code = look.said, look.style, draw_code_foot(panel, look.payload)
    lines = break_payload(look.payload, code.right - panel.left)
    foot = panel.bottom - baseline(0.0, LEAST_MM, len(lines) - 1)
    coded, _ = draw_lines(lines, "regular", LEAST_MM, panel.left, foot)
    # The smallest card has its version in the head.
    above = 0.0 if form.is_short else VERSION_MM * LEADING
    version = () if form.is_short else (_word_version(look),)
    versions, _ = draw_lines(version, "bold", VERSION_MM, panel.left, foot + above)
    low = foot + above + 2.0
    high = max(code.high + 0.5, low + len(kind.rows) * form.row_mm)
    rows, slots = _draw_rows(kind, said, panel.left, code.right, low, high, style)
    rule = level_line(panel.left, panel.right, high, style.hair_line_mm)
    ruled = (rule,) if form.has_advice_in_front else ()
    return (*ruled, *versions, *rows, *coded, code.mark), slots, high


def draw_code_foot(panel: Box, payload: str) -> CodeFoot:
    """The code in the lower right corner of a panel."""
    code_mm = code_size_mm(payload)
    # The white round the code; what the card's margin gives is not counted.
    quiet_mm = QUIET_MODULES * code_mm / len(code_rows(payload))
    code = draw_code(payload, panel.right - code_mm, panel.bottom, code_mm)
    return CodeFoot(mark=code, right=code.x_mm - quiet_mm - 1.0, high=panel.bottom + code_mm + quiet_mm)


def _draw_rows(
    kind: BlankKind, said: CareWords, left: float, right: float, low: float, high: float, style: PageStyle
) -> tuple[list[Mark], tuple[Slot, ...]]:
    """A label and a line to write on for each row, from the lowest up."""
    begin = left + 1.5 + max(text_width_mm(said.labels[key], "regular", LABEL_MM) for key in kind.rows)
    step = (high - low) / len(kind.rows)
    # Words and label share a baseline so far above the line that no letter of any alphabet reaches it.
    above = style.thin_line_mm / 2 + OFF_LINE_MM + descent_mm(VALUE_MM)
    marks: list[Mark] = []
    slots = []
    for row, key in enumerate(reversed(kind.rows)):
        y = low + row * step
        marks.append(level_line(begin, right, y, style.thin_line_mm))
        label = said.labels[key]
        marks.append(TextMark(x_mm=left, y_mm=y + above, text=label, size_mm=LABEL_MM, grey=style.help_grey))
        at = Slot(
            key=key, label=label, x_mm=begin + 0.6, y_mm=y + above, width_mm=right - begin - 1.2, size_mm=VALUE_MM
        )
        slots.append(at)
    return marks, tuple(slots)


def break_payload(payload: str, width_mm: float) -> tuple[str, ...]:
    """What the code says, broken after a slash where it can be, and never before its number alone."""
    *parts, document, number = payload.split("/")
    lines = wrap_text("/ ".join((*parts, f"{document}/{number}")), "regular", LEAST_MM, width_mm)
    return tuple(line.replace("/ ", "/") for line in lines)


def draw_order(blank: Blank, order: Order, form: CardFormat) -> tuple[tuple[Mark, ...], tuple[Problem, ...]]:
    """What an order adds to the first face of its blank; and a problem for each of its words that does not fit."""
    size = form.personal_pt * MM_PER_POINT
    personal = break_personal(order, form)
    marks = list(draw_lines(personal, "regular", size, blank.personal.left, blank.personal.top)[0])
    problems = []
    for slot in blank.slots:
        key, text = _row_words(order, slot.key)
        needed = text_width_mm(text, "regular", 1.0) if text else 0.0
        size = min(slot.size_mm, slot.width_mm / needed) if needed else slot.size_mm
        if size < LEAST_MM:
            what = (
                f'{key} is too long for the line "{slot.label}" of the {form.name} care card, also in {LEAST_PT:g} pt'
            )
            problems.append(
                make_error(order.place, what, f"write at most {_count_fitting(text, slot.width_mm)} letters")
            )
        elif text:
            marks.append(TextMark(x_mm=slot.x_mm, y_mm=slot.y_mm, text=text, size_mm=size))
    return tuple(marks), tuple(problems)


def _count_fitting(text: str, width_mm: float) -> int:
    """How many letters from the first on fit in the least type."""
    fits = (count for count in range(len(text), 0, -1) if text_width_mm(text[:count], "regular", LEAST_MM) <= width_mm)
    return next(fits, 0)


def _row_words(order: Order, key: str) -> tuple[str, str]:
    """The column's name and the words for one row of the foot."""
    return {"for": ("name", order.name), "serial": ("serial", order.serial), "on": ("date", order.date)}[key]


def _make_problem(
    plan: Plan, form: CardFormat, said: CareWords, listed: Sequence[Advice], rooms: Sequence[Box]
) -> Problem:
    """What is too long, and by how much."""
    own = [advice for advice in listed if advice.own]
    bare = [advice for advice in list_advice(plan, said, is_short=form.is_short, with_own=False) if not advice.rank]
    if not own or divide(bare, rooms, LEAST_MM) is None:
        return _crowd_problem(plan, form)
    longest = max(own, key=lambda advice: advice.own_letters)
    names = [advice.own for advice in own]
    named = names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"
    what = f"{named} {'is' if len(names) == 1 else 'are'} too long for the {form.name} care card in its smallest type"
    letters = letters_over(listed, rooms)
    return make_error(longest.place or Place(), what, f"take out about {letters} letters, or take a larger card")


def _count_title(plan: Plan, form: CardFormat, kind: BlankKind, look: Look) -> int:
    """How many letters of the title, in the least type, leave the room above the foot that there must be."""
    small = replace(form, title_pt=(form.title_pt[0], LEAST_PT))
    low, high = 0, len(plan.build.title)
    while low < high:
        middle = (low + high + 1) // 2
        build = replace(plan.build, title=plan.build.title[:middle])
        fits = _draw_front(replace(plan, build=build), small, kind, look).room.height >= 0
        low, high = (middle, high) if fits else (low, middle - 1)
    return low


def _crowd_problem(plan: Plan, form: CardFormat, letters: int = 0) -> Problem:
    what = f"title, shop and contact leave too little room on the {form.name} care card"
    shorter = f"shorten the title to at most {letters} letters" if letters else "shorten the title"
    mend = f"{shorter} or the shop's contact, or take a larger card"
    return make_error(Place(path=plan.build.source_name), what, mend)
