"""Drawn pages -> finished files: cut into documents, with title, page labels and the spec enclosed."""

from collections.abc import Callable, Sequence
from typing import Final

from reportlab.pdfbase.pdfdoc import (
    PDFArray,
    PDFDestinationFit,
    PDFDictionary,
    PDFDocument,
    PDFName,
    PDFObjectReference,
    PDFPage,
    PDFPageLabel,
    PDFPageLabels,
    PDFResourceDictionary,
    PDFStream,
    PDFString,
    PDFtrue,
    PDFZCompress,
)

from docgen.classes import dataclass
from docgen.pages.marks.page import ENGLISH, Document, Packet
from docgen.problems import count_words
from docgen.read import Picture
from docgen.version import __version__
from docgen.write.layers import add_layers
from docgen.write.letters import Letters
from docgen.write.pdf import Drawn, draw_pages

PROGRAM: Final = f"docgen {__version__}"
PACKET: Final = "packet"
"""Name of the file that holds all documents, one after the other."""

TRUE_SIZE: Final = PDFDictionary(
    {
        "PrintScaling": PDFName("None"),
        "Enforce": PDFArray([PDFName("PrintScaling")]),
        "PickTrayByPDFSize": PDFtrue,
        "DisplayDocTitle": PDFtrue,
    }
)
"""Asks the print dialog for 1:1 (PDF 32000-1:2008, 12.2; /Enforce: ISO 32000-2, from memory)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One file to be: which of the drawn pages it takes, and what it says of itself."""

    title: str
    subject: str
    first: int
    documents: tuple[Document, ...]
    outline: bool
    language: str = ENGLISH


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
    say(f"drawing {count_words(sum(len(document.pages) for document in wanted), 'page')}")
    letters = Letters()
    drawn = draw_pages((page for document in wanted for page in document.pages), letters)
    parts = _plan_parts(packet, wanted)
    contents = {}
    for name in names:
        say(f"finishing {name}.pdf")
        contents[name] = _finish_part(drawn, letters, packet, parts[name])
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
            title=document.title,
            subject=packet.title,
            first=first,
            documents=(document,),
            outline=False,
            language=document.language,
        )
        first += len(document.pages)
    together = tuple(document for document in wanted if not document.is_apart)
    subject = ", ".join(document.title for document in together)
    parts[PACKET] = Part(title=packet.title, subject=subject, first=0, documents=together, outline=True)
    return parts


def _finish_part(drawn: Sequence[Drawn], letters: Letters, packet: Packet, part: Part) -> bytes:
    """The bytes of one file; ValueError when it would have no pages."""
    count = sum(len(document.pages) for document in part.documents)
    if not count:
        raise ValueError(f'"{part.title}" has no pages')
    file = PDFDocument(compression=1, invariant=1, pdfVersion=(1, 7))
    taken = drawn[part.first : part.first + count]
    _sign(file, packet, part, taken)
    letters.embed(file)
    root = {
        "Type": PDFName("Catalog"),
        "Pages": file.Reference(file.Pages),
        "PageLabels": _label_pages([page.label for page in taken]),
        "ViewerPreferences": TRUE_SIZE,
        "Lang": PDFString(part.language),
    }
    layers: dict[str, PDFObjectReference] = {}
    if any(page.is_layered for page in taken):
        root["OCProperties"], layers = add_layers(file)
    _add_pages(file, taken, layers)
    if packet.source:
        root |= _enclose_source(file, packet)
    if part.outline:
        root["Outlines"] = _outline_documents(file, part)
    file.Catalog = PDFDictionary(root)
    file.info = _describe(packet, part)
    content: bytes = file.format()
    return content


def _sign(file: PDFDocument, packet: Packet, part: Part, drawn: Sequence[Drawn]) -> None:
    """Make the file's identifier (PDF 32000-1:2008, 14.4) from what is in it."""
    for words in (PROGRAM, part.title, part.subject, packet.author, packet.date, packet.source_name):
        file.updateSignature(words)
    for page in drawn:
        file.updateSignature(f"{page.label} {page.wide_pt} {page.high_pt}")
        file.updateSignature(page.packed)
    for content in (packet.source, *(content for _, content in packet.files)):
        file.updateSignature(content)


