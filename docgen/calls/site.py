"""Writing the web pages of all that is issued."""

from collections.abc import Callable
from functools import cache
from pathlib import Path

from docgen.calls.asked import SiteCall
from docgen.calls.printing import choose_plainly, settings_for
from docgen.versions.site.site import SiteOutcome, write_site


def publish_site(asked: SiteCall, progress: Callable[[str], None] | None = None) -> SiteOutcome:
    """Write the pages of every build that names a link; raises as `write_site` does."""
    settings = cache(settings_for)
    return write_site(
        Path(asked.folder),
        Path(asked.source),
        choose=lambda build, spec: choose_plainly(build, settings(spec)),
        has_pdfs=asked.pdfs,
        progress=progress,
    )
