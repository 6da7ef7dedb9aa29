"""The five phases in a row: read, resolve, plan, lay out, write. This is the map of the program.

What the outside supplies (the folder, the paper, the day) comes in here and nowhere else.
"""

from __future__ import annotations

import os
import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Final

from docgen.pages import Choices, lay_out
from docgen.pages.export import draw_pieces
from docgen.pages.page import Packet, SheetCount
from docgen.plan import plan_work
from docgen.printing import Asked, check_pieces, choose_printing, read_asked
from docgen.problems import CallRejected, Problem, shorten, suggest
from docgen.read import read_orders, read_spec
from docgen.resolve import Build, Printer, resolve_build
from docgen.units import Show, WrittenError, format_mm, parse_length
from docgen.write import WriteFailed, replace_files, write_documents, write_dxf, write_svg

__all__ = [
    "FILE_NAMES", "CallRejected", "Exported", "Outcome", "WriteFailed", "build_documents", "check_spec",
    "export_pieces",
]  # fmt: skip

FILE_NAMES: Final = ("pattern", "cutting-list", "build-sheet", "care-card", "packet")
"""The files that can be written, without their ending; the packet holds all the others."""

VECTOR_WRITERS: Final = {"svg": write_svg, "dxf": write_dxf}
MOST_KERF_MM: Final = 3.0

PATTERN: Final = "pattern"
PACKET: Final = "packet"
DAY: Final = re.compile(r"\d{4}-\d{2}-\d{2}", re.ASCII)


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """What was written: `pages` counts those of each path; `count` is what the pattern takes besides its first
    page, None when it was not asked for; `paper` is the paper's name; `printer` the one it is corrected for."""

    paths: tuple[Path, ...]
    pages: tuple[int, ...]
    count: SheetCount | None
    paper: str
    cautions: tuple[Problem, ...]
    printer: Printer | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Exported:
    """The vector files that were written, one for each piece, and the kerf they allow for."""

    paths: tuple[Path, ...]
    kerf_mm: float
    cautions: tuple[Problem, ...]


def build_documents(
    path: str | Path,
    folder: str | Path | None = None,
    *,
    only: Sequence[str] = (),
    paper: str | None = None,
    units: str | None = None,
    date: str | None = None,
    margin: str | None = None,
    overlap: str | None = None,
    join: str | None = None,
    full_straps: bool | None = None,
    mirror: bool = False,
    pieces: Sequence[str] = (),
    printer: str | None = None,
    shop: str | Path | None = None,
    orders: str | Path | None = None,
    progress: Callable[[str], None] | None = None,
) -> Outcome:
    """Write the documents of the spec at `path` into a folder: all of them, or those that `only` names.

    Without a folder it is `out/CODE-vVERSION` below the current one. `units` ("in", "mm") takes the place of the
    spec's; `date` (YYYY-MM-DD) is printed on the pages, else SOURCE_DATE_EPOCH, else today. How the pattern is
    printed: `paper`, `margin`, `overlap`, `join`, `full_straps`, `printer` and `shop` as in `docgen.printing.Asked`,
    else as the spec says, else the shop's file; `mirror` turns every template over; `pieces` names those that are
    printed, and then only the pattern is written unless `only` says otherwise. `orders` is a CSV file
    of customers, with a care card for each. `progress` is told each step in words.
    Raises SpecRejected, CallRejected, or WriteFailed; then nothing was written.
    """
    check_call(only, units)
    asked = Asked(
        paper=paper, margin=margin, overlap=overlap, join=join, full_straps=full_straps, mirror=mirror,
        pieces=tuple(pieces), printer=printer, shop=shop,
    )  # fmt: skip
    said = read_asked(asked)
    only = only or ((PATTERN,) if pieces else ())
    day = pick_date(date)
    say = progress or (lambda words: None)
    say("reading the spec")
    spec = read_spec(path)
    customers = read_orders(orders) if orders else ()
    say("working out the pieces")
    build = _show_units(resolve_build(spec), units)
    choices = choose_printing(asked, said, build, path)
    say("planning the work")
    plan = plan_work(build)
    say("laying out the pages")
    packet = lay_out(plan, choices=choices, date=day, orders=customers)
    paths = write_documents(packet, _pick_folder(folder, build), only=only, progress=progress)
    return _tell_outcome(packet, paths, choices, build.cautions)


