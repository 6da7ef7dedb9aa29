"""Where the layouts are, and which languages the care card speaks."""

from __future__ import annotations

from functools import cache
from pathlib import Path

LANGUAGES_FOLDER = "care"


def layouts_folder() -> Path:
    """Where the layouts are: inside the installed package, else beside it."""
    package = Path(__file__).parent
    inside = package / "layouts"
    return inside if inside.is_dir() else package.parent / "layouts"


@cache
def list_languages() -> tuple[str, ...]:
    """Languages of the care card, one for each file in layouts/care, by its name."""
    return tuple(sorted(path.stem for path in (layouts_folder() / LANGUAGES_FOLDER).glob("*.toml")))
