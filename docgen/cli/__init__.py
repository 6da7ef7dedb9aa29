"""The command line: arguments in, exit codes out; a module a command. The only package that prints.

What a command needs is loaded when it runs, so that help comes at once; that is also why the modules on the way to it
do without `typing`.
"""

from __future__ import annotations

import sys
import warnings
from importlib import import_module

from docgen.cli import stopping
from docgen.cli.telling import NOT_WRITTEN, STOPPED, UNHEARD, UnheardError, drop_output, flush, print_any_letter, tell

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Sequence


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; returns its exit code. `--help`, `--version` and wrong calls leave by SystemExit."""
    print_any_letter()
    warnings.showwarning = _tell_warning
    try:
        return _run_and_flush(list(sys.argv[1:] if arguments is None else arguments))
    except KeyboardInterrupt:
        tell("stopped")
        return STOPPED
    except BrokenPipeError:
        drop_output()
        return UNHEARD
    except UnheardError as error:
        drop_output()
        tell(f"cannot print what was done: {error.why}")
        return NOT_WRITTEN
    except Exception as error:
        if stopping.is_stop(error):
            tell("stopped")
            return STOPPED
        from docgen.cli.errors import tell_error

        return tell_error(error)


def _tell_warning(message: Warning | str, *_: object, **__: object) -> None:
    """What a run has to tell that does not stop it."""
    tell(str(message))


def _run_and_flush(words: list[str]) -> int:
    try:
        code = _run(words)
    except SystemExit:
        flush()
        raise
    flush()
    return code


def _run(words: list[str]) -> int:
    from docgen.cli.commands import find_command

    name = find_command(words)
    command = import_module(f"docgen.cli.{name}")
    from docgen.cli.arguments import read_call

    code: int = command.run(read_call(name, command, words[1:]))
    return code
