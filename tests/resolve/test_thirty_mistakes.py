"""Specs with many mistakes, some that stop and some that do not: each is told once, at its line, and nothing else is."""

from pathlib import Path

import pytest

from docgen.checks import resolve_build
from docgen.problems import SpecRejected
from docgen.read import read_spec

# Line of `thirty_mistakes.toml`, check, and the part it concerns.
FOUND = [
    (13, "material-idle", "foam"),
    (29, "needle-too-fine", "fine"),
    (35, "needle-too-coarse", "coarse"),
    (38, "needle-beyond-machine", "heavy"),
    (47, "needle-point", "blunt"),
    (53, "pitch-too-fine", "short"),
    (58, "pitch-too-coarse", "long"),
    (64, "stitch-beyond-machine", "far"),
    (66, "stitch-idle", "spare"),
    (81, "hole-near-edge", "front"),
    (82, "hole-on-stitch-line", "front"),
    (83, "hole-size", "front"),
    (91, "holes-apart", "tab"),
    (92, "piece-wider-than-goods", "lining"),
    (92, "lining-larger", "lining"),
    (97, "skive-thin-at-fold", "flap"),
    (97, "fold-allowance", "flap"),
    (108, "piece-in-no-step", "disc"),
    (112, "work-in-no-step", "band"),
    (116, "notches-apart", "one"),
    (116, "load-over-estimate", "one"),
    (135, "load-without-strength", "seven"),
    (139, "stack-beyond-machine", "eight"),
    (142, "strap-turn-back", "belt"),
    (142, "work-in-no-step", "belt"),
    (146, "strap-tip-short", "belt"),
    (147, "post-length", "belt"),
    (148, "hardware-count", "rivet"),
    (160, "hardware-idle", "foot"),
    (167, "contents-do-not-fit", "sketch book"),
]

# Line of `mixed_mistakes.toml`, how grave, and the check with the part it concerns or how the problem begins.
MIXED = [
    (6, "error", 'unknown key "colour"'),
    (15, "error", 'kind cannot be "felt"'),
    (30, "caution", "needle-too-fine fine"),
    (36, "caution", "needle-too-coarse coarse"),
    (39, "caution", "needle-beyond-machine heavy"),
    (49, "caution", "stitch-beyond-machine far"),
    (55, "error", "4 has no unit"),
    (61, "caution", "hole-near-edge back"),
    (62, "error", "hole-outside back"),
    (68, "error", "skive-on-goods lining"),
    (68, "caution", "piece-wider-than-goods lining"),
    (76, "error", '"mn" is not a unit'),
    (77, "error", "skive-too-deep tab"),
    (82, "error", 'the piece "lid" has no size'),
    (87, "error", "unequal-partners one"),
    (90, "error", 'there is no piece, join or strap "side"'),
    (92, "error", "name-not-there "),
    (94, "caution", "strap-turn-back belt"),
    (98, "caution", "strap-tip-short belt"),
    (99, "caution", "strap-bar-unknown belt"),
    (100, "error", "strap-wider-than-fitting strip"),
    (104, "caution", "strap-bar-unknown strip"),
    (109, "error", "holes-even short"),
    (116, "error", "name-not-there "),
]


def test_thirty_mistakes_are_thirty_problems() -> None:
    build = resolve_build(read_spec(Path(__file__).parent / "thirty_mistakes.toml"))
    assert len(FOUND) == 30
    assert [(problem.place.line, problem.check, problem.at) for problem in build.cautions] == FOUND
    assert {problem.severity for problem in build.cautions} == {"caution"}


def test_mistakes_that_stop_and_cautions_are_told_in_one_run() -> None:
    """Cautions that hang on the whole build wait until nothing stops it; the others are told beside the errors."""
    with pytest.raises(SpecRejected) as caught:
        resolve_build(read_spec(Path(__file__).parent / "mixed_mistakes.toml"))
    problems = caught.value.problems
    assert [(problem.place.line, problem.severity) for problem in problems] == [row[:2] for row in MIXED]
    for problem, (_, _, said) in zip(problems, MIXED, strict=True):
        assert (f"{problem.check} {problem.at}" if problem.check else problem.what).startswith(said)
