"""What a key of the language can be: its kinds, its limits, and how a class declares its keys."""

import re
from collections.abc import Hashable
from dataclasses import field, fields
from functools import cache
from typing import Any, cast

from docgen.classes import dataclass
from docgen.tables.limits import Limits, list_limits
from docgen.written.units.telling import format_mm, tell_value


@dataclass(frozen=True, slots=True, kw_only=True)
class Key:
    """What a person needs to know about one key: kind, meaning, unit, default, choices."""

    kind: str
    meaning: str
    unit: str = ""
    default: str = ""
    value: Any = None  # what counts when it is left out, as it would be written; None where words alone say it
    required: bool = False
    choices: tuple[str, ...] = ()
    to: str = ""  # the table whose names it may use
    or_to: str = ""  # and another such table
    of: Any = None  # class of the entries, for "table", "tables", "named tables"
    size: int = 0  # exact number of items, for lists
    least: int = 0  # for counts
    most: int = 0  # for counts and lists


def key(kind: str, meaning: str, *, default: Any = None, otherwise: str = "", **more: Any) -> Any:
    """A dataclass field for one key of the language. Kinds: see `KINDS`.

    `default` is the value that counts when the key is left out; `otherwise` says in words what counts then.
    """
    told = otherwise if default is None else tell_value(kind, default)
    as_written: Any = told
    if kind in PAIR_KINDS and default:
        as_written = [format_mm(item, 3) if kind == "lengths" else f"{item:g} g/cm3" for item in default]
    written = default if default is None or isinstance(default, int | str) else as_written
    unit = more.pop("unit", UNITS.get(kind, ""))
    value: Any = () if kind in LIST_KINDS else None
    return field(
        default=value, metadata={"key": Key(kind=kind, meaning=meaning, default=told, value=written, unit=unit, **more)}
    )


def limit_keys() -> dict[str, Any]:
    """The field of each key of [limits], by name."""
    default = Limits()
    return {
        name: key(told.kind, told.meaning, size=2 if told.kind in PAIR_KINDS else 0, default=getattr(default, of))
        for of, name, told in list_limits()
    }


