"""The shop's record of its printers: what their 100 mm squares measured."""

from pathlib import Path

from docgen.calls.outside import pick_date, settle_shop
from docgen.classes import dataclass
from docgen.problems import CallRejected, shorten, suggest_any
from docgen.read import SHOP_FILE, is_name, make_name, read_shop_file, read_source, replace_printer
from docgen.resolve import Printer, ShopSettings, parse_measured
from docgen.write import replace_after
from docgen.written.units.numbers import WrittenError


@dataclass(frozen=True, slots=True, kw_only=True)
class Recorded:
    """A printer that was written into the shop's file; `is_new` tells one that was not there before."""

    path: Path
    printer: Printer
    is_new: bool


def list_printers(shop: str | Path | None = None) -> ShopSettings:
    """The printers in the shop's file (`shop.toml` in the current folder). Raises SpecRejected when it is wrong."""
    path = Path(shop) if shop else Path(SHOP_FILE)
    return settle_shop(read_shop_file(path) if shop or path.exists() else None)


def find_printer(settings: ShopSettings, name: str) -> Printer:
    """A printer of the shop's file by name. Raises CallRejected, with those that are there."""
    known = {printer.name: printer for printer in settings.printers}
    if name in known:
        return known[name]
    short = name if is_name(name) else "NAME"
    mend = suggest_any(name, known, f'record it: docgen printer {short} --across "99.2 mm" --down "100.5 mm"')
    where = f" in {settings.path}" if settings.path else f": there is no {SHOP_FILE}"
    raise CallRejected(f'no printer is called "{shorten(name)}"{where}; {mend}')


def record_printer(name: str, across: str, down: str, shop: str | Path | None = None) -> Recorded:
    """Write into the shop's file (`shop.toml` in the current folder) what a printer's 100 mm square measured today.

    `across` and `down` are written lengths ("99.2 mm", "3 15/16 in"). All else in the file stays byte for byte.
    Raises CallRejected, SpecRejected when the file is wrong, WriteFailed; then it is as it was.
    """
    date = pick_date(None)
    if not is_name(name):
        plain = make_name(name)
        mend = f'write "{plain}"' if is_name(plain) else 'write it like "office"'
        raise CallRejected(f'"{shorten(name)}" is no short name: small letters, digits and hyphens; {mend}')
    across_mm = _parse_side("across", across)
    down_mm = _parse_side("down", down)
    keys = {"across": shorten(across), "down": shorten(down), "date": date}
    path = Path(shop or SHOP_FILE)
    # A link stays a link: what it leads to is replaced.
    target = path.resolve()
    known: set[str] = set()

    def work_out() -> dict[str, bytes]:
        is_there = path.exists()
        known.update(printer.name for printer in (list_printers(path).printers if is_there else ()))
        source = read_source(path) if is_there else b""
        return {target.name: replace_printer(path, source, name, keys)}

    replace_after(target.parent, work_out)
    printer = Printer(name=name, across_mm=across_mm, down_mm=down_mm, date=date)
    return Recorded(path=path, printer=printer, is_new=name not in known)


def _parse_side(what: str, written: str) -> float:
    try:
        return parse_measured(written)
    except WrittenError as error:
        raise CallRejected(f"{what}: {error}") from error
