"""Starter specs: whole, commented builds to change into one's own. Only the command line uses them."""

from __future__ import annotations

from importlib.resources import files
from typing import Final

STARTERS: Final = {
    "bag": "a lined panel bag with a gusset and a shoulder strap",
    "strap": "a belt with a turned buckle end and a keeper",
    "sleeve": "a flat sleeve sewn by hand",
}
"""Name -> what it is, in words."""

MARKER: Final = "your-code"
"""Stands in a starter wherever the code of the new build goes."""


def fill_starter(like: str, code: str) -> str:
    """The text of a starter with the code of the new build in it; KeyError for a name not in STARTERS."""
    if like not in STARTERS:
        raise KeyError(like)
    text = files(__name__).joinpath(f"{like}.toml").read_text(encoding="utf-8")
    return text.replace(MARKER, code)
