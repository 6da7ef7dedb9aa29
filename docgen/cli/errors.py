"""What stopped a run, in words for a person, with its exit code. Loaded only when something did."""

import os
import traceback

from docgen.cli.telling import NOT_WRITTEN, OWN_FAULT, SPEC_WRONG, tell, tell_call
from docgen.problems import CallRejected, SpecRejected, render_problems, shorten


def tell_error(error: Exception) -> int:
    """What stopped the run, for a person; returns the exit code."""
    if isinstance(error, SpecRejected):
        tell(render_problems(error.problems))
        return SPEC_WRONG
    try:
        from docgen.versions.compared.words import describe_refusal
        from docgen.versions.kept.codes import NotOurs
        from docgen.versions.kept.register import VersionRefused
        from docgen.versions.traced.scan import ScanMissing
        from docgen.write import NotReadable, WriteFailed
    except ImportError:
        return tell_own_fault(error)
    if isinstance(error, VersionRefused):
        tell(describe_refusal(error))
        return SPEC_WRONG
    if isinstance(error, CallRejected | NotOurs | NotReadable | ScanMissing):
        return tell_call(str(error))
    if isinstance(error, WriteFailed):
        tell(str(error) if error.left else f"{error}\nthe folder holds what it held before")
        return NOT_WRITTEN
    return tell_own_fault(error)


def tell_own_fault(error: Exception) -> int:
    """A fault of the program, never of the spec: its kind and where, the whole trace only when asked for."""
    if os.environ.get("DOCGEN_DEBUG"):
        traceback.print_exception(error)
    frames = traceback.extract_tb(error.__traceback__)
    where = f" ({os.path.basename(frames[-1].filename)}, line {frames[-1].lineno})" if frames else ""
    tell(
        f"this is a fault of docgen, not of your spec: {type(error).__name__}: {shorten(str(error))}{where}\n"
        "nothing is lost; set DOCGEN_DEBUG=1 to see the whole trace"
    )
    return OWN_FAULT
