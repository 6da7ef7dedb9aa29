"""The words of a call as the record of what it asks."""

from __future__ import annotations

import argparse
from dataclasses import fields
from typing import TYPE_CHECKING, Any, NoReturn

from docgen.cli.telling import CALL_WRONG

if TYPE_CHECKING:
    from types import ModuleType


class Parser(argparse.ArgumentParser):
    """Tells a wrong call in two lines, without the whole usage."""

    def error(self, message: str) -> NoReturn:
        self.exit(CALL_WRONG, f"{self.prog}: {message}\nhelp: {self.prog} --help\n")


class _Narrow(argparse.RawDescriptionHelpFormatter):
    """Does not ask how wide the terminal is: nothing is written with it."""

    def __init__(self, prog: str) -> None:
        super().__init__(prog, width=80)


def read_call(name: str, command: ModuleType, words: list[str]) -> Any:
    """The record of a call of a command, by the ABOUT and the record ASKED of its module. Leaves by SystemExit for help
    and for a wrong call."""
    asks_help = any(word.startswith(("-h", "--h")) for word in words)
    shape = argparse.RawDescriptionHelpFormatter if asks_help else _Narrow
    parser = Parser(prog=f"docgen {name}", description=command.ABOUT, formatter_class=shape)
    _add_fields(parser, command.ASKED)
    given = vars(parser.parse_args(words))
    return command.ASKED(**{key: tuple(value) if isinstance(value, list) else value for key, value in given.items()})


def _add_fields(parser: argparse.ArgumentParser, record: type) -> None:
    """An argument or an option for every field of a record, as its metadata says (`docgen.calls.asked`)."""
    groups: dict[str, argparse._ActionsContainer] = {"": parser}
    for field in fields(record):
        how = dict(field.metadata)
        flag, group = how.pop("flag", None), how.pop("group", "")
        if group not in groups:
            groups[group] = parser.add_argument_group(group)
        if how.get("action") == "either":
            how["action"] = argparse.BooleanOptionalAction
        if flag is None:
            groups[group].add_argument(field.name, **how)
            continue
        default = list(field.default) if isinstance(field.default, tuple) else field.default
        names = flag or "--" + field.name.replace("_", "-")
        groups[group].add_argument(names, dest=field.name, default=default, **how)
