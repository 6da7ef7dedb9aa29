"""The care card: whole, cut out without cutting into marks or words, in every size on every usual paper."""

import math
from dataclasses import replace

import pypdfium2
import pytest
import zxingcpp
from on_paper import contains, shrink
from pypdf import PdfReader

from docgen.geometry.path import boxes_overlap, path_box
from docgen.geometry.shapes import Box
from docgen.layout_files import list_languages
from docgen.pages.care.advice import LEAST_PT
from docgen.pages.care.card import break_shop
from docgen.pages.care.card_format import find_format
from docgen.pages.care.card_sheet import find_sheet
from docgen.pages.care.care_card import CARD_SIZES_MM, lay_out_care_card
from docgen.pages.care.care_words import load_care_words
from docgen.pages.care.customer import name_card
from docgen.pages.looks.words import load_page_style
from docgen.pages.marks.moving import mark_box
from docgen.pages.marks.page import CodeMark, Packet, PathMark, TextMark
from docgen.pages.setting.setup import Setup
from docgen.problems import Place, SpecRejected, render_problems
from docgen.read import Order
from docgen.resolve import Care, CarePart
from docgen.tables.care import ADVICE_IDS, ALWAYS_KEPT, HUMIDITY, IMPORTANCE
from docgen.versions.kept.codes import parse_code
from docgen.write import finish_documents, replace_files
from docgen.written.units.table import MM_PER_POINT

STYLE = load_page_style()
PAPERS_MM = {"letter": (215.9, 279.4), "a4": (210.0, 297.0), "tabloid": (279.4, 431.8), "least": (190.0, 250.0)}
MARGINS_MM = {"A6": 7.0, "4x6 in": 7.0, "ID-1": 4.5, "A5 folded": 9.0}
EVERY_SHEET = [(paper, card) for paper in PAPERS_MM for card in CARD_SIZES_MM]
EVERY_CARD = [("A6", 1), ("A6", 2), ("4x6 in", 1), ("4x6 in", 2), ("ID-1", 2), ("A5 folded", 2)]
TWO_SIDED = [
    (paper, card, turn)
    for paper in ("letter", "a4")
    for card, sides in EVERY_CARD
    if sides == 2
    for turn in ("long", "short")
]


def make_setup(paper="letter", margin_mm=6.35):
    wide, high = PAPERS_MM[paper]
    return Setup(paper_width_mm=wide, paper_height_mm=high, margin_mm=margin_mm, date="2026-03-31", style=STYLE)


@pytest.fixture
def make_plan(care_plan):
    """make_plan(card, sides, title=, makes=, care=ids, **keys of Care) -> Plan."""

    def make(card="A6", sides=1, *, title="", makes=1, care=None, **more):
        sides = 2 if card in ("ID-1", "A5 folded") else sides
        build = care_plan.build
        wanted = Care(card=card, sides=sides, **more)
        build = replace(build, title=title or build.title, makes=makes, care=wanted)
        return replace(care_plan, build=build, care=care_plan.care if care is None else care)

    return make


def is_over_top(turn, sheet):
    return (turn == "long") == (sheet.width_mm > sheet.height_mm)


def behind(box, sheet, turn):
    """The place on the back of the paper, worked out by turning the paper over."""
    if is_over_top(turn, sheet):
        return Box(box.left, sheet.height_mm - box.top, box.right, sheet.height_mm - box.bottom)
    return Box(sheet.width_mm - box.right, box.bottom, sheet.width_mm - box.left, box.top)


def sheet_of(card, setup):
    return find_sheet(find_format(card, 2), setup.paper_width_mm, setup.paper_height_mm, setup.margin_mm)


def boxes_of(card, setup):
    return [place.box for place in sheet_of(card, setup).places]


def card_marks(page, box):
    return [mark for mark in page.marks if contains(box, mark_box(mark))]


def card_words(page, box):
    texts = [mark.text for mark in card_marks(page, box) if isinstance(mark, TextMark)]
    return " ".join(texts).replace("\u00a0", " ")


