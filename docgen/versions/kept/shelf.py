"""The folder of a build in the register: which versions lie there, what else does, and what is lost by what records say."""

import hashlib
import re
from collections.abc import Mapping
from pathlib import Path
from typing import Any, Final

from docgen.classes import dataclass
from docgen.read import read_ordinary
from docgen.versions.kept.printed import PAGES
from docgen.versions.kept.record import RECORD, Before, is_sealed, read_before
from docgen.versions.kept.register import BRING_BACK, Issued, VersionRefused, read_issued, read_record, refuse

ATTRIBUTES: Final = ".gitattributes"
"""Beside the copies of every version, so that a folder is known for one that has lost its record."""

RECORD_MOST: Final = 1024 * 1024
NO_RECORD: Final = "it has no record"


@dataclass(frozen=True, slots=True, kw_only=True)
class Shelf:
    """What lies in the folder of a build. `versions` are those issued, lowest first, damaged ones among them; `strays`
    the names of other folders there, with why they are none; `named` what any record says of the versions before it;
    `lost` those of them that are not there."""

    home: Path
    versions: tuple[str, ...] = ()
    strays: tuple[tuple[str, str], ...] = ()
    named: Mapping[str, Before]
    lost: tuple[str, ...] = ()


def version_key(version: str) -> tuple[tuple[int, int, str], ...]:
    """Sorts versions as a person counts them: 9 before 10, 2a after 2."""
    parts = re.findall(r"\d+|[^\d.-]+", version.lower())
    return tuple((1, int(part), "") if part.isdigit() else (0, 0, part) for part in parts)


def list_versions(home: Path) -> tuple[str, ...]:
    """The versions in the folder of a build, lowest first; empty when there are none."""
    return look_over(home).versions


def look_over(home: Path) -> Shelf:
    """All folders in the folder of a build, each by its record; no copies are read."""
    try:
        names = sorted(item.name for item in home.iterdir() if item.is_dir() and not item.name.startswith("."))
    except OSError:
        names = []
    records = {name: _peek(home / name) for name in sorted(names, key=version_key)}
    named: dict[str, Before] = {}
    for record in records.values():
        named = {**(read_before(record) if record else {}), **named}
    strays = {name: why for name, record in records.items() if (why := _find_why(home / name, record, named))}
    return Shelf(
        home=home,
        versions=tuple(name for name in records if name not in strays),
        strays=tuple(strays.items()),
        named=named,
        lost=tuple(sorted((name for name in named if name not in records or name in strays), key=version_key)),
    )


def _peek(folder: Path) -> dict[str, Any] | None:
    """The record of a folder; None when it has none, or one that was changed."""
    try:
        record = read_record(folder)
    except VersionRefused:
        return None
    return record if is_sealed(record) else None


def _find_why(folder: Path, record: dict[str, Any] | None, named: Mapping[str, Before]) -> str:
    """Why a folder is no issued version; empty for one that is, damaged or not."""
    if record is not None:
        is_own = (record["code"], record["version"]) == (folder.parent.name, folder.name)
        return "" if is_own else f"it holds a copy of version {record['version']} of {record['code']}"
    is_ours = folder.name in named or any((folder / name).is_file() for name in (RECORD, ATTRIBUTES, PAGES))
    return "" if is_ours else NO_RECORD


def name_before(shelf: Shelf) -> dict[str, Before]:
    """All versions that were ever issued here, as the next record names them: those that are lost too."""
    own = {name: before for name in shelf.versions if (before := _name(shelf.home / name)) is not None}
    found = {**own, **shelf.named}
    return {name: found[name] for name in sorted(found, key=version_key)}


def _name(folder: Path) -> Before | None:
    record, held = _peek(folder), hash_record(folder)
    return None if record is None or not held else Before(digest=record["digest"], record=held)


def hash_record(folder: Path) -> str:
    """The SHA-256 of the record of a folder; empty when it cannot be read."""
    try:
        return hashlib.sha256(read_ordinary(folder / RECORD, RECORD_MOST)).hexdigest()
    except OSError:
        return ""


def read_kept(shelf: Shelf, version: str) -> Issued:
    """One issued version, held to its record and to what later records say of it. Raises VersionRefused."""
    folder = shelf.home / version
    issued, said = read_issued(folder), shelf.named.get(version)
    if said is not None and (said.digest, said.record) != (issued.digest, hash_record(folder)):
        what = f"the record is not the one that later versions of {issued.code} name"
        raise refuse(folder / RECORD, what, BRING_BACK)
    return issued


def read_newest(shelf: Shelf) -> Issued | None:
    """The highest issued version; None when there is none. Raises VersionRefused when it is damaged, or when a record
    names a higher one that is lost: then nobody can say which version is current."""
    highest = max((*shelf.versions, *shelf.lost), key=version_key, default=None)
    if highest in shelf.lost:
        what = f"version {highest} of {shelf.home.name} was issued, as the record of another version says, and is lost"
        raise refuse(shelf.home / str(highest), what, BRING_BACK)
    return read_kept(shelf, shelf.versions[-1]) if shelf.versions else None


class ShelfWarning(UserWarning):
    """Something in the folder of a build is no issued version, or one is lost."""


def tell_shelf(shelf: Shelf) -> tuple[str, ...]:
    """What is not as it should be, in words; none of it stops a call."""
    strays = [f"{shelf.home / name} is no issued version, and is passed over: {why}" for name, why in shelf.strays]
    lost = [
        f"{shelf.home / name} is lost: it was issued with the digest {shelf.named[name].digest}; {BRING_BACK}"
        for name in shelf.lost
    ]
    return (*strays, *lost)
