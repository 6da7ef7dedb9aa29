"""The page of a look, read by the standard library's parsers: what is named, what may run, what is text."""

import base64
import hashlib
import math
import re
import xml.etree.ElementTree as ET
from html.parser import HTMLParser
from pathlib import Path

import pytest
from spec_text import write_out

from docgen.calls.asked import LookCall
from docgen.calls.look import see_spec
from docgen.geometry.outline import outline_path
from docgen.geometry.path import path_box
from docgen.look.page import make_page
from docgen.look.seam_looks import COLOURS
from docgen.resolve import lines_of

SPECS = Path(__file__).parents[2] / "specs"
MAT = """\
<spec mat: Mat, version 1>
<leather body: 2 mm>
<rectangle top: ["200 mm", "100 mm"]>
"""


def page_of(spec: Path) -> str:
    return make_page(see_spec(LookCall(spec=spec))[0]).decode("utf-8")


def drawings(page: str) -> list[ET.Element]:
    """The figures of the pieces; each is well-formed XML in itself."""
    figures = re.findall(r'<div class="wide" tabindex="0" role="group" aria-label="[^"]*">(<svg.*?</svg>)</div>', page)
    return [ET.fromstring(figure) for figure in figures]


def texts(drawing: ET.Element, kind: str) -> list[str]:
    return [str(one.text) for one in drawing.iter("text") if one.get("class") == f"t-{kind}"]


def write(folder: Path, text: str) -> Path:
    path = folder / "mat.toml"
    path.write_text(write_out(text), encoding="utf-8")
    return path


@pytest.fixture(scope="module")
def bag() -> tuple[str, object]:
    sight = see_spec(LookCall(spec=SPECS / "field-bag.toml"))[0]
    return make_page(sight).decode("utf-8"), sight.shown.plan.build


def test_every_piece_is_drawn_with_the_names_of_its_edges_and_its_holes(bag) -> None:
    page, build = bag
    drawn = drawings(page)
    assert len(drawn) == len(build.cut) > 5
    for piece, drawing in zip(build.cut, drawn, strict=True):
        named = [edge.name for edge in piece.outline.edges if not edge.corner]
        assert sorted(texts(drawing, "edge")) == sorted(named)
        assert texts(drawing, "hole") == [str(k) for k in range(1, len(piece.marks.holes) + 1)]


def test_a_seam_has_the_same_number_colour_and_dashes_wherever_it_is_drawn(bag) -> None:
    page, build = bag
    looks: dict[str, set[tuple[str | None, ...]]] = {}
    for piece, drawing in zip(build.cut, drawings(page), strict=True):
        lines = [line for line in lines_of(piece) if line.kind == "stitch"]
        drawn = [one for one in drawing.iter("path") if one.get("class") == "seam"]
        assert len(drawn) == len(lines)
        for line, one in zip(lines, drawn, strict=True):
            looks.setdefault(line.seam, set()).add(
                (one.get("data-seam"), one.get("stroke"), one.get("stroke-dasharray"))
            )
    assert all(len(look) == 1 for look in looks.values())
    assert len({next(iter(look)) for look in looks.values()}) == len(looks) > 5


def test_drawings_keep_their_proportions(bag) -> None:
    """Pixels of the outline on the screen against the piece's size in mm, across and up."""
    page, build = bag
    drawing = drawings(page)[[piece.name for piece in build.cut].index("back")]
    _, _, wide, high = (float(part) for part in str(drawing.get("viewBox")).split())
    per_mm = float(str(drawing.get("width"))) / wide
    assert per_mm == pytest.approx(float(str(drawing.get("height"))) / high, rel=0.01)
    outline = next(one for one in drawing.iter("path") if one.get("class") == "k-cut")
    xs, ys = zip(
        *re.findall(r"[MLA](?:[\d.]+ [\d.]+ 0 0 [01] )?(-?[\d.]+) (-?[\d.]+)", str(outline.get("d"))), strict=True
    )
    assert max(map(float, xs)) - min(map(float, xs)) == pytest.approx(12 * 25.4, abs=0.01)
    assert max(map(float, ys)) - min(map(float, ys)) == pytest.approx(9.25 * 25.4, abs=0.01)


def word_boxes(drawing: ET.Element, words: str) -> list[tuple[float, float, float]]:
    """Middle, level and half the width of each text of these words, a letter being 0.58 of the type wide, as
    those of sans serif faces mostly are (from memory, no published source)."""
    found = [one for one in drawing.iter("text") if one.text == words]
    sizes = [float(str(one.get("font-size"))) for one in found]
    places = [(float(str(one.get("x"))), -float(str(one.get("y")))) for one in found]
    return [(x, y, len(words) * size * 0.58 / 2) for (x, y), size in zip(places, sizes, strict=True)]


