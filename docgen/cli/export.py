"""`docgen export`"""

from __future__ import annotations

from typing import TYPE_CHECKING

from docgen.calls.asked import ExportCall
from docgen.cli.telling import DONE, say

if TYPE_CHECKING:
    from docgen.calls.export import Exported

ABOUT = """\
Write every piece, straps included, as a vector file in mm: one file for each, with the layers
words, marks, stitch, pricks (the holes of hand stitches), holes and cut. With a kerf, cut lines lie
half of it outside the piece, and holes are smaller by it.

  docgen export field-bag.toml --to dxf
  docgen export field-bag.toml --to svg --kerf "0.2 mm" --pieces back front
"""
ASKED = ExportCall


def run(asked: ExportCall) -> int:
    """Write the pieces as vector files, and tell which."""
    from docgen.calls.export import export_pieces

    exported = export_pieces(asked)
    say(describe_export(exported))
    return DONE


def describe_export(exported: Exported) -> str:
    """What was written, for a person: files, unit and kerf, every caution."""
    from docgen.problems import render_problems
    from docgen.written.units.telling import format_mm

    lines = [f"wrote {exported.folder}"] if exported.paths else []
    lines += [f"  {path.relative_to(exported.folder).as_posix()}" for path in exported.paths]
    kerf = f"a kerf of {format_mm(exported.kerf_mm, 3)} is allowed for" if exported.kerf_mm else "no kerf"
    lines.append(f"all lengths in mm, at full size; {kerf}")
    if exported.cautions:
        lines.append(render_problems(exported.cautions))
    return "\n".join(lines)
