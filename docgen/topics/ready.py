"""`docgen keys NAME` of a ready part: its words, what it asks for, and what it stands for, as a part's file."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Mapping
from typing import Any, Final

from docgen.read import READY, Shown, show_ready

WIDE: Final = 118
STANDS_FOR: Final = "Where nothing else is said it stands for this, a part's file by itself:"


def is_ready(name: str) -> bool:
    """Whether there is a ready part of that name."""
    return name in READY


def list_ready() -> str:
    """The ready parts, a line each."""
    return "\n".join(f"  {name:<14} {about}" for name, about in READY.items())


def tell_ready(name: str) -> str:
    """A ready part as TOML: words, what it asks for, and then what it stands for where nothing else is set; this is a
    part's file by itself."""
    shown = show_ready(name)
    asks = "\n".join(_wrap(line) for line in _tell_asks(shown))
    return f"{shown.words}\n#\n# It asks for:\n{asks}\n# {STANDS_FOR}\n\n{render_toml(shown.document)}"


def _tell_asks(shown: Shown) -> Iterator[str]:
    for name, told in shown.numbers.items():
        span = f"from {told.get('least', 0)} to {told['most']}" if "most" in told else "any number"
        yield f"numbers.{name} = {told['number']}: {told.get('what', '')} {span}"
    for name, told in shown.ranges.items():
        ends = " ".join(f"{word} {told[end]}" for word, end in (("from", "least"), ("to", "most")) if end in told)
        yield f'measures.{name} = "{shown.document["measures"][name]}": {told.get("what", "")} {ends}'


def _wrap(line: str) -> str:
    return textwrap.fill(line, WIDE, initial_indent="#   ", subsequent_indent="#     ")


def render_toml(document: Mapping[str, Any]) -> str:
    """Tables of a spec as TOML: named tables and lists of tables under headings, what is inside them on lines."""
    return "\n".join(block for word, value in document.items() for block in _render_table(word, value))


def _render_table(word: str, value: Any) -> Iterator[str]:
    if isinstance(value, list):
        yield from (f"[[{word}]]\n{_render_lines(item)}" for item in value)
    elif all(isinstance(item, dict) for item in value.values()):
        yield from (f"[{word}.{name}]\n{_render_lines(item)}" for name, item in value.items())
    else:
        yield f"[{word}]\n{_render_lines(value)}"


def _render_lines(table: Mapping[str, Any]) -> str:
    wide = max(map(len, table), default=0)
    return "".join(f"{key:<{wide}} = {_render(value, wide)}\n" for key, value in table.items())


def _render(value: Any, indent: int = 0) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return '"' + value.replace("\\", "\\\\").replace('"', '\\"') + '"'
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{key} = {_render(item)}" for key, item in value.items()) + " }"
    if isinstance(value, list):
        items = [_render(item) for item in value]
        if any(isinstance(item, dict) for item in value) and sum(map(len, items)) + indent > WIDE:
            return "[\n" + "".join(f"  {item},\n" for item in items) + "]"
        return f"[{', '.join(items)}]"
    return str(value)
