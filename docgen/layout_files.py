"""The layout files in use: those shipped, and a shop's own in place of them, file by file.

Which layouts are in use is the one thing that reaches a phase without being an argument. Words are asked for in
some thirty functions, down to a single tally; an argument through all of their callers would be longer than what it
carries. So the layouts are a value (`Layouts`: frozen, with the bytes of every file), `use_layouts` holds it in a
context variable for as long as one packet is laid out, and puts back what was there. A caller sees a pure function:
the same plan and the same layouts give the same pages; two builds in one program, also in two threads, do not mix.
Whatever is kept from one call to the next is kept by the bytes of the file, never by its name.
"""

import os
import stat
from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from functools import cache
from pathlib import Path
from typing import Final

from docgen.classes import dataclass
from docgen.problems import CallRejected, Place, Problem, make_error, shorten, suggest

LANGUAGES_FOLDER: Final = "care"
FOLDER_NAME: Final = "layouts"
ENDING: Final = ".toml"
OLD_ENDING: Final = ".j2"
SENTENCES: Final = "sentences.toml"
OLD_NAMES: Final = ("build_scrap.j2", "build_sheet.j2", "cutting_list.j2", "how_to_join.j2", "how_to_print.j2")
SIZE_MOST: Final = 64 * 1024
FILES_MOST: Final = 100


@dataclass(frozen=True)
class LayoutFile:
    """One file: its name below the folder ("care/de.toml"), its path for messages, its bytes."""

    name: str
    path: str
    source: bytes
    is_shipped: bool = True


@dataclass(frozen=True, slots=True)
class Layouts:
    """Every layout file once, a shop's own in place of the shipped one of the same name; and what is wrong with those
    that could not be taken."""

    files: tuple[LayoutFile, ...]
    problems: tuple[Problem, ...] = ()

    def find(self, name: str) -> LayoutFile | None:
        """The file of this name; None when there is none."""
        return next((file for file in self.files if file.name == name), None)


_in_use: ContextVar[Layouts | None] = ContextVar("layouts", default=None)


@contextmanager
def use_layouts(layouts: Layouts | None) -> Iterator[None]:
    """While this lasts, words and settings come from these layouts; None leaves those in use."""
    token = _in_use.set(layouts or _in_use.get())
    try:
        yield
    finally:
        _in_use.reset(token)


def layouts_in_use() -> Layouts:
    """The layouts named last, else the shipped ones."""
    return _in_use.get() or shipped_layouts()


def layouts_folder() -> Path:
    """Where the shipped layouts are: inside the installed package, else beside it."""
    package = Path(__file__).parent
    inside = package / FOLDER_NAME
    return inside if inside.is_dir() else package.parent / FOLDER_NAME


@cache
def shipped_layouts() -> Layouts:
    """The layouts that come with the program."""
    folder = layouts_folder()
    files = (LayoutFile(name, f"{FOLDER_NAME}/{name}", (folder / name).read_bytes()) for name in _list_names(folder))
    return Layouts(tuple(files))


def list_languages() -> tuple[str, ...]:
    """Languages of the care card in the layouts in use, one for each file in care, by its name."""
    names = (Path(file.name) for file in layouts_in_use().files)
    return tuple(sorted(name.stem for name in names if name.parent.name == LANGUAGES_FOLDER))


def find_layouts(spec: str | Path, folder: str | Path | None = None) -> Layouts:
    """The layouts for a spec: those of the folder named, else of `layouts` beside it, else as shipped.

    Raises CallRejected when the folder named is none.
    """
    if folder is not None:
        if not Path(folder).is_dir():
            raise CallRejected(f'there is no folder "{shorten(str(folder))}" with layouts')
        return read_layouts(Path(folder))
    beside = Path(spec).parent / FOLDER_NAME
    return read_layouts(beside) if beside.is_dir() else shipped_layouts()


def read_layouts(folder: Path) -> Layouts:
    """The layout files of a folder, and the shipped ones for all that it lacks."""
    shipped = {file.name: file for file in shipped_layouts().files}
    own: dict[str, LayoutFile] = {}
    problems: list[Problem] = []
    for name in _list_names(folder):
        place = Place(path=str(folder / name))
        if name.endswith(OLD_ENDING):
            problems.append(make_error(place, "layout files of this kind are no longer read", _tell_new_home(name)))
            continue
        if name not in shipped and not name.startswith(f"{LANGUAGES_FOLDER}/"):
            mend = suggest(name, shipped) or f"there are {', '.join(one for one in shipped if '/' not in one)}"
            problems.append(make_error(place, "no layout file has this name", mend))
            continue
        try:
            own[name] = LayoutFile(name, place.path, _read_file(folder, name), is_shipped=False)
        except _CannotReadError as error:
            problems.append(make_error(place, *error.args))
    files = {**shipped, **own}
    return Layouts(tuple(files[name] for name in sorted(files)), tuple(problems))


def _tell_new_home(name: str) -> str:
    """Where the words of an old template stand now: in a table of its name, where it has one."""
    where = f"[{shorten(Path(name).stem, 40)}] of {SENTENCES}" if name in OLD_NAMES else SENTENCES
    return (
        f'its words now stand in {where}: copy that file with "docgen layouts", put your words in, and delete this one'
    )


class _CannotReadError(Exception):
    """What is wrong with a file, and what would mend it."""


def _read_file(folder: Path, name: str) -> bytes:
    """The bytes of an ordinary file of the folder itself."""
    try:
        path = os.path.realpath(folder / name, strict=True)
        if os.path.commonpath([os.path.realpath(folder), path]) != os.path.realpath(folder):
            raise _CannotReadError("this file leads out of its folder", "copy the file itself into the folder")
        if not stat.S_ISREG(os.stat(path).st_mode):
            raise _CannotReadError("this is not an ordinary file", "copy the shipped one with docgen layouts")
        with open(path, "rb") as file:
            source = file.read(SIZE_MOST + 1)
    except OSError as error:
        reason = (error.strerror or "unknown reason").lower()
        raise _CannotReadError(f"this layout file cannot be read: {reason}", "check who may read it") from None
    if len(source) > SIZE_MOST:
        raise _CannotReadError("this layout file is larger than 64 KiB", "shorten it")
    return source


def _list_names(folder: Path) -> list[str]:
    """The names of all files that look like layouts, also in the folder of languages; at most `FILES_MOST`."""
    found = [path for place in (folder, folder / LANGUAGES_FOLDER) for path in sorted(place.glob("[!.]*"))]
    names = [path.relative_to(folder).as_posix() for path in found if path.suffix in (ENDING, OLD_ENDING)]
    return sorted(names[:FILES_MOST])


def share_layouts(folder: str | Path) -> tuple[dict[str, bytes], tuple[str, ...]]:
    """The shipped layout files that a folder lacks, name -> bytes, and the names of those that are there already."""
    shipped = shipped_layouts().files
    kept = tuple(file.name for file in shipped if os.path.lexists(Path(folder) / file.name))
    return {file.name: file.source for file in shipped if file.name not in kept}, kept
