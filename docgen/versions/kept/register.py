"""The register of issued versions: a folder `issued/` beside the spec, in plain files.

issued/CODE/VERSION/ holds the spec and every drawing under their own names, and a record.toml. A version appears whole
or not at all, and never changes.
"""

from __future__ import annotations

import contextlib
import hashlib
import os
import re
import secrets
import shutil
import time
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path, PurePosixPath
from typing import Any, Final

from docgen.problems import Place, Problem, SpecRejected, make_error, shorten
from docgen.read import NotOrdinary, decode_source, make_digest, parse_source, read_ordinary, read_source
from docgen.resolve import Build
from docgen.versions.compared.changes import Comparison
from docgen.write import WriteFailed, explain, make_folders, undo_folders

REGISTER: Final = "issued"
RECORD: Final = "record.toml"
ATTRIBUTES: Final = ".gitattributes"
ATTRIBUTES_TEXT: Final = b"# Exact copies: git leaves their line ends alone.\n* -text\n"
PREFIX: Final = ".docgen-unfinished-"
ABANDONED_S: Final = 3600.0
"""What another run has left unfinished for so long is swept away; a younger one may still be at work."""

HEAD: Final = """\
# Written by docgen when this version was issued. Beside it lie exact copies of the spec and of every drawing it
# names, so that the version can be read and made again. An issued version does not change: raise the number
# instead. `digest` is printed in the code of every page; it is the first ten hex digits of the SHA-256 of the
# spec (and, where there are drawings, of each one's name and SHA-256 after it).
"""
PLAIN_VERSION: Final = re.compile(r"[A-Za-z0-9]([A-Za-z0-9.-]*[A-Za-z0-9])?")
COPY_MOST: Final = 20 * 1024 * 1024
"""Bytes of one copy; no spec's drawings are larger together."""
COPIES_MOST: Final = 1000
DAY: Final = re.compile(r"\d{4}-\d{2}-\d{2}", re.ASCII)
KEYS: Final = ("code", "title", "version", "digest", "issued", "changed", "spec")
BRING_BACK: Final = "bring the folder back from a copy, such as git or a backup; docgen has changed nothing"


class VersionRefused(Exception):
    """A version cannot be issued, found or read: the problem, and what differs where that is known."""

    def __init__(self, problem: Problem, comparison: Comparison | None = None) -> None:
        self.problem = problem
        self.comparison = comparison
        super().__init__(problem.what)


@dataclass(frozen=True, slots=True, kw_only=True)
class Issued:
    """One issued version as it lies in the register; `files` are name and bytes of the drawings, by name."""

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

    @property
    def spec_path(self) -> Path:
        return self.folder / self.spec_name


@dataclass(frozen=True, slots=True, kw_only=True)
class IssueOutcome:
    """What `issue_version` did; `is_new` is False when the very same was issued before."""

    issued: Issued
    is_new: bool


def refuse(path: Path | str, what: str, mend: str) -> VersionRefused:
    """The error to raise for something in the register."""
    return VersionRefused(make_error(Place(path=str(path)), what, mend))


def register_of(spec_path: Path | str) -> Path:
    """The register beside a spec."""
    return Path(spec_path).parent / REGISTER


def version_key(version: str) -> tuple[tuple[int, int, str], ...]:
    """Sorts versions as a person counts them: 9 before 10, 2a after 2."""
    parts = re.findall(r"\d+|[^\d.-]+", version.lower())
    return tuple((1, int(part), "") if part.isdigit() else (0, 0, part) for part in parts)


def list_versions(register: Path, code: str) -> tuple[str, ...]:
    """The versions of a build in a register, lowest first; empty when there are none."""
    try:
        names = [item.name for item in (register / code).iterdir() if item.is_dir()]
    except OSError:
        return ()
    return tuple(sorted((name for name in names if not name.startswith(".")), key=version_key))


def find_registers(folder: Path, code: str) -> tuple[Path, ...]:
    """The folders issued/CODE in a folder and two folders down, nearest first."""
    tops = [folder.parent] if folder.name == REGISTER else []
    tops += [
        folder,
        *inner_folders(folder),
        *(inner for outer in inner_folders(folder) for inner in inner_folders(outer)),
    ]
    return tuple(top / REGISTER / code for top in tops if (top / REGISTER / code).is_dir())


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


def issue_version(path: Path | str, build: Build, day: str) -> IssueOutcome:
    """Record the build of the spec at `path` as an issued version; `day` is YYYY-MM-DD.

    Raises VersionRefused when the number is taken by other contents or cannot name a folder, or when what lies there is
    damaged; WriteFailed when the disk does not take it. The register is then as it was.
    """
    _check_names(path, build)
    folder = register_of(path) / build.code / build.version
    _check_letter_case(folder, path)
    if os.path.lexists(folder):
        return _meet(folder, build)
    made: list[Path] = []
    with undo_folders(made):
        make_folders(folder.parent, made)
        stage = _stage(folder.parent, _contents(build, day))
        try:
            os.rename(stage, folder)
        except OSError as error:
            shutil.rmtree(stage, ignore_errors=True)
            if os.path.lexists(folder):
                return _meet(folder, build)
            raise WriteFailed(folder, explain(error)) from error
    settle(folder.parent)
    return IssueOutcome(issued=read_issued(folder), is_new=True)


