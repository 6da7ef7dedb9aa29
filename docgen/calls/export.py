"""Writing the pieces as vector files, for a die maker or a laser."""

from pathlib import Path
from typing import Final

from docgen.calls.asked import ExportCall
from docgen.calls.outside import check_builds, pick_folder, pick_layouts, place_in, read_for_shop
from docgen.calls.printing import check_pieces
from docgen.checks import resolve_variants
from docgen.classes import dataclass
from docgen.layout_files import use_layouts
from docgen.pages.drawn.export import draw_pieces
from docgen.problems import CallRejected, Problem, shorten
from docgen.resolve import show_shared
from docgen.write import DRAWING_KINDS, replace_files, write_drawing
from docgen.written.units.lengths import parse_length
from docgen.written.units.numbers import WrittenError
from docgen.written.units.telling import format_mm

MOST_KERF_MM: Final = 3.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Exported:
    """The vector files that were written, one for each piece, and the kerf they allow for."""

    paths: tuple[Path, ...]
    kerf_mm: float
    cautions: tuple[Problem, ...]
    folder: Path = Path()


def export_pieces(asked: ExportCall) -> Exported:
    """Write the pieces; those of each variant go into a folder of its own, those that several share into the first one's.

    Raises SpecRejected, CallRejected, or WriteFailed; then nothing was written.
    """
    if asked.to not in DRAWING_KINDS:
        raise CallRejected(f'pieces are exported to {" or ".join(DRAWING_KINDS)}, not to "{shorten(asked.to)}"')
    kerf_mm = read_kerf(asked.kerf)
    with use_layouts(pick_layouts(asked.spec, asked.layouts)):
        builds = resolve_variants(read_for_shop(asked.spec)[0])
        check_pieces(builds[0], asked.pieces)
        homes = [build for build in builds if build.has_pattern]
        drawings = [(build, draw_pieces(show_shared(build), kerf_mm=kerf_mm, names=asked.pieces)) for build in homes]
    contents = {
        place_in(build.variant, f"{drawing.name}.{asked.to}"): write_drawing(drawing, asked.to)
        for build, drawn in drawings
        for drawing in drawn
    }
    target = pick_folder(asked.out, builds[0])
    paths = replace_files(target, contents)
    return Exported(paths=paths, kerf_mm=kerf_mm, cautions=check_builds(builds).cautions, folder=target)


def read_kerf(written: str | None) -> float:
    """The kerf in mm, 0 when none is given. Raises CallRejected."""
    if written is None:
        return 0.0
    try:
        kerf_mm = parse_length(written)
    except WrittenError as error:
        raise CallRejected(f"the kerf: {error.what}; {error.mend}") from error
    if not 0 <= kerf_mm <= MOST_KERF_MM:
        raise CallRejected(f"a kerf of {format_mm(kerf_mm, 3)} does not work; use 0 to {MOST_KERF_MM:g} mm")
    return kerf_mm
