"""Drawn pages -> finished files: cut into documents, with title, page labels and the spec enclosed."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

from docgen.pages.marks.page import Document, Packet
from docgen.read import Picture
from docgen.version import __version__
from docgen.write.layers import add_layers
from docgen.write.letters import Cut, Letters
from docgen.write.pdf import Drawn, draw_pages
from docgen.write.pdf_file import Name, PdfFile, Ref, Stream, Value, pack

PROGRAM: Final = f"docgen {__version__}"
PACKET: Final = "packet"
"""Name of the file that holds all documents, one after the other."""

TRUE_SIZE: Final[dict[str, Value]] = {
    "PrintScaling": Name("None"),
    "Enforce": [Name("PrintScaling")],
    "PickTrayByPDFSize": True,
    "DisplayDocTitle": True,
}
"""Asks the print dialog for 1:1 (PDF 32000-1:2008, 12.2; /Enforce: ISO 32000-2, from memory)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One file to be: which of the drawn pages it takes, and what it says of itself."""

    title: str
    subject: str
    first: int
    documents: tuple[Document, ...]
    outline: bool


def finish_files(packet: Packet, only: Sequence[str], say: Callable[[str], None]) -> dict[str, bytes]:
    """Name -> bytes of every document and the packet, or of those in `only`; ValueError for an unknown name.

    All pages are drawn once, so that the letters used are embedded once in the packet and under one name.
    """
    names = _pick_names(packet, only)
    wanted = [
        document
        for document in packet.documents
        if document.name in names or (PACKET in names and not document.is_apart)
    ]
    # What is not in the packet is drawn after it, so that the packet's pages stand together.
    wanted.sort(key=lambda document: document.is_apart)
    say(f"drawing {sum(len(document.pages) for document in wanted)} pages")
    letters = Letters()
    drawn = draw_pages((page for document in wanted for page in document.pages), letters)
    cut = letters.cut()
    parts = _plan_parts(packet, wanted)
    contents = {}
    for name in names:
        say(f"finishing {name}.pdf")
        contents[name] = _finish_part(drawn, cut, packet, parts[name])
    return contents


def _pick_names(packet: Packet, only: Sequence[str]) -> tuple[str, ...]:
    """The names to write, in the order of the packet, itself last."""
    names = (*(document.name for document in packet.documents), PACKET)
    unknown = [name for name in only if name not in names]
    if unknown:
        raise ValueError(f'no document is named "{unknown[0]}"; there are {", ".join(names)}')
    return tuple(name for name in names if name in only) if only else names


def _plan_parts(packet: Packet, wanted: list[Document]) -> dict[str, Part]:
    """Every file that the drawn pages allow, by name."""
    parts, first = {}, 0
    for document in wanted:
        parts[document.name] = Part(
            title=document.title, subject=packet.title, first=first, documents=(document,), outline=False
        )
        first += len(document.pages)
    together = tuple(document for document in wanted if not document.is_apart)
    subject = ", ".join(document.title for document in together)
    parts[PACKET] = Part(title=packet.title, subject=subject, first=0, documents=together, outline=True)
    return parts


def _finish_part(drawn: Sequence[Drawn], letters: Sequence[Cut], packet: Packet, part: Part) -> bytes:
    """The bytes of one file; ValueError when it would have no pages."""
    count = sum(len(document.pages) for document in part.documents)
    if not count:
        raise ValueError(f'"{part.title}" has no pages')
    file, taken = PdfFile(), drawn[part.first : part.first + count]
    root: dict[str, Value] = {
        "Type": Name("Catalog"),
        "PageLabels": _label_pages([page.label for page in taken]),
        "ViewerPreferences": TRUE_SIZE,
    }
    layers: dict[str, Value] = {}
    if any(page.is_layered for page in taken):
        root["OCProperties"], layers = add_layers(file)
    root["Pages"], pages = _add_pages(file, taken, letters, layers)
    if packet.source:
        root |= _enclose_source(file, packet)
    if part.outline:
        root["Outlines"] = _outline_documents(file, part, pages)
    return file.finish(file.add(root), file.add(_describe(packet, part)))


def _add_pages(
    file: PdfFile, drawn: Sequence[Drawn], letters: Sequence[Cut], layers: dict[str, Value]
) -> tuple[Ref, list[Value]]:
    """The root of the page tree (PDF 32000-1:2008, 7.7.3), and its pages."""
    fonts = file.add({cut.key: cut.embed(file) for cut in letters})
    printed = dict.fromkeys(picture for page in drawn for _, picture in page.pictures)
    known = {picture: file.add(_picture(picture)) for picture in printed}
    root = file.add_later()
    pages: list[Value] = []
    for page in drawn:
        resources: dict[str, Value] = {"Font": fonts}
        if page.is_layered:
            resources["Properties"] = layers
        if page.pictures:
            resources["XObject"] = {name: known[picture] for name, picture in page.pictures}
        shown: dict[str, Value] = {
            "Type": Name("Page"),
            "Parent": root,
            "MediaBox": [0, 0, page.wide_pt, page.high_pt],
            "Resources": resources,
            "Contents": file.add(page.stream),
        }
        pages.append(file.add(shown))
    file.put(root, {"Type": Name("Pages"), "Kids": pages, "Count": len(pages)})
    return root, pages


def _picture(picture: Picture) -> Stream:
    """Pixels in greys as an image (8.9.5)."""
    return pack(
        picture.pixels,
        Type=Name("XObject"),
        Subtype=Name("Image"),
        Width=picture.columns,
        Height=picture.rows,
        ColorSpace=Name("DeviceGray"),
        BitsPerComponent=8,
    )


def _describe(packet: Packet, part: Part) -> dict[str, Value]:
    """The document information dictionary (PDF 32000-1:2008, 14.3.3)."""
    day = _format_day(packet)
    return {
        "Title": part.title,
        "Author": packet.author,
        "Subject": part.subject,
        "Creator": PROGRAM,
        "Producer": PROGRAM,
        "CreationDate": day,
        "ModDate": day,
    }


def _format_day(packet: Packet) -> str:
    """The packet's day at midnight UTC as a PDF date (PDF 32000-1:2008, 7.9.4)."""
    return f"D:{packet.date.replace('-', '')}000000Z"


