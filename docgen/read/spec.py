"""The spec as written: every value with its place in the file.

These classes are the one source of the spec language. Each field carries, as metadata, what a person
needs to know about its key; the checks, `docgen keys`, and the JSON Schema are all made from it.
A TOML key is the field's name with `-` for `_`. A value that was missing or wrong is None (the problem
has then been noted), so that the later phases can go on with the rest.
"""

from typing import TYPE_CHECKING, Any

from docgen.classes import dataclass
from docgen.problems import Problem
from docgen.read.kinds import key, limit_keys
from docgen.read.spec_goods import GoodsSpec
from docgen.read.spec_pieces import PieceChangeSpec, PieceSpec
from docgen.read.spec_sewing import IronSpec, JoinSpec, SeamSpec, StitchSpec, StrapChangeSpec, StrapSpec
from docgen.read.spec_trimmings import TrimmingSpec
from docgen.read.svg.drawing import Sketch
from docgen.read.svg.name_mark import Picture
from docgen.read.written import Count, Flag, Length, Lengths, NamedLength, NamedNumber, NamedTable, Names, Table, Text
from docgen.tables import defaults
from docgen.tables.care import PART_IDS
from docgen.tables.hardware import HARDWARE_KINDS
from docgen.tables.material import WASTE_BY_KIND
from docgen.tables.paper import CARD_SIZES_MM
from docgen.tables.sewing import BEDS
from docgen.tables.sizes import MOST_IN_A_RANGE
from docgen.written.units.telling import format_percent


@dataclass(frozen=True, slots=True, kw_only=True)
class HeadSpec(Table):
    code: Text = key("code", "Short name of the build, printed on every page and in its code.", required=True)
    title: Text = key("text", "What the thing is called.", required=True)
    version: Text = key("version", "Version of this spec; raise it whenever something changes.", required=True)
    changed: Text = key("note", "What is different from the version before.")
    show: Text = key("choice", "Which unit stands first on the pages.", choices=("in", "mm"), default=defaults.SHOW)
    makes: Count = key("count", "How many are made in this batch.", default=defaults.MAKES, least=1, most=1000)
    front: Text = key("name", "Piece that is the front of it.", to="pieces", otherwise="not said")
    picture: Text = key("text", "Picture at the front of the build sheet: PNG or JPEG file beside the spec.")


@dataclass(frozen=True, slots=True, kw_only=True)
class ShopSpec(Table):
    name: Text = key("text", "Name of the workshop, on every page and the care card.")
    contact: Text = key("text", "How a customer reaches the shop; printed on the care card.")
    link: Text = key("link", 'What a phone opens when it scans a page; https address, takes the place of "SPEC:".')
    mark: Text = key("text", "Name mark: SVG or PNG file beside the spec, printed in grey.")


