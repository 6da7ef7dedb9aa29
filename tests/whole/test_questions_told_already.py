"""What a caution tells is not asked beside it; what it does not tell is."""

from collections.abc import Callable

from spec_text import HEAD, write_out

from docgen.checks import resolve_variants
from docgen.read import Spec

Ask = Callable[..., list[str]]

STOUT = """\
<leather stout: 9 mm>
<bag>
<strap s of stout: 30 mm>
finished = "500 mm"
"""
LEFT_OUT = """\
<bag>
<step "Cut back and front to size.": tools = ["knife"]>
<step "Sew back and front to each other.": tools = ["awl"]>
seams = ["s"]
"""
TABS = """\
<back>
holes = [{ at = "30 mm from left, 30 mm from top", punch = "4 mm" }]
<front>
marks = false
<seam>
<rectangle tab: ["20 mm", "60 mm"]>
holes = [{ at = "10 mm from left, 10 mm from top", punch = "4 mm", takes = "rivet", through = ["back"] }]
<hardware rivet: 1, copper rivet>
"""


def about(asked: list[str], words: str) -> list[str]:
    return [one for one in asked if words in one]


def test_a_strap_as_thick_as_no_leather_is_sold_is_told_of_its_leather_alone(ask: Ask) -> None:
    """Leather is sold up to 6.5 mm: of 6 mm twice over, and sound, the strap is asked about, of 9 mm the leather told."""
    assert about(ask(STOUT), "straps are mostly") == []
    doubled = ('finished = "500 mm"\n', 'finished = "500 mm"\ndoubled = true\nstitch = "main"\n')
    assert len(about(ask(STOUT.replace("9 mm", "4 mm"), doubled), "straps are mostly")) == 1


def test_a_step_that_lost_its_seam_is_not_asked_what_it_sews(ask: Ask) -> None:
    lost = ('seams = ["s"]\n', "")
    told = ask(LEFT_OUT, lost)
    assert about(told, "sews, and nothing says") == []
    assert about(told, "has nothing in hand") == ['23: a step speaks of "back" and "front", and has nothing in hand']


def test_one_tab_too_many_is_not_asked_where_it_is_riveted(ask: Ask) -> None:
    assert about(ask(TABS), "is riveted") == []
    more = ('size = ["20 mm", "60 mm"]\n', 'size = ["20 mm", "60 mm"]\ncut = 2\n')
    assert about(ask(TABS, more), "is riveted") == []


BEYOND = """\
<rectangle plate: ["200 mm", "150 mm"]>
landings = [{ strap = "lead", at = "60 mm from top, 30 mm from left", over = "42 mm", leads = "left", stitch = "main" }]
<strap lead of body: 20 mm>
finished = "300 mm"
ends = [{ shape = "square" }, { shape = "square" }]
"""


def test_an_end_that_a_caution_tells_to_reach_over_the_edge_is_not_asked_about_too(ask: Ask) -> None:
    """On a piece with a fold, across which the end may lie, no caution tells it."""
    assert about(ask(BEYOND), "over its edge") == []
    size = '<rectangle plate: ["200 mm", "150 mm"]>'
    folded = (size, f'{size}\nfolds = [{{ at = "centre", open = true }}]')
    assert len(about(ask(BEYOND, folded), "over its edge")) == 1
    assert about(ask(BEYOND, folded, ("30 mm from left", "38 mm from left")), "over its edge") == []


UNEVEN = """\
<rectangle front: ["300 mm", "200 mm"]>
landings = [
  { strap = "grip", at = "80 mm from bottom, 4 in left of centre", over = "30 mm", leads = "up" },
  { strap = "grip", at = "80 mm from bottom, 4 in right of centre", over = "30 mm", leads = "up", end = "second" },
]
<strap grip of body: 20 mm>
finished = "500 mm"
ends = [{ shape = "square" }, { shape = "square" }]
"""


def test_ends_that_a_caution_tells_to_lie_askew_are_not_asked_about_too(ask: Ask) -> None:
    """A caution tells up to 30 mm; of more it is asked."""
    near, far = (("4 in left", f"{inches} left") for inches in ("3 1/2 in", "2 in"))
    assert about(ask(UNEVEN), "hang aslant") == about(ask(UNEVEN), "from the middle of") == []
    assert about(ask(UNEVEN, near), "from the middle of") == []
    assert len(about(ask(UNEVEN, far), "from the middle of")) == 1


