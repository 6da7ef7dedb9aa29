"""The commands, and the words of a call as the record of what it asks; only the command asked for has its options made."""

from __future__ import annotations

import argparse

from docgen.cli.telling import CALL_WRONG
from docgen.version import __version__

TYPE_CHECKING = False
if TYPE_CHECKING:
    from types import ModuleType
    from typing import Any, NoReturn

COMMANDS = {
    "make": "write the documents of a spec",
    "check": "tell what is wrong with a spec",
    "export": "write the pieces for a laser or a die maker",
    "new": "begin a spec from a starter",
    "keys": "list every key of a spec",
    "printer": "record how a printer stretches",
    "issue": "record a spec as an issued version",
    "compare": "tell what changed, and what to cut and print again",
    "trace": "tell which version a page was made from",
    "site": "write the web pages that the codes lead to",
    "layouts": "copy the layout files, to change the words and looks of the pages",
}
"""Name -> what it does, for a list of them; each is a module of this package."""

ABOUT = """\
One build spec in; pattern, cutting list, build sheet and care card out, as PDF.

  docgen new field-bag          begin a spec from a starter
  docgen check field-bag.toml   all that is wrong with it, at once
  docgen make field-bag.toml    write the documents
  docgen export field-bag.toml --to svg    write the pieces for a laser or a die maker
"""


class Parser(argparse.ArgumentParser):
    """Tells a wrong call in two lines, without the whole usage."""

    def error(self, message: str) -> NoReturn:
        self.exit(CALL_WRONG, f"{self.prog}: {message}\nhelp: {self.prog} --help\n")


def find_command(words: list[str]) -> str:
    """The command asked for, "" where only help or the version is. Leaves by SystemExit for a word that is none."""
    if not words:
        *most, last = COMMANDS
        _make_parser().error(f"say what to do: {', '.join(most)} or {last}")
    if not words[0].startswith("-") and words[0] not in COMMANDS:
        _make_parser().error(_guess_command(words[0]))
    return next((word for word in words if word in COMMANDS), "")


def _guess_command(word: str) -> str:
    from docgen.problems import shorten, suggest

    if word.endswith(".toml"):
        return f'say what to do with the spec, like "docgen make {shorten(word)}"'
    mend = suggest(word, COMMANDS) or f"there are {', '.join(COMMANDS)}"
    return f'there is no command "{shorten(word)}"; {mend}'


def read_call(words: list[str], name: str, command: ModuleType | None) -> Any:
    """The record of a call; `command` is the module of the command of this name, with its ABOUT and its record ASKED.
    Leaves by SystemExit for help and for a wrong call."""
    parser = _make_parser()
    commands = parser.add_subparsers(dest="command", metavar="COMMAND", required=True)
    for each, does in COMMANDS.items():
        about = command.ABOUT if command is not None and each == name else None
        one = commands.add_parser(
            each, help=does, description=about, formatter_class=argparse.RawDescriptionHelpFormatter
        )
        if command is not None and each == name:
            _add_fields(one, command.ASKED)
    given = vars(parser.parse_args(words))
    del given["command"]
    assert command is not None
    return command.ASKED(**{key: tuple(value) if isinstance(value, list) else value for key, value in given.items()})


def _make_parser() -> Parser:
    parser = Parser(prog="docgen", description=ABOUT, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--version", action="version", version=f"docgen {__version__}")
    return parser


def _add_fields(parser: argparse.ArgumentParser, record: type) -> None:
    """An argument or an option for every field of a record, as its metadata says (`docgen.calls.asked`)."""
    from dataclasses import fields

    groups: dict[str, argparse._ArgumentGroup] = {}
    for field in fields(record):
        how = dict(field.metadata)
        flag, group = how.pop("flag", None), how.pop("group", "")
        if how.get("action") == "either":
            how["action"] = argparse.BooleanOptionalAction
        place: argparse._ActionsContainer = parser
        if group:
            place = groups.setdefault(group, groups.get(group) or parser.add_argument_group(group))
        if flag is None:
            place.add_argument(field.name, **how)
        else:
            flag = flag or "--" + field.name.replace("_", "-")
            default = list(field.default) if isinstance(field.default, tuple) else field.default
            place.add_argument(flag, dest=field.name, default=default, **how)
