"""Ready parts: figures worked out by hand, silence over the whole of what they ask for, one problem beyond it; and what a
part's file may say of numbers, ranges and landings."""

import math
import re
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from docgen.calls.asked import CompareCall, IssueCall
from docgen.calls.compare import compare_versions
from docgen.calls.issue import issue_spec
from docgen.checks import resolve_build
from docgen.cli import main
from docgen.geometry.path import path_box
from docgen.problems import SpecRejected
from docgen.read import READY, read_spec, show_ready
from docgen.read import ready as ready_files

HEAD = """\
[spec]
code    = "built"
title   = "Built"
version = "1"
show    = "mm"
[materials.hide]
kind      = "leather"
tannage   = "vegetable"
thickness = "1.5 mm"
[materials.thin]
kind      = "leather"
tannage   = "vegetable"
thickness = "0.8 mm"
[stitches.saddle]
by     = "hand"
thread = "Tex 210 waxed polyester"
pitch  = "3 mm"
inset  = "3 mm"
[stitches.wide]
by     = "hand"
thread = "Tex 210 waxed polyester"
pitch  = "3 mm"
inset  = "8 mm"
"""
PANELS = """\
[pieces.front]
of    = "hide"
shape = "rectangle"
size  = ["{0}", "{1}"]
[pieces.back]
like  = "front"
marks = false
"""
CLOSED = '[seams.close]\nstitch = "saddle"\nmeet = ["front: left bottom right", "back: left bottom right"]\n'
REST = {
    "card-pockets": '[pieces.cover]\nof = "hide"\nlike = "cards-panel"\nmarks = false\n',
    "spine": PANELS.format("200 mm", "250 mm").replace("pieces.back", "pieces.rear"),
    "welt": PANELS.format("300 mm", "250 mm").replace("[pieces.back]", 'round = "40 mm"\n[pieces.back]'),
    "bellows-pocket": PANELS.format("pocket-wide + pocket-left + 30 mm", "pocket-tall + pocket-up + 20 mm") + CLOSED,
    "zip-gusset": PANELS.format("300 mm", "260 mm").replace("[pieces.back]", 'round = "50 mm"\n[pieces.back]'),
    "round-handle": PANELS.format("grip-apart + 120 mm", "300 mm") + CLOSED,
    "keepers": """\
[hardware.buckle]
what   = "buckle, 35 mm"
count  = 1
inside = "36 mm"
bar    = "4 mm"
tongue = "4 mm"
[materials.butt]
kind      = "leather"
tannage   = "vegetable"
thickness = "3.5 mm"
[straps.belt]
of    = "butt"
width = "35 mm"
wears = "900 mm"
holes = { count = 5, pitch = "25 mm", punch = "4 mm", tip = "80 mm" }
stitch = "saddle"
ends  = [{ shape = "turned", back = "60 mm", around = "buckle" }, { shape = "pointed" }]
""",
}


def example(name):
    """The lines of a spec that a ready part shows for its use, with what these stand among."""
    lines = (line[6:] for line in show_ready(name).words.splitlines() if line.startswith("#     ") or line == "#")
    shown = "\n".join(lines) + "\n"
    used = [stitch for stitch in ("saddle", "wide") if f'"stitch: {stitch}"' in shown or f'"{stitch}"' in REST[name]]
    head, _, stitches = HEAD.partition("[stitches.saddle]")
    wanted = ["[stitches.saddle]" + stitches] if used else []
    text = head + "".join(wanted) + REST[name] + shown
    for kind, names in (("stitches", ("saddle", "wide")), ("materials", ("hide", "thin"))):
        for one in names:
            block = re.search(rf"\[{kind}\.{one}\]\n(?:[a-z].*\n)+", text)
            if block and not re.search(rf'[":] ?{one}"', text.replace(block[0], "")):
                text = text.replace(block[0], "")
    return text


def write(path, name, *edits):
    text = example(name)
    for was, now in edits:
        assert text.count(was) == 1, (was, text)
        text = text.replace(was, now)
    path.write_text(text, encoding="utf-8")
    return path


def built(path, name, *edits):
    return resolve_build(read_spec(write(path / "built.toml", name, *edits)))


def refused(path, name, *edits):
    with pytest.raises(SpecRejected) as caught:
        built(path, name, *edits)
    return caught.value.problems


def box_mm(piece):
    points = [segment.end for edge in piece.outline.edges for segment in edge.path.segments]
    spans = ([point.x for point in points], [point.y for point in points])
    return [max(span) - min(span) for span in spans]


