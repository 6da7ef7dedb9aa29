"""Checks near their limits: a hair beyond it fires, a hair within it is silent.

The limits are written here as numbers. All are common practice, no published source, unless a case says more.
"""

import pytest
from spec_text import Resolve, Tell, write_out

from docgen.problems import SpecRejected

BACK, FRONT, SEAM, BELT = (
    write_out(f"<{short}>\n") for short in ("back", "bare front", "seam", "strap belt of body: 20 mm")
)
TAB = """\
[pieces.tab]
of = "body"
shape = "rectangle"
size = ["40 mm", "60 mm"]
holes = [{ at = "20 mm from left, 30 mm from bottom", punch = "4 mm", takes = "rivet" }]
"""
LANDING = 'landings = [{ piece = "tab", at = "20 mm from left, 20 mm from bottom" }]\n'


def item(what: str, more: str = "") -> str:
    return f'[hardware.rivet]\nwhat = "{what}"\ncount = 2\n{more}'


def hole(across: str, punch: str) -> str:
    at = f"{across} mm from left, 50 mm from bottom"
    return f'holes = [{{ at = "{at}", punch = "{punch} mm", takes = "rivet" }}]\n'


def fold(far: str, skived: str = "1") -> str:
    skive = f'{{ edges = "top", width = "15 mm", to = "{skived} mm" }}'
    return BACK + f'folds = [{{ at = "{far} mm from top" }}]\nskives = [{skive}]\n' + FRONT + SEAM


def landed(across: str) -> str:
    """The tab's hole lies on 40 mm from the left of the back."""
    return item("double-cap rivet") + TAB + BACK + LANDING + hole(across, "4")


def punched(what: str, punch: str, more: str = "") -> str:
    return item(what, more) + BACK + hole("100", punch)


def lining(inset: str) -> str:
    cloth = '[materials.cloth]\nkind = "fabric"\nthickness = "0.6 mm"\nwidth = "900 mm"\n'
    return cloth + BACK + f'[pieces.l]\nof = "cloth"\nlike = "back"\ninset = "{inset} mm"\n'


def notch(up: str) -> str:
    first = 'notches = [{ on = "left", at = "60 mm from bottom" }]\n'
    return BACK + first + FRONT + first.replace("60", up) + SEAM


def turned(back: str) -> str:
    ring = '[hardware.ring]\nwhat = "D ring"\ncount = 1\ninside = "26 mm"\nbar = "4 mm"\n'
    end = f'{{ shape = "turned", back = "{back} mm", around = "ring" }}'
    return ring + BELT + f'finished = "300 mm"\nends = [{end}, {{ shape = "square" }}]\n'


def tip(left: str) -> str:
    return BELT + f'wears = "400 mm"\nholes = {{ count = 3, punch = "4 mm", tip = "{left} mm" }}\n'


def rowed(pitch: str) -> str:
    row = f'{{ count = 3, pitch = "{pitch} mm", punch = "4 mm", tip = "60 mm" }}'
    return BELT + f'wears = "400 mm"\nholes = {row}\n'


def through(punch: str) -> str:
    """A hole of 4 mm in the back, and one of another size in the front."""
    first = hole("100", "4").replace('"rivet"', '"rivet", through = ["front"]')
    second = hole("100", punch).replace(', takes = "rivet"', "")
    return item("double-cap rivet") + BACK + first + FRONT + second + SEAM


def pitched(pitch: str) -> str:
    stitch = '[stitches.other]\nby = "machine"\nthread = "Tex 70 nylon"\ninset = "4 mm"\n'
    return stitch + f'pitch = "{pitch} mm"\n' + BACK + FRONT + SEAM.replace("main", "other")


def unequal(height: str) -> str:
    front = BACK.replace("back", "front").replace("150 mm", f"{height} mm")
    return BACK + front + SEAM


# check, and what of it -> a spec just beyond the limit, and one just within it.
LIMITS: dict[str, tuple[str, str]] = {
    "skive-thin-at-fold": (fold("10", "0.49"), fold("10", "0.51")),  # 0.5 mm of leather
    "fold-allowance": (fold("4.9"), fold("5.1")),  # 5 mm
    "holes-apart": (landed("41.1"), landed("40.9")),  # 1 mm
    "holes-apart, meant for two": (landed("45.9"), landed("46.1")),  # 6 mm
    "lining-larger": (lining("-0.55"), lining("-0.45")),  # 1 mm altogether, half of it on each side
    "hole-size": (punched("stud", "6.6", 'hole = "6 mm"\n'), punched("stud", "6.4", 'hole = "6 mm"\n')),  # 0.5 mm
    "hole-size, too small": (punched("stud", "5.4", 'hole = "6 mm"\n'), punched("stud", "5.6", 'hole = "6 mm"\n')),
    "hole-size, rivet": (punched("rivet", "4.9"), punched("rivet", "4.7")),  # 2.5 to 4.8 mm
    "hole-size, tubular": (punched("tubular rivet", "5.1"), punched("tubular rivet", "4.9")),  # 3 to 5 mm
    "hole-size, screw post": (punched("screw post", "6.6"), punched("screw post", "6.4")),  # 4 to 6.5 mm
    "hole-size, snap": (punched("snap", "5.6"), punched("snap", "5.4")),  # 3 to 5.5 mm
    "notches-apart": (notch("61.6"), notch("61.4")),  # 1.5 mm
    "strap-turn-back": (turned("19.5"), turned("20.5")),  # the width of 20 mm
    "strap-tip-short": (tip("29.5"), tip("30.5")),  # 1 1/2 times the width of 20 mm
    "strap-holes-close": (rowed("7.9"), rowed("8.1")),  # 4 mm beside punches of 4 mm
    "skive-to-nothing": (fold("10", "0.09"), fold("10", "0.11")),  # 0.1 mm
    "hole-not-in-partner": (through("3.74"), through("3.76")),  # 0.25 mm
    "hole-not-in-partner, larger": (through("4.26"), through("4.24")),
    "pitch-too-fine": (pitched("2.05"), pitched("2.15")),  # 2.1 mm
    "pitch-too-coarse": (pitched("6.45"), pitched("6.35")),  # 6.4 mm
    "unequal-partners": (unequal("150.55"), unequal("150.45")),  # 0.5 mm: our choice
    "unequal-partners, shorter": (unequal("149.45"), unequal("149.55")),
}


def checks_of(resolve_text: Resolve, text: str) -> set[str]:
    """The ids of all that is found."""
    try:
        return {problem.check for problem in resolve_text(text).cautions}
    except SpecRejected as error:
        return {problem.check for problem in error.problems}


@pytest.mark.parametrize("case", LIMITS)
def test_a_hair_beyond_the_limit_is_told_and_a_hair_within_it_is_not(resolve_text: Resolve, case: str) -> None:
    check = case.split(",")[0]
    beyond, within = LIMITS[case]
    assert check in checks_of(resolve_text, beyond)
    assert check not in checks_of(resolve_text, within)


def test_what_leather_can_be_eased_in_is_offered_up_to_three_in_a_hundred(messages: Tell) -> None:
    """Three in a hundred of 150 mm are 4.5 mm (common practice, no published source)."""
    assert "or ease it in" in messages(unequal("154.4"))
    assert "or ease it in" not in messages(unequal("154.6"))
