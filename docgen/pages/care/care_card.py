"""Plan and orders -> care cards: sheets of cards to cut out, one for each make or order, on one side or two.

A sheet has no band: its paper is all for cards, and each side of each card has its own code.

The back of a sheet is the mirror image of its front: about the edge that the printer turns the paper over, and then
every card about its own upright edge, so that a card is turned like the page of a book.
"""

import math
from collections.abc import Sequence
from dataclasses import replace
from typing import Final, overload

from docgen.classes import dataclass
from docgen.geometry.path import polyline
from docgen.geometry.shapes import Box, Point
from docgen.layout_files import Layouts, layouts_in_use, use_layouts
from docgen.pages.care.card import Blank, BlankKind, Look, draw_blank, draw_order, find_kind
from docgen.pages.care.card_format import CardFormat, find_format
from docgen.pages.care.card_sheet import CardPlace, Ends, Sheet, find_sheet
from docgen.pages.care.care_words import load_care_words
from docgen.pages.care.customer import CARD, name_card
from docgen.pages.looks.words import words
from docgen.pages.marks.moving import turn_marks
from docgen.pages.marks.page import ENGLISH, Document, Mark, Page, PathMark, Stroke, TextMark
from docgen.pages.setting.frame import Stamp
from docgen.pages.setting.setup import Setup, make_stamp
from docgen.plan import Plan
from docgen.problems import Problem, SpecRejected, make_error
from docgen.read import Order
from docgen.tables.paper import CARD_SIZES_MM

__all__ = ["CARD_SIZES_MM", "NAME", "PAYLOAD_NAME", "lay_out_care_card"]

NAME: Final = "care-card"
PAYLOAD_NAME: Final = CARD

FOLD_DASH_MM: Final = (1.0, 0.8)
MOST_SHEETS: Final = 20
"""Of cards without orders."""


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
    room = len(sheet.places)
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
        return find_sheet(form, setup.paper_width_mm, setup.paper_height_mm, setup.margin_mm)
    except ValueError as error:
        mend = "take a smaller card, or larger paper"
        raise SpecRejected([make_error(plan.build.care.place, str(error), mend)]) from error


@dataclass(frozen=True, slots=True, kw_only=True)
class Card:
    """A blank and what one order adds to its first face."""

    blank: Blank
    added: tuple[Mark, ...]


def _draw_blanks(plan: Plan, work: Work, cards: Sequence[Order]) -> dict[BlankKind, Blank]:
    """A blank for every kind of card."""
    kinds: dict[BlankKind, list[Order]] = {}
    for order in dict.fromkeys(cards):
        kinds.setdefault(find_kind(order, plan, work.form), []).append(order)
    blanks = {}
    problems: list[Problem] = []
    for kind, orders in kinds.items():
        try:
            blank = draw_blank(plan, work.form, kind, _make_look(plan, work, kind))
            blanks[kind] = _mark_language(blank, kind.language, plan.build.care.language)
        except SpecRejected:
            plain = BlankKind(language=kind.language, rows=kind.rows, personal_lines=0)
            if not kind.personal_lines or not _fits(plan, work, plain):
                raise
            problems += [_make_personal_problem(order, work.form) for order in orders]
    if problems:
        raise SpecRejected(problems)
    return blanks


def _mark_language(blank: Blank, language: str, own: str) -> Blank:
    """The blank with its words marked as of their language, where the file of cards, or that of all documents, is in
    another."""
    if language == own == ENGLISH or not language.replace("-", "").isalnum() or not language.isascii():
        return blank
    faces = [
        tuple(replace(mark, language=language) if isinstance(mark, TextMark) else mark for mark in face)
        for face in blank.faces
    ]
    return replace(blank, faces=tuple(faces))


def _make_look(plan: Plan, work: Work, kind: BlankKind) -> Look:
    said = load_care_words(kind.language)
    stamp = work.stamp
    # The word for a draft is the card's own; the code keeps the one that is read back.
    version = f"{stamp.version} {said.labels['draft']}" if stamp.is_draft else stamp.version
    # All cards of a language say the same: they lead to one page for customers.
    payload = stamp.payload(name_card(kind.language, plan.build.care.language), 1)
    return Look(said=said, payload=payload, version=version, style=work.setup.style)


def _fits(plan: Plan, work: Work, kind: BlankKind) -> bool:
    try:
        draw_blank(plan, work.form, kind, _make_look(plan, work, kind))
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
        room = len(self.work.sheet.places)
        cards = self.cards[sheet * room : (sheet + 1) * room]
        with use_layouts(self.layouts):
            return _lay_side(self.work, cards, sheet + 1, is_back=bool(side))


def _lay_side(work: Work, cards: Sequence[Card], sheet: int, *, is_back: bool) -> Page:
    """The fronts or the backs of one sheet of cards."""
    extra = words("care")["back"] if is_back else ""
    marks: list[Mark] = []
    for card, place in zip(cards, work.sheet.places, strict=False):
        faces = card.blank.faces
        shown = faces[1] if is_back else (*faces[0], *card.added)
        box = mirror_box(place.box, work) if is_back else place.box
        marks += turn_marks(shown, _quarters(work, place, is_back=is_back), box)
    return Page(
        width_mm=work.sheet.width_mm,
        height_mm=work.sheet.height_mm,
        marks=(*marks, *_draw_lines(work, is_back=is_back)),
        label=f"{words('documents')[PAYLOAD_NAME]} {sheet} {extra}".strip(),
        payload=cards[0].blank.payload,
    )


def _quarters(work: Work, place: CardPlace, *, is_back: bool) -> int:
    """How far a face drawn standing is turned in its place: a turned card has its head at the left. Behind it the other
    face lies by two mirrors, the paper's and the card's, which are a turn."""
    # About a side edge, a standing card stays upright and a lying one is turned round; about the top it is the reverse.
    is_round = is_back and place.is_turned != work.is_turned_over_top
    return (1 if place.is_turned else 0) + (2 if is_round else 0)


def mirror_box(box: Box, work: Work) -> Box:
    """Where a place on the front comes to lie on the back, once the paper is turned over."""
    if work.is_turned_over_top:
        return Box(box.left, work.sheet.height_mm - box.top, box.right, work.sheet.height_mm - box.bottom)
    return Box(work.sheet.width_mm - box.right, box.bottom, work.sheet.width_mm - box.left, box.top)


def _draw_lines(work: Work, *, is_back: bool) -> tuple[PathMark, ...]:
    """The marks to cut by, and dashed ones to fold by, on both sides of the paper; those on the side of a card in front."""
    wide = work.setup.style.thin_line_mm
    cuts = work.sheet.cuts if is_back else (*work.sheet.cuts, *work.sheet.on_cuts)
    kinds = (Stroke(wide), cuts), (Stroke(wide, FOLD_DASH_MM), work.sheet.folds)
    return tuple(
        PathMark(path=polyline(_mirror_ends(ends, work) if is_back else ends), stroke=stroke)
        for stroke, lines in kinds
        for ends in lines
    )


def _mirror_ends(ends: Ends, work: Work) -> Ends:
    (x, y), (to_x, to_y) = ends
    box = mirror_box(Box(x, y, to_x, to_y), work)
    return Point(box.left, box.bottom), Point(box.right, box.top)
