"""The record of an issued version, `record.toml`: as it is written, and what may stand in it."""

import hashlib
import re
from collections.abc import Mapping
from datetime import date
from pathlib import PurePosixPath
from typing import Any, Final

from docgen.classes import dataclass
from docgen.problems import shorten
from docgen.resolve import Build

RECORD: Final = "record.toml"
DAY: Final = re.compile(r"\d{4}-\d{2}-\d{2}", re.ASCII)
KEYS: Final = ("code", "title", "version", "digest", "issued", "changed", "spec")
PAGES_KEY: Final = "pages"
SEAL: Final = "seal"
BEFORE: Final = "before"
HEAD: Final = """\
# Written by docgen when this version was issued. Beside it lie exact copies of the spec and of every drawing it
# names, so that the version can be read and made again. An issued version does not change: raise the number
# instead. `digest` is printed in the code of every page; it is the first ten hex digits of the SHA-256 of the
# spec (and, where there are drawings, of each one's name and SHA-256 after it). `pages` is the SHA-256 of pages.toml.
# `before` names the versions issued by then, each with its digest and the SHA-256 of its record, and `seal` is the
# SHA-256 of all other values here, so that a record that was changed or is lost is noticed.
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Before:
    """What a record says of a version before its own: its digest, and the SHA-256 of its record."""

    digest: str
    record: str


def write_record(
    build: Build, day: str, sums: Mapping[str, str], pages: str = "", before: Mapping[str, Before] | None = None
) -> str:
    """The text of record.toml; `pages` is the sum of what names the pages, empty where that is not kept; `before` tells
    of the versions issued by then."""
    values = (build.code, build.title, build.version, build.digest, day, build.changed, build.source_name)
    record: dict[str, Any] = dict(zip(KEYS, values, strict=True))
    record |= {PAGES_KEY: pages} if pages else {}
    record |= {
        "sha256": sums,
        BEFORE: {name: {"digest": one.digest, "record": one.record} for name, one in (before or {}).items()},
    }
    plain, tables = _lines(record)
    return "\n".join([HEAD, *plain, f"{SEAL} = {quote(find_seal(record))}", *tables, ""])


def _lines(record: Mapping[str, Any]) -> tuple[list[str], list[str]]:
    """The lines of the values, and those of the tables."""
    plain = [f"{key} = {quote(record[key])}" for key in (*KEYS, PAGES_KEY) if key in record]
    sums = [f"{quote(name)} = {quote(held)}" for name, held in record["sha256"].items()]
    before = [
        f"{quote(name)} = {{ digest = {quote(one['digest'])}, record = {quote(one['record'])} }}"
        for name, one in record.get(BEFORE, {}).items()
    ]
    return plain, ["", f"[{BEFORE}]", *before, "", "[sha256]", *sums]


def find_seal(record: Mapping[str, Any]) -> str:
    """The SHA-256 of all values of a whole record but its seal."""
    plain, tables = _lines(record)
    return hashlib.sha256("\n".join([*plain, *tables]).encode("utf-8", "surrogatepass")).hexdigest()


def read_before(record: Mapping[str, Any]) -> dict[str, Before]:
    """The versions that a whole record names."""
    return {name: Before(**one) for name, one in record.get(BEFORE, {}).items()}


def quote(text: str) -> str:
    """A TOML basic string (TOML 1.0, "String")."""
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    return '"' + "".join(c if c.isprintable() else _escape(c) for c in escaped) + '"'


def _escape(letter: str) -> str:
    return f"\\u{ord(letter):04X}" if ord(letter) <= 0xFFFF else f"\\U{ord(letter):08X}"


def is_whole(record: Mapping[str, Any]) -> bool:
    """Whether all is there, and the sums are of files that stay inside."""
    sums = record.get("sha256")
    return (
        all(isinstance(record.get(key), str) for key in KEYS)
        and isinstance(record.get(PAGES_KEY, ""), str)
        and _is_before(record)
        and isinstance(sums, dict)
        and record["spec"] in sums
        and all(isinstance(held, str) and is_inside(name) for name, held in sums.items())
    )


def _is_before(record: Mapping[str, Any]) -> bool:
    """Whether what is said of the versions before is of its kind. Records of older docgens have neither that nor a
    seal."""
    before = record.get(BEFORE, {})
    if not isinstance(record.get(SEAL, ""), str) or not isinstance(before, dict):
        return False
    return (SEAL in record) == (BEFORE in record) and all(
        isinstance(one, dict)
        and one.keys() == {"digest", "record"}
        and all(isinstance(each, str) for each in one.values())
        for one in before.values()
    )


def is_sealed(record: Mapping[str, Any]) -> bool:
    """Whether a whole record is as it was written; of one without a seal that cannot be said, and is taken for so."""
    return SEAL not in record or record[SEAL] == find_seal(record)


def find_fault(record: Mapping[str, Any]) -> str:
    """What docgen never wrote into a record; empty when nothing is wrong."""
    for key in KEYS:
        if not all(letter.isprintable() or letter in "\n\t" for letter in record[key]):
            return f"{key} has letters that do not print"
    if not all(name.isprintable() for name in record["sha256"]):
        return "the name of a file has letters that do not print"
    if not record["title"].strip():
        return "title is empty"
    if not _is_day(record["issued"]):
        return f'issued is "{shorten(record["issued"], 40)}", which is no day of the calendar'
    return ""


def _is_day(written: str) -> bool:
    if not DAY.fullmatch(written):
        return False
    try:
        date.fromisoformat(written)
    except ValueError:
        return False
    return True


def is_inside(name: str) -> bool:
    """Whether a name leads to no place outside its folder, on any disk."""
    path = PurePosixPath(name)
    return bool(name) and not path.is_absolute() and ".." not in path.parts and "\\" not in name and ":" not in name
