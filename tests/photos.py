"""Pictures of whole printed pages as a telephone takes them, and what two unlike readers find on them.

A photo is seen a little from the side and turned, out of focus, in light that falls off, with noise, squeezed. How strong
each is: common practice of telephones at a bench, no published source. pillow and numpy make them; zxing-cpp and OpenCV's
QRCodeDetector read them, by both of its calls: for one code, and for many.
"""

from io import BytesIO

import cv2
import numpy as np
import zxingcpp
from PIL import Image, ImageFilter

from docgen.classes import dataclass

Picture = Image.Image

TABLE = 0.42  # of white: what the page lies on
INK, PAPER = 25.0, 230.0
NEAR = 0.91  # of the frame, that the page takes
LEAN = 0.04  # by how much the far edge is shorter
DRAWN_DPI = 400


@dataclass(frozen=True, slots=True, kw_only=True)
class Camera:
    """Size of the picture in pixels; how far out of focus, how noisy, how turned, and the light at the dark side."""

    wide: int = 2000
    high: int = 2667
    blur: float = 1.2
    noise: float = 8.0
    turn_deg: float = 2.0
    dark: float = 0.55
    seed: int = 7


LARGE = Camera(wide=3000, high=4000, blur=1.6)
"""12 megapixels."""
SMALL = (Camera(), Camera(turn_deg=-1.5, seed=8), Camera(turn_deg=0.5, dark=0.7, seed=9))
"""Three photos of one page, 2,000 pixels wide."""


def take_photo(page: Picture, camera: Camera) -> Picture:
    """The whole page, drawn at 400 dpi, in one photo of grey."""
    wide, high = camera.wide, camera.high
    scale = NEAR * min(wide / page.width, high / page.height)
    turn = np.radians(camera.turn_deg)
    across, up = np.array([np.cos(turn), np.sin(turn)]), np.array([-np.sin(turn), np.cos(turn)])
    corners = []
    for x, y in ((-1, -1), (1, -1), (1, 1), (-1, 1)):
        far = (1.0 - LEAN if y < 0 else 1.0) * scale / 2
        side = (1.0 - LEAN / 2 if x > 0 else 1.0) * scale / 2
        corners.append(np.array([wide, high]) / 2 + across * x * page.width * far + up * y * page.height * side)
    source = ((0, 0), (page.width, 0), (page.width, page.height), (0, page.height))
    seen = page.filter(ImageFilter.GaussianBlur(max(0.0, 0.35 / scale - 0.3))).transform(
        (wide, high),
        Image.Transform.PERSPECTIVE,
        _find_view(corners, source),
        resample=Image.Resampling.BICUBIC,
        fillcolor=int(255 * TABLE),
    )
    return _expose(seen.filter(ImageFilter.GaussianBlur(camera.blur)), camera)


def _find_view(corners: list[np.ndarray], source: tuple[tuple[int, int], ...]) -> tuple[float, ...]:
    """The eight numbers of a perspective that leads from the corners in the photo to those of the page."""
    rows, values = [], []
    for (x, y), (u, v) in zip(corners, source, strict=True):
        rows += [[x, y, 1, 0, 0, 0, -u * x, -u * y], [0, 0, 0, x, y, 1, -v * x, -v * y]]
        values += [u, v]
    return tuple(np.linalg.solve(np.array(rows, dtype=float), np.array(values, dtype=float)))


def _expose(seen: Picture, camera: Camera) -> Picture:
    light = np.linspace(1.0, camera.dark, camera.wide)[None, :] * np.linspace(1.0, 0.85, camera.high)[:, None]
    grey = (np.asarray(seen, dtype=float) / 255 * (PAPER - INK) + INK) * light
    grey += np.random.default_rng(camera.seed).normal(0.0, camera.noise, grey.shape)
    held = BytesIO()
    Image.fromarray(np.clip(grey, 0, 255).astype(np.uint8)).save(held, format="JPEG", quality=80)
    return Image.open(held).convert("L")


def read_by_zxing(picture: Picture) -> set[str]:
    """What zxing-cpp finds."""
    return {code.text for code in zxingcpp.read_barcodes(picture, formats=zxingcpp.BarcodeFormat.QRCode)}


def read_by_opencv(picture: Picture) -> set[str]:
    """What OpenCV's QRCodeDetector finds, by its call for many codes and, where that finds none, by that for one."""
    seen, detector = np.asarray(picture), cv2.QRCodeDetector()
    _, texts, _, _ = detector.detectAndDecodeMulti(seen)
    found = {text for text in texts if text}
    return found or {text for text in (detector.detectAndDecode(seen)[0],) if text}
