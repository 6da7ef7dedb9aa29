"""What keeps a text from being printed, in words: single characters that a page cannot show, and too many of them."""

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

Fault = tuple[str, str]
"""What is wrong, and its mend."""


def find_odd_letter(text: str) -> str:
    """The first character that does not print as itself, or an empty string."""
    if text.isprintable():
        return ""
    return next((letter for letter in text if unicodedata.category(letter) in BREAKING_KINDS), "")


def judge_letters(name: str, text: str) -> Fault | None:
    """The first character that does not print as itself, `U+200B, ZERO WIDTH SPACE`; `name` is what the text is."""
    odd = find_odd_letter(text)
    if not odd:
        return None
    if odd in LINE_ENDS:
        return f"{name} goes over more than one line", "write it on one line"
    kind = unicodedata.name(odd, "") or CONTROL_KINDS.get(unicodedata.category(odd), "")
    return f"{name} holds U+{ord(odd):04X}, {kind}", "take that character out"


def judge_size(name: str, text: str, most: int) -> Fault | None:
    """Too many letters."""
    return (
        None if len(text) <= most else (f"{name} has {len(text):,} letters; at most {most:,} are allowed", "write less")
    )


def judge_typeface(name: str, text: str) -> Fault | None:
    """The letters that the typeface does not have."""
    # Every face holds ASCII, and reading a face takes longer than reading a spec.
    missing = () if text.isascii() else missing_characters(text)
    told = list_words((f'"{letter}" (U+{ord(letter):04X})' for letter in missing), most=MISSING_SHOWN)
    what = f"{name} holds {told}, which the typeface of the pages does not have"
    return (what, "write it with other letters") if missing else None
