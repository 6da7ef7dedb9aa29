"""The keys of the language for a person: rows of a table, and plain text for a terminal."""

from collections.abc import Collection
from typing import Any

from docgen.classes import dataclass
from docgen.read.kinds import KINDS, Key, list_keys
from docgen.read.spec import Spec

COLUMNS = 100
MEANING_FROM = 26


@dataclass(frozen=True, slots=True, kw_only=True)
class KeyRow:
    """One key and what is told of it: `table` is where it stands (`pieces.NAME.holes[]`; "" for the spec itself)."""

    table: str
    key: str
    told: Key


def describe_keys() -> tuple[KeyRow, ...]:
    """Every key of the language; tables in the order of the spec, each before the tables inside it."""
    return _describe_table(Spec, "")


def render_keys(only: Collection[str] = ()) -> str:
    """Every key in words, or those of some tables, grouped by table, for a terminal of 100 columns; the kinds explained
    at the end."""
    rows = [row for row in describe_keys() if not only or row.table in only]
    tables = list(dict.fromkeys(row.table for row in rows))
    blocks = ["\n".join([_heading(table), *(_render_row(r) for r in rows if r.table == table)]) for table in tables]
    used = {row.told.kind for row in rows}
    kinds = [_hang(f"  {kind}", meaning) for kind, meaning in KINDS.items() if kind in used]
    return "\n\n".join([*blocks, "\n".join(["Kinds", *kinds])]) + "\n"


def _describe_table(owner: type[Any], table: str) -> tuple[KeyRow, ...]:
    rows = []
    inner: list[KeyRow] = []
    for part in list_keys(owner):
        key = part.key
        path = f"{table}.{part.word}" if table else part.word
        rows.append(KeyRow(table=table, key=part.word, told=key))
        if key.of is not None and not key.kind.startswith("change"):  # their keys stand under the table that is changed
            ending = {"tables": "[]", "named tables": ".NAME"}.get(key.kind, "")
            inner += _describe_table(key.of, path + ending)
    return (*rows, *inner)


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
        parts.append(f"from [{key.to}]" + (f" or [{key.or_to}]" if key.or_to else ""))
    return ", ".join(parts)


def _heading(table: str) -> str:
    if not table:
        return "Tables of a spec"
    return f"[[{table.removesuffix('[]')}]]" if table.endswith("[]") else f"[{table}]"


def _render_row(row: KeyRow) -> str:
    told = row.told
    details = [told.kind, _describe_range(told), "required" if told.required else ""]
    details.append(f"one of {', '.join(told.choices)}" if told.choices else "")
    details.append(f"when left out: {told.default}" if told.default else "")
    return _hang(f"  {row.key}", f"{told.meaning} ({'; '.join(part for part in details if part)})")


def _hang(start: str, text: str) -> str:
    """`start`, then the text from a fixed column on, broken at the width of the terminal."""
    import textwrap

    return textwrap.fill(
        text,
        width=COLUMNS,
        initial_indent=f"{start} ".ljust(MEANING_FROM),
        subsequent_indent=" " * MEANING_FROM,
        break_on_hyphens=False,
    )