@pytest.mark.parametrize(
    ("name", "words", "is_inside"), [("front", "Buckle tab", False), ("front", "Outer pocket", True)]
)
def test_the_name_of_what_lands_crosses_no_outline_of_it(bag, name: str, words: str, *, is_inside: bool) -> None:
    """The buckle tab is 3/4 in wide, less than its name: that stands beside it, on the panel; the pocket's in it."""
    page, build = bag
    place = [piece.name for piece in build.cut].index(name)
    piece, drawing = build.cut[place], drawings(page)[place]
    landings = [one for one in (*piece.marks.landings, *piece.strap_landings) if one.title == words]
    boxes = word_boxes(drawing, words)
    assert len(boxes) == len(landings) > 0
    for x, y, half in boxes:
        lands = [path_box(one.outline) for one in landings]
        own = min(lands, key=lambda box: abs(box.centre.x - x))
        assert own.bottom < y < own.top
        clear = x - half > own.right or x + half < own.left
        assert clear != is_inside
        assert not is_inside or own.left < x - half < x + half < own.right
        cut = path_box(outline_path(piece.outline))
        assert cut.left < x - half < x + half < cut.right


def test_no_figure_of_a_table_parts_from_its_unit(bag) -> None:
    page, _ = bag
    told = [cell for cell in re.findall(r"<td><bdi>(.*?)</bdi></td>", page) if cell[:1].isdigit()]
    told += re.findall(r'<span class="more"><bdi>(cut .*?)</bdi>', page)
    assert len([words for words in told if "\u00a0mm" in words]) > 20
    assert not [words for words in told if re.search(r"\d (?:mm|in|yd|m|oz|sq|\d+/\d+)\b", words)]


def test_only_the_script_of_the_page_may_run_and_nothing_comes_from_elsewhere(bag) -> None:
    """Content Security Policy Level 3, 6.7.3.4: a hash of the script's bytes lets it run."""
    page, _ = bag
    scripts = re.findall(r"<script>(.*?)</script>", page, re.DOTALL)
    assert len(scripts) == page.count("<script") == 1
    held = base64.b64encode(hashlib.sha256(scripts[0].encode("utf-8")).digest()).decode("ascii")
    policy = re.search(r'Content-Security-Policy" content="([^"]*)"', page).group(1).replace("&#39;", "'")
    assert policy.startswith(f"default-src 'none'; script-src 'sha256-{held}';")
    assert not re.search(r'(?:src|href|action)\s*=\s*"(?!#|data:image/png;base64,)', page)
    assert "url(" not in page
    assert "@import" not in page


def test_words_of_a_stranger_are_text(tmp_path: Path) -> None:
    bad = '<script>alert(1)</script>\\"><img src=x onerror=alert(1)>'
    spec = write(tmp_path, MAT.replace("Mat, version 1", f"{bad}, version 1"))
    spec.write_text(
        spec.read_text(encoding="utf-8")
        + f'title = "{bad}"\nnote = "{bad}"\n[[pieces.top.holes]]\nat = ["20 mm", "20 mm"]\nsize = "3 mm"\n',
        encoding="utf-8",
    )

    found: list[tuple[str, dict[str, str | None]]] = []

    class Tags(HTMLParser):
        def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
            found.append((tag, dict(attrs)))

    Tags().feed(page_of(spec))
    assert [tag for tag, _ in found].count("script") == 1
    assert "img" not in {tag for tag, _ in found}
    assert not [name for _, attrs in found for name in attrs if name.startswith("on")]


def test_all_problems_stand_beside_the_last_good_picture(tmp_path: Path) -> None:
    spec = write(tmp_path, MAT)
    good = see_spec(LookCall(spec=spec))[0]
    write(tmp_path, MAT.replace('"200 mm"', '"200 nm"').replace("leather body: 2 mm", "leather body: 2 mn"))
    wrong = see_spec(LookCall(spec=spec))[0]
    assert wrong.shown is None
    assert len(wrong.problems) == 2
    page = make_page(wrong, good.shown).decode("utf-8")
    assert "2 errors; below is the last one that could be drawn" in page
    assert page.count('<li class="error">') == 2
    assert "mat.toml, line" in page
    assert len(drawings(page)) == 1
    assert len(drawings(make_page(wrong).decode("utf-8"))) == 0


