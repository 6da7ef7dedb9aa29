"""What a DXF file of release 2000 (AC1015) holds round its entities: header, tables, blocks, objects.

Source of the format: Autodesk, DXF Reference for release 2000, group codes of HEADER, TABLES, BLOCKS and OBJECTS; from
memory, and audited by another library in the tests.
"""

from collections.abc import Iterable, Iterator
from typing import Final

from docgen.pages.drawn.export import Drawing

Group = tuple[int, str | int | float]
"""A group code and its value: two lines of the file."""

DECIMAL: Final = 2  # $LUNITS
MILLIMETRES: Final = 4  # $INSUNITS
METRIC: Final = 1  # $MEASUREMENT
FIRST_HANDLE: Final = 0x100  # of the entities; all handles below are of the frame
SPACES: Final = {"*Model_Space": 0x1F, "*Paper_Space": 0x1B}
TABLES: Final = {
    "VPORT": 0x8,
    "LTYPE": 0x5,
    "LAYER": 0x2,
    "STYLE": 0x3,
    "VIEW": 0x6,
    "UCS": 0x7,
    "APPID": 0x9,
    "DIMSTYLE": 0xA,
    "BLOCK_RECORD": 0x1,
}
TEXT_STYLE, ROOT, GROUPS, PLOT_STYLES, PLOT_STYLE = 0x11, 0xC, 0xD, 0xE, 0xF
FIRST_RECORD: Final = 0x40  # of the records that nothing points to

SOLID_LINE: Final[tuple[Group, ...]] = ((70, 0), (3, "solid line"), (72, 65), (73, 0), (40, 0.0))
TEXT_LOOKS: Final[tuple[Group, ...]] = (
    *((70, 0), (40, 0.0), (41, 1.0), (50, 0.0)),
    *((71, 0), (42, 2.5), (3, "txt"), (4, "")),
)

COLOURS: Final = {"cut": 7, "holes": 32, "pricks": 212, "stitch": 221, "marks": 116, "words": 8}
"""Layer -> colour number of the format; 7, black or white, for any other."""


def frame(drawing: Drawing, entities: Iterable[Group], count: int) -> Iterator[Group]:
    """The whole file round so many entities."""
    parts = (
        ("HEADER", _header(drawing, FIRST_HANDLE + count)),
        ("CLASSES", ()),
        ("TABLES", _tables(drawing)),
        ("BLOCKS", _blocks()),
        ("ENTITIES", entities),
        ("OBJECTS", _objects()),
    )
    for name, groups in parts:
        yield from ((0, "SECTION"), (2, name))
        yield from groups
        yield 0, "ENDSEC"
    yield 0, "EOF"


def begin(kind: str, handle: int, owner: int, *classes: str, code: int = 5) -> Iterator[Group]:
    """The head of an entity or record: kind, handle, owner, and the classes whose groups follow."""
    yield from ((0, kind), (code, f"{handle:X}"), (330, f"{owner:X}"))
    yield from ((100, name) for name in classes)


def point(code: int, x: float, y: float, z: float | None = 0.0) -> tuple[Group, ...]:
    """A place as groups of a code, and of that code and 10 and 20; a flat one with z None."""
    flat = ((code, float(x)), (code + 10, float(y)))
    return flat if z is None else (*flat, (code + 20, float(z)))


def _header(drawing: Drawing, next_handle: int) -> Iterator[Group]:
    yield from ((9, "$ACADVER"), (1, "AC1015"), (9, "$DWGCODEPAGE"), (3, "ANSI_1252"))
    yield from ((9, "$EXTMIN"), *point(10, 0, 0), (9, "$EXTMAX"), *point(10, drawing.width_mm, drawing.height_mm))
    yield from ((9, "$LIMMIN"), *point(10, 0, 0, None))
    yield from ((9, "$LIMMAX"), *point(10, drawing.width_mm, drawing.height_mm, None))
    yield from ((9, "$LUNITS"), (70, DECIMAL), (9, "$LUPREC"), (70, 4))
    yield from ((9, "$MEASUREMENT"), (70, METRIC), (9, "$INSUNITS"), (70, MILLIMETRES))
    yield from ((9, "$HANDSEED"), (5, f"{next_handle:X}"))


