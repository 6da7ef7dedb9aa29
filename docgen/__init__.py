"""docgen: one build spec in; pattern, cutting list, build sheet and care card out."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from pathlib import Path

    from docgen.pipeline import Outcome

__version__ = "0.1.0"
__all__ = ["__version__", "build_documents"]


def build_documents(path: str | Path, folder: str | Path | None = None, **choices: Any) -> Outcome:
    """Write the documents of a spec; everything as `docgen.pipeline.build_documents` says.

    It stands here so that `import docgen` alone loads nothing heavy.
    """
    from docgen import pipeline

    return pipeline.build_documents(path, folder, **choices)
