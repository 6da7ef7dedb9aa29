"""Ready parts: files of parts as a maker could write them, that ask for a few numbers. A file of the same name in the
folder `ready` beside the spec stands in place of one; so an issued version keeps the very words it was made of."""

import re
from pathlib import Path
from typing import Final

from docgen.read.kinds import NAME_PATTERN

READY: Final = {
    "card-pockets": "stacked card pockets on a panel, each sewn at its foot",
    "spine": "a spine over two panels, folded along both",
    "welt": "a welt folded round a cord, sewn in along a run",
    "bellows-pocket": "a pocket with a bellows gusset, sewn on to a panel",
    "zip-gusset": "a gusset that closes on itself, a zip in its strip",
    "round-handle": "a handle sewn round a core of cord, its ends sewn on",
    "keepers": "keepers for a strap",
}
"""Name -> what it is, in words."""


def is_ready_name(use: str) -> bool:
    """Whether a part is named like a ready one, and not as a file."""
    return re.fullmatch(NAME_PATTERN, use) is not None


def ready_file(name: str) -> str:
    """Under which name a ready part is kept beside the spec that brings it in."""
    return f"ready/{name}.toml"


def read_ready(name: str) -> bytes:
    """The file of a ready part as it comes with the program; KeyError for one that is not there."""
    if name not in READY:
        raise KeyError(name)
    return Path(__file__).with_name(f"{name}.toml").read_bytes()