def find(items, name):
    return next(item for item in items if item.name == name)


@pytest.mark.parametrize("name", READY)
def test_what_a_ready_part_shows_for_its_use_is_right_and_silent(name, tmp_path):
    assert [caution.what for caution in built(tmp_path, name).cautions] == []


def test_card_pockets_by_hand(tmp_path):
    # A card of 85.60 x 53.98 mm (ISO/IEC 7810, ID-1); play 5 mm, 10 mm of it shows, stitch line 3 mm in, step 11 mm.
    # Wide 85.6 + 5 + 2 x 3; deep 53.98 - 10 + 3; four of them: 3 steps more, 10 mm of card and 3 mm to the edge above.
    build = built(tmp_path, "card-pockets")
    assert box_mm(find(build.pieces, "cards-panel")) == pytest.approx([96.6, 46.98 + 33 + 13])
    assert box_mm(find(build.pieces, "cards-front")) == pytest.approx([96.6, 46.98])
    pockets = [piece for piece in build.pieces if piece.name.startswith("cards-pocket-")]
    assert [piece.name for piece in pockets] == ["cards-pocket-1", "cards-pocket-2", "cards-pocket-3"]
    for piece in pockets:
        edges = {edge.name: edge.path.segments[0] for edge in piece.outline.edges}
        # The T: 15 mm of its sides in the seam, a step and 4 mm under the next; below, 4.5 mm in on both sides.
        assert edges["left"].start.y - edges["left"].end.y == pytest.approx(15)
        assert edges["foot"].end.x - edges["foot"].start.x == pytest.approx(96.6 - 9)
    landings = find(build.pieces, "cards-panel").marks.landings
    feet_mm = [min(segment.end.y for segment in landing.outline.segments) for landing in landings]
    assert feet_mm == pytest.approx([33, 22, 11, 0])
    seam = find(build.seams, "round")
    # Panel, cover, and where a T lies under the next pocket two of 0.8 mm: never more than two in one place.
    assert (seam.thinnest_mm, seam.thickest_mm) == pytest.approx((0.8 + 1.5, 0.8 * 3 + 1.5))
    assert [find(build.seams, f"cards-foot-{n}").thickest_mm for n in (1, 2, 3)] == pytest.approx([1.6] * 3)


def test_titles_of_a_part_that_is_brought_in_twice_say_which_it_is(tmp_path):
    cards = '[parts.{0}]\nuse = "card-pockets"\ninstead = ["leather: thin", "stitch: saddle"]\n'
    cover = '[pieces.cover-{0}]\nof = "hide"\nlike = "{0}-panel"\nmarks = false\n'
    seam = '[seams.{0}]\nstitch = "saddle"\nmeet = ["{0}-panel: left bottom right", "cover-{0}: left bottom right"]\n'

    def titles(*names):
        path = tmp_path / "a.toml"
        path.write_text(HEAD + "".join((cards + cover + seam).format(name) for name in names), encoding="utf-8")
        return {piece.name: piece.title for piece in resolve_build(read_spec(path)).pieces}

    assert titles("near")["near-panel"] == "Panel of the card pockets"
    both = titles("near", "far-side")
    assert both["near-panel"] == "Panel of the card pockets, near"
    assert both["far-side-panel"] == "Panel of the card pockets, far side"


def test_card_pockets_lie_within_a_panel_with_round_corners(tmp_path):
    panel = '[pieces.inside]\nof = "hide"\nshape = "rectangle"\nsize = ["96.6 mm", "92.98 mm"]\nround = "5 mm"\n'
    edits = [
        ('instead  = ["leather: thin"', 'instead  = ["panel: inside", "leather: thin"'),
        ('measures = { step = "11 mm"', 'measures = { step = "11 mm", corner = "5 mm"'),
        ("[pieces.cover]\n", f"{panel}[pieces.cover]\n"),
        ('"cards-panel: left', '"inside: left'),
        ('like = "cards-panel"', 'like = "inside"'),
    ]
    assert [caution.check for caution in built(tmp_path, "card-pockets", *edits).cautions] == []
    sharp = [edits[0], *edits[2:]]
    assert [one.check for one in built(tmp_path, "card-pockets", *sharp).cautions] == ["landing-over-edge"]


def test_spine_by_hand(tmp_path):
    # 30 mm of block, two panels of 1.5 mm, two laps of 12 mm, and pi x 1.5 / 4 at each corner.
    piece = find(built(tmp_path, "spine").pieces, "back-spine")
    bend_mm = math.pi * 1.5 / 4
    assert box_mm(piece) == pytest.approx([30 + 3 + 24 + 2 * bend_mm, 250], abs=1e-4)
    assert sorted(fold.start.x for fold in piece.marks.folds) == pytest.approx(
        [12 + bend_mm / 2, 12 + bend_mm / 2 + 33 + bend_mm], abs=1e-4
    )


