"""What lines of steps say of cut edges: the work, of the parts that have some by then. By hand."""

from dataclasses import replace

import pytest
from short_specs import piece, seam, step
from spec_text import Resolve
from step_lines import lines

from docgen.plan import plan_work
from docgen.plan.acts.finish_words import finish_words


@pytest.mark.parametrize(
    ("said", "told", "rest"),
    [
        ("bevelled and burnished", "bevelled and burnished", ""),
        ("bevelled, then painted once sewn", "bevelled, painted", ""),
        ("bevelled, then painted", "bevelled, then painted", ""),
        ("bevelled and burnished once they are sewn", "bevelled and burnished", ""),
        ("burnished: pocket tops before they are sewn, the rest once it is", "burnished", ""),
        ("painted in three coats once sewn; tops of panels before", "painted in three coats", ""),
        (
            "bevelled on the grain side before, burnished with the lining once it is sewn",
            "bevelled on the grain side, burnished with the lining",
            "burnished with the lining",
        ),
        ("pocket mouths creased and painted before they are laid, the rest once sewn", "creased and painted", ""),
        ("left as cut inside; straps: painted once they are sewn", "painted", ""),
        ("trimmed level with the strap", "trimmed level with the strap", ""),
        ("left raw", "left raw", ""),
    ],
)
def test_the_work_is_told_without_its_time(said: str, told: str, rest: str) -> None:
    assert (finish_words(said), finish_words(said, is_rest=True)) == (told, rest or told)


def told(resolve_text: Resolve, text: str, finish: str, number: int = 1) -> list[str]:
    build = resolve_text(text)
    plan = plan_work(replace(build, materials=tuple(replace(one, edges=finish) for one in build.materials)))
    return [line for line in lines(plan, number) if "cut edges" in line]


LOOP = (
    'holes = [{ at = "centre, 50 mm from bottom", punch = "4 mm", takes = "rivet" }]\n'
    'landings = [{ piece = "loop", at = "centre, 20 mm from bottom" }]\n'
)
RIVET = '[hardware.rivet]\nwhat = "rivet"\ncount = 1\n'
LAID = (
    piece("back", 160, 140, LOOP)
    + piece("loop", 30, 60, 'holes = [{ at = "centre, 30 mm from bottom", punch = "4 mm" }]\n')
    + piece("front", 160, 140)
    + RIVET
    + seam("round", "front: left bottom right", "back: left bottom right")
)


def test_what_is_riveted_and_never_sewn_does_not_wait_for_a_seam(resolve_text: Resolve) -> None:
    """Once it lies on the back no tool reaches its edges; what is sewn waits for its seam."""
    text = LAID + step("Rivet the loop on.", pieces="back loop", hardware="rivet") + step("Sew it.", seams="round")
    assert told(resolve_text, text, "burnished once sewn") == ["loop: now finish the cut edges (burnished)."]
    assert told(resolve_text, text, "burnished once sewn", 2) == [
        "back and front: now finish the cut edges (burnished)."
    ]


POCKET = 'landings = [{ piece = "pocket", at = "centre, 20 mm from bottom" }]\n'


@pytest.mark.parametrize(("finish", "edges"), [("burnished with the other leather", 0), ("burnished once sewn", 1)])
def test_what_is_finished_with_another_part_and_lies_free_on_it_is_not_told(
    resolve_text: Resolve, finish: str, edges: int
) -> None:
    text = (
        piece("back", 160, 140, POCKET) + piece("pocket", 80, 60) + seam("pocket", "pocket: left bottom right", "back")
    )
    assert len(told(resolve_text, text + step("Sew the pocket on.", seams="pocket"), finish)) == edges


@pytest.mark.parametrize(
    ("last", "edges"),
    [
        ("Trim the lining level, then burnish both seams.", []),
        ("Trim the lining level, then burnish the mouth.", ["back and front: now finish the cut edges (burnished)."]),
    ],
)
def test_words_that_trim_a_part_and_finish_seams_speak_of_all_that_is_sewn(
    resolve_text: Resolve, last: str, edges: list[str]
) -> None:
    text = LAID.replace(LOOP, "").replace("[pieces.loop]", "[pieces.lining]") + step("Sew it.", seams="round")
    found = told(resolve_text, text.replace(RIVET, "") + f'last = ["{last}"]\n', "burnished once sewn")
    assert found == edges


@pytest.mark.parametrize(("words", "later"), [("the flap all round", 0), ("the mouth of the flap", 1)])
def test_what_was_finished_all_round_has_no_other_edges(resolve_text: Resolve, words: str, later: int) -> None:
    text = piece("back", 160, 140) + piece("flap", 160, 90) + seam("hang", "flap: top", "back: top")
    text += step(f"Burnish {words}.", pieces="flap") + step("Sew the flap on.", seams="hang")
    found = told(resolve_text, text, "burnished: mouths before they are sewn, the rest once it is", 2)
    assert len([line for line in found if "flap" in line and "other" in line]) == later
