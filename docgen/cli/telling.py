"""Telling: what is printed, for a person or a program, and with which exit code a run ends. Only this package prints.

Exit codes: 0 done, 1 the spec is wrong, 2 the call is wrong, 3 could not write, 4 to 6 a traced page that is not current,
not to be cut by, or of which nothing can be said; 70 a fault of docgen itself, 130 stopped from the keyboard, 141 nobody
reads what is printed.
"""

from __future__ import annotations

import contextlib
import os
import re
import sys

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Callable

DONE = 0
SPEC_WRONG = 1
CALL_WRONG = 2
NOT_WRITTEN = 3
NOT_CURRENT = 4
DO_NOT_CUT = 5
CANNOT_BE_SAID = 6
OWN_FAULT = 70
STOPPED = 130
UNHEARD = 141

STEERING = re.compile(r"[\x00-\x08\x0b-\x1f\x7f-\x9f\u200e\u200f\u202a-\u202e\u2066-\u2069]")
"""Control characters but line end and tab, and those that turn the direction of writing."""

QUIET_S = 1.0
"""A run shorter than this says nothing while it works."""


class UnheardError(Exception):
    """What was to be printed could not be; `why` says why."""

    def __init__(self, why: str) -> None:
        self.why = why
        super().__init__(why)


def say(words: str, end: str = "\n") -> None:
    """Print for a person or a program; nothing where there is no output at all. Raises UnheardError."""
    try:
        print(show_lines(words), end=end)
    except BrokenPipeError:
        raise
    except OSError as error:
        raise _unheard(error) from error


def show_lines(words: str) -> str:
    """Words with a question mark for every letter that would steer the terminal, whoever wrote it."""
    return STEERING.sub("?", words)


def flush() -> None:
    """Be sure that all is printed. Raises UnheardError."""
    if sys.stdout is None:
        return
    try:
        sys.stdout.flush()
    except BrokenPipeError:
        raise
    except OSError as error:
        raise _unheard(error) from error


def _unheard(error: OSError) -> UnheardError:
    from docgen.write import explain

    return UnheardError(explain(error))


def drop_output() -> None:
    """What is left in the buffer would fail again when Python ends."""
    if sys.stdout is not None:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def tell(words: str) -> None:
    """Tell what went wrong, or how far it is, where anyone can be told."""
    if sys.stderr is not None:
        with contextlib.suppress(OSError):
            print(show_lines(words), file=sys.stderr, flush=True)


def print_any_letter() -> None:
    """A letter that the terminal cannot show becomes a question mark."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")


def print_json(value: object) -> None:
    """Print a value as JSON."""
    import json

    say(json.dumps(value, indent=2))


def tell_call(words: str) -> int:
    """Tell what is wrong with a call; returns the exit code."""
    tell(f"docgen: {words}")
    return CALL_WRONG


def make_progress() -> Callable[[str], None]:
    """Tells each step that begins once a run has become long."""
    import time

    began = time.monotonic()

    def tell_step(words: str) -> None:
        if time.monotonic() - began >= QUIET_S:
            tell(f"{words} ...")

    return tell_step
