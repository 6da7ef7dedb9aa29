"""Recording a version: a folder in the register that appears whole or not at all."""

import hashlib
import os
import re
from collections.abc import Callable
from pathlib import Path
from typing import Final

from docgen.classes import dataclass
from docgen.problems import Place, make_error
from docgen.resolve import Build
from docgen.versions.kept.printed import PAGES, KeptPages, write_pages
from docgen.versions.kept.record import RECORD, is_inside, write_record
from docgen.versions.kept.register import Issued, VersionRefused, read_issued, refuse, register_of
from docgen.versions.kept.shelf import ATTRIBUTES, Shelf, list_versions, look_over, name_before
from docgen.write import tidy, write_new_folder

ATTRIBUTES_TEXT: Final = b"# Exact copies: git leaves their line ends alone.\n* -text\n"
PLAIN_VERSION: Final = re.compile(r"[A-Za-z0-9]([A-Za-z0-9.-]*[A-Za-z0-9])?")


@dataclass(frozen=True, slots=True, kw_only=True)
class IssueOutcome:
    """What came of recording a version; `is_new` is False when the very same was issued before. `shelf` is what lies
    beside it then."""

    issued: Issued
    is_new: bool
    shelf: Shelf


class VersionTaken(VersionRefused):
    """The number of this `build` is taken by other contents: what is `issued` under it."""

    def __init__(self, issued: Issued, build: Build) -> None:
        self.issued, self.build = issued, build
        what = f"version {build.version} of {build.code} was issued on {issued.date} with other contents"
        mend = 'an issued version does not change: raise the version, say in "changed" what is new, and issue that'
        super().__init__(make_error(Place(path=str(issued.folder)), what, mend))


def record_version(
    path: Path | str, build: Build, day: str, lay_out: Callable[[], KeptPages | None] = lambda: None
) -> IssueOutcome:
    """Record the build of the spec at `path` as an issued version; `day` is YYYY-MM-DD. `lay_out` tells what names its
    pages, and is asked for a new version only.

    Raises VersionTaken, VersionRefused when the number cannot name a folder or what lies there is damaged, WriteFailed
    when the disk does not take it. The register is then as it was.
    """
    _check_names(path, build)
    folder = register_of(path) / build.code / build.version
    _check_letter_case(folder, path)
    if os.path.lexists(folder):
        tidy(folder.parent)
        return _meet(folder, build)
    pages = lay_out()
    if not write_new_folder(folder, lambda: _contents(build, day, pages, look_over(folder.parent))):
        return _meet(folder, build)
    return IssueOutcome(issued=read_issued(folder), is_new=True, shelf=look_over(folder.parent))


def _check_names(path: Path | str, build: Build) -> None:
    if not PLAIN_VERSION.fullmatch(build.version) or build.version.lower().endswith("-draft"):
        what = f'"{build.version}" cannot be the number of an issued version'
        raise refuse(path, what, 'begin and end it with a letter or digit, and not with "-draft", like "3" or "2.1"')
    if not is_inside(build.source_name):
        what = f'a spec called "{build.source_name}" cannot be issued: not every disk takes that name'
        raise refuse(path, what, f"rename it with plain letters, like {build.code}.toml")
    if build.source_name.lower() in (RECORD, ATTRIBUTES, PAGES):
        what = f"a spec called {build.source_name} cannot be issued: the record has that name"
        raise refuse(path, what, f"call it {build.code}.toml")


def _check_letter_case(folder: Path, path: Path | str) -> None:
    """Codes are printed in capitals, and some disks do not tell them from small letters."""
    for other in list_versions(folder.parent):
        if other != folder.name and other.lower() == folder.name.lower():
            what = f'version "{folder.name}" would be taken for "{other}", which is issued'
            raise refuse(path, what, "choose a number that differs in more than capitals")


def _meet(folder: Path, build: Build) -> IssueOutcome:
    """The number is taken: fine when by the very same."""
    issued = read_issued(folder)
    if (issued.source, issued.files) != (build.source, build.files):
        raise VersionTaken(issued, build)
    return IssueOutcome(issued=issued, is_new=False, shelf=look_over(folder.parent))


def _contents(build: Build, day: str, pages: KeptPages | None, shelf: Shelf) -> dict[str, bytes]:
    files = {build.source_name: build.source, **dict(build.files)}
    sums = {name: hashlib.sha256(held).hexdigest() for name, held in files.items()}
    kept = {} if pages is None or PAGES in files else {PAGES: write_pages(pages).encode("utf-8")}
    sum_of_pages = "".join(hashlib.sha256(held).hexdigest() for held in kept.values())
    record = write_record(build, day, sums, sum_of_pages, name_before(shelf))
    return {**files, **kept, ATTRIBUTES: ATTRIBUTES_TEXT, RECORD: record.encode("utf-8")}
