"""Hides on photos made by a known perspective: their area, what is said of its error, and what is refused."""

import io
import math
import random
import sys
import zlib
from collections.abc import Sequence
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from photographed import Camera, Shape, cover, photograph, save_jpeg, square
from PIL import Image
from shapely.geometry import Polygon

from docgen.calls.scan import tell_area
from docgen.cli import main
from docgen.lay import drawn_hide
from docgen.read import read_hide
from docgen.scan.backbone import find_backbone
from docgen.scan.floor import find_floor
from docgen.scan.hide import trace_patch
from docgen.scan.photo import read_photo, take_pixels
from docgen.scan.scan import Seen, scan_pixels
from docgen.scan.shapes import find_patches, trace_edge
from docgen.scan.square import fit_quad
from docgen.scan.words import ScanRefused

LEATHER, CARD, FLOOR = (120.0, 72.0, 40.0), (245.0, 245.0, 245.0), (168.0, 165.0, 158.0)
SIDE_MM = 400.0

# A butt of some 1,400 by 900 mm with its straight edge to the left and its tail below; drawn by hand for this test.
BUTT = [
    (0, 10),
    (0, 1390),
    (380, 1400),
    (800, 1385),
    (860, 1100),
    (850, 800),
    (880, 400),
    (890, 250),
    (740, 60),
    (400, 0),
]
BESIDE = (1180.0, 600.0)
"""The middle of a square that lies to the right of it."""


def see(things: Sequence[tuple[Shape, tuple[float, float, float]]], *, tilt: float = 15.0, **more: object) -> Seen:
    """What is seen on a small photo of things."""
    camera = Camera(tilt=tilt, towards=40.0, turn=4.0, at=(600.0, 680.0), across_mm=3000.0, size=(640, 480))
    picture = photograph(camera, things, **more)  # type: ignore[arg-type]
    return scan_pixels(picture.astype(np.float32), SIDE_MM)


GOOD = [(BUTT, LEATHER), (square(SIDE_MM, BESIDE, 8.0), CARD)]


@pytest.mark.parametrize("tilt", [0.0, 15.0, 25.0, 35.0])
def test_the_area_is_right_to_half_a_percent_and_what_is_said_of_it_holds(tilt: float) -> None:
    """The square is three tenths as wide as the hide is long; a JPEG of 1,400 by 1,050 pixels."""
    chance = random.Random(tilt)
    camera = Camera(
        tilt=tilt, towards=chance.uniform(0, 360), turn=5.0, at=(600.0, 680.0), across_mm=3000.0, size=(1400, 1050)
    )
    photo = save_jpeg(photograph(camera, GOOD, seed=int(tilt)))
    seen = scan_pixels(take_pixels(read_photo(photo, "a.jpg")), SIDE_MM)
    off = seen.area_mm2 / Polygon(BUTT).area - 1
    assert abs(off) < 0.005
    assert abs(off) <= seen.error < 0.01
    # The outline itself: nowhere farther than 5 mm from the true one, once both lie on each other.
    middle = np.array(BESIDE)
    apart = []
    for quarter in range(4):
        angle = math.radians(8.0 + 90 * quarter) - math.atan2(*(seen.square[1] - seen.square[0])[::-1])
        turned = (seen.hide - seen.square.mean(axis=0)) @ np.array(
            [[math.cos(angle), math.sin(angle)], [-math.sin(angle), math.cos(angle)]]
        )
        apart.append(Polygon(turned + middle).hausdorff_distance(Polygon(BUTT)))
    assert min(apart) < 5.0