@dataclass(frozen=True, slots=True, kw_only=True)
class PatternSpec(Table):
    paper: Text = key(
        "text",
        'Paper to print on: letter, legal, tabloid, a4, a3, a0, WIDTHxHEIGHT, or a roll by its width ("roll 36 in").',
        default=defaults.PAPER,
    )
    margin: Length = key("length", "What the printer leaves white on every side.", default=defaults.MARGIN_MM)
    overlap: Length = key("length", "How far neighbouring sheets lie over each other.", default=defaults.OVERLAP_MM)
    join: Text = key(
        "choice",
        "How sheets are joined: one is trimmed and laid on a line, or they overlap untrimmed.",
        choices=("trim", "overlap"),
        default=defaults.JOIN,
    )
    full_straps: Flag = key(
        "flag", "True: long straps are printed whole, not as their two ends.", default=defaults.HAS_FULL_STRAPS
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class MaterialSpec(GoodsSpec):
    by_length: bool = False  # goods by length that lie among the strips of a join
    title: Text = key("text", "Words for the lists.", otherwise="the table's name")
    colour: Text = key("text", "Its colour, which follows the title in the lists.")
    kind: Text = key("choice", "What it is.", choices=("leather", "fabric", "foam", "board"), required=True)
    tannage: Text = key("choice", "How leather was tanned.", choices=("vegetable", "chrome", "combination"))
    finish: Text = key(
        "choice", "Surface of leather.", choices=("plain", "waxed", "oiled", "coated", "suede"), default=defaults.FINISH
    )
    thickness: Length = key("thickness", "Thickness.", required=True)
    waste: Text = key(
        "percent",
        "Share of the hide or cloth that is lost in cutting (of the whole, not on top).",
        otherwise=f"{format_percent(WASTE_BY_KIND['leather'])} leather, {format_percent(WASTE_BY_KIND['fabric'])} other",
    )
    density: Text = key("density", "Density, for the weight of what is made.", otherwise="by table")
    price: Text = key("price", "What it costs.", unit="a number for an area, a length or each")
    note: Text = key("note", "Words for the cutting list.")
    edges: Text = key(
        "note",
        'What is done with its cut edges, and when ("bevelled and burnished once they are sewn", "left as cut").',
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class MachineSpec(NamedTable):
    title: Text = key("text", "Words for the pages.", otherwise="the table's name")
    lifts: Length = key("length", "What fits under the raised foot and can be sewn.")
    needle_from: Text = key("needle", "Thinnest needle it takes.")
    needle_to: Text = key("needle", "Thickest needle it takes.")
    longest_stitch: Text = key("pitch", "Longest stitch it makes.")
    bed: Text = key(
        "choice",
        "Its bed: what a closed tube or bag keeps it from is told at the step.",
        choices=BEDS,
        otherwise="not said: nothing is told of it",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class HardwareSpec(NamedTable):
    wrong: tuple[str, ...] = ()  # fields that were written and could not be read (noted)
    what: Text = key("text", 'What it is ("double-cap rivet, 9 mm cap", "D ring, 1 in").', required=True)
    kind: Text = key(
        "choice",
        "What kind of hardware; its post and its hole are checked.",
        choices=HARDWARE_KINDS,
        otherwise="from the words of what it is",
    )
    count: Count = key("count", "How many for one make.", required=True, least=1, most=10000)
    finish: Text = key("text", 'Metal or plating ("nickel-plated", "solid brass", "stainless steel").')
    inside: Length = key("length", "Inside width, for the strap that goes through.")
    bar: Length = key("length", "Thickness of the bar that a strap turns round.")
    tongue: Length = key(
        "length", "Buckle: thickness of its tongue; an end that turns round it gets a slot for it at the fold."
    )
    posts: Lengths = key("lengths", "Post lengths in the drawer.", most=20)
    hole: Length = key("length", "Hole that it needs.", otherwise="a usual size, by kind")
    weight: Text = key("weight", "Weight of one.")
    price: Text = key("price", "What it costs.", unit="a number each, or per so many")
    note: Text = key("note", "Words for the list.")


@dataclass(frozen=True, slots=True, kw_only=True)
class StepSpec(Table):
    do: Text = key("note", "What is done, in plain words.", required=True)
    name: Text = key("code", "Name by which a variant leaves it out; steps that go together may share one.")
    group: Text = key("text", "Heading of the part of the work it belongs to.")
    pieces: Names = key("names", "Pieces that are handled.", to="pieces", most=50)
    skives: Names = key("names", "Pieces that are skived.", to="pieces", most=50)
    joins: Names = key("names", "Joins that are sewn.", to="joins", most=20)
    seams: Names = key("names", "Seams that are sewn.", to="seams", most=20)
    straps: Names = key("names", "Straps that are made.", to="straps", most=20)
    hardware: Names = key("names", "Hardware that is set.", to="hardware", most=20)
    trimmings: Names = key(
        "names", "Goods by length that are cut and fixed, besides those of its seams.", to="trimmings", most=20
    )
    order: Names = key(
        "texts",
        'Order of the work: names that the step gives, before all others; one that it gives twice as "pocket: seams". '
        'Dividing lines of a piece are sewn at "pocket: dividers", goods laid on it at their own name, a strap is sewn on '
        'at "sling: landings".',
        most=100,
        otherwise="pieces first, then as the rest is written, the lower of what lands over each other first",
    )
    tools: Names = key("texts", "Tools and consumables to have ready.", most=20)
    first: Names = key(
        "texts", "Lines of your own, one thing to do in each: numbered before those that follow from the spec.", most=20
    )
    last: Names = key("texts", "The same, after those that follow from the spec.", most=20)
    note: Text = key("note", "What to watch for; what good looks like.")
    minutes: Count = key("count", "How long it takes for one make.", least=1, most=10000)
    picture: Text = key("text", "Picture of your own at the step: PNG or JPEG file beside the spec, printed in grey.")


@dataclass(frozen=True, slots=True, kw_only=True)
class InsideSpec(Table):
    width: Length = key("length", "Room across, after lining and foam.", required=True)
    height: Length = key("length", "Room up.", required=True)
    depth: Length = key("length", "Room front to back.", required=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class HeldSpec(Table):
    what: Text = key("text", "Thing that goes in.", required=True)
    size: Lengths = key("lengths", "Its width, height and depth.", size=3, required=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class CostsSpec(Table):
    currency: Text = key("text", "Word for the money, beside every sum.")
    labour: Text = key("price", "What an hour of work costs.", unit="a number per hour")


if TYPE_CHECKING:

    @dataclass(frozen=True, slots=True, kw_only=True)
    class LimitsSpec(Table):
        """Figures that a shop knows better than the tables, as written; they may stand in the shop's own file too.

        One key for each of docgen.tables.limits.Limits, where all that is told of it stands.
        """

else:
    _keys = limit_keys()
    _body = {"__annotations__": dict.fromkeys(_keys, Any), "__module__": __name__, **_keys}
    LimitsSpec = dataclass(frozen=True, slots=True, kw_only=True)(type("LimitsSpec", (Table,), _body))


@dataclass(frozen=True, slots=True, kw_only=True)
class AcceptSpec(Table):
    check: Text = key("code", "Check whose caution is accepted; `docgen check` tells it.", required=True)
    at: Text = key("text", "Part it concerns, as the caution names it.", otherwise="every part")
    figures: Text = key(
        "note", "Figures of the caution, as `docgen check` tells them: with others it is told again.", otherwise="any"
    )
    reason: Text = key("note", "Why it is all right here; printed with it.", required=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class CarePartSpec(Table):
    id: Text = key("choice", "Which advice.", choices=PART_IDS, required=True)
    text: Text = key("note", "The shop's own words for it.", required=True)
    instead: Flag = key(
        "flag", "True: in place of the words of the card; false: after them.", default=defaults.IS_INSTEAD
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class CareSpec(Table):
    card: Text = key(
        "choice", "Size of the card; ID-1 is that of a bank card.", choices=tuple(CARD_SIZES_MM), default=defaults.CARD
    )
    sides: Count = key(
        "count",
        "Printed on one side or two.",
        otherwise=f"{defaults.CARD_SIDES}; 2 for {' and '.join(defaults.TWO_SIDED_CARDS)}, which always have two",
        least=1,
        most=2,
    )
    turn: Text = key(
        "choice",
        "Edge of the paper about which the printer turns it for the second side.",
        choices=("long", "short"),
        default=defaults.TURN,
    )
    language: Text = key("code", 'Language of the card, like "en" or "de".', default=defaults.LANGUAGE)
    load: Text = key("text", "What the shop says it may carry; printed as the shop's own claim.")
    extra: Text = key("note", "The shop's own words, after the advice.")
    repair: Text = key("note", "What the shop offers when something wears or breaks.")
    parts: tuple[CarePartSpec, ...] = key(
        "tables", "Advice in the shop's own words.", of=CarePartSpec, most=len(PART_IDS)
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class VariantSpec(NamedTable):
    title: Text = key("text", "Words that follow the title of the build.", otherwise="the table's name")
    axis: Text = key(
        "code",
        "What of a range it is a choice of, like width or colour: every choice of one axis is made with every choice of "
        "the others, under their names joined by hyphens. A variant of such a name changes that one alone.",
        otherwise="a variant by itself",
    )
    made: Flag = key("flag", "False: this one of the range is not made.", default=defaults.IS_MADE)
    makes: Count = key("count", "How many are made in this batch.", otherwise="as in [spec]", least=1, most=1000)
    measures: tuple[NamedLength, ...] = key("measures", "Measures that are other in this variant.", most=300)
    materials: tuple[MaterialSpec, ...] = key(
        "changes", "What of materials is other.", of=MaterialSpec, to="materials", most=50
    )
    stitches: tuple[StitchSpec, ...] = key(
        "changes", "What of stitches is other, as the thread.", of=StitchSpec, to="stitches", most=30
    )
    hardware: tuple[HardwareSpec, ...] = key(
        "changes", "What of hardware is other, as its finish.", of=HardwareSpec, to="hardware", most=100
    )
    pieces: tuple[PieceChangeSpec, ...] = key(
        "changes", "What of pieces is other: of, title, note.", of=PieceChangeSpec, to="pieces", most=300
    )
    straps: tuple[StrapChangeSpec, ...] = key(
        "changes", "What of straps is other: of, lining, title, note.", of=StrapChangeSpec, to="straps", most=100
    )
    care: CareSpec | None = key("change", "What of the care card is other.", of=CareSpec)
    without: Names = key(
        "texts",
        "What is left out, by its name: steps; else pieces, straps, hardware, seams or goods by length, with the places, "
        "holes and seams that are theirs.",
        most=50,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class UseSpec(NamedTable):
    use: Text = key(
        "text",
        "File of the part, TOML in the spec's folder; or the name of a ready part, like card-pockets.",
        required=True,
    )
    measures: tuple[NamedLength, ...] = key("measures", "Measures of the part that are other here.", most=300)
    numbers: tuple[NamedNumber, ...] = key("numbers", "Numbers of the part that are other here.", most=20)
    instead: Names = key(
        "texts",
        'What of this spec stands for a material, stitch or other entry that the part names: "hide: body" puts this '
        "spec's body in place of the part's hide. Edges too: \"front: cover: left bottom\" where the part sews its "
        "front by other edges.",
        most=50,
    )
    before: Text = key("name", "Step before which its steps are done.", to="steps", otherwise="before all others")


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasureRange:
    """Between what a measure of a part may lie, both ends in it; `told` is the measure in words."""

    name: str
    told: str
    least: Length = None
    most: Length = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Spec:
    """A whole spec as written.

    `source` is the file's bytes; `digest` the first 10 hex digits, upper case, of a SHA-256 over them and the
    drawings; `problems` what reading found; `drawings` those of drawn pieces, in their own units, by the name of the
    piece; `pictures` those of the head and the steps, by their file; `files` name and bytes of every drawing and picture,
    by name.
    """

    path: str = ""
    source: bytes = b""
    digest: str = ""
    problems: tuple[Problem, ...] = ()
    drawings: tuple[tuple[str, Sketch], ...] = ()
    files: tuple[tuple[str, bytes], ...] = ()
    brought: tuple[tuple[str, str], ...] = ()  # prefix and file of each part that was brought in
    shipped: tuple[tuple[str, str], ...] = ()  # of each ready part the path of its problems, and its prefix
    ranges: tuple[MeasureRange, ...] = ()  # of the measures of parts
    begun: tuple[StepSpec, ...] = ()  # steps of parts, where the spec has none of its own
    unread: tuple[str, ...] = ()  # tables that everything names and that are none, and what is far too much (noted)
    left_out: frozenset[tuple[str, str]] = frozenset()  # table and name of entries that are wrong in themselves (noted)
    mark: Picture | None = None
    pictures: tuple[tuple[str, Picture], ...] = ()
    spec: HeadSpec | None = key("table", "What this build is.", of=HeadSpec, required=True)
    shop: ShopSpec | None = key("table", "Who makes it.", of=ShopSpec)
    pattern: PatternSpec | None = key("table", "How the pattern is printed.", of=PatternSpec)
    measures: tuple[NamedLength, ...] = key("measures", "Named lengths, used by name in any length.", most=300)
    variants: tuple[VariantSpec, ...] = key(
        "named tables",
        "Variants, other in what they say; then only they are made.",
        of=VariantSpec,
        most=MOST_IN_A_RANGE,
    )
    parts: tuple[UseSpec, ...] = key(
        "named tables",
        "Parts of the shop that are brought in, each from its file; their entries are called NAME-... here.",
        of=UseSpec,
        most=20,
    )
    materials: tuple[MaterialSpec, ...] = key(
        "named tables", "What pieces are cut from.", of=MaterialSpec, most=50, required=True
    )
    stitches: tuple[StitchSpec, ...] = key("named tables", "How edges are sewn.", of=StitchSpec, most=30)
    irons: tuple[IronSpec, ...] = key("named tables", "Pricking irons of the shop.", of=IronSpec, most=20)
    machines: tuple[MachineSpec, ...] = key("named tables", "Sewing machines of the shop.", of=MachineSpec, most=20)
    pieces: tuple[PieceSpec, ...] = key("named tables", "Pieces to cut.", of=PieceSpec, most=300)
    joins: tuple[JoinSpec, ...] = key("named tables", "Strips sewn end to end into one.", of=JoinSpec, most=50)
    seams: tuple[SeamSpec, ...] = key("named tables", "Edges sewn together.", of=SeamSpec, most=200)
    straps: tuple[StrapSpec, ...] = key("named tables", "Straps and handles.", of=StrapSpec, most=100)
    hardware: tuple[HardwareSpec, ...] = key(
        "named tables", "Rivets, rings, buckles and the like.", of=HardwareSpec, most=100
    )
    trimmings: tuple[TrimmingSpec, ...] = key(
        "named tables", "Goods bought by length: zips, webbing, binding and the like.", of=TrimmingSpec, most=100
    )
    inside: InsideSpec | None = key("table", "Room inside what is made.", of=InsideSpec)
    holds: tuple[HeldSpec, ...] = key("tables", "What has to go in.", of=HeldSpec, most=50)
    costs: CostsSpec | None = key("table", "What an hour of work costs, and the word for the money.", of=CostsSpec)
    limits: LimitsSpec | None = key("table", "The shop's own figures in place of the usual ones.", of=LimitsSpec)
    accept: tuple[AcceptSpec, ...] = key(
        "tables", "Cautions that are all right here, each with its reason.", of=AcceptSpec, most=100
    )
    steps: tuple[StepSpec, ...] = key(
        "tables", "The work, in order.", of=StepSpec, most=300, otherwise="an order is proposed, and the sheet says so"
    )
    care: CareSpec | None = key("table", "The customer's care card.", of=CareSpec)
