"""Random bags against a reckoning from points: shapely says what lies where, a list of steps what was there when."""

from collections import Counter
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Point, Polygon, box
from short_specs import piece, rivet, seam, step

from docgen.assemble import Assembly, assemble
from docgen.checks import resolve_build
from docgen.read import read_spec
from docgen.resolve import Build

HEAD = """\
[spec]
code = "bag"
title = "Bag"
version = "1"
[materials.body]
kind = "leather"
thickness = "2 mm"
[materials.thin]
kind = "leather"
thickness = "1.2 mm"
[materials.cloth]
kind = "fabric"
thickness = "0.5 mm"
[stitches.main]
by = "machine"
thread = "Tex 135 bonded nylon"
pitch = "4 mm"
inset = "4.3 mm"
"""
INSET_MM = 4.3
BODY, THIN, CLOTH = 2.0, 1.2, 0.5
WORK = ("pocket", "mouth", "round", "rivet")


@dataclass(frozen=True)
class Bag:
    """A back with pockets on it, a hem of `turn` mm (0: none), a lining behind it, a front, and one rivet."""

    width: int
    height: int
    turn: int
    is_double: bool
    pockets: tuple[tuple[int, int], ...]
    size: tuple[int, int]
    inset: int
    hole: tuple[int, int]
    order: tuple[str, ...]

    @property
    def made_mm(self) -> int:
        """Height between the folds."""
        return self.height - self.turn * (2 if self.is_double else 1)

    def text(self) -> str:
        at = ", ".join(f'{{ piece = "pocket", at = "{x} mm from left, {y} mm from bottom" }}' for x, y in self.pockets)
        more = f"landings = [{at}]\n"
        double = ", double = true" if self.is_double else ""
        more += f'hems = [{{ edges = "top", turn = "{self.turn} mm"{double} }}]\n' if self.turn else ""
        x, y = self.hole
        more += f'holes = [{{ at = "{x} mm from left, {y} mm from bottom", punch = "4 mm", takes = "rivet" }}]\n'
        steps = {
            "pocket": step("Pockets.", seams="pocket"),
            "mouth": step("Lining.", seams="mouth"),
            "round": step("Round.", seams="round"),
            "rivet": step("Rivet.", pieces="back", hardware="rivet"),
        }
        return (
            HEAD
            + piece("back", self.width, self.height, more)
            + piece("front", self.width, self.made_mm)
            + piece("pocket", *self.size, f"cut = {len(self.pockets)}\n", of="thin")
            + f'[pieces.lining]\nlike = "back"\nof = "cloth"\nmarks = false\ninset = "{self.inset} mm"\n'
            + seam("pocket", "pocket: left bottom right", "back")
            + seam("mouth", "back: top", "lining")
            + seam("round", "back: left bottom right", "front: left bottom right")
            + rivet()
            + "".join(steps[name] for name in self.order)
        )

    def is_before(self, one: str, other: str) -> bool:
        return self.order.index(one) < self.order.index(other)


@st.composite
def bags(draw: st.DrawFn) -> Bag:
    width, height = draw(st.integers(150, 300)), draw(st.integers(150, 250))
    size = draw(st.integers(20, 60)), draw(st.integers(20, 90))
    lefts = draw(st.sampled_from([(0,), (3,), (40,), (0, 80), (10, width - size[0])]))
    turn = draw(st.sampled_from([0, 12, 20]))
    return Bag(
        width=width,
        height=height,
        turn=turn,
        is_double=bool(turn) and draw(st.booleans()),
        pockets=tuple((x, draw(st.sampled_from([0, 2, 20]))) for x in lefts),
        size=size,
        inset=draw(st.sampled_from([0, 3, 6])),
        hole=(draw(st.integers(12, 138)), draw(st.integers(12, 100))),
        order=tuple(draw(st.permutations(WORK))),
    )


def put_together(text: str) -> tuple[Build, Assembly]:
    with TemporaryDirectory() as folder:
        path = Path(folder) / "a.toml"
        path.write_text(text, encoding="utf-8")
        build = resolve_build(read_spec(path))
    return build, assemble(build)


def layers_mm(bag: Bag, at: Point, before: str) -> float:
    """The back and all that lies on it at a point, of what is done before some work: reckoned from plane shapes."""
    made_mm = BODY
    if at.y > bag.made_mm - bag.turn:
        made_mm += BODY * (2 if bag.is_double else 1)
    if bag.is_before("pocket", before):
        shapes = (box(x, y, x + bag.size[0], y + bag.size[1]) for x, y in bag.pockets)
        made_mm += THIN * sum(shape.contains(at) for shape in shapes)
    lining: Polygon = box(0, 0, bag.width, bag.height).buffer(-bag.inset, join_style="mitre")
    if bag.is_before("mouth", before) and lining.contains(at):
        made_mm += CLOTH
    return round(made_mm, 6)


@settings(derandomize=True, max_examples=30, deadline=None)
@given(bags())
def test_stacks_counts_and_lengths_are_those_of_the_points(bag: Bag) -> None:
    build, made = put_together(bag.text())
    low, high, right = INSET_MM, bag.made_mm, bag.width - INSET_MM
    line = LineString([(low, high), (low, low), (right, low), (right, high)])
    (seam_round,) = [one for one in build.seams if one.name == "round"]
    assert seam_round.length_mm == pytest.approx(line.length)
    count = int(line.length * 4)
    spots = [layers_mm(bag, line.interpolate((k + 0.5) / 4), "round") + BODY for k in range(count)]
    stack = made.stack("round")
    assert (stack.thinnest_mm, stack.thickest_mm) == pytest.approx((min(spots), max(spots)))
    shares = Counter(spots).most_common(2)
    if len(shares) == 1 or shares[0][1] - shares[1][1] > 40:  # 10 mm more of one than of the other
        assert stack.usual_mm == pytest.approx(shares[0][0])
    assert made.times("pocket") == len(bag.pockets)
    assert [one.sides[0].number for one in made.sewn if one.seam == "pocket"] == list(range(1, len(bag.pockets) + 1))
    (riveted,) = made.fastened
    assert riveted.stack.usual_mm == pytest.approx(layers_mm(bag, Point(*bag.hole), "rivet"))
    assert [problem for problem in made.doubts if problem.severity == "error"] == []
