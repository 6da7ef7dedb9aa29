"""What is asked of each call: one record a call, with the words and options of the command line beside the fields.

A field is the choice of `build_documents` of the same name, and the `dest` of its option. Nothing else is loaded here, so
that help comes at once.
"""

from collections.abc import Mapping
from dataclasses import field, fields
from pathlib import Path
from typing import Any, TypeVar

from docgen.classes import dataclass
from docgen.problems import CallRejected, shorten, suggest_any

PATTERN_GROUP = "how the pattern is printed"


def argument(metavar: str, help: str, **how: Any) -> Any:
    """A field that is given by its place; `how` is what argparse takes."""
    given = {"metavar": metavar, "help": help, **how}
    return field(default=None, metadata=given) if how.get("nargs") == "?" else field(metadata=given)


def option(help: str, metavar: str = "", *, flag: str = "", default: Any = None, group: str = "", **how: Any) -> Any:
    """A field that is given by its name with `--`, or by `flag`; without a metavar it is a switch."""
    kind = {"metavar": metavar} if metavar else {"action": "store_true"}
    given = {"flag": flag, "group": group, "help": help, **kind, **how}
    return field(default=default if metavar or how else False, metadata=given)


def names(help: str, group: str = "", *, metavar: str = "NAME", flag: str = "") -> Any:
    """An option that takes any number of names, and may be said again."""
    return option(help, metavar, flag=flag, default=(), group=group, nargs="+", action="extend")


def _spec() -> Any:
    return argument("SPEC", "the spec, a TOML file")


def _layouts() -> Any:
    return option("the shop's own layout files (layouts beside the spec)", "DIR")


@dataclass(frozen=True, slots=True, kw_only=True)
class PatternCall:
    """How the pattern is printed, as written; None where that is left to the spec's [pattern] and the shop's file.

    The fields are the keys of [pattern]: `docgen.resolve.parse_printing` reads them.
    """

    paper: str | None = option('letter, a4, a0, ... "8.5x11 in" or "roll 36 in"', "NAME", group=PATTERN_GROUP)
    margin: str | None = option("left white on every side, 0 to 25.4 mm", "LENGTH", group=PATTERN_GROUP)
    overlap: str | None = option("how far sheets lie over each other, 3 to 40 mm", "LENGTH", group=PATTERN_GROUP)
    join: str | None = option("trim one sheet, or lay both untrimmed", "trim|overlap", group=PATTERN_GROUP)
    full_straps: bool | None = option("long straps whole, not as their two ends", group=PATTERN_GROUP, action="either")


@dataclass(frozen=True, slots=True, kw_only=True)
class MakeCall(PatternCall):
    """The documents of a spec: all, or those that `only` names, into `out/CODE-vVERSION` or the folder `out`.

    `units` ("in", "mm") and `makes` (1 to 1000) take the place of the spec's; `date` (YYYY-MM-DD) is printed on the
    pages, else SOURCE_DATE_EPOCH, else today. `mirror` turns every template over; `pieces` names those that are printed,
    and then only the pattern is written unless `only` says otherwise; `printer` is one of the shop's file, `shop` that
    file. `orders` is a CSV file of customers, with a care card for each. A spec with variants gives a packet for each of
    them, or for those of `variants`, in a folder of its own, and one cutting list for all; `csv` adds the lists as
    tables. `since` is an issued version: only the pages that changed since then are written, in one file. `layouts` is a
    folder of the shop's own layout files, else that of this name beside the spec.
    """

    spec: str | Path = _spec()
    out: str | Path | None = option("folder for the files (out/CODE-vVERSION)", "DIR")
    only: tuple[str, ...] = names("only the files of these names")
    units: str | None = option("which unit stands first; in place of the spec's", "in|mm")
    date: str | None = option("the day printed on the pages (today)", "YYYY-MM-DD")
    makes: int | None = option("size of the batch, 1 to 1000; in place of the spec's", "N", type=int)
    variants: tuple[str, ...] = names("only the variants of these names")
    layouts: str | Path | None = _layouts()
    csv: bool = option("the lists as tables for a spreadsheet as well")
    orders: str | Path | None = option("a CSV file of customers: a care card for each", "FILE")
    since: str | None = option("only the pages that changed since this issued version, with a cover", "VERSION")
    mirror: bool = option("turned over, for tracing on the flesh side", group=PATTERN_GROUP)
    pieces: tuple[str, ...] = names(
        "only these pieces and straps; then only the pattern is written, unless --only is given", PATTERN_GROUP
    )
    printer: str | None = option("corrected for this printer of the shop's file", "NAME", group=PATTERN_GROUP)
    shop: str | Path | None = option("the shop's own file (shop.toml)", "FILE", group=PATTERN_GROUP)


