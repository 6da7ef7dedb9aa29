"""Documents -> PDF files. Prints the marks it is given and decides nothing about them.

Only the pipeline imports this package, and only what stands here. Points (1/72 in) exist nowhere else.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from docgen.pages.page import Packet
from docgen.write.dxf import write_dxf
from docgen.write.files import WriteFailed, explain, replace_files
from docgen.write.svg import write_svg

__all__ = ["WriteFailed", "explain", "replace_files", "write_documents", "write_dxf", "write_svg"]


def write_documents(
    packet: Packet,
    folder: Path,
    *,
    only: Sequence[str] = (),
    progress: Callable[[str], None] | None = None,
) -> tuple[Path, ...]:
    """Write `<name>.pdf` for each document and `packet.pdf` for all; returns their paths in that order.

    `only` restricts to some of the names, "packet" included. `progress` is told each step in words. The
    same packet gives the same bytes. Raises ValueError for a name that is not there, and WriteFailed when the
    folder cannot take the files; it then holds what it held before.
    """
    from docgen.write.finish import finish_files

    say = progress or (lambda words: None)
    contents = finish_files(packet, only, say)
    say(f"writing to {folder}")
    return replace_files(folder, {f"{name}.pdf": content for name, content in contents.items()})
