"""The commands by name, and help about them; nothing else is loaded for that, argparse neither."""

from __future__ import annotations

import sys

from docgen.cli.telling import CALL_WRONG, DONE, say, tell
from docgen.version import __version__

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import NoReturn

COMMANDS = {
    "make": "write the documents of a spec",
    "cut": "write one cutting list for several specs",
    "lay": "show where the templates lie on hides or other goods",
    "scan": "draw a hide from a photo of it, to lay on",
    "check": "tell what is wrong with a spec",
    "look": "show a spec in the browser while it is written",
    "export": "write the pieces for a laser or a die maker",
    "new": "begin a spec from a starter",
    "keys": "tell how to write a spec, key by key or by topic",
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


def find_command(words: list[str]) -> str:
    """The command asked for. Leaves by SystemExit for help, for the version, and for a word that is no command."""
    first = words[0] if words else ""
    if first in ("-h", "--help"):
        say(_help_words())
        sys.exit(DONE)
    if first == "--version":
        say(f"docgen {__version__}")
        sys.exit(DONE)
    if first not in COMMANDS:
        _leave(_guess_command(first))
    return first


def _help_words() -> str:
    listed = "\n".join(f"  {name:<9}{does}" for name, does in COMMANDS.items())
    return f"""\
usage: docgen COMMAND ...

{ABOUT}
commands:
{listed}

options:
  -h, --help  this help; docgen COMMAND --help tells of one command
  --version   the version of docgen"""


def _guess_command(word: str) -> str:
    if not word:
        *most, last = COMMANDS
        return f"say what to do: {', '.join(most)} or {last}"
    from docgen.problems import shorten, suggest_any

    if word.endswith(".toml"):
        return f'say what to do with the spec, like "docgen make {shorten(word)}"'
    if word.startswith("-"):
        return f'there is no option "{shorten(word)}" before a command'
    mend = suggest_any(word, COMMANDS)
    return f'there is no command "{shorten(word)}"; {mend}'


def _leave(words: str) -> NoReturn:
    tell(f"docgen: {words}\nhelp: docgen --help")
    sys.exit(CALL_WRONG)