def all_words(document, plan, setup):
    """What the first card says on all its sides."""
    sheet = sheet_of(plan.build.care.card, setup)
    box = sheet.places[0].box
    said = card_words(document.pages[0], box)
    if plan.build.care.sides == 2:
        said += " " + card_words(document.pages[1], behind(box, sheet, plan.build.care.turn))
    return said


def flat(text):
    return text.replace("\u00a0", " ")


def test_card_sizes_are_those_of_the_standards():
    # ISO 216, main series: A6 105 x 148, A5 148 x 210; ISO/IEC 7810: ID-1 is 85.60 x 53.98 mm; 1 in = 25.4 mm.
    assert CARD_SIZES_MM == {
        "A6": (105.0, 148.0),
        "4x6 in": (101.6, 152.4),
        "ID-1": (85.60, 53.98),
        "A5 folded": (210.0, 148.0),
    }


def test_card_that_no_sheet_takes_is_told_at_its_line(make_plan):
    plan = make_plan("A5 folded", place=Place(path="apron.toml", line=70, words='"A5 folded"'))
    assert reject(plan, make_setup("least", margin_mm=25.4)) == (
        "apron.toml:70: error: no card of 210.0 x 148.0 mm fits a sheet of 190.0 x 250.0 mm with its crop marks\n"
        '    written: "A5 folded"\n'
        "    mend:    take a smaller card, or larger paper\n"
        "1 error"
    )


@pytest.mark.parametrize(("makes", "sheets"), [(1, 1), (3, 1), (4, 2), (60, 20), (1000, 20)])
def test_there_is_a_card_for_each_make_on_full_sheets_up_to_twenty(make_plan, makes, sheets):
    assert len(lay_out_care_card(make_plan(makes=makes), make_setup()).pages) == sheets
    assert len(lay_out_care_card(make_plan(sides=2, makes=makes), make_setup()).pages) == 2 * sheets


@pytest.mark.parametrize(("card", "sides"), EVERY_CARD)
@pytest.mark.parametrize("paper", ["letter", "a4", "tabloid"])
def test_every_mark_of_a_card_stays_inside_its_margin_and_is_readable(make_plan, paper, card, sides):
    setup = make_setup(paper)
    sheet = sheet_of(card, setup)
    plan = make_plan(card, sides, extra="Waxed once more before it left the bench.", repair="Write to us.")
    orders = [Order(name="Rosa Ferro", serial="A-1", personal_line="For ten years of seeds.")] * len(sheet.places)
    for number, page in enumerate(lay_out_care_card(plan, setup, orders).pages):
        boxes = [behind(box, sheet, "long") if number % 2 and sides == 2 else box for box in boxes_of(card, setup)]
        is_back = number % 2 and sides == 2
        on_cuts = [] if is_back else [round_box(Box(*ends[0], *ends[1])) for ends in sheet.on_cuts]
        paths = [mark for mark in page.marks if isinstance(mark, PathMark)]
        drawn = [mark for mark in paths if round_box(path_box(mark.path)) in on_cuts]
        marks = [mark for mark in page.marks if mark not in drawn]
        assert len(page.marks) - len(marks) == len(on_cuts)
        inside = [mark for mark in marks if any(contains(box, mark_box(mark)) for box in boxes)]
        cuts = [mark for mark in marks if isinstance(mark, PathMark) and mark not in inside]
        assert all(isinstance(mark, PathMark) for mark in marks if mark not in inside)
        words = [mark for mark in inside if isinstance(mark, TextMark)]
        assert words
        assert min(mark.size_mm for mark in words) >= LEAST_PT * MM_PER_POINT - 1e-9
        # The lowest line is in capitals: what its type keeps free below them may lie in the margin.
        free = [shrink(box, MARGINS_MM[card] - 0.8) for box in boxes]
        for mark in inside:
            assert any(contains(box, mark_box(mark)) for box in free), mark
        for mark in cuts:
            assert not any(boxes_overlap(path_box(mark.path), box) for box in boxes)


