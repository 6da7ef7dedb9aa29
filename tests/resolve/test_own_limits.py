"""A shop's own figures in place of the tables': in the spec, in the shop's file, and what hangs on them."""

from pathlib import Path

import pytest
from spec_text import Resolve, Tell, write_out

from docgen.calls.asked import CheckCall
from docgen.calls.check import check_spec
from docgen.calls.outside import read_for_shop
from docgen.checks import resolve_build
from docgen.plan import plan_work
from docgen.problems import SpecRejected, render_problem

PANEL = write_out("""\
<back>
{more}
""")
SEWN = PANEL.format(more="") + write_out("""\
<front>
<seam>
""")
HOLE = PANEL.format(more='holes = [{ at = "100 mm from left, 10 mm from bottom", punch = "5 mm" }]')
FOLD = PANEL.format(more='folds = [{ at = "6 mm from top" }]')
SKIVED = PANEL.format(
    more='folds = [{ at = "10 mm from top" }]\nskives = [{ edges = "top", width = "15 mm", to = "0.6 mm" }]'
)
LINED = write_out("""\
<fabric cloth: 0.4 mm>
<back>
[pieces.lining]
like = "back"
of = "cloth"
size = ["200.8 mm", "150 mm"]
""")
ON_LINE = SEWN.replace("[pieces.front]", 'holes = [{ at = "10 mm from left, middle", punch = "5 mm" }]\n[pieces.front]')
WASTED = SEWN.replace(
    "[pieces.back]", '[materials.side]\nkind = "leather"\nthickness = "2 mm"\nwaste = "45 %"\n[pieces.back]'
)
RINGED = write_out("""\
<hardware ring: 1, D ring>
inside = "22 mm"
bar = "4 mm"
<strap>
finished = "400 mm"
ends = [{ shape = "turned", back = "40 mm", around = "ring" }, { shape = "square" }]
""")
BANDED = PANEL.format(
    more='hems = [{ edges = "top", turn = "10 mm" }]\nskives = [{ edges = "top", width = "15 mm", to = "1 mm" }]'
)
BELTED = SEWN + write_out("""\
<belt>
wears = "400 mm"
stitch = "main"
holes = { count = 3, pitch = "25 mm", punch = "4 mm", tip = "60 mm" }
""")
NOTCHED = SEWN.replace(
    "[pieces.front]", 'notches = [{ on = "left", at = "75 mm from bottom" }]\n[pieces.front]'
).replace('like = "back"', 'like = "back"\nmarks = false\nnotches = [{ on = "left", at = "76 mm from bottom" }]')
ASKEW = SEWN.replace(
    "[pieces.front]",
    'holes = [\n  { at = "55 mm from left, middle", punch = "4 mm" },\n'
    '  { at = "95 mm from right, middle", punch = "4 mm" },\n]\n[pieces.front]',
)
DIVIDED = write_out("""\
<back>
landings = [{ piece = "pocket", at = "centre, 30 mm from bottom" }]
<bare front>
<rectangle pocket: ["120 mm", "80 mm"]>
dividers = [{ at = "40 mm from left", stitch = "main", on = "back" }]
<seam round: ["pocket: left bottom right", "back"]>
<seam>
""")

