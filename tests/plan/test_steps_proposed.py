"""An order of work that is proposed: nothing is left out, and nothing stands where it cannot be done."""

import random
from dataclasses import replace
from pathlib import Path

import pytest
from by_hand import make_hardware, make_strap
from demos import with_steps
from spec_text import write_out

from docgen.assemble import Assembled, assemble, find_disorder
from docgen.assemble.propose import propose_steps
from docgen.checks import resolve_build
from docgen.geometry.outline import outline_path
from docgen.geometry.shapes import Point
from docgen.plan import plan_work
from docgen.read import read_spec
from docgen.resolve import Build, Fold, Hole, Landing, Seam, SeamSide, Slit

ROOT = Path(__file__).parents[2]
SPECS = sorted([*(ROOT / "specs").glob("*.toml"), *(ROOT / "docgen" / "starters").glob("*.toml")])


@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_everything_of_a_spec_is_made_in_an_order_that_can_be_done(path: Path) -> None:
    build = with_steps(resolve_build(read_spec(path)), ())
    check_whole(build)
    assert plan_work(build).is_proposed


def check_whole(build: Build) -> None:
    """Every seam, join and strap once, every item of hardware, every skive, hole, slit and fold; nothing too late. What is
    set in a strap has it in hand again."""
    steps = propose_steps(build)
    making = [replace(step, straps=()) if step.group == "Hardware" else step for step in steps]
    assert sorted(name for step in making for name in step.straps) == sorted(strap.name for strap in build.straps)
    for kind, entries in (("seams", build.seams), ("joins", build.joins)):
        told = [name for step in steps for name in getattr(step, kind)]
        assert sorted(told) == sorted(entry.name for entry in entries)
    assert {name for step in steps for name in step.hardware} == {item.name for item in build.hardware}
    assert {name for step in steps for name in step.skives} == {p.name for p in build.pieces if p.marks.skives}
    handled = {name for step in steps for name in step.pieces}
    assert handled >= {p.name for p in build.pieces if p.marks.holes or p.marks.slits or p.marks.folds}
    straps = {strap.name: strap for strap in build.straps}
    for step in making:
        made = [straps[name] for name in step.straps]
        if made:
            is_punched = any(strap.hole_tips_mm or strap.piece.marks.holes for strap in made)
            assert ("hole punch" in step.tools) == is_punched
    assert list(find_disorder(build, replace(assemble(build), steps=steps))) == []


def test_made_up_builds_are_whole_too(make_build, make_piece, make_join) -> None:
    dice = random.Random(5)
    for _ in range(60):
        check_whole(roll_build(dice, make_build, make_piece, make_join))


def roll_build(dice: random.Random, make_build, make_piece, make_join) -> Build:
    names = [f"p{n}" for n in range(dice.randint(2, 7))]
    pieces = tuple(
        make_piece(
            name,
            dice.randint(60, 300),
            dice.randint(60, 300),
            holes=tuple(Hole(at=Point(20, 20), diameter_mm=4, takes="stud") for _ in range(dice.randint(0, 1))),
            slits=tuple(Slit(start=Point(30, 30), end=Point(40, 30)) for _ in range(dice.randint(0, 1))),
            folds=tuple(Fold(start=Point(0, 30), end=Point(60, 30)) for _ in range(dice.randint(0, 1))),
        )
        for name in names
    )
    joins = (make_join("gusset", names[0], names[1]),) if dice.random() < 0.5 else ()
    parts = [*names, *(join.name for join in joins), "handle"]
    seams = tuple(roll_seam(dice, f"s{n}", parts) for n in range(dice.randint(0, 6)))
    covers = [side.part for seam in seams for side in seam.sides if not side.edges]
    seams = tuple(seam for seam in seams if all(side.edges or covers.count(side.part) < 2 for side in seam.sides))
    studs = make_hardware("stud", "stud", 2)
    handle = make_strap(make_piece("handle", 20, 300, shape="strip", is_strap=True))
    return make_build(pieces=pieces, joins=joins, seams=seams, straps=(handle,), hardware=(studs,))


def roll_seam(dice: random.Random, name: str, parts: list[str]) -> Seam:
    """Two edges, or one edge on a piece that lies beneath."""
    first, second = dice.sample(parts, 2)
    flat = dice.random() < 0.4 and second.startswith("p")
    length_mm = dice.uniform(20, 150) if flat else dice.uniform(50, 600)
    sides = (
        SeamSide(part=first, edges=("left",), length_mm=length_mm),
        SeamSide(part=second, edges=() if flat else ("left",), length_mm=0.0 if flat else length_mm),
    )
    return Seam(
        name=name, title=name, stitch="main", sides=sides, length_mm=length_mm, stitches=10, pitch_mm=4.0, stack_mm=4.0
    )