@dataclass(frozen=True, slots=True, kw_only=True)
class CutCall:
    """One cutting list over several specs and all their variants, into `out/cut` or the folder `out`; the other choices
    are those of `MakeCall`."""

    specs: tuple[str | Path, ...] = argument("SPEC", "the specs, TOML files", nargs="+")
    out: str | Path | None = option("folder for the files (out/cut)", "DIR")
    makes: int | None = option("how many of each, 1 to 1000; in place of what the specs say", "N", type=int)
    units: str | None = option("which unit stands first; in place of that of the first spec", "in|mm")
    date: str | None = option("the day printed on the pages (today)", "YYYY-MM-DD")
    paper: str | None = option("letter or a4; in place of what the first spec says", "NAME")
    csv: bool = option("the lists as tables for a spreadsheet as well")
    layouts: str | Path | None = _layouts()
    shop: str | Path | None = option("the shop's own file (shop.toml)", "FILE")


@dataclass(frozen=True, slots=True, kw_only=True)
class LayCall:
    """Where the templates of several specs lie on their goods, or on hides that are drawn, into `out/lay` or the folder
    `out`; `goods` names materials by name or title."""

    specs: tuple[str | Path, ...] = argument("SPEC", "the specs, TOML files", nargs="+")
    goods: tuple[str, ...] = names("only what is cut from these goods, by name or title")
    hides: tuple[str, ...] = names("lay on the hides drawn in these SVG files", metavar="FILE", flag="--hide")
    patient: bool = option("search for minutes in place of seconds: of a roll it may save a few per cent")
    out: str | Path | None = option("folder for the files (out/lay)", "DIR")
    makes: int | None = option("how many of each, 1 to 1000; in place of what the specs say", "N", type=int)
    units: str | None = option("which unit stands first; in place of that of the first spec", "in|mm")
    date: str | None = option("the day printed on the pages (today)", "YYYY-MM-DD")
    paper: str | None = option("letter or a4; in place of what the first spec says", "NAME")
    layouts: str | Path | None = _layouts()
    shop: str | Path | None = option("the shop's own file (shop.toml)", "FILE")


@dataclass(frozen=True, slots=True, kw_only=True)
class ScanCall:
    """A photo of one hide with a square of known size beside it, as a new drawing; `backbone` and `tail` are the sides of
    the picture that they lie to."""

    photo: str | Path = argument("PHOTO", "a photo of the hide and of a square beside it, PNG or JPEG")
    square: str | None = option('the side of the square, like "40 cm" or "16 in"', "LENGTH")
    backbone: str | None = option(
        "where it lies in the picture; the middle for a whole hide or a skin", "left|right|top|bottom|middle"
    )
    tail: str | None = option("where the tail lies (bottom, or left)", "bottom|top|left|right")
    to: str | Path | None = option("the drawing to be written (the photo's name with .svg, in this folder)", "FILE")


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckCall:
    """What is wrong with a spec, and with the shop's layouts; or, with `explain`, the rule of a check, by the figures of
    the spec, which may be left out then."""

    spec: str | Path | None = argument("SPEC", "the spec, a TOML file", nargs="?")
    layouts: str | Path | None = _layouts()
    json: bool = option("for another program: everything as JSON")
    explain: str | None = option("tell the rule of a check, and the figure in force", "CHECK")


@dataclass(frozen=True, slots=True, kw_only=True)
class LookCall:
    """A spec as one web page: shown in the browser of this machine and made anew whenever the spec is saved, or written
    into the file `to`. Of a spec with variants the first, or `variant`."""

    spec: str | Path = _spec()
    to: str | Path | None = option("write the page into a file, to keep or send, and end", "FILE")
    variant: str | None = option("show the variant of this name (the first)", "NAME")
    layouts: str | Path | None = _layouts()
    no_browser: bool = option("tell the address of the page, and open no browser")


