"""The sizes by which tools are called."""

import re
from typing import Final

from docgen.written.units.lengths import parse_length
from docgen.written.units.table import MM_PER_INCH

SIZE_RE: Final = re.compile(r"((?:\d+ )?\d+/\d+|\d+(?:\.\d+)?) ?(mm|in|per inch|spi)\b")


def tool_sizes_mm(words: str) -> list[float]:
    """The sizes that words name, mm; so many per inch are as long as one of them."""
    return [
        parse_length(f"{figure} {unit}") if unit in ("mm", "in") else MM_PER_INCH / float(figure)
        for figure, unit in SIZE_RE.findall(words)
        if unit in ("mm", "in") or "/" not in figure
    ]
