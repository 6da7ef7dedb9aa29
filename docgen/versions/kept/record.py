"""The record of an issued version, `record.toml`: as it is written, and what may stand in it."""

import re
from collections.abc import Mapping
from datetime import date
from pathlib import PurePosixPath
from typing import Any, Final

from docgen.problems import shorten
from docgen.resolve import Build

RECORD: Final = "record.toml"
DAY: Final = re.compile(r"\d{4}-\d{2}-\d{2}", re.ASCII)
KEYS: Final = ("code", "title", "version", "digest", "issued", "changed", "spec")
PAGES_KEY: Final = "pages"
HEAD: Final = """\
# Written by docgen when this version was issued. Beside it lie exact copies of the spec and of every drawing it
# names, so that the version can be read and made again. An issued version does not change: raise the number
# instead. `digest` is printed in the code of every page; it is the first ten hex digits of the SHA-256 of the
# spec (and, where there are drawings, of each one's name and SHA-256 after it). `pages` is the SHA-256 of pages.toml.
"""


def write_record(build: Build, day: str, sums: Mapping[str, str], pages: str = "") -> str:
    """The text of record.toml; `pages` is the sum of what names the pages, empty where that is not kept."""
    values = (build.code, build.title, build.version, build.digest, day, build.changed, build.source_name)
    lines = [f"{key} = {quote(value)}" for key, value in zip(KEYS, values, strict=True)]
    lines += [f"{PAGES_KEY} = {quote(pages)}"] if pages else []
    return "\n".join(
        [HEAD, *lines, "", "[sha256]", *(f"{quote(name)} = {quote(held)}" for name, held in sums.items()), ""]
    )


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
        and isinstance(sums, dict)
        and record["spec"] in sums
        and all(isinstance(held, str) and is_inside(name) for name, held in sums.items())
    )


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