def test_colours_of_seams_stand_out_from_white() -> None:
    """WCAG 2.1, 1.4.3: at least 4.5 to 1; relative luminance by its definition there."""
    for colour in COLOURS:
        parts = [int(colour[k : k + 2], 16) / 255 for k in (1, 3, 5)]
        linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
        light = 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
        assert 1.05 / (light + 0.05) >= 4.5, colour


def test_the_same_spec_gives_the_same_page(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1767225600")
    assert page_of(SPECS / "cable-roll.toml") == page_of(SPECS / "cable-roll.toml")


def test_the_finished_article_is_shown_with_the_names_of_its_parts(bag) -> None:
    page, _ = bag
    views = re.findall(r'<div class="view"[^>]*>(<svg.*?</svg>)</div><figcaption>([^<]*)', page, re.DOTALL)
    assert [caption for _, caption in views] == ["from the front", "from behind"]
    words = " ".join(str(one.text) for view, _ in views for one in ET.fromstring(view).iter("text"))
    assert all(title in words for title in ("Front panel", "Outer pocket", "Handle", "Gusset"))


def test_sheets_are_shown_as_they_are_printed(bag) -> None:
    """One figure for each page of the pattern, on paper of its size; every word of page 1 is there."""
    page, _ = bag
    shown = see_spec(LookCall(spec=SPECS / "field-bag.toml"))[0].shown
    papers = re.findall(r'<div class="paper">(<svg.*?</svg>)</div>', page, re.DOTALL)
    assert len(papers) == len(shown.sheets) > 8
    first = ET.fromstring(papers[0])
    words = {str(one.text) for one in first.iter() if one.tag == "text"}
    marks = {mark.text for mark in shown.sheets[0].marks if hasattr(mark, "text")}
    assert {" ".join(text.split()) for text in marks} <= words


def test_what_is_asked_of_the_maker_stands_on_the_page(tmp_path: Path, bag) -> None:
    """A step that glues and names no glue: the line of the step, and the key that answers."""
    step = '[[steps]]\ndo = "Glue the mat."\npieces = ["top"]\n'
    page = page_of(write(tmp_path, MAT + step))
    asked = re.search(r'<section id="asked">(.*?)</section>', page, re.DOTALL)
    assert asked is not None
    line = next(k for k, text in enumerate(write_out(MAT + step).splitlines(), start=1) if text == "[[steps]]")
    assert f"line {line}:" in asked[1]
    assert "tools" in asked[1]
    assert 'id="asked"' not in bag[0], "nothing is asked about the demo bag"


PANEL = """\
<spec panel: Panel, version 1>
<leather body: 2 mm>
<rectangle back: ["260 mm", "320 mm"]>
landings = [
  { piece = "one", at = "55 mm from left, 75 mm from top", inside = false },
  { piece = "other", at = "55 mm from right, 75 mm from top", inside = false },
]
<rectangle one: ["38 mm", "45 mm"]>
title = "Shoulder strap, left"
<rectangle other: ["38 mm", "45 mm"]>
title = "Shoulder strap, right"
"""


@pytest.mark.parametrize(("gap", "is_beside"), [("55 mm", False), ("20 mm", True)])
def test_the_name_of_what_lands_lies_on_nothing_else_that_lands_there(
    tmp_path: Path, gap: str, is_beside: bool
) -> None:
    """Two parts 38 mm wide on a panel of 260 mm: with 74 mm between them their names, some 70 mm long, stood each on the
    other part; with 144 mm they stand between."""
    sight = see_spec(LookCall(spec=write(tmp_path, PANEL.replace("55 mm", gap))))[0]
    build = sight.shown.plan.build
    drawing = drawings(make_page(sight).decode("utf-8"))[0]
    back = build.cut[0]
    named = {one.text: one for one in drawing.iter("text") if one.get("class") == "t-landing"}
    lands = {landing.title: path_box(landing.outline) for landing in back.marks.landings}
    assert named.keys() == lands.keys() == {"Shoulder strap, left", "Shoulder strap, right"}
    for title, text in named.items():
        x, y, size = float(text.get("x")), -float(text.get("y")), float(text.get("font-size"))
        half = len(title) * size * 0.58 / 2
        for box in lands.values():
            assert not (
                box.left < x + half and x - half < box.right and box.bottom < y + size / 2 and y - size / 2 < box.top
            )
        own = lands[title]
        assert (own.bottom < y < own.top) == is_beside
        assert math.dist((x, y), own.centre) == min(math.dist((x, y), box.centre) for box in lands.values())
