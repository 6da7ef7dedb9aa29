"""Tracing a page back to the version it was made from."""

from pathlib import Path

from docgen.calls.asked import TraceCall
from docgen.classes import dataclass
from docgen.versions.traced.trace import Trace, save_spec, trace
from docgen.write import NotReadable


@dataclass(frozen=True, slots=True, kw_only=True)
class Traced:
    """What `trace_page` found, and the files it saved."""

    found: Trace
    saved: tuple[Path, ...]


def trace_page(asked: TraceCall) -> Traced:
    """Trace a code, a PDF or a picture, and save the spec it leads to into a new file when asked to.

    Raises NotOurs, NotReadable, ScanMissing, or WriteFailed.
    """
    folder = Path(asked.folder)
    found = trace(asked.what, folder)
    if not folder.is_dir():
        raise NotReadable(f"there is no folder {folder}")
    return Traced(found=found, saved=save_spec(found, Path(asked.save)) if asked.save else ())
