"""The bytes of any TOML file -> its values and the place of each, for files that are no specs."""

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from docgen.problems import Place
from docgen.read.locate import KeyPath, locate_keys
from docgen.read.source import decode_source, parse_source


def read_tables(path: str | Path, source: bytes) -> tuple[dict[str, Any], Mapping[KeyPath, Place]]:
    """Values by key, and the place of every key and list item by its path. Raises `SpecRejected`, with the line, for
    what is not UTF-8 or not TOML."""
    text = decode_source(path, source)
    values = parse_source(path, text)
    places = {
        at: Place(path=str(path), line=found.line, column=found.column, words=found.words)
        for at, found in locate_keys(text).items()
    }
    return values, places
