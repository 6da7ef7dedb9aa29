"""`docgen lay` and the cutting lay of `docgen make`: pages to look at beside the hide, and what they say is bought."""

import csv
import math
import re
from dataclasses import replace
from pathlib import Path

import pypdf
import pytest
from spec_text import write_out

from docgen.calls.asked import LayCall, MakeCall
from docgen.calls.lay import lay_specs
from docgen.calls.make import make_documents
from docgen.calls.outside import read_for_shop
from docgen.checks import resolve_build
from docgen.cli import main
from docgen.lay import Effort, Lay, drawn_hide, lay_material, typical_hide
from docgen.problems import CallRejected, SpecRejected, render_problem
from docgen.read import DrawingError, read_hide

BELT = write_out("""\
<spec belt: Belt, version 2>
<leather hide: 3 mm>
sold = "butt"
area = "11-15 sq ft"
edge = "1426 mm"
firm = "634 mm"
<strap belt of hide: 38 mm>
finished = "1200 mm"
<rectangle tag of hide: ["90 mm", "60 mm"]>
""")
LINED = write_out("""\
<spec purse: Purse, version 1>
<leather hide: 1 mm>
sold = "panel"
size = ["200 mm", "300 mm"]
<fabric silk: 0.2 mm>
width = "500 mm"
<leather loose: 1 mm>
<rectangle back of hide: ["190 mm", "140 mm"]>
cut = 4
<rectangle lining of silk: ["180 mm", "130 mm"]>
cut = 4
<rectangle tab of loose: ["20 mm", "40 mm"]>
""")
HIDE = """\
<svg xmlns="http://www.w3.org/2000/svg" width="1000mm" height="2000mm" viewBox="0 0 1000 2000">
<path id="hide" d="M100 50 L100 1950 L800 1900 L900 1000 L850 100 Z"/>
<path id="backbone" d="M100 1950 L100 50"/>
<g id="faults"><circle id="fault-1" cx="300" cy="1500" r="60"/></g>
<path id="hidden-1" d="M600 0 L1000 0 L1000 2000 L600 2000 Z"/>
</svg>
"""


