"""Goods by length, from the spec to the lists: lengths worked out by hand beside each figure.

What is added at the ends, stops and spare is common practice, no published source.
"""

import math
from dataclasses import replace

import pytest
from pypdf import PdfReader
from spec_text import Resolve, Tell
from step_lines import words_of

from docgen import build_documents
from docgen.assemble import Assembled
from docgen.pages import make_csv_tables
from docgen.pages.lists.supply_list import trimming_blocks
from docgen.pages.looks.words import words
from docgen.plan import ends_words, join_plans, plan_work, run_words
from docgen.plan.trimmings import trimming_lines
from docgen.resolve import Build, Trimming
from docgen.versions.compared.differences import list_changes

POUCH = """\
<back>
round = { bottom-left = "20 mm", bottom-right = "20 mm" }
<front>
[trimmings.zip]
what = "coil zip"
kind = "zip"
width = "32 mm"
thickness = "0.6 mm"
[trimmings.tape]
what = "grosgrain"
kind = "binding"
thickness = "0.4 mm"
price = "1.20 per m"
[trimmings.gather]
what = "elastic tape"
kind = "elastic"
thickness = "1 mm"
relaxed = "80 %"
along = ["back: left bottom"]
[trimmings.grip]
what = "webbing"
kind = "webbing"
thickness = "1.5 mm"
length = "300 mm"
cut = 2
spare = "10 %"
<seam zip-front: ["front: top", "zip: left"]>
<seam zip-back: ["back: top", "zip: right"]>
<seam round: ["tape", "front: left bottom right", "back: left bottom right"]>
"""
EDGE_MM = 130 + 160 + 130 + math.pi * 20  # of 200 x 150 mm with two corners of 20 mm
LINE_MM = 130 + 160 + 130 + math.pi * 16  # 4 mm in from it


def find(build: Build, name: str) -> Trimming:
    return next(item for item in build.trimmings if item.name == name)


def test_one_zip_is_cut_for_both_its_tapes_with_its_stops_inside_the_rows_across_it(resolve_text: Resolve) -> None:
    """A run of 200 mm, which the seam round the pouch crosses 4 mm in at either end: 192 mm are left, 182 mm between stops
    of 5 mm each; 25 mm of tape over at each end."""
    build = resolve_text(POUCH)
    (cut,) = find(build, "zip").cuts
    assert (cut.run_mm, cut.between_mm, cut.length_mm) == pytest.approx((200, 182, 250))
    assert cut.seams == ("zip-front", "zip-back")
    told = run_words(find(build, "zip"), cut, build.show)[0]
    assert told == "182 mm (7 5/32 in) between its stops, each 5 mm (3/16 in) inside the row that crosses its end"


def test_a_seam_that_is_sewn_before_the_zip_or_ends_short_of_it_takes_nothing_of_it(resolve_text: Resolve) -> None:
    steps = """
[[steps]]
do = "First."
seams = ["round"]
[[steps]]
do = "Then."
seams = ["zip-front", "zip-back"]
"""
    assert find(resolve_text(POUCH + steps), "zip").cuts[0].between_mm == pytest.approx(190)
    short = ('"front: left bottom right", "back: left bottom right"', '"front: bottom", "back: bottom"')
    assert find(resolve_text(POUCH, short), "zip").cuts[0].between_mm == pytest.approx(190)
    one = ('"front: left bottom right", "back: left bottom right"', '"front: left bottom", "back: left bottom"')
    build = resolve_text(POUCH, one)
    (cut,) = find(build, "zip").cuts
    assert sorted(cut.crossed_mm) == pytest.approx([0, 4])
    assert (
        "from the end of the seam, and inside the row that crosses its other end"
        in run_words(find(build, "zip"), cut, build.show)[0]
    )


@pytest.mark.parametrize(
    ("edges", "begins"),
    [
        ("bottom", "no seam crosses its ends: turn them"),
        ("left bottom", "take the teeth off"),
        ("left bottom right", "take"),
    ],
)
def test_ends_of_a_zip_that_no_seam_crosses_are_not_said_to_be_sewn_in(
    resolve_text: Resolve, edges: str, begins: str
) -> None:
    own = ('"front: left bottom right", "back: left bottom right"', f'"front: {edges}", "back: {edges}"')
    assert ends_words(find(resolve_text(POUCH, own), "zip")).startswith(begins)


