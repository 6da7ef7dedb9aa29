"""Variants: other measures, the same checks, problems told once."""

from pathlib import Path

import pytest
from spec_text import write_out

from docgen.checks import resolve_build, resolve_variants
from docgen.problems import SpecRejected
from docgen.read import read_spec
from docgen.resolve import name_findings

SPEC = write_out("""
<spec mat: Mat, version 1>
makes = 4

[measures]
width = "200 mm"
depth = "width / 2"

<leather hide: 2 mm>

<rectangle mat of hide: ["width", "depth"]>
""")


def write(folder: Path, more: str) -> Path:
    path = folder / "mat.toml"
    path.write_text(SPEC + more, encoding="utf-8")
    return path


def sizes(build) -> tuple[float, float]:
    (piece,) = build.pieces
    edges = piece.outline.edges
    return max(e.path.segments[0].end.x for e in edges), max(e.path.segments[0].end.y for e in edges)


def problems(path: Path) -> list[tuple[int, str, str]]:
    with pytest.raises(SpecRejected) as caught:
        resolve_variants(read_spec(path))
    return [(problem.place.line, problem.what, problem.mend) for problem in caught.value.problems]


def test_measures_are_replaced_before_others_are_worked_out(tmp_path: Path) -> None:
    """A depth of half the width follows the width of the variant: 300 / 2 = 150."""
    more = '[variants.large]\nmeasures = { width = "300 mm" }\n[variants.deep]\nmeasures = { depth = "width" }\n'
    spec = read_spec(write(tmp_path, more))
    large, deep = resolve_variants(spec)
    assert sizes(large) == pytest.approx((300, 150))
    assert sizes(deep) == pytest.approx((200, 200))
    assert sizes(resolve_build(spec)) == pytest.approx((200, 100))
    assert sizes(resolve_build(spec, "large")) == pytest.approx((300, 150))


def test_title_and_number_of_makes_of_a_variant(tmp_path: Path) -> None:
    more = '[variants.extra-large]\n[variants.tiny]\ntitle = "for a doll"\nmakes = 9\n'
    builds = resolve_variants(read_spec(write(tmp_path, more)))
    assert [(build.variant, build.title, build.makes) for build in builds] == [
        ("extra-large", "Mat, extra large", 4),
        ("tiny", "Mat, for a doll", 9),
    ]
    assert len({build.digest for build in builds}) == 1


def test_a_spec_without_variants_is_one_build(tmp_path: Path) -> None:
    (build,) = resolve_variants(read_spec(write(tmp_path, "")))
    assert (build.variant, build.title, build.makes) == ("", "Mat", 4)


def test_a_measure_that_the_spec_does_not_have_is_told_once(tmp_path: Path) -> None:
    more = '[variants.a]\nmeasures = { widht = "3 in" }\n[variants.b]\nmeasures = { height = "3 in" }\n'
    assert problems(write(tmp_path, more)) == [
        (21, 'the variant "a" changes the measure "widht", which [measures] does not have', 'did you mean "width"?'),
        (23, 'the variant "b" changes the measure "height", which [measures] does not have', "add it to [measures]"),
    ]


def test_a_problem_of_some_variants_says_which(tmp_path: Path) -> None:
    """A depth of nothing is told as of both variants; what hangs on a measure names its line in each."""
    more = '[variants.a]\nmeasures = { width = "0" }\n[variants.b]\nmeasures = { width = "0" }\n[variants.c]\n'
    found = problems(write(tmp_path, more))
    whats = [what for _, what, _ in found]
    assert any(what.startswith('in the variants "a", "b": ') for what in whats)
    assert any(what.endswith('"width" on line 21') for what in whats)


def test_what_is_alike_in_all_variants_is_told_once(tmp_path: Path) -> None:
    """A tab of 80 mm on mats 60 and 50 mm wide reaches over both edges, by 10 and 15 mm: one problem. On mats 60 and 90 mm
    wide it is that of the first alone."""
    more = '[pieces.tab]\nof = "hide"\nshape = "rectangle"\nsize = ["80 mm", "20 mm"]\n'
    more += '[variants.a]\nmeasures = { width = "60 mm" }\n'
    more += '[variants.b]\nmeasures = { width = "50 mm" }\n'
    path = write(tmp_path, more)
    laid = 'landings = [{ piece = "tab", at = "centre, middle" }]\n[pieces.tab]'
    path.write_text(path.read_text(encoding="utf-8").replace("[pieces.tab]", laid), encoding="utf-8")
    (told,) = _over_edge(path)
    assert told.startswith('in the variant "a", and alike in others: "tab" reaches 13/32 in (10 mm)')
    path.write_text(path.read_text(encoding="utf-8").replace('"50 mm"', '"90 mm"'), encoding="utf-8")
    (told,) = _over_edge(path)
    assert told.startswith('in the variant "a": "tab" reaches 13/32 in (10 mm)')


def _over_edge(path: Path) -> list[str]:
    found = name_findings(resolve_variants(read_spec(path)))
    return [one.what for one in found if one.check == "landing-over-edge"]


def test_a_problem_of_the_spec_itself_names_no_variant(tmp_path: Path) -> None:
    more = '[pieces.tab]\nof = "hide"\nshape = "circle"\ndiameter = "witdh"\n[variants.a]\n[variants.b]\n'
    ((line, what, mend),) = problems(write(tmp_path, more))
    assert (line, what, mend) == (
        23,
        'unknown measure "witdh"',
        'did you mean "width"? Else add it: witdh = "..." under [measures]',
    )


def test_a_variant_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(ValueError, match='the spec has no variant "huge"'):
        resolve_build(read_spec(write(tmp_path, "")), "huge")
