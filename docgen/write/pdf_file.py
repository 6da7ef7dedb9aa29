"""A PDF file as a list of numbered objects (PDF 32000-1:2008, 7.3 and 7.5): Python values in, bytes out."""

from __future__ import annotations

import hashlib
import zlib
from collections.abc import Mapping
from typing import Final

from docgen.classes import dataclass

ESCAPES: Final = str.maketrans({"\\": "\\\\", "(": "\\(", ")": "\\)", "\n": "\\n", "\r": "\\r"})


class Name(str):
    """A name: Name("Page") is written /Page."""

    __slots__ = ()


@dataclass(frozen=True, slots=True)
class Ref:
    """Stands for an object of the file, by its number."""

    number: int


@dataclass(frozen=True, slots=True)
class Stream:
    """Bytes, compressed already, and what else is said of them."""

    packed: bytes
    entries: Mapping[str, Value]


Value = bool | int | float | Name | str | bytes | Ref | list["Value"] | dict[str, "Value"]
"""What an object is made of; a str that is no Name is text for people, bytes are a string of bytes."""


def pack(content: bytes, **entries: Value) -> Stream:
    """A stream of these bytes, compressed."""
    return Stream(zlib.compress(content), {**entries, "Filter": Name("FlateDecode")})


def show_value(value: Value) -> str:
    """A value as it is written; names and text may hold any letter."""
    match value:
        case bool():
            return "true" if value else "false"
        case int():
            return str(value)
        case float():
            return f"{value:.4f}".rstrip("0").rstrip(".")
        case Name():
            return "/" + "".join(
                letter if letter.isalnum() or letter in "+-._" else _escape(letter) for letter in value
            )
        case str():
            is_plain = value.isascii() and value.isprintable()
            return f"({value.translate(ESCAPES)})" if is_plain else f"<{_in_unicode(value).hex()}>"
        case bytes():
            return f"<{value.hex()}>"
        case Ref():
            return f"{value.number} 0 R"
        case list():
            return f"[{' '.join(map(show_value, value))}]"
        case dict():
            return f"<<{' '.join(f'{show_value(Name(key))} {show_value(item)}' for key, item in value.items())}>>"


def _escape(letter: str) -> str:
    return "".join(f"#{byte:02X}" for byte in letter.encode())


def _in_unicode(text: str) -> bytes:
    """Text that is not ASCII (PDF 32000-1:2008, 7.9.2.2)."""
    return b"\xfe\xff" + text.encode("utf-16-be")


class PdfFile:
    """The objects of one file, numbered from 1 in the order they come."""

    def __init__(self) -> None:
        self.objects: list[bytes] = []

    def add(self, value: Value | Stream) -> Ref:
        """One more object."""
        if isinstance(value, Stream):
            head = show_value({**value.entries, "Length": len(value.packed)}).encode("ascii")
            self.objects.append(b"".join((head, b"\nstream\n", value.packed, b"\nendstream")))
        else:
            self.objects.append(show_value(value).encode("ascii"))
        return Ref(len(self.objects))

    def add_later(self) -> Ref:
        """A number for an object that others speak of before it is known; for `put`."""
        self.objects.append(b"null")
        return Ref(len(self.objects))

    def put(self, place: Ref, value: Value) -> None:
        """The object whose number was given out."""
        self.objects[place.number - 1] = show_value(value).encode("ascii")

    def finish(self, root: Ref, info: Ref) -> bytes:
        """The whole file; its identifier is made from its own content (14.4)."""
        parts, offsets, at = [b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n"], [], 15
        for number, held in enumerate(self.objects, start=1):
            offsets.append(at)
            parts.append(b"%d 0 obj\n%b\nendobj\n" % (number, held))
            at += len(parts[-1])
        mark = hashlib.sha256(b"".join(parts)).digest()[:16]
        rows = "".join(f"{offset:010d} 00000 n \n" for offset in offsets)
        count = len(self.objects) + 1
        trailer = show_value({"Size": count, "Root": root, "Info": info, "ID": [mark, mark]})
        end = f"xref\n0 {count}\n0000000000 65535 f \n{rows}trailer\n{trailer}\nstartxref\n{at}\n%%EOF\n"
        return b"".join((*parts, end.encode("ascii")))