@pytest.mark.parametrize(("paper", "card", "turn"), TWO_SIDED)
def test_backs_lie_behind_their_fronts(make_plan, paper, card, turn):
    plan, setup = make_plan(card, 2, turn=turn), make_setup(paper)
    front, back = lay_out_care_card(plan, setup).pages
    sheet = sheet_of(card, setup)
    fronts, backs = ([*map(path_box, find_lines(page, boxes))] for page, boxes in sides_of(front, back, sheet, turn))
    assert {round_box(behind(box, sheet, turn)) for box in backs} == {round_box(box) for box in fronts}
    assert len(fronts) == len(sheet.cuts) + len(sheet.folds)
    for box in boxes_of(card, setup):
        assert card_words(back, behind(box, sheet, turn))


def sides_of(front, back, sheet, turn):
    """Both pages, each with the places of its cards."""
    boxes = [place.box for place in sheet.places]
    return (front, boxes), (back, [behind(box, sheet, turn) for box in boxes])


def find_lines(page, boxes):
    """The paths of the lines outside all cards; not those on the side of one."""
    paths = [mark.path for mark in page.marks if isinstance(mark, PathMark)]
    return [path for path in paths if not any(boxes_overlap(shrink(path_box(path), -1e-6), box) for box in boxes)]


def round_box(box):
    return tuple(round(value, 6) for value in (box.left, box.bottom, box.right, box.top))


@pytest.mark.parametrize(("paper", "card", "turn"), TWO_SIDED)
def test_card_is_turned_like_the_page_of_a_book(make_plan, paper, card, turn):
    setup = make_setup(paper)
    sheet = sheet_of(card, setup)
    front, back = lay_out_care_card(make_plan(card, 2, turn=turn), setup).pages
    ups = []
    for page, box in ((front, sheet.places[-1].box), (back, behind(sheet.places[-1].box, sheet, turn))):
        angles = {round(mark.angle_deg) % 360 for mark in card_marks(page, box) if isinstance(mark, TextMark)}
        assert len(angles) == 1
        angle = math.radians(angles.pop())
        ups.append((-math.sin(angle), math.cos(angle)))
    (x, y), (back_x, back_y) = ups
    turned = (back_x, -back_y) if is_over_top(turn, sheet) else (-back_x, back_y)
    assert turned == pytest.approx((x, y))


@pytest.mark.parametrize(
    ("paper", "card", "turn"), [("letter", "A6", "long"), ("a4", "ID-1", "short"), ("a4", "A6", "long")]
)
def test_printed_crop_marks_of_front_and_back_meet(make_plan, tmp_path, paper, card, turn):
    """Rendered by pdfium at 20 pixels to the mm, the back mirrored: the marks lie within 0.05 mm of each other."""
    setup = make_setup(paper)
    document = lay_out_care_card(make_plan(card, 2, turn=turn), setup)
    sheet = sheet_of(card, setup)
    (path, _) = replace_files(tmp_path, finish_documents(pack(document)))
    with pypdfium2.PdfDocument(path) as pdf:
        pictures = [255 - page.render(scale=20 * 25.4 / 72, grayscale=True).to_numpy().squeeze() for page in pdf]
    axis = 0 if is_over_top(turn, sheet) else 1
    pictures[1] = pictures[1][::-1] if axis == 0 else pictures[1][:, ::-1]
    assert len(sheet.cuts) > 3
    for (x, y), (to_x, to_y) in sheet.cuts:
        middle = ((x + to_x) / 2, (y + to_y) / 2)
        places = [find_line(picture, *middle, sheet.height_mm, is_upright=x == to_x) for picture in pictures]
        assert places[0] == pytest.approx(x if x == to_x else y, abs=0.05)
        assert places[1] == pytest.approx(places[0], abs=0.05)


