"""Straps of many kinds, from their specs to their files: what is cut, bought, drawn, told and compared. Sums by hand."""

import csv
import math
import re
from pathlib import Path

import ezdxf
import pytest
from pypdf import PdfReader
from spec_text import write_out
from svgelements import SVG

from docgen.checks import resolve_build
from docgen.cli import main
from docgen.plan import Plan, plan_work
from docgen.read import read_spec
from docgen.resolve import Strap
from docgen.versions.compared.differences import list_changes

SPECS = Path(__file__).with_name("straps")
NAMES = sorted(path.stem for path in SPECS.glob("*.toml"))
IN, OZ = 25.4, 25.4 / 64  # leather ounces are 64ths of an inch
NINE_OZ = round(9 * OZ, 1)  # a gauge shows tenths of a mm


def plan_of(name: str) -> Plan:
    return plan_work(resolve_build(read_spec(SPECS / f"{name}.toml")))


def strap_of(name: str, strap: str) -> Strap:
    return next(item for item in plan_of(name).build.straps if item.name == strap)


def test_they_are_silent() -> None:
    assert [problem.what for name in NAMES for problem in plan_of(name).build.cautions] == []


def test_the_belt() -> None:
    """80 back and pi (5 + 3.5) / 2 = 13.352 round the bar, 850 to the middle hole, 95 + 50 on to the tip: 1088.352. Slot
    pi (5 + 8 + 3.5) / 2 = 25.918 by 5 mm. Keeper: 2 (38 + 2 x 3.5) + pi 3.5 + 2 = 102.996."""
    belt, keeper = strap_of("belt", "belt"), strap_of("belt", "keeper")
    assert belt.cut_length_mm == pytest.approx(80 + math.pi * 8.5 / 2 + 850 + 145)
    slot = belt.piece.marks.holes[-1]
    assert (slot.long_mm, slot.diameter_mm) == pytest.approx((math.pi * 16.5 / 2, 5))
    assert keeper.cut_length_mm == pytest.approx(2 * 45 + math.pi * 3.5 + 2)


def test_the_lead() -> None:
    """Hook end 2 in and pi (5 + 9 oz) / 2; loop 2 in + 5 in and pi x 9 oz / 2; 48 in between."""
    lead = strap_of("lead", "lead")
    ends = 2 * IN + math.pi * (5 + NINE_OZ) / 2 + 7 * IN + math.pi * NINE_OZ / 2
    assert lead.cut_length_mm == pytest.approx(48 * IN + ends)


def test_the_collar() -> None:
    """2 1/2 in back, the ring's 4 mm and half round the buckle's bar; 16 in and 5 in to the tip."""
    collar = strap_of("lead", "collar")
    assert collar.cut_length_mm == pytest.approx(2.5 * IN + 4 + math.pi * (4 + NINE_OZ) / 2 + 21 * IN)


def test_the_instrument_strap() -> None:
    """Padding 1 3/4 x 20 in of foam; the tail from middle hole to the hole at its other end: 24 + 3 1/2 + 1 1/2 in."""
    shoulder, tail = strap_of("guitar", "shoulder"), strap_of("guitar", "tail")
    assert (shoulder.padding_width_mm, shoulder.padding_length_mm) == pytest.approx((1.75 * IN, 20 * IN))
    assert tail.cut_length_mm == pytest.approx(29 * IN)
    assert tail.worn_mm == pytest.approx((22 * IN, 24 * IN, 26 * IN))


def test_the_watch_strap() -> None:
    """The bends are skived to 0.7 mm: 12 + pi (1.8 + 0.7) / 2, and 15 + pi (1.5 + 0.7) / 2, and 75 between. The other half
    wears 185 - 75, and 28 + 18 on to its tip."""
    short, long = strap_of("watch", "buckle-half"), strap_of("watch", "long-half")
    assert short.cut_length_mm == pytest.approx(75 + 12 + math.pi * 2.5 / 2 + 15 + math.pi * 2.2 / 2)
    assert long.cut_length_mm == pytest.approx(110 + 46 + 12 + math.pi * 2.5 / 2)


def test_padding_is_cut_and_bought() -> None:
    """Of the shoulder strap 1 1/2 x 12 in of foam, 18 sq in."""
    foam = next(item for item in plan_of("shoulder").materials if item.material.name == "foam")
    (item,) = foam.straps
    assert (item.title, item.count, item.is_padding) == ("Shoulder strap, padding", 1, True)
    assert (item.width_mm, item.length_mm) == pytest.approx((1.5 * IN, 12 * IN))
    assert foam.net_mm2 == pytest.approx(18 * IN * IN)


def test_thread_of_ends_and_landings_is_counted() -> None:
    """Both ends of the strap, two runs each, and two billets sewn on: all among the threads to cut."""
    titles = [hand.title for need in plan_of("shoulder").threads for hand in need.hand]
    assert titles == [
        "Shoulder strap, along the edge",
        "Shoulder strap, first end",
        "Shoulder strap, second end",
        "Billet, first end on Back panel",
    ]