@pytest.mark.parametrize(
    ("things", "more", "what"),
    [
        ([], {}, "no hide is seen"),
        ([(BUTT, (52.0, 44.0, 40.0)), GOOD[1]], {"floor": (56.0, 50.0, 46.0)}, "no hide is seen"),
        (GOOD[:1], {}, "no square is seen"),
        ([*GOOD, (square(SIDE_MM, (1180.0, 1250.0)), CARD)], {}, "2 squares are seen"),
        ([GOOD[0], (square(90.0, BESIDE), CARD)], {}, "pixels wide"),
        ([GOOD[0], ([(1000, 400), (1280, 400), (1280, 796), (1000, 796)], CARD)], {}, "is no square"),
        ([GOOD[0], (square(SIDE_MM, (1075.0, 600.0)), CARD)], {}, "hardly differs"),
        ([([(x + 40, y - 40) for x, y in BUTT], (138.0, 136.0, 130.0)), *GOOD], {}, "hardly differs"),
        (
            [*((square(80.0, (x, y)), LEATHER) for x in range(-700, 1900, 180) for y in range(-200, 1600, 180)), *GOOD],
            {},
            "has a pattern",
        ),
        ([([(x * 2.4, y * 1.2) for x, y in BUTT], LEATHER), GOOD[1]], {}, "edge of the picture"),
        ([GOOD[0], (square(170.0, BESIDE, 8.0), CARD)], {"noise": 8.0}, "too small or too aslant"),
    ],
    ids=["bare", "dark on dark", "none", "two", "small", "oblong", "touching", "shadow", "tiles", "cut off", "grainy"],
)
def test_what_cannot_be_seen_is_refused(things: list, more: dict, what: str) -> None:  # type: ignore[type-arg]
    """An empty floor; dark leather on a dark floor; a square that is missing, one of two, tiny, a sheet of office paper,
    one that touches the hide; a shadow along the hide; tiles; one cut off; a small square on a grainy picture."""
    with pytest.raises(ScanRefused, match=what) as caught:
        see(things, **more)
    assert "draw its outline" in caught.value.mend


@pytest.mark.parametrize(
    ("turns", "lies", "tail"), [(0, "left", "bottom"), (1, "top", "left"), (2, "right", "top"), (3, "bottom", "right")]
)
def test_the_backbone_is_the_straight_edge_on_the_side_that_is_named(turns: int, lies: str, tail: str) -> None:
    """The butt turned clockwise: of its straight edge from (0, 10) to (0, 1390) the end at 10 is the tail."""
    turned, ends = np.array(BUTT, dtype=float), np.array([(0.0, 10.0), (0.0, 1390.0)])
    for _ in range(turns):
        turned, ends = (np.stack([p[:, 1], -p[:, 0]], axis=1) for p in (turned, ends))
    assert find_backbone(turned, lies, tail).tolist() == ends.tolist()


def test_a_straight_edge_that_is_looked_for_on_the_wrong_side_is_told() -> None:
    """The belly of a side is no edge to lay a rule against."""
    belly = [(900, 0), (900, 1390), (500, 1450), (100, 1300), (330, 1000), (300, 400), (60, 200), (500, 0)]
    with pytest.raises(ScanRefused, match="no long straight edge at the left of the picture") as caught:
        find_backbone(np.array(belly, dtype=float), "left", "bottom")
    assert "--backbone right" in caught.value.mend


def test_the_backbone_of_a_whole_hide_runs_down_its_middle() -> None:
    """A hide that is the same left and right of a line that leans by 10 degrees."""
    lean = np.array([[math.cos(0.1745), math.sin(0.1745)], [-math.sin(0.1745), math.cos(0.1745)]])
    half = np.array([(300, 0), (700, 200), (550, 900), (800, 1500), (350, 2000)], dtype=float)
    whole = np.concatenate([half, half[::-1] * (-1, 1)])
    start, end = find_backbone(whole @ lean, "middle", "bottom") @ lean.T
    assert start[0] == pytest.approx(0, abs=12)
    assert end[0] == pytest.approx(0, abs=12)
    assert end[1] - start[1] == pytest.approx(2000, rel=0.05)


@cache
def take_monday() -> bytes:
    """The butt from above on the left, tilted by 20 degrees; made once for all tests."""
    camera = Camera(tilt=20.0, towards=100.0, turn=-97.0, at=(600.0, 680.0), across_mm=3000.0, size=(800, 600))
    return save_jpeg(photograph(camera, GOOD))


