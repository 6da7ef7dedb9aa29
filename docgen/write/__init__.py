"""Documents -> PDF files. Prints the marks it is given and decides nothing about them.

Only the calls and the versions import this package, and only what stands here. Points (1/72 in) exist nowhere else.
What draws is loaded when it is asked for: a command that only writes a file has no use for it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import TYPE_CHECKING, Final

from docgen.fonts import FACES, cap_height_mm
from docgen.write.enclosed import Enclosed, NotReadable, read_enclosed
from docgen.write.files import (
    AlreadyThere,
    PutBackWarning,
    WriteFailed,
    explain,
    is_half_done,
    replace_after,
    replace_files,
    tidy,
    write_new_files,
    write_new_folder,
)
from docgen.write.ours import FILE_MOST, GENERATOR, read_ours
from docgen.write.png import PNG_MARK, write_png

if TYPE_CHECKING:
    from docgen.geometry.shapes import Box, Path
    from docgen.pages.drawn.export import Drawing
    from docgen.pages.marks.page import CsvTable, Mark, Packet

DRAWING_KINDS: Final = ("svg", "dxf")


def write_drawing(drawing: Drawing, kind: str) -> bytes:
    """The content of a vector file of one of `DRAWING_KINDS`; the same drawing gives the same bytes."""
    from docgen.write.dxf import write_dxf
    from docgen.write.svg import write_svg

    return {"svg": write_svg, "dxf": write_dxf}[kind](drawing)


def write_on_web(marks: Iterable[Mark], box: Box, title: str, px_per_mm: float) -> str:
    """What lies in a box of a page, as one `svg` element of a web page."""
    from docgen.write.web import draw_on_web

    return draw_on_web(marks, box, title, px_per_mm)


def write_path(path: Path) -> str:
    """The `d` of a path in SVG, y turned about 0."""
    from docgen.write.svg import path_data

    return path_data(path, 0.0)


def load_writers() -> None:
    """Load what `finish_documents` needs, so that processes which part from this one have it."""
    import docgen.write.finish

    for face in FACES:
        cap_height_mm(1.0, face)


def finish_documents(
    packet: Packet,
    *,
    only: Sequence[str] = (),
    tables: Sequence[CsvTable] = (),
    progress: Callable[[str], None] | None = None,
) -> dict[str, bytes]:
    """Name -> bytes, for `replace_files`: `<name>.pdf` for each document, `packet.pdf` for all, and `<name>.csv` for each
    of `tables`, in that order.

    `only` restricts to some of the documents, "packet" included. `progress` is told each step in words. The same packet
    gives the same bytes. Raises ValueError for a name that is not there.
    """
    from docgen.write.csv import write_csv
    from docgen.write.finish import finish_files

    contents = finish_files(packet, only, progress or (lambda words: None))
    return {
        **{f"{name}.pdf": content for name, content in contents.items()},
        **{f"{table.name}.csv": write_csv(table) for table in tables},
    }
