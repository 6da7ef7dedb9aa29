"""docgen: one build spec in; pattern, cutting list, build sheet and care card out."""

from __future__ import annotations

from docgen.version import __version__

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path
    from typing import Any

    from docgen.calls.make import Outcome

__all__ = ["__version__", "build_documents"]


def build_documents(
    path: str | Path,
    folder: str | Path | None = None,
    *,
    progress: Callable[[str], None] | None = None,
    cores: int = 1,
    **choices: Any,
) -> Outcome:
    """Write the documents of a spec into a folder; the choices are the fields of `docgen.calls.asked.MakeCall`.

    `progress` is told each step in words; variants are made on so many `cores`. Raises SpecRejected, CallRejected (also
    for a choice that does not exist), VersionRefused, or WriteFailed; then nothing was written. What it needs is loaded
    when it is called, so that `import docgen` alone loads nothing heavy.
    """
    from docgen.calls.asked import MakeCall, choose
    from docgen.calls.make import make_documents

    return make_documents(choose(MakeCall, {"spec": path, "out": folder, **choices}), progress, cores)
