"""Single characters of a text that a page cannot show: what they are, in words."""

import unicodedata

from docgen.fonts import missing_characters
from docgen.read.words import list_words

CONTROL_KINDS = {
    "Cc": "a control character",
    "Cf": "an invisible character",
    "Co": "a private-use character",
    "Cs": "half a character",
    "Cn": "a character that does not exist",
}
BREAKING_KINDS = frozenset({*CONTROL_KINDS, "Zl", "Zp"})
LINE_ENDS = "\n\r\u2028\u2029"
MISSING_SHOWN = 3  # characters named in one message


def find_odd_letter(text: str) -> str:
    """The first character that does not print as itself, or an empty string."""
    if text.isprintable():
        return ""
    return next((letter for letter in text if unicodedata.category(letter) in BREAKING_KINDS), "")


def name_letter(letter: str) -> str:
    """`U+200B, ZERO WIDTH SPACE`."""
    name = unicodedata.name(letter, "") or CONTROL_KINDS.get(unicodedata.category(letter), "")
    return f"U+{ord(letter):04X}, {name}"


def name_missing(text: str) -> str:
    """The letters that the typeface does not have, in words; an empty string when it has all."""
    # Every face holds ASCII, and reading a face takes longer than reading a spec.
    missing = () if text.isascii() else missing_characters(text)
    return list_words((f'"{letter}" (U+{ord(letter):04X})' for letter in missing), most=MISSING_SHOWN)
