"""Entries of a part under the names that the spec gives them, with all that names them."""

import re
from collections.abc import Mapping
from dataclasses import field, is_dataclass, replace
from pathlib import PurePosixPath
from typing import Any, Final

from docgen.classes import dataclass
from docgen.read.kinds import Key, list_keys
from docgen.read.written import NamedLength, Value

SEWN: Final = ("pieces", "joins", "straps")
IN_TEXT: Final = frozenset({"through", "lines", "order"})
FIRST_NAME: Final = r"(\s*)([a-z][a-z0-9-]*)"
MEASURED: Final = frozenset({"length", "lengths", "thickness", "corners", "position"})
FIGURED: Final = ("materials", "stitches", "hardware", "trimmings", "straps")
NAME: Final = r"(?<![\w.-])(?<!from )(?<!right of )(?<!left of )([a-z][a-z0-9]*(?:-[a-z0-9]+)*)(\.[a-z]+)?(?![\w-])"


@dataclass(frozen=True, slots=True, kw_only=True)
class Renaming:
    """New names by table and name, and of measures; `runs` are edges in place of a part's own, by the part's name;
    `folder` is where its drawings lie."""

    names: Mapping[str, Mapping[str, str]]
    measures: Mapping[str, str]
    runs: Mapping[str, str] = field(default_factory=dict)
    folder: str = "."

    def length(self, written: Value[str]) -> Value[str]:
        """A length or position with the new names of measures."""
        return replace(written, value=re.sub(NAME, self._measure, written.value))

    def _measure(self, found: re.Match[str]) -> str:
        name, figure = found[1], found[2] or ""
        if not figure:
            return self.measures.get(name, name)
        return next((self.names[t][name] for t in FIGURED if name in self.names.get(t, {})), name) + figure

    def side(self, written: Value[str]) -> Value[str]:
        """A partner of a seam."""
        name, colon, edges = written.value.partition(":")
        if not colon:
            return self.part(written)
        run, begin, ends = self.runs.get(name.strip(), edges.strip()).partition(" from ")
        return self.part(replace(written, value=f"{name}: {run}{begin}{re.sub(NAME, self._measure, ends)}"))

    def part(self, written: Value[str]) -> Value[str]:
        """What begins with the name of a piece, join or strap ("tab: left", "tab 2")."""
        return replace(written, value=re.sub(FIRST_NAME, self._first, written.value, count=1))

    def _first(self, found: re.Match[str]) -> str:
        name = found[2]
        tables = (*SEWN, "trimmings", "seams", "hardware", "stitches", "materials")
        return found[1] + next((self.names[t][name] for t in tables if name in self.names.get(t, {})), name)

    def name(self, table: str, written: Value[str]) -> Value[str]:
        return replace(written, value=self.names.get(table, {}).get(written.value, written.value))


def rename(entry: Any, renaming: Renaming, table: str = "") -> Any:
    """An entry, of a table where it is one with a name, with every name in it that is another now."""
    changed = {
        part.field: _rename(getattr(entry, part.field), part.field, part.key, renaming)
        for part in list_keys(type(entry))
        if getattr(entry, part.field) not in (None, ())
    }
    if table:
        changed["name"] = renaming.names[table][entry.name]
    return replace(entry, **changed)


def _rename(value: Any, field: str, key: Key, renaming: Renaming) -> Any:
    if isinstance(value, tuple):
        return tuple(_rename(item, field, key, renaming) for item in value)
    if isinstance(value, NamedLength):
        return replace(value, length=renaming.length(value.length))
    if not isinstance(value, Value):
        return rename(value, renaming) if is_dataclass(value) else value
    if key.kind in ("name", "names"):
        named = renaming.name(key.to, value)
        return renaming.name(key.or_to, value) if named == value else named
    if key.kind == "sides":
        return renaming.side(value)
    if field in IN_TEXT:
        return renaming.part(value)
    if key.kind in MEASURED or (field == "at" and key.kind == "text"):
        return renaming.length(value)
    if field == "file":
        return replace(value, value=str(PurePosixPath(renaming.folder) / value.value))
    return value
