"""The typeface: where its files are and how wide a text will print.

Both are read from the same files, so that the widths layout counts on are the widths the page shows. Sizes
are type sizes (height of the em square) in mm. Kerning is not used, here or on the page.
"""

import re
from collections.abc import Iterator
from functools import lru_cache
from pathlib import Path
from typing import Any, Final

FACES: Final = ("regular", "bold")
FACE_FILES: Final = {"regular": "FiraSans-Regular.ttf", "bold": "FiraSans-SemiBold.ttf"}
"""Weight -> file of the Fira Sans family (SIL Open Font License 1.1)."""

_UNITS = r"(?:mm|cm|m|in|ft|yd|oz|iron|kg|g|lb|N|dm²|cm²|m²|sq|h|min)(?![^\W\d_])|%"
AFTER_FIGURE: Final = re.compile(rf"\d+/\d|{_UNITS}")
"""What stays on the line of the figure before it: its unit, or its fraction."""

SQUARE: Final = re.compile(r"\bsq$")
AREA: Final = re.compile(r"(?:ft|in|yd|m)\b")
"""What stays on the line of "sq" before it."""


THIN_SPACE: Final = "\u202f"
"""The thin no-break space. The typeface has none; it is printed as a space made narrower."""

THIN_SHARE: Final = 0.6
"""Width of a thin space, of a space's: about a sixth of the type size."""


def font_file(face: str) -> Path:
    """The TrueType file of "regular" or "bold"; KeyError for any other face."""
    import fontpkg_fira_sans

    return Path(fontpkg_fira_sans.ROOT) / "files" / FACE_FILES[face]


@lru_cache(maxsize=len(FACES))
def read_font(face: str) -> Any:
    """The font as reportlab prints it, under a name of our own, so that no other user of reportlab is disturbed."""
    from reportlab.pdfbase.ttfonts import TTFont

    return TTFont(f"docgen-{face}", str(font_file(face)), asciiReadable=False)


def _read_metrics(face: str) -> Any:
    """Widths and heights of one face in thousandths of the type size."""
    return read_font(face).face


@lru_cache(maxsize=8192)
def _text_width(text: str, face: str) -> float:
    """Width in thousandths of the type size; a no-break space counts as a space, as it is printed."""
    metrics = _read_metrics(face)
    widths, default = metrics.charWidths, metrics.defaultWidth
    wide = sum([widths.get(ord(letter), default) for letter in _plain_spaces(text)])
    return float(wide - text.count(THIN_SPACE) * (1 - THIN_SHARE) * widths.get(ord(" "), default))


def _plain_spaces(text: str) -> str:
    return text.replace("\u00a0", " ").replace(THIN_SPACE, " ")


def text_width_mm(text: str, face: str, size_mm: float) -> float:
    """How far one line of text reaches from its start, in mm, trailing spaces included."""
    return _text_width(text, face) * size_mm / 1000


def cap_height_mm(size_mm: float, face: str = "regular") -> float:
    """Height of a capital letter above the baseline, in mm."""
    return float(_read_metrics(face).capHeight) * size_mm / 1000


def ascent_mm(size_mm: float, face: str = "regular") -> float:
    """How far the face reaches above the baseline, in mm, as the font file states it."""
    return float(_read_metrics(face).ascent) * size_mm / 1000


def descent_mm(size_mm: float, face: str = "regular") -> float:
    """How far the face reaches below the baseline, in mm, as a positive number."""
    return -float(_read_metrics(face).descent) * size_mm / 1000


def missing_characters(text: str) -> tuple[str, ...]:
    """The characters of a text that a face cannot print, each once, in order; line ends do not count."""
    faces = [_read_metrics(face).charToGlyph for face in FACES]
    wanted = dict.fromkeys(_plain_spaces(text).replace("\n", ""))
    return tuple(letter for letter in wanted if not all(ord(letter) in glyphs for glyphs in faces))


@lru_cache(maxsize=8192)
def wrap_text(text: str, face: str, size_mm: float, width_mm: float) -> tuple[str, ...]:
    """The lines of a text set in a column `width_mm` wide, each filled as far as whole words allow.

    Line ends in the text are kept; runs of spaces become one. A word wider than the column is broken inside,
    with at least one letter to a line. An empty text has no lines.
    """
    if not text.strip(" \t\n"):
        return ()
    room = width_mm * 1000 / size_mm + 1e-6
    return tuple(line for paragraph in text.strip("\n").split("\n") for line in _fill(paragraph, face, room))


def _fill(paragraph: str, face: str, room: float) -> list[str]:
    """The lines of one paragraph; `room` is the column's width in thousandths of the type size."""
    lines, used, space = [""], 0.0, _text_width(" ", face)
    for word in _words(paragraph, face, room):
        wide = _text_width(word, face)
        if lines[-1] and used + space + wide <= room:
            lines[-1] += f" {word}"
            used += space + wide
            continue
        pieces = [word] if wide <= room else _break_word(word, face, room)
        lines[-1:] = [lines[-1], *pieces] if lines[-1] else pieces
        used = _text_width(pieces[-1], face)
    return lines


def _words(paragraph: str, face: str, room: float) -> Iterator[str]:
    """What stays on one line, as far as the room allows: words, and figures with their units."""
    for held in join_units(paragraph):
        yield from (held,) if _text_width(held, face) <= room else held.split(" ")


@lru_cache(maxsize=8192)
def join_units(paragraph: str) -> tuple[str, ...]:
    """The words of a paragraph, a figure and its unit as one; a no-break space parts none."""
    joined: list[str] = []
    for word in filter(None, paragraph.replace("\t", " ").split(" ")):
        before = joined[-1] if joined else ""
        is_figure = before[-1:].isdecimal() or before[-1:] == "⁄"
        if (is_figure and AFTER_FIGURE.match(word)) or (SQUARE.search(before) and AREA.match(word)):
            joined[-1] = f"{before} {word}"
        else:
            joined.append(word)
    return tuple(joined)


def _break_word(word: str, face: str, room: float) -> list[str]:
    """A word in pieces that each fit the room, or are one letter long."""
    pieces, used = [""], 0.0
    for letter in word:
        wide = _text_width(letter, face)
        if pieces[-1] and used + wide > room:
            pieces.append("")
            used = 0.0
        pieces[-1] += letter
        used += wide
    return pieces
