"""The list of checks: each has a name, a sentence and a source of its own, and a case that fires with a silent twin.

Cases stand in `checks_*.txt` beside this file, and those of the order of steps in `test_checks_order.py`, under the id
of their check, and what tells them apart after a comma.
"""

import importlib
import inspect
import re
import runpy
from pathlib import Path

import pytest
from cases import Case, read_cases
from spec_text import Resolve, Tell

from docgen.calls.check import explain
from docgen.checks.reasons import REASONS
from docgen.checks.trade import CHECKS, EARLIER, EARLIER_CHECKS
from docgen.checks.trade.check import Check
from docgen.cli import main
from docgen.problems import CallRejected, Problem, SpecRejected
from docgen.tables.limits import Limits, limit_words

BARE = "<back>\n"
STOPPING = {*(check.id for check in CHECKS if check.stops), *EARLIER}


HERE = Path(__file__).parent
CASES: dict[str, Case] = runpy.run_path(str(HERE / "test_checks_order.py"))["CASES"]
for path in sorted(HERE.glob("checks_*.txt")):
    CASES |= read_cases(path.read_text(encoding="utf-8"))


def find_problems(resolve_text: Resolve, text: str) -> tuple[Problem, ...]:
    try:
        return resolve_text(text).cautions
    except SpecRejected as error:
        return tuple(error.problems)


def test_every_case_belongs_to_a_check() -> None:
    ids = {*(check.id for check in CHECKS), *EARLIER}
    assert {name.split(",")[0] for name in CASES} - ids == set()


@pytest.mark.parametrize("case", CASES)
def test_a_check_fires_whole_and_its_twin_is_silent(messages: Tell, cautions: Tell, case: str) -> None:
    given, told, twin = CASES[case]
    tell = messages if case.split(",")[0] in STOPPING else cautions
    assert tell(given) == told
    assert cautions(given, twin) == ""


@pytest.mark.parametrize("case", [name for name, case in CASES.items() if "put the one in" in case.told])
def test_holes_meet_where_the_mend_puts_them(cautions: Tell, case: str) -> None:
    given, told, _ = CASES[case]
    written = re.findall('written: (".+")', told)[-1]
    mend = re.findall('put the one in "[^"]+" at ("[^"]+")', told)[-1]
    assert cautions(given, (written, mend)) == ""


@pytest.mark.parametrize("name", [*(check.id for check in CHECKS), *EARLIER])
def test_every_check_has_a_case_that_fires(resolve_text: Resolve, name: str) -> None:
    severity = "error" if name in STOPPING else "caution"
    assert {(found.check, found.severity) for found in find_problems(resolve_text, CASES[name].given)} == {
        (name, severity)
    }


def test_every_check_has_an_id_of_its_own() -> None:
    ids = [*(check.id for check in CHECKS), *EARLIER]
    assert len(ids) == len(set(ids))
    assert all(re.fullmatch("[a-z]+(-[a-z]+)*", name) for name in ids)


def test_every_check_says_what_must_hold_and_where_its_figure_comes_from() -> None:
    assert all(check.says.endswith(".") and check.source for check in CHECKS)
    assert len({check.says for check in CHECKS}) == len(CHECKS)
    assert all(says.endswith(".") for says in EARLIER.values())


