"""Whether a hem is turned over by a step, and what follows for seams, layers, posts, rows and pictures. Figures by hand."""

import math
from collections.abc import Callable
from pathlib import Path

import pytest
from short_specs import hole, piece, rivet, seam, step

from docgen.assemble import Assembled, TakenApart, UnsureError
from docgen.checks.questions import ask_maker
from docgen.pages.pictures.stacks import list_stacks
from docgen.plan import plan_work
from docgen.read import read_spec

Resolve = Callable[[str], Assembled]

HEM = 'hems = [{ edges = "top", turn = "12 mm" }]\n'
PANELS = (
    piece("front", 200, 150, HEM)
    + piece("back", 200, 150, HEM)
    + seam("side", "front: left", "back: right")
    + seam("foot", "front: bottom", "back: bottom")
    + seam("mouth", "front: top", "front")
    + seam("mouth-back", "back: top", "back")
)
SIDES = step("Sew side and foot.", seams="side foot")
MOUTHS = step("Turn the mouths over and sew them.", seams="mouth mouth-back", tools="glue")
LOOSE = PANELS.replace('turn = "12 mm"', 'turn = "30 mm"')
BARE_MOUTHS = MOUTHS.replace('tools = ["glue"]', 'tools = ["mallet"]')
POUCH = """\
[pieces.base]
of = "body"
shape = "circle"
diameter = "100 mm"
[pieces.wall]
of = "body"
shape = "strip"
size = ["170 mm", "solve"]
hems = [{ edges = "left", turn = "12 mm" }]
[pieces.lining]
of = "cloth"
shape = "strip"
size = ["150 mm", "solve"]
lines = ["wall"]
<join tube: ["wall"], 10 mm>
ring = true
<join inner: ["lining"], 10 mm>
ring = true
<seam mouth: ["wall: left", "wall"]>
<seam foot: ["base: edge", "inner: right", "tube: right"]>
<step "Sew both into rings.": joins = ["tube", "inner"]>
<step "Turn the mouth and sew it.": seams = ["mouth"]>
tools = ["glue"]
<step "Sew the bottom in.": seams = ["foot"]>
"""


def length_mm(build: Assembled, name: str) -> float:
    return next(one.length_mm for one in build.seams if one.name == name)


def layers_mm(build: Assembled, name: str) -> tuple[float, float]:
    stack = build.assembly.stack(name)
    return stack.thinnest_mm, stack.thickest_mm


def asked(resolve_text: Resolve, text: str) -> str:
    build = resolve_text(text)
    return "\n".join(one.what for one in ask_maker(read_spec(Path("a.toml")), [build]))


def test_a_side_sewn_before_its_hem_is_turned_runs_out_to_the_cut_edge(resolve_text: Resolve) -> None:
    """Panels of 150 mm, 12 mm of them turned over: 150 mm are sewn before that through two layers of 2 mm, 138 mm after
    it, where two more lie under the needle for the upper 12 mm."""
    early, late = resolve_text(PANELS + SIDES + MOUTHS), resolve_text(PANELS + MOUTHS + SIDES)
    assert (length_mm(early, "side"), length_mm(late, "side")) == pytest.approx((150, 138))
    assert (layers_mm(early, "side"), layers_mm(late, "side")) == ((4, 4), (4, 8))
    assert length_mm(early, "foot") == length_mm(late, "foot") == pytest.approx(200)
    assert (early.assembly.unturned(0), early.assembly.unturned(1)) == ({"front", "back"}, frozenset())
    assert late.assembly.unturned(0) == frozenset()


TURNED = PANELS.replace(
    seam("side", "front: left", "back: right"), seam("side", "front: left", "back: left", more="turned = true\n")
)


