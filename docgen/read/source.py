"""A file on disk -> its bytes, its text, and the values `tomllib` reads from it.

Only what makes it pointless to go on is raised here, as `SpecRejected`, in shop words.
"""

import errno
import os
import re
import stat
import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from docgen.problems import Place, SpecRejected, make_error
from docgen.read.locate import DEPTH_MOST, KeyPath, find_too_deep, locate_keys

SIZE_MOST = 512 * 1024
NOT_ORDINARY = "it is not an ordinary file"
LONG_NUMBER_RE = r"[\d_]{4301,}"


class NotOrdinary(OSError):
    """A folder, pipe or device where a file was looked for."""


def read_ordinary(path: str | Path, most: int) -> bytes:
    """The bytes of an ordinary file, and of a longer one the first `most` + 1. Raises NotOrdinary, OSError, ValueError.

    Nothing else is ever read: a pipe would be waited for, and a device may never end.
    """
    if not stat.S_ISREG(os.stat(path).st_mode):
        raise NotOrdinary(errno.EINVAL, NOT_ORDINARY)
    # What has come into its place meanwhile is neither waited for nor read.
    handle = os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0))
    with open(handle, "rb") as file:
        if not stat.S_ISREG(os.fstat(handle).st_mode):
            raise NotOrdinary(errno.EINVAL, NOT_ORDINARY)
        return file.read(most + 1)


def read_source(path: str | Path, noun: str = "spec") -> bytes:
    """The bytes of the file; `noun` says what it should be.

    Raises `SpecRejected` when it cannot be read or is larger than `SIZE_MOST`.
    """
    if os.path.isdir(path):
        raise _reject(path, f"this is a folder, not a {noun}", "name the .toml file in it")
    source = read_start(path, SIZE_MOST, ".toml")
    if len(source) > SIZE_MOST:
        what = f"the file is larger than {SIZE_MOST // 1024} KiB, too large for a {noun}"
        raise _reject(path, what, f"check that this is the {noun}, and not a drawing or a picture")
    return source


def read_start(path: str | Path, most: int, ending: str) -> bytes:
    """As `read_ordinary`, of a file whose name should end so; raises `SpecRejected` when it cannot be read."""
    try:
        return read_ordinary(path, most)
    except NotOrdinary:
        raise _reject(path, "this is not an ordinary file", f"name a {ending} file") from None
    except (FileNotFoundError, NotADirectoryError, ValueError):
        raise _reject(path, "there is no such file", "check the name, and the folder you are in") from None
    except OSError as error:
        reason = (error.strerror or "unknown reason").lower()
        raise _reject(path, f"the file cannot be read: {reason}", "check the file, and who may read it") from None


def check_file_name(path: str | Path) -> None:
    """The spec's file name is printed and kept on record: SpecRejected when it has what no text can hold."""
    name = os.path.basename(path)
    if name.isprintable():
        return
    half = any("\ud800" <= letter <= "\udfff" for letter in name)
    what = "letters that are not UTF-8" if half else "letters that do not print"
    raise _reject(path, f"the file's name has {what}", "rename it with plain letters, like bag.toml")


def decode_source(
    path: str | Path, source: bytes, mend: str = 'save it in the editor with the encoding "UTF-8"'
) -> str:
    """The text, line ends as `\\n`, without a byte order mark. Raises `SpecRejected` when it is not UTF-8."""
    try:
        text = source.decode("utf-8")
    except UnicodeDecodeError as error:
        before = source[: error.start]
        line, column = before.count(b"\n") + 1, error.start - before.rfind(b"\n")
        what = f"the file is not UTF-8 text: the byte {source[error.start]:02X} cannot be read"
        raise _reject(path, what, mend, line, column) from None
    return text.removeprefix("\ufeff").replace("\r\n", "\n")


def parse_source(path: str | Path, text: str) -> dict[str, Any]:
    """The values in the text. Raises `SpecRejected` for an error of syntax and for too deep nesting."""
    deep = find_too_deep(text)
    if deep:
        what = f"lists and tables are nested more than {DEPTH_MOST} deep"
        raise SpecRejected([make_error(deep.place(path), what, "close every list with ] and every table with }")])
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        from docgen.read.syntax import list_syntax_errors

        raise SpecRejected(list_syntax_errors(path, text, str(error))) from None
    except RecursionError:
        raise _reject(path, "lists and tables are nested too deep", "") from None
    except ValueError:
        raise _reject_long_number(path, text) from None


def read_values(path: str | Path, source: bytes) -> dict[str, Any]:
    """Values by key, without their places. Raises `SpecRejected` as `read_tables` does."""
    return parse_source(path, decode_source(path, source))


def read_tables(path: str | Path, source: bytes) -> tuple[dict[str, Any], Mapping[KeyPath, Place]]:
    """Values by key, and the place of every key and list item by its path. Raises `SpecRejected`, with the line, for
    what is not UTF-8 or not TOML."""
    text = decode_source(path, source)
    values = parse_source(path, text)
    return values, {at: found.place(path) for at, found in locate_keys(text).items()}


def _reject(path: str | Path, what: str, mend: str, line: int = 0, column: int = 0, words: str = "") -> SpecRejected:
    return SpecRejected([make_error(Place(path=str(path), line=line, column=column, words=words), what, mend)])


def _reject_long_number(path: str | Path, text: str) -> SpecRejected:
    """Python reads whole numbers of at most 4,300 digits and tells no place."""
    match = re.search(LONG_NUMBER_RE, text)
    line = text.count("\n", 0, match.start()) + 1 if match else 0
    words = match.group()[:20] + "…" if match else ""
    return _reject(path, "a number with more digits than can be read", "write a smaller number", line, words=words)