def test_a_sentence_tells_the_limit_in_force() -> None:
    """Every limit that a check names stands in its sentence, in the words of that limit."""
    other = Limits(
        needle_share=0.33,
        fold_leather_mm=0.77,
        fold_beyond_mm=7.7,
        hole_edge=2.2,
        hole_stitch_mm=1.7,
        lining_larger_mm=2.7,
        strap_play_mm=4.7,
        pitch_blade=2.8,
        least_pitch_mm=1.7,
        most_pitch_mm=8.7,
        stitch_edge_mm=1.9,
        strap_tip=1.8,
        between_holes_mm=3.3,
        notches_meet_mm=2.9,
        marks_askew_mm=22.7,
        largest_punch_mm=44.7,
        narrowest_room_mm=15.7,
        widest_lap_mm=31.7,
        most_inset_mm=21.7,
        most_tack_mm=66.7,
        widest_strap_mm=133.7,
        setter_reach_mm=222.7,
        strap_hole=0.37,
        longest_tip_mm=322.7,
        widest_wall=4.7,
        slit_hole=4.7,
        fold_corner_mm=5.7,
        bent_over_mm=13.7,
        skive_beyond_mm=9.7,
        most_waste=0.44,
        leather_thickness_mm=(0.7, 5.7),
        leather_density=(0.57, 1.37),
        hide_long_mm=2111.0,
        thickest_bar_mm=8.7,
        foot_lift_mm=(3.7, 31.7),
        flat_reach_mm=57.7,
        hand_room_mm=33.7,
        holes_apart_mm=55.7,
        shortest_zip_mm=56.7,
        keeper_overlap_mm=4.7,
        zip_teeth_mm=3.7,
        snaps_meet_mm=11.7,
        lid_room_mm=(0.7, 3.7),
        rivet_over_mm=(1.1, 1.7),
        tubular_rivet_over_mm=(2.1, 2.7),
        snap_over_mm=(3.1, 3.7),
    )
    told = {
        "needle-too-fine": "33 %",
        "skive-thin-at-fold": "0.77 mm",
        "fold-allowance": "7.7 mm",
        "hole-near-edge": "2.2 times",
        "hole-at-hem": "2.2 times",
        "hole-on-stitch-line": "1.7 mm",
        "lining-larger": "2.7 mm",
        "post-length": "1.1 to 1.7 mm",
        "strap-loose-in-fitting": "4.7 mm",
        "strap-unlike-its-buckle": "4.7 mm",
        "pitch-short-for-needle": "2.8 times",
        "skive-misses-lap": "9.7 mm",
        "strap-skive-long": "9.7 mm",
        "lining-other-shape": "2.7 mm",
        "pitch-too-fine": "1.7 mm",
        "pitch-too-coarse": "8.7 mm",
        "stitch-near-edge": "1.9 mm",
        "rows-far": "21.7 mm",
        "strap-tip-short": "1.8 times",
        "strap-holes-close": "3.3 mm",
        "notches-apart": "2.9 mm",
        "notch-beside": "2.9 mm",
        "marks-askew": "22.7 mm",
        "punch-unusual": "44.7 mm",
        "divider-narrow": "15.7 mm",
        "pocket-narrow": "15.7 mm",
        "waste-unusual": "44 %",
        "lap-wide": "31.7 mm",
        "inset-unusual": "21.7 mm",
        "back-tack-long": "66.7 mm",
        "strap-unusual": "133.7 mm",
        "setter-cannot-reach": "222.7 mm",
        "strap-hole-wide": "37 %",
        "strap-tip-long": "322.7 mm",
        "wall-wide": "4.7 times",
        "slit-long-for-hole": "4.7 times",
        "slit-off-hole": "4.7 times",
        "fold-off-corner": "5.7 mm",
        "fold-near-edge": "13.7 mm",
        "thickness-unusual": "0.7 to 5.7 mm",
        "density-unusual": "0.57 to 1.37 g/cm3",
        "piece-larger-than-hide": "2111 mm",
        "hardware-unusual": "8.7 mm",
        "machine-unusual": "3.7 to 31.7 mm",
        "bed-cannot-reach": "57.7 mm",
        "handle-too-low": "33.7 mm",
        "holes-far-apart": "55.7 mm",
        "lid-does-not-fit": "0.7 to 3.7 mm",
        "zip-short": "56.7 mm",
        "keeper-overlap-short": "4.7 mm",
        "zip-covered": "3.7 mm",
        "snap-halves-apart": "11.7 mm",
        "snap-halves-aside": "11.7 mm",
        "stud-misses-flap": "11.7 mm",
        "folds-askew": "22.7 mm",
    }
    assert {check.id for check in CHECKS if check.limits} == told.keys()
    for check in CHECKS:
        assert check.sentence(other) != check.sentence(Limits()) or not check.limits
        assert told.get(check.id, "") in check.sentence(other)
        assert "{" not in check.sentence(other)