@pytest.fixture
def photo(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    Path("monday.jpg").write_bytes(take_monday())
    return tmp_path


CALL = ["scan", "monday.jpg", "--square", "40 cm", "--backbone", "left"]


def test_the_drawing_can_be_laid_on_and_is_never_written_over(photo: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(CALL) == 0
    said = capsys.readouterr().out
    assert "wrote monday.svg: a hide of 12." in said  # 1,2 m2 are 12.8 sq ft
    assert "estimate" in said
    hide = drawn_hide(read_hide("monday.svg"))
    assert hide.has_edge
    assert hide.area_mm2 == pytest.approx(Polygon(BUTT).area, rel=0.015)
    assert hide.length_mm == pytest.approx(1400, rel=0.02)
    assert hide.width_mm == pytest.approx(890, rel=0.02)
    Path("monday.svg").write_text("mine", encoding="utf-8")
    assert main(CALL) == 3
    assert "there already" in capsys.readouterr().err
    assert Path("monday.svg").read_text(encoding="utf-8") == "mine"


@pytest.mark.parametrize(
    ("changed", "code", "words"),
    [
        ({"--square": "3 mm"}, 2, "a square of 50 mm to 2 m can be taken"),
        ({"--square": "forty"}, 2, "--square: "),
        ({"--backbone": "lft"}, 2, 'there is no side "lft"; did you mean "left"?'),
        ({"--tail": "left"}, 2, "the tail lies to its top or bottom"),
        ({"--to": "hide.toml"}, 2, 'write --to "hide.svg"'),
        ({"monday.jpg": "tuesday.jpg"}, 1, "tuesday.jpg: error: it cannot be read: no such file or directory"),
        ({"monday.jpg": "monday.txt"}, 1, "name a PNG or JPEG file"),
        ({"monday.jpg": "cut.jpg"}, 1, "cut.jpg: error: cut.jpg is damaged"),
        ({"monday.jpg": "wide.png"}, 1, "has too many pixels"),
        ({"monday.jpg": "grey.png"}, 1, "grey.png: error: no hide is seen"),
    ],
)
def test_what_is_wrong_with_a_call_is_told(
    photo: Path, capsys: pytest.CaptureFixture[str], changed: dict[str, str], code: int, words: str
) -> None:
    """A JPEG that is cut off, a PNG that claims ten thousand million pixels, one without anything on it."""
    Path("cut.jpg").write_bytes(Path("monday.jpg").read_bytes()[:3000])
    for name, mode, size in (("grey.png", "L", (500, 400)), ("wide.png", "1", (600, 400))):
        held = io.BytesIO()
        Image.new(mode, size, 100).save(held, "PNG")
        Path(name).write_bytes(held.getvalue())
    wide = bytearray(Path("wide.png").read_bytes())
    wide[16:24] = (100_000).to_bytes(4, "big") * 2
    wide[29:33] = zlib.crc32(wide[12:29]).to_bytes(4, "big")
    Path("wide.png").write_bytes(wide)
    given = {"monday.jpg": "monday.jpg", "--square": "40 cm", "--backbone": "left"}
    options = [
        word for key, value in {**given, **changed}.items() for word in ((key, value) if key[0] == "-" else (value,))
    ]
    assert main(["scan", *options]) == code
    assert words in capsys.readouterr().err
    assert not Path("monday.svg").exists()


@pytest.mark.parametrize(("side_mm", "is_told"), [(300.0, True), (360.0, False)])
def test_a_square_that_is_small_beside_the_hide_is_told(side_mm: float, is_told: bool) -> None:
    """The butt is 1,400 mm long: a quarter of that is 350 mm."""
    seen = scan_pixels(take_pixels(read_photo(save_jpeg(_butt_with(side_mm)), "a.jpg")), side_mm)
    assert seen.length_mm == pytest.approx(1400.0, rel=0.06)  # it lies a little aslant
    said = tell_area(seen.area_mm2, seen.error, side_mm / seen.length_mm)
    assert ("The square is 21% of the hide's length: one of a quarter" in said) == is_told


def _butt_with(side_mm: float) -> np.ndarray:
    camera = Camera(tilt=15.0, turn=4.0, at=(600.0, 680.0), across_mm=3000.0, size=(900, 675))
    return photograph(camera, [(BUTT, LEATHER), (square(side_mm, BESIDE, 8.0), CARD)])


def test_without_the_further_packages_it_is_told_how_to_get_them(
    photo: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(sys.modules, "numpy", None)
    for name in [name for name in sys.modules if name.startswith("docgen.scan.")]:
        monkeypatch.delitem(sys.modules, name)
    assert main(CALL) == 2
    assert 'pip install ".[scan]"' in capsys.readouterr().err
    assert not Path("monday.svg").exists()


@pytest.mark.parametrize("turn", [0.0, 0.3, 1.0, 10.0])
def test_the_corners_of_a_square_are_found_however_it_lies_to_the_rows(turn: float) -> None:
    """Of one that lies as the rows do each pixel of a side is covered alike, here by a quarter: a straight line between two
    pixels would be off by the same everywhere."""
    true = np.array(square(160.5, (100.0, 100.0), turn))
    level = cover(true, (200, 200)).astype(np.float32)
    quad = fit_quad(*trace_edge(level >= 0.5, level))
    assert quad is not None
    for corner in quad.corners:
        assert np.hypot(*(true - corner).T).min() < 0.03


def test_points_that_coarse_texture_moves_together_count_for_fewer() -> None:
    """Sides whose points lie off by themselves, and by as much in stretches of ten: the second are known less well."""
    chance = np.random.default_rng(1)
    corners = np.array(square(300.0, (200.0, 200.0), 30.0))
    counts = []
    for stretch in (1, 10):
        line = []
        for one, other in zip(corners, np.roll(corners, -1, axis=0), strict=True):
            way = (other - one) / 300.0
            off = np.repeat(chance.normal(0.0, 0.1, 300 // stretch), stretch)
            line.append(one + np.arange(300.0)[:, None] * way + off[:, None] * np.array([-way[1], way[0]]))
        quad = fit_quad(np.concatenate(line), np.concatenate(line))
        assert quad is not None
        counts.append(float(quad.counts.mean()))
    assert counts[1] < counts[0] / 2


def test_a_side_is_known_as_well_as_nearly_all_its_points_tell() -> None:
    """How far sides are turned over 25 squares whose points lie off by chance, each by itself. The least that any line
    could be is the spread of the points times the root of 12, over the length and the root of their number (the error of
    the slope of a regression at equal steps)."""
    chance, spread, length = np.random.default_rng(3), 0.1, 200
    corners = np.array(square(float(length), (200.0, 200.0), 30.0))
    turned, told = [], []
    for _ in range(25):
        line = []
        for one, other in zip(corners, np.roll(corners, -1, axis=0), strict=True):
            way = (other - one) / length
            off = chance.normal(0.0, spread, length)
            line.append(one + np.arange(length)[:, None] * way + off[:, None] * np.array([-way[1], way[0]]))
        quad = fit_quad(np.concatenate(line), np.concatenate(line))
        assert quad is not None
        found = np.degrees(np.arctan2(quad.ways[:, 1], quad.ways[:, 0]))
        turned += [(angle - 30.0 + 45.0) % 90.0 - 45.0 for angle in found]
        told += list(np.degrees(quad.off / np.sqrt(quad.counts) * math.sqrt(12) / quad.reaches))
    least = math.degrees(spread * math.sqrt(12 / length) / length)
    usual = float(np.sqrt(np.mean(np.square(turned))))
    assert usual < 1.3 * least
    assert usual <= np.mean(told) < 1.5 * usual


@pytest.mark.parametrize("bright", [245.0, 262.0, 275.0])
def test_the_sides_of_a_card_too_bright_for_the_picture_do_not_bend_to_the_light(bright: float) -> None:
    """Light that is a fifth stronger at the right than at the left: at 245 a part of the card fills its pixels, at 275 all
    of it. The corners are those of the known perspective."""
    camera = Camera(tilt=10.0, towards=70.0, turn=9.0, across_mm=640.0, size=(640, 560))
    card = square(320.0, (0.0, 0.0))
    things = [(card, (bright, bright, bright))]
    picture = photograph(camera, things, noise=1.0, texture=1.0, falloff=0.2)
    pixels = np.rint(picture).astype(np.float32)
    patch = find_patches(np.abs(pixels - pixels[0, 0]).max(axis=2) > 50, 1000)[0]
    quad = fit_quad(*trace_patch(pixels, find_floor(pixels), patch, is_card=True))
    assert quad is not None
    for corner in quad.corners:
        assert np.hypot(*(camera.see(card) - corner).T).min() < 0.15
