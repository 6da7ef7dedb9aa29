"""A shop's own part -> the specs and the issued versions that bring it in, and whether as it is now."""

import os
from collections.abc import Iterator
from pathlib import Path
from typing import Final

from docgen.classes import dataclass
from docgen.problems import SpecRejected, show_plain
from docgen.read import Spec, decode_source, parse_source, read_source, read_spec
from docgen.versions.kept.register import Issued, VersionRefused, inner_folders, places_of_registers, read_issued
from docgen.versions.kept.shelf import list_versions

MOST_SPECS: Final = 200


@dataclass(frozen=True, slots=True, kw_only=True)
class PartUse:
    """A build that brings a part in: where it lies, its code and version, the names that the part has there; `issued` is
    the day, "" for a spec. `is_same` tells whether with the very contents that the part has now."""

    path: str
    code: str
    version: str
    names: tuple[str, ...] = ()
    issued: str = ""
    is_same: bool = True


def is_part_file(what: str) -> bool:
    """Whether a name is that of a part's file."""
    if not what.lower().endswith(".toml") or not os.path.isfile(what):
        return False
    try:
        document = parse_source(what, decode_source(what, read_source(what)))
    except SpecRejected:
        return False
    return "part" in document and "spec" not in document


def list_uses(part: Path, folder: Path) -> tuple[PartUse, ...]:
    """All builds in a folder and two folders down that bring the part in: specs, then what is issued, lowest version
    first. Specs and versions that cannot be read are passed over."""
    home, now = os.path.realpath(part), part.read_bytes()
    return (*_in_specs(home, folder), *_in_registers(home, now, folder))


def _in_specs(home: str, folder: Path) -> Iterator[PartUse]:
    tops = [folder, *(item for outer in inner_folders(folder) for item in (outer, *inner_folders(outer)))]
    paths = [path for top in tops for path in sorted(top.glob("*.toml"))]
    for path in paths[:MOST_SPECS]:
        try:
            spec = read_spec(path)
        except SpecRejected:
            continue
        names = tuple(name for name, file in spec.brought if os.path.realpath(path.parent / file) == home)
        if names:
            yield PartUse(path=str(path), code=_code_of(spec), version=_version_of(spec), names=names)


def _in_registers(home: str, now: bytes, folder: Path) -> Iterator[PartUse]:
    homes = [
        build for register in places_of_registers(folder) if register.is_dir() for build in sorted(register.iterdir())
    ]
    for build in homes:
        for version in list_versions(build):
            try:
                issued = read_issued(build / version)
            except VersionRefused:
                continue
            held = _held(issued, home)
            if held is not None:
                yield PartUse(
                    path=str(issued.spec_path),
                    code=issued.code,
                    version=issued.version,
                    issued=issued.date,
                    is_same=held == now,
                )


def _held(issued: Issued, home: str) -> bytes | None:
    """The copy of the part in an issued version, None where it has none: beside its register it is called the same."""
    beside = issued.folder.parent.parent.parent
    return next((held for name, held in issued.files if os.path.realpath(beside / name) == home), None)


def _code_of(spec: Spec) -> str:
    return spec.spec.code.value if spec.spec and spec.spec.code else ""


def _version_of(spec: Spec) -> str:
    return spec.spec.version.value if spec.spec and spec.spec.version else ""


def describe_uses(what: str, uses: tuple[PartUse, ...], folder: Path) -> str:
    """The builds in words, a line each."""
    if not uses:
        return f"no build in {show_plain(str(folder))} brings in {show_plain(what)}"
    return "\n".join([f"{show_plain(what)} is brought in by", *map(_describe, uses)])


def _describe(use: PartUse) -> str:
    build = f"{use.code} version {use.version}"
    if not use.issued:
        return f"  {show_plain(use.path)}: {build}, as {', '.join(use.names)}"
    state = "as it is now" if use.is_same else "with other contents than now: docgen compare tells what differs"
    return f"  {show_plain(use.path)}: {build}, issued {use.issued}, {state}"
