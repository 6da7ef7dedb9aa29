"""Many problems are summed up by kind below them; few are not."""

from docgen.problems import MANY, Place, Problem, make_caution, make_error, render_problems


def make_problems(count: int) -> list[Problem]:
    holes = [make_caution(Place(path="a.toml", line=k), "too near", check="hole-near-edge") for k in range(1, count)]
    return [*holes, make_error(Place(path="a.toml", line=count), "cannot be read")]


def test_many_problems_are_summed_up_by_kind_the_most_first() -> None:
    lines = render_problems(make_problems(MANY)).splitlines()
    assert lines[-2:] == [f"by kind: hole-near-edge {MANY - 1}, others 1", f"1 error and {MANY - 1} cautions"]


def test_few_problems_are_told_alone() -> None:
    assert "by kind" not in render_problems(make_problems(MANY - 1))