TACKED = write_out("""\
[stitches.own]
by = "machine"
thread = "Tex 135 bonded nylon"
pitch = "4 mm"
inset = "4 mm"
back-tack = "25 mm"
<rectangle more: ["60 mm", "150 mm"]>
[seams.more]
stitch = "own"
meet = ["more: left", "back: right"]
""")
LAPPED = write_out("""\
<back>
<bare front>
<seam>
lap = "10 mm"
""")
TUBE = write_out("""\
<hardware rivet: 1, double-cap rivet>
<circle>
diameter = "80 mm"
<strip wall: ["300 mm", "solve"]>
holes = [{ at = "150 mm from right, 60 mm from start", punch = "4 mm", takes = "rivet" }]
[joins.tube]
of = ["wall"]
overlap = "12 mm"
ring = true
stitch = "main"
<seam foot: ["a: edge", "tube: left"]>
<step "Close it.": joins = ["tube"]>
<step "Sew the foot in.": seams = ["foot"]>
<step "Punch and set.": pieces = ["wall"]>
hardware = ["rivet"]
""")
POSTED = SEWN.replace(
    "[pieces.front]", 'holes = [{ at = "centre, middle", punch = "4 mm", takes = "rivet" }]\n[pieces.front]'
) + ('[hardware.rivet]\nwhat = "double-cap rivet"\ncount = 1\nposts = ["6 mm"]\n')
LIFTED = SEWN + write_out("<flatbed that lifts 9 mm>\n")
WEIGHED = WASTED.replace('waste = "45 %"', 'density = "0.9 g/cm3"')
ZIPPED = write_out("""\
[trimmings.zip]
what = "coil zip"
kind = "zip"
thickness = "0.6 mm"
width = "30 mm"
<rectangle one: ["60 mm", "80 mm"]>
<rectangle two: ["60 mm", "80 mm"]>
<seam a: ["one: top", "zip: left"]>
<seam b: ["two: top", "zip: right"]>
<seam c: ["one: left bottom right", "two: left bottom right"]>
""")
HANDLED = write_out("""\
<back>
landings = [
  { strap = "handle", at = "30 mm from top, 40 mm from left", over = "20 mm" },
  { strap = "handle", end = "second", at = "30 mm from top, 40 mm from right", over = "20 mm" },
]
<bare front>
<seam>
<strap handle of body: 20 mm>
finished = "250 mm"
""")
KEPT = BELTED + write_out("""\
<strap slide of body: 12 mm>
keeper-for = "belt"
overlap = "5 mm"
""")
TUBED = write_out("""\
<zip: coil zip no. 5, 26 mm, 1 mm>
<strip body: ["300 mm", "400 mm"]>
<join tube: ["body", "zip"], 11 mm>
ring = true
""")
SNAPPED = write_out("""\
<back>
folds = [{ at = "40 mm from top", open = true }]
holes = [{ at = "20 mm from top, 20 mm left of centre", punch = "4 mm", takes = "cap" }]
<bare front>
holes = [{ at = "60 mm from top, 9 mm left of centre", punch = "4 mm", takes = "stud" }]
<seam>
<hardware cap: 1, snap cap>
<hardware stud: 1, snap stud>
""")


FOLDED = ", ".join(f'{{ at = "%s from {side}", open = true }}' for side in ("left", "right", "bottom", "top"))
LIDDED = write_out(f"""\
<rectangle box: ["180 mm", "150 mm"]>
folds = [{FOLDED.replace("%s", "40 mm")}]
<rectangle lid: ["140 mm", "110 mm"]>
lid-of = "box"
folds = [{FOLDED.replace("%s", "17 mm")}]
""")


