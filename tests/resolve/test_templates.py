"""Pieces without a template of their own: counted, listed and drawn all the same, and told where two builds differ."""

from pathlib import Path

import pytest
from pypdf import PdfReader
from spec_text import Resolve, Tell

from docgen import build_documents
from docgen.cli import main
from docgen.pages import also_notes, make_csv_tables
from docgen.plan import Plan, plan_work
from docgen.resolve import Piece
from docgen.versions.compared.differences import list_changes
from docgen.versions.compared.recut import judge_templates

BAG = """\
<back>
holes = [{ at = "centre, 20 mm from top", punch = "4 mm" }]
title = "Back panel"
<front>
shares = "back"
title = "Front panel"
<rectangle tab: ["30 mm", "60 mm"]>
cut = 4
die = "ring tab"
title = "Ring tab"
<strip band: ["30 mm", "500 mm"]>
rule = true
title = "Long band"
<rectangle flap: ["80 mm", "60 mm"]>
kept = "satchel 2"
title = "Small flap"
"""


def find(plan: Plan, name: str) -> Piece:
    return next(piece for piece in plan.build.pieces if piece.name == name)


def test_every_piece_is_counted_and_its_way_told(resolve_text: Resolve) -> None:
    plan = plan_work(resolve_text(BAG))
    told = {item.name: (item.count, item.notes) for material in plan.materials for item in material.items}
    assert told["tab"] == (4, ("die: ring tab",))
    assert told["band"] == (1, ("by the rule, no template",))
    assert told["flap"] == (1, ("template kept: satchel 2",))
    assert told["front"][1][0] == "by the template of Back panel"
    assert told["back"][1][0].startswith("1 hole")
    rows = next(table for table in make_csv_tables(plan) if table.name == "pieces").rows
    assert any("die: ring tab" in row for row in rows)


def test_a_die_is_laid_out_with_the_tools_and_has_its_caution(resolve_text: Resolve) -> None:
    plan = plan_work(resolve_text(BAG))
    assert plan.tools[0] == "die: ring tab"
    assert "press" in plan.hazards
    without = plan_work(resolve_text(BAG, ('die = "ring tab"\n', "")))
    assert "press" not in without.hazards


def test_a_shared_template_says_what_else_it_cuts(resolve_text: Resolve) -> None:
    plan = plan_work(resolve_text(BAG))
    assert also_notes(plan.build, find(plan, "back")) == ("also Front panel: cut 1, body, 2 mm (5 oz)",)
    assert also_notes(plan.build, find(plan, "tab")) == ()


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_the_pattern_prints_the_others_alone_and_names_what_it_leaves_out(
    resolve_text: Resolve, tmp_path: Path, paper: str
) -> None:
    resolve_text(BAG)
    step = '[[steps]]\ndo = "Fold the tabs."\npieces = ["tab"]\n'
    Path("a.toml").write_text(Path("a.toml").read_text() + step)
    paths = build_documents("a.toml", out=str(tmp_path / "out"), date="2026-01-01", paper=paper).paths
    pages = {path.stem: [page.extract_text() for page in PdfReader(path).pages] for path in paths}
    first, *sheets = pages["pattern"]
    assert "Front panel; Ring tab; Long band; Small flap" in " ".join(first.split())
    drawn = "".join(sheets)
    assert "Back panel" in drawn
    assert "also Front panel" in drawn
    assert not any(name in drawn for name in ("Ring tab", "Long band", "Small flap"))
    assert "Ring tab" in "".join(pages["build-sheet"])
    assert "die: ring tab" in "".join(pages["cutting-list"])


def test_a_piece_that_is_named_is_printed_and_exported_all_the_same(resolve_text: Resolve, tmp_path: Path) -> None:
    resolve_text(BAG)
    (path,) = build_documents("a.toml", out=str(tmp_path / "out"), date="2026-01-01", pieces=["tab"]).paths
    assert "Ring tab" in PdfReader(path).pages[1].extract_text()
    assert main(["export", "a.toml", "--to", "svg", "--out", str(tmp_path / "drawn"), "--pieces", "tab"]) == 0
    assert len(list((tmp_path / "drawn").iterdir())) == 1


