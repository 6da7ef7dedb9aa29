"""A picture of pixels -> a file for the web: PNG in greys, which every browser shows.

Source: PNG, ISO/IEC 15948, chapters 5 (chunks), 9 (filters) and 11 (IHDR, tEXt); from memory.
"""

from __future__ import annotations

import struct
import zlib
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from docgen.read import Picture

SIGNATURE: Final = b"\x89PNG\r\n\x1a\n"
PNG_MARK: Final = b"Software\0docgen"
"""By this text a picture of ours is known, and may be written anew."""


def write_png(picture: Picture) -> bytes:
    """The pixels as a file: the same pixels give the same bytes."""
    rows = (picture.pixels[k : k + picture.columns] for k in range(0, len(picture.pixels), picture.columns))
    header = struct.pack(">IIBBBBB", picture.columns, picture.rows, 8, 0, 0, 0, 0)
    packed = zlib.compress(b"".join(b"\0" + row for row in rows), 9)
    chunks = ((b"IHDR", header), (b"tEXt", PNG_MARK), (b"IDAT", packed), (b"IEND", b""))
    return SIGNATURE + b"".join(_chunk(kind, content) for kind, content in chunks)


def _chunk(kind: bytes, content: bytes) -> bytes:
    return struct.pack(">I", len(content)) + kind + content + struct.pack(">I", zlib.crc32(kind + content))