def test_the_row_of_a_hem_ends_at_a_turned_seam_that_is_sewn_before(resolve_text: Resolve) -> None:
    """Of a mouth of 200 mm the 4 mm beyond the side seam are turned in by then; lying flat it is sewn from edge to edge."""
    early, late = resolve_text(TURNED + MOUTHS + SIDES), resolve_text(TURNED + SIDES + MOUTHS)
    assert (length_mm(early, "mouth"), length_mm(late, "mouth")) == pytest.approx((200, 196))
    row = next(one for one in late.pieces[0].marks.stitch_lines if one.seam == "mouth").path
    assert sorted((row.segments[0].start.x, row.segments[-1].end.x)) == pytest.approx([4, 200])
    assert length_mm(resolve_text(PANELS + SIDES + MOUTHS), "mouth") == pytest.approx(200), "its edges stay outside"


def test_work_that_is_turned_right_side_out_is_not_hemmed_by_that(resolve_text: Resolve) -> None:
    out = SIDES.replace("Sew side and foot.", "Sew side and foot, and turn the bag right side out.")
    build = resolve_text(TURNED + out + MOUTHS)
    assert dict(build.assembly.turning) == {"front": 1, "back": 1}
    assert dict(resolve_text(TURNED + out.replace("right side out", "over") + MOUTHS).assembly.turning)["front"] == 0


def test_the_row_of_a_hem_does_not_go_through_the_panel_across(resolve_text: Resolve) -> None:
    """Only the allowance of the side seam lies under an end of the row."""
    round_ = seam("side", "front: left bottom right", "back: left bottom right", more="turned = true\n")
    text = PANELS.replace(seam("side", "front: left", "back: right"), round_)
    text = text.replace(seam("foot", "front: bottom", "back: bottom"), "")
    build = resolve_text(text + step("Sew it round.", seams="side") + MOUTHS)
    back = next(body for body in TakenApart(build).closed.bodies if body.copy.part == "back")
    assert {line.name for line in back.lines if line.kind == "stitch"} == {"side", "mouth-back"}
    assert build.assembly.room is not None
    assert build.assembly.room.height_mm == pytest.approx(150 - 12 - 4), "from the foot to the fold"


def test_what_is_turned_in_with_its_seam_is_not_drawn_beyond_the_fold(resolve_text: Resolve) -> None:
    build = resolve_text(PANELS + SIDES + MOUTHS)
    front = next(one for one in build.space.parts if one.copy.part == "front")
    side = next(mark for mark in front.item.marks if mark.name == "side")
    heights = [at.y for segment in side.path.segments for at in (segment.start, segment.end)]
    assert (min(heights), max(heights)) == pytest.approx((0, 138))


def test_a_step_before_the_turning_is_not_drawn_with_hems_turned(resolve_text: Resolve) -> None:
    apart = TakenApart(resolve_text(PANELS + SIDES + MOUTHS))
    with pytest.raises(UnsureError, match="the hem of back is turned over later, in step 2"):
        apart.heaps(0)
    assert TakenApart(resolve_text(PANELS + MOUTHS + SIDES)).heaps(1)[1]


def test_a_panel_is_drawn_as_it_is_cut_until_its_hem_is_turned(resolve_text: Resolve) -> None:
    """150 mm high while a badge is sewn on it, 138 mm once the hem of 12 mm is turned."""
    text = PANELS.replace(HEM, HEM + 'landings = [{ piece = "badge", at = "centre, 40 mm from bottom" }]\n', 1)
    text += piece("badge", 40, 30) + seam("badge", "badge: all", "front")
    apart = TakenApart(resolve_text(text + step("Sew the badge on.", seams="badge") + MOUTHS + SIDES))
    high = []
    for number in (0, 2):
        bodies, heaps = apart.heaps(number)
        assert heaps
        front = next(body for body in bodies.values() if body.copy.part == "front")
        axes = zip(*(at for face in front.faces for at in face.corners), strict=True)
        high.append(sorted(max(axis) - min(axis) for axis in axes)[1])
    assert high == pytest.approx([150, 138])