def test_welt_by_hand(tmp_path):
    # Two insets of 8 mm and once round a cord of 4 mm in leather of 0.8 mm; along a run at 8 mm in from panels of
    # 300 x 250 mm with corners of 40 mm: 2 x (250 - 80) + (300 - 80) + half a circle of 32 mm radius.
    build = built(tmp_path, "welt")
    run_mm = 2 * 170 + 220 + math.pi * 32
    assert box_mm(find(build.pieces, "edge-welt")) == pytest.approx([16 + math.pi * 4.8, run_mm], abs=1e-3)
    assert [use.name for use in find(build.seams, "edge-run").trimmings] == ["edge-cord"]
    assert find(build.trimmings, "edge-cord").cuts[0].length_mm == pytest.approx(run_mm + 20, abs=1e-3)
    assert find(build.seams, "edge-run").thickest_mm == pytest.approx(2 * 1.5 + 2 * 0.8)


def test_bellows_pocket_by_hand(tmp_path):
    # 30 mm deep between seams 3 mm from both edges; round a front of 150 x 120 mm with corners of 20 mm.
    build = built(tmp_path, "bellows-pocket")
    assert box_mm(find(build.pieces, "pocket-bellows")) == pytest.approx([36, 2 * 100 + 110 + math.pi * 17], abs=1e-6)
    (landing,) = find(build.pieces, "front").marks.landings
    box = path_box(landing.outline)
    assert (box.left, box.bottom) == pytest.approx((30, 30))
    assert find(build.seams, "pocket-panel").thickest_mm == pytest.approx(3)


def test_zip_gusset_by_hand(tmp_path):
    # Round panels of 300 x 260 mm with corners of 50 mm, 3 mm in: 2 x (200 + 160) and a circle of 47 mm radius. The strip
    # of the zip is 220 mm of slot, and a lap of 14 mm and 4 mm besides at both ends.
    build = built(tmp_path, "zip-gusset")
    round_mm = 720 + 2 * math.pi * 47
    assert find(build.seams, "wall-round-first").length_mm == pytest.approx(round_mm)
    assert box_mm(find(build.pieces, "wall-top")) == pytest.approx([60, 256])
    assert box_mm(find(build.pieces, "wall-base")) == pytest.approx([60, round_mm - 256 + 2 * 14])
    (cut,) = find(build.trimmings, "wall-zip").cuts
    assert (cut.run_mm, cut.between_mm) == pytest.approx((220, 210)), "its stops 5 mm from both ends"
    (run,) = [run for run in build.assembly.runs if run.part == "wall-top"]
    assert (run.runs, run.length_mm, run.stack.usual_mm) == (2, pytest.approx(220), pytest.approx(2.1))


def test_round_handle_by_hand(tmp_path):
    # Once round a core of 8 mm in leather of 1.5 mm, and two insets of 3 mm; sewn from 60 mm to 60 mm before the end.
    build = built(tmp_path, "round-handle")
    strap = find(build.straps, "grip-handle")
    assert (strap.width_mm, strap.cut_length_mm, strap.cut) == pytest.approx((math.pi * 9.5 + 6, 400, 2), abs=1e-4)
    assert find(build.seams, "grip-round").length_mm == pytest.approx(280)
    (line, other) = [line for line in strap.piece.marks.stitch_lines if line.seam == "grip-round"]
    ends = sorted(
        round(point.y, 6) for at in (line, other) for point in (at.path.segments[0].start, at.path.segments[-1].end)
    )
    assert ends == pytest.approx([60, 60, 340, 340])
    assert len(line.holes_mm) == len(other.holes_mm) == round(280 / 3) + 1
    (cut,) = find(build.trimmings, "grip-core").cuts
    assert (cut.length_mm, cut.count) == pytest.approx((280, 2))
    assert [len(find(build.pieces, name).strap_landings) for name in ("front", "back")] == [2, 2]


def test_a_handle_that_is_sewn_on_nowhere_is_told(tmp_path):
    """Its own seam, edge to edge, joins it to nothing else."""
    edits = [("handles = 2, panels = 2", "handles = 2"), (', "panel-2: back"', "")]
    (caution,) = built(tmp_path, "round-handle", *edits).cautions
    assert (caution.check, caution.at) == ("landing-empty", "grip-handle")
    assert caution.what == 'in the ready part "grip": 2 of "grip-handle" are cut, and there is 1 place for it'


