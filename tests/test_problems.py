"""Many problems are summed up by kind below them; few are not."""

from docgen.problems import MANY, Place, Problem, is_misspelt, make_caution, make_error, render_problems, suggest_two


def make_problems(count: int) -> list[Problem]:
    holes = [make_caution(Place(path="a.toml", line=k), "too near", check="hole-near-edge") for k in range(1, count)]
    return [*holes, make_error(Place(path="a.toml", line=count), "cannot be read")]


def test_many_problems_are_summed_up_by_kind_the_most_first() -> None:
    lines = render_problems(make_problems(MANY)).splitlines()
    assert lines[-2:] == [f"by kind: hole-near-edge {MANY - 1}, others 1", f"1 error and {MANY - 1} cautions"]


def test_few_problems_are_told_alone() -> None:
    assert "by kind" not in render_problems(make_problems(MANY - 1))


def test_one_slip_of_the_pen_is_a_misspelt_name() -> None:
    """A letter left out, put in, wrong, or two neighbours changed; two of these, or another word, are another name."""
    assert all(is_misspelt("gusset", word) for word in ("guset", "gussset", "gussat", "gusste", "gusset"))
    assert not any(is_misspelt("gusset", word) for word in ("gust", "gassat", "ugsste"))
    assert not is_misspelt("lower", "cover")
    assert not is_misspelt("pipe-left", "pipe-right")


def test_two_names_are_offered_where_the_nearest_is_no_misspelling() -> None:
    assert suggest_two("upper-top", ["upper", "upper-right", "lower"]) == 'did you mean "upper", or "upper-right"?'
    assert suggest_two("uper", ["upper", "upper-right"]) == 'did you mean "upper"?'
    assert suggest_two("upper-top", ["upper", "base"]) == 'did you mean "upper"?'
    assert suggest_two("zz", ["upper", "base"]) == ""
