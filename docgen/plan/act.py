"""A line of a step as a value: which sentence, and what is put into it."""

from __future__ import annotations

from docgen.classes import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Act:
    """One line: its `case` in [step] of layouts/sentences.toml, and by name what is put in: words, another line, or
    several with commas between."""

    case: str
    values: tuple[tuple[str, Told], ...] = ()


Told = str | Act | tuple[Act, ...]


def act(case: str, **values: Told) -> Act:
    """The line of this case, with its values by name."""
    return Act(case=case, values=tuple(values.items()))
