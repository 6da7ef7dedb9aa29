"""Reading: one TOML file and the drawings beside it -> `Spec`, the spec as written with the place of every value.

Why a package of its own: it is the only one that knows TOML and the only one that opens the spec. Every
later phase may import what is exported here; the rest of the package is its own affair.
"""

from dataclasses import replace
from pathlib import Path

from docgen.read.bringing import bring_parts, list_brought, own_words
from docgen.read.check import check_document
from docgen.read.keys import describe_keys, render_keys
from docgen.read.kinds import NAME_MOST, Key, is_device, list_keys
from docgen.read.locate import locate_keys
from docgen.read.orders import Order, read_orders, share_orders
from docgen.read.part_files import Shown, open_parts, show_ready
from docgen.read.ready import READY
from docgen.read.schema import json_schema
from docgen.read.shop_file import (
    SHOP_FILE,
    PricesSpec,
    PrinterSpec,
    ShopFile,
    find_shop_file,
    read_shop_file,
    replace_printer,
)
from docgen.read.source import (
    NotOrdinary,
    check_file_name,
    decode_source,
    parse_source,
    read_ordinary,
    read_source,
    read_tables,
    read_values,
)
from docgen.read.spec import (
    AcceptSpec,
    CarePartSpec,
    CareSpec,
    CostsSpec,
    HardwareSpec,
    HeadSpec,
    HeldSpec,
    InsideSpec,
    LimitsSpec,
    MachineSpec,
    MaterialSpec,
    MeasureRange,
    PatternSpec,
    ShopSpec,
    Spec,
    StepSpec,
    VariantSpec,
)
from docgen.read.spec_goods import GOODS_KEYS, GoodsSpec
from docgen.read.spec_pieces import (
    CornerSpec,
    DividerSpec,
    DrawnHoleSpec,
    FoldSpec,
    HemSpec,
    HoleRowSpec,
    HoleSpec,
    LaidSpec,
    LandingSpec,
    NotchSpec,
    PieceSpec,
    PointSpec,
    SkiveSpec,
    SlitSpec,
)
from docgen.read.spec_sewing import (
    IronSpec,
    JoinSpec,
    SeamSpec,
    StitchSpec,
    StrapEndSpec,
    StrapHolesSpec,
    StrapPaddingSpec,
    StrapPunchSpec,
    StrapSkiveSpec,
    StrapSpec,
)
from docgen.read.spec_trimmings import TrimmingSpec
from docgen.read.svg.drawing import Drawing, Sketch, draw_sketch
from docgen.read.svg.drawn_pieces import make_digest, read_drawings
from docgen.read.svg.found import FoundDrawing, FoundPiece, find_pieces
from docgen.read.svg.hide_drawing import HideDrawing, read_hide
from docgen.read.svg.name_mark import Picture, PictureShape
from docgen.read.svg.svg_file import DrawingError
from docgen.read.values import is_name, make_name
from docgen.read.written import Count, Flag, Length, Lengths, NamedLength, NamedPrice, NamedTable, Names, Text, Value


def read_spec(path: str | Path) -> Spec:
    """The spec in a TOML file, with `problems` filled and what was wrong left out.

    Raises `SpecRejected` only when nothing sensible can go on: no such file, not readable, larger than
    512 KiB, a file name that no text can hold, not UTF-8, an error of syntax, nesting deeper than 8.
    """
    source = read_source(path)
    check_file_name(path)
    text = decode_source(path, source)
    document = parse_source(path, text)
    opened = open_parts(path, document)
    checked = check_document(str(path), document, locate_keys(text), list_brought(opened))
    spec = read_drawings(bring_parts(checked, opened) if opened else checked)
    return replace(spec, source=source, digest=make_digest(source, spec.files))
