"""Numbers as people write them: whole, decimal, fractions and mixed fractions, read exactly by strict patterns."""

import re
from fractions import Fraction

from docgen.problems import shorten

LONGEST_TEXT = 80
MOST_DIGITS = 12
_PARTS = ((1, 2), (1, 3), (2, 3), (1, 4), (3, 4), (1, 8), (3, 8), (5, 8), (7, 8))
VULGAR_FRACTIONS = {sign: Fraction(*parts) for sign, parts in zip("½⅓⅔¼¾⅛⅜⅝⅞", _PARTS, strict=True)}

NUMBER = re.compile(
    r"(?:(?P<whole>[0-9]+)(?: +|-))?(?P<over>[0-9]+)[/⁄](?P<under>[0-9]+)"
    rf"|(?P<before>[0-9]+)? *(?P<vulgar>[{''.join(VULGAR_FRACTIONS)}])"
    r"|(?P<decimal>[0-9]+(?:\.[0-9]+)?)"
)
COMMA = re.compile(r"([0-9]+),([0-9]+)")


class WrittenError(ValueError):
    """What is wrong with a written quantity, in `what`, and what would mend it, in `mend`."""

    def __init__(self, what: str, mend: str) -> None:
        super().__init__(f"{what}; {mend}")
        self.what = what
        self.mend = mend


def check_text(text: str, like: str) -> str:
    """The text without blanks at its ends; raises when empty, too long, or with a comma inside a number."""
    if len(text) > LONGEST_TEXT:
        raise WrittenError(f"this is longer than {LONGEST_TEXT} letters", like)
    clean = shorten(text, LONGEST_TEXT)
    if not clean:
        raise WrittenError("nothing is written here", like)
    return check_comma(clean)


def check_comma(text: str) -> str:
    """The text; raises when a comma stands inside a number: it may mean a decimal point, or thousands."""
    comma = COMMA.search(text)
    if not comma:
        return text
    point = text[: comma.start()] + f"{comma[1]}.{comma[2]}" + text[comma.end() :]
    mend = f'write a decimal point: "{point}"'
    if len(comma[2]) == 3:
        mend += f', or no comma: "{text[: comma.start()]}{comma[1]}{comma[2]}{text[comma.end() :]}"'
    raise WrittenError(f"{comma[0]} has a comma in it", mend)


def match_number(text: str, start: int) -> tuple[Fraction, int] | None:
    """The number (whole, decimal, fraction, mixed fraction) at `start` and where it ends; None for none.

    Raises WrittenError for one that cannot be meant.
    """
    found = NUMBER.match(text, start)
    if found is None:
        return None
    if sum(letter.isdigit() for letter in found[0]) > MOST_DIGITS:
        raise WrittenError(f"the number {found[0]} has more than {MOST_DIGITS} digits", "write it with fewer digits")
    if found["vulgar"]:
        return int(found["before"] or 0) + VULGAR_FRACTIONS[found["vulgar"]], found.end()
    if found["decimal"]:
        return Fraction(found["decimal"]), found.end()
    return read_fraction(found), found.end()


def read_fraction(found: re.Match[str]) -> Fraction:
    """The value of a fraction or mixed fraction; raises on a nought below the line and on "3 5/4"."""
    over, under = int(found["over"]), int(found["under"])
    if under == 0:
        raise WrittenError(f"{found[0]} divides by nothing", "write a fraction with a number below the line")
    if found["whole"] is None:
        return Fraction(over, under)
    total = int(found["whole"]) + Fraction(over, under)
    if over >= under:
        mend = f'write "{format_fraction(total)}", if that is meant'
        raise WrittenError(f"{found[0]} is not a proper mixed number", mend)
    return total


def format_fraction(value: Fraction) -> str:
    """A number of at least nothing as a mixed fraction: "3 1/2", "1/32", "4"."""
    whole, over = divmod(value.numerator, value.denominator)
    if not over:
        return str(whole)
    return f"{whole} {over}/{value.denominator}" if whole else f"{over}/{value.denominator}"
