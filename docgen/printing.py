"""How a pattern is printed: what the call asks for, else the spec, else the shop's own file, else the default.

Also the shop's record of its printers: what their 100 mm squares measured.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Final

from docgen.pages import Choices, choices_of
from docgen.pages.drawn.export import all_pieces
from docgen.problems import CallRejected, shorten, suggest
from docgen.read import (
    SHOP_FILE,
    Spec,
    find_shop_file,
    is_name,
    make_name,
    read_shop_file,
    read_source,
    read_spec,
    replace_printer,
)
from docgen.resolve import (
    Build,
    Printer,
    Printing,
    ShopSettings,
    add_shop_limits,
    check_join_overlap,
    check_margin,
    check_overlap,
    parse_measured,
    resolve_shop_file,
)
from docgen.tables.paper import check_paper
from docgen.write import replace_files
from docgen.written.units import WrittenError, parse_length

JOINS: Final = ("trim", "overlap")


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """What a call asks of the printing, as written; None, or nothing, where it leaves it to the spec and the shop.

    `paper` is a name, "8.5x11 in" or "roll 36 in"; `margin` and `overlap` are lengths ("1/4 in"); `join` is "trim" or
    "overlap"; `pieces` are names of pieces and straps; `printer` is a name in the shop's file; `shop` is that file.
    """

    paper: str | None = None
    margin: str | None = None
    overlap: str | None = None
    join: str | None = None
    full_straps: bool | None = None
    mirror: bool = False
    pieces: tuple[str, ...] = ()
    printer: str | None = None
    shop: str | Path | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Recorded:
    """A printer that was written into the shop's file; `is_new` tells one that was not there before."""

    path: Path
    printer: Printer
    is_new: bool


def read_asked(asked: Asked) -> Printing:
    """What a call says of paper, margin, overlap, join and straps. Raises CallRejected for what cannot be meant."""
    if asked.join not in (None, *JOINS):
        mend = suggest(asked.join or "", JOINS) or 'there are "trim" and "overlap"'
        raise CallRejected(f'sheets cannot be joined by "{shorten(asked.join or "")}"; {mend}')
    with _told_as_call():
        paper = None if asked.paper is None else check_paper(asked.paper)
    return Printing(
        paper=paper,
        margin_mm=_read_length("the margin", asked.margin, check_margin),
        overlap_mm=_read_length("the overlap", asked.overlap, check_overlap),
        join=asked.join,
        has_full_straps=asked.full_straps,
    )


@contextmanager
def _told_as_call(what: str = "") -> Iterator[None]:
    """What cannot be read is a wrong call; `what` says what was to be read."""
    try:
        yield
    except WrittenError as error:
        raise CallRejected(f"{what}: {error}" if what else str(error)) from error


def _read_length(what: str, written: str | None, check: Callable[[float], float]) -> float | None:
    """The length in mm within its limits; the words of `check` say already what is meant."""
    if written is None:
        return None
    with _told_as_call(what):
        length_mm = parse_length(written)
    with _told_as_call():
        return check(length_mm)


def choose_printing(asked: Asked, said: Printing, build: Build, spec: str | Path) -> Choices:
    """How the pattern of a build is printed; `said` is what `read_asked` read, `spec` the path of its spec.

    Raises CallRejected for a piece or printer that is not there, SpecRejected when the shop's file is wrong.
    """
    check_pieces(build, asked.pieces)
    settings = settings_for(asked, spec)
    printer = None if asked.printer is None else find_printer(settings, asked.printer)
    chosen = choices_of(said, build.printing, settings.printing)
    if chosen.join == "overlap":
        with _told_as_call():
            check_join_overlap(chosen.overlap_mm)
    return replace(chosen, is_mirrored=asked.mirror, pieces=asked.pieces, printer=printer)


def settings_for(asked: Asked, spec: str | Path) -> ShopSettings:
    """The shop's file that is named, else the one found for a spec. Raises SpecRejected when it is wrong."""
    return read_settings(asked.shop or find_shop_file(spec))


def read_for_shop(path: str | Path, shop: str | Path | None = None) -> Spec:
    """A spec, with the figures of the shop's file that is named, else of the one found for it, where it has none of its
    own. Raises SpecRejected when either cannot be read at all."""
    found = shop or find_shop_file(path)
    spec = read_spec(path)
    return add_shop_limits(spec, None if found is None else read_shop_file(found))


def read_settings(path: str | Path | None) -> ShopSettings:
    """What the shop's file says; nothing when there is none. Raises SpecRejected with all that is wrong in it."""
    return ShopSettings() if path is None else resolve_shop_file(read_shop_file(path))


def find_printer(settings: ShopSettings, name: str) -> Printer:
    """A printer of the shop's file by name. Raises CallRejected, with those that are there."""
    known = {printer.name: printer for printer in settings.printers}
    if name in known:
        return known[name]
    mend = suggest(name, known) or (f"there are {', '.join(known)}" if known else "")
    if not mend:
        short = name if is_name(name) else "NAME"
        mend = f'record it: docgen printer {short} --across "99.2 mm" --down "100.5 mm"'
    where = f" in {settings.path}" if settings.path else f": there is no {SHOP_FILE}"
    raise CallRejected(f'no printer is called "{shorten(name)}"{where}; {mend}')


def check_pieces(build: Build, names: Sequence[str]) -> None:
    """Raises CallRejected for a name that is no piece and no strap."""
    known = [piece.name for piece in all_pieces(build)]
    for name in names:
        if name not in known:
            mend = suggest(name, known) or "there are " + ", ".join(known)
            raise CallRejected(f'no piece is called "{shorten(name)}"; {mend}')


def list_printers(shop: str | Path | None = None) -> ShopSettings:
    """The printers in the shop's file (`shop.toml` in the current folder). Raises SpecRejected when it is wrong."""
    path = Path(shop) if shop else Path(SHOP_FILE)
    return read_settings(path if shop or path.exists() else None)


def record_printer(name: str, across: str, down: str, *, date: str, shop: str | Path | None = None) -> Recorded:
    """Write into the shop's file (`shop.toml` in the current folder) what a printer's 100 mm square measured.

    `across` and `down` are written lengths ("99.2 mm", "3 15/16 in"). All else in the file stays byte for byte.
    Raises CallRejected, SpecRejected when the file is wrong, WriteFailed; then the file is as it was.
    """
    if not is_name(name):
        plain = make_name(name)
        mend = f'write "{plain}"' if is_name(plain) else 'write it like "office"'
        raise CallRejected(f'"{shorten(name)}" is no short name: small letters, digits and hyphens; {mend}')
    with _told_as_call("across"):
        across_mm = parse_measured(across)
    with _told_as_call("down"):
        down_mm = parse_measured(down)
    keys = {"across": shorten(across), "down": shorten(down), "date": date}
    settings = list_printers(shop if shop and Path(shop).exists() else None)
    path = Path(shop or SHOP_FILE)
    source = read_source(path) if path.exists() else b""
    # A link stays a link: what it leads to is replaced.
    target = path.resolve()
    replace_files(target.parent, {target.name: replace_printer(path, source, name, keys)})
    printer = Printer(name=name, across_mm=across_mm, down_mm=down_mm, date=date)
    return Recorded(path=path, printer=printer, is_new=name not in {one.name for one in settings.printers})