def _add_pages(file: PDFDocument, drawn: Sequence[Drawn], layers: dict[str, PDFObjectReference]) -> None:
    """Every page (PDF 32000-1:2008, 7.7.3); pixels that stand on several are held once."""
    printed = dict.fromkeys(picture for page in drawn for _, picture in page.pictures)
    known = {picture: _add_picture(file, picture) for picture in printed}
    for page in drawn:
        resources = PDFResourceDictionary(
            Properties=layers if page.is_layered else {},
            XObject={name: known[picture] for name, picture in page.pictures},
        )
        resources.basicFonts()
        shown = PDFPage()
        shown.MediaBox = PDFArray([0, 0, page.wide_pt, page.high_pt])
        shown.Resources = resources
        shown.Contents = PDFStream(PDFDictionary({"Filter": PDFName("FlateDecode")}), page.packed)
        file.addPage(shown)


def _add_picture(file: PDFDocument, picture: Picture) -> PDFObjectReference:
    """Pixels in greys as an image (8.9.5)."""
    about = {
        "Type": PDFName("XObject"),
        "Subtype": PDFName("Image"),
        "Width": picture.columns,
        "Height": picture.rows,
        "ColorSpace": PDFName("DeviceGray"),
        "BitsPerComponent": 8,
    }
    return file.Reference(PDFStream(PDFDictionary(about), picture.pixels, [PDFZCompress]))


def _describe(packet: Packet, part: Part) -> PDFDictionary:
    """The document information dictionary (PDF 32000-1:2008, 14.3.3)."""
    day = _format_day(packet)
    words = {
        "Title": part.title,
        "Author": packet.author,
        "Subject": part.subject,
        "Creator": PROGRAM,
        "Producer": PROGRAM,
        "CreationDate": day,
        "ModDate": day,
    }
    return PDFDictionary({key: PDFString(value) for key, value in words.items()})


def _format_day(packet: Packet) -> str:
    """The packet's day at midnight UTC as a PDF date (PDF 32000-1:2008, 7.9.4)."""
    return f"D:{packet.date.replace('-', '')}000000Z"


def _label_pages(labels: Sequence[str]) -> PDFPageLabels:
    """The label of each page as a number tree (PDF 32000-1:2008, 12.4.2)."""
    tree = PDFPageLabels()
    for number, label in enumerate(labels):
        tree.addPageLabel(number, PDFPageLabel(prefix=label))
    return tree


def _image_kind(name: str) -> str:
    return "image/png" if name.lower().endswith(".png") else "image/svg+xml"


def _enclose_source(file: PDFDocument, packet: Packet) -> dict[str, PDFDictionary]:
    """The spec and its drawings as attachments (PDF 32000-1:2008, 7.11.4; /AFRelationship: ISO 32000-2, from
    memory)."""
    enclosed = {
        packet.source_name: (packet.source, "application/toml"),
        **{name: (content, _image_kind(name)) for name, content in packet.files},
    }
    held = {name: _enclose(file, name, *enclosed[name], _format_day(packet)) for name in sorted(enclosed)}
    names = PDFArray(value for name, place in held.items() for value in (PDFString(name), place))
    return {"Names": PDFDictionary({"EmbeddedFiles": PDFDictionary({"Names": names})}), "AF": PDFArray(held.values())}


def _enclose(file: PDFDocument, name: str, content: bytes, kind: str, day: str) -> PDFObjectReference:
    about = {
        "Type": PDFName("EmbeddedFile"),
        "Subtype": f"/{kind.replace('/', '#2F')}",
        "Params": PDFDictionary({"Size": len(content), "ModDate": PDFString(day)}),
    }
    held = file.Reference(PDFStream(PDFDictionary(about), content, [PDFZCompress]))
    said = {
        "Type": PDFName("Filespec"),
        "F": PDFString(name),
        "UF": PDFString(name),
        "EF": PDFDictionary({"F": held, "UF": held}),
        "AFRelationship": PDFName("Source"),
    }
    return file.Reference(PDFDictionary(said))


def _outline_documents(file: PDFDocument, part: Part) -> PDFObjectReference:
    """One entry for each document, at its first page (PDF 32000-1:2008, 12.3.3)."""
    entries, page = [], 0
    for document in part.documents:
        entries.append({document.name: PDFDestinationFit(file.Pages[page])})
        file.Outlines.destinationnamestotitles[document.name] = document.title
        page += len(document.pages)
    file.Outlines.setDestinations(entries)
    file.Outlines.prepare(file, None)
    return file.Reference(file.Outlines)