def test_a_pattern_of_nothing_says_so(
    resolve_text: Resolve, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    resolve_text('<back>\nrule = true\ntitle = "Back panel"\n')
    assert main(["make", "a.toml", "--out", str(tmp_path / "out"), "--only", "pattern"]) == 0
    assert "no template is printed" in capsys.readouterr().out
    (page,) = PdfReader(tmp_path / "out" / "pattern.pdf").pages
    assert "Not printed; the cutting list tells how they are cut: Back panel." in " ".join(page.extract_text().split())


def test_a_piece_turned_over_may_share_and_one_with_fewer_marks_too(resolve_text: Resolve) -> None:
    """A panel with one rounded corner and its mirror; the mirror has no holes of its own."""
    text = (
        '<back>\nround = { top-left = "30 mm" }\nholes = [{ at = "10 mm from top, centre", punch = "4 mm" }]\n'
        '<front>\nmirror = true\nmarks = false\nshares = "back"\n'
    )
    back, front = resolve_text(text).pieces
    assert (back.also_cuts, front.is_printed) == (("front",), False)


def test_a_comparison_tells_a_die_that_no_longer_fits(resolve_text: Resolve) -> None:
    before = resolve_text(BAG)
    after = resolve_text(BAG, ('["30 mm", "60 mm"]', '["30 mm", "64 mm"]'))
    verdicts = {item.name: item for item in judge_templates(before, after)}
    assert verdicts["tab"].title == "Ring tab (die: ring tab)"
    assert "outline" in verdicts["tab"].reasons
    assert all(item.is_kept for name, item in verdicts.items() if name != "tab")
    other = resolve_text(BAG, ('die = "ring tab"\n', ""), ('shares = "back"\n', ""))
    facts = {change.name: [fact.name for fact in change.facts] for change in list_changes(before, other)}
    assert facts["tab"] == ["template", "die or template"]
    assert facts["back"] == ["template cuts besides"]
    assert {item.name for item in judge_templates(before, other) if not item.is_kept} == {"tab", "front", "back"}


def test_a_template_is_right_though_its_goods_have_another_name_in_the_spec(resolve_text: Resolve) -> None:
    text = (
        '[materials.calf]\ntitle = "calf"\nkind = "leather"\nthickness = "2 mm"\n'
        '<rectangle a of calf: ["60 mm", "40 mm"]>\n'
    )
    after = text.replace("materials.calf", "materials.skin").replace("of calf:", "of skin:")
    (verdict,) = judge_templates(resolve_text(text), resolve_text(after))
    assert (verdict.name, verdict.reasons) == ("a", ())


STRAPS = """\
<back>
[straps.tab]
of = "body"
width = "20 mm"
finished = "80 mm"
cut = 2
die = "tab 20"
ends = [{ shape = "rounded" }, { shape = "square" }]
[straps.band]
of = "body"
width = "30 mm"
finished = "500 mm"
rule = true
[straps.pull]
of = "body"
width = "10 mm"
finished = "90 mm"
kept = "satchel 2"
"""


def test_straps_may_be_cut_by_a_die_the_rule_or_a_kept_template(resolve_text: Resolve, tmp_path: Path) -> None:
    build = resolve_text(STRAPS)
    plan = plan_work(build)
    told = {item.strap.name: (item.count, item.notes) for material in plan.materials for item in material.straps}
    assert told == {
        "tab": (2, ("die: tab 20",)),
        "band": (1, ("by the rule, no template",)),
        "pull": (1, ("template kept: satchel 2",)),
    }
    assert plan.tools[0] == "die: tab 20"
    assert "press" in plan.hazards
    build_documents("a.toml", tmp_path / "out", date="2026-03-31")
    pattern, cutting = (
        " ".join(page.extract_text() for page in PdfReader(tmp_path / "out" / f"{name}.pdf").pages)
        for name in ("pattern", "cutting-list")
    )
    assert "tab; band; pull" in " ".join(pattern.split())
    assert "band, start" not in pattern
    assert all(words in cutting for words in ("die: tab 20", "by the rule, no template", "template kept: satchel 2"))


@pytest.mark.parametrize(
    ("was", "now", "line", "what", "mend"),
    [
        (
            'die = "tab 20"',
            "rule = true",
            23,
            '"tab" has a rounded end, and cannot be cut by the rule alone',
            "leave rule out",
        ),
        (
            "rule = true",
            'rule = true\npunches = [{ at = "middle, centre", punch = "3 mm" }]',
            29,
            '"band" has holes, and cannot be cut by the rule alone',
            "leave rule out, so that its template is printed",
        ),
        (
            'kept = "satchel 2"',
            'kept = "satchel 2"\ndie = "x"',
            34,
            '"pull" is cut in two ways at once',
            "keep one of die, rule and kept",
        ),
    ],
)
def test_a_strap_that_cannot_be_cut_so_is_told(
    was: str, now: str, line: int, what: str, mend: str, messages: Tell
) -> None:
    told = messages(STRAPS.replace(was, now, 1))
    assert f"a.toml:{line}: error: {what}" in told
    assert f"    mend:    {mend}" in told
