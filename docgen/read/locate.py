"""TOML source -> where every key and every list item stands.

`tomllib` gives no positions. This scanner walks the same text and notes them; it judges nothing, and what it
cannot follow it leaves out. Time grows with the length of the text, whatever the text is.
"""

import re
import tomllib
from bisect import bisect_right
from collections.abc import Mapping
from pathlib import Path

from docgen.classes import dataclass
from docgen.problems import Place

KeyPath = tuple[str | int, ...]
WORDS_SHOWN = 100
DEPTH_MOST = 8
PATH_MOST = DEPTH_MOST * (DEPTH_MOST + 2)

# Every string pattern also matches when its closing quote is missing, so that no stretch is read twice.
STRING = (
    r'"""(?:[^"\\]++|\\.|"{1,2}(?!"))*+(?:"{3,5})?'
    r"|'''(?:[^']++|'{1,2}(?!'))*+(?:'{3,5})?"
    r'|"(?:[^"\\\n]++|\\[^\n])*+"?'
    r"|'[^'\n]*+'?"
)
STRING_RE = re.compile(STRING, re.DOTALL)
KEY_PART_RE = re.compile(rf"[A-Za-z0-9_-]++|{STRING}", re.DOTALL)
SCALAR_RE = re.compile(r"[^,\]}\n#]++")
SPACE_RE = re.compile(r"[ \t]*+")
TRIVIA_RE = re.compile(r"(?:[ \t\n]++|#[^\n]*+)*+")
TOKEN_RE = re.compile(
    rf"(?P<string>{STRING})|(?P<words>[\w+\- \t]++)|(?P<dot>\.)"
    r"|(?P<open>[\[{])|(?P<close>[\]}])|(?P<other>#[^\n]*+|.)",
    re.DOTALL,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Location:
    """Line and column (characters, both from 1) of a key or list item; `words` is the value as written."""

    line: int
    column: int
    words: str = ""

    def place(self, path: str | Path) -> Place:
        """The same with the file."""
        return Place(path=str(path), line=self.line, column=self.column, words=self.words)


@dataclass(frozen=True, slots=True, kw_only=True)
class Repeat:
    """A key or table that stands twice: its path, and the line where it stood first. `is_single`: the second has the
    brackets of one table, the first those of one of several."""

    path: KeyPath
    first: Location
    second: Location
    is_header: bool
    is_single: bool = False


def locate_keys(text: str) -> Mapping[KeyPath, Location]:
    """Path of every key and list item (from 0) -> its place. `text` is TOML that `tomllib` accepts.

    A table stands where its header is; a table without a header of its own stands at the first key in it.
    """
    return _scan(text).found


def find_repeat(text: str) -> Repeat | None:
    """The first key or table that is given twice, or None."""
    repeats = _scan(text).repeats
    return repeats[0] if repeats else None


def find_too_deep(text: str) -> Location | None:
    """The first place with more than `DEPTH_MOST` brackets open or dots in one key, or None, in any text."""
    depth = dots = 0
    for token in TOKEN_RE.finditer(text):
        kind = token.lastgroup
        if kind in ("string", "words"):
            continue
        dots = dots + 1 if kind == "dot" else 0
        depth = max(0, depth + (kind == "open") - (kind == "close"))
        if depth > DEPTH_MOST or dots >= DEPTH_MOST:
            return _locate_offset(text, token.start())
    return None


def find_open_string(text: str) -> Location | None:
    """The words in three quotes that are never closed, or None. `text` may be any text."""
    last = next((token for token in TOKEN_RE.finditer(text) if _is_open(token, text)), None)
    return _locate_offset(text, last.start()) if last else None


def _is_open(token: re.Match[str], text: str) -> bool:
    """Whether a token opens with three quotes and runs to the end of the text without closing ones."""
    if token.lastgroup != "string" or token.end() < len(text):
        return False
    words = token.group()
    return words[:3] in ('"""', "'''") and (len(words) < 6 or not words.endswith(words[:3]))


def _locate_offset(text: str, offset: int) -> Location:
    line_start = text.rfind("\n", 0, offset) + 1
    line = text.count("\n", 0, offset) + 1
    return Location(line=line, column=offset - line_start + 1, words=_first_line(text, line_start))


class _LostError(Exception):
    """The scanner met text it cannot follow."""


class _Scan:
    """The text, how far it is read, and what was found so far."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.at = 0
        self.line_starts = [0, *(match.end() for match in re.finditer("\n", text))]
        self.found: dict[KeyPath, Location] = {}
        self.counts: dict[KeyPath, int] = {}
        self.given: set[KeyPath] = set()
        self.headed: set[KeyPath] = set()
        self.repeats: list[Repeat] = []

    def sees(self, mark: str) -> bool:
        return self.text.startswith(mark, self.at)

    def skip(self, pattern: re.Pattern[str]) -> None:
        match = pattern.match(self.text, self.at)
        if match:
            self.at = match.end()

    def take(self, pattern: re.Pattern[str]) -> str:
        match = pattern.match(self.text, self.at)
        if not match:
            raise _LostError
        self.at = match.end()
        return match.group()

    def expect(self, mark: str) -> None:
        if not self.sees(mark):
            raise _LostError
        self.at += len(mark)

    def locate(self, start: int, words_start: int) -> Location:
        line = bisect_right(self.line_starts, start)
        words = _first_line(self.text, words_start, self.at)
        return Location(line=line, column=start - self.line_starts[line - 1] + 1, words=words)


def _scan(text: str) -> _Scan:
    scan = _Scan(text.replace("\r\n", "\n"))
    table: KeyPath = ()
    try:
        while True:
            scan.skip(TRIVIA_RE)
            if scan.at >= len(scan.text):
                break
            if scan.sees("["):
                table = _scan_header(scan)
            else:
                _scan_pair(scan, table)
    except _LostError:
        pass
    return scan


def _scan_header(scan: _Scan) -> KeyPath:
    """`[a.b]` or `[[a.b]]`: the path that the keys below it belong to."""
    start = scan.at
    is_list = scan.sees("[[")
    scan.at += 2 if is_list else 1
    parts = [part for part, _ in _scan_key(scan)]
    scan.expect("]]" if is_list else "]")
    here = scan.locate(start, start)
    path: KeyPath = ()
    for part in parts[:-1]:
        path = _enter(scan, (*path, part))
        scan.found.setdefault(path, here)
    path = (*path, parts[-1])
    if is_list:
        return _open_item(scan, path, here)
    if path in scan.counts:
        first = scan.found[path]
        scan.repeats.append(Repeat(path=path, first=first, second=here, is_header=True, is_single=True))
        return _open_item(scan, path, here)
    if path in scan.given:
        _note_repeat(scan, path, here, is_header=True)
    scan.found[path] = here
    scan.given.add(path)
    scan.headed.add(path)
    return path


def _enter(scan: _Scan, path: KeyPath) -> KeyPath:
    """The path itself, or that of the last item when it is a list of tables."""
    count = scan.counts.get(path)
    return path if count is None else (*path, count - 1)


def _open_item(scan: _Scan, path: KeyPath, here: Location) -> KeyPath:
    if path in scan.headed and path not in scan.counts:
        second = scan.found[path]
        scan.repeats.append(Repeat(path=path, first=here, second=second, is_header=True, is_single=True))
    elif path in scan.found and path not in scan.counts:
        _note_repeat(scan, path, here, is_header=True)
    scan.found.setdefault(path, here)
    index = scan.counts.get(path, 0)
    scan.counts[path] = index + 1
    scan.found[(*path, index)] = here
    return (*path, index)


def _note_repeat(scan: _Scan, path: KeyPath, here: Location, *, is_header: bool) -> None:
    scan.repeats.append(Repeat(path=path, first=scan.found[path], second=here, is_header=is_header))


def _scan_pair(scan: _Scan, table: KeyPath) -> None:
    """`key = value`, in a table with or without a header."""
    parts = _scan_key(scan)
    scan.expect("=")
    scan.skip(SPACE_RE)
    words_start = scan.at
    path = (*table, *(part for part, _ in parts))
    known = path in scan.found
    _scan_value(scan, path)
    for length, (_, start) in enumerate(parts[:-1], start=len(table) + 1):
        scan.found.setdefault(path[:length], scan.locate(start, words_start))
    here = scan.locate(parts[-1][1], words_start)
    if known:
        _note_repeat(scan, path, here, is_header=False)
    scan.found[path] = here
    scan.given.add(path)


def _scan_key(scan: _Scan) -> list[tuple[str, int]]:
    """A dotted key as its parts, each with its offset."""
    parts: list[tuple[str, int]] = []
    while True:
        scan.skip(SPACE_RE)
        start = scan.at
        parts.append((_plain_key(scan.take(KEY_PART_RE)), start))
        scan.skip(SPACE_RE)
        if not scan.sees("."):
            return parts
        scan.at += 1


def _plain_key(written: str) -> str:
    """A key without quotes and escapes."""
    if written[0] not in "\"'":
        return written
    if written[0] == "'" or "\\" not in written:
        return written[1:-1]
    try:
        return str(tomllib.loads(f"key = {written}")["key"])
    except tomllib.TOMLDecodeError as error:
        raise _LostError from error


def _scan_value(scan: _Scan, path: KeyPath) -> None:
    if len(path) > PATH_MOST:
        raise _LostError
    if scan.sees("["):
        _scan_list(scan, path)
    elif scan.sees("{"):
        _scan_inline_table(scan, path)
    elif scan.sees('"') or scan.sees("'"):
        scan.take(STRING_RE)
    else:
        scan.take(SCALAR_RE)


def _scan_list(scan: _Scan, path: KeyPath) -> None:
    scan.at += 1
    index = 0
    while not _at_end(scan, "]"):
        start = scan.at
        _scan_value(scan, (*path, index))
        scan.found[(*path, index)] = scan.locate(start, start)
        index += 1
        _skip_comma(scan, "]")


def _scan_inline_table(scan: _Scan, path: KeyPath) -> None:
    scan.at += 1
    while not _at_end(scan, "}"):
        _scan_pair(scan, path)
        _skip_comma(scan, "}")


def _at_end(scan: _Scan, closing: str) -> bool:
    """True, and the bracket is read, when the list or table ends here."""
    scan.skip(TRIVIA_RE)
    if not scan.sees(closing):
        return False
    scan.at += 1
    return True


def _skip_comma(scan: _Scan, closing: str) -> None:
    scan.skip(TRIVIA_RE)
    if not scan.sees(closing):
        scan.expect(",")


def _first_line(text: str, start: int, end: int | None = None) -> str:
    """The text from `start` to the end of its line (or to `end`), without blanks at its ends, capped."""
    piece = text[start : min(start + WORDS_SHOWN, len(text) if end is None else end)]
    return piece.split("\n", 1)[0].strip()
