"""The shop's own file, `shop.toml`: how this shop prints, what its printers measured, what it pays, and its figures.

It says how a pattern is put on paper, what goods cost and by which figures a build is judged, and nothing of what is
built, so that it is no part of a
spec's digest, and is attached to no file: the same version may be printed on another printer, or at other prices. It is
read by the same rules, and with the same messages, as a spec.
"""

import re
from collections.abc import Iterable, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any, Final

from docgen.classes import dataclass
from docgen.problems import Place, Problem, SpecRejected, make_error
from docgen.read.check import check_keys
from docgen.read.kinds import key
from docgen.read.locate import KeyPath, Location, locate_keys
from docgen.read.source import decode_source, parse_source, read_source
from docgen.read.spec import CostsSpec, LimitsSpec, PatternSpec
from docgen.read.spec_goods import ShopGoodsSpec
from docgen.read.svg.hide_drawing import HideDrawing, read_shop_hide
from docgen.read.svg.svg_file import DrawingError
from docgen.read.written import Length, NamedPrice, NamedTable, Table, Text
from docgen.tables.hides import HIDES

SHOP_FILE: Final = "shop.toml"
DRAWN_MOST: Final = 12
"""So many drawings of hides are read, of 2 MiB at most each: they are read with every spec."""
KEY_LINE: Final = r"""^([ \t]*[a-z]+[ \t]*=[ \t]*)("[^"]*"|'[^']*')"""


@dataclass(frozen=True, slots=True, kw_only=True)
class PrinterSpec(NamedTable):
    """What the 100 mm square of page 1 measured, from a printer that was not corrected."""

    across: Length = key("length", "What the 100 mm square measured across the sheet.", required=True)
    down: Length = key("length", "What the 100 mm square measured down the sheet.", required=True)
    date: Text = key("text", "When it was measured.")


@dataclass(frozen=True, slots=True, kw_only=True)
class PricesSpec(Table):
    """What goods cost, by the name they have in a spec, or by their words there."""

    materials: tuple[NamedPrice, ...] = key("prices", "What materials cost.", most=500)
    hardware: tuple[NamedPrice, ...] = key("prices", "What hardware costs.", most=500)
    threads: tuple[NamedPrice, ...] = key("prices", "What threads cost.", most=500)
    trimmings: tuple[NamedPrice, ...] = key("prices", "What goods by length cost.", most=500)


@dataclass(frozen=True, slots=True, kw_only=True)
class ShopFile:
    """The shop's file as written; `problems` is what reading found."""

    path: str = ""
    problems: tuple[Problem, ...] = ()
    pattern: PatternSpec | None = key("table", "How patterns are printed here.", of=PatternSpec)
    printers: tuple[PrinterSpec, ...] = key("named tables", "Printers and how they stretch.", of=PrinterSpec, most=100)
    costs: CostsSpec | None = key("table", "What an hour of work costs, and the word for the money.", of=CostsSpec)
    limits: LimitsSpec | None = key("table", "The shop's own figures in place of the usual ones.", of=LimitsSpec)
    goods: tuple[ShopGoodsSpec, ...] = key(
        "named tables", "How goods are sold here, by name.", of=ShopGoodsSpec, most=500
    )
    prices: PricesSpec | None = key("table", "What goods cost here.", of=PricesSpec)


def find_shop_file(spec: str | Path) -> Path | None:
    """The shop's file beside a spec, else in the current folder; None when there is none."""
    for path in (Path(spec).parent / SHOP_FILE, Path(SHOP_FILE)):
        if path.exists() and path.absolute() != Path(spec).absolute():
            return path
    return None


def read_shop_file(path: str | Path) -> ShopFile:
    """The shop's file, with `problems` filled and what was wrong left out.

    Raises `SpecRejected`, as `read_spec` does, when it cannot be read at all.
    """
    text = decode_source(path, read_source(path, "shop file"))
    values, findings = check_keys(ShopFile, str(path), parse_source(path, text), locate_keys(text))
    goods, wrong = _draw_goods(values.pop("goods", ()), Path(path).parent)
    return ShopFile(**values, goods=goods, path=str(path), problems=(*findings.close(), *wrong))