def _label_pages(labels: Sequence[str]) -> dict[str, Value]:
    """The label of each page as a number tree (PDF 32000-1:2008, 12.4.2)."""
    pairs: list[list[Value]] = [[number, {"P": label}] for number, label in enumerate(labels)]
    return {"Nums": [value for pair in pairs for value in pair]}


def _image_kind(name: str) -> str:
    return "image/png" if name.lower().endswith(".png") else "image/svg+xml"


def _enclose_source(file: PdfFile, packet: Packet) -> dict[str, Value]:
    """The spec and its drawings as attachments (PDF 32000-1:2008, 7.11.4; /AFRelationship: ISO 32000-2, from
    memory)."""
    enclosed = {
        packet.source_name: (packet.source, "application/toml"),
        **{name: (content, _image_kind(name)) for name, content in packet.files},
    }
    pairs: list[tuple[Value, Value]] = [
        (name, _enclose(file, name, *enclosed[name], _format_day(packet))) for name in sorted(enclosed)
    ]
    names: dict[str, Value] = {"Names": [value for pair in pairs for value in pair]}
    return {"Names": {"EmbeddedFiles": names}, "AF": [held for _, held in pairs]}


def _enclose(file: PdfFile, name: str, content: bytes, kind: str, day: str) -> Ref:
    about: dict[str, Value] = {"Size": len(content), "ModDate": day}
    held = file.add(pack(content, Type=Name("EmbeddedFile"), Subtype=Name(kind), Params=about))
    return file.add(
        {
            "Type": Name("Filespec"),
            "F": name,
            "UF": name,
            "EF": {"F": held, "UF": held},
            "AFRelationship": Name("Source"),
        }
    )


def _outline_documents(file: PdfFile, part: Part, pages: Sequence[Value]) -> Ref:
    """One entry for each document, at its first page (PDF 32000-1:2008, 12.3.3)."""
    root = file.add_later()
    items = [file.add_later() for _ in part.documents]
    page = 0
    for place, document in enumerate(part.documents):
        item: dict[str, Value] = {"Title": document.title, "Parent": root, "Dest": [pages[page], Name("Fit")]}
        if place:
            item["Prev"] = items[place - 1]
        if place + 1 < len(items):
            item["Next"] = items[place + 1]
        file.put(items[place], item)
        page += len(document.pages)
    file.put(root, {"Type": Name("Outlines"), "First": items[0], "Last": items[-1], "Count": len(items)})
    return root
