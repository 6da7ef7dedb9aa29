"""What a caution tells is not asked beside it; what it does not tell is."""

from collections.abc import Callable

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
