"""What the words of every layout file keep to: letters that can be printed, and no numbers."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.fonts import missing_characters
from docgen.problems import shorten


def find_faulty_letters(text: str) -> Iterator[tuple[str, str]]:
    """What is wrong with the letters of a shop's words, and its mend: numbers, and letters that cannot be printed."""
    numerals = "".join(letter for letter in text if letter.isnumeric())
    if numerals:
        what = f'the words hold a number ("{shorten(numerals, 12)}"); only the program prints numbers'
        yield what, "write it in letters, or leave it out"
    missing = missing_characters(text.replace("\t", " ").replace("\r", ""))
    if missing:
        yield f"the typeface has no {', '.join(map(repr, missing[:3]))}", "write it otherwise"
