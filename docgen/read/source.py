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
from docgen.read.locate import DEPTH_MOST, KeyPath, find_open_string, find_repeat, find_too_deep, locate_keys
from docgen.read.words import name_path, name_table, quote_word

SIZE_MOST = 512 * 1024
NOT_ORDINARY = "it is not an ordinary file"
LINE_EXAMINED = 300  # longer lines are not compared with the patterns below, which would take too long
POSITION = r"\(at (?:line (\d+), column (\d+)|end of document)\)\s*$"
BARE_WORDS = r"^\s*([\w-]+)\s*=\s*([^\s\"'\[{#][^\"'\[\]{}#,]*?)\s*(?:#.*)?$"
KEY_WITHOUT_VALUE = r"^\s*([\w-]+)\s*=\s*(?:#.*)?$"
DECIMAL_COMMA = r"^\s*([\w-]+)\s*=\s*(\d+),(\d+[^\"'#]*?)\s*(?:#.*)?$"
CURLY_QUOTES = "[“”„‟‘’‚]"
LONG_NUMBER_RE = r"[\d_]{4301,}"
OPEN_STRING_WORDS = ("the closing quotes are missing", "end the words with three quotes")

# What tomllib says (a part of it) -> what is wrong, what mends it.
SYNTAX_WORDS = (
    ("unterminated string", "the closing quote is missing", "end the words with the quote they begin with"),
    ("illegal character '\\n'", "the closing quote is missing", "end the words with the quote they begin with"),
    ("illegal character", "a character that TOML does not allow here", "take it out"),
    ('expected "\'"', "the closing quote is missing", "end the words with the quote they begin with"),
    ("unclosed array", "a list is not closed, or lacks a comma, here or just above", "write [a, b]"),
    ("unclosed inline table", "the table in braces is not closed on its line", "write { key = value, key = value }"),
    ("after a key", 'the sign "=" is missing after the key', "write key = value"),
    ("initial character", "a key cannot begin like this", "write key = value, or put the key in quotes"),
    ("end of a table", "the closing bracket of the table's header is missing", "write [table]"),
    ("end of an array", "the closing brackets of the table's header are missing", "write [[table]]"),
    ("unescaped '\\'", "a backslash inside double quotes", r"write it twice: \\, or use single quotes"),
    ("hex value", r"\u and \U need a character's number after them", "write the character itself"),
    ("scalar value", r"the number after \u or \U is not that of a character", "write the character itself"),
    ("date", "not a date that exists", "put it in quotes if it is meant as words"),
    ("after a statement", "something stands after the end of the value", "put words and lengths in quotes"),
    ("invalid value", "not a value that can be read", "put words and lengths in quotes"),
    ("invalid statement", "not a line that can be read", "write key = value, [table] or # note"),
)


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
        raise _reject_syntax(path, text, str(error)) from None
    except RecursionError:
        raise _reject(path, "lists and tables are nested too deep", "") from None
    except ValueError:
        raise _reject_long_number(path, text) from None


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


def _reject_syntax(path: str | Path, text: str, message: str) -> SpecRejected:
    """The error of syntax in shop words, with the line as written."""
    lowered = message.lower()
    if any(part in lowered for part in ("overwrite", "twice", "immutable", "redefine", "duplicate")):
        return _reject_repeat(path, text, message)
    lines = text.split("\n")
    line, column = _syntax_position(lines, message)
    open_string = find_open_string(text)
    if open_string:
        line, column = open_string.line, open_string.column
    what, mend = OPEN_STRING_WORDS if open_string else _word_syntax(lines[line - 1], lowered)
    return _reject(path, f"{what} (column {column})", mend, line, column, lines[line - 1].strip()[:100])


def _syntax_position(lines: list[str], message: str) -> tuple[int, int]:
    """Line and column, both from 1; the end of the last line with words when the text ended too soon."""
    match = re.search(POSITION, message)
    if match and match.group(1):
        return int(match.group(1)), int(match.group(2))
    last = max((number for number, line in enumerate(lines, start=1) if line.strip()), default=1)
    return last, len(lines[last - 1]) + 1


def _word_syntax(line: str, message: str) -> tuple[str, str]:
    if re.match(KEY_WITHOUT_VALUE, line):
        return "the value is missing", "write key = value"
    if re.search(CURLY_QUOTES, line) and "invalid value" in message:
        return "curly quotes", 'use straight ones: "'
    short = line if len(line) <= LINE_EXAMINED else ""
    comma = re.match(DECIMAL_COMMA, short)
    if comma:
        key, whole, rest = comma.groups()
        return "a comma inside a number", f'write a point, and quotes: {key} = "{whole}.{rest}"'
    bare = re.match(BARE_WORDS, short)
    if bare and ("after a statement" in message or "invalid value" in message):
        key, value = bare.groups()
        if value.lower() in ("true", "false"):
            return "true and false are written in small letters", f"write {key} = {value.lower()}"
        return f"the value of {quote_word(key)} needs quotes", f"write {key} = {quote_word(value)}"
    if line.replace('\\"', "").count('"') % 2 and "'" not in line:
        return (
            "a quote is missing or too many",
            "give each value two quotes; where an inch mark stands inside, use single ones: '3 1/2\"'",
        )
    for part, what, mend in SYNTAX_WORDS:
        if part in message:
            return what, mend
    return "not TOML", "compare the line with its neighbours"


def _reject_repeat(path: str | Path, text: str, message: str) -> SpecRejected:
    repeat = find_repeat(text)
    if repeat is None:
        lines = text.split("\n")
        line, column = _syntax_position(lines, message)
        words = lines[line - 1].strip()[:100]
        return _reject(path, "a key or table is given twice", "keep one of the two", line, column, words)
    key = f"{quote_word(str(repeat.path[-1]))} in {name_table(repeat.path[:-1])}"
    name = f"[{name_path(repeat.path)}]" if repeat.is_header else key
    what = f"{name} is given twice, first on line {repeat.first.line}"
    return SpecRejected([make_error(repeat.second.place(path), what, "keep one of the two")])