@dataclass(frozen=True, slots=True, kw_only=True)
class ExportCall:
    """Every piece of a spec, or those that `pieces` names, as "svg" or "dxf"; `kerf` is a written length, 0 to 3 mm."""

    spec: str | Path = _spec()
    to: str = option("the kind of file", "svg|dxf", required=True)
    out: str | Path | None = option("folder for the files (out/CODE-vVERSION)", "DIR")
    layouts: str | Path | None = _layouts()
    kerf: str | None = option('what the beam takes away, like "0.2 mm" (0)', "LENGTH")
    pieces: tuple[str, ...] = names("only the pieces and straps of these names")


@dataclass(frozen=True, slots=True, kw_only=True)
class IssueCall:
    """A spec to be recorded as an issued version, on a day."""

    spec: str | Path = _spec()
    date: str | None = option("the day it is issued (today)", "YYYY-MM-DD")


@dataclass(frozen=True, slots=True, kw_only=True)
class CompareCall:
    """Two specs, version numbers or PDFs of ours."""

    before: str = argument("A", "a spec, the number of an issued version, or a PDF from docgen")
    after: str = argument("B", "another")


@dataclass(frozen=True, slots=True, kw_only=True)
class TraceCall:
    """A code, a PDF or a picture; the spec it leads to is saved into a new file when asked for."""

    what: str = argument("WHAT", "the text of a code, a PDF, a picture (PNG, JPEG), or the file of a part")
    folder: str | Path = option("where the specs are (here)", "FOLDER", flag="--in", default=".")
    save: str | Path | None = option("write the spec it was made from into a new file", "FILE")


@dataclass(frozen=True, slots=True, kw_only=True)
class SiteCall:
    """The web pages of all that is issued in a folder."""

    folder: str | Path = argument("DIR", "folder for the pages, to be put where the link leads")
    source: str | Path = option("where the specs are (here)", "FOLDER", flag="--from", default=".")
    pdfs: bool = option("the documents of every version as well")


@dataclass(frozen=True, slots=True, kw_only=True)
class PrinterCall:
    """What a printer's 100 mm square measured; without `across` and `down`, what is recorded."""

    name: str | None = argument("NAME", 'a name for it, like "office"', nargs="?")
    across: str | None = option("what the 100 mm square measured across", "LENGTH")
    down: str | None = option("what it measured down the sheet", "LENGTH")
    shop: str | Path | None = option("the shop's own file (shop.toml in this folder)", "FILE")


@dataclass(frozen=True, slots=True, kw_only=True)
class NewCall:
    """A spec under the name of a new build: a starter, or what a drawing shows."""

    code: str | None = argument("CODE", 'short name of the build, like "market-bag"', nargs="?")
    like: str | None = option("the starter: a bag, or one that --list shows (bag)", "WHAT")
    sizes: tuple[str, ...] = names(
        'measures of the starter in another size, like width="14 in"', metavar="NAME=LENGTH", flag="--set"
    )
    drawing: str | None = option("begin from a drawing of your own, an SVG file", "FILE", flag="--from")
    scale: str | None = option("what one of its units is, where it gives no real ones", "LENGTH")
    starters: bool = option("show the starters and the measures that each hangs on", flag="--list")
    out: str | None = option("file to write (CODE.toml in this folder)", "FILE")


@dataclass(frozen=True, slots=True, kw_only=True)
class KeysCall:
    """The keys of a spec, or how to write a part of it."""

    topic: str | None = argument("TOPIC", 'what to tell of, like "straps"', nargs="?")
    schema: bool = option("as a JSON Schema, for an editor")


@dataclass(frozen=True, slots=True, kw_only=True)
class LayoutsCall:
    """A folder that the layout files are copied into."""

    folder: str = argument("DIR", 'where to copy them, like "layouts" beside the spec')


Call = TypeVar("Call")


def choose(kind: type[Call], choices: Mapping[str, Any]) -> Call:
    """The record of a call. Raises CallRejected for a choice that it does not have."""
    known = [one.name for one in fields(kind)]  # type: ignore[arg-type]
    for name in choices:
        if name not in known:
            mend = suggest_any(name, known)
            raise CallRejected(f'there is no choice "{shorten(name)}"; {mend}')
    return kind(**choices)
