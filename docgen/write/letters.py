"""The letters that pages use: shown in codes of their own, and embedded once in each file.

A face is embedded in parts of up to 255 letters, a byte a letter; reportlab hands out the codes and cuts the font file.
"""

from __future__ import annotations

from typing import Any, Final

from docgen.fonts import FACES, read_font
from docgen.write.pdf_file import Name, PdfFile, Ref, Stream, Value, pack

SYMBOLIC, NONSYMBOLIC = 4, 32  # flags of a font: its codes are its own, not those of Latin letters


class Letters:
    """Those used so far, by face; the same pages give the same codes."""

    KEYS: Final = {face: f"F{number}" for number, face in enumerate(FACES, start=1)}

    def show(self, face: str, words: str, size_pt: str) -> str:
        """The operators that print words (PDF 32000-1:2008, 9.4.3)."""
        return "".join(
            f" /{self.KEYS[face]}+{part} {size_pt} Tf <{codes.hex()}> Tj"
            for part, codes in read_font(face).splitString(words, self)
        )

    def cut(self) -> list[Cut]:
        """Every part of every face that was used, as a file embeds it."""
        fonts = ((face, read_font(face)) for face in FACES)
        return [
            Cut(f"{self.KEYS[face]}+{number}", font.face, number, subset)
            for face, font in fonts
            if self in font.state
            for number, subset in enumerate(font.state[self].subsets)
        ]


class Cut:
    """A part of a face: what a page calls it, and its streams, made once for all files."""

    def __init__(self, key: str, face: Any, number: int, subset: list[int]) -> None:
        from reportlab.pdfbase.ttfonts import makeToUnicodeCMap

        self.key, self.face, self.subset = key, face, subset
        self.name = f"AAAAA{chr(ord('A') + number)}+{face.name.decode('ascii')}"
        cut: bytes = face.makeSubset(subset)
        self.streams: tuple[Stream, Stream] = (
            pack(cut, Length1=len(cut)),
            pack(makeToUnicodeCMap(self.name, subset).encode("ascii")),
        )

    def embed(self, file: PdfFile) -> Ref:
        """The font (9.6.3), its descriptor (9.8) and its streams as objects of a file."""
        cut, letters = (file.add(stream) for stream in self.streams)
        widths: list[Value] = [self.face.getCharWidth(letter) for letter in self.subset]
        return file.add(
            {
                "Type": Name("Font"),
                "Subtype": Name("TrueType"),
                "BaseFont": Name(self.name),
                "FirstChar": 0,
                "LastChar": len(self.subset) - 1,
                "Widths": widths,
                "FontDescriptor": file.add(self._describe(cut)),
                "ToUnicode": letters,
            }
        )

    def _describe(self, cut: Ref) -> dict[str, Value]:
        face = self.face
        return {
            "Type": Name("FontDescriptor"),
            "FontName": Name(self.name),
            "Flags": face.flags & ~NONSYMBOLIC | SYMBOLIC,
            "FontBBox": list(face.bbox),
            "ItalicAngle": face.italicAngle,
            "Ascent": face.ascent,
            "Descent": face.descent,
            "CapHeight": face.capHeight,
            "StemV": face.stemV,
            "MissingWidth": face.defaultWidth,
            "FontFile2": cut,
        }
