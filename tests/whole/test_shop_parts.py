"""A shop's own parts: brought into a build under a prefix, kept with it, compared, and asked for."""

import os
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from docgen import build_documents, cli
from docgen.calls.asked import CompareCall, IssueCall
from docgen.calls.compare import compare_versions
from docgen.calls.issue import issue_spec
from docgen.checks import resolve_build
from docgen.geometry.path import path_box
from docgen.problems import SpecRejected
from docgen.read import read_spec
from docgen.versions.compared.sides import read_side
from docgen.versions.traced.uses import is_part_file, list_uses

HERE = Path(__file__).parent / "shop_parts"
PART = "parts/ring-tab.toml"
Edit = Callable[[str, str, str], None]


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    return Path(shutil.copytree(HERE, tmp_path / "shop"))


@pytest.fixture
def edit(shop: Path) -> Edit:
    def edit(name: str, was: str, now: str) -> None:
        text = (shop / name).read_text(encoding="utf-8")
        assert was in text
        (shop / name).write_text(text.replace(was, now, 1), encoding="utf-8")

    return edit


def told(shop: Path) -> list[tuple[str, int, str, str]]:
    with pytest.raises(SpecRejected) as caught:
        resolve_build(read_spec(shop / "case.toml"))
    where = [os.path.relpath(problem.place.path, shop) for problem in caught.value.problems]
    return [(path, p.place.line, p.what, p.mend) for path, p in zip(where, caught.value.problems, strict=True)]


def test_a_part_comes_with_all_that_belongs_to_it_under_its_prefix(shop: Path) -> None:
    build = resolve_build(read_spec(shop / "case.toml"))
    assert [piece.name for piece in build.pieces] == ["front", "back", "left-tab", "right-tab"]
    left, right = build.pieces[2:]
    assert (left.material, left.template, left.template_of) == ("body", "die", "ring tab")
    assert [item.name for item in build.hardware] == ["left-ring", "left-rivet", "right-ring", "right-rivet"]
    assert [hole.takes for piece in (left, right) for hole in piece.marks.holes] == ["left-rivet", "right-rivet"]
    # The strip is twice 3 x width long: 120 mm, and 150 mm where the spec sets the width to 25 mm.
    sizes = [max(edge.path.segments[0].end.y for edge in piece.outline.edges) for piece in (left, right)]
    assert sizes == pytest.approx([120, 150])
    assert [item.inside_mm for item in build.hardware[::2]] == pytest.approx([20, 25])
    assert build.cautions == ()
    assert [item.problem.at for item in build.accepted] == ["left-tab", "right-tab"]


def test_its_steps_stand_where_the_spec_says_with_its_caution(shop: Path) -> None:
    build = resolve_build(read_spec(shop / "case.toml"))
    assert [(step.do[:8], step.pieces, step.hardware) for step in build.steps] == [
        ("Punch th", ("left-tab",), ()),
        ("Fold the", ("left-tab",), ("left-ring", "left-rivet")),
        ("Cut out ", ("front", "back"), ()),
        ("Punch th", ("right-tab",), ()),
        ("Fold the", ("right-tab",), ("right-ring", "right-rivet")),
        ("Sew the ", (), ()),
    ]
    assert build.steps[0].note == "Hold the ring with pliers while the rivet is set."


def test_a_spec_may_sew_and_vary_what_a_part_brings(shop: Path, edit: Edit) -> None:
    more = '\n[variants.brass]\nhardware.left-ring.finish = "solid brass"\nwithout = ["left-set"]\n[[steps]]\n'
    edit("case.toml", "\n[[steps]]\n", more)
    build = resolve_build(read_spec(shop / "case.toml"), "brass")
    assert [item.finish for item in build.hardware[:2]] == ["solid brass", ""]
    assert len(build.steps) == 5