def find_line(picture, x_mm, y_mm, height_mm, *, is_upright):
    """Where the line near (x, y) stands, by the mean of its darkness over 0.4 mm of its length."""
    across, along = (0.8, 0.2) if is_upright else (0.2, 0.8)
    left, right = round((x_mm - across) * 20), round((x_mm + across) * 20)
    top, bottom = round((height_mm - y_mm - along) * 20), round((height_mm - y_mm + along) * 20)
    dark = picture[top:bottom, left:right].astype(float).sum(axis=0 if is_upright else 1)
    at = (dark * [place + 0.5 for place in range(len(dark))]).sum() / dark.sum()
    return (left + at) / 20 if is_upright else height_mm - (top + at) / 20


@pytest.mark.parametrize(("card", "sides"), EVERY_CARD)
def test_every_card_says_everything_once(make_plan, card, sides):
    plan = make_plan(card, sides, extra="The pocket holds a pencil.", repair="Ask for a new strap.")
    setup = make_setup()
    said = all_words(lay_out_care_card(plan, setup), plan, setup)
    for words in (
        "Apron with a pocket",
        "Alder Lane Leather",
        "bench@alder-lane.example",
        "From the bench The pocket holds a pencil.",
        "Repair Ask for a new strap.",
        "made for",
        "made on",
        "version 4",
    ):
        assert said.count(words) == 1, words


@pytest.mark.parametrize(("card", "sides"), [("A6", 2), ("4x6 in", 2), ("A5 folded", 2)])
@pytest.mark.parametrize("language", list_languages())
def test_cards_with_two_sides_give_all_the_advice(make_plan, card, sides, language):
    plan, setup = make_plan(card, sides, language=language), make_setup()
    said = all_words(lay_out_care_card(plan, setup), plan, setup)
    for name in plan.care:
        phrase = load_care_words(language).advice[name]
        text = phrase.text.replace("{humidity}", HUMIDITY)
        assert said.count(flat(f"{phrase.heading} {text}")) == 1, name


@pytest.mark.parametrize("language", list_languages())
def test_wallet_card_gives_the_five_most_important(make_plan, language):
    plan, setup = make_plan("ID-1", language=language), make_setup()
    plan = replace(plan, build=replace(plan.build, shop=replace(plan.build.shop, contact="")))
    said = all_words(lay_out_care_card(plan, setup), plan, setup)
    phrases = load_care_words(language).advice
    found = {name for name in plan.care if flat(f"{phrases[name].heading} {phrases[name].short}") in said}
    assert found == {"nickel", "never", "wet", "clean-waxed", "keep"}


@pytest.mark.parametrize(("card", "sides"), EVERY_CARD)
@pytest.mark.parametrize("language", list_languages())
@pytest.mark.parametrize("link", ["", "https://" + "a" * 72])
def test_a_build_that_calls_for_everything_fits_every_card(make_plan, card, sides, language, link):
    title = "A bag with a title that is about as long as titles are"
    plan = make_plan(card, sides, language=language, title=title, care=ADVICE_IDS[:-1], load="Up to 6 kg")
    plan = replace(plan, build=replace(plan.build, shop=replace(plan.build.shop, link=link)))
    setup = make_setup()
    said = all_words(lay_out_care_card(plan, setup), plan, setup)
    phrases = load_care_words(language).advice
    for name in ALWAYS_KEPT:
        text = phrases[name].short if card == "ID-1" else phrases[name].text
        assert flat(f"{phrases[name].heading} {text}".replace("{load}", "Up to 6 kg")) in said, name


def test_least_important_advice_goes_first(make_plan):
    plan, setup = make_plan(care=ADVICE_IDS[:-1], load="Up to 6 kg"), make_setup()
    said = all_words(lay_out_care_card(plan, setup), plan, setup)
    ranks = {name: IMPORTANCE.index(name) for name in plan.care}
    shown = [name for name in plan.care if load_care_words("en").advice[name].text[:20] in said]
    gone = [name for name in plan.care if name not in shown and name not in ("load",)]
    assert gone
    assert max(ranks[name] for name in shown) < min(ranks[name] for name in gone)