def _tables(drawing: Drawing) -> Iterator[Group]:
    layers = ("0", *(layer.name for layer in drawing.layers))
    records: dict[str, list[tuple[str, int, tuple[Group, ...]]]] = {
        "VPORT": [("*Active", 0, _whole_view(drawing))],
        "LTYPE": [(name, 0, SOLID_LINE) for name in ("ByBlock", "ByLayer", "Continuous")],
        "LAYER": [(name, 0, _layer(name)) for name in layers],
        "STYLE": [("Standard", TEXT_STYLE, TEXT_LOOKS)],
        "APPID": [("ACAD", 0, ((70, 0),))],
        "DIMSTYLE": [("Standard", 0, ((70, 0), (340, f"{TEXT_STYLE:X}")))],
        "BLOCK_RECORD": [(name, handle, ((340, "0"),)) for name, handle in SPACES.items()],
    }
    free = FIRST_RECORD
    for table, handle in TABLES.items():
        found = records.get(table, [])
        yield from ((0, "TABLE"), (2, table), (5, f"{handle:X}"), (330, "0"))
        yield from ((100, "AcDbSymbolTable"), (70, len(found)))
        yield from ((100, "AcDbDimStyleTable"), (71, 0)) if table == "DIMSTYLE" else ()
        for name, known, groups in found:
            code = 105 if table == "DIMSTYLE" else 5
            yield from begin(table, known or free, handle, "AcDbSymbolTableRecord", CLASSES[table], code=code)
            yield 2, name
            yield from groups
            free += 1
        yield 0, "ENDTAB"


CLASSES: Final = {
    "VPORT": "AcDbViewportTableRecord",
    "LTYPE": "AcDbLinetypeTableRecord",
    "LAYER": "AcDbLayerTableRecord",
    "STYLE": "AcDbTextStyleTableRecord",
    "APPID": "AcDbRegAppTableRecord",
    "DIMSTYLE": "AcDbDimStyleTableRecord",
    "BLOCK_RECORD": "AcDbBlockTableRecord",
}


def _whole_view(drawing: Drawing) -> tuple[Group, ...]:
    """The view that a program opens with: the whole drawing from above."""
    wide, high = drawing.width_mm, drawing.height_mm
    return (
        *((70, 0), *point(10, 0, 0, None), *point(11, 1, 1, None), *point(12, wide / 2, high / 2, None)),
        *(*point(13, 0, 0, None), *point(14, 10, 10, None), *point(15, 10, 10, None)),
        *(*point(16, 0, 0, 1), *point(17, 0, 0), (40, high), (41, wide / high), (42, 50.0)),
        *((43, 0.0), (44, 0.0), (50, 0.0), (51, 0.0), (71, 0), (72, 1000), (73, 1), (74, 3)),
        *((75, 0), (76, 0), (77, 0), (78, 0)),
    )


def _layer(name: str) -> tuple[Group, ...]:
    return ((70, 0), (62, COLOURS.get(name, 7)), (6, "Continuous"), (390, f"{PLOT_STYLE:X}"))


def _blocks() -> Iterator[Group]:
    for number, (name, handle) in enumerate(SPACES.items()):
        on_paper = ((67, 1),) if name == "*Paper_Space" else ()
        yield from begin("BLOCK", 0x20 + 2 * number, handle, "AcDbEntity")
        yield from (*on_paper, (8, "0"), (100, "AcDbBlockBegin"), (2, name))
        yield from ((70, 0), *point(10, 0, 0))
        yield from ((3, name), (1, ""))
        yield from begin("ENDBLK", 0x21 + 2 * number, handle, "AcDbEntity")
        yield from (*on_paper, (8, "0"), (100, "AcDbBlockEnd"))


def _objects() -> Iterator[Group]:
    """The dictionary that everything else hangs on, with no groups and one style of plotting."""
    yield from begin("DICTIONARY", ROOT, 0, "AcDbDictionary")
    yield from ((281, 1), (3, "ACAD_GROUP"), (350, f"{GROUPS:X}"))
    yield from ((3, "ACAD_PLOTSTYLENAME"), (350, f"{PLOT_STYLES:X}"))
    yield from (*begin("DICTIONARY", GROUPS, ROOT, "AcDbDictionary"), (281, 1))
    yield from begin("ACDBDICTIONARYWDFLT", PLOT_STYLES, ROOT, "AcDbDictionary")
    yield from ((281, 1), (3, "Normal"), (350, f"{PLOT_STYLE:X}"))
    yield from ((100, "AcDbDictionaryWithDefault"), (340, f"{PLOT_STYLE:X}"))
    yield from begin("ACDBPLACEHOLDER", PLOT_STYLE, PLOT_STYLES)