def _check_names(path: Path | str, build: Build) -> None:
    if not PLAIN_VERSION.fullmatch(build.version) or build.version.lower().endswith("-draft"):
        what = f'"{build.version}" cannot be the number of an issued version'
        raise refuse(path, what, 'begin and end it with a letter or digit, and not with "-draft", like "3" or "2.1"')
    if not _is_inside(build.source_name):
        raise refuse(
            path,
            f'a spec called "{build.source_name}" cannot be issued: not every disk takes that name',
            f"rename it with plain letters, like {build.code}.toml",
        )
    if build.source_name.lower() in (RECORD, ATTRIBUTES):
        raise refuse(
            path,
            f"a spec called {build.source_name} cannot be issued: the record has that name",
            f"call it {build.code}.toml",
        )


def _check_letter_case(folder: Path, path: Path | str) -> None:
    """Codes are printed in capitals, and some disks do not tell them from small letters."""
    for other in list_versions(folder.parent.parent, folder.parent.name):
        if other != folder.name and other.lower() == folder.name.lower():
            what = f'version "{folder.name}" would be taken for "{other}", which is issued'
            raise refuse(path, what, "choose a number that differs in more than capitals")


def _meet(folder: Path, build: Build) -> IssueOutcome:
    """The number is taken: fine when by the very same."""
    issued = read_issued(folder)
    if issued.source == build.source and issued.files == build.files:
        return IssueOutcome(issued=issued, is_new=False)
    what = f"version {build.version} of {build.code} was issued on {issued.date} with other contents"
    mend = 'an issued version does not change: raise the version, say in "changed" what is new, and issue that'
    raise VersionRefused(make_error(Place(path=str(folder)), what, mend), _compare(issued, build))


def _compare(issued: Issued, build: Build) -> Comparison | None:
    """What differs; None when the issued spec cannot be read by this docgen."""
    from docgen.versions.compared.compare import compare_builds
    from docgen.versions.compared.sides import build_issued, label_version

    try:
        before = build_issued(issued)[0]
    except SpecRejected:
        return None
    return compare_builds(before, build, before_label=label_version(before), after_label="the spec")


def _contents(build: Build, day: str) -> dict[str, bytes]:
    files = {build.source_name: build.source, **dict(build.files)}
    record = write_record(build, day, {name: hashlib.sha256(held).hexdigest() for name, held in files.items()})
    return {**files, ATTRIBUTES: ATTRIBUTES_TEXT, RECORD: record.encode("utf-8")}


def write_record(build: Build, day: str, sums: Mapping[str, str]) -> str:
    """The text of record.toml."""
    values = (build.code, build.title, build.version, build.digest, day, build.changed, build.source_name)
    lines = [f"{key} = {quote(value)}" for key, value in zip(KEYS, values, strict=True)]
    return "\n".join(
        [HEAD, *lines, "", "[sha256]", *(f"{quote(name)} = {quote(held)}" for name, held in sums.items()), ""]
    )


def quote(text: str) -> str:
    """A TOML basic string (TOML 1.0, "String")."""
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    return '"' + "".join(c if c.isprintable() else _escape(c) for c in escaped) + '"'


def _escape(letter: str) -> str:
    return f"\\u{ord(letter):04X}" if ord(letter) <= 0xFFFF else f"\\U{ord(letter):08X}"


def _stage(top: Path, contents: Mapping[str, bytes]) -> Path:
    """A hidden folder beside the place, with everything in it and on the disk."""
    stage = top / f"{PREFIX}{os.getpid()}-{secrets.token_hex(4)}"
    try:
        _sweep(top)
        stage.mkdir()
        for name, content in contents.items():
            _write(stage / name, content)
        settle(stage)
    except OSError as error:
        shutil.rmtree(stage, ignore_errors=True)
        raise WriteFailed(top, explain(error)) from error
    except BaseException:
        shutil.rmtree(stage, ignore_errors=True)
        raise
    return stage


def _sweep(top: Path) -> None:
    for left in top.glob(f"{PREFIX}*"):
        with contextlib.suppress(OSError):
            if time.time() - left.stat().st_mtime > ABANDONED_S:
                shutil.rmtree(left, ignore_errors=True)


def _write(path: Path, content: bytes) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    with open(path, "xb") as file:
        file.write(content)
        file.flush()
        os.fsync(file.fileno())


def settle(folder: Path) -> None:
    """Ask the disk to keep the names in a folder, where the system can be asked."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def read_issued(folder: Path) -> Issued:
    """One issued version, held to its record. Raises VersionRefused, with the path, when anything is amiss."""
    record = _read_record(folder)
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
    )


def _read_record(folder: Path) -> dict[str, Any]:
    path = folder / RECORD
    if not path.is_file():
        raise refuse(path, "this issued version has lost its record", BRING_BACK)
    try:
        record = parse_source(path, decode_source(path, read_source(path)))
    except SpecRejected as error:
        raise refuse(path, f"the record cannot be read: {error.problems[0].what}", BRING_BACK) from error
    sums = record.get("sha256")
    is_whole = (
        all(isinstance(record.get(key), str) for key in KEYS)
        and isinstance(sums, dict)
        and record["spec"] in sums
        and all(isinstance(held, str) and _is_inside(name) for name, held in sums.items())
    )
    if not is_whole:
        raise refuse(path, "the record is not whole", BRING_BACK)
    fault = _find_fault(record)
    if fault:
        raise refuse(path, f"the record was changed: {fault}", BRING_BACK)
    return record


def _find_fault(record: Mapping[str, Any]) -> str:
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


def _is_inside(name: str) -> bool:
    path = PurePosixPath(name)
    return bool(name) and not path.is_absolute() and ".." not in path.parts and "\\" not in name and ":" not in name


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