def test_a_side_beside_a_part_without_a_hem_ends_at_the_fold_and_is_asked_about(resolve_text: Resolve) -> None:
    """The back is as long as the front between its folds, 138 mm: who sews it first leaves 12 mm of the front open."""
    text = PANELS.replace(piece("back", 200, 150, HEM), piece("back", 200, 138)).replace(
        seam("mouth-back", "back: top", "back"), ""
    )
    mouth = MOUTHS.replace(', "mouth-back"', "")
    what = 'step 1 sews "side" up to the fold of the hem of "front", which only step 2 turns over: 12 mm (15/32 in) of'
    assert length_mm(resolve_text(text + SIDES + mouth), "side") == pytest.approx(138)
    assert what in asked(resolve_text, text + SIDES + mouth)
    assert "up to the fold" not in asked(resolve_text, text + mouth + SIDES)
    assert "up to the fold" not in asked(resolve_text, PANELS + SIDES + MOUTHS)


def test_a_post_set_before_the_turning_goes_through_one_layer(resolve_text: Resolve) -> None:
    """A hole 6 mm below the fold, under what is turned 12 mm over: leather of 2 mm once before, twice after."""
    text = PANELS.replace(HEM, HEM + hole("centre, 18 mm from top"), 1) + rivet()
    rivets = step("Rivet.", pieces="front", hardware="rivet")
    early, late = (resolve_text(text + order + SIDES) for order in (rivets + MOUTHS, MOUTHS + rivets))
    thick = [[one.stack.thickest_mm for one in build.assembly.fastened] for build in (early, late)]
    assert thick == [[2], [4]]
    assert any('hems "front" over "rivet", which step 1 sets already' in one.what for one in early.cautions)


def test_a_hem_that_hangs_loose_beyond_its_row_is_asked_about_and_its_row_not_drawn(resolve_text: Resolve) -> None:
    """30 mm turned over, sewn 4 mm from the fold: 26 mm hang loose, unless a glue holds them."""
    what = '"mouth" holds the hem of "front" 4 mm (5/32 in) from its fold, and 26 mm (1 1/32 in) of what is turned'
    loose, glued = LOOSE + BARE_MOUTHS + SIDES, LOOSE + MOUTHS + SIDES
    assert what in asked(resolve_text, loose)
    twice = [
        BARE_MOUTHS.join((LOOSE.replace('turn = "30 mm"', f'turn = "{mm} mm", double = true'), SIDES))
        for mm in (14, 13)
    ]
    assert ["hang loose" in asked(resolve_text, text) for text in twice] == [True, False]
    assert "hang loose" not in asked(resolve_text, glued) + asked(resolve_text, PANELS + BARE_MOUTHS + SIDES)
    for text, is_drawn in ((loose, False), (glued, True)):
        build = resolve_text(text)
        closed = TakenApart(build).closed
        rows = {line.name for body in closed.bodies for line in body.lines}
        drawn = {name for one in plan_work(build).steps[0].drawn for name in one.seams}
        assert (("mouth" in rows), ("mouth" in drawn)) == (is_drawn, is_drawn)
        assert (build.titles["mouth"] in closed.absent) is not is_drawn


def test_a_row_that_misses_the_lining_under_its_hem_is_asked_about(resolve_text: Resolve) -> None:
    """A panel of 138 mm to its fold and a lining of 118 mm: that ends 20 mm below the fold, the row lies 4 mm below it."""
    text = (PANELS + piece("lining", 200, 118, 'lines = ["front"]\n', of="cloth")).replace(
        '"front: top", "front"', '"front: top", "lining"'
    )
    what = '"mouth" lies 4 mm (5/32 in) from the fold of "front", and "lining" under the hem ends 20 mm'
    assert what in asked(resolve_text, text + MOUTHS + SIDES)
    assert "under the hem ends" not in asked(resolve_text, text.replace("118 mm", "136 mm") + MOUTHS + SIDES)


