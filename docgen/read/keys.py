"""The keys of the language for a person: rows of a table, and plain text for a terminal."""

import textwrap
from dataclasses import dataclass
from typing import Any

from docgen.read.kinds import KINDS, Key, list_keys
from docgen.read.spec import Spec

COLUMNS = 100
MEANING_FROM = 26


@dataclass(frozen=True, slots=True, kw_only=True)
class KeyRow:
    """One key: `table` is where it stands (`pieces.NAME.holes[]`; "" for the spec itself)."""

    table: str
    key: str
    kind: str
    meaning: str
    unit: str = ""
    default: str = ""
    required: bool = False
    choices: tuple[str, ...] = ()
    range: str = ""


def describe_keys() -> tuple[KeyRow, ...]:
    """Every key of the language; tables in the order of the spec, each before the tables inside it."""
    return _describe_table(Spec, "")


def render_keys() -> str:
    """Every key in words, grouped by table, for a terminal of 100 columns; the kinds explained at the end."""
    rows = describe_keys()
    tables = list(dict.fromkeys(row.table for row in rows))
    blocks = ["\n".join([_heading(table), *(_render_row(r) for r in rows if r.table == table)]) for table in tables]
    used = {row.kind for row in rows}
    kinds = [_hang(f"  {kind}", meaning) for kind, meaning in KINDS.items() if kind in used]
    return "\n\n".join([*blocks, "\n".join(["Kinds", *kinds])]) + "\n"


def _describe_table(owner: type[Any], table: str) -> tuple[KeyRow, ...]:
    rows = []
    inner: list[KeyRow] = []
    for part in list_keys(owner):
        key = part.key
        path = f"{table}.{part.word}" if table else part.word
        rows.append(_make_row(table, part.word, key))
        if key.of is not None:
            ending = {"tables": "[]", "named tables": ".NAME"}.get(key.kind, "")
            inner += _describe_table(key.of, path + ending)
    return (*rows, *inner)


def _make_row(table: str, word: str, key: Key) -> KeyRow:
    return KeyRow(
        table=table,
        key=word,
        kind=key.kind,
        meaning=key.meaning,
        unit=key.unit,
        default=key.default,
        required=key.required,
        choices=key.choices,
        range=_describe_range(key),
    )


def _describe_range(key: Key) -> str:
    """How many or how much is allowed, and from which table names come."""
    parts = []
    if key.kind == "count":
        parts.append(f"from {key.least} to {key.most}")
    elif key.size:
        parts.append(f"exactly {key.size}")
    elif key.most:
        parts.append(f"at most {key.most}")
    if key.to:
        parts.append(f"from [{key.to}]")
    return ", ".join(parts)


def _heading(table: str) -> str:
    if not table:
        return "Tables of a spec"
    return f"[[{table.removesuffix('[]')}]]" if table.endswith("[]") else f"[{table}]"


def _render_row(row: KeyRow) -> str:
    details = [row.kind, row.range, "required" if row.required else ""]
    details.append(f"one of {', '.join(row.choices)}" if row.choices else "")
    details.append(f"when left out: {row.default}" if row.default else "")
    return _hang(f"  {row.key}", f"{row.meaning} ({'; '.join(part for part in details if part)})")


def _hang(start: str, text: str) -> str:
    """`start`, then the text from a fixed column on, broken at the width of the terminal."""
    return textwrap.fill(
        text,
        width=COLUMNS,
        initial_indent=f"{start} ".ljust(MEANING_FROM),
        subsequent_indent=" " * MEANING_FROM,
        break_on_hyphens=False,
    )
