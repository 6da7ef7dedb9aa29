"""The commands and their options, with what help says of each; nothing else is loaded for that."""

from __future__ import annotations

import argparse
from collections.abc import Callable
from typing import Final, NoReturn

from docgen import __version__

CALL_WRONG: Final = 2

ABOUT: Final = """\
One build spec in; pattern, cutting list, build sheet and care card out, as PDF.

  docgen new field-bag          begin a spec from a starter
  docgen check field-bag.toml   all that is wrong with it, at once
  docgen make field-bag.toml    write the documents
  docgen export field-bag.toml --to svg    write the pieces for a laser or a die maker
"""
ABOUT_MAKE: Final = """\
Write the documents of a spec into a folder: all of them, or none when something is wrong.
They are named pattern, cutting-list, build-sheet and care-card; packet is all of them in one file.

  docgen make field-bag.toml
  docgen make field-bag.toml --only pattern care-card --paper a4
  docgen make field-bag.toml --pieces back strap --mirror --printer office

What is not asked for here comes from the spec's [pattern], else from the shop's own file: shop.toml
beside the spec, or in this folder.
"""
ABOUT_CHECK: Final = """\
Read a spec and tell all that is wrong with it, with line and mend. Writes nothing.

  docgen check field-bag.toml
"""
ABOUT_EXPORT: Final = """\
Write every piece, straps included, as a vector file in mm: one file for each, with the layers
words, marks, stitch, holes and cut. With a kerf, cut lines lie half of it outside the piece, and
holes are smaller by it.

  docgen export field-bag.toml --to dxf
  docgen export field-bag.toml --to svg --kerf "0.2 mm" --pieces back front
"""
ABOUT_NEW: Final = """\
Write a new spec, with every line explained, to change into your own.

  docgen new market-bag --like bag
"""
ABOUT_PRINTER: Final = """\
Record what the 100 mm square on page 1 of a pattern measured from a printer, so that a pattern can
be corrected for it. Print that page without --printer, at 100 %, and measure with a steel rule.
Without --across and --down it tells what is recorded.

  docgen printer office --across "99.2 mm" --down "100.5 mm"
  docgen make field-bag.toml --printer office
"""
ABOUT_LAYOUTS: Final = """\
Copy every layout file into a folder, to change words, type sizes, margins and the order of blocks.
Words are lines in quotes; a {name} in braces is put in by the program and stays where it is.
A folder "layouts" beside a spec is used by itself, file by file; what it lacks is taken as shipped.
No file that is there already is overwritten.

  docgen layouts layouts
  docgen make field-bag.toml --layouts my-layouts
"""
ABOUT_KEYS: Final = """\
List every key that a spec can have, with what it means.

  docgen keys
  docgen keys --schema > spec-schema.json    for an editor that completes while you type
"""
ABOUT_ISSUE: Final = """\
Record a spec, and every drawing it names, as an issued version: exact copies in the folder "issued"
beside the spec. Pages say DRAFT until their version is issued. An issued version never changes.

  docgen issue field-bag.toml
"""
ABOUT_COMPARE: Final = """\
Tell what changed from A to B in pieces, seams, holes and steps; which templates must be cut again,
and which pages printed again. Each is a spec, the number of an issued version, or a PDF of ours.

  docgen compare 2 field-bag.toml
  docgen compare old/packet.pdf field-bag.toml
"""
ABOUT_TRACE: Final = """\
Tell which version a page was made from, whether it is the current one, and what changed since.
Pictures need the extra packages of docgen[scan].

  docgen trace SPEC:FIELD-BAG/3/3E55705F65/PATTERN/4
  docgen trace photo.jpg --in specs --save old-bag.toml
"""
ABOUT_SITE: Final = """\
Write small web pages, one for every page that was printed of an issued version, to where its code
leads when the spec names a [shop] link: what it is, whether it is current, and what changed. Put the
folder on any plain web server. Prices, times and notes on what is bought are never in it.

  docgen site public --from specs
  docgen site public --from specs --pdfs
"""


class Parser(argparse.ArgumentParser):
    """Tells a wrong call in two lines, without the whole usage."""

    def error(self, message: str) -> NoReturn:
        self.exit(CALL_WRONG, f"{self.prog}: {message}\nhelp: {self.prog} --help\n")


