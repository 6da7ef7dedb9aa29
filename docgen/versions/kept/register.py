"""The register of issued versions: a folder `issued/` beside the spec, in plain files.

issued/CODE/VERSION/ holds the spec and every drawing under their own names, and a record.toml. A version appears whole
or not at all, and never changes.
"""

import hashlib
from pathlib import Path
from typing import Any, Final

from docgen.classes import dataclass
from docgen.problems import Place, Problem, SpecRejected, make_error
from docgen.read import NotOrdinary, decode_source, make_digest, parse_source, read_ordinary, read_source
from docgen.versions.kept.printed import PAGES, KeptPages, read_pages
from docgen.versions.kept.record import PAGES_KEY, RECORD, find_fault, is_sealed, is_whole
from docgen.write import explain

REGISTER: Final = "issued"
COPY_MOST: Final = 20 * 1024 * 1024
"""Bytes of one copy; no spec's drawings are larger together."""
COPIES_MOST: Final = 1000
BRING_BACK: Final = "bring the folder back from a copy, such as git or a backup; docgen has changed nothing"


class VersionRefused(Exception):
    """A version cannot be issued, found or read, and the problem that keeps it from that."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        super().__init__(problem.what)


@dataclass(frozen=True, slots=True, kw_only=True)
class Issued:
    """One issued version as it lies in the register; `files` are name and bytes of the drawings, by name; `pages` tells
    what names its pages, None where that was not kept."""

    folder: Path
    code: str
    title: str
    version: str
    digest: str
    date: str  # YYYY-MM-DD
    changed: str
    spec_name: str
    source: bytes
    files: tuple[tuple[str, bytes], ...]
    pages: KeptPages | None = None

    @property
    def spec_path(self) -> Path:
        return self.folder / self.spec_name


def refuse(path: Path | str, what: str, mend: str) -> VersionRefused:
    """The error to raise for something in the register."""
    return VersionRefused(make_error(Place(path=str(path)), what, mend))


def register_of(spec_path: Path | str) -> Path:
    """The register beside a spec."""
    return Path(spec_path).parent / REGISTER


def find_registers(folder: Path, code: str) -> tuple[Path, ...]:
    """The folders issued/CODE in a folder and two folders down, nearest first."""
    return tuple(register / code for register in places_of_registers(folder) if (register / code).is_dir())


def places_of_registers(folder: Path) -> list[Path]:
    """Where registers may lie: the folder itself, else in it and two folders down, nearest first."""
    tops = [folder.parent] if folder.name == REGISTER else []
    inner = inner_folders(folder)
    tops += [folder, *inner, *(each for outer in inner for each in inner_folders(outer))]
    return [top / REGISTER for top in tops]


def inner_folders(top: Path) -> list[Path]:
    """The folders in a folder that may hold specs."""
    try:
        return sorted(
            item
            for item in top.iterdir()
            if item.is_dir() and not item.is_symlink() and not item.name.startswith(".") and item.name != REGISTER
        )
    except OSError:
        return []


def read_issued(folder: Path) -> Issued:
    """One issued version, held to its record. Raises VersionRefused, with the path, when anything is amiss."""
    record = read_record(folder)
    sums = record["sha256"]
    if len(sums) > COPIES_MOST:
        raise refuse(folder / RECORD, f"the record names more than {COPIES_MOST} files", BRING_BACK)
    files = {name: _read_copy(folder, name, held) for name, held in sums.items()}
    spec_name = record["spec"]
    source = files.pop(spec_name)
    drawings = tuple(sorted(files.items()))
    digest = make_digest(source, drawings)
    if digest != record["digest"]:
        what = f"the record says digest {record['digest']}, the copies beside it have {digest}"
        raise refuse(folder / RECORD, what, BRING_BACK)
    if (record["code"], record["version"]) != (folder.parent.name, folder.name):
        what = f"the record is of version {record['version']} of {record['code']}, not of this folder"
        raise refuse(folder / RECORD, what, BRING_BACK)
    if not is_sealed(record):
        raise refuse(folder / RECORD, "the record was changed: its lines are not as docgen wrote them", BRING_BACK)
    return Issued(
        folder=folder,
        code=record["code"],
        title=record["title"],
        version=record["version"],
        digest=digest,
        date=record["issued"],
        changed=record["changed"],
        spec_name=spec_name,
        source=source,
        files=drawings,
        pages=_read_pages(folder, record.get(PAGES_KEY, "")),
    )


def read_record(folder: Path) -> dict[str, Any]:
    """The record of a version, whole and possible; whether it fits the copies is not asked. Raises VersionRefused."""
    path = folder / RECORD
    if not path.is_file():
        raise refuse(path, "this issued version has lost its record", BRING_BACK)
    try:
        record = parse_source(path, decode_source(path, read_source(path)))
    except SpecRejected as error:
        raise refuse(path, f"the record cannot be read: {error.problems[0].what}", BRING_BACK) from error
    if not is_whole(record):
        raise refuse(path, "the record is not whole", BRING_BACK)
    fault = find_fault(record)
    if fault:
        raise refuse(path, f"the record was changed: {fault}", BRING_BACK)
    return record


def _read_pages(folder: Path, sum_of_it: str) -> KeptPages | None:
    if not sum_of_it:
        return None
    path = folder / PAGES
    try:
        written = parse_source(path, decode_source(path, _read_copy(folder, PAGES, sum_of_it)))
    except SpecRejected as error:
        raise refuse(path, f"what names the pages cannot be read: {error.problems[0].what}", BRING_BACK) from error
    kept = read_pages(written)
    if kept is None:
        raise refuse(path, "what names the pages was changed", BRING_BACK)
    return kept


def _read_copy(folder: Path, name: str, sum_of_it: str) -> bytes:
    path = folder / name
    try:
        content = read_ordinary(path, COPY_MOST)
    except FileNotFoundError:
        raise refuse(path, "this copy is missing from an issued version", BRING_BACK) from None
    except NotOrdinary:
        raise refuse(path, "this copy is not an ordinary file", BRING_BACK) from None
    except OSError as error:
        raise refuse(path, f"this copy cannot be read: {explain(error)}", BRING_BACK) from error
    except ValueError:
        raise refuse(folder / RECORD, "the record names a file that no disk takes", BRING_BACK) from None
    if hashlib.sha256(content).hexdigest() == sum_of_it:
        return content
    plain = content.replace(b"\r\n", b"\n")
    if sum_of_it in (hashlib.sha256(held).hexdigest() for held in (plain, plain.replace(b"\n", b"\r\n"))):
        raise refuse(path, "only the line ends of this copy are not as they were issued", BRING_BACK)
    raise refuse(path, "this copy is not as it was issued", BRING_BACK)