def test_the_row_of_a_hem_round_a_ring_is_as_long_as_the_ring(resolve_text: Resolve) -> None:
    """Its strip is longer by the overlap of 10 mm; where that is hemmed lying flat the row goes from end to end."""
    rings, mouth, foot = POUCH[POUCH.index("<step") :].split("<step")[1:]
    head = POUCH[: POUCH.index("<step")]
    closed = resolve_text(POUCH)
    flat = resolve_text(head + "".join(f"<step{one}" for one in (mouth, rings, foot)))
    ring_mm = next(join.length_mm for join in closed.joins if join.name == "tube")
    assert length_mm(closed, "mouth") == pytest.approx(ring_mm) == pytest.approx(length_mm(closed, "foot"))
    assert length_mm(flat, "mouth") == pytest.approx(ring_mm + 10)


def test_a_lining_that_a_hem_may_be_turned_over_is_left_out_with_the_section_of_the_row(resolve_text: Resolve) -> None:
    """It reaches up to 8 mm below the fold, under the 12 mm that are turned over."""
    build = resolve_text(POUCH)
    told = [one for one in TakenApart(build).tell_withheld() if "nothing says whether the hem" in one]
    assert told == [
        '"inner" from step 2 on, and the section of "mouth": nothing says whether the hem of "tube" is turned over "inner"'
    ]
    assert not [one for stack in list_stacks(build) for one in stack.titles([2])]
    short = resolve_text(POUCH.replace('"150 mm", "solve"', '"140 mm", "solve"'))
    assert not [one for one in TakenApart(short).tell_withheld() if "nothing says whether the hem" in one]
    assert [one for stack in list_stacks(short) for one in stack.titles([2])]


def test_what_is_riveted_on_later_does_not_lie_under_the_row_for_being_punched_with_its_panel(
    resolve_text: Resolve,
) -> None:
    """A tab from 10 to 50 mm below the cut edge, the row 16 mm below it."""
    lands = 'landings = [{ piece = "tab", at = "centre, 10 mm from top" }]\n' + hole("centre, 40 mm from top")
    tab = piece("tab", 15, 40, hole("centre, 10 mm from bottom"))
    text = PANELS.replace(HEM, HEM + lands, 1) + tab + rivet()
    punch = step("Punch the holes.", pieces="front tab")
    rivets = step("Rivet the tab on.", pieces="front tab", hardware="rivet")
    after, before = (resolve_text(text + punch + order + SIDES) for order in (MOUTHS + rivets, rivets + MOUTHS))
    assert {layer.part for layer in after.assembly.stack("mouth").layers} == {"front"}
    assert {layer.part for layer in before.assembly.stack("mouth").layers} == {"front", "tab"}
    assert [one.stack.parts for one in after.assembly.fastened] == [("front", "tab")]


def test_the_hem_of_a_ring_is_two_layers_and_twice_as_many_at_its_joint(resolve_text: Resolve) -> None:
    """The wall of 2 mm and its edge, skived to 1.2 mm, that lies back: 3.2 mm. Two of each lie over each other at the
    joint, so that its stitch is tried on four layers; unskived they are 4 mm and 8 mm."""
    skive = 'skives = [{ edges = "left", width = "14 mm", to = "1.2 mm" }]\n[pieces.lining]'
    own = '<stitch own: by hand, Tex 210 waxed polyester, 4 mm, 4 mm>\n[seams.mouth]\nstitch = "own"\n'
    ring = POUCH.replace('<seam mouth: ["wall: left", "wall"]>', f'{own}meet = ["tube: left", "tube"]')
    skived = resolve_text(ring.replace("[pieces.lining]", skive))
    assert layers_mm(skived, "mouth") == pytest.approx((3.2, 6.4))
    assert [len(one.materials) for one in plan_work(skived).scraps if one.stitch.name == "own"] == [4]
    assert layers_mm(resolve_text(ring), "mouth") == pytest.approx((4, 8))


