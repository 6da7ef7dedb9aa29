"""The code on every page: what it says, its modules, and how large it must be printed.

Symbols follow ISO/IEC 18004 (QR Code): alphanumeric mode, the smallest version that fits at level L, and of its levels
of error correction the highest that fits: what fails on a photo of a page is modules that are too small (measured), so
that few and large ones come first. Of the masks, all of which a reader undoes, the first is taken under which nothing in
the symbol looks like one of its three finder patterns: one of two readers took such a place for a corner (measured).
"""

import re
from functools import lru_cache
from typing import Final

from docgen.pages.marks.page import CodeMark

ALPHANUMERIC: Final = frozenset("0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:")
"""The 45 characters of alphanumeric mode (ISO/IEC 18004, table of the encoding of alphanumeric mode)."""

MOST_CHARACTERS: Final = 4296
"""Held by the largest symbol in alphanumeric mode at level L (ISO/IEC 18004, capacity table; from memory)."""

QUIET_MODULES: Final = 4
"""The blank margin of a symbol, in modules on every side (ISO/IEC 18004)."""

LEAST_MODULE_MM: Final = 0.5
"""Readable by phones from paper off an office printer (common practice, no published source)."""

LEAST_CODE_MM: Final = 18.0
"""Our smallest printed symbol, without its quiet zone."""

MASKS: Final = (6, 5, 2, 1, 0, 7, 4, 3)
DIGITS: Final = b"01".ljust(256)  # a light module and a dark one
FINDER: Final = re.compile("(?=010111010)")  # a line through the middle of a finder pattern, with white at both ends
FINDER_LINES: Final = 18  # three patterns, three rows and three columns each


def make_payload(code: str, version: str | int, digest: str, document: str, page: int, link: str = "") -> str:
    """What a page's code says: `SPEC:CODE/VERSION/DIGEST/DOCUMENT/PAGE` in capitals.

    A shop's link, when there is one, takes the place of `SPEC:`. ValueError when a part is empty,
    holds a slash, or holds a character that alphanumeric mode cannot carry.
    """
    parts = [str(part).upper() for part in (code, version, digest, document, page)]
    for part in parts:
        if not part or "/" in part:
            raise ValueError(f'"{part}" cannot be a part of a page code: a part is not empty and has no slash')
    head = f"{link.upper().rstrip('/')}/" if link else "SPEC:"
    return check_payload(head + "/".join(parts))


def check_payload(payload: str) -> str:
    """The payload itself, when a code can carry it; else ValueError."""
    wrong = "".join(dict.fromkeys(letter for letter in payload if letter not in ALPHANUMERIC))
    if wrong:
        raise ValueError(f'a page code cannot hold "{wrong}": it takes 0-9, A-Z, space and $ % * + - . / :')
    if len(payload) > MOST_CHARACTERS:
        raise ValueError(f"a page code holds {MOST_CHARACTERS} characters, this one has {len(payload)}")
    return payload


@lru_cache(maxsize=256)
def code_rows(payload: str) -> tuple[str, ...]:
    """The symbol as rows of "1" (dark) and "0", top first, no quiet zone; ValueError as for a payload."""
    from qrcode.main import QRCode
    from qrcode.util import MODE_ALPHA_NUM, QRData

    version, level = _choose_symbol(len(check_payload(payload)), "HQML")
    symbol = QRCode(version=version, error_correction=level, border=0)
    symbol.add_data(QRData(payload.encode("ascii"), mode=MODE_ALPHA_NUM))
    found: dict[int, tuple[str, ...]] = {}
    for mask in MASKS:
        symbol.mask_pattern = mask
        symbol.make(fit=False)
        rows = tuple(bytes(row).translate(DIGITS).decode("ascii") for row in symbol.modules)
        looks = _count_finder_lines(rows)
        found.setdefault(looks, rows)
        if looks <= FINDER_LINES:
            break
    return found[min(found)]


def _count_finder_lines(rows: tuple[str, ...]) -> int:
    """Places along rows and columns that look like a line through a finder pattern."""
    lines = (*rows, *map("".join, zip(*rows, strict=True)))
    return len(FINDER.findall("0 0".join(("", *lines, ""))))


def _choose_symbol(characters: int, levels: str) -> tuple[int, int]:
    """The smallest version that holds so many characters, and the first of the levels of error correction at which it
    does."""
    from qrcode.constants import ERROR_CORRECT_H, ERROR_CORRECT_L, ERROR_CORRECT_M, ERROR_CORRECT_Q
    from qrcode.util import BIT_LIMIT_TABLE, MODE_ALPHA_NUM, length_in_bits

    numbers = {"H": ERROR_CORRECT_H, "Q": ERROR_CORRECT_Q, "M": ERROR_CORRECT_M, "L": ERROR_CORRECT_L}
    # Two characters take 11 bits, one takes 6; mode and count stand before them.
    bits = characters // 2 * 11 + characters % 2 * 6 + 4
    return next(
        (version, numbers[level])
        for version in range(1, 41)
        for level in levels
        if bits + length_in_bits(MODE_ALPHA_NUM, version) <= BIT_LIMIT_TABLE[numbers[level]][version]
    )


def room_modules(payload: str) -> int:
    """How many modules a side the symbol would have at level M: more than it has, or as many."""
    return 17 + 4 * _choose_symbol(len(payload), "M")[0]


def code_size_mm(payload: str) -> float:
    """Side of the printed symbol without its quiet zone: 18 mm, or more to keep a module at 0.5 mm."""
    return max(LEAST_CODE_MM, len(code_rows(payload)) * LEAST_MODULE_MM)


def draw_code(payload: str, x_mm: float, y_mm: float, size_mm: float = LEAST_CODE_MM) -> CodeMark:
    """The symbol with its bottom left corner at (x, y); made larger where a module would be under 0.5 mm."""
    rows = code_rows(payload)
    size_mm = max(size_mm, len(rows) * LEAST_MODULE_MM)
    return CodeMark(x_mm=x_mm, y_mm=y_mm, size_mm=size_mm, rows=rows, payload=payload)
