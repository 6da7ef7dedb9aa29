"""Tracing a page back to the version it was made from."""

from pathlib import Path

from docgen.calls.asked import TraceCall
from docgen.versions.traced.trace import Trace, save_spec, trace
from docgen.write import NotReadable


def trace_page(asked: TraceCall) -> tuple[Trace, tuple[Path, ...]]:
    """What a code, a PDF or a picture leads to; and the new files, when the spec is to be saved.

    Raises NotOurs, NotReadable, ScanMissing, or WriteFailed.
    """
    folder = Path(asked.folder)
    found = trace(asked.what, folder)
    if not folder.is_dir():
        raise NotReadable(f"there is no folder {folder}")
    return found, save_spec(found, Path(asked.save)) if asked.save else ()