def test_what_a_step_says_of_free_ends_is_not_said_again(resolve_text: Resolve) -> None:
    short = ('"front: left bottom right", "back: left bottom right"', '"front: bottom", "back: bottom"')
    for first, is_told in (("Turn the ends under.", False), ("Open the zip.", True)):
        steps = f'[[steps]]\ndo = "Sew."\nseams = ["zip-front", "zip-back"]\nfirst = ["{first}"]\n'
        build = resolve_text(POUCH + steps, short)
        told = [words for _, words in trimming_lines(build, build.steps, 0)]
        assert any(words.startswith("no seam crosses its ends") for words in told) == is_told


def test_a_binding_is_as_long_as_the_cut_edge_and_a_bead_as_the_stitch_line(resolve_text: Resolve) -> None:
    """Both with 15 mm over at each end."""
    (tape,) = find(resolve_text(POUCH), "tape").cuts
    assert tape.length_mm == pytest.approx(EDGE_MM + 30)
    (bead,) = find(resolve_text(POUCH, ('"binding"', '"bead"')), "tape").cuts
    assert bead.length_mm == pytest.approx(LINE_MM + 30)


def test_elastic_is_cut_to_its_share_of_the_edge_and_not_of_its_ends(resolve_text: Resolve) -> None:
    """130 + 160 mm and one corner; a corner between two edges of a run belongs to it."""
    (cut,) = find(resolve_text(POUCH), "gather").cuts
    assert cut.run_mm == pytest.approx(130 + 160 + math.pi * 10)
    assert cut.length_mm == pytest.approx(0.8 * cut.run_mm + 20)


def test_a_length_that_is_written_is_cut_as_it_is_and_a_zip_has_its_tape_besides(resolve_text: Resolve) -> None:
    (cut,) = find(resolve_text(POUCH), "grip").cuts
    assert (cut.length_mm, cut.count) == (300, 2)
    zip_cut = find(resolve_text(POUCH, ('width = "32 mm"', 'length = "7 in"')), "zip").cuts[0]
    assert (zip_cut.between_mm, zip_cut.length_mm) == pytest.approx((177.8, 177.8 + 2 * 5 + 2 * 25))


def test_a_zip_of_a_written_length_lies_in_the_middle_of_its_seam(resolve_text: Resolve) -> None:
    """150 of 192 mm between the rows that cross its ends: each of its stops 21 mm from these, whatever the usual
    distance."""
    build = resolve_text(POUCH, ('width = "32 mm"', 'length = "150 mm"'))
    item = find(build, "zip")
    (told,) = run_words(item, item.cuts[0], build.show)
    assert told == "150 mm (5 29/32 in) between its stops, each 21 mm (13/16 in) inside the row that crosses its end"


def test_the_shortest_ready_length_that_will_do_is_bought(resolve_text: Resolve) -> None:
    """182 mm are wanted between the stops."""
    text = POUCH.replace('width = "32 mm"', 'ready = ["250 mm", "180 mm", "200 mm"]')
    plan = plan_work(resolve_text(text))
    zips = next(item for item in plan.trimmings if item.trimming.name == "zip")
    assert zips.ready == ((200.0, 1),)


@pytest.mark.parametrize(("layers", "more_mm"), [("", 0.8), ("layers = 1\n", 0.4), ("layers = 0\n", 0.0)])
def test_the_needle_meets_a_binding_twice_where_the_spec_says_nothing(
    resolve_text: Resolve, layers: str, more_mm: float
) -> None:
    """Two of leather, 2 mm each, and the binding of 0.4 mm folded round them; at both ends the tapes of the zip, 0.6 mm
    each, besides."""
    text = POUCH.replace('thickness = "0.4 mm"\n', f'thickness = "0.4 mm"\n{layers}')
    seam = next(seam for seam in resolve_text(text).seams if seam.name == "round")
    assert (seam.thinnest_mm, seam.thickest_mm) == pytest.approx((4 + more_mm, 4 + more_mm + 2 * 0.6))
    assert [layer.part for layer in seam.layers if layer.least_mm] == ["tape"] * round(more_mm / 0.4) + [
        "front",
        "back",
    ]


