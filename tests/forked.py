"""A command in a process that parted from this one: a run of its own that need not load the program anew."""

import os
import signal
import sys
from subprocess import CompletedProcess
from tempfile import TemporaryFile

from docgen.cli import main

LONGEST_S = 30


def run_forked(*arguments: str, most_bytes: int) -> CompletedProcess[str]:
    """Exit code and what was printed; stopped by a signal when it takes too long, out of memory beyond `most_bytes`."""
    with TemporaryFile("w+") as said, TemporaryFile("w+") as wrong:
        child = os.fork()
        if not child:
            code = 99
            try:
                code = _run_limited(arguments, most_bytes, (said.fileno(), wrong.fileno()))
            finally:
                os._exit(code)
        status = os.waitpid(child, 0)[1]
        told = [file.read() for file in (said, wrong) if not file.seek(0)]
    return CompletedProcess(arguments, os.waitstatus_to_exitcode(status), *told)


def _run_limited(arguments: tuple[str, ...], most_bytes: int, handles: tuple[int, int]) -> int:
    import resource

    resource.setrlimit(resource.RLIMIT_AS, (most_bytes, most_bytes))
    signal.alarm(LONGEST_S)
    for place, handle in enumerate(handles, start=1):
        os.dup2(handle, place)
    with os.fdopen(1, "w", closefd=False) as sys.stdout, os.fdopen(2, "w", closefd=False) as sys.stderr:
        try:
            return main(list(arguments))
        except SystemExit as error:
            return int(error.code or 0)
