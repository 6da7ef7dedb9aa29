"""A question that the spec leaves to its maker, and what is read of what it is about."""

from docgen.classes import dataclass
from docgen.problems import Place
from docgen.written.units.lengths import parse_length


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """What is asked, where an answer would stand in the spec, and which key gives it."""

    place: Place
    what: str
    answer: str


def plain_mm(words: str) -> float:
    """The length in mm; 0 of a sum, or of what is worked out."""
    try:
        return parse_length(words)
    except ValueError:
        return 0.0
