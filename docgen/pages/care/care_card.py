"""Plan and orders -> care cards: sheets of cards to cut out, one for each make or order, on one side or two.

The back of a sheet is the mirror image of its front: about the edge that the printer turns the paper over, and then
every card about its own upright edge, so that a card is turned like the page of a book.
"""

import math
from collections.abc import Sequence
from typing import Final, overload

from docgen.classes import dataclass
from docgen.geometry.path import polyline
from docgen.geometry.shapes import Box, Point
from docgen.layout_files import Layouts, layouts_in_use, use_layouts
from docgen.pages.care.card import Blank, BlankKind, Look, draw_blank, draw_card_code, draw_order, find_kind
from docgen.pages.care.card_format import CardFormat, find_format
from docgen.pages.care.care_words import load_care_words
from docgen.pages.looks.words import words
from docgen.pages.marks.moving import place_marks, turn_marks
from docgen.pages.marks.page import Document, Mark, Page, PathMark, Stroke
from docgen.pages.setting.frame import Stamp, draw_band, page_frame
from docgen.pages.setting.setup import Setup, make_stamp
from docgen.plan import Plan
from docgen.problems import Problem, SpecRejected, make_error
from docgen.read import Order
from docgen.tables.paper import CARD_SIZES_MM

__all__ = ["CARD_SIZES_MM", "NAME", "PAYLOAD_NAME", "find_sheet", "lay_out_care_card"]

NAME: Final = "care-card"
PAYLOAD_NAME: Final = "CARE-CARD"

CROP_OFF_MM: Final = 1.5
CROP_LONG_MM: Final = 4.0
REACH_MM: Final = CROP_OFF_MM + CROP_LONG_MM
"""Kept free round every card, so that it has crop marks of its own."""

