"""Figures of what a spec names, by which a length may be said ("hide.thickness", "saddle.inset"), and the ranges that the
measures of a part keep to."""

from dataclasses import replace
from typing import Final

from docgen.problems import Problem, make_error
from docgen.read import Length, MeasureRange, NamedLength, Spec, Value, list_keys
from docgen.written.measures import Failures, evaluate_length, resolve_measures
from docgen.written.units.lengths import parse_thickness
from docgen.written.units.numbers import WrittenError
from docgen.written.units.telling import format_mm

FIGURED: Final = ("materials", "stitches", "hardware", "trimmings", "straps")
"""Tables whose lengths may be named in others."""
SLACK_MM: Final = 1e-6


def list_figures(spec: Spec) -> dict[str, Value[str]]:
    """ "NAME.KEY" -> the length written there, of every entry that has one; none where two tables have that name."""
    found: dict[str, Value[str]] = {}
    twice = set()
    for table in FIGURED:
        for entry in getattr(spec, table):
            for part in list_keys(type(entry)):
                value = getattr(entry, part.field)
                name = f"{entry.name}.{part.word}"
                if part.key.kind in ("length", "thickness") and isinstance(value, Value) and "-" not in part.word:
                    twice |= {name} & found.keys()
                    found[name] = replace(value, value=_as_length(value.value))
    return {name: value for name, value in found.items() if name not in twice}


def resolve_all(spec: Spec) -> tuple[dict[str, float], Failures]:
    """Measures and figures in mm by their names, and what failed."""
    written = {item.name: item.length for item in spec.measures} | list_figures(spec)
    return resolve_measures([(name, value.value) for name, value in written.items()])


def _as_length(words: str) -> str:
    """A thickness in ounces as a length."""
    try:
        return f"{parse_thickness(words):.9f} mm"
    except WrittenError:
        return words


def hold_ranges(spec: Spec, problems: list[Problem]) -> Spec:
    """The spec with each measure of a part that is out of its range put at the end of it, and that noted at its place:
    so that nothing more is told of what follows from it."""
    for item in spec.ranges:
        spec = _hold(spec, item, problems)
    return spec


def _hold(spec: Spec, item: MeasureRange, problems: list[Problem]) -> Spec:
    """The spec with one measure within its range."""
    known, _ = resolve_all(spec)
    least_mm, most_mm = (_evaluate(end, known) for end in (item.least, item.most))
    size_mm = known.get(item.name)
    if size_mm is None or _is_within(size_mm, least_mm, most_mm):
        return spec
    place = next(one.length.place for one in spec.measures if one.name == item.name)
    what = f"{item.told} comes to {format_mm(size_mm)}, and goes {_span(least_mm, most_mm)}"
    problems.append(make_error(place, what, "write a length in between"))
    end_mm = least_mm if least_mm is not None and size_mm < least_mm else most_mm
    end = NamedLength(name=item.name, length=Value(value=f"{end_mm:.9f} mm", place=place))
    return replace(spec, measures=tuple(end if one.name == item.name else one for one in spec.measures))


def _evaluate(written: Length, known: dict[str, float]) -> float | None:
    """An end of a range in mm; None where there is none, or none that can be read."""
    try:
        return None if written is None else evaluate_length(written.value, known)
    except WrittenError:
        return None


def _is_within(size_mm: float, least_mm: float | None, most_mm: float | None) -> bool:
    return (least_mm is None or size_mm >= least_mm - SLACK_MM) and (most_mm is None or size_mm <= most_mm + SLACK_MM)


def _span(least_mm: float | None, most_mm: float | None) -> str:
    if least_mm is None or most_mm is None:
        return f"from {format_mm(least_mm)} on" if least_mm is not None else f"up to {format_mm(most_mm or 0.0)}"
    return f"from {format_mm(least_mm)} to {format_mm(most_mm)}"