@pytest.mark.parametrize(
    ("was", "now", "line", "what", "mend"),
    [
        ('punch = "3 mm"', 'punch = "3"', 28, "3 has no unit", 'write "3 in" or "3 mm"'),
        (
            '"2 * long"',
            '"2 * widths"',
            26,
            'unknown measure "widths"',
            'did you mean "width"? Else add it: widths = "..." under [measures]',
        ),
        ('takes = "rivet"', 'takes = "stud"', 28, 'takes = "stud", but there is no [hardware.stud]', None),
        ("[measures]", "[parts.more]\nuse = 'parts/ring-tab.toml'\n[measures]", 5, 'unknown table "parts"', None),
        ('title   = "Ring tab"', "title = ", 2, "the value is missing (column 9)", None),
    ],
)
def test_a_problem_of_a_part_is_told_at_its_own_file_and_line(
    shop: Path, edit: Edit, was: str, now: str, line: int, what: str, mend: str | None
) -> None:
    edit(PART, was, now)
    found = told(shop)
    assert (PART, line, what) in [problem[:3] for problem in found], found
    if mend is not None:
        assert mend in [problem[3] for problem in found]


@pytest.mark.parametrize(
    ("was", "now", "line", "what"),
    [
        ('"parts/ring-tab.toml"', '"../ring-tab.toml"', 19, '"../ring-tab.toml" lies outside the spec\'s folder'),
        ('"parts/ring-tab.toml"', '"/etc/part.toml"', 19, '"/etc/part.toml" lies outside the spec\'s folder'),
        ('"parts/ring-tab.toml"', '"parts/none.toml"', 19, 'there is no part "parts/none.toml" beside the spec'),
        ('"parts/ring-tab.toml"', '"parts/tab.svg"', 19, '"parts/tab.svg" is not a TOML file'),
        ('["hide: body"]', '["hide: bdoy"]', 20, '"hide: bdoy" names nothing of this spec that could stand for'),
        ("{ width =", "{ widht =", 24, 'the part "right" has no measure "widht"'),
        ('before   = "close"', 'before   = "clsoe"', 26, 'before = "clsoe", but there is no step of that name'),
    ],
)
def test_what_a_spec_says_of_a_part_is_told_in_the_spec(
    shop: Path, edit: Edit, was: str, now: str, line: int, what: str
) -> None:
    edit("case.toml", was, now)
    assert [(path, at) for path, at, words, _ in told(shop) if words.startswith(what)] == [("case.toml", line)]


def test_a_part_that_leads_out_of_the_folder_or_is_too_large_is_not_read(shop: Path) -> None:
    part = shop / PART
    part.rename(shop.parent / "ring-tab.toml")
    part.symlink_to(shop.parent / "ring-tab.toml")
    assert any("leads out of the spec's folder" in problem[2] for problem in told(shop))
    part.unlink()
    part.write_bytes(b"# " + b"x" * 2**20 + b"\n")
    assert any("is larger than 1 MiB" in problem[2] for problem in told(shop))
    part.write_text("".join(f"[measures{n}]\na = '1 mm'\n" for n in range(900)), encoding="utf-8")
    assert any("comes to more than 1,000 keys and values" in problem[2] for problem in told(shop))


def test_the_digest_covers_it_and_an_issue_keeps_it(shop: Path, edit: Edit) -> None:
    before = read_spec(shop / "case.toml").digest
    issued = issue_spec(IssueCall(spec=shop / "case.toml", date="2026-03-31")).issued
    assert (issued.folder / PART).read_bytes() == (shop / PART).read_bytes()
    edit(PART, '"20 mm"', '"22 mm"')
    assert read_spec(shop / "case.toml").digest != before
    assert read_spec(issued.spec_path).digest == before == issued.digest