def make_parser() -> Parser:
    """All commands with their options."""
    parser = Parser(prog="docgen", description=ABOUT, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--version", action="version", version=f"docgen {__version__}")
    commands = parser.add_subparsers(dest="command", metavar="COMMAND", required=True)

    def add(name: str, words: str, about: str) -> argparse.ArgumentParser:
        shape = argparse.RawDescriptionHelpFormatter
        return commands.add_parser(name, help=words, description=about, formatter_class=shape)

    _add_make(add("make", "write the documents of a spec", ABOUT_MAKE))
    check = add("check", "tell what is wrong with a spec", ABOUT_CHECK)
    check.add_argument("spec", metavar="SPEC", help="the spec, a TOML file")
    _add_layouts(check)
    check.add_argument("--json", action="store_true", help="for another program: everything as JSON")
    _add_export(add("export", "write the pieces for a laser or a die maker", ABOUT_EXPORT))
    new = add("new", "begin a spec from a starter", ABOUT_NEW)
    new.add_argument("code", metavar="CODE", help='short name of the build, like "market-bag"')
    new.add_argument("--like", metavar="WHAT", default="bag", help="bag (the default), strap or sleeve")
    new.add_argument("--out", metavar="FILE", help="file to write (CODE.toml in this folder)")
    keys = add("keys", "list every key of a spec", ABOUT_KEYS)
    keys.add_argument("--schema", action="store_true", help="as a JSON Schema, for an editor")
    _add_printer(add("printer", "record how a printer stretches", ABOUT_PRINTER))
    _add_versions(add)
    layouts = add("layouts", "copy the layout files, to change the words and looks of the pages", ABOUT_LAYOUTS)
    layouts.add_argument("folder", metavar="DIR", help='where to copy them, like "layouts" beside the spec')
    return parser


def _add_versions(add: Callable[[str, str, str], argparse.ArgumentParser]) -> None:
    issue = add("issue", "record a spec as an issued version", ABOUT_ISSUE)
    issue.add_argument("spec", metavar="SPEC", help="the spec, a TOML file")
    issue.add_argument("--date", metavar="YYYY-MM-DD", help="the day it is issued (today)")
    compare = add("compare", "tell what changed, and what to cut and print again", ABOUT_COMPARE)
    compare.add_argument("before", metavar="A", help="a spec, a version number, or a PDF of ours")
    compare.add_argument("after", metavar="B", help="another")
    trace = add("trace", "tell which version a page was made from", ABOUT_TRACE)
    trace.add_argument("what", metavar="WHAT", help="the text of a code, a PDF, or a picture (PNG, JPEG)")
    trace.add_argument("--in", dest="folder", metavar="FOLDER", default=".", help="where the specs are (here)")
    trace.add_argument("--save", metavar="FILE", help="write the spec it was made from into a new file")
    site = add("site", "write the web pages that the codes lead to", ABOUT_SITE)
    site.add_argument("folder", metavar="DIR", help="folder for the pages, to be put where the link leads")
    site.add_argument("--from", dest="source", metavar="FOLDER", default=".", help="where the specs are (here)")
    site.add_argument("--pdfs", action="store_true", help="the documents of every version as well")


def _add_make(make: argparse.ArgumentParser) -> None:
    make.add_argument("spec", metavar="SPEC", help="the spec, a TOML file")
    make.add_argument("--out", metavar="DIR", help="folder for the files (out/CODE-vVERSION)")
    make.add_argument(
        "--only", metavar="NAME", nargs="+", action="extend", default=[], help="only the files of these names"
    )
    make.add_argument("--units", metavar="in|mm", help="which unit stands first; in place of the spec's")
    make.add_argument("--date", metavar="YYYY-MM-DD", help="the day printed on the pages (today)")
    make.add_argument("--makes", metavar="N", type=int, help="size of the batch, 1 to 1000; in place of the spec's")
    make.add_argument(
        "--variants", metavar="NAME", nargs="+", action="extend", default=[], help="only the variants of these names"
    )
    _add_layouts(make)
    make.add_argument("--csv", action="store_true", help="the lists as tables for a spreadsheet as well")
    make.add_argument("--orders", metavar="FILE", help="a CSV file of customers: a care card for each")
    make.add_argument(
        "--since", metavar="VERSION", help="only the pages that changed since this issued version, with a cover"
    )
    _add_printing(make.add_argument_group("how the pattern is printed"))


def _add_layouts(command: argparse.ArgumentParser) -> None:
    command.add_argument("--layouts", metavar="DIR", help="the shop's own layout files (layouts beside the spec)")


def _add_printing(make: argparse._ArgumentGroup) -> None:
    make.add_argument("--paper", metavar="NAME", help='letter, a4, a0, ... "8.5x11 in" or "roll 36 in"')
    make.add_argument("--margin", metavar="LENGTH", help="left white on every side, 0 to 25.4 mm")
    make.add_argument("--overlap", metavar="LENGTH", help="how far sheets lie over each other, 3 to 40 mm")
    make.add_argument("--join", metavar="trim|overlap", help="trim one sheet, or lay both untrimmed")
    make.add_argument(
        "--full-straps",
        action=argparse.BooleanOptionalAction,
        default=None,
        help="long straps whole, not as their two ends",
    )
    make.add_argument("--mirror", action="store_true", help="turned over, for tracing on the flesh side")
    make.add_argument(
        "--pieces",
        metavar="NAME",
        nargs="+",
        action="extend",
        default=[],
        help="only these pieces and straps; then only the pattern is written, unless --only is given",
    )
    make.add_argument("--printer", metavar="NAME", help="corrected for this printer of the shop's file")
    make.add_argument("--shop", metavar="FILE", help="the shop's own file (shop.toml)")


def _add_printer(printer: argparse.ArgumentParser) -> None:
    printer.add_argument("name", metavar="NAME", nargs="?", help='a name for it, like "office"')
    printer.add_argument("--across", metavar="LENGTH", help="what the 100 mm square measured across")
    printer.add_argument("--down", metavar="LENGTH", help="what it measured down the sheet")
    printer.add_argument("--shop", metavar="FILE", help="the shop's own file (shop.toml in this folder)")


def _add_export(export: argparse.ArgumentParser) -> None:
    export.add_argument("spec", metavar="SPEC", help="the spec, a TOML file")
    export.add_argument("--to", metavar="svg|dxf", required=True, help="the kind of file")
    export.add_argument("--out", metavar="DIR", help="folder for the files (out/CODE-vVERSION)")
    _add_layouts(export)
    export.add_argument("--kerf", metavar="LENGTH", help='what the beam takes away, like "0.2 mm" (0)')
    export.add_argument(
        "--pieces",
        metavar="NAME",
        nargs="+",
        action="extend",
        default=[],
        help="only the pieces and straps of these names",
    )
