"""The letters that pages use: shown in codes of their own, and embedded once in each file.

reportlab hands out the codes, a byte a letter in parts of up to 255 letters, cuts the font file and embeds what is left.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from docgen.fonts import FACES, read_font

if TYPE_CHECKING:
    from reportlab.pdfbase.pdfdoc import PDFDocument


class Letters:
    """Those used so far, by face; the same pages give the same codes."""

    KEYS: Final = {face: f"F{number}" for number, face in enumerate(FACES, start=1)}

    def show(self, face: str, words: str, size_pt: str) -> str:
        """The operators that print words (PDF 32000-1:2008, 9.4.3)."""
        return "".join(
            f" /{self.KEYS[face]}+{part} {size_pt} Tf <{codes.hex()}> Tj"
            for part, codes in read_font(face).splitString(words, self)
        )

    def embed(self, file: PDFDocument) -> None:
        """Every part of every face that was used, among the file's fonts."""
        for face, key in self.KEYS.items():
            font = read_font(face)
            if self in font.state:
                font.state[file] = font.state[self]
                font.state[file].internalName = key
                font.addObjects(file)