def test_what_is_bound_first_is_there_when_the_edge_is_sewn_again(resolve_text: Resolve) -> None:
    """Front (2 mm) bound with 2 x 0.4 mm, then sewn to the back (2 mm), but where the zip ends; and that is there once,
    also under a second seam that names it."""
    text = POUCH.replace('["tape", "front: left bottom right", "back: left bottom right"]', '["tape", "front: left"]')
    seams = {seam.name: seam for seam in resolve_text(text + '<seam last: ["front: left", "back: left"]>\n').seams}
    assert seams["last"].stack_mm == pytest.approx(2 + 0.8 + 2)
    twice = POUCH + '<seam again: ["front: top", "zip: left"]>\n'
    seams = {seam.name: seam for seam in resolve_text(twice).seams}
    assert seams["again"].thickest_mm == pytest.approx(seams["zip-front"].thickest_mm) == pytest.approx(2.6)


def test_lists_count_for_the_batch_with_the_spare(resolve_text: Resolve) -> None:
    """Two grips of 300 mm in each of four makes, and 10 %; the tape 5 %, as where nothing is said. A price for a length
    takes what is bought: up to the next hundredth of a metre."""
    plan = plan_work(replace(resolve_text(POUCH), makes=4))
    items = {item.trimming.name: item for item in plan.trimmings}
    assert (items["grip"].count, items["grip"].net_mm) == (8, 2400)
    assert items["grip"].gross_mm == pytest.approx(2640)
    bought_m = math.ceil(4 * (EDGE_MM + 30) * 1.05 / 10) / 100
    assert plan.cost is not None
    assert plan.cost.total == pytest.approx(round(bought_m * 1.20, 2))
    assert {"coil zip", "elastic tape", "webbing"} <= set(plan.cost.unpriced)


def test_a_seam_that_is_sewn_twice_takes_two(resolve_text: Resolve) -> None:
    bead = '[trimmings.b]\nwhat = "bead"\nkind = "bead"\nthickness = "1 mm"\n'
    plan = plan_work(resolve_text(f'<back>\ncut = 2\n{bead}<seam s: ["back: left", "b"]>\n'))
    assert plan.trimmings[0].count == 2


def test_variants_cut_their_own_lengths_of_goods_bought_together(resolve_text: Resolve) -> None:
    small = plan_work(replace(resolve_text(POUCH), variant="small", makes=2))
    large = plan_work(replace(resolve_text(POUCH, ('"200 mm", "150 mm"', '"300 mm", "150 mm"')), variant="large"))
    joined = {item.trimming.name: item for item in join_plans([small, large], "all").trimmings}
    assert [(cut.between_mm, count) for cut, count in joined["zip"].cuts] == [
        (pytest.approx(182), 2),
        (pytest.approx(282), 1),
    ]
    assert [count for _, count in joined["grip"].cuts] == [6]


def test_steps_cut_once_and_tell_which_tape_is_sewn(resolve_text: Resolve) -> None:
    plan = plan_work(resolve_text(POUCH))
    lines = {step.do: words_of(step.acts) for step in plan.steps}
    front = next(line for line in lines["Sew: zip front."] if line.startswith("coil zip: "))
    assert front.startswith("coil zip: 1 of 250 mm (9 27/32 in), cut by the list, for zip front, zip back; ")
    assert front.endswith("; sew its left tape: zip front.")
    assert "coil zip: sew its right tape: zip back." in lines["Sew: zip back."]
    fixed = next(step for step in plan.steps if step.do == "Fix: webbing.")
    assert lines[fixed.do][0].startswith("webbing: 2 of 300 mm (11 13/16 in), cut by the list")


def test_the_list_and_the_table_tell_the_same(resolve_text: Resolve) -> None:
    plan = plan_work(resolve_text(POUCH))
    table = next(table for table in make_csv_tables(plan) if table.name == "trimmings")
    told = {row[0]: dict(zip(table.headings, row, strict=True)) for row in table.rows}
    assert told["zip"]["cut length (mm)"] == "250"
    assert told["zip"]["between stops (mm)"] == "182"
    assert told["grip"]["buy from the roll (m)"] == "0.66"
    _, block = trimming_blocks(plan.trimmings, "mm", words("cutting"))[0].blocks[1:]
    rows = {row[0].split("\n")[0]: row for row in block.rows}
    assert rows["coil zip"][2] == "250 mm\n(9 27/32 in)"
    assert rows["webbing"][4].replace("\u00a0", " ").startswith("0.66 m")


