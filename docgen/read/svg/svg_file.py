"""An SVG file beside the spec -> its bytes -> its elements as a tree.

Nothing that the file names is ever opened. What could make a small file large, or reach outside, is refused
while it is read: document types, entities, processing instructions, deep nesting, very many elements.
"""

from __future__ import annotations

import os
from dataclasses import field
from pathlib import Path, PurePosixPath, PureWindowsPath
from typing import Final
from xml.parsers import expat

from docgen.classes import dataclass
from docgen.read.kinds import is_device
from docgen.read.source import NotOrdinary, read_ordinary
from docgen.read.words import quote_word

SIZE_MOST: Final = 5 * 1024 * 1024
DEPTH_MOST: Final = 50
ELEMENTS_MOST: Final = 20_000
READ: Final = frozenset({"style", "title", "text", "tspan", "textPath"})
"""What is written in these is kept."""
SVG: Final = "http://www.w3.org/2000/svg"
SAVE_AGAIN: Final = "save it again as plain SVG in the drawing program"


class DrawingError(ValueError):
    """What is wrong with a drawing, in `what`, and what would mend it, in `mend`; both in shop words."""

    def __init__(self, what: str, mend: str) -> None:
        super().__init__(what)
        self.what = what
        self.mend = mend


@dataclass(slots=True)
class Node:
    """One element: its name in SVG ("" when it is of another language), attributes, elements inside."""

    tag: str
    attributes: dict[str, str]
    parent: Node | None
    children: list[Node] = field(default_factory=list)
    text: list[str] = field(default_factory=list)


@dataclass(frozen=True, slots=True, kw_only=True)
class FileKind:
    """What files of one kind are called, how their names may end, their most bytes (in whole MiB), and beside what they
    lie."""

    noun: str
    endings: tuple[str, ...]
    ask: str
    bytes_most: int
    too_large: str
    beside: str = "spec"


DRAWING: Final = FileKind(
    noun="drawing",
    endings=(".svg",),
    ask="an SVG file",
    bytes_most=SIZE_MOST,
    too_large="keep only the pieces in it, and no pictures",
)


def read_file(folder: Path, file: str, kind: FileKind = DRAWING) -> bytes:
    """The bytes of a file of this kind in the folder or a folder in it. DrawingError for any other file."""
    name = quote_word(file)
    _check_name(file, kind)
    home = os.path.realpath(folder)
    try:
        path = os.path.realpath(os.path.join(home, file), strict=True)
        if os.path.commonpath([home, path]) != home:
            what = f"{name} leads out of the {kind.beside}'s folder"
            raise DrawingError(what, f"copy the {kind.noun} itself beside the {kind.beside}")
        source = read_ordinary(path, kind.bytes_most)
    except NotOrdinary:
        raise DrawingError(f"{name} is not an ordinary file", f"name {kind.ask}") from None
    except (FileNotFoundError, NotADirectoryError):
        what = f"there is no {kind.noun} {name} beside the {kind.beside}"
        raise DrawingError(what, f"check its name; it lies in the {kind.beside}'s folder") from None
    except OSError as error:
        reason = (error.strerror or "unknown reason").lower()
        raise DrawingError(f"{name} cannot be read: {reason}", "check the file, and who may read it") from None
    if len(source) > kind.bytes_most:
        raise DrawingError(f"{name} is larger than {kind.bytes_most // 1024**2} MiB", kind.too_large)
    return source


def _check_name(file: str, kind: FileKind) -> None:
    name = quote_word(file)
    windows = PureWindowsPath(file)
    if PurePosixPath(file).is_absolute() or windows.drive or windows.root or ".." in windows.parts:
        what = f"{name} lies outside the {kind.beside}'s folder"
        raise DrawingError(what, f"copy the {kind.noun} beside the {kind.beside} and write its name alone")
    if "\\" in file or "\0" in file:
        raise DrawingError(f"{name} is no name of a file", f"write folder/name{kind.endings[0]}, with plain strokes")
    if any(map(is_device, windows.parts)):
        raise DrawingError(f"{name} cannot be on Windows, which keeps that name for itself", "rename the file")
    if not file.lower().endswith(kind.endings):
        mend = f"save it as {kind.ask}" if kind is not DRAWING else "save the drawing as plain SVG"
        raise DrawingError(f"{name} is not {kind.ask}", mend)


def read_tree(source: bytes, file: str) -> Node:
    """The root element of an SVG file. DrawingError for what is not well-formed, not SVG, or refused."""
    name = quote_word(file)
    if source[:2] == b"\x1f\x8b":
        raise DrawingError(f"{name} is packed (SVGZ)", "save it as plain SVG")
    tree = _Tree(name)
    try:
        tree.parser.Parse(source, True)
    except expat.ExpatError as error:
        words = expat.ErrorString(error.code)
        raise DrawingError(f"{name} is broken at line {error.lineno}: {words}", SAVE_AGAIN) from None
    except (ValueError, LookupError) as error:
        if isinstance(error, DrawingError):
            raise
        raise DrawingError(f"{name} is in an encoding that cannot be read", "save it as UTF-8") from None
    if tree.root is None or tree.root.tag != "svg":
        raise DrawingError(f"{name} is not an SVG drawing", SAVE_AGAIN)
    return tree.root


class _Tree:
    """The elements read so far."""

    def __init__(self, name: str) -> None:
        self.name = name
        self.root: Node | None = None
        self.here: Node | None = None
        self.depth = 0
        self.count = 0
        parser = expat.ParserCreate(namespace_separator=" ")
        parser.StartDoctypeDeclHandler = self.refuse_doctype
        parser.EntityDeclHandler = self.refuse_doctype
        parser.ExternalEntityRefHandler = self.refuse_doctype
        parser.ProcessingInstructionHandler = self.refuse_instruction
        parser.StartElementHandler = self.open
        parser.EndElementHandler = self.close
        parser.CharacterDataHandler = self.write
        self.parser = parser

    def refuse_doctype(self, *_: object) -> int:
        mend = "save it again as plain SVG, or take out the line that begins with <!DOCTYPE"
        raise DrawingError(f"{self.name} has a document type (DOCTYPE), which is not read", mend)

    def refuse_instruction(self, target: str, _: str) -> None:
        what = f"{self.name} has an instruction <?{quote_word(target)[1:-1]}, which is not followed"
        raise DrawingError(what, "take that line out, or save it again as plain SVG")

    def open(self, tag: str, attributes: dict[str, str]) -> None:
        self.depth += 1
        self.count += 1
        if self.depth > DEPTH_MOST:
            raise DrawingError(f"{self.name} has groups nested more than {DEPTH_MOST} deep", "ungroup what is in it")
        if self.count > ELEMENTS_MOST:
            mend = "keep only the pieces in it"
            raise DrawingError(f"{self.name} has more than {ELEMENTS_MOST:,} elements", mend)
        space, _, word = tag.rpartition(" ")
        node = Node(word if space in ("", SVG) else "", attributes, self.here)
        if self.here is None:
            self.root = node
        else:
            self.here.children.append(node)
        self.here = node

    def close(self, _: str) -> None:
        self.depth -= 1
        assert self.here is not None
        self.here = self.here.parent

    def write(self, words: str) -> None:
        if self.here is not None and self.here.tag in READ:
            self.here.text.append(words)