def test_a_check_is_explained_by_the_limit_in_force_and_where_it_stands(resolve_text: Resolve) -> None:
    resolve_text(BARE)
    assert explain("hole-near-edge", "a.toml") == (
        "hole-near-edge: a caution\n"
        "  rule:    The centre of a hole keeps 1.5 times its size from the edge.\n"
        "  why:     The hole tears out to the edge.\n"
        "  source:  common practice, no published source\n"
        "  figure:  hole-edge = 1.5 times, from the tables; [limits] may say another\n"
        '  accept:  [[accept]] with check = "hole-near-edge", at, figures and a reason, where it is all right'
    )
    Path("shop.toml").write_text('[limits]\nhole-edge = "2 times"\n', encoding="utf-8")
    for spec in (None, "a.toml"):
        assert "  figure:  hole-edge = 2 times, from line 2 of shop.toml\n" in explain("hole-near-edge", spec)
    resolve_text(BARE + '[limits]\nhole-edge = "3 times"\n')
    assert "keeps 3 times its size" in explain("hole-near-edge", "a.toml")
    assert "  rule:    A hole lies on its piece.\n" in explain("hole-outside", "a.toml")
    Path("shop.toml").write_text('[limits]\nhole-edge = "2 mm"\n', encoding="utf-8")
    with pytest.raises(SpecRejected):
        explain("hole-near-edge", None)


@pytest.mark.parametrize("check", [*CHECKS, *EARLIER_CHECKS], ids=lambda check: check.id)
def test_every_check_is_explained_whole(resolve_text: Resolve, check: Check) -> None:
    """Its rule with the figures in force, why it is made, and the source; each limit by its key and where it stands; how a
    caution is accepted."""
    resolve_text(BARE)
    lines = explain(check.id, "a.toml").splitlines()
    heads = [line.split()[0] for line in lines[1:]]
    accepts = [] if check.stops else ["accept:"]
    assert heads == ["rule:", "why:", "source:", *["figure:"] * len(check.limits), *accepts]
    assert lines[0] == f"{check.id}: {'an error, which stops the build' if check.stops else 'a caution'}"
    assert lines[1] == f"  rule:    {check.sentence(Limits())}"
    assert re.fullmatch(r"  why:     [A-Z].{10,}\.", lines[2])
    assert len(lines[3].removeprefix("  source:  ")) > 5
    words = limit_words(Limits())
    for key, line in zip(check.limits, lines[4:], strict=False):
        assert line.startswith(f"  figure:  {key.replace('_', '-')} = {words[key]}, ")


def test_reasons_are_those_of_the_checks() -> None:
    assert REASONS.keys() == {*(check.id for check in CHECKS), *EARLIER}


@pytest.mark.parametrize("check", [*CHECKS, *EARLIER_CHECKS], ids=lambda check: check.id)
def test_every_check_has_a_silent_twin(check: Check) -> None:
    """One of its cases at least says how it is silent."""
    assert any(case.twin != ("", "") for name, case in CASES.items() if name.split(",")[0] == check.id)


def test_a_check_that_is_not_there_is_told_with_the_nearest() -> None:
    with pytest.raises(CallRejected, match='no check "hole-near-ege"; did you mean "hole-near-edge"'):
        explain("hole-near-ege", None)
    assert main(["check", "--explain", "x"]) == main(["check"]) == 2


def test_what_is_found_earlier_has_a_source_and_is_noted_where_it_says() -> None:
    for check in EARLIER_CHECKS:
        assert check.source
        assert f'"{check.id}"' in inspect.getsource(importlib.import_module(check.found_in)), check.id