def test_nothing_of_them_is_on_the_pattern(resolve_text: Resolve, tmp_path) -> None:
    resolve_text(POUCH)
    outcome = build_documents("a.toml", out=str(tmp_path / "out"), date="2026-01-01")
    text = {path.stem: "".join(page.extract_text() for page in PdfReader(path).pages) for path in outcome.paths}
    assert "coil zip" not in text["pattern"]
    assert "coil zip" in text["cutting-list"]
    assert "sew its right tape" in text["build-sheet"]


def test_a_comparison_tells_lengths_and_what_a_seam_meets(resolve_text: Resolve) -> None:
    before = resolve_text(POUCH)
    after = resolve_text(POUCH, ('"200 mm", "150 mm"', '"210 mm", "150 mm"'), (', "zip: right"]', "]"))
    facts = {(change.part, change.name): change.facts for change in list_changes(before, after)}
    assert [fact.name for fact in facts["seam", "zip-back"]][-1] == "meets"
    assert [fact.name for fact in facts["trimming", "zip"]] == ["cut for"]
    (fact,) = facts["trimming", "tape"]
    assert (fact.name, fact.before, fact.after) == (
        "cut length round",
        pytest.approx(EDGE_MM + 30),
        pytest.approx(EDGE_MM + 40),
    )


@pytest.mark.parametrize("kind", ["cord", "piping-cord"])
def test_a_cord_lies_beside_the_needle(resolve_text: Resolve, kind: str) -> None:
    build = resolve_text(POUCH, ('"binding"', f'"{kind}"'))
    assert isinstance(build, Assembled)
    assert next(seam for seam in build.seams if seam.name == "round").stack_mm == pytest.approx(4)


def test_a_step_must_cut_what_no_seam_sews(cautions) -> None:
    told = cautions(POUCH + '<step "Sew it.": seams = ["zip-front", "zip-back", "round"]>\ntrimmings = ["grip"]\n')
    assert told == (
        'a.toml:31: caution: no step cuts "gather"\n'
        "    written: [trimmings.gather]\n"
        '    mend:    write trimmings = ["gather"] in a step\n'
        "    check:   work-in-no-step, at gather\n"
    )


def test_a_price_in_the_shops_file_goes_by_the_words(resolve_text: Resolve, tmp_path) -> None:
    """Two grips of 300 mm and 10 % are 0.66 m, at 2 a metre; a zip at 3 each."""
    resolve_text(POUCH, ('price = "1.20 per m"\n', ""))
    (tmp_path / "shop.toml").write_text('[prices.trimmings]\nwebbing = "2 per m"\n"Coil Zip" = "3 each"\n')
    outcome = build_documents("a.toml", out=str(tmp_path / "out"), date="2026-01-01", csv=True)
    cost = next(path for path in outcome.paths if path.name == "cost.csv").read_text(encoding="utf-8-sig")
    lines = [line.split(",") for line in cost.splitlines() if line.startswith("trimming")]
    assert [(line[1], line[-1]) for line in lines] == [("coil zip", "3.00"), ("webbing", "1.32")]


@pytest.mark.parametrize(
    ("written", "grams"), [("28 g per m", 2 * 0.3 * 28), ("1 oz per yd", 2 * 0.3 / 0.9144 * 28.349523125)]
)
def test_goods_by_length_weigh_as_they_are_cut(written: str, grams: float, resolve_text: Resolve) -> None:
    """Two lengths of 300 mm; an ounce is 28.349523125 g and a yard 0.9144 m (international, 1959)."""
    build = resolve_text(POUCH.replace('length = "300 mm"', f'length = "300 mm"\nweight = "{written}"'))
    assert {weight.name: weight.grams for weight in build.weights}["grip"] == pytest.approx(grams)
    assert build.unweighed == ("zip", "tape", "gather")


@pytest.mark.parametrize(
    ("written", "what", "mend"),
    [
        ('"28 g"', '"28 g" does not say for what length', 'write it like "28 g per m" or "1 oz per yd"'),
        ('"28 g per kg"', '"kg"', 'write it like "28 g per m" or "1 oz per yd"'),
        ("28", "weight has no unit: 28", 'write "28 g per m" or "28 oz per yd", quotes and all'),
    ],
)
def test_a_weight_that_cannot_be_read_is_told(written: str, what: str, mend: str, messages: Tell) -> None:
    told = messages(POUCH.replace('length = "300 mm"', f'length = "300 mm"\nweight = {written}'))
    assert "a.toml:42: error: " in told
    assert what in told
    assert mend in told