def test_the_hem_of_a_ring_may_be_written_by_its_strip(resolve_text: Resolve) -> None:
    """The same row through the same layers; one that is sewn before the ring is closed has no joint."""
    ring, mouth, foot = POUCH[POUCH.index("<step") :].split("<step")[1:]
    before = POUCH[: POUCH.index("<step")] + "<step".join(("", mouth, ring, foot))
    by_strip, by_ring, flat = (
        resolve_text(text)
        for text in (POUCH, POUCH.replace('["wall: left", "wall"]', '["tube: left", "tube"]'), before)
    )
    assert layers_mm(by_strip, "mouth") == layers_mm(by_ring, "mouth") == pytest.approx((4, 8))
    assert (
        length_mm(by_strip, "mouth") == length_mm(by_ring, "mouth") == pytest.approx(math.pi * (100 - 2 * 4), abs=0.1)
    )
    assert layers_mm(flat, "mouth") == pytest.approx((4, 4))


def test_the_hem_of_a_strip_that_lies_flat_has_no_joint(resolve_text: Resolve) -> None:
    """One part wide and open, hemmed along an edge of its own: the wall and what lies back."""
    wall = POUCH[POUCH.index("[pieces.wall]") : POUCH.index("[pieces.lining]")].replace('"solve"', '"300 mm"')
    text = wall + seam("mouth", "wall: left", "wall") + step("Turn the mouth and sew it.", seams="mouth", tools="glue")
    assert layers_mm(resolve_text(text), "mouth") == pytest.approx((4, 4))


# Both tops are sewn to each other in the second step, and the sides face to face in the third. Which step turns the hems
# follows from the words, and from the seam that sews their folds: by hand.
RIM = (
    piece("front", 200, 150, HEM)
    + piece("back", 200, 150, HEM)
    + seam("rim", "front: top", "back: top")
    + seam("round", "front: left bottom right", "back: left bottom right", more="turned = true\n")
)
OPENED = "Sew round face to face, leaving 60 mm open; turn it."


def turned_in(resolve_text: Resolve, first: str, second: str, third: str) -> set[int]:
    words = step(first, pieces="front back") + step(second, seams="rim") + step(third, seams="round")
    return {at + 1 for _, at in resolve_text(RIM + words).assembly.turning}


@pytest.mark.parametrize(
    ("first", "at"),
    [
        ("Press the hems of both.", 1),
        ("Glue both hems.", 1),
        ("Fold the tops over.", 1),
        ("Press both flat.", 2),
        ("Glue the patch below the hem.", 2),
        ("Press the hem allowance flat.", 2),
    ],
)
def test_a_hem_is_turned_by_words_that_hold_it_or_by_the_seam_of_its_fold(
    resolve_text: Resolve, first: str, at: int
) -> None:
    assert turned_in(resolve_text, first, "Sew the rim.", OPENED) == {at}


def test_no_hem_is_turned_after_its_fold_is_sewn(resolve_text: Resolve) -> None:
    """Whatever else is turned or folded later; a row along the sides alone leaves the hem for later."""
    assert turned_in(resolve_text, "Mark both.", "Sew the rim.", "Sew round, and fold the corners.") == {2}
    late = step("Mark both.", pieces="front back") + step("Sew round.", seams="round")
    later = late + step("Fold the tops over and sew the rim.", seams="rim")
    assert {at + 1 for _, at in resolve_text(RIM + later).assembly.turning} == {3}


def test_what_is_turned_as_a_whole_turns_no_hem(resolve_text: Resolve) -> None:
    """`turn it` is said of what is sewn face to face, `turn the tops over` of the edges. A row along the sides ends at the
    folds, and so goes through the hems; it turns them where no words do."""
    sewn = "Sew the rim."
    assert turned_in(resolve_text, OPENED, sewn, "Sew round.") == {2}
    assert turned_in(resolve_text, "Turn the tops over.", sewn, "Sew round.") == {1}
    sides = step("Mark both.", pieces="front back") + step(OPENED, seams="round") + step(sewn, seams="rim")
    assert {at + 1 for _, at in resolve_text(RIM + sides).assembly.turning} == {2}
