"""How a pattern is printed: what the call asks for, else the spec, else the shop's own file, else the default."""

from collections.abc import Sequence
from dataclasses import fields, replace
from pathlib import Path

from docgen.calls.asked import MakeCall, PatternCall
from docgen.calls.outside import settle_shop
from docgen.calls.printer import find_printer
from docgen.problems import CallRejected, refuse_unknown
from docgen.read import find_shop_file, read_shop_file
from docgen.resolve import Build, Choices, Printing, ShopSettings, check_join_overlap, choices_of, parse_printing
from docgen.written.units.numbers import WrittenError


def read_pattern(asked: PatternCall) -> Printing:
    """What a call says by the keys of [pattern]. Raises CallRejected for what cannot be meant."""
    said = {field.name: getattr(asked, field.name) for field in fields(PatternCall)}
    try:
        return parse_printing(**said)
    except WrittenError as error:
        raise CallRejected(str(error)) from error


def choose_printing(asked: MakeCall, said: Printing, build: Build, settings: ShopSettings) -> Choices:
    """How the pattern of a build is printed; `said` is what `read_pattern` read.

    Raises CallRejected for a piece or printer that is not there.
    """
    check_pieces(build, asked.pieces)
    printer = None if asked.printer is None else find_printer(settings, asked.printer)
    chosen = choose_plainly(build, settings, said)
    return replace(chosen, is_mirrored=asked.mirror, pieces=tuple(asked.pieces), printer=printer)


def choose_plainly(build: Build, settings: ShopSettings, said: Printing | None = None) -> Choices:
    """The paper and all else that `said`, the spec or the shop's file can say. Raises CallRejected when these cannot go
    together."""
    chosen = choices_of(said or Printing(), build.printing, settings.printing)
    if chosen.join == "overlap":
        try:
            check_join_overlap(chosen.overlap_mm)
        except WrittenError as error:
            raise CallRejected(str(error)) from error
    return chosen


def settings_for(spec: str | Path) -> ShopSettings:
    """What the shop's file found for a spec says. Raises SpecRejected when it is wrong."""
    found = find_shop_file(spec)
    return settle_shop(None if found is None else read_shop_file(found))


def check_pieces(build: Build, names: Sequence[str]) -> None:
    """Raises CallRejected for a name that is no piece and no strap."""
    refuse_unknown("piece", names, [piece.name for piece in build.cut])
