"""A check in words: what must hold by the figures in force, and where they come from."""

from __future__ import annotations

from dataclasses import dataclass

from docgen.problems import Problem, SpecRejected
from docgen.read import LimitsSpec
from docgen.resolve.checks import CHECKS, EARLIER_CHECKS
from docgen.resolve.limits import read_limits
from docgen.resolve.values import Reader
from docgen.tables.limits import limit_words


@dataclass(frozen=True, slots=True, kw_only=True)
class Explained:
    """A check, its rule and its source; `figures` are key, figure in words, and where it comes from."""

    name: str
    sentence: str
    source: str
    stops: bool
    figures: tuple[tuple[str, str, str], ...] = ()


def list_checks() -> tuple[str, ...]:
    """The names of all checks."""
    return (*(check.id for check in CHECKS), *(check.id for check in EARLIER_CHECKS))


def explain_check(name: str, written: LimitsSpec | None) -> Explained:
    """The check of that name, by the limits that are written, else by the tables. KeyError for one that is not there;
    SpecRejected when a limit cannot be read."""
    problems: list[Problem] = []
    limits = read_limits(Reader({}, problems), written)
    if problems:
        raise SpecRejected(problems)
    for earlier in EARLIER_CHECKS:
        if earlier.id == name:
            return Explained(name=name, sentence=earlier.says, source=earlier.source, stops=True)
    check = {check.id: check for check in CHECKS}[name]
    figures = tuple((key.replace("_", "-"), limit_words(limits)[key], _source(written, key)) for key in check.limits)
    return Explained(
        name=name, sentence=check.sentence(limits), source=check.source, stops=check.stops, figures=figures
    )


def _source(written: LimitsSpec | None, key: str) -> str:
    value = getattr(written, key) if written else None
    if not value:
        return "from the tables; [limits] may say another"
    place = (value[0] if isinstance(value, tuple) else value).place
    return f"from line {place.line} of {place.path}"