NAME_PATTERN = r"[a-z][a-z0-9]*(-[a-z0-9]+)*"
VERSION_PATTERN = r"[A-Za-z0-9]([A-Za-z0-9.-]{0,10}[A-Za-z0-9])?"
DRAFT_PATTERN = r"(?i)(.*[.-])?draft"  # the pages' own stamp on what is not issued
LINK_PATTERN = r"https://[A-Za-z0-9$%*+./:-]+"
_LABEL = r"[A-Za-z0-9](?:[A-Za-z0-9-]{0,61}[A-Za-z0-9])?"
HOST_PATTERN = rf"https://(?:{_LABEL}\.)+[A-Za-z](?:[A-Za-z0-9-]*[A-Za-z0-9])(?::[0-9]{{1,5}})?(?:/|$)"
NAME_MOST = 40
NUMBER_MOST = 200
"""The highest number that a part may ask for."""
VERSION_MOST = 12
LINK_MOST = 80
WORDS_MOST = 200
NOTE_MOST = 1000
UNITS = {
    "length": "length",
    "lengths": "length",
    "corners": "length",
    "measures": "length",
    "thickness": "oz, iron or length",
    "pitch": "per inch, length or iron",
    "percent": "%",
    "density": "g/cm3",
    "densities": "g/cm3",
    "area": "sq ft, m2 or dm2",
    "run-weight": "g per m or oz per yd",
    "weight": "g or oz",
    "load": "kg, lb or N",
    "run": "m or yd",
}
KINDS = {
    "text": f"words, on one line, at most {WORDS_MOST:,} letters",
    "note": f"words, at most {NOTE_MOST:,} letters",
    "code": f"a short name: small letters, digits and hyphens, at most {NAME_MOST}",
    "version": f"letters, digits, dots and hyphens, at most {VERSION_MOST}",
    "link": f"an address that starts with https://, at most {LINK_MOST} plain letters",
    "name": "the name of an entry of another table",
    "names": "a list of such names (one name may stand alone)",
    "texts": "a list of words (one may stand alone)",
    "length": 'a length in quotes ("3 1/2 in", "89 mm") or arithmetic on measures ("width - 2 * edge")',
    "thickness": 'leather ounces ("4.5 oz", "4-5 oz"), irons ("9 iron") or a length',
    "pitch": 'stitches "6 per inch", the length of one stitch ("3.6 mm"), or a pricking iron ("French iron 8")',
    "run": 'a running length of thread ("250 m", "275 yd")',
    "percent": 'a share ("25 %")',
    "thread": 'thread by Tex, ticket or V number, and what it is ("Tex 135 bonded nylon", "V138 bonded nylon"); a hand '
    'thread by its thickness too ("0.8 mm waxed polyester")',
    "needle": 'needle size, metric or with both numbers ("130/21", "130")',
    "load": 'a weight to be carried ("6 kg", "13 lb") or a force ("60 N")',
    "run-weight": 'a weight for a length ("28 g per m", "1 oz per yd")',
    "weight": 'a weight ("12 g", "0.4 oz", "1.2 kg")',
    "density": 'a density ("0.9 g/cm3")',
    "densities": "a list of densities",
    "area": 'an area ("24 sq ft", "2.2 m2"), or from and to ("22-26 sq ft")',
    "price": 'a plain number and for how much it is ("11.50 per sq ft", "14 per m", "0.35 each", "30 per hour")',
    "times": 'a number of times ("1.5 times")',
    "count": "a whole number",
    "flag": "true or false",
    "choice": "one of the words listed",
    "lengths": "a list of lengths",
    "position": 'where, as you would measure it ("1 in from top, 2 in from left"; '
    '"centre, 3/4 in from bottom"; on straps and strips "3 in from start, centre" or "... middle")',
    "edges": 'names of neighbouring edges in the order they are sewn ("left bottom right"), or "all"',
    "sides": 'a list: "back: left bottom right" for each partner, or a piece name alone where it lies flat beneath',
    "corners": "one radius for every corner, or a table of corner = radius",
    "table": "a table of the keys below",
    "tables": "a list of tables",
    "named tables": "one table per name",
    "measures": "a table of name = length",
    "numbers": "a table of name = whole number",
    "change": "a table of those keys of that table that are other",
    "changes": "a table of tables: the name of an entry of that table, and its keys that are other",
    "prices": "a table of name = price",
}
_QUOTED = r'"([^".]*(?:[.]\d[^".]*)*)"'


def list_examples(key: Key) -> list[str]:
    """What is written of a key, as its own words show it, then those of its kind."""
    kind = {"lengths": "length", "corners": "length", "measures": "length", "densities": "density"}.get(
        key.kind, key.kind
    )
    own = [] if kind == "link" else re.findall(_QUOTED, key.meaning)
    return list(dict.fromkeys([*own, *re.findall(_QUOTED, KINDS[kind])]))


PAIR_KINDS = ("lengths", "densities")
"""Lists of two of [limits]: the least and the most."""
LIST_KINDS = frozenset(
    {"names", "texts", "lengths", "densities", "sides", "corners", "tables", "named tables", "changes"}
    | {"measures", "numbers", "prices"}
)


@dataclass(frozen=True, slots=True, kw_only=True)
class KeyField:
    """One key of a class: the dataclass field, the word that stands in TOML, and what is known about it."""

    field: str
    word: str
    key: Key


def list_keys(owner: type[Any]) -> tuple[KeyField, ...]:
    """The keys of one class of the spec, in the order in which they are declared."""
    return _list_keys(cast(Hashable, owner))


@cache
def _list_keys(owner: Any) -> tuple[KeyField, ...]:
    known = [part for part in fields(owner) if "key" in part.metadata]
    own = owner.__annotations__  # before those of a class that it extends
    return tuple(
        KeyField(field=part.name, word=part.name.replace("_", "-"), key=part.metadata["key"])
        for part in sorted(known, key=lambda part: part.name not in own)
    )


DEVICES = frozenset(
    (
        "con",
        "prn",
        "aux",
        "nul",
        "conin$",
        "conout$",
        *(f"{port}{n}" for port in ("com", "lpt") for n in "123456789¹²³"),
    )
)
"""Names that no file or folder has on Windows, with any ending (Microsoft, "Naming Files, Paths, and Namespaces")."""


def is_device(name: str) -> bool:
    """Whether Windows keeps the name for itself, in any case of letters: `con`, `aux.svg`, `NUL.1`."""
    return name.partition(".")[0].rstrip(" ").lower() in DEVICES