def test_pockets_come_before_linings_and_a_cover_before_its_panel_is_sewn_in(
    make_build, make_piece, make_seam, make_join, body
):
    lining = replace(body, name="lining", kind="fabric")
    pieces = (
        make_piece("back", 200, 150),
        make_piece("pocket", 80, 60),
        make_piece("side", 60, 100),
        make_piece("cloth", 200, 150, material="lining"),
        make_piece("cover", 190, 140),
    )
    flat = make_seam("pocket", 180, "pocket", "back")
    cover = make_seam("cover", 500, "cover", "back")
    beneath = SeamSide(part="back", edges=(), length_mm=0.0)
    flat = replace(flat, sides=(flat.sides[0], beneath))
    cover = replace(cover, sides=(cover.sides[0], beneath))
    seams = (cover, make_seam("round", 400, "back", "gusset"), make_seam("top", 190, "back", "cloth"), flat)
    build = make_build(
        materials=(body, lining), pieces=pieces, joins=(make_join("gusset", "side", "side"),), seams=seams
    )
    assert [(step.group, *step.seams, *step.joins) for step in propose_steps(build)] == [
        ("Pockets and landings", "pocket"),
        ("Joins and linings", "gusset"),
        ("Joins and linings", "top"),
        ("Assemble", "cover"),
        ("Assemble", "round"),
    ]


def test_a_strap_that_is_sewn_on_is_made_before_its_seam(make_build, make_piece, make_seam) -> None:
    strap = make_strap(make_piece("handle", 20, 150, shape="strip", is_strap=True))
    build = make_build(
        pieces=(make_piece("back", 200, 150),), straps=(strap,), seams=(make_seam("on", 150, "handle", "back"),)
    )
    assert [(*step.straps, *step.seams) for step in propose_steps(build)] == [("handle",), ("on",)]


def test_what_lands_without_a_seam_is_fixed_with_the_hardware_it_takes(make_build, make_piece) -> None:
    tab = make_piece("tab", 30, 80, holes=(Hole(at=Point(15, 15), diameter_mm=4, takes="rivet"),))
    landing = Landing(piece="tab", outline=outline_path(tab.outline), dx_mm=20, dy_mm=20)
    rivet = make_hardware("rivet", "rivet, 9 mm", 1, kind="rivet")
    build = make_build(pieces=(make_piece("back", 200, 150, landings=(landing,)), tab), hardware=(rivet,))
    punch, fix = propose_steps(build)
    assert punch.do == "Punch the holes marked on the pattern."
    assert (fix.do, fix.pieces, fix.hardware, fix.tools) == (
        "Fix Tab to Back, where its outline is marked.",
        ("back", "tab"),
        ("rivet",),
        ("rivet setter", "mallet"),
    )


def test_by_hand_the_iron_is_named_by_its_pitch(make_build, make_piece, make_seam, main) -> None:
    by_hand = replace(main, by="hand", type="saddle stitch", pitch_mm=3.85)
    pieces = (make_piece("back", 200, 150), make_piece("front", 200, 150))
    build = make_build(stitches=(by_hand,), pieces=pieces, seams=(make_seam("s", 400, "back", "front"),))
    (step,) = propose_steps(build)
    assert step.tools == ("pricking iron, 3.85 mm (6.6 per inch)", "awl", "hand needles")


def test_slits_and_folds_have_their_words(make_build, make_piece) -> None:
    piece = make_piece(
        "tab",
        60,
        80,
        slits=(Slit(start=Point(20, 20), end=Point(30, 20)),),
        folds=(Fold(start=Point(0, 40), end=Point(60, 40)),),
    )
    assert [(step.do, step.tools) for step in propose_steps(make_build(pieces=(piece,)))] == [
        ("Cut the slits marked on the pattern.", ("knife",)),
        ("Crease the folds marked on the pattern.", ("bone folder",)),
    ]


BASE = """\
[spec]
code = "base"
title = "Base"
version = "1"
show = "mm"
[materials.body]
kind = "leather"
thickness = "2 mm"
[materials.pig]
kind = "leather"
thickness = "0.8 mm"
[materials.grey]
kind = "board"
thickness = "2.5 mm"
[stitches.main]
by = "hand"
thread = "0.8 mm waxed polyester"
pitch = "4 mm"
inset = "4 mm"
[hardware.foot]
what = "bag foot with screw"
kind = "screw-post"
count = 1
posts = ["5 mm", "6 mm", "8 mm"]
[pieces.base]
of = "body"
shape = "rectangle"
size = ["200 mm", "100 mm"]
holes = [{ at = "centre, middle", punch = "5 mm", takes = "foot" }]
[pieces.board]
like = "base"
of = "grey"
inset = "8 mm"
marks = true
lines = ["base"]
[pieces.lining]
like = "base"
of = "pig"
marks = false
lines = ["base"]
[seams.top]
stitch = "main"
meet = ["base: top", "lining: top"]
[seams.rest]
stitch = "main"
meet = ["base: left bottom right", "lining: left bottom right"]
"""