FOLD_DASH_MM: Final = (1.0, 0.8)
MOST_SHEETS: Final = 20
"""Of cards without orders."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """A sheet of paper and the cards on it, in reading order; `is_turned` where they lie on their side."""

    width_mm: float
    height_mm: float
    is_turned: bool
    boxes: tuple[Box, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Work:
    """What all sheets of one document share."""

    setup: Setup
    form: CardFormat
    sheet: Sheet
    stamp: Stamp
    turn: str
    sheets: int

    @property
    def pages(self) -> int:
        return self.sheets * self.form.sides

    @property
    def is_turned_over_top(self) -> bool:
        """Whether the printer turns the paper about an edge that lies across the page."""
        return (self.turn == "long") == (self.sheet.width_mm > self.sheet.height_mm)


def lay_out_care_card(plan: Plan, setup: Setup, orders: Sequence[Order] = ()) -> Document:
    """Cards for the orders, in their order; without any, full sheets with a card for each make (at most 20 sheets).

    A card with two sides has a page for the backs after each page of fronts. Raises SpecRejected when words do not
    fit the card in 7 pt, or the card does not fit the paper.
    """
    build = plan.build
    form = find_format(build.care.card, build.care.sides)
    sheet = _find_sheet_for(plan, form, setup)
    room = len(sheet.boxes)
    cards = [order for order in orders for _ in range(order.copies)]
    if not cards:
        cards = [Order()] * room * max(1, min(MOST_SHEETS, math.ceil(build.makes / room)))
    work = Work(
        setup=setup,
        form=form,
        sheet=sheet,
        stamp=make_stamp(build, setup, PAYLOAD_NAME),
        turn=build.care.turn,
        sheets=math.ceil(len(cards) / room),
    )
    blanks = _draw_blanks(plan, work, cards)
    drawn = _draw_orders(plan, work, cards, blanks)
    pages = CardPages(work=work, cards=tuple(drawn), layouts=layouts_in_use())
    title = words("documents")[PAYLOAD_NAME]
    return Document(name=NAME, title=title, pages=pages, language=build.care.language)


def _find_sheet_for(plan: Plan, form: CardFormat, setup: Setup) -> Sheet:
    try:
        return find_sheet((form.width_mm, form.height_mm), setup)
    except ValueError as error:
        mend = "take a smaller card, or larger paper"
        raise SpecRejected([make_error(plan.build.care.place, str(error), mend)]) from error


def find_sheet(size_mm: tuple[float, float], setup: Setup) -> Sheet:
    """The way round of paper and cards that takes most cards; as the paper is given where two take as many.

    ValueError when a card with its crop marks is larger than the sheet.
    """
    paper = (setup.paper_width_mm, setup.paper_height_mm)
    sheets = [
        Sheet(width_mm=wide, height_mm=high, is_turned=is_turned, boxes=boxes)
        for wide, high in (paper, paper[::-1])
        for is_turned in (False, True)
        if (boxes := _place_cards(size_mm[::-1] if is_turned else size_mm, wide, high, setup))
    ]
    if not sheets:
        card = f"{size_mm[0]:.1f} x {size_mm[1]:.1f} mm"
        raise ValueError(f"no card of {card} fits a sheet of {paper[0]:.1f} x {paper[1]:.1f} mm with its crop marks")
    return max(sheets, key=lambda sheet: len(sheet.boxes))


def _place_cards(card: tuple[float, float], wide: float, high: float, setup: Setup) -> tuple[Box, ...]:
    """The cards in the middle of the room above the band, in rows from the top."""
    room = page_frame(wide, high, setup.margin_mm, setup.style)
    cell_width, cell_height = card[0] + 2 * REACH_MM, card[1] + 2 * REACH_MM
    across, down = max(0, int(room.width // cell_width)), max(0, int(room.height // cell_height))
    left = room.centre.x - across * cell_width / 2 + REACH_MM
    bottom = room.centre.y + down * cell_height / 2 - REACH_MM - card[1]
    corners = [
        Point(left + column * cell_width, bottom - row * cell_height) for row in range(down) for column in range(across)
    ]
    return tuple(Box(at.x, at.y, at.x + card[0], at.y + card[1]) for at in corners)


@dataclass(frozen=True, slots=True, kw_only=True)
class Card:
    """A blank and what one order adds to its first face."""

    blank: Blank
    added: tuple[Mark, ...]


def _draw_blanks(plan: Plan, work: Work, cards: Sequence[Order]) -> dict[BlankKind, Blank]:
    """A blank for every kind of card, each with room for the longest code of the document."""
    longest = work.stamp.payload(PAYLOAD_NAME, work.pages)
    kinds: dict[BlankKind, list[Order]] = {}
    for order in dict.fromkeys(cards):
        kinds.setdefault(find_kind(order, plan, work.form), []).append(order)
    blanks = {}
    problems: list[Problem] = []
    for kind, orders in kinds.items():
        try:
            blanks[kind] = draw_blank(plan, work.form, kind, _make_look(work, kind, longest))
        except SpecRejected:
            plain = BlankKind(language=kind.language, rows=kind.rows, personal_lines=0)
            if not kind.personal_lines or not _fits(plan, work, plain, longest):
                raise
            problems += [_make_personal_problem(order, work.form) for order in orders]
    if problems:
        raise SpecRejected(problems)
    return blanks


def _make_look(work: Work, kind: BlankKind, longest: str) -> Look:
    said = load_care_words(kind.language)
    stamp = work.stamp
    # The word for a draft is the card's own; the code keeps the one that is read back.
    version = f"{stamp.version} {said.labels['draft']}" if stamp.is_draft else stamp.version
    return Look(said=said, longest_payload=longest, version=version, style=work.setup.style)


def _fits(plan: Plan, work: Work, kind: BlankKind, longest: str) -> bool:
    try:
        draw_blank(plan, work.form, kind, _make_look(work, kind, longest))
    except SpecRejected:
        return False
    return True


def _make_personal_problem(order: Order, form: CardFormat) -> Problem:
    what = f"the personal line leaves the advice too little room on the {form.name} care card"
    if not form.has_advice_in_front:
        what = f"the personal line does not fit the front of the {form.name} care card"
    return make_error(order.place, what, "shorten it, or take a larger card")


def _draw_orders(plan: Plan, work: Work, cards: Sequence[Order], blanks: dict[BlankKind, Blank]) -> list[Card]:
    """Every card; SpecRejected with all words that do not fit their lines."""
    drawn: dict[Order, Card] = {}
    problems: list[Problem] = []
    for order in dict.fromkeys(cards):
        blank = blanks[find_kind(order, plan, work.form)]
        added, found = draw_order(blank, order, work.form)
        problems += found
        drawn[order] = Card(blank=blank, added=added)
    if problems:
        raise SpecRejected(problems)
    return [drawn[order] for order in cards]


@dataclass(frozen=True, slots=True, kw_only=True)
class CardPages(Sequence[Page]):
    """The pages of all cards, each laid out anew whenever it is asked for: those of thousands of orders are too many to
    be kept. A page of fronts is followed, for cards with two sides, by the page of their backs."""

    work: Work
    cards: tuple[Card, ...]
    layouts: Layouts

    def __len__(self) -> int:
        return self.work.pages

    @overload
    def __getitem__(self, index: int) -> Page: ...
    @overload
    def __getitem__(self, index: slice) -> tuple[Page, ...]: ...
    def __getitem__(self, index: int | slice) -> Page | tuple[Page, ...]:
        found = range(len(self))[index]
        if isinstance(found, range):
            return tuple(self[place] for place in found)
        sheet, side = divmod(found, self.work.form.sides)
        room = len(self.work.sheet.boxes)
        cards = self.cards[sheet * room : (sheet + 1) * room]
        with use_layouts(self.layouts):
            return _lay_side(self.work, cards, found + 1, sheet + 1, is_back=bool(side))


def _lay_side(work: Work, cards: Sequence[Card], number: int, sheet: int, *, is_back: bool) -> Page:
    """The page of that number: the fronts or the backs of one sheet of cards."""
    extra = words("care")["back"] if is_back else ""
    band, payload = _draw_band(work, number, extra)
    marks: list[Mark] = []
    for card, box in zip(cards, work.sheet.boxes, strict=False):
        front = (*card.blank.faces[0], *card.added, *draw_card_code(card.blank, payload))
        place = mirror_box(box, work) if is_back else box
        marks += turn_marks(card.blank.faces[1] if is_back else front, _quarters(work, is_back=is_back), place)
        marks += _draw_cuts(place, work)
    return Page(
        width_mm=work.sheet.width_mm,
        height_mm=work.sheet.height_mm,
        marks=(*marks, *band),
        label=f"{words('documents')[PAYLOAD_NAME]} {sheet} {extra}".strip(),
        payload=payload,
    )


def _draw_band(work: Work, number: int, extra: str = "") -> tuple[tuple[Mark, ...], str]:
    """The band at the foot; on backs at the top where the paper is turned about an edge across the page."""
    sheet, setup = work.sheet, work.setup
    size_mm = (sheet.width_mm, sheet.height_mm)
    marks, payload = draw_band(
        work.stamp, PAYLOAD_NAME, number, work.pages, *size_mm, setup.margin_mm, setup.style, extra
    )
    if extra and work.is_turned_over_top:
        marks = place_marks(marks, 0.0, sheet.height_mm - 2 * setup.margin_mm - setup.style.band_mm)
    return marks, payload


def _quarters(work: Work, *, is_back: bool) -> int:
    """How far a face drawn standing is turned in its place: a turned card has its head at the left. Behind it the other
    face lies by two mirrors, the paper's and the card's, which are a turn."""
    # About a side edge, a standing card stays upright and a lying one is turned round; about the top it is the reverse.
    is_round = is_back and work.sheet.is_turned != work.is_turned_over_top
    return (1 if work.sheet.is_turned else 0) + (2 if is_round else 0)


def mirror_box(box: Box, work: Work) -> Box:
    """Where a place on the front comes to lie on the back, once the paper is turned over."""
    if work.is_turned_over_top:
        return Box(box.left, work.sheet.height_mm - box.top, box.right, work.sheet.height_mm - box.bottom)
    return Box(work.sheet.width_mm - box.right, box.bottom, work.sheet.width_mm - box.left, box.top)


def _draw_cuts(box: Box, work: Work) -> tuple[PathMark, ...]:
    width_mm = work.setup.style.hair_line_mm
    folds = _draw_fold_marks(box, width_mm) if work.form.is_folded else ()
    return (*draw_crop_marks(box, width_mm), *folds)


def draw_crop_marks(box: Box, width_mm: float) -> tuple[PathMark, ...]:
    """Two short lines outside each corner, in line with the sides to cut; they do not reach the card."""
    ends = [
        ends
        for x, left in _sides(box.left, box.right)
        for y, up in _sides(box.bottom, box.top)
        for ends in (_outside(Point(x, y), left, 0.0), _outside(Point(x, y), 0.0, up))
    ]
    return tuple(PathMark(path=polyline(pair), stroke=Stroke(width_mm)) for pair in ends)


def _sides(low: float, high: float) -> tuple[tuple[float, float], tuple[float, float]]:
    """Two opposite sides, each with the way out of the card."""
    return (low, -1.0), (high, 1.0)


def _outside(at: Point, right: float, up: float) -> tuple[Point, Point]:
    """The ends of a short line away from the card, from near a place on its rim."""
    near, far = ((at.x + right * off, at.y + up * off) for off in (CROP_OFF_MM, REACH_MM))
    return Point(*near), Point(*far)


def _draw_fold_marks(box: Box, width_mm: float) -> tuple[PathMark, ...]:
    """A dashed line outside the middle of the card's longer sides."""
    x, y = box.centre
    if box.width >= box.height:
        ends = [_outside(Point(x, at), 0.0, up) for at, up in _sides(box.bottom, box.top)]
    else:
        ends = [_outside(Point(at, y), right, 0.0) for at, right in _sides(box.left, box.right)]
    return tuple(PathMark(path=polyline(pair), stroke=Stroke(width_mm, FOLD_DASH_MM)) for pair in ends)