def _draw_goods(goods: Iterable[ShopGoodsSpec], folder: Path) -> tuple[tuple[ShopGoodsSpec, ...], tuple[Problem, ...]]:
    """Goods with the hides that their drawings show, each file read once, and what is wrong with those."""
    drawn: dict[str, HideDrawing | None] = {}
    problems: list[Problem] = []
    for item in goods:
        if item.outline is None:
            continue
        file, place = item.outline.value, item.outline.place
        if what := _out_of_place(item):
            problems.append(make_error(place, what, "leave outline out, or what speaks against it"))
        if file in drawn:
            continue
        drawn[file] = None
        if len(drawn) > DRAWN_MOST:
            mend = f"keep those of {DRAWN_MOST} kinds of hides"
            problems.append(make_error(place, f"the goods name more than {DRAWN_MOST} drawings", mend))
            break
        try:
            drawn[file] = read_shop_hide(folder, file)
        except DrawingError as error:
            problems.append(make_error(place, error.what, error.mend))
    found = tuple(replace(item, drawn=drawn.get(item.outline.value)) if item.outline else item for item in goods)
    return found, tuple(problems)


def _out_of_place(item: ShopGoodsSpec) -> str:
    """Why a drawing tells nothing of these goods, "" where it does."""
    if item.measured:
        return "outline and measured both tell how the hide looks"
    if item.sold is not None and item.sold.value not in HIDES:
        return f"outline is said of hides, and these are sold as a {item.sold.value}"
    return ""


def replace_printer(path: str | Path, source: bytes, name: str, keys: Mapping[str, str]) -> bytes:
    """The file's bytes with one printer's keys written anew, or its table added at the end; the rest stays as it is.

    `source` is a file that can be read, or nothing. Raises `SpecRejected` where the file names its printers in a way
    that cannot be changed key by key, as in one line with braces.
    """
    text = decode_source(path, source)
    mark = "\ufeff" if source.startswith(b"\xef\xbb\xbf") else ""
    newline = "\r\n" if b"\r\n" in source else "\n"
    before = parse_source(path, text)
    printers = before.get("printers", {})
    written = source.decode("utf-8").removeprefix("\ufeff")
    if name in printers:
        after = _change_table(written, locate_keys(text), name, keys, newline)
    else:
        after = _add_table(written, name, keys, newline)
    wanted = {**before, "printers": {**printers, name: {**printers.get(name, {}), **keys}}}
    if not _says(after, wanted):
        place = _place_of(path, text)
        mend = f"give each printer a table of its own: [printers.{name}] with its keys below, one to a line"
        raise SpecRejected([make_error(place, "the printers stand here in a way that cannot be changed", mend)])
    return (mark + after).encode("utf-8")


def _place_of(path: str | Path, text: str) -> Place:
    here = locate_keys(text).get(("printers",))
    return here.place(path) if here else Place(path=str(path))


def _says(text: str, wanted: Mapping[str, Any]) -> bool:
    """Whether a changed text can be read and says what it should, in every other table too."""
    try:
        return parse_source("", text.replace("\r\n", "\n")) == wanted
    except SpecRejected:
        return False


def _add_table(text: str, name: str, keys: Mapping[str, str], newline: str) -> str:
    table = [f"[printers.{name}]", *(f"{word} = {_quote(value)}" for word, value in keys.items())]
    gap = newline if text and not text.endswith("\n") else ""
    blank = newline if text else ""
    return text + gap + blank + "".join(line + newline for line in table)


def _change_table(
    text: str, places: Mapping[KeyPath, Location], name: str, keys: Mapping[str, str], newline: str
) -> str:
    """Each key's value written anew in its line; a key that was not there comes below the header."""
    lines = text.split("\n")
    added = []
    for word, value in keys.items():
        here = places.get(("printers", name, word))
        if here is None:
            added.append(f"{word} = {_quote(value)}{newline}")
        else:
            found = re.match(KEY_LINE, lines[here.line - 1])
            if found:
                lines[here.line - 1] = f"{found[1]}{_quote(value)}{found.string[found.end() :]}"
    header = places[("printers", name)].line - 1
    lines[header + 1 : header + 1] = [line.removesuffix("\n") for line in added]
    return "\n".join(lines)


def _quote(value: str) -> str:
    return f"'{value}'" if '"' in value else f'"{value}"'
