"""What `check` asks of the maker: each question with its line and the key that answers it, and silence once it is there.

That a lining's grain side looks inward, that a long seam round corners wants match marks, and that glue is named, is
common practice, no published source.
"""

import json
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from built import BUILDS, FOLDER
from demos import PATHS
from short_specs import piece, rivet, step
from spec_text import HEAD, Edit, write_out

from docgen.calls.asked import CheckCall
from docgen.calls.check import check_spec
from docgen.checks.questions.question import REGISTERED
from docgen.cli import main

OF_FINISH = (
    "the cut edges of",
    "the cut ends of",
    "which colour the thread",
)  # asked of every build that does not say them

Ask = Callable[..., list[str]]


@pytest.fixture
def ask(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Ask:
    """The questions about a spec, or one of the builds with words exchanged: line, question, and answer."""
    monkeypatch.chdir(tmp_path)

    def ask(text: str, *edits: Edit) -> list[str]:
        Path("a.toml").write_text(write_out(text, *edits), encoding="utf-8")
        found = check_spec(CheckCall(spec="a.toml")).asked
        found = tuple(question for question in found if not any(words in question.what for words in OF_FINISH))
        return [f"{question.place.line}: {question.what} -> {question.answer}" for question in found]

    for drawing in FOLDER.glob("*.svg"):
        shutil.copy(drawing, tmp_path)
    return ask


def text_of(name: str) -> str:
    return BUILDS[name].read_text(encoding="utf-8")


def bench_text(name: str) -> str:
    return (Path(__file__).parents[1] / "bench" / "slips" / "builds" / f"{name}.toml").read_text(encoding="utf-8")


@pytest.mark.parametrize("name", sorted(PATHS))
def test_demos_and_starters_leave_nothing_to_ask(name: str) -> None:
    assert check_spec(CheckCall(spec=PATHS[name])).asked == ()


UNEVEN = (
    HEAD
    + """\
[pieces.strap]
of = "body"
shape = "rectangle"
size = ["215 mm", "85 mm"]
round = { top-left = "30 mm", bottom-right = "12 mm" }
[pieces.lining]
like = "strap"
marks = false
[seams.round]
stitch = "main"
meet = ["strap: all", "lining: all"]
"""
)


def test_which_side_faces_out_is_asked_of_what_fits_one_way_up_alone(ask: Ask) -> None:
    """Two of one uneven outline lie flesh to flesh where one of them is cut turned over (plane geometry)."""
    told = [one for one in ask(UNEVEN) if "faces out" in one]
    assert len(told) == 1
    assert 'write mirror = true for "lining", or take it out, where the grain side of both is seen' in told[0]
    assert [one for one in ask(UNEVEN, ("marks = false", "mirror = true")) if "faces out" in one] == []
    assert [one for one in ask(UNEVEN, ("marks = false", 'shows = "flesh"')) if "faces out" in one] == []
    even = ('round = { top-left = "30 mm", bottom-right = "12 mm" }', 'round = "30 mm"')
    assert [one for one in ask(UNEVEN, even) if "faces out" in one] == [], "what is even is turned over"


SLEEVE = (
    HEAD
    + """\
[pieces.front]
of = "body"
shape = "rectangle"
size = ["215 mm", "85 mm"]
[pieces.back]
like = "front"
mirror = true
[pieces.tab]
of = "body"
shape = "rectangle"
size = ["16 mm", "44 mm"]
folds = [{ at = "middle" }]
[seams.tab]
stitch = "main"
meet = ["front: left from top 14 mm to top 30 mm", "tab: bottom", "tab: top", "back: left from top 14 mm to top 30 mm"]
[seams.round]
stitch = "main"
meet = ["front: left bottom right", "back: left bottom right"]
"""
)


def test_of_two_panels_sewn_left_to_left_the_other_edge_is_named(ask: Ask) -> None:
    """Flesh to flesh, the left of the one meets the right of the other (plane geometry)."""
    told = [one for one in ask(SLEEVE) if "faces out" in one]
    assert len(told) == 1
    assert "write right from " in told[0]
    assert ' for "back" in the seam "tab"' in told[0]
    assert [one for one in ask(SLEEVE, ("back: left from", "back: right from")) if "faces out" in one] == []


LINED = (
    HEAD
    + """\
[pieces.cover]
of = "body"
shape = "rectangle"
size = ["215 mm", "85 mm"]
[pieces.lining]
like = "cover"
lines = ["cover"]
landings = [{ piece = "pocket", at = "25 mm from right, 20 mm from bottom" }]
[pieces.pocket]
of = "body"
shape = "rectangle"
size = ["60 mm", "40 mm"]
[seams.pocket]
stitch = "main"
meet = ["pocket: left bottom right", "lining"]
[seams.one]
stitch = "main"
meet = ["cover: top left", "lining: top left"]
[seams.two]
stitch = "main"
meet = ["cover: bottom right", "lining: bottom right"]
"""
)


def test_of_a_lining_that_fits_on_its_back_with_a_pocket_on_it_is_asked_which_side_is_seen(ask: Ask) -> None:
    """Where the grain side of both is seen, left of the one meets right of the other (plane geometry)."""
    (told,) = [one for one in ask(LINED) if "flesh to flesh" in one]
    assert 'nothing says which side of "lining" is seen' in told
    assert 'write right top for "lining" in the seam "one"' in told
    assert "name right" not in told, "the seam two closes it"
    round_ = [("lining: top left", "lining: right top"), ("lining: bottom right", "lining: left bottom")]
    assert [one for one in ask(LINED, *round_) if "flesh to flesh" in one] == []


def test_on_which_side_of_its_seam_a_piece_lies_is_asked_once_for_all_its_copies(ask: Ask) -> None:
    (told,) = ask(text_of("sheath"))
    assert told.startswith('26: nothing says on which side of its seam "welt" lies, on "back" or beside it -> ')
    assert told.endswith(
        'write in landings of "back": { piece = "welt", at = ... }, with inside = true where it lies on the hidden side'
    )
    back = "[pieces.back]\n"
    places = ("0 mm from left, 0 mm from top", "0 mm from right, 0 mm from top")
    landings = ", ".join(f'{{ piece = "welt", at = "{at}", inside = true }}' for at in places)
    assert ask(text_of("sheath"), (back, f"{back}landings = [{landings}]\n")) == []


ROW = """\
<back>
<front>
<seam>
<seam row: ["front: right"]>
"""


def test_a_seam_of_one_part_alone_is_asked_about(ask: Ask) -> None:
    assert ask(HEAD + ROW) == [
        '25: the seam "row" goes through "front" alone: is it a row for its looks? -> '
        "leave it where it is; else name in meet what it is sewn to"
    ]
    assert ask(HEAD + ROW, ('["front: right"]', '["front: right", "back: right"]')) == []
    hem = '[pieces.front]\nhems = [{ edges = "right", turn = "10 mm" }]'
    assert ask(HEAD + ROW, ("[pieces.front]", hem)) == []


PATCH = """\
<back>
<front>
<seam>
<rectangle patch: ["60 mm", "40 mm"]>
<seam t: ["patch: all", "front"]>
"""


def test_where_a_piece_lies_is_asked_that_is_sewn_flat_on_another(ask: Ask) -> None:
    (told,) = ask(HEAD + PATCH)
    assert 'nothing says where "patch" lies -> write in landings of the piece that it lies on:' in told
    front = "<front>\n"
    assert ask(HEAD + PATCH.replace(front, f'{front}landings = [{{ piece = "patch", at = "centre, middle" }}]\n')) == []


GLUED = """\
<back>
<front>
<seam>
<step "{do}": pieces = ["back", "front"]>
tools = [{tools}]
seams = ["s"]
"""


@pytest.mark.parametrize("do", ["Glue the front on, and sew.", "Turn the top under, glue and sew.", "Fold and cement."])
def test_a_step_that_glues_is_asked_for_its_glue(ask: Ask, do: str) -> None:
    (told,) = ask(HEAD + GLUED.format(do=do, tools='"glue brush"'))
    line = write_out(HEAD + GLUED).splitlines().index("[[steps]]") + 1
    assert told.startswith(f"{line}: step 1 glues, and nothing says with what -> name it in tools of the step")
    assert ask(HEAD + GLUED.format(do=do, tools='"contact cement"')) == []


@pytest.mark.parametrize("do", ["Sew the glued edges.", "Sew it once the glue is dry.", "Sew it on without glue."])
def test_a_step_that_only_speaks_of_glue_is_not(ask: Ask, do: str) -> None:
    assert ask(HEAD + GLUED.format(do=do, tools="")) == []


def test_where_a_piece_is_riveted_to_a_template_without_a_hole_is_asked(ask: Ask) -> None:
    """It may be accepted that the hole is marked later, and still nothing tells where."""
    text = bench_text("messenger-bag")
    assert ask(text) == [
        '109: nothing says where on "rim" "dee-tab" is riveted: the template there has no hole for it -> '
        'write in holes of "band", without takes: { at = ..., punch = "1/8 in", through = ["dee-tab"] }'
    ]
    skived = 'skives  = [{ edges = "end", width = "3/4 in", to = "1.2 mm" }]\n'
    hole = '{ at = "1 1/2 in from start, centre", punch = "1/8 in", through = ["dee-tab"] }'
    accept = text[text.index("[[accept]]") : text.index("[costs]")]
    assert ask(text, (skived, f"{skived}holes   = [{hole}]\n"), (accept, "")) == []
    assert ask(text, (accept, "")) == []  # where it is not accepted, a check tells it, with its mend


RIVETED = """\
<bag>
<rectangle tab: ["20 mm", "60 mm"]>
cut = 2
holes = [{ at = "centre, 10 mm from bottom", punch = "4 mm", takes = "rivet", through = ["front"] }]
<hardware rivet: 4, double-cap rivet>
"""
OWN = 'holes = [{ at = "60 mm from left, 20 mm from top", punch = "4 mm", takes = "rivet" }, HOLE]\n'
SECOND = '{ at = "60 mm from right, 20 mm from top", punch = "4 mm", takes = "rivet" }'


def test_holes_that_take_the_rivet_of_what_is_riveted_there_are_that_place_or_told_so(ask: Ask) -> None:
    """As many as go through them are these holes; others have rivets of their own, so that none is left."""

    def riveted(holes: str) -> list[str]:
        text = HEAD + write_out(RIVETED).replace('like = "back"\n', f'like = "back"\nmarks = false\n{holes}')
        return [told for told in ask(text) if "rivet" in told]

    assert riveted(OWN.replace("HOLE", SECOND)) == []
    more = f"{SECOND}, {SECOND.replace('20 mm from top', '90 mm from top')}"
    (told,) = riveted(OWN.replace("HOLE", more))
    assert told.endswith(
        'the holes of "front" take "rivet" of their own, and none is left for that of "tab" -> '
        "leave takes out of those through which it is riveted: it is said once"
    )
    assert riveted("") == []  # a check tells that


def test_a_long_seam_round_corners_is_asked_for_notches(ask: Ask) -> None:
    """The satchel's body: 220 mm of height twice and 300 mm of width, less the corners of a stitch line 4 mm inside."""
    told = [question for question in ask(text_of("satchel")) if "notch" in question]
    assert told[0] == (
        '90: nothing says where "gusset" meets the left bottom right of "front": no notch in all 724 mm (28 1/2 in) '
        'of the seam "front" -> write notches for "front" and "gusset", as far from one end of the seam on both'
    )
    assert len(told) == 2  # the back too
    front, gusset = "[pieces.front]\n", "[pieces.gusset]\n"
    marks = 'notches = [{ on = "left" }, { on = "right" }]\n'
    notched = ask(text_of("satchel"), (front, f'{front}notches = [{{ on = "bottom" }}]\n'), (gusset, gusset + marks))
    assert not any("notch" in question for question in notched)


def test_a_shorter_seam_or_one_with_corners_on_both_sides_is_not(ask: Ask) -> None:
    bag = '<back>\n<front>\n<seam s: ["back: left bottom right", "front: left bottom right"]>\n'
    assert ask(HEAD + bag, ('"200 mm", "150 mm"', '"400 mm", "300 mm"')) == []
    strip = '<back>\n<front>\n<strip g: ["40 mm", "solve"]>\n'
    seams = '<seam s: ["back: left bottom right", "g: left"]>\n<seam t: ["front: left bottom right", "g: right"]>\n'
    assert ask(HEAD + strip + seams) == []
    assert len(ask(HEAD + strip + seams, ('"200 mm", "150 mm"', '"300 mm", "200 mm"'))) == 2


TAPE = (
    '<back>\n<front>\n<seam>\n[trimmings.w]\nwhat = "webbing"\nkind = "webbing"\nwidth = "25 mm"\nthickness = "1 mm"\n'
)
CUT = 'length = "150 mm"\n'


def test_webbing_that_nothing_holds_is_asked_about(ask: Ask) -> None:
    (told,) = ask(HEAD + TAPE + CUT)
    line = write_out(HEAD + TAPE).splitlines().index("[trimmings.w]") + 1
    assert told.startswith(f'{line}: nothing says what holds "w" (webbing) -> name it in a seam, meet = [')
    assert ask(HEAD + TAPE + 'along = ["back: top"]\n') == []
    step = '[[steps]]\ndo = "Sew back and front, the webbing between."\nseams = ["s"]\ntrimmings = ["w"]\n'
    assert ask(HEAD + TAPE + CUT + step) == []
    assert ask(HEAD + TAPE.replace('kind = "webbing"', 'kind = "elastic"') + CUT) == []  # tied or drawn through


def test_a_strap_that_nothing_holds_is_asked_about(ask: Ask) -> None:
    bag = '<back>\n<front>\n<seam>\n<strap>\nfinished = "100 mm"\n'
    (told,) = ask(HEAD + bag)
    assert 'nothing says what holds "s" -> write a landing for it, { strap = "s", at = ... }' in told
    ends = (
        'at = "centre, 30 mm from top", over = "20 mm", stitch = "main"',
        'end = "second", at = "centre, 30 mm from bottom", over = "20 mm", stitch = "main"',
    )
    landings = ", ".join(f'{{ strap = "s", {end} }}' for end in ends)
    assert ask(HEAD + bag, ("<front>\n", f"<front>\nlandings = [{landings}]\n")) == []


def test_questions_are_printed_and_are_no_problem(ask: Ask, capsys: pytest.CaptureFixture[str]) -> None:
    Path("a.toml").write_text(text_of("wrist"), encoding="utf-8")
    assert main(["check", "a.toml"]) == 0
    told = capsys.readouterr().out
    assert "a.toml:91: ask: step 3 glues, and nothing says with what\n    answer:  name it in tools" in told
    assert told.endswith("\nno problems; 4 questions asked above\n")
    assert told.count(": ask: ") == 4
    assert main(["check", "a.toml", "--json"]) == 0
    said = json.loads(capsys.readouterr().out)
    assert (said["ok"], said["problems"]) == (True, [])
    (asked,) = (one for one in said["asked"] if not any(words in one["what"] for words in OF_FINISH))
    assert (asked["file"], asked["line"]) == ("a.toml", 91)
    assert asked["what"] == "step 3 glues, and nothing says with what"
    assert asked["answer"].startswith("name it in tools of the step")


def finish_of(text: str, folder: Path) -> list[str]:
    """Only what is asked about edges, threads, ends, screws, and how work is held and sewn."""
    (folder / "b.toml").write_text(text, encoding="utf-8")
    found = check_spec(CheckCall(spec=folder / "b.toml")).asked
    return [f"{question.place.line}: {question.what} -> {question.answer}" for question in found]


def test_cut_edges_and_the_colour_of_the_thread_are_asked_until_they_are_said(tmp_path: Path) -> None:
    text = PATHS["satchel"].read_text(encoding="utf-8")
    bare = "\n".join(line for line in text.splitlines() if not line.startswith(("edges ", "colour ")))
    edges, colour = finish_of(bare, tmp_path)
    assert 'nothing says what is done with the cut edges of "side" -> write edges = ' in edges
    assert 'nothing says which colour the thread of the stitch "main" has -> write colour = ' in colour
    assert finish_of(text, tmp_path) == []


def test_a_screw_without_its_length_is_asked_for_it(tmp_path: Path) -> None:
    text = PATHS["satchel"].read_text(encoding="utf-8")
    (told,) = finish_of(text.replace(", screw 4 mm long", ""), tmp_path)
    assert 'nothing says how long the screw of "stud" is (button stud, 8 mm)' in told


def test_what_is_sewn_flat_without_glue_or_tape_is_asked_how_it_is_held(tmp_path: Path) -> None:
    text = PATHS["satchel"].read_text(encoding="utf-8")
    told = finish_of(
        text.replace('tools = ["contact cement"]\n', "").replace("then glue its upper", "lay its upper"), tmp_path
    )
    assert len(told) == 1
    assert 'step 3 does not say how "flap" is held on "back" until it is sewn -> name "double-sided tape"' in told[0]


def test_cut_ends_and_a_step_that_sews_without_a_stitch_are_asked_about(ask: Ask, tmp_path: Path) -> None:
    step = '[[steps]]\ndo = "Sew the ends of the webbing."\ntrimmings = ["w"]\n'
    text = write_out(HEAD + TAPE + CUT + '[[steps]]\ndo = "Close it."\nseams = ["s"]\n' + step)
    told = "\n".join(finish_of(text, tmp_path))
    assert 'nothing says what is done with the cut ends of "w" (webbing) -> write finish = ' in told
    assert "step 2 sews, and nothing says with which stitch, where and how often" in told
    answered = text.replace(CUT, f'{CUT}finish = "sealed"\n').replace(
        step, f'{step}last = ["Sew across each end twice."]\n'
    )
    told = "\n".join(finish_of(answered, tmp_path))
    assert "cut ends" not in told
    assert "step 2 sews" not in told


def test_on_which_side_a_riveted_strap_lies_is_asked_of_its_ends_alone(ask: Ask) -> None:
    asked = (
        '69: nothing says on which side of "apron" "neck" lies where it is riveted -> write in landings of "apron": '
        '{ strap = "neck", at = ..., leads = ... }; it lies outside then'
    )
    text = bench_text("bench-apron")
    assert asked in ask(text)
    pouch = 'landings = [{ piece = "pouch", at = "centre, 8 in from bottom" }'
    ends = (
        f'{{ strap = "neck"{end}, at = "1 1/2 in from bib, 8 in from {side}", leads = "up", over = "1 1/2 in" }}'
        for end, side in (("", "left"), (', end = "second"', "right"))
    )
    assert not any("which side" in one for one in ask(text, (pouch, ", ".join([pouch, *ends]))))
    assert not any("which side" in one for one in ask(bench_text("dog-harness"))), "what lies across has no key"


def test_which_way_a_strap_leads_is_asked_where_two_holes_amid_a_piece_fit_both_ways(ask: Ask) -> None:
    taken = 'punch = "4 mm", takes = "rivet", through = ["tail"]'
    holes = ", ".join(f'{{ at = "centre, {mm} mm from top", {taken} }}' for mm in (130, 155))
    own = ", ".join(f'{{ at = "centre, {mm} mm from start", punch = "4 mm" }}' for mm in (12, 37))
    tail = f'[straps.tail]\nof = "body"\nwidth = "20 mm"\nfinished = "300 mm"\npunches = [{own}]\n'
    work = step("Rivet it on.", pieces="base", straps="tail", hardware="rivet")
    text = HEAD + piece("base", 200, 300, f"holes = [{holes}]\n") + tail + rivet(2) + work
    asked = 'nothing says which way "tail" leads from its holes on "base": they fit both ways'
    assert asked in "\n".join(ask(text))
    answer = 'landings = [{ strap = "tail", at = "centre, 118 mm from top", leads = "down", over = "45 mm" }]\n'
    assert asked not in "\n".join(ask(text, ("[straps.tail]", f"{answer}[straps.tail]")))


def test_a_fitting_that_comes_after_the_end_that_is_sewn_round_it_is_asked_about(ask: Ask) -> None:
    found = [one for one in ask(bench_text("dog-collar")) if "turns and sews" in one]
    assert found == [
        f'51: step 1 turns and sews the end of "collar" round "{ring}", which step 2 has first -> name "{ring}" in '
        'hardware of step 1, or "collar" in straps of step 2'
        for ring in ("buckle", "dee")
    ]
    assert not any("turns and sews" in one for one in ask(bench_text("hound-collar")))


def test_every_question_says_in_its_first_line_what_it_asks_about() -> None:
    assert len(REGISTERED) > 100
    assert [ask.__name__ for ask in REGISTERED if not ask.__doc__] == []
