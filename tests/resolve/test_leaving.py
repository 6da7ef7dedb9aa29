"""Variants that leave out pieces, straps, hardware and seams, and all that hangs on them."""

import pytest
from spec_text import Resolve, Tell, write_out

from docgen.checks import resolve_build
from docgen.read import read_spec

BAG = write_out("""\
<back>
<bare front>
holes = [{ at = "centre, 20 mm from top", punch = "4 mm", takes = "stud" }]
landings = [
  { piece = "pocket", at = "20 mm from left, 20 mm from bottom" },
  { strap = "loop", at = "40 mm from left, 40 mm from top", stitch = "main" },
]
<rectangle pocket: ["100 mm", "80 mm"]>
<rectangle badge: ["100 mm", "80 mm"]>
landings = []
[straps.loop]
of = "body"
width = "20 mm"
finished = "100 mm"
[hardware.stud]
what = "button stud, 4 mm post"
kind = "other"
count = 1
hole = "4 mm"
[trimmings.edge]
what = "binding"
kind = "binding"
thickness = "0.5 mm"
along = ["pocket: top"]
[seams.pocket-seam]
stitch = "main"
meet = ["pocket: left bottom right", "front"]
[seams.round]
stitch = "main"
meet = ["badge", "front: left bottom right", "back: left bottom right"]
<step "Set the stud.": hardware = ["stud"]>
pieces = ["front"]
<step "Bind the pocket and sew it on.": seams = ["pocket-seam"]>
trimmings = ["edge"]
<step "Make the loop and sew it on.": straps = ["loop"]>
pieces = ["front"]
<step "Sew round.": seams = ["round"]>
name = "round"
""").replace("landings = []\n", "")


def plain(resolve_text: Resolve, *without: str):
    listed = ", ".join(f'"{name}"' for name in without)
    resolve_text(BAG + f"[variants.plain]\nwithout = [{listed}]\n")
    return resolve_build(read_spec("a.toml"), "plain")


def test_a_piece_goes_with_its_places_seams_trimmings_and_steps(resolve_text: Resolve) -> None:
    build = plain(resolve_text, "pocket", "badge")
    assert [piece.name for piece in build.pieces] == ["back", "front"]
    front = build.pieces[1]
    assert front.marks.landings == ()
    assert [strap.strap for strap in front.strap_landings] == ["loop"]
    assert [seam.name for seam in build.seams] == ["round"]
    assert [side.part for side in build.seams[0].sides] == ["front", "back"]
    assert build.trimmings == ()
    assert [step.do for step in build.steps] == ["Set the stud.", "Make the loop and sew it on.", "Sew round."]


def test_hardware_goes_with_its_holes_and_a_strap_with_its_landing(resolve_text: Resolve) -> None:
    build = plain(resolve_text, "stud", "loop")
    assert build.hardware == ()
    assert build.straps == ()
    front = build.pieces[1]
    assert (front.marks.holes, front.strap_landings) == ((), ())
    # What still handles a piece stays, without what is gone.
    assert [(step.do, step.hardware, step.straps) for step in build.steps[::2]] == [
        ("Set the stud.", (), ()),
        ("Make the loop and sew it on.", (), ()),
    ]


def test_ends_of_straps_keep_what_is_not_left_out(resolve_text: Resolve) -> None:
    ends = 'ends = [{ shape = "square" }, { shape = "turned", back = "40 mm", around = "ring", sewn = "main" }]\n'
    ring = '[hardware.ring]\nwhat = "D ring"\ncount = 1\ninside = "20 mm"\nbar = "4 mm"\n'
    tail = f'[straps.tail]\nof = "body"\nwidth = "20 mm"\nfinished = "200 mm"\n{ends}{ring}'
    resolve_text(BAG + tail + '[variants.plain]\nwithout = ["stud"]\n')
    build = resolve_build(read_spec("a.toml"), "plain")
    assert [end.rings for strap in build.straps if strap.name == "tail" for end in strap.ends] == [(), ("ring",)]


def test_a_step_of_the_name_is_meant_first(resolve_text: Resolve) -> None:
    build = plain(resolve_text, "round")
    assert "round" in [seam.name for seam in build.seams]
    assert len(build.steps) == 3


@pytest.mark.parametrize(
    ("more", "line", "told"),
    [
        (
            '[variants.plain]\nwithout = ["pockt"]\n',
            2,
            'error: without = "pockt", but there is no step, piece, strap or hardware of that name\n'
            '    written: "pockt"\n    mend:    did you mean "pocket"?\n',
        ),
        (
            '[pieces.twin]\nlike = "pocket"\n[variants.plain]\nwithout = ["pocket"]\n',
            4,
            'error: the variant "plain" leaves out "pocket", and "twin" is like it\n'
            '    written: "pocket"\n    mend:    leave out "twin" too, or keep both\n',
        ),
        (
            '[straps.k]\nof = "body"\nwidth = "10 mm"\nkeeper-for = "loop"\n[variants.plain]\nwithout = "loop"\n',
            6,
            'error: the variant "plain" leaves out "loop", and "k" goes round it\n'
            '    written: "loop"\n    mend:    leave out "k" too, or keep both\n',
        ),
    ],
)
def test_what_cannot_be_left_out_is_told(more: str, line: int, told: str, messages: Tell, head: str) -> None:
    before = (head + BAG).count("\n")
    assert f"a.toml:{before + line}: {told}" in messages(BAG + more)