@pytest.mark.parametrize(
    ("text", "limit", "check"),
    [
        (HOLE, 'hole-edge = "2.5 times"', "hole-near-edge"),
        (FOLD, 'fold-beyond = "8 mm"', "fold-allowance"),
        (SKIVED, 'fold-leather = "0.8 mm"', "skive-thin-at-fold"),
        (LINED, 'lining-larger = "0.5 mm"', "lining-larger"),
        (ON_LINE, 'hole-stitch = "4 mm"', "hole-on-stitch-line"),
        (SEWN, 'needle-share = "30 %"', "needle-too-fine"),
        (SEWN, 'pitch-blade = "3.1 times"', "pitch-short-for-needle"),
        (SEWN, 'leather-thickness = ["1 mm", "1.9 mm"]', "thickness-unusual"),
        (LINED, 'fabric-thickness = ["0.5 mm", "1 mm"]', "thickness-unusual"),
        (
            LINED.replace('"fabric"', '"foam"').replace("0.4", "1"),
            'foam-thickness = ["2 mm", "5 mm"]',
            "thickness-unusual",
        ),
        (LINED.replace('"fabric"', '"board"'), 'board-thickness = ["0.5 mm", "2 mm"]', "thickness-unusual"),
        (WASTED, 'most-waste = "40 %"', "waste-unusual"),
        (RINGED, 'strap-play = "1 mm"', "strap-loose-in-fitting"),
        (BANDED, 'skive-beyond = "4 mm"', "skive-misses-lap"),
        (SEWN, 'least-pitch = "4.5 mm"', "pitch-too-fine"),
        (SEWN, 'most-pitch = "3.5 mm"', "pitch-too-coarse"),
        (SEWN, 'stitch-edge = "4.5 mm"', "stitch-near-edge"),
        (BELTED, 'strap-tip = "4 times"', "strap-tip-short"),
        (BELTED, 'between-holes = "25 mm"', "strap-holes-close"),
        (NOTCHED, 'notches-meet = "0.5 mm"', "notches-apart"),
        (ASKEW, 'marks-askew = "50 mm"', "marks-askew"),
        (HOLE, 'largest-punch = "4.5 mm"', "punch-unusual"),
        (SEWN, 'most-inset = "3.5 mm"', "inset-unusual"),
        (SEWN + TACKED, 'most-tack = "20 mm"', "back-tack-long"),
        (BELTED, 'widest-strap = "15 mm"', "strap-unusual"),
        (LAPPED, 'widest-lap = "9 mm"', "lap-wide"),
        (TUBE, 'setter-reach = "120 mm"', "setter-cannot-reach"),
        (DIVIDED, 'narrowest-room = "45 mm"', "divider-narrow"),
        (RINGED, 'thickest-bar = "3.5 mm"', "hardware-unusual"),
        (POSTED, 'post-lengths = ["6.5 mm", "40 mm"]', "hardware-unusual"),
        (LIFTED, 'foot-lift = ["9.5 mm", "30 mm"]', "machine-unusual"),
        (SEWN, 'hide-long = "190 mm"', "piece-larger-than-hide"),
        (SEWN, 'hide-wide = "140 mm"', "piece-larger-than-hide"),
        (BELTED, 'hide-strap = "300 mm"', "piece-larger-than-hide"),
        (WEIGHED, 'leather-density = ["0.95 g/cm3", "1300 kg/m3"]', "density-unusual"),
        (BELTED, 'holes-apart = "24 mm"', "holes-far-apart"),
        (ZIPPED, 'shortest-zip = "61 mm"', "zip-short"),
        (HANDLED, 'hand-room = "80 mm"', "handle-too-low"),
        (KEPT, 'keeper-overlap = "6 mm"', "keeper-overlap-short"),
        (TUBED, 'zip-teeth = "5 mm"', "zip-covered"),
        (SNAPPED, 'snaps-meet = "10 mm"', "snap-halves-aside"),
        (LIDDED, 'lid-room = ["3 mm", "5 mm"]', "lid-does-not-fit"),
    ],
)
def test_a_check_goes_by_the_limit_that_is_written(cautions: Tell, text: str, limit: str, check: str) -> None:
    assert f"check:   {check}" not in cautions(text)
    assert f"check:   {check}" in cautions(f"{text}[limits]\n{limit}\n")


def test_a_message_tells_the_limit_that_is_written(cautions: Tell) -> None:
    told = cautions(HOLE + '[limits]\nhole-edge = "2.5 times"\n')
    assert "keep its centre 12.5 mm (1/2 in) from the edge or more" in told
    assert "over 30 % of the blade" in cautions(SEWN + '[limits]\nneedle-share = "30 %"\n')


def test_hides_and_thread_are_reckoned_by_the_limits(resolve_text: Resolve) -> None:
    limits = '[limits]\nwaste-leather = "50 %"\nmachine-waste = "0 %"\nmachine-tails = "0"\n'
    plan = plan_work(resolve_text(SEWN + limits))
    assert plan.materials[0].gross_mm2 == pytest.approx(2 * 200 * 150 / (1 - 0.5))
    (need,) = plan.threads
    # 150 mm and two back-tacks of 12.7 mm, by 2 (1 + T / p) with T 4 mm and 38 stitches.
    assert need.total_mm == pytest.approx((150 + 2 * 12.7) * 2 * (1 + 4 / (150 / 38)))


