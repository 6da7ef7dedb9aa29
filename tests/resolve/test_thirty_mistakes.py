"""A spec with thirty mistakes that only checking finds: each is told once, at its line, and nothing else is."""

from __future__ import annotations

from pathlib import Path

from docgen.read import read_spec
from docgen.resolve import resolve_build

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
    (116, "load-over-estimate", "one"),
    (116, "notches-apart", "one"),
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


def test_thirty_mistakes_are_thirty_problems() -> None:
    build = resolve_build(read_spec(Path(__file__).parent / "thirty_mistakes.toml"))
    assert len(FOUND) == 30
    assert [(problem.place.line, problem.check, problem.at) for problem in build.cautions] == FOUND
    assert {problem.severity for problem in build.cautions} == {"caution"}