def test_board_is_laid_before_the_lining_is_sewn_over_it(tmp_path: Path) -> None:
    def resolve(steps: str) -> Assembled:
        path = tmp_path / "base.toml"
        path.write_text(BASE + steps)
        return resolve_build(read_spec(path))

    build = resolve("")
    (fit,) = build.assembly.fastened
    assert fit.stack.parts == ("base", "board", "lining")
    laying = next(step for step in plan_work(build).steps if step.do.startswith("Lay"))
    assert (laying.do, [line.case for line in laying.acts]) == ("Lay board behind base.", ["cover_inset"])
    punch = '[[steps]]\ndo = "Punch."\npieces = ["base", "board"]\n'
    sew = '[[steps]]\ndo = "Sew the lining."\nseams = ["top", "rest"]\n'
    lay = '[[steps]]\ndo = "Lay the board in."\npieces = ["board"]\n'
    late = 'step 3 puts "board" behind "base", which step 2 closes in already'
    feet = '[[steps]]\ndo = "Set the foot."\npieces = ["base"]\nhardware = ["foot"]\n'
    assert late in [one.what for one in resolve(punch + sew + lay + feet).cautions]
    assert late.replace("2", "3").replace("3 puts", "2 puts") not in [
        one.what for one in resolve(punch + lay + sew + feet).cautions
    ]


FLAP = """\
[trimmings.tape]
what = "binding"
kind = "binding"
width = "20 mm"
thickness = "0.5 mm"
[pieces.back]
of = "body"
shape = "rectangle"
size = ["200 mm", "150 mm"]
landings = [{ piece = "flap", at = "0 from left, 25 mm from top" }]
[pieces.cloth]
like = "back"
of = "pig"
cut = 2
marks = false
lines = ["back", "front"]
[pieces.front]
like = "back"
marks = false
holes = [{ at = "centre, 60 mm from bottom", punch = "4 mm", takes = "stud" }]
[pieces.flap]
of = "body"
shape = "rectangle"
size = ["200 mm", "140 mm"]
folds = [{ at = "35 mm from top", open = true, angle = 90 }, { at = "80 mm from top", open = true, angle = 90 }]
[pieces.flap-lining]
like = "flap"
of = "pig"
marks = false
[seams.flap]
stitch = "main"
meet = ["flap: top", "flap-lining: top", "back"]
[seams.flap-edge]
stitch = "main"
meet = ["tape", "flap: left bottom right", "flap-lining: left bottom right"]
[seams.front-top]
stitch = "main"
meet = ["tape", "front: top", "cloth: top"]
[seams.back-top]
stitch = "main"
meet = ["tape", "back: top", "cloth: top"]
[seams.round]
stitch = "main"
meet = ["front: left bottom right", "back: left bottom right"]
"""


def test_edges_are_bound_before_a_flap_is_sewn_on_over_them(tmp_path: Path) -> None:
    """The binding of the front's mouth comes first: the first copy of the cloth is the front's, as it is written."""
    path = tmp_path / "flap.toml"
    head = BASE.split("[hardware.foot]")[0] + '[hardware.stud]\nwhat = "stud"\ncount = 1\n'
    path.write_text(head.replace('[materials.grey]\nkind = "board"\nthickness = "2.5 mm"\n', "") + FLAP)
    build = resolve_build(read_spec(path))
    order = [name for step in build.assembly.steps for name in step.seams]
    assert order == ["flap-edge", "front-top", "back-top", "flap", "round"]


TUBE = write_out("""\
<spec tube: Tube, version 1>
<leather hide: 2 mm>
<stitch main: by machine, Tex 135 bonded nylon, 4 mm, 4 mm>
<strip wall of hide: ["120 mm", "solve"]>
[pieces.base]
of = "hide"
shape = "circle"
diameter = "110 mm"
landings = [{ piece = "wall", at = "centre, 20 mm from bottom" }]
[joins.tube]
of = ["wall"]
overlap = "12 mm"
stitch = "main"
ring = true
""")


@pytest.mark.parametrize(("seam", "is_fixed"), [('<seam foot: ["base: edge", "tube: left"]>', False), ("", True)])
def test_a_strip_is_laid_by_the_seam_of_what_it_is_joined_to(tmp_path: Path, seam: str, is_fixed: bool) -> None:
    """Of a landing of a strip on a base to which its ring is sewn a step of its own was proposed."""
    path = tmp_path / "tube.toml"
    size = TUBE if seam else TUBE.replace('"solve"', '"90 mm"')
    path.write_text(size + write_out(seam))
    steps = resolve_build(read_spec(path)).assembly.steps
    assert any(step.do.startswith("Fix") for step in steps) == is_fixed
