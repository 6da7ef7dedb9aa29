"""The spec as written: every value with its place in the file.

These classes are the one source of the spec language. Each field carries, as metadata, what a person
needs to know about its key; the checks, `docgen keys`, and the JSON Schema are all made from it.
A TOML key is the field's name with `-` for `_`. A value that was missing or wrong is None (the problem
has then been noted), so that the later phases can go on with the rest.
"""

# ruff: noqa: RUF009 - `key` only makes a field, and `Place` is immutable.

from __future__ import annotations

from dataclasses import dataclass
from typing import Generic, TypeVar

from docgen.problems import Place, Problem
from docgen.read.drawing import Drawing
from docgen.read.kinds import key
from docgen.read.name_mark import Picture
from docgen.tables.care import PART_IDS
from docgen.tables.hardware import HARDWARE_KINDS

T = TypeVar("T")


@dataclass(frozen=True, slots=True, kw_only=True)
class Value(Generic[T]):
    """A value as written, and where."""

    value: T
    place: Place


Text = Value[str] | None
Length = Value[str] | None  # written length or arithmetic on measures, not yet worked out
Count = Value[int] | None
Flag = Value[bool] | None
Names = tuple[Value[str], ...]
Lengths = tuple[Value[str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class NamedLength:
    """One `name = length` pair: a measure, or a corner with its radius (name "" for every corner)."""

    name: str
    length: Value[str]


@dataclass(frozen=True, slots=True, kw_only=True)
class HeadSpec:
    place: Place = Place()
    code: Text = key("code", "Short name of the build, printed on every page and in its code.", required=True)
    title: Text = key("text", "What the thing is called.", required=True)
    version: Text = key(
        "version", "Version of this spec; raise it whenever something changes.", required=True
    )
    changed: Text = key("note", "What is different from the version before.")
    show: Text = key("choice", "Which unit stands first on the pages.", choices=("in", "mm"), default="in")
    makes: Count = key("count", "How many are made in this batch.", default="1", least=1, most=1000)


@dataclass(frozen=True, slots=True, kw_only=True)
class ShopSpec:
    place: Place = Place()
    name: Text = key("text", "Name of the workshop, on every page and the care card.")
    contact: Text = key("text", "How a customer reaches the shop; printed on the care card.")
    link: Text = key(
        "link", 'What a phone opens when it scans a page; https address, takes the place of "SPEC:".'
    )
    mark: Text = key("text", "Name mark: SVG or PNG file beside the spec, printed in grey.")


@dataclass(frozen=True, slots=True, kw_only=True)
class PatternSpec:
    place: Place = Place()
    paper: Text = key(
        "text",
        'Paper to print on: letter, legal, tabloid, a4, a3, a0, WIDTHxHEIGHT, or a roll by its width ("roll 36 in").',
        default="letter",
    )
    margin: Length = key(
        "length", "What the printer leaves white on every side.", unit="length", default="1/4 in"
    )
    overlap: Length = key(
        "length", "How far neighbouring sheets lie over each other.", unit="length", default="3/8 in"
    )
    join: Text = key(
        "choice",
        "How sheets are joined: one is trimmed and laid on a line, or they overlap untrimmed.",
        choices=("trim", "overlap"),
        default="trim",
    )
    full_straps: Flag = key(
        "flag", "True: long straps are printed whole, not as their two ends.", default="false"
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class MaterialSpec:
    name: str = ""
    place: Place = Place()
    title: Text = key("text", "Words for the lists.", default="the table's name")
    kind: Text = key("choice", "What it is.", choices=("leather", "fabric", "foam", "board"), required=True)
    tannage: Text = key("choice", "How leather was tanned.", choices=("vegetable", "chrome", "combination"))
    finish: Text = key(
        "choice",
        "Surface of leather.",
        choices=("plain", "waxed", "oiled", "coated", "suede"),
        default="plain",
    )
    thickness: Length = key("thickness", "Thickness.", unit="oz, iron or length", required=True)
    waste: Text = key(
        "percent",
        "Share of the hide or cloth that is lost in cutting (of the whole, not on top).",
        unit="%",
        default="25 % leather, 10 % other",
    )
    width: Length = key("length", "Usable width of goods sold by running length.", unit="length")
    density: Text = key(
        "density", "Density, for the weight of what is made.", unit="g/cm3", default="by table"
    )
    price: Text = key("price", "What it costs.", unit="a number for an area, a length or each")
    note: Text = key("note", "Words for the cutting list.")


@dataclass(frozen=True, slots=True, kw_only=True)
class MachineSpec:
    name: str = ""
    place: Place = Place()
    title: Text = key("text", "Words for the pages.", default="the table's name")
    lifts: Length = key("length", "What fits under the raised foot and can be sewn.", unit="length")
    needle_from: Text = key("needle", "Thinnest needle it takes.")
    needle_to: Text = key("needle", "Thickest needle it takes.")
    longest_stitch: Text = key("pitch", "Longest stitch it makes.", unit="per inch, length or iron")


@dataclass(frozen=True, slots=True, kw_only=True)
class StitchSpec:
    name: str = ""
    place: Place = Place()
    by: Text = key("choice", "Sewn by machine or by hand.", choices=("machine", "hand"), required=True)
    type: Text = key(
        "choice", "Stitch type of a machine, by its ISO 4915 number.", choices=("301", "209"), default="301"
    )
    thread: Text = key("thread", "Thread by Tex, ticket or V number, with fibre.", required=True)
    thread_strength: Text = key(
        "load",
        "What the thread breaks at; with different threads in needle and bobbin, the weaker one.",
        default="by table",
    )
    thread_price: Text = key("price", "What the thread costs.", unit="a number for a length or each spool")
    machine: Text = key("name", "Machine it is sewn on.", to="machines")
    needle: Text = key("needle", "Needle size.", default="from the thread, by table")
    point: Text = key(
        "choice",
        "Point of a machine needle.",
        choices=("leather", "round"),
        default="leather where it sews leather",
    )
    pitch: Text = key("pitch", "Length of one stitch.", unit="per inch, length or iron", required=True)
    inset: Length = key("length", "Stitch line, in from the cut edge.", unit="length", required=True)
    rows: Count = key("count", "Rows of stitching.", default="1", least=1, most=6)
    row_gap: Length = key("length", "Distance between rows.", unit="length", default="1/8 in")
    back_tack: Length = key("length", "Sewn back over at each end.", unit="length", default="1/2 in")
    bobbin: Text = key("run", "Thread that fills a bobbin.", unit="m or yd", default="3 g of it")
    spool: Text = key(
        "run", "Thread on the spool that is bought.", unit="m or yd", default="4 oz of it, by hand 50 g"
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class PointSpec:
    place: Place = Place()
    at: Lengths = key(
        "lengths",
        "Where: across from the left end, up from the bottom.",
        unit="length",
        size=2,
        required=True,
    )
    name: Text = key("code", "Name of the corner.")
    round: Length = key("length", "Radius of the corner.", unit="length", default="0")
    edge: Text = key("code", "Name of the edge from this point to the next.", default="edge-1, edge-2, ...")
    curve: Lengths = key(
        "lengths",
        "Makes the edge to the next point a curve: two handles, as across, up, across, up.",
        unit="length",
        size=4,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class CornerSpec:
    place: Place = Place()
    at: Lengths = key(
        "lengths",
        "Where: across and up from the lower left of the drawn outline.",
        unit="length",
        size=2,
        required=True,
    )
    name: Text = key("code", "Name of the corner.")
    edge: Text = key(
        "code",
        "Name of the edge from here to the next corner, anticlockwise.",
        default="edge-1, edge-2, ...",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class HoleSpec:
    place: Place = Place()
    at: Text = key("position", "Centre of the hole.", required=True)
    punch: Length = key("length", "Size of the punch.", unit="length", required=True)
    long: Length = key("length", "Whole length of an oblong hole; the punch is its width.", unit="length")
    lies: Text = key("choice", "Which way an oblong hole lies.", choices=("up", "across"), default="up")
    takes: Text = key("name", "Hardware that goes in.", to="hardware")
    through: Names = key(
        "texts",
        "Pieces, joins or straps that it goes through besides, without those that land here; a folded one is "
        "named twice.",
        most=10,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class HoleRowSpec:
    place: Place = Place()
    start: Text = key("position", "Centre of the first hole.", required=True)
    end: Text = key("position", "Centre of the last hole.", required=True)
    count: Count = key("count", "Number of holes.", required=True, least=2, most=500)
    punch: Length = key("length", "Size of the punch.", unit="length", required=True)
    takes: Text = key("name", "Hardware that goes in each.", to="hardware")
    through: Names = key(
        "texts",
        "Pieces, joins or straps that each goes through besides, without those that land here; a folded one is "
        "named twice.",
        most=10,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class NotchSpec:
    place: Place = Place()
    on: Text = key("code", "Edge that carries the notch.", required=True)
    at: Text = key(
        "text",
        'Where along it: "middle", or a length from one of its neighbours ("2 in from left").',
        default="middle",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class FoldSpec:
    place: Place = Place()
    at: Text = key("position", 'A line across the piece ("1 in from top", "centre").', required=True)
    note: Text = key("text", "Which way, for the pattern.")
    open: Flag = key(
        "flag",
        "True: it only bends, as a flap does; its halves are not fixed on each other.",
        default="false",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class SlitSpec:
    place: Place = Place()
    start: Text = key("position", "One end of the cut.", required=True)
    end: Text = key("position", "The other end.", required=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class SkiveSpec:
    place: Place = Place()
    edges: Text = key("edges", "Edges that are thinned.", required=True)
    width: Length = key("length", "Width of the band.", unit="length", required=True)
    to: Length = key("thickness", "Thickness left.", unit="oz, iron or length", required=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class LandingSpec:
    place: Place = Place()
    piece: Text = key("name", "Piece that lands here.", to="pieces", required=True)
    at: Text = key(
        "position", "Where its nearest sides come to lie, from this piece's edges or centre.", required=True
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceSpec:
    name: str = ""
    place: Place = Place()
    wrong: tuple[str, ...] = ()  # fields that were written and could not be read (noted)
    title: Text = key("text", "Words for the label.", default="the table's name")
    of: Text = key("name", "Material it is cut from.", to="materials")
    cut: Count = key("count", "How many for one make.", default="1", least=1, most=200)
    pair: Flag = key("flag", "True: half of them are cut mirrored.", default="false")
    shape: Text = key(
        "choice", "Kind of shape.", choices=("rectangle", "strip", "circle", "outline", "drawing")
    )
    size: Lengths = key(
        "lengths", 'Width and height (a strip: width and length); one may be "solve".', unit="length", size=2
    )
    diameter: Length = key("length", "Diameter of a circle.", unit="length")
    points: tuple[PointSpec, ...] = key(
        "tables", "Corners of an outline, in order round it.", of=PointSpec, most=200
    )
    file: Text = key("text", "Drawing: SVG file beside the spec.")
    element: Text = key(
        "text",
        "Drawing: id of the outline, or of the group that holds it.",
        default="the only closed line",
    )
    scale: Length = key(
        "length", "Drawing: size of one of its units, only when it gives no real ones.", unit="length"
    )
    corners: tuple[CornerSpec, ...] = key(
        "tables",
        "Drawing: points of the outline between which its edges run.",
        default="its sharp corners, with edges edge-1, edge-2, ... from the one nearest the lower left",
        of=CornerSpec,
        most=200,
    )
    round: tuple[NamedLength, ...] = key(
        "corners", "Radius of the corners of a rectangle or strip.", unit="length"
    )
    like: Text = key("name", "Takes shape and marks from another piece.", to="pieces")
    mirror: Flag = key("flag", "Turned over, left for right.", default="false")
    inset: Length = key(
        "length", "Smaller than its model by this much all round (less than nothing: larger).", unit="length"
    )
    marks: Flag = key("flag", "Whether the model's marks come along.", default="true, false with an inset")
    holes: tuple[HoleSpec, ...] = key("tables", "Single holes.", of=HoleSpec, most=500)
    hole_rows: tuple[HoleRowSpec, ...] = key(
        "tables", "Rows of evenly spaced holes.", of=HoleRowSpec, most=100
    )
    notches: tuple[NotchSpec, ...] = key("tables", "Match marks on an edge.", of=NotchSpec, most=100)
    folds: tuple[FoldSpec, ...] = key("tables", "Fold lines.", of=FoldSpec, most=50)
    slits: tuple[SlitSpec, ...] = key("tables", "Straight cuts inside the piece.", of=SlitSpec, most=100)
    skives: tuple[SkiveSpec, ...] = key("tables", "Bands thinned along edges.", of=SkiveSpec, most=50)
    landings: tuple[LandingSpec, ...] = key(
        "tables", "Where other pieces land on this one.", of=LandingSpec, most=50
    )
    centre_lines: Text = key(
        "choice",
        "Centre lines drawn on the pattern.",
        choices=("up", "across", "both"),
    )
    least_stretch: Text = key(
        "choice",
        "Which way the leather must stretch least.",
        choices=("up", "across"),
        default="not said",
    )
    note: Text = key("note", "Words for the cutting list.")


@dataclass(frozen=True, slots=True, kw_only=True)
class JoinSpec:
    name: str = ""
    place: Place = Place()
    title: Text = key("text", "Words for the pages.", default="the table's name")
    of: Names = key("names", "Strips, in order, sewn end to end.", to="pieces", required=True, most=20)
    overlap: Length = key("length", "How far each end lies over the next.", unit="length", required=True)
    stitch: Text = key("name", "Stitch that holds the ends.", to="stitches", required=True)
    rows: Count = key("count", "Rows of stitching across each joint.", default="1", least=1, most=6)


@dataclass(frozen=True, slots=True, kw_only=True)
class SeamSpec:
    name: str = ""
    place: Place = Place()
    wrong: tuple[str, ...] = ()  # fields that were written and could not be read (noted)
    title: Text = key("text", "Words for the pages.", default="the table's name")
    stitch: Text = key("name", "Stitch used.", to="stitches", required=True)
    meet: Names = key("sides", "Partners of the seam, from the top layer down.", required=True, most=8)
    ease: Length = key(
        "length",
        "How much longer than the first partner the others may be; it is eased in.",
        unit="length",
        default="0",
    )
    load: Text = key("load", "What it has to carry; the thread is checked against it.", unit="kg, lb or N")


@dataclass(frozen=True, slots=True, kw_only=True)
class StrapHolesSpec:
    place: Place = Place()
    count: Count = key(
        "count", "Number of holes; odd, so that there is a middle one.", required=True, least=1, most=99
    )
    pitch: Length = key("length", "From hole to hole.", unit="length", default="1 in")
    punch: Length = key("length", "Size of the punch.", unit="length", required=True)
    tip: Length = key("length", "From the last hole to the tip.", unit="length", default="3 in")


@dataclass(frozen=True, slots=True, kw_only=True)
class StrapEndSpec:
    place: Place = Place()
    shape: Text = key(
        "choice", "How the end is made.", choices=("square", "rounded", "pointed", "turned"), required=True
    )
    back: Length = key("length", "Turned: how far it lies back on itself.", unit="length")
    around: Text = key("name", "Turned: hardware that the end goes round.", to="hardware")
    takes: Text = key("name", "Turned: hardware that closes it.", to="hardware")
    number: Count = key("count", "How many of that hardware.", default="1", least=1, most=20)


@dataclass(frozen=True, slots=True, kw_only=True)
class StrapPunchSpec:
    place: Place = Place()
    at: Text = key("position", "Centre of the hole, from start, end, left, right or a middle.", required=True)
    punch: Length = key("length", "Size of the punch.", unit="length", required=True)
    long: Length = key("length", "Whole length of an oblong hole; the punch is its width.", unit="length")
    lies: Text = key("choice", "Which way an oblong hole lies.", choices=("up", "across"), default="up")


@dataclass(frozen=True, slots=True, kw_only=True)
class StrapSpec:
    name: str = ""
    place: Place = Place()
    wrong: tuple[str, ...] = ()  # fields that were written and could not be read (noted)
    title: Text = key("text", "Words for the pages.", default="the table's name")
    of: Text = key("name", "Material it is cut from.", to="materials", required=True)
    cut: Count = key("count", "How many for one make.", default="1", least=1, most=200)
    width: Length = key("length", "Width.", unit="length", required=True)
    finished: Length = key(
        "length", "Length when made up, from end to end (from bar to bar where turned).", unit="length"
    )
    wears: Length = key(
        "length",
        "Length when worn, at the middle hole: from the other end (or its partner's) to that hole.",
        unit="length",
    )
    partner: Text = key("name", "The other part of a two-part strap, which carries the buckle.", to="straps")
    holes: StrapHolesSpec | None = key("table", "Row of buckle holes at the second end.", of=StrapHolesSpec)
    punches: tuple[StrapPunchSpec, ...] = key(
        "tables",
        "Further holes: for rivets and screws, the slot of a buckle's tongue.",
        of=StrapPunchSpec,
        most=50,
    )
    ends: tuple[StrapEndSpec, ...] = key("tables", "First and second end.", of=StrapEndSpec, size=2)
    stitch: Text = key("name", "Stitch along its edges.", to="stitches")
    doubled: Flag = key("flag", "True: a second layer lies under its finished length.", default="false")
    lining: Text = key(
        "name", "Material of the second layer.", to="materials", default="as the strap, when doubled"
    )
    keeper_for: Text = key(
        "name", "Makes it a keeper: the strap it goes round, in place of a length.", to="straps"
    )
    layers: Count = key("count", "Keeper: layers of the strap that lie in it.", default="3", least=1, most=9)
    overlap: Length = key(
        "length",
        "Keeper: how far its ends lie over each other; 0 where they meet.",
        unit="length",
        default="1/2 in",
    )
    note: Text = key("note", "Words for the cutting list.")


@dataclass(frozen=True, slots=True, kw_only=True)
class HardwareSpec:
    name: str = ""
    place: Place = Place()
    what: Text = key("text", "What it is.", required=True)
    kind: Text = key(
        "choice",
        "What kind of hardware; its post and its hole are checked.",
        choices=HARDWARE_KINDS,
        default="from the words of what it is",
    )
    count: Count = key("count", "How many for one make.", required=True, least=1, most=10000)
    finish: Text = key("text", 'Metal or plating ("nickel-plated", "solid brass", "stainless steel").')
    inside: Length = key("length", "Inside width, for the strap that goes through.", unit="length")
    bar: Length = key("length", "Thickness of the bar that a strap turns round.", unit="length")
    posts: Lengths = key("lengths", "Post lengths in the drawer.", unit="length", most=20)
    hole: Length = key("length", "Hole that it needs.", unit="length", default="a usual size, by kind")
    weight: Text = key("weight", "Weight of one.", unit="g or oz")
    price: Text = key("price", "What it costs.", unit="a number each, or per so many")
    note: Text = key("note", "Words for the list.")


@dataclass(frozen=True, slots=True, kw_only=True)
class StepSpec:
    place: Place = Place()
    do: Text = key("note", "What is done, in plain words.", required=True)
    group: Text = key("text", "Heading of the part of the work it belongs to.")
    pieces: Names = key("names", "Pieces that are handled.", to="pieces", most=50)
    skives: Names = key("names", "Pieces that are skived.", to="pieces", most=50)
    joins: Names = key("names", "Joins that are sewn.", to="joins", most=20)
    seams: Names = key("names", "Seams that are sewn.", to="seams", most=20)
    straps: Names = key("names", "Straps that are made.", to="straps", most=20)
    hardware: Names = key("names", "Hardware that is set.", to="hardware", most=20)
    tools: Names = key("texts", "Tools and consumables to have ready.", most=20)
    note: Text = key("note", "What to watch for; what good looks like.")
    minutes: Count = key("count", "How long it takes for one make.", least=1, most=10000)


@dataclass(frozen=True, slots=True, kw_only=True)
class InsideSpec:
    place: Place = Place()
    width: Length = key("length", "Room across, after lining and foam.", unit="length", required=True)
    height: Length = key("length", "Room up.", unit="length", required=True)
    depth: Length = key("length", "Room front to back.", unit="length", required=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class HeldSpec:
    place: Place = Place()
    what: Text = key("text", "Thing that goes in.", required=True)
    size: Lengths = key("lengths", "Its width, height and depth.", unit="length", size=3, required=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class CostsSpec:
    place: Place = Place()
    currency: Text = key("text", "Word for the money, beside every sum.")
    labour: Text = key("price", "What an hour of work costs.", unit="a number per hour")


@dataclass(frozen=True, slots=True, kw_only=True)
class AcceptSpec:
    place: Place = Place()
    check: Text = key("code", "Check whose caution is accepted; `docgen check` tells it.", required=True)
    at: Text = key("text", "Part it concerns.", default="every part")
    reason: Text = key("note", "Why it is all right here; printed with it.", required=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class CarePartSpec:
    place: Place = Place()
    id: Text = key("choice", "Which advice.", choices=PART_IDS, required=True)
    text: Text = key("note", "The shop's own words for it.", required=True)
    instead: Flag = key(
        "flag", "True: in place of the words of the card; false: after them.", default="false"
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class CareSpec:
    place: Place = Place()
    card: Text = key(
        "choice",
        "Size of the card; ID-1 is that of a bank card.",
        choices=("A6", "4x6 in", "ID-1", "A5 folded"),
        default="A6",
    )
    sides: Count = key(
        "count",
        "Printed on one side or two.",
        default="1; 2 for ID-1 and A5 folded, which always have two",
        least=1,
        most=2,
    )
    turn: Text = key(
        "choice",
        "Edge of the paper about which the printer turns it for the second side.",
        choices=("long", "short"),
        default="long",
    )
    language: Text = key("code", 'Language of the card, like "en" or "de".', default="en")
    load: Text = key("text", "What the shop says it may carry; printed as the shop's own claim.")
    extra: Text = key("note", "The shop's own words, after the advice.")
    repair: Text = key("note", "What the shop offers when something wears or breaks.")
    parts: tuple[CarePartSpec, ...] = key(
        "tables", "Advice in the shop's own words.", of=CarePartSpec, most=len(PART_IDS)
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class VariantSpec:
    name: str = ""
    place: Place = Place()
    title: Text = key("text", "Words that follow the title of the build.", default="the table's name")
    measures: tuple[NamedLength, ...] = key(
        "measures", "Measures that are other in this variant.", unit="length", most=300
    )
    makes: Count = key(
        "count", "How many are made in this batch.", default="as in [spec]", least=1, most=1000
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Spec:
    """A whole spec as written.

    `source` is the file's bytes; `digest` the first 10 hex digits, upper case, of a SHA-256 over them and the
    drawings; `problems` what reading found; `drawings` what was read for each drawn piece, by its name; `files`
    name and bytes of every drawing, by name.
    """

    path: str = ""
    source: bytes = b""
    digest: str = ""
    problems: tuple[Problem, ...] = ()
    drawings: tuple[tuple[str, Drawing], ...] = ()
    files: tuple[tuple[str, bytes], ...] = ()
    mark: Picture | None = None
    spec: HeadSpec | None = key("table", "What this build is.", of=HeadSpec, required=True)
    shop: ShopSpec | None = key("table", "Who makes it.", of=ShopSpec)
    pattern: PatternSpec | None = key("table", "How the pattern is printed.", of=PatternSpec)
    measures: tuple[NamedLength, ...] = key(
        "measures", "Named lengths, used by name in any length.", unit="length", most=300
    )
    variants: tuple[VariantSpec, ...] = key(
        "named tables",
        "Variants with other measures; then they are made, each for itself.",
        of=VariantSpec,
        most=20,
    )
    materials: tuple[MaterialSpec, ...] = key(
        "named tables", "What pieces are cut from.", of=MaterialSpec, most=50, required=True
    )
    stitches: tuple[StitchSpec, ...] = key("named tables", "How edges are sewn.", of=StitchSpec, most=30)
    machines: tuple[MachineSpec, ...] = key(
        "named tables", "Sewing machines of the shop.", of=MachineSpec, most=20
    )
    pieces: tuple[PieceSpec, ...] = key("named tables", "Pieces to cut.", of=PieceSpec, most=300)
    joins: tuple[JoinSpec, ...] = key(
        "named tables", "Strips sewn end to end into one.", of=JoinSpec, most=50
    )
    seams: tuple[SeamSpec, ...] = key("named tables", "Edges sewn together.", of=SeamSpec, most=200)
    straps: tuple[StrapSpec, ...] = key("named tables", "Straps and handles.", of=StrapSpec, most=100)
    hardware: tuple[HardwareSpec, ...] = key(
        "named tables", "Rivets, rings, buckles and the like.", of=HardwareSpec, most=100
    )
    inside: InsideSpec | None = key("table", "Room inside what is made.", of=InsideSpec)
    holds: tuple[HeldSpec, ...] = key("tables", "What has to go in.", of=HeldSpec, most=50)
    costs: CostsSpec | None = key("table", "Money; plain numbers.", of=CostsSpec)
    accept: tuple[AcceptSpec, ...] = key(
        "tables", "Cautions that are all right here, each with its reason.", of=AcceptSpec, most=100
    )
    steps: tuple[StepSpec, ...] = key("tables", "The work, in order.", of=StepSpec, most=300)
    care: CareSpec | None = key("table", "The customer's care card.", of=CareSpec)
