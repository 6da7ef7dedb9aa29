"""Sheet sizes by name, and sizes written out."""

import re

from docgen.problems import suggest
from docgen.written.units.lengths import parse_length
from docgen.written.units.numbers import WrittenError, check_text

PAPER_SIZES_MM: dict[str, tuple[float, float]] = {
    # ASME Y14.1 sizes A (8.5 x 11 in) and B (11 x 17 in); legal, 8.5 x 14 in, is common practice in North
    # America.
    "letter": (215.9, 279.4),
    "legal": (215.9, 355.6),
    "tabloid": (279.4, 431.8),
    # ISO 216, main series, trimmed sizes in mm.
    "a0": (841.0, 1189.0),
    "a1": (594.0, 841.0),
    "a2": (420.0, 594.0),
    "a3": (297.0, 420.0),
    "a4": (210.0, 297.0),
    "a5": (148.0, 210.0),
    "a6": (105.0, 148.0),
}
# What goes into a cover or a case by the name of a sheet; b5 and b6: ISO 216, second series.
HELD_SHEETS_MM = {
    **{name: PAPER_SIZES_MM[name] for name in ("a4", "a5", "a6")},
    "b5": (176.0, 250.0),
    "b6": (125.0, 176.0),
}
# Width and height of a standing care card; a folded one lies open. A6, A5: ISO 216, main series. ID-1: ISO/IEC 7810,
# 85.60 x 53.98 mm.
CARD_SIZES_MM = {"A6": (105.0, 148.0), "4x6 in": (101.6, 152.4), "ID-1": (85.60, 53.98), "A5 folded": (210.0, 148.0)}
# The test square, the title block and the code stand side by side in the least sheet; the most is a wide
# roll.
LEAST_SHEET_MM = (190.0, 250.0)
MOST_SHEET_MM = (1300.0, 3000.0)

# A number holds no letters and no x, so that the cross parts the two sides wherever blanks stand.
SIZE = (
    r"(?P<left>[^a-z×\"″”]+)(?P<left_unit>[a-wyz]*|[\"″”]) *[x×]"
    r"(?P<right>[^a-z×\"″”]+)(?P<right_unit>[a-z]*|[\"″”])"
)

LIKE = 'write letter, legal, tabloid, a4, a3, or a size like "8.5x11 in" or "300x400 mm"'


ROLL = re.compile(r"roll +(?P<width>.+)", re.I)
LEAST_ROLL_MM = 250.0


def find_roll(text: str) -> float | None:
    """Width in mm of a roll written as "roll 36 in"; None for anything else. Raises WrittenError for a width that
    cannot be read, or outside 250 to 1300 mm."""
    written = ROLL.fullmatch(check_text(text, LIKE))
    if written is None:
        return None
    width_mm = parse_length(written["width"])
    if not LEAST_ROLL_MM <= width_mm <= MOST_SHEET_MM[0]:
        raise WrittenError(f'"{text}" is no width of a roll', "take a roll of 250 to 1300 mm")
    return width_mm


def check_paper(text: str) -> str:
    """The text itself when it names a sheet or a roll. Raises WrittenError."""
    if find_roll(text) is None:
        find_paper(text)
    return text


def paper_words(text: str) -> str:
    """A paper as people write it: "A4", "letter", "8.5x11 in"."""
    clean = text.strip()
    return clean.upper() if re.fullmatch(r"[ab] *[0-9]+", clean, re.I) else clean


def find_paper(text: str) -> tuple[float, float]:
    """Width and height in mm of a sheet, by name or as "8.5x11 in", which keeps its way round.

    Raises WrittenError for an unknown name, and for a sheet too small or too big for a pattern.
    """
    clean = check_text(text, LIKE)
    size = PAPER_SIZES_MM.get(clean.lower().replace(" ", ""))
    if size is None:
        size = parse_sheet_size(clean)
    check_sheet(size, clean)
    return size


def parse_sheet_size(clean: str) -> tuple[float, float]:
    """Width and height in mm from "WxH" with one unit, or one each."""
    written = re.fullmatch(SIZE, clean, re.I)
    if written is None:
        mend = suggest(clean.lower(), PAPER_SIZES_MM) or LIKE
        raise WrittenError(f'"{clean}" is not a paper known here', mend)
    unit = written["left_unit"] or written["right_unit"]
    return parse_length(written["left"] + unit), parse_length(written["right"] + written["right_unit"])


def check_sheet(size: tuple[float, float], clean: str) -> None:
    """Raises when a sheet is outside the sizes that can carry a pattern, whichever way round it lies."""
    short, long = sorted(size)
    if short < LEAST_SHEET_MM[0] or long < LEAST_SHEET_MM[1]:
        what = f'the sheet "{clean}" is too small: the test squares and the code would not fit'
        raise WrittenError(what, "take a sheet of at least 190 x 250 mm")
    if short > MOST_SHEET_MM[0] or long > MOST_SHEET_MM[1]:
        raise WrittenError(f'the sheet "{clean}" is too big', "take a sheet of at most 1300 x 3000 mm")