def test_keepers_by_hand(tmp_path):
    # Round a belt of 35 mm, three layers of 3.5 mm, in leather of 0.8 mm, 2 mm of room and 12 mm of lap.
    (keeper,) = [strap for strap in built(tmp_path, "keepers").straps if strap.keeper_for]
    assert keeper.cut_length_mm == pytest.approx(2 * (35 + 10.5) + math.pi * 0.8 + 2 + 12)
    assert (keeper.cut, keeper.width_mm) == (2, 12)


def ends_mm(asked, known):
    """Both ends of a range in mm, from 0 to 400 mm where it has none."""
    return [_mm(asked[end], known) if end in asked else otherwise for end, otherwise in (("least", 0), ("most", 400))]


def _mm(words, known):
    def figure(found):
        told = known[found[0]]
        return str(told if isinstance(told, float) else _mm(told, known))

    return float(eval(re.sub(r"[a-z][a-z0-9-]*(?:\.[a-z]+)?", figure, re.sub(r"(\d) mm", r"\1", words))))


def set_asks(name, shares):
    """What a spec sets at these shares of every range, in the order in which they are asked."""
    shown, given = show_ready(name), iter(shares)
    numbers = {
        one: told.get("least", 0) + round(next(given) * (told["most"] - told.get("least", 0)))
        for one, told in shown.numbers.items()
    }
    if "panels" in numbers:
        numbers["panels"] = min(numbers["panels"], 2)
        numbers["handles"] = numbers["panels"]
    known = {"stitch.inset": 8.0 if name == "welt" else 3.0, "leather.thickness": 1.5, "pi": math.pi}
    known |= shown.document["measures"]
    measures = {}
    for one, told in shown.ranges.items():
        least_mm, most_mm = ends_mm(told, known)
        known[one] = least_mm + next(given) * (most_mm - least_mm)
        measures[one] = f"{known[one]:.9f} mm"
    return numbers, measures


