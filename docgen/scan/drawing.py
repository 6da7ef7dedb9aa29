"""What was seen -> a drawing of the hide at full size, with the photo made flat behind it, to look at and correct."""

import base64
from collections.abc import Iterator
from io import BytesIO
from typing import Final

import numpy as np
from PIL import Image

from docgen.scan.backbone import find_backbone, thin_out
from docgen.scan.scan import Seen
from docgen.scan.shapes import Points

AROUND_MM: Final = 40.0
NEAR_MM: Final = 0.7
PICTURE: Final = 1200
"""Pixels on the longer side of the photo behind the outline."""

QUALITY: Final = 80
COLOURS: Final = {"hide": "#d0021b", "square": "#0050c8", "backbone": "#0a7d3c"}
TOLD: Final = (
    "Move the points of the outline where it is wrong, draw faults as closed outlines with the ids fault-1, fault-2, "
    "what is firm as best, belly and shanks as hidden-1; then lay on it with docgen lay SPEC --hide and this file."
)


def draw_seen(seen: Seen, photo: "Image.Image", backbone: str, tail: str, said: str) -> str:
    """The text of an SVG file, one unit to the mm, y counted down."""
    outline = thin_out(seen.hide, NEAR_MM)
    line = find_backbone(seen.hide, backbone, tail)
    every = np.concatenate([outline, seen.square, line])
    low, high = every.min(axis=0) - AROUND_MM, every.max(axis=0) + AROUND_MM
    wide, tall = (float(side) for side in high - low)

    def place(points: Points) -> Points:
        return np.column_stack([points[:, 0] - low[0], high[1] - points[:, 1]])

    parts = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" version="1.1" '
        f'width="{wide:.1f}mm" height="{tall:.1f}mm" viewBox="0 0 {wide:.1f} {tall:.1f}">',
        "<title>A hide from a photo</title>",
        f"<desc>{said} {TOLD}</desc>",
        f'<image id="photo" width="{wide:.1f}" height="{tall:.1f}" preserveAspectRatio="none" '
        f'xlink:href="data:image/jpeg;base64,{_flatten(photo, seen, low, (wide, tall))}"/>',
        *_paths({"hide": place(outline), "square": place(seen.square), "backbone": place(line)}),
        "</svg>",
    ]
    return "\n".join(parts) + "\n"


def _paths(lines: dict[str, Points]) -> Iterator[str]:
    for name, points in lines.items():
        way = " L".join(f"{x:.2f} {y:.2f}" for x, y in points) + ("" if name == "backbone" else " Z")
        yield f'<path id="{name}" fill="none" stroke="{COLOURS[name]}" stroke-width="3" d="M{way}"/>'


def _flatten(photo: "Image.Image", seen: Seen, low: Points, size_mm: tuple[float, float]) -> str:
    """The photo as it would look from straight above, as base64 of a JPEG."""
    mm = max(size_mm) / PICTURE
    wide, tall = (max(1, round(side / mm)) for side in size_mm)
    to_mm = np.array([[mm, 0.0, low[0]], [0.0, -mm, low[1] + size_mm[1]], [0.0, 0.0, 1.0]])
    back = np.linalg.inv(seen.plane) @ to_mm
    back /= back[2, 2]
    flat = photo.transform(
        (wide, tall), Image.Transform.PERSPECTIVE, back.ravel()[:8].tolist(), Image.Resampling.BILINEAR
    )
    written = BytesIO()
    flat.save(written, "JPEG", quality=QUALITY)
    return base64.b64encode(written.getvalue()).decode("ascii")
