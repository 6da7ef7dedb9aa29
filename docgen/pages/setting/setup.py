"""What all pages of one packet share: paper, date, and what the band says."""

from __future__ import annotations

from collections.abc import Iterable

from docgen.classes import dataclass
from docgen.geometry.shapes import Box
from docgen.pages.looks.words import words
from docgen.pages.marks.page import Mark, Page
from docgen.pages.setting.blocks import PageStyle
from docgen.pages.setting.frame import Stamp, draw_band, page_frame
from docgen.resolve import Build, Choices

LARGEST_OFFICE_MM = 300.0
SHARED = "PATTERN"
"""The document that variants may share."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Setup:
    """Paper in mm, the printer's white margin, the day printed on the pages (YYYY-MM-DD), the pages' style, whether they
    are a draft's: of a version that is not issued; and all else that is chosen for their printing."""

    paper_width_mm: float
    paper_height_mm: float
    margin_mm: float
    date: str
    style: PageStyle
    is_roll: bool = False
    is_draft: bool = False
    choices: Choices = Choices()

    @property
    def is_large(self) -> bool:
        """Larger than an office printer takes (A3, tabloid): printed at a copy shop."""
        return self.is_roll or min(self.paper_width_mm, self.paper_height_mm) > LARGEST_OFFICE_MM

    @property
    def stretch(self) -> tuple[float, float]:
        """What a sheet is multiplied by, across and down, for the printer that it is corrected for."""
        return self.choices.printer.stretch if self.choices.printer else (1.0, 1.0)

    @property
    def side_mm(self) -> float:
        """The margin at the sides of pages of words."""
        return max(self.margin_mm, self.style.margin_mm)

    @property
    def frame(self) -> Box:
        """Room for words above the band: wider margins at the sides than the printer needs, for reading and filing."""
        side = self.side_mm
        free = page_frame(self.paper_width_mm, self.paper_height_mm, self.margin_mm, self.style)
        return Box(side, free.bottom, self.paper_width_mm - side, self.paper_height_mm - side)


def make_stamp(build: Build, setup: Setup, document: str) -> Stamp:
    """The band's words for one document, by its payload name (a key of [documents] in words.toml)."""
    units = words("units")
    return Stamp(
        title=build.title,
        code=build.code,
        version=build.version,
        date=setup.date,
        digest=build.digest,
        units=units[build.show],
        document_title=words("documents")[document],
        shop=build.shop.name,
        link=build.shop.link,
        mark=build.shop.mark,
        is_draft=setup.is_draft,
        variant=build.variant,
        serves=build.sharing.words if build.sharing and document == SHARED else "",
    )


def band_page(
    marks: Iterable[Mark], stamp: Stamp, document: str, number: int, pages: int, setup: Setup, *, is_wide: bool = False
) -> Page:
    """A page of these marks with its band, by its number of so many; `document` is the payload name. The band is as wide
    as the text, or as the printer allows (`is_wide`)."""
    wide, high, side = setup.paper_width_mm, setup.paper_height_mm, 0.0 if is_wide else setup.side_mm
    band, payload = draw_band(stamp, document, number, pages, wide, high, setup.margin_mm, setup.style, side_mm=side)
    label = f"{words('documents')[document]} {number}"
    return Page(width_mm=wide, height_mm=high, marks=(*marks, *band), label=label, payload=payload)
