"""Sizes in words: of a length that stands there alone, and the one that the words of goods or hardware have in them."""

import re
from typing import Final

from docgen.written.units.lengths import parse_length

SIZE_RE: Final = re.compile(r"\d+(?:\.\d+)?(?: \d+/\d+)? ?(?:mm|cm|in)\b|\d+/\d+ ?in\b")


def plain_mm(words: str) -> float:
    """The length in mm; 0 of a sum, or of what is worked out."""
    try:
        return parse_length(words)
    except ValueError:
        return 0.0


def said_size(words: str) -> tuple[str, float]:
    """The only size that words have, as it is written there and in mm; none and 0 where there are none or several."""
    said = SIZE_RE.findall(words)
    try:
        return (said[0], parse_length(said[0])) if len(said) == 1 else ("", 0.0)
    except ValueError:
        return "", 0.0
