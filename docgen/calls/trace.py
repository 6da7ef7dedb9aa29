"""Tracing a page back to the version it was made from, and a part to the builds that bring it in."""

from pathlib import Path

from docgen.calls.asked import TraceCall
from docgen.versions.traced.trace import Trace, save_spec, trace
from docgen.versions.traced.uses import describe_uses, is_part_file, list_uses
from docgen.write import NotReadable


def trace_part(asked: TraceCall) -> str | None:
    """The builds that bring in a shop's own part, in words; None where what is asked for is no part's file.

    Raises NotReadable where the folder of the specs is not there.
    """
    if not is_part_file(asked.what):
        return None
    folder = Path(asked.folder)
    if not folder.is_dir():
        raise NotReadable(f"there is no folder {folder}")
    return describe_uses(asked.what, list_uses(Path(asked.what), folder), folder)


def trace_page(asked: TraceCall) -> tuple[Trace, tuple[Path, ...]]:
    """What a code, a PDF or a picture leads to; and the new files, when the spec is to be saved.

    Raises NotOurs, NotReadable, ScanMissing, or WriteFailed.
    """
    folder = Path(asked.folder)
    found = trace(asked.what, folder)
    if not folder.is_dir():
        raise NotReadable(f"there is no folder {folder}")
    return found, save_spec(found, Path(asked.save)) if asked.save else ()
