"""Where every single value of a spec stands in its text."""

import re
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass

from docgen.read.locate import SCALAR_RE, STRING_RE, KeyPath, locate_keys

KEY_RE = re.compile(r"[A-Za-z0-9_-]+\s*=\s*")


@dataclass(frozen=True)
class Scalar:
    """One value as written: its path, the letters of the text that hold it, and its line (from 1)."""

    path: KeyPath
    value: object
    start: int
    end: int
    line: int

    @property
    def key(self) -> str:
        """The nearest name above it: `size` for its second item."""
        return next(str(part) for part in reversed(self.path) if isinstance(part, str))

    @property
    def dotted(self) -> str:
        """Its path with dots, items by their number."""
        return ".".join(str(part) for part in self.path)

    def put(self, text: str, written: str) -> str:
        """The text with this value written so."""
        return text[: self.start] + written + text[self.end :]


def find_scalars(text: str) -> list[Scalar]:
    """Every value that is no table and no list, in the order of the text."""
    data = tomllib.loads(text)
    starts = [0]
    for line in text.splitlines(keepends=True):
        starts.append(starts[-1] + len(line))
    found = []
    for path, where in locate_keys(text).items():
        value = look_up(data, path)
        if isinstance(value, dict | list):
            continue
        start = starts[where.line - 1] + where.column - 1
        if isinstance(path[-1], str) and (key := KEY_RE.match(text, start)):
            start = key.end()
        match = STRING_RE.match(text, start) or SCALAR_RE.match(text, start)
        if match:
            found.append(Scalar(path, value, start, start + len(match[0].rstrip()), where.line))
    return sorted(found, key=lambda one: one.start)


def look_up(data: object, path: KeyPath) -> object:
    """What stands at a path."""
    for part in path:
        data = data[part]  # type: ignore[index]
    return data


def table_lines(text: str) -> Iterator[tuple[int, int, str]]:
    """Every table as the lines it takes (from 0, the last exclusive), with its header."""
    lines = text.splitlines()
    heads = [number for number, line in enumerate(lines) if line.startswith("[")]
    for start, end in zip(heads, [*heads[1:], len(lines)], strict=True):
        yield start, end, lines[start]