@pytest.fixture
def bench(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    for name, text in (("belt.toml", BELT), ("purse.toml", LINED), ("hide.svg", HIDE)):
        Path(name).write_text(text, encoding="utf-8")
    return tmp_path


def texts(path: Path) -> list[str]:
    return [page.extract_text().replace("\u00a0", " ") for page in pypdf.PdfReader(path).pages]


def bought(path: Path) -> list[tuple[str, str]]:
    rows = csv.DictReader((path / "materials.csv").read_text(encoding="utf-8-sig").splitlines())
    return [(row["how many to buy"], row["decided by"]) for row in rows]


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_make_writes_a_page_for_each_hide_only_where_it_is_asked_for(bench: Path, paper: str) -> None:
    """Twelve rows of 38 mm on a butt take 12 belts; of 24 makes there are two butts."""
    make_documents(MakeCall(spec="belt.toml", makes=24, paper=paper, only=("cutting-lay",), out="out"))
    pages = texts(bench / "out/cutting-lay.pdf")
    assert len(pages) == 2
    assert "butt 1 of 2" in pages[0]
    assert "butt 2 of 2" in pages[1]
    assert "no cutting file" in pages[0]
    assert sorted(path.name for path in (bench / "out").iterdir()) == ["cutting-lay.pdf"]
    make_documents(MakeCall(spec="belt.toml", out="all"))
    assert not (bench / "all/cutting-lay.pdf").exists()


def test_the_list_beside_a_lay_buys_by_it(bench: Path) -> None:
    for only, out in ((("cutting-list",), "rows"), (("cutting-list", "cutting-lay"), "lay")):
        make_documents(MakeCall(spec="belt.toml", makes=52, csv=True, only=only, out=out))
    assert bought(bench / "rows") == [("4", "straps")]
    # Four of 11 to 15 sq ft are 52 together.
    listed = " ".join(texts(bench / "rows/cutting-list.pdf")[-1].split())
    assert "together 52 sq ft" in listed
    assert "(483.1 dm²) or more" in listed
    (count, decided) = bought(bench / "lay")[0]
    assert decided == "lay"
    assert int(count) <= 4, "sixteen rows of 38 mm on a butt, and at times another strap above a row"
    told = re.search(
        rf"{count} butts of .*?, together (\S+ sq ft)", " ".join(texts(bench / "lay/cutting-list.pdf")[-1].split())
    )
    laid = re.search(rf"{count} butts, (\S+ sq ft)", " ".join(texts(bench / "lay/cutting-lay.pdf")[0].split()))
    assert told
    assert laid
    assert told[1] == laid[1] != "52 sq ft", "as much as the lay has on hides that differ"


def test_panels_alike_are_one_page_and_goods_by_area_alone_none(bench: Path) -> None:
    """Two backs go on a panel: of 20 makes, 40 panels are cut in one way; the lining takes one page of its roll."""
    assert main(["lay", "purse.toml", "--makes", "20", "--out", "out", "--date", "2026-03-31"]) == 0
    pages = texts(bench / "out/cutting-lay.pdf")
    assert len(pages) == 2
    assert "panel 1 to 40 of 40" in pages[0]
    assert "roll" in pages[1]
    assert "tab" not in "".join(pages)


def test_several_specs_are_laid_together_and_goods_are_named(bench: Path) -> None:
    lay_specs(LayCall(specs=("belt.toml", "purse.toml"), goods=("silk",), out="out"))
    (page,) = texts(bench / "out/cutting-lay.pdf")
    assert "lining" in page
    assert "belt" not in page.split("cut in this order")[1].split("Belt; Purse")[0]
    with pytest.raises(CallRejected, match='nothing is cut from goods called "silc"; did you mean "silk"'):
        lay_specs(LayCall(specs=("purse.toml",), goods=("silc",)))


def test_hides_of_which_nothing_is_said_are_not_laid(bench: Path) -> None:
    Path("belt.toml").write_text(BELT.partition('sold = "butt"')[0] + BELT.partition('firm = "634 mm"\n')[2])
    with pytest.raises(CallRejected, match="whose size is known"):
        lay_specs(LayCall(specs=("belt.toml",)))


def test_a_drawn_hide_stands_on_its_tail_with_its_backbone_upright(bench: Path) -> None:
    """The drawing has its tail below: across runs from x = 100, along up from y = 1950."""
    hide = drawn_hide(read_hide("hide.svg"))
    assert hide.has_edge
    assert sorted(hide.outline) == [(0, 0), (0, 1900), (700, 50), (750, 1850), (800, 950)]
    ((fault,), (poor,)) = hide.faults, hide.poor
    assert min(x for x, _ in fault) == pytest.approx(140, abs=0.5)
    assert max(y for _, y in fault) == pytest.approx(510, abs=0.5)
    assert {x for x, _ in poor} == {500, 900}


def test_the_other_side_stands_on_its_neck_and_a_hide_lying_down_is_turned(bench: Path) -> None:
    """A side to the left of its backbone, and the first one turned by a quarter, give the same outline."""
    mirrored = HIDE.replace(
        'id="hide" d="M100 50 L100 1950 L800 1900 L900 1000 L850 100 Z"',
        'id="hide" d="M800 1950 L800 50 L100 100 L0 1000 L50 1900 Z"',
    )
    mirrored = mirrored.replace('d="M100 1950 L100 50"', 'd="M800 1950 L800 50"')
    Path("left.svg").write_text(mirrored, encoding="utf-8")
    lying = HIDE.replace('<path id="hide"', '<g transform="rotate(90 500 1000)"><path id="hide"').replace(
        "</svg>", "</g></svg>"
    )
    Path("lying.svg").write_text(lying, encoding="utf-8")
    first = sorted(drawn_hide(read_hide("hide.svg")).outline)
    for name in ("left.svg", "lying.svg"):
        hide = drawn_hide(read_hide(name))
        assert hide.has_edge, name
        assert sorted(hide.outline) == [pytest.approx(point, abs=0.1) for point in first], name


def test_a_lay_on_a_drawn_hide_goes_round_its_fault(bench: Path) -> None:
    lay_specs(LayCall(specs=("belt.toml",), makes=3, hides=("hide.svg",), out="out"))
    (page,) = texts(bench / "out/cutting-lay.pdf")
    assert "drawn by chance" not in page
    assert "1 of 1" in page
    lay_specs(LayCall(specs=("belt.toml",), makes=40, hides=("hide.svg",), out="out"))
    assert "No place was found for" in texts(bench / "out/cutting-lay.pdf")[0]


@pytest.mark.parametrize(
    ("old", "new", "what"),
    [
        ('id="backbone"', 'id="spine"', 'has no line of the id "backbone"'),
        ('id="hide"', 'id="side"', 'has no line of the id "hide"'),
        (" L850 100 Z", " L850 100", "no closed outline"),
        ("M100 1950 L100 50", "M100 1950 L100 1950", "backbone"),
        ("L850 100 Z", "L9000 100 Z", "larger than 4 m"),
        ("M600 0 L1000 0 L1000 2000 L600 2000 Z", "M600 0 L1000 0", "open line"),
    ],
)
def test_a_drawing_that_tells_too_little_is_refused(bench: Path, old: str, new: str, what: str) -> None:
    Path("hide.svg").write_text(HIDE.replace(old, new), encoding="utf-8")
    with pytest.raises(DrawingError, match=what):
        read_hide("hide.svg")
    with pytest.raises(SpecRejected) as caught:
        lay_specs(LayCall(specs=("belt.toml",), hides=("hide.svg",)))
    assert next(map(render_problem, caught.value.problems)).startswith("hide.svg: error: ")
    assert not Path("out").exists()


def test_the_same_call_gives_the_same_bytes(bench: Path) -> None:
    for out in ("a", "b"):
        lay_specs(LayCall(specs=("belt.toml",), makes=10, out=out, date="2026-03-31"))
    assert Path("a/cutting-lay.pdf").read_bytes() == Path("b/cutting-lay.pdf").read_bytes()


def test_a_batch_that_no_lay_can_take_is_refused(bench: Path) -> None:
    with pytest.raises(CallRejected, match='800 pieces are cut from "silk", and a lay takes up to 600'):
        lay_specs(LayCall(specs=("purse.toml",), makes=200, goods=("silk",)))


TAPED = ", ".join(['"1 m"'] * 8)


def draw_goods(drawing: str, keys: str = 'sold = "side"', name: str = "hides/usual.svg") -> None:
    """The shop's file with the butt of the belt as it is drawn; the spec says only how it is sold."""
    Path("hides").mkdir(exist_ok=True)
    Path("hides/usual.svg").write_text(drawing, encoding="utf-8")
    Path("shop.toml").write_text(f'[goods.hide]\n{keys}\noutline = "{name}"\n', encoding="utf-8")
    Path("belt.toml").write_text(BELT.partition('sold = "butt"')[0] + BELT.partition('firm = "634 mm"\n')[2])


def test_goods_that_the_shop_has_drawn_are_laid_in_that_shape(bench: Path) -> None:
    """By hand, in trapezoids: 50 x 350 + 900 x 750 + 900 x 775 + 50 x 375 = 1,408,750 mm2; the backbone is 1900 mm long,
    and one fault takes pi 60^2 mm2. Twice the area is the same shape, sqrt(2) times as long."""
    draw_goods(HIDE)
    goods = resolve_build(read_for_shop("belt.toml")[0]).materials[0].goods
    assert (goods.least_mm2, goods.most_mm2, goods.edge_mm) == pytest.approx((1408750, 1408750, 1900))
    assert goods.faults == pytest.approx(math.pi * 60**2 / 1408750, rel=1e-3)
    hide = typical_hide(goods, 0)
    assert sorted(hide.outline) == [(0, 0), (0, 1900), (700, 50), (750, 1850), (800, 950)]
    assert {x for x, _ in hide.poor[0]} == {500, 900}
    larger = typical_hide(replace(goods, least_mm2=2 * 1408750, most_mm2=2 * 1408750), 0)
    assert larger.length_mm == pytest.approx(1900 * math.sqrt(2))
    lay_specs(LayCall(specs=("belt.toml",), makes=3, out="out"))
    assert "15.16 sq ft" in texts(bench / "out/cutting-lay.pdf")[0]  # 1,408,750 / 304.8^2


def test_of_a_drawn_hide_that_is_firm_counts_as_it_is_drawn(bench: Path) -> None:
    """A part 300 mm from the edge is firm: seven rows of 38 mm in the 290 behind the trimmed edge."""
    firm = '<path id="best" d="M100 0 L400 0 L400 2000 L100 2000 Z"/></svg>'
    draw_goods(HIDE.replace("</svg>", firm))
    goods = resolve_build(read_for_shop("belt.toml")[0]).materials[0].goods
    assert goods.firm_mm == pytest.approx(300)
    assert max(x for x, _ in typical_hide(goods, 0).firm[0]) == 300


@pytest.mark.parametrize(
    ("drawing", "keys", "name", "what"),
    [
        (HIDE, 'sold = "side"', "../hide.svg", '"../hide.svg" lies outside the shop file\'s folder'),
        (HIDE, 'sold = "side"', "none.svg", 'there is no drawing "none.svg" beside the shop file'),
        (HIDE, 'sold = "side"', "hides/usual.png", '"hides/usual.png" is not an SVG file'),
        (
            HIDE,
            'sold = "panel"\nsize = ["1 m", "2 m"]',
            "hides/usual.svg",
            "outline is said of hides, and these are sold as a panel",
        ),
        (
            HIDE,
            'sold = "side"\nmeasured = ["1 m", "1 m", "1 m", "1 m", "1 m", "1 m", "1 m", "1 m"]',
            "hides/usual.svg",
            "outline and measured both tell",
        ),
        (HIDE.replace("backbone", "spine"), 'sold = "side"', "hides/usual.svg", 'no line of the id "backbone"'),
        (f'<!DOCTYPE svg SYSTEM "x">{HIDE}', 'sold = "side"', "hides/usual.svg", "has a document type (DOCTYPE)"),
        (HIDE + "<!--" + "x" * 2 * 1024**2 + "-->", 'sold = "side"', "hides/usual.svg", "is larger than 2 MiB"),
    ],
)
def test_a_drawing_of_goods_that_cannot_be_used_is_told_at_its_line(
    bench: Path, drawing: str, keys: str, name: str, what: str
) -> None:
    draw_goods(drawing, keys, name)
    with pytest.raises(SpecRejected) as caught:
        lay_specs(LayCall(specs=("belt.toml",), out="out"))
    (told,) = (words for words in map(render_problem, caught.value.problems) if "outline" in words or what in words)
    assert told.startswith(f"shop.toml:{3 + keys.count(chr(10))}: error: ")
    assert what in told
    assert not Path("out").exists()


def test_a_shop_draws_no_more_hides_than_are_read_in_a_moment(bench: Path) -> None:
    draw_goods(HIDE)
    many = [f'[goods.g{k}]\nsold = "side"\noutline = "hides/{k}.svg"\n' for k in range(13)]
    for k in range(13):
        Path(f"hides/{k}.svg").write_text(HIDE, encoding="utf-8")
    Path("shop.toml").write_text("".join(many), encoding="utf-8")
    with pytest.raises(SpecRejected) as caught:
        lay_specs(LayCall(specs=("belt.toml",), out="out"))
    assert [render_problem(one).split("\n")[0] for one in caught.value.problems] == [
        "shop.toml:39: error: the goods name more than 12 drawings"
    ]


def test_a_hide_without_a_straight_edge_has_one_struck(bench: Path) -> None:
    """A whole hide is firm 508 mm on either side of its backbone (tables/hides.py): rows begin there, first thing."""
    Path("belt.toml").write_text(
        BELT.replace('"butt"', '"whole"').partition("area = ")[0] + BELT.partition('"634 mm"\n')[2]
    )
    lay_specs(LayCall(specs=("belt.toml",), makes=3, out="out"))
    (page,) = texts(bench / "out/cutting-lay.pdf")
    assert page.index("Strike a straight edge\n1") < page.index("1 belt 3")
    assert "left of the backbone" in page
    assert "Trim the straight edge" not in page
    make_documents(MakeCall(spec="belt.toml", only=("cutting-list",), out="list"))
    assert "Straps: strike a straight edge along the backbone first" in texts(bench / "list/cutting-list.pdf")[0]
    lay_specs(LayCall(specs=("purse.toml",), goods=("hide",), out="panels"))
    assert not any("straight edge" in text for text in texts(bench / "panels/cutting-lay.pdf"))


def test_of_panels_and_rolls_it_is_said_which_way_they_lie(bench: Path) -> None:
    lay_specs(LayCall(specs=("purse.toml",), goods=("hide", "silk"), out="out"))
    assert ["runs up the page" in text for text in texts(bench / "out/cutting-lay.pdf")] == [True, True]
    lay_specs(LayCall(specs=("belt.toml",), out="hides"))
    assert "runs up the page" not in texts(bench / "hides/cutting-lay.pdf")[0]


def test_a_longer_search_is_asked_for_by_one_word(bench: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    asked = []

    def spy(*given: object, **more: Effort) -> Lay:
        asked.append(more["effort"].is_patient)
        return lay_material(*given)  # type: ignore[arg-type]

    monkeypatch.setattr("docgen.calls.lays.lay_material", spy)
    for words in ([], ["--patient"]):
        assert main(["lay", "purse.toml", "--goods", "silk", "--out", "out", "--date", "2026-03-31", *words]) == 0
    assert asked == [False, True]
