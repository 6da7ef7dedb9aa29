"""Lines on a rasterised page, found by the centroid of their darkness and measured in mm."""

from dataclasses import dataclass

import numpy as np

from docgen.geometry.shapes import Box

REACH_MM = 0.6


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """A page or a part of it as darkness from 0 to 255, measured from the bottom left of the whole page.

    pdfium fills whole pixels with the page, so that a pixel is not quite 1/300 in: page size over pixel count.
    """

    dark: np.ndarray
    left_mm: float
    top_mm: float
    across_mm: float
    down_mm: float

    def cut(self, box: Box) -> tuple[np.ndarray, float, float]:
        """Darkness in a box, and the left and top of the first pixel."""
        first, last = (round((x - self.left_mm) / self.across_mm) for x in (box.left, box.right))
        top, bottom = (round((self.top_mm - y) / self.down_mm) for y in (box.top, box.bottom))
        return (
            self.dark[top:bottom, first:last],
            self.left_mm + first * self.across_mm,
            self.top_mm - top * self.down_mm,
        )

    def line_x(self, x_mm: float, low_mm: float, high_mm: float, reach_mm: float = REACH_MM) -> float:
        """Where an upright line near x lies, as the median over pixel rows from low to high."""
        dark, left, _ = self.cut(Box(x_mm - reach_mm, low_mm, x_mm + reach_mm, high_mm))
        return left + find_centroid(dark) * self.across_mm

    def line_y(self, y_mm: float, left_mm: float, right_mm: float, reach_mm: float = REACH_MM) -> float:
        """Where a level line near y lies, as the median over pixel columns from left to right."""
        dark, _, top = self.cut(Box(left_mm, y_mm - reach_mm, right_mm, y_mm + reach_mm))
        return top - find_centroid(dark.T) * self.down_mm

    def sides(self, box: Box) -> tuple[float, float]:
        """Width and height of a drawn box from the middles of its four lines; corners may be round."""
        low, high = box.bottom + 0.3 * box.height, box.top - 0.3 * box.height
        left, right = box.left + 0.3 * box.width, box.right - 0.3 * box.width
        return (
            self.line_x(box.right, low, high) - self.line_x(box.left, low, high),
            self.line_y(box.top, left, right) - self.line_y(box.bottom, left, right),
        )


def find_centroid(rows: np.ndarray) -> float:
    rows = rows[rows.sum(axis=1) > 150]
    assert len(rows), "there is no line"
    return float(np.median(rows @ (np.arange(rows.shape[1]) + 0.5) / rows.sum(axis=1)))