def test_words_of_the_shop_stay_words(make_plan):
    plan, setup = make_plan(extra="# <b>50 %</b> {{ 1 + 1 }} {load} - [ ] ! & more", care=()), make_setup()
    assert "From the bench # <b>50 %</b> {{ 1 + 1 }} {load} - [ ] ! & more" in all_words(
        lay_out_care_card(plan, setup), plan, setup
    )


def test_short_last_words_stay_together(make_plan):
    plan = make_plan(extra="The outer pocket holds a thin book that is tall, up to 7 in.")
    texts = [mark.text for mark in lay_out_care_card(plan, make_setup()).pages[0].marks if isinstance(mark, TextMark)]
    assert any(text.endswith("7\u00a0in.") for text in texts)


def body_size_pt(plan):
    marks = lay_out_care_card(plan, make_setup()).pages[0].marks
    return next(m.size_mm for m in marks if isinstance(m, TextMark) and m.text == "Please do not") / MM_PER_POINT


def test_type_is_as_large_as_the_words_allow(make_plan):
    few = ("wet", "never")
    assert body_size_pt(make_plan(care=few)) == pytest.approx(9.5)
    sizes = [body_size_pt(make_plan(care=few, extra="A word more. " * count)) for count in (1, 90, 110)]
    assert sizes == sorted(sizes, reverse=True)
    assert sizes[0] > sizes[-1] >= LEAST_PT - 1e-9


def reject(plan, setup=None, orders=()):
    with pytest.raises(SpecRejected) as caught:
        lay_out_care_card(plan, setup or make_setup(), orders)
    return render_problems(caught.value.problems)


def test_too_many_words_of_the_shop_are_told_with_their_length(make_plan):
    plan = make_plan(
        extra="A word more from the bench. " * 80,
        repair="Write to us. " * 30,
        extra_place=Place(path="apron.toml", line=71, column=10, words='extra = "A word"'),
    )
    said = reject(plan)
    letters = int(said.split("about ")[1].split()[0])
    assert said == (
        "apron.toml:71: error: extra and repair are too long for the A6 care card in its smallest type\n"
        '    written: extra = "A word"\n'
        f"    mend:    take out about {letters} letters, or take a larger card\n"
        "1 error"
    )
    extra = plan.build.care.extra
    for short, fits in ((letters, True), (letters - 20, False)):
        shorter = replace(plan.build.care, extra=extra[: len(extra) - short])
        changed = replace(plan, build=replace(plan.build, care=shorter))
        if fits:
            assert lay_out_care_card(changed, make_setup()).pages
        else:
            assert "take out about" in reject(changed)


def test_part_of_the_shop_is_named_alone(make_plan):
    part = CarePart(id="wet", text="Blot it well. " * 70, place=Place(path="apron.toml", line=72))
    said = reject(make_plan("ID-1", parts=(part,)))
    assert said.startswith(
        'apron.toml:72: error: the part "wet" is too long for the ID-1 care card in its smallest type\n'
        "    mend:    take out about "
    )


@pytest.mark.parametrize("card", ["A6", "ID-1"])
def test_title_that_leaves_no_room_is_told(make_plan, card):
    title = "A very long title " * 200
    said = reject(make_plan(card, title=title, extra="Short.", care=()))
    most = int(said.partition("at most ")[2].split()[0])
    assert said == (
        f"apron.toml: error: title, shop and contact leave too little room on the {card} care card\n"
        f"    mend:    shorten the title to at most {most} letters or the shop's contact, or take a larger card\n"
        "1 error"
    )
    assert "shorten the title to" in reject(make_plan(card, title=f"{title[:most]}wide words", extra="Short.", care=()))
    if card == "ID-1":  # which has no advice in front
        assert lay_out_care_card(make_plan(card, title=title[:most], extra="Short.", care=()), make_setup()).pages


