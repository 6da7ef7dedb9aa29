"""A picture that is left out since what it would show is not sure."""

from docgen.classes import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Withheld:
    """The step (from 0; the number of steps for what no step names), what would be drawn, and why it is not."""

    step: int
    what: str
    why: str