def test_hand_threads_are_cut_by_the_limits(resolve_text: Resolve) -> None:
    by_hand = SEWN.replace('stitch = "main"', 'stitch = "saddle"') + (
        '[stitches.saddle]\nby = "hand"\nthread = "Tex 210 waxed linen"\npitch = "4 mm"\ninset = "4 mm"\n'
    )
    usual, other = (
        plan_work(resolve_text(by_hand + more)).threads[0].hand[0]
        for more in ("", '[limits]\nhand-thread = "600 mm"\nhand-tails = "200 mm"\n')
    )
    assert (usual.count, other.count) == (1, 3)
    assert other.length_mm < 600 < usual.length_mm


@pytest.mark.parametrize(("over", "post"), [("", 6.0), ('rivet-over = ["4 mm", "4.5 mm"]', 8.0)])
def test_a_post_is_chosen_by_the_limits(resolve_text: Resolve, over: str, post: float) -> None:
    text = PANEL.format(more='holes = [{ at = "centre, middle", punch = "4 mm", takes = "rivet", through = ["back"] }]')
    rivet = '[hardware.rivet]\nwhat = "rivet"\ncount = 1\nposts = ["6 mm", "8 mm"]\n'
    (fitting,) = resolve_text(f"{text}{rivet}[limits]\n{over}\n").assembly.fastened
    assert fitting.post_mm == post


def test_the_shop_says_what_the_spec_leaves_open(resolve_text: Resolve) -> None:
    resolve_text(HOLE + '[limits]\nfold-beyond = "7 mm"\n')
    Path("shop.toml").write_text('[limits]\nhole-edge = "2.5 times"\nfold-beyond = "9 mm"\n', encoding="utf-8")
    limits = resolve_build(read_for_shop("a.toml")[0]).limits
    assert (limits.hole_edge, limits.fold_beyond_mm, limits.hole_stitch_mm) == (2.5, 7.0, 1.0)
    assert "hole-near-edge" in [caution.check for caution in check_spec(CheckCall(spec="a.toml")).cautions]


@pytest.mark.parametrize(
    ("limit", "told"),
    [
        (
            'hole-egde = "2 times"',
            'a.toml:19: error: unknown key "hole-egde" in [limits]\n    written: "2 times"\n'
            '    mend:    did you mean "hole-edge"?\n',
        ),
        (
            'hole-edge = "2"',
            'a.toml:19: error: 2 has no unit\n    written: "2"\n    mend:    write it like "1.5 times"\n',
        ),
        (
            'needle-share = "0 %"',
            'a.toml:19: error: no thread fills nothing of a blade\n    written: "0 %"\n'
            '    mend:    write a share like "40 %"\n',
        ),
        (
            'rivet-over = ["3 mm", "2 mm"]',
            'a.toml:19: error: the first of these lengths is more than the second\n    written: "3 mm"\n'
            "    mend:    write the shorter first\n",
        ),
    ],
)
def test_a_wrong_limit_is_told_at_its_line(messages: Tell, limit: str, told: str) -> None:
    assert messages(f"{PANEL.format(more='')}[limits]\n{limit}\n".replace("\n\n", "\n")) == told


def test_a_wrong_limit_of_the_shop_is_told_with_its_own_line(resolve_text: Resolve) -> None:
    resolve_text(SEWN)
    Path("shop.toml").write_text('[limits]\nfold-beyond = "wide"\nhole-edg = "1 times"\n', encoding="utf-8")
    with pytest.raises(SpecRejected) as caught:
        check_spec(CheckCall(spec="a.toml"))
    told = [render_problem(problem).split("\n")[0] for problem in caught.value.problems]
    assert 'shop.toml:3: error: unknown key "hole-edg" in [limits]' in told
    assert any(line.startswith("shop.toml:2: error: ") for line in told)