@pytest.mark.parametrize("paper", ["letter", "a4", "tabloid"])
@pytest.mark.parametrize(("card", "sides"), EVERY_CARD)
def test_every_side_of_every_card_has_its_own_code_and_a_sheet_has_no_other(make_plan, paper, card, sides, tmp_path):
    setup = make_setup(paper)
    document = lay_out_care_card(make_plan(card, sides), setup)
    (path, _) = replace_files(tmp_path, finish_documents(pack(document)))
    with pypdfium2.PdfDocument(path) as pdf:
        for number, page in enumerate(document.pages):
            picture = pdf[number].render(scale=120 / 72).to_pil()
            found = [code.text for code in zxingcpp.read_barcodes(picture, formats=zxingcpp.BarcodeFormat.QRCode)]
            wanted = [mark for mark in page.marks if isinstance(mark, CodeMark)]
            assert found == ["SPEC:APRON/4/0123456789/CARE-CARD/1"] * len(wanted)
            assert page.payload == found[0]
            assert len(wanted) == len(boxes_of(card, setup))
            assert all(mark.size_mm / len(mark.rows) >= 0.5 for mark in wanted)


@pytest.mark.parametrize("language", list_languages())
def test_code_of_a_card_in_another_language_names_it_and_is_still_read_as_a_card(make_plan, language):
    plan = make_plan(language="de")
    (page,) = lay_out_care_card(plan, make_setup(), [Order(language=language)]).pages
    name = "CARE-CARD" if language == "de" else f"CARE-CARD-{language.upper()}"
    assert page.payload == f"SPEC:APRON/4/0123456789/{name}/1"
    code = parse_code(page.payload)
    assert (code.code, code.version, code.document, code.page) == ("APRON", "4", "CARE-CARD", 1)


@pytest.mark.parametrize(
    ("language", "own", "name"),
    [
        ("de", "en", "CARE-CARD-DE"),
        ("en", "en", "CARE-CARD"),
        ("pt-br", "en", "CARE-CARD-PT-BR"),
        ("pt_br", "en", "CARE-CARD"),
        ("en", "pt_br", "CARE-CARD-EN"),
    ],
)
def test_a_language_that_no_code_can_name_is_left_out_of_it(language, own, name):
    assert name_card(language, own) == name


@pytest.mark.parametrize("own", ["en", "fr"])
def test_words_of_a_card_are_marked_with_their_language_in_the_file(make_plan, tmp_path, own):
    """PDF 32000-1:2008, 14.9.2: /Lang of the file, and of marked content within; read with pypdf."""
    document = lay_out_care_card(make_plan(language=own), make_setup(), [Order(), Order(language="de")])
    (path,) = (path for path in replace_files(tmp_path, finish_documents(pack(document))) if path.stem == "care-card")
    reader = PdfReader(path)
    assert reader.trailer["/Root"]["/Lang"] == own
    drawn = reader.pages[0].get_contents().get_data().decode("ascii")
    found = {language: drawn.count(f"/Span <</Lang ({language})>> BDC BT") for language in ("en", "fr", "de")}
    assert found["de"] > 10
    assert found["en"] == 0
    assert (found["fr"] > 10) == (own == "fr")
    assert drawn.count("BDC") == drawn.count("EMC")


def pack(document):
    return Packet(documents=(document,), title="Apron", author="", source_name="", source=b"", date="2026-03-31")


@pytest.mark.parametrize("link", ["", "https://" + "a" * 72])
@pytest.mark.parametrize(("paper", "card"), EVERY_SHEET)
def test_no_words_or_lines_come_into_the_white_round_a_code(make_plan, paper, card, link):
    plan = make_plan(card, 2)
    plan = replace(plan, build=replace(plan.build, shop=replace(plan.build.shop, link=link)))
    for page in lay_out_care_card(plan, make_setup(paper)).pages:
        for code in (mark for mark in page.marks if isinstance(mark, CodeMark)):
            quiet = 4 * code.size_mm / len(code.rows)
            white = shrink(mark_box(code), -quiet)
            others = [mark for mark in page.marks if mark is not code]
            assert not [mark for mark in others if boxes_overlap(shrink(white, 1e-6), mark_box(mark))]


