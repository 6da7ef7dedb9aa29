"""Specs with many mistakes, some that stop and some that do not: each is told once, at its line, and nothing else is."""

from pathlib import Path

import pytest

from docgen.checks import resolve_build
from docgen.problems import SpecRejected
from docgen.read import read_spec

# Line of `thirty_mistakes.toml`, check, and the part it concerns.
FOUND = [
    (12, "waste-unusual", "cloth"),
    (13, "material-idle", "foam"),
    (29, "needle-too-fine", "fine"),
    (35, "needle-too-coarse", "coarse"),
    (41, "needle-beyond-machine", "heavy"),
    (47, "needle-point", "blunt"),
    (53, "pitch-too-fine", "short"),
    (58, "pitch-too-coarse", "long"),
    (64, "stitch-beyond-machine", "far"),
    (66, "stitch-idle", "spare"),
    (81, "hole-near-edge", "front"),
    (82, "hole-on-stitch-line", "front"),
    (83, "hole-size", "front"),
    (91, "holes-apart", "tab"),
    (92, "lining-larger", "lining"),
    (97, "skive-thin-at-fold", "flap"),
    (101, "fold-allowance", "flap"),
    (108, "piece-in-no-step", "disc"),
    (112, "work-in-no-step", "band"),
    (116, "notches-apart", "one"),
    (116, "load-over-estimate", "one"),
    (135, "load-without-strength", "seven"),
    (139, "stack-beyond-machine", "eight"),
    (142, "work-in-no-step", "belt"),
    (146, "strap-tip-short", "belt"),
    (147, "strap-turn-back", "belt"),
    (147, "post-length", "belt"),
    (150, "hardware-count", "rivet"),
    (160, "hardware-idle", "foot"),
    (169, "contents-do-not-fit", "sketch book"),
]

# Line of `mixed_mistakes.toml`, how grave, and the check with the part it concerns or how the problem begins.
MIXED = [
    (6, "error", 'unknown key "colour"'),
    (15, "error", 'kind cannot be "felt"'),
    (30, "caution", "needle-too-fine fine"),
    (36, "caution", "needle-too-coarse coarse"),
    (42, "caution", "needle-beyond-machine heavy"),
    (49, "caution", "stitch-beyond-machine far"),
    (55, "error", "4 has no unit"),
    (61, "caution", "hole-near-edge back"),
    (62, "error", "hole-outside back"),
    (68, "error", "skive-on-goods lining"),
    (68, "error", "piece-wider-than-goods lining"),
    (76, "error", '"mn" is not a unit'),
    (81, "error", "skive-too-deep tab"),
    (82, "error", 'the piece "lid" has no size'),
    (87, "error", "unequal-partners one"),
    (90, "error", 'there is no piece, join or strap "side"'),
    (92, "error", "name-not-there "),
    (98, "caution", "strap-tip-short belt"),
    (99, "caution", "strap-turn-back belt"),
    (99, "caution", "strap-bar-unknown belt"),
    (102, "error", "strap-wider-than-fitting strip"),
    (104, "caution", "strap-bar-unknown strip"),
    (109, "error", "holes-even short"),
    (116, "error", "name-not-there "),
]

# Line of `many_mistakes.toml`, whose mistakes are those of reading and resolving, and what is told.
MANY = [
    (2, 'code "Big Bag" is not a short name'),
    (6, '"mn" is not a unit known here'),
    (13, 'kind cannot be "cloth"'),
    (18, "4 has no unit"),
    (24, 'unknown measure "ege"'),
    (36, 'there is no corner "top-lef" on this piece'),
    (38, 'of = "bdy", but there is no [materials.bdy]'),
    (42, 'a hole lies outside the piece "flap", which is 4 23/32 in (120 mm) x 3 5/32 in (80 mm) (line 40)'),
    (43, 'cannot tell where "20 mm form top" is'),
    (44, 'there is no edge "lft" on this piece'),
    (44, "punch has no unit: 4"),
    (46, 'there is no edge "bottm" on this piece'),
    (47, "the skived band cannot run here: the edges 'left' and 'right' do not touch"),
    (55, 'the piece "tongue" has no diameter'),
    (61, "pieces are like each other in a circle: chicken -> egg -> chicken"),
    (62, 'the joins take 2 of "side" for one make, and 1 is cut'),
    (66, '"side" cannot land on itself'),
    (75, 'stitch = "mian", but there is no [stitches.mian]'),
    (79, 'there is no piece, join or strap "flp"'),
    (84, "4 holes have no middle one"),
    (87, "this comes to -3/16 in (-5 mm)"),
    (89, 'the strap "tie" has no length'),
    (92, 'unknown key "titel" in [straps.tie]'),
    (95, 'seams = "four", but there is no [seams.four]'),
]


def test_thirty_mistakes_are_thirty_problems() -> None:
    build = resolve_build(read_spec(Path(__file__).parent / "thirty_mistakes.toml"))
    assert len(FOUND) == 30
    assert [(problem.place.line, problem.check, problem.at) for problem in build.cautions] == FOUND
    assert {problem.severity for problem in build.cautions} == {"caution"}


def test_each_mistake_of_reading_and_resolving_is_told_once_and_nothing_else() -> None:
    with pytest.raises(SpecRejected) as caught:
        resolve_build(read_spec(Path(__file__).parent / "many_mistakes.toml"))
    assert [(problem.place.line, problem.what) for problem in caught.value.problems] == MANY
    assert {problem.severity for problem in caught.value.problems} == {"error"}
    mends = {problem.place.line: problem.mend for problem in caught.value.problems}
    assert (mends[95], mends[44]) == ('seams has "one", "two" and "three"', 'write "4 in" or "4 mm", quotes and all')


def test_mistakes_that_stop_and_cautions_are_told_in_one_run() -> None:
    """Cautions that hang on the whole build wait until nothing stops it; the others are told beside the errors."""
    with pytest.raises(SpecRejected) as caught:
        resolve_build(read_spec(Path(__file__).parent / "mixed_mistakes.toml"))
    problems = caught.value.problems
    assert [(problem.place.line, problem.severity) for problem in problems] == [row[:2] for row in MIXED]
    for problem, (_, _, said) in zip(problems, MIXED, strict=True):
        assert (f"{problem.check} {problem.at}" if problem.check else problem.what).startswith(said)
