"""Drawn pages -> finished files: cut into documents, with title, page labels and the spec enclosed."""

from __future__ import annotations

import gc
import hashlib
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from io import BytesIO
from typing import Final

from pypdf import PdfReader, PdfWriter
from pypdf.generic import (
    ArrayObject,
    BooleanObject,
    ByteStringObject,
    DictionaryObject,
    NameObject,
    NumberObject,
    PdfObject,
    StreamObject,
    TextStringObject,
)

from docgen.pages.marks.page import Document, Packet, Page
from docgen.version import __version__
from docgen.write.layers import add_layers, has_layers
from docgen.write.pdf import draw_pages

PROGRAM: Final = f"docgen {__version__}"
MANY_PAGES: Final = 500
TRAILER_MOST: Final = 2000
"""Bytes from the trailer to the end of a file, and many more."""
PACKET: Final = "packet"
"""Name of the file that holds all documents, one after the other."""


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
    notes: list[Note] = []
    reader = PdfReader(BytesIO(draw_pages(_note_pages(wanted, notes))))
    _sweep(len(notes))
    parts = _plan_parts(packet, wanted)
    contents = {}
    for name in names:
        say(f"finishing {name}.pdf")
        contents[name] = _finish_part(reader, packet, parts[name], notes)
        _sweep(sum(len(document.pages) for document in parts[name].documents))
    return contents


@dataclass(frozen=True, slots=True)
class Note:
    """What a file tells of a page that is drawn: its label, and whether it has layers."""

    label: str
    has_layers: bool


def _note_pages(documents: Sequence[Document], notes: list[Note]) -> Iterator[Page]:
    """Every page once, so that none need be kept, with a note of each."""
    for document in documents:
        for page in document.pages:
            notes.append(Note(page.label, has_layers(page)))
            yield page


def _sweep(pages: int) -> None:
    """Give back the circles that both libraries leave; those of few pages weigh less than it costs to look for them."""
    if pages >= MANY_PAGES:
        gc.collect()


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


def _finish_part(reader: PdfReader, packet: Packet, part: Part, notes: Sequence[Note]) -> bytes:
    """The bytes of one file; ValueError when it would have no pages."""
    count = sum(len(document.pages) for document in part.documents)
    if not count:
        raise ValueError(f'"{part.title}" has no pages')
    writer = PdfWriter()
    writer.pdf_header = "%PDF-1.7"
    noted = notes[part.first : part.first + count]
    writer.append(reader, pages=(part.first, part.first + count), import_outline=False)
    writer.metadata = _describe(packet, part)
    root = writer.root_object
    root[NameObject("/PageLabels")] = _label_pages([note.label for note in noted])
    root[NameObject("/ViewerPreferences")] = _prefer_true_size()
    add_layers(writer, [index for index, note in enumerate(noted) if note.has_layers])
    if packet.source:
        _enclose_source(writer, packet)
    if part.outline:
        _outline_documents(writer, part)
    return _write_bytes(writer)


def _describe(packet: Packet, part: Part) -> dict[str, str]:
    """The document information dictionary (PDF 32000-1:2008, 14.3.3)."""
    day = _format_day(packet)
    return {
        "/Title": part.title,
        "/Author": packet.author,
        "/Subject": part.subject,
        "/Creator": PROGRAM,
        "/Producer": PROGRAM,
        "/CreationDate": day,
        "/ModDate": day,
    }


def _format_day(packet: Packet) -> str:
    """The packet's day at midnight UTC as a PDF date (PDF 32000-1:2008, 7.9.4)."""
    return f"D:{packet.date.replace('-', '')}000000Z"


def _label_pages(labels: Sequence[str]) -> DictionaryObject:
    """The label of each page as a number tree (PDF 32000-1:2008, 12.4.2)."""
    tree: list[PdfObject] = []
    for number, label in enumerate(labels):
        tree += [NumberObject(number), DictionaryObject({NameObject("/P"): TextStringObject(label)})]
    return DictionaryObject({NameObject("/Nums"): ArrayObject(tree)})


def _prefer_true_size() -> DictionaryObject:
    """Asks the print dialog for 1:1 (PDF 32000-1:2008, 12.2; /Enforce: ISO 32000-2, from memory)."""
    return DictionaryObject(
        {
            NameObject("/PrintScaling"): NameObject("/None"),
            NameObject("/Enforce"): ArrayObject([NameObject("/PrintScaling")]),
            NameObject("/PickTrayByPDFSize"): BooleanObject(True),
            NameObject("/DisplayDocTitle"): BooleanObject(True),
        }
    )


def _image_kind(name: str) -> str:
    return "/image/png" if name.lower().endswith(".png") else "/image/svg+xml"


def _enclose_source(writer: PdfWriter, packet: Packet) -> None:
    """The spec and its drawings as attachments (PDF 32000-1:2008, 7.11.4; /AFRelationship: ISO 32000-2, from
    memory)."""
    enclosed = {
        packet.source_name: (packet.source, "/application/toml"),
        **{name: (content, _image_kind(name)) for name, content in packet.files},
    }
    pairs: list[PdfObject] = []
    files: list[PdfObject] = []
    for name in sorted(enclosed):
        content, kind = enclosed[name]
        files.append(_enclose(writer, name, content, kind, _format_day(packet)))
        pairs += [TextStringObject(name), files[-1]]
    names = DictionaryObject({NameObject("/Names"): ArrayObject(pairs)})
    writer.root_object[NameObject("/Names")] = DictionaryObject({NameObject("/EmbeddedFiles"): names})
    writer.root_object[NameObject("/AF")] = ArrayObject(files)


def _enclose(writer: PdfWriter, file: str, content: bytes, kind: str, day: str) -> PdfObject:
    stream = StreamObject()
    stream.set_data(content)
    stream[NameObject("/Type")] = NameObject("/EmbeddedFile")
    stream[NameObject("/Subtype")] = NameObject(kind)
    stream[NameObject("/Params")] = DictionaryObject(
        {NameObject("/Size"): NumberObject(len(content)), NameObject("/ModDate"): TextStringObject(day)}
    )
    held, name = writer._add_object(stream.flate_encode()), TextStringObject(file)
    return writer._add_object(
        DictionaryObject(
            {
                NameObject("/Type"): NameObject("/Filespec"),
                NameObject("/F"): name,
                NameObject("/UF"): name,
                NameObject("/EF"): DictionaryObject({NameObject("/F"): held, NameObject("/UF"): held}),
                NameObject("/AFRelationship"): NameObject("/Source"),
            }
        )
    )


def _outline_documents(writer: PdfWriter, part: Part) -> None:
    """One entry for each document, at its first page."""
    page = 0
    for document in part.documents:
        writer.add_outline_item(title=document.title, page_number=page)
        page += len(document.pages)


def _write_bytes(writer: PdfWriter) -> bytes:
    """The finished file, its identifier made from its own content (PDF 32000-1:2008, 14.4).

    It is written with a blank one, which stands at its very end and gives way, in place, to one as long.
    """
    blank = ByteStringObject(bytes(16))
    writer._ID = ArrayObject([blank, blank])
    stream = BytesIO()
    writer.write(stream)
    with stream.getbuffer() as content:
        mark = hashlib.sha256(content).hexdigest()[:32].encode("ascii")
        body, trailer, end = bytes(content[-TRAILER_MOST:]).rpartition(b"trailer")
        content[-TRAILER_MOST:] = b"".join((body, trailer, end.replace(blank.hex().encode("ascii"), mark)))
    return stream.getvalue()