@pytest.mark.parametrize("name", READY)
@settings(max_examples=12, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(shares=st.lists(st.sampled_from([0.0, 0.13, 0.5, 0.77, 1.0]), min_size=12, max_size=12))
def test_all_that_a_part_may_be_asked_for_is_silent(name, shares, tmp_path):
    numbers, measures = set_asks(name, shares)
    path = tmp_path / "built.toml"
    path.write_text(ask(example(name), numbers, measures), encoding="utf-8")
    assert [caution.what for caution in resolve_build(read_spec(path)).cautions] == []


def ask(text, numbers, measures):
    """The example with other numbers and measures."""
    text = re.sub(r"(?m)^(numbers|measures) += \{.*\n", "", text)
    told = (
        [f"{key} = {value}" for key, value in numbers.items()],
        [f'{key} = "{value}"' for key, value in measures.items()],
    )
    lines = f"numbers = {{ {', '.join(told[0])} }}\nmeasures = {{ {', '.join(told[1])} }}\n"
    return re.sub(r"(?m)^(use +=.*\n)", rf"\1{lines}", text)


@pytest.mark.parametrize("name", READY)
def test_what_is_out_of_range_is_one_problem_where_the_spec_sets_it(name, tmp_path):
    shown = show_ready(name)
    path = tmp_path / "built.toml"
    for one in shown.ranges:
        path.write_text(ask(example(name), {}, {one: "4 m"} if "most" in shown.ranges[one] else {one: "-1 mm"}))
        line = next(
            k for k, words in enumerate(path.read_text().splitlines(), start=1) if words.startswith("measures =")
        )
        with pytest.raises(SpecRejected) as caught:
            resolve_build(read_spec(path))
        (problem,) = [problem for problem in caught.value.problems if problem.severity == "error"]
        assert (problem.place.path, problem.place.line) == (str(path), line)
        assert problem.what.startswith(f'"{one}" of the part "'), problem.what
        assert problem.mend == "write a length in between"
    for one, told in shown.numbers.items():
        path.write_text(ask(example(name), {one: told["most"] + 1}, {}))
        line = next(
            k for k, words in enumerate(path.read_text().splitlines(), start=1) if words.startswith("numbers =")
        )
        with pytest.raises(SpecRejected) as caught:
            resolve_build(read_spec(path))
        (problem,) = caught.value.problems
        assert (problem.place.line, problem.mend) == (line, "write a number in between")
        assert problem.what.endswith(
            f"goes from {told['least']} to {told['most']}, and {told['most'] + 1} is beyond it"
        )


@pytest.mark.parametrize(
    ("name", "edit", "line", "what", "mend"),
    [
        (
            "spine",
            ('"leather: hide", ', ""),
            'use      = "spine"',
            'in the ready part "back": of = "leather", but there is no [materials.leather]',
            'say what stands for it, like instead = ["leather: hide"]',
        ),
        (
            "spine",
            ('"first: rear", ', ""),
            'use      = "spine"',
            'in the ready part "back": there is no piece, join or strap "first"',
            'say what stands for it, like instead = ["first: front"]',
        ),
        (
            "spine",
            ('"spine"\n', '"spin"\n'),
            'use      = "spin"',
            'there is no ready part "spin"',
            'did you mean "spine"?',
        ),
        (
            "spine",
            ('thick = "30 mm"', 'thik = "30 mm"'),
            "measures = ",
            'the part "back" has no measure "thik"',
            'did you mean "thick"?',
        ),
        (
            "keepers",
            ("keepers = 2", "keeper = 2"),
            "numbers  = ",
            'the part "loops" has no number "keeper"',
            'did you mean "keepers"?',
        ),
        (
            "keepers",
            ("keepers = 2", 'keepers = "2"'),
            "numbers  = ",
            'keepers must be a whole number: "2"',
            "write keepers = 2, without quotes",
        ),
    ],
)
def test_what_a_spec_says_wrong_of_a_ready_part_is_told_at_its_line(name, edit, line, what, mend, tmp_path):
    found = refused(tmp_path, name, edit)
    lines = (tmp_path / "built.toml").read_text().splitlines()
    at = next(k for k, words in enumerate(lines, start=1) if words.startswith(line))
    assert (at, what, mend) in [(problem.place.line, problem.what, problem.mend) for problem in found], found


def test_an_issued_version_keeps_the_ready_part_it_was_made_of(tmp_path, monkeypatch):
    path = write(tmp_path / "built.toml", "spine")
    issued = issue_spec(IssueCall(spec=path, date="2026-03-31")).issued
    kept = issued.folder / "ready" / "spine.toml"
    assert kept.read_bytes() == ready_files.read_ready("spine")
    digest = read_spec(path).digest
    other = kept.read_bytes().replace(b'lap   = "12 mm"', b'lap   = "15 mm"')
    monkeypatch.setattr("docgen.read.part_files.read_ready", lambda name: other)
    assert read_spec(path).digest != digest, "the words of a ready part are part of what a build is"
    assert read_spec(issued.spec_path).digest == digest
    assert box_mm(find(resolve_build(read_spec(issued.spec_path)).pieces, "back-spine"))[0] == pytest.approx(
        59.356, abs=1e-3
    )
    (found,) = compare_versions(CompareCall(before="1", after=str(path)))
    assert {("shop's part", "back"), ("piece", "back-spine")} <= {
        (change.part, change.name) for change in found.changes
    }


@pytest.mark.parametrize("name", READY)
def test_keys_shows_what_a_ready_part_asks_for_and_stands_for_as_a_part_of_its_own(name, tmp_path, capsys):
    assert main(["keys", name]) == 0
    said = capsys.readouterr().out
    assert max(map(len, said.splitlines())) <= 124
    shown = show_ready(name)
    assert all(f"#   numbers.{one} = " in said for one in shown.numbers)
    assert all(f"#   measures.{one} = " in said for one in shown.ranges)
    (tmp_path / "mine.toml").write_text(said, encoding="utf-8")
    alone = ask(example(name), {}, {})
    builds = []
    for text in (alone, re.sub(r'(?m)^use( +)= ".*"', r'use\1= "mine.toml"', alone)):
        (tmp_path / "built.toml").write_text(text.replace("numbers = {  }\n", ""), encoding="utf-8")
        builds.append(resolve_build(read_spec(tmp_path / "built.toml")))
    first, second = ([(piece.name, piece.outline) for piece in build.pieces] for build in builds)
    assert first == second
    assert [seam.length_mm for seam in builds[0].seams] == [seam.length_mm for seam in builds[1].seams]


def test_the_topic_of_parts_lists_the_ready_ones(capsys):
    assert main(["keys", "parts"]) == 0
    said = capsys.readouterr().out
    assert all(re.search(rf"(?m)^  {name} +{re.escape(about)}$", said) for name, about in READY.items())


def test_every_file_of_a_ready_part_is_listed():
    folder = Path(ready_files.__file__).parent
    assert sorted(path.stem for path in folder.glob("*.toml")) == sorted(READY)
