"""A question that the spec leaves to its maker."""

from docgen.classes import dataclass
from docgen.problems import Place


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """What is asked, where an answer would stand in the spec, and which key gives it."""

    place: Place
    what: str
    answer: str
