"""How keys, tables and written words are named in a message."""

import re
from collections.abc import Iterable

from docgen.read.locate import KeyPath

BARE_KEY_RE = re.compile(r"[A-Za-z0-9_-]+")
WORD_SHOWN = 60
NAMED_TABLES = frozenset(
    {
        "materials",
        "stitches",
        "pieces",
        "joins",
        "seams",
        "straps",
        "hardware",
        "trimmings",
        "variants",
        "parts",
        "irons",
        "printers",
        "machines",
        "goods",
    }
)


def quote_word(word: str, most: int = WORD_SHOWN) -> str:
    """The word in quotes, capped, with characters that do not print as `\\u` and their number."""
    shown = word if len(word) <= most else word[: most - 1] + "…"
    return '"' + "".join(c if c.isprintable() else f"\\u{ord(c):04x}" for c in shown) + '"'


def name_table(path: KeyPath) -> str:
    """A table in words: `[pieces.back]`, `[[steps]] no. 3`, `[pieces.back] holes no. 2`."""
    if not path:
        return "the spec"
    length = 2 if path[0] in NAMED_TABLES else 1
    head = f"[{name_path(path[:length])}]"
    rest = path[length:]
    if length == 1 and rest and isinstance(rest[0], int):
        head, rest = f"[{head}] no. {rest[0] + 1}", rest[1:]
    return " ".join([head, *(f"no. {p + 1}" if isinstance(p, int) else _name_part(p) for p in rest)])


def name_path(path: KeyPath) -> str:
    """A path as a dotted key, numbers as `no. 2`."""
    return ".".join(f"no. {part + 1}" if isinstance(part, int) else _name_part(part) for part in path)


def name_key(path: KeyPath) -> str:
    """The last key of a path; a list item goes by the key of its list."""
    names = [part for part in path if isinstance(part, str)]
    return _name_part(names[-1]) if names else "the spec"


def list_words(words: Iterable[str], last: str = "and", most: int = 40) -> str:
    """`a, b and c`; beyond `most` words `a, b and 7 more`."""
    listed = list(words)
    if len(listed) > most:
        return f"{', '.join(listed[:most])} and {len(listed) - most} more"
    return f" {last} ".join([", ".join(listed[:-1]), listed[-1]] if len(listed) > 1 else listed)


def _name_part(part: str) -> str:
    return part if BARE_KEY_RE.fullmatch(part) and len(part) <= WORD_SHOWN else quote_word(part)