def export_pieces(
    path: str | Path,
    to: str,
    folder: str | Path | None = None,
    *,
    kerf: str | None = None,
    pieces: Sequence[str] = (),
) -> Exported:
    """Write every piece of the spec at `path`, or those that `pieces` names, as "svg" or "dxf" into a folder.

    Without a folder it is `out/CODE-vVERSION` below the current one. `kerf` is a written length, 0 to 3 mm:
    the width that the cut takes away. Raises SpecRejected, CallRejected, or WriteFailed; then nothing was
    written.
    """
    if to not in VECTOR_WRITERS:
        raise CallRejected(f'pieces are exported to {" or ".join(VECTOR_WRITERS)}, not to "{shorten(to)}"')
    kerf_mm = read_kerf(kerf)
    build = resolve_build(read_spec(path))
    check_pieces(build, pieces)
    drawings = draw_pieces(build, kerf_mm=kerf_mm, names=pieces)
    contents = {f"{drawing.name}.{to}": VECTOR_WRITERS[to](drawing) for drawing in drawings}
    paths = replace_files(_pick_folder(folder, build), contents)
    return Exported(paths=paths, kerf_mm=kerf_mm, cautions=build.cautions)


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


def _pick_folder(folder: str | Path | None, build: Build) -> Path:
    return Path("out", f"{build.code}-v{build.version}") if folder is None else Path(folder)


def check_spec(path: str | Path) -> tuple[Problem, ...]:
    """The cautions of a spec without errors; raises SpecRejected with all problems when there is an error."""
    return resolve_build(read_spec(path)).cautions


def check_call(only: Sequence[str], units: str | None) -> None:
    """Raises CallRejected for a document or a unit that does not exist."""
    for name in only:
        if name not in FILE_NAMES:
            mend = suggest(name, FILE_NAMES) or "there are " + ", ".join(FILE_NAMES)
            raise CallRejected(f'no document is called "{name}"; {mend}')
    if units not in (None, "in", "mm"):
        raise CallRejected(f'lengths are shown in "in" or "mm", not in "{units}"')


def pick_date(written: str | None) -> str:
    """The day for the pages, YYYY-MM-DD: as given, else from SOURCE_DATE_EPOCH, else today.

    Raises CallRejected when what is given is no day. SOURCE_DATE_EPOCH: seconds since 1970 in UTC, by the
    specification of that name (reproducible-builds.org).
    """
    if written is not None:
        return _check_day(written)
    seconds = os.environ.get("SOURCE_DATE_EPOCH", "")
    if not seconds:
        return date.today().isoformat()
    try:
        return datetime.fromtimestamp(int(seconds), tz=UTC).date().isoformat()
    except (ValueError, OverflowError, OSError) as error:
        raise CallRejected(
            f'SOURCE_DATE_EPOCH is "{seconds}", which is no number of seconds since 1970'
        ) from error


def _check_day(written: str) -> str:
    what = f'"{written}" is no day of the calendar; write it like 2026-03-31'
    if not DAY.fullmatch(written):
        raise CallRejected(what)
    try:
        return date.fromisoformat(written).isoformat()
    except ValueError as error:
        raise CallRejected(what) from error


def _show_units(build: Build, units: str | None) -> Build:
    if units is None:
        return build
    show: Show = "mm" if units == "mm" else "in"
    return replace(build, show=show)


def _tell_outcome(
    packet: Packet, paths: tuple[Path, ...], choices: Choices, cautions: tuple[Problem, ...]
) -> Outcome:
    pages = {document.name: len(document.pages) for document in packet.documents}
    pages[PACKET] = sum(pages.values())
    counts = {document.name: document.count for document in packet.documents}
    names = [path.stem for path in paths]
    return Outcome(
        paths=paths,
        pages=tuple(pages[name] for name in names),
        count=counts.get(PATTERN) if {PATTERN, PACKET} & set(names) else None,
        paper=choices.paper,
        cautions=cautions,
        printer=choices.printer,
    )