def test_folded_card_has_dashed_marks_where_it_is_folded(make_plan):
    setup = make_setup("letter")
    (box,) = boxes_of("A5 folded", setup)
    for page in lay_out_care_card(make_plan("A5 folded"), setup).pages:
        dashed = [mark for mark in page.marks if isinstance(mark, PathMark) and mark.stroke and mark.stroke.dash_mm]
        assert len(dashed) == 2
        for mark in dashed:
            assert path_box(mark.path).centre.y == pytest.approx(box.centre.y)
            assert not boxes_overlap(path_box(mark.path), box)


def test_a_title_in_many_lines_gets_smaller_before_it_is_refused(make_plan):
    title = "A bag for the seeds of all the trees of three valleys, for their keys, and for a thermos flask " * 2
    page = lay_out_care_card(make_plan("ID-1", title=title), make_setup()).pages[0]
    sizes = {mark.size_mm / MM_PER_POINT for mark in page.marks if isinstance(mark, TextMark) and mark.face == "bold"}
    assert len(sizes) == 1
    assert LEAST_PT <= sizes.pop() < find_format("ID-1", 2).title_pt[1]


@pytest.mark.parametrize(("card", "sides"), EVERY_CARD)
@pytest.mark.parametrize("name", ["Alder", "Alder Lane Leather and Strap Works", "Alder Lane Leather " * 4])
def test_no_point_is_left_between_name_and_contact_on_two_lines(make_plan, card, sides, name):
    plan, setup = make_plan(card, sides), make_setup()
    contact = "the.bench.at.the.end.of@alder-lane.example"
    plan = replace(plan, build=replace(plan.build, shop=replace(plan.build.shop, name=name.strip(), contact=contact)))
    page = lay_out_care_card(plan, setup).pages[0]
    lines = [mark.text for mark in page.marks if isinstance(mark, TextMark)]
    assert contact in lines or f"{name} · {contact}" in lines
    assert not [line for line in lines if line.strip(" ").startswith("·") or line.strip(" ").endswith("·")]


def test_shop_stands_with_its_contact_on_one_line_where_both_fit():
    assert break_shop("Alder Lane", "bench@alder.example", 3.0, 90.0) == ("Alder Lane · bench@alder.example",)
    assert break_shop("Alder Lane", "bench@alder.example", 3.0, 40.0) == ("Alder Lane", "bench@alder.example")
    assert break_shop("", "bench@alder.example", 3.0, 90.0) == ("bench@alder.example",)
    assert break_shop("Alder Lane", "", 3.0, 10.0) == ("Alder", "Lane")
    assert break_shop("", "", 3.0, 90.0) == ()


@pytest.mark.parametrize(("card", "sides"), EVERY_CARD)
@pytest.mark.parametrize(
    ("language", "version"),
    [
        ("en", "version 4 DRAFT"),
        ("de", "Version 4 Entwurf"),
        ("fr", "version 4 brouillon"),
        ("es", "versión 4 borrador"),
        ("it", "versione 4 bozza"),
    ],
)
def test_draft_is_marked_on_the_cards_in_their_language(make_plan, card, sides, language, version):
    setup = replace(make_setup(), is_draft=True)
    plan = make_plan(card, sides, language=language)
    issued = all_words(lay_out_care_card(plan, make_setup()), plan, make_setup())
    assert (version.rpartition(" ")[0] in issued, version in issued) == (True, False)
    said = all_words(lay_out_care_card(plan, setup), plan, setup).replace("/ ", "/")
    code = "SPEC:APRON/4-DRAFT/0123456789/CARE-CARD/1"
    assert version in said
    assert code in said
    assert ("DRAFT" in said.replace(code, "")) == (language == "en")