def run(*words: str) -> None:
    assert main([str(word) for word in words]) == 0


@pytest.mark.parametrize("paper", ["letter", "a4"])
@pytest.mark.parametrize("name", NAMES)
def test_pages_say_what_is_done(tmp_path: Path, name: str, paper: str) -> None:
    run("make", SPECS / f"{name}.toml", "--out", tmp_path, "--paper", paper, "--date", "2026-03-31", "--csv")
    text = " ".join(
        " ".join(page.extract_text() for page in PdfReader(tmp_path / f"{document}.pdf").pages).replace("\u00a0", " ")
        for document in ("build-sheet", "cutting-list")
    )
    said = re.sub(r"\s+", " ", text)
    for words in SAID[name]:
        assert words in said, words
    rows = list(csv.DictReader((tmp_path / "straps.csv").read_text(encoding="utf-8").splitlines()))
    assert {row["strap"] for row in rows} == {strap.name for strap in plan_of(name).build.straps}


SAID = {
    "belt": (
        "Keeper in the fold, close behind that; slot for the tongue at the fold; sewn along both edges of what lies back, "
        "not across",
        "second end: 30 mm wide for 250 mm, then tapers over 120 mm",
        "skive the first end, flesh side, to 1.5 mm (3.8 oz) over 30 mm",
        "Sew Belt, first end, 2 times",
    ),
    "lead": (
        "leave a loop of 5 in open on either side of the fold",
        "turn back round the roller buckle, flesh side in; fold ",
        "D ring in the fold, close behind that",
    ),
    "guitar": (
        "padding of firm foam, 1 3/4 in wide, 20 in long, from 8 in after the first end",
        "at the first end 5 holes of 3/16 in, from 1 1/2 in to 5 1/2 in from the tip",
        "Padding of straps",
    ),
    "shoulder": (
        "Sew on to Back panel, where their stitches are marked: Billet.",
        "Sew Billet, first end on Back panel, 2 times",
    ),
    "watch": ("second layer of calf lining", "skive start: 16 mm"),
}


def test_export_has_slots_skives_and_stitches_on_their_layers(tmp_path: Path) -> None:
    """Read back by svgelements and ezdxf: the slot's length and the four rows of the end's holes."""
    run("export", SPECS / "belt.toml", "--to", "svg", "--out", tmp_path, "--pieces", "belt")
    run("export", SPECS / "belt.toml", "--to", "dxf", "--out", tmp_path, "--pieces", "belt")
    drawing = SVG.parse(next(tmp_path.rglob("*.svg")), ppi=25.4)
    boxes = [element.bbox() for element in drawing.elements() if hasattr(element, "bbox") and element.bbox()]
    sizes = [(right - left, bottom - top) for left, top, right, bottom in boxes]
    assert any(size == pytest.approx((5, 25.918), abs=0.01) for size in sizes)
    assert any(size == pytest.approx((38, 1088.352), abs=0.01) for size in sizes)
    model = ezdxf.readfile(next(tmp_path.rglob("*.dxf"))).modelspace()
    assert len({entity.dxf.layer for entity in model}) >= 3


STRAP = """\
<spec s: Strap, version 1>
<leather body: 2 mm>
[materials.pad]
kind = "foam"
thickness = "4 mm"
<stitch main: by hand, Tex 210 waxed polyester, 4 mm, 3 mm>
<hardware buckle: 1, buckle>
inside = "25 mm"
bar = "4 mm"
tongue = "3 mm"
<hardware ring: 1, D ring>
inside = "25 mm"
bar = "4 mm"
[straps.s]
of = "body"
width = "20 mm"
finished = "400 mm"
doubled = true
ends = [{ shape = "turned", back = "40 mm", around = "buckle" }, { shape = "square" }]
"""
FIRST = 'back = "40 mm", around = "buckle"'


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ('"buckle" }', '["buckle", "ring"] }', "ends"),
        (FIRST, f'{FIRST}, sewn = "main"', "ends"),
        (FIRST, f'{FIRST}, slot = "30 mm"', "ends"),
        (FIRST, f'{FIRST}, loop = "30 mm"', "ends"),
        (FIRST, f'{FIRST}, skive = {{ over = "20 mm", to = "1 mm" }}', "ends"),
        (FIRST, f'{FIRST}, width = "15 mm", taper = "30 mm"', "ends"),
        ('{ shape = "square" }', '{ shape = "square", holes = { count = 3, punch = "3 mm" } }', "holes"),
        ("doubled = true", 'doubled = true\npadding = { of = "pad", width = "15 mm" }', "padding"),
        ('tongue = "3 mm"', 'tongue = "4 mm"', "tongue"),
    ],
)
def test_every_change_is_told(tmp_path: Path, old: str, new: str, told: str) -> None:
    builds = []
    for text in (write_out(STRAP), write_out(STRAP).replace(old, new)):
        (tmp_path / "s.toml").write_text(text, encoding="utf-8")
        builds.append(resolve_build(read_spec(tmp_path / "s.toml")))
    assert told in [fact.name for change in list_changes(*builds) for fact in change.facts]
