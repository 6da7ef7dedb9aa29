"""A photo of a hide as a drawing at full size, to look at, to correct, and to lay on."""

import os
from collections.abc import Callable
from pathlib import Path
from typing import Final

from docgen.bounded import TooMuch, run_within
from docgen.calls.asked import ScanCall
from docgen.classes import dataclass
from docgen.problems import CallRejected, Place, SpecRejected, make_error, shorten, suggest_any
from docgen.read import read_ordinary
from docgen.scan.words import DRAW, ScanRefused
from docgen.write import write_new_files
from docgen.written.units.lengths import parse_length
from docgen.written.units.numbers import WrittenError
from docgen.written.units.telling import format_area

BYTES_MOST: Final = 24 * 1024 * 1024
SIDE_MM: Final = (50.0, 2000.0)
ENDINGS: Final = (".png", ".jpg", ".jpeg")
TAILS: Final = {"left": "bottom", "right": "bottom", "middle": "bottom", "top": "left", "bottom": "left"}
"""Where the backbone lies -> where the tail lies then, unless it is said."""

SMALLER: Final = "save it smaller; 2,000 pixels wide is plenty"
UP_AND_DOWN: Final = ("top", "bottom")
LARGE_ENOUGH: Final = 0.24
"""Of the hide's length: the area was within half a percent on synthetic photos with a square of a quarter of it, and
mostly with a fifth. Measured by us."""

MISSING: Final = (
    f'to see a hide on a photo docgen needs further packages; in its own folder: pip install ".[scan]"\n{DRAW}'
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Scanned:
    """The drawing that was written, the area of the hide in it, and what is told of that."""

    path: Path
    area_mm2: float
    words: str


def tell_area(area_mm2: float, error: float, square_share: float) -> str:
    """What was measured, how sure that is, and what would make it surer where the square is less than a quarter as wide as
    the hide is long (`square_share`)."""
    area = format_area(area_mm2, "in")
    words = (
        f"a hide of {area}, right to about {error:.1%} by what the square shows: an estimate; "
        "a lens that bends straight lines adds to it."
    )
    larger = f" The square is {square_share:.0%} of the hide's length: one of a quarter of it or more tells it better."
    return words if square_share >= LARGE_ENOUGH else words + larger


def scan_hide(asked: ScanCall) -> Scanned:
    """Write what a photo shows as a new drawing.

    Raises CallRejected, SpecRejected with what cannot be seen on the photo, or WriteFailed; then nothing was written.
    """
    (backbone, tail), side_mm = pick_sides(asked.backbone, asked.tail), _read_side(asked.square)
    path = Path(asked.photo)
    target = Path(asked.to) if asked.to is not None else Path(path.with_suffix(".svg").name)
    if target.suffix.lower() != ".svg":
        raise CallRejected(f'the drawing is an SVG file: write --to "{shorten(target.stem)}.svg"')
    source = _read_photo(path)

    def work() -> tuple[str, float, str]:
        os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # threads of its own would ask for more memory than is given
        from docgen.scan.drawing import draw_seen
        from docgen.scan.photo import read_photo, take_pixels
        from docgen.scan.scan import scan_pixels

        photo = read_photo(source, path.name)
        seen = scan_pixels(take_pixels(photo), side_mm)
        said = tell_area(seen.area_mm2, seen.error, side_mm / seen.length_mm)
        return draw_seen(seen, photo, backbone, tail, f"Seen: {said}"), seen.area_mm2, said

    text, area_mm2, said = _see(work, path)
    written = write_new_files(target.parent, {target.name: text.encode("utf-8")})
    return Scanned(path=written[0], area_mm2=area_mm2, words=said)


def _see(work: Callable[[], tuple[str, float, str]], path: Path) -> tuple[str, float, str]:
    """What the work gives, within what is given for one file."""
    try:
        return run_within(work)
    except ImportError as error:
        raise CallRejected(MISSING) from error
    except TooMuch as error:
        raise CallRejected(
            f"{path} takes more {error} to look through than docgen gives to one file; {SMALLER}"
        ) from error
    except ScanRefused as error:
        raise SpecRejected([make_error(Place(path=str(path)), error.what, error.mend)]) from error


def pick_sides(backbone: str | None, tail: str | None) -> tuple[str, str]:
    """The sides of the picture that backbone and tail lie to. Raises CallRejected for what cannot be."""
    sides = [side for side in TAILS if side != "middle"]
    for option, said, known in (("tail", tail, sides), ("backbone", backbone, list(TAILS))):
        if said is not None and said not in known:
            raise CallRejected(f'--{option}: there is no side "{shorten(said)}"; {suggest_any(said, known)}')
    if backbone is None:
        raise CallRejected("say where the backbone lies in the picture, like --backbone left: straps lie along it")
    tail = tail or TAILS[backbone]
    if backbone != "middle" and (backbone in UP_AND_DOWN) == (tail in UP_AND_DOWN):
        other = "left or right" if backbone in UP_AND_DOWN else "top or bottom"
        raise CallRejected(f"with the backbone at the {backbone} of the picture, the tail lies to its {other}")
    return backbone, tail


def _read_side(written: str | None) -> float:
    """The side of the square in mm. Raises CallRejected."""
    if written is None:
        raise CallRejected('say how long a side of the square beside the hide is, like --square "40 cm"')
    least, most = SIDE_MM
    try:
        side_mm = parse_length(written)
    except WrittenError as error:
        raise CallRejected(f"--square: {error}") from error
    if not least <= side_mm <= most:
        raise CallRejected(
            f'--square: a square of {least:g} mm to {most / 1000:g} m can be taken; write it like "40 cm"'
        )
    return side_mm


def _read_photo(path: Path) -> bytes:
    """The bytes of a photo. Raises SpecRejected."""
    what = ""
    source = b""
    if path.suffix.lower() not in ENDINGS:
        what, mend = "this is no photo", "name a PNG or JPEG file"
    else:
        try:
            source = read_ordinary(path, BYTES_MOST)
        except (OSError, ValueError) as error:
            reason = (getattr(error, "strerror", None) or "unknown reason").lower()
            what, mend = f"it cannot be read: {reason}", "check its name, and who may read it"
        if len(source) > BYTES_MOST:
            what, mend = f"it is larger than {BYTES_MOST // 1024**2} MiB", SMALLER
    if what:
        raise SpecRejected([make_error(Place(path=str(path)), what, mend)])
    return source