TURNED = """\
<rectangle front: ["200 mm", "150 mm"]>
<rectangle back: ["200 mm", "150 mm"]>
<rectangle inner: ["200 mm", "150 mm"]>
<rectangle outer: ["200 mm", "150 mm"]>
<seam round: ["front: left bottom right", "back: left bottom right"]>
turned = true
<seam round-lining: ["inner: left bottom right", "outer: left bottom right"]>
turned = true
<step "Sew front to back, then inner to outer, and turn both.": seams = ["round", "round-lining"]>
"""


def test_a_seam_that_is_written_not_to_be_turned_is_asked_about_once(ask: Ask) -> None:
    round_ = '["front: left bottom right", "back: left bottom right"]>\nturned = '
    flag = (f"<seam round: {round_}true", f"<seam round: {round_}false")
    assert about(ask(TURNED), "turn") == []
    (told,) = about(ask(TURNED, flag), "turned")
    assert 'turns what it sews, and "round" is not turned' in told


LEFT_AND_RIGHT = """\
<back>
<front>
<seam>
<strap foot-left of body: 25 mm>
finished = "160 mm"
ends = [
  { shape = "turned", back = "55 mm", around = "ring", sewn = "main" },
  { shape = "turned", back = "55 mm", around = "ring", sewn = "main" },
]
<strap foot-right of body: 25 mm>
finished = "160 mm"
ends = [
  { shape = "turned", back = "55 mm", around = "ring", sewn = "main" },
  { shape = "turned", back = "55 mm", around = "ring", sewn = "main" },
]
<hardware ring: 4, D ring>
"""


def test_what_is_asked_of_a_left_and_a_right_part_alike_is_asked_once_with_both_lines(ask: Ask) -> None:
    """Of other figures both are asked, and of names that are no left and right."""
    one, other = (number for number, line in enumerate(written(LEFT_AND_RIGHT), 1) if 'finished = "160 mm"' in line)
    lies = "is 160 mm (6 5/16 in) long when finished, and 110 mm (4 11/32 in) lies back at its ends"
    assert about(ask(LEFT_AND_RIGHT), "lies back") == [
        f'{one}: "foot-left" {lies}; "foot-right" likewise (line {other})'
    ]
    longer = LEFT_AND_RIGHT.replace("160", "165", 1)
    assert [told[:2] for told in about(ask(longer), "lies back")] == [str(one), str(other)]
    named = LEFT_AND_RIGHT.replace("foot-left", "foot-long").replace("foot-right", "foot-other")
    assert [told[:2] for told in about(ask(named), "lies back")] == [str(one), str(other)]


def written(text: str) -> list[str]:
    return write_out(HEAD + write_out(text)).splitlines()


BY_ITSELF = """\
<back>
<front>
<seam>
<rectangle wrap: ["30 mm", "120 mm"]>
<step "Sew back and front to each other.": tools = ["awl"]>
seams = ["s"]
<step "Cut the wrap.": tools = ["knife"]>
pieces = ["wrap"]
"""
ACCEPTED = """\
[[accept]]
check = "piece-loose"
at = "wrap"
reason = "it is an article by itself"
"""


def test_a_piece_that_nothing_holds_is_told_as_that_and_not_asked_where_it_lies_also_where_it_is_accepted(
    ask: Ask, short_spec: Callable[..., Spec]
) -> None:
    told = [one.check for build in resolve_variants(short_spec(BY_ITSELF)) for one in build.cautions]
    assert "piece-loose" in told
    assert about(ask(BY_ITSELF), "nothing says where") == []
    assert about(ask(BY_ITSELF + ACCEPTED), "nothing says where") == []


def test_holes_at_ends_that_lie_back_unlike_are_not_asked_about(ask: Ask) -> None:
    """A rivet of an end that is turned farther lies farther in."""
    holes = 'punches = [{ at = "centre, 25 mm from start", punch = "4 mm", takes = "pin" }, '
    holes += '{ at = "centre, 42 mm from end", punch = "4 mm", takes = "pin" }]\n<strap foot-right'
    pinned = LEFT_AND_RIGHT.replace("<strap foot-right", holes) + "<hardware pin: 2, copper rivet>\n"
    assert len(about(ask(pinned), "is set 25 mm from start")) == 1
    unlike = pinned.replace('back = "55 mm"', 'back = "75 mm"', 1)
    assert about(ask(unlike), "is set 25 mm from start") == []