def test_compare_tells_that_a_part_changed_and_what_by_it(shop: Path, edit: Edit) -> None:
    issue_spec(IssueCall(spec=shop / "case.toml", date="2026-03-31"))
    edit(PART, '"20 mm"', '"22 mm"')
    (found,) = compare_versions(CompareCall(before="1", after=str(shop / "case.toml")))
    changed = {(change.part, change.name) for change in found.changes}
    assert {("shop's part", "left"), ("shop's part", "right"), ("piece", "left-tab")} <= changed
    assert ("piece", "right-tab") not in changed, "its width is set by the spec"


def test_a_printed_packet_leads_back_to_the_spec_and_its_parts(shop: Path) -> None:
    outcome = build_documents(shop / "case.toml", shop / "out", date="2026-03-31", only=["packet"])
    side = read_side(str(outcome.paths[0]))
    assert side.build.digest == read_spec(shop / "case.toml").digest
    assert [part.file for part in side.build.used_parts] == [PART, PART]


def test_all_builds_that_use_a_part_can_be_asked_for(
    shop: Path, edit: Edit, capsys: pytest.CaptureFixture[str]
) -> None:
    issue_spec(IssueCall(spec=shop / "case.toml", date="2026-03-31"))
    (shop / "plain.toml").write_text('[spec]\ncode = "plain"\n', encoding="utf-8")
    assert [(use.code, use.names, use.is_same) for use in list_uses(shop / PART, shop)] == [
        ("case", ("left", "right"), True),
        ("case", (), True),
    ]
    edit(PART, '"20 mm"', '"22 mm"')
    assert cli.main(["trace", str(shop / PART), "--in", str(shop)]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert lines[0] == f"{shop / PART} is brought in by"
    assert lines[1] == f"  {shop / 'case.toml'}: case version 1, as left, right"
    assert lines[2].endswith(
        "case version 1, issued 2026-03-31, with other contents than now: docgen compare tells what differs"
    )
    assert not is_part_file(str(shop / "case.toml"))


def test_numbers_that_are_no_table_are_told(shop: Path, edit: Edit) -> None:
    edit("case.toml", "[parts.left]\n", "[parts.left]\nnumbers = 3\n")
    line = (shop / "case.toml").read_text(encoding="utf-8").splitlines().index("numbers = 3") + 1
    what = "numbers must be a table of name = whole number"
    assert told(shop) == [("case.toml", line, what, "write numbers = { NAME = 4 }")]


def test_what_cannot_be_read_is_passed_over_where_uses_are_listed(
    shop: Path, edit: Edit, capsys: pytest.CaptureFixture[str]
) -> None:
    (shop / "broken.toml").write_text("[spec", encoding="utf-8")
    assert not is_part_file(str(shop / "broken.toml"))
    issue_spec(IssueCall(spec=str(shop / "case.toml"), date="2026-03-31"))
    assert len(list_uses(shop / PART, shop)) == 2
    edit("issued/case/1/case.toml", '"Case"', '"Cases"')
    assert [use.issued for use in list_uses(shop / PART, shop)] == [""]
    (shop / "other.toml").write_text((shop / PART).read_text(encoding="utf-8"), encoding="utf-8")
    assert cli.main(["trace", str(shop / "other.toml"), "--in", str(shop)]) == 0
    assert capsys.readouterr().out == f"no build in {shop} brings in {shop / 'other.toml'}\n"


def test_a_spec_without_steps_keeps_the_proposed_order(shop: Path) -> None:
    text = (shop / "case.toml").read_text(encoding="utf-8").replace('before   = "close"\n', "")
    (shop / "case.toml").write_text(text.split("[[steps]]")[0], encoding="utf-8")
    build = resolve_build(read_spec(shop / "case.toml"))
    assert build.steps == ()
    assert build.assembly.is_proposed


NUMBERS = """\
[numbers.tabs]
what   = "Tabs, one behind the other."
number = 2
least  = 1
most   = 4

[ranges.width]
what  = "Width of the tab."
least = "15 mm"
most  = "long / 2"

[[landings]]
each  = "tabs"
on    = "front"
piece = "more-{n}"
at    = "{n} * 30 mm from left, middle"

[pieces."more-{n}"]
each  = "tabs"
title = "Tab {n} of {tabs}"
of    = "hide"
shape = "rectangle"
size  = ["width", "{tabs + 1} * 10 mm"]

"""


@pytest.fixture
def numbered(shop: Path, edit: Edit) -> Path:
    edit(PART, "[hardware.ring]", f"{NUMBERS}[hardware.ring]")
    edit(PART, 'pieces = ["tab"]', 'pieces = ["tab", "more-1", "more-{tabs}"]')
    edit("case.toml", "[parts.right]", "numbers = { tabs = 3 }\n\n[parts.right]")
    return shop


def test_a_part_of_the_shop_may_ask_for_numbers_and_lay_its_pieces_on_those_of_the_spec(numbered: Path) -> None:
    build = resolve_build(read_spec(numbered / "case.toml"))
    more = {piece.name: piece for piece in build.pieces if "-more-" in piece.name}
    assert {name: piece.title for name, piece in more.items()} == {
        **{f"left-more-{n}": f"Tab {n} of 3, left" for n in (1, 2, 3)},
        **{f"right-more-{n}": f"Tab {n} of 2, right" for n in (1, 2)},
    }
    landings = next(piece for piece in build.pieces if piece.name == "front").marks.landings
    lefts_mm = {landing.piece: path_box(landing.outline).left for landing in landings}
    assert lefts_mm == pytest.approx({name: 30 * int(name[-1]) for name in more})
    # 20 mm wide, and as tall as 10 mm for every tab and one more.
    boxes = [path_box(landing.outline) for landing in landings if landing.piece == "left-more-1"]
    assert [(box.width, box.height) for box in boxes] == [pytest.approx((20, 40))]
    assert build.steps[0].pieces == ("left-tab", "left-more-1", "left-more-3")


@pytest.mark.parametrize(
    ("was", "now", "line", "what", "mend"),
    [
        ('"more-{n}"]', '"more"]', 26, '"more" is given twice', "put {n} into its name"),
        ("of {tabs}", "of {tubs}", 28, 'there is no number "tubs"', "numbers known here: tabs, n"),
        ("{tabs + 1}", "{tabs * 2}", 31, '"tabs * 2" is no number', 'write it like "pockets" or "n - 1"'),
        ('each  = "tabs"\ntitle', 'each  = "tab"\ntitle', 27, 'there is no number "tab"', "numbers known here: tabs"),
        ("number = 2", 'number = "two"', 11, 'number must be a whole number: "two"', None),
        (
            'on    = "front"',
            'on    = "frnt"',
            22,
            'on = "frnt", but there is no [pieces.frnt]',
            'did you mean "front"?',
        ),
    ],
)
def test_what_is_wrong_with_numbers_is_told_in_the_file_of_the_part(
    numbered: Path, edit: Edit, was: str, now: str, line: int, what: str, mend: str | None
) -> None:
    edit(PART, was, now)
    found = told(numbered)
    assert (PART, line, what) in [problem[:3] for problem in found], found
    assert mend is None or mend in [problem[3] for problem in found]


def test_a_measure_beyond_its_range_is_one_problem_where_it_is_set(numbered: Path, edit: Edit) -> None:
    edit("case.toml", 'width = "25 mm"', 'width = "14 mm"')
    what = '"width" of the part "right" comes to 14 mm, and goes from 15 mm to 21 mm'
    assert told(numbered) == [("case.toml", 26, what, "write a length in between")]


def test_a_part_that_grows_beyond_all_bounds_is_refused(numbered: Path, edit: Edit) -> None:
    edit(PART, "most   = 4", "most   = 200")
    edit("case.toml", "tabs = 3", "tabs = 200")
    assert "the part comes to more than 1,000 keys and values" in [problem[2] for problem in told(numbered)]
