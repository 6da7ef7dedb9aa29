"""Stitches, joins, seams and straps as written."""

from docgen.classes import dataclass
from docgen.read.kinds import key
from docgen.read.written import Count, Flag, Length, NamedTable, Names, Table, Text
from docgen.tables import defaults
from docgen.tables.hides import PARTS_OF_HIDE
from docgen.tables.sewing import SLOT_OVER_TONGUE_MM
from docgen.tables.sizes import MOST_CUT
from docgen.tables.winding import BOBBIN_G, MACHINE_SPOOL_OZ, SPOOL_G
from docgen.written.units.telling import format_mm, format_number


@dataclass(frozen=True, slots=True, kw_only=True)
class IronSpec(NamedTable):
    title: Text = key("text", "Words for the pages.", otherwise="the table's name")
    pitch: Text = key("pitch", "From tooth to tooth.", required=True)
    teeth: Count = key("count", "How many teeth it has.", required=True, least=1, most=40)


@dataclass(frozen=True, slots=True, kw_only=True)
class StitchSpec(NamedTable):
    wrong: tuple[str, ...] = ()  # fields that were written and could not be read (noted)
    by: Text = key("choice", "Sewn by machine or by hand.", choices=("machine", "hand"), required=True)
    type: Text = key(
        "choice",
        "Stitch type of a machine, by its ISO 4915 number.",
        choices=("301", "209"),
        default=defaults.MACHINE_TYPE,
    )
    thread: Text = key(
        "thread", "Thread by Tex, ticket or V number, with fibre; a hand thread also by its thickness.", required=True
    )
    colour: Text = key("text", "Colour of the thread, which follows it in the lists.")
    thread_strength: Text = key(
        "load",
        "What the thread breaks at; with different threads in needle and bobbin, the weaker one.",
        otherwise="by table",
    )
    thread_price: Text = key("price", "What the thread costs.", unit="a number for a length or each spool")
    machine: Text = key("name", "Machine it is sewn on.", to="machines")
    needle: Text = key("needle", "Needle size.", otherwise="from the thread, by table")
    point: Text = key(
        "choice", "Point of a machine needle.", choices=("leather", "round"), otherwise="leather where it sews leather"
    )
    pitch: Text = key("pitch", "Length of one stitch.", otherwise="that of the iron; one of the two is needed")
    iron: Text = key(
        "name", "Pricking iron of a fixed pitch that marks it, by hand; the last stitches are adjusted.", to="irons"
    )
    inset: Length = key("length", "Stitch line, in from the cut edge; of a hem from its fold.", required=True)
    rows: Count = key("count", "Rows of stitching.", default=defaults.ROWS, least=1, most=6)
    row_gap: Length = key("length", "Distance between rows.", default=defaults.ROW_GAP_MM)
    back_tack: Length = key("length", "Sewn back over at each end.", default=defaults.BACK_TACK_MM)
    bobbin: Text = key("run", "Thread that fills a bobbin.", otherwise=f"{format_number(BOBBIN_G, 1)} g of it")
    spool: Text = key(
        "run",
        "Thread on the spool that is bought.",
        otherwise=f"{format_number(MACHINE_SPOOL_OZ, 1)} oz of it, by hand {format_number(SPOOL_G['hand'], 1)} g",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class JoinSpec(NamedTable):
    wrong: tuple[str, ...] = ()  # fields that were written and could not be read (noted)
    title: Text = key("text", "Words for the pages.", otherwise="the table's name")
    of: Names = key(
        "names",
        "Strips, in order, sewn end to end. A zip, webbing or elastic of [trimmings] among them lies across, its edges "
        "under the ends of its neighbours.",
        to="pieces",
        or_to="trimmings",
        required=True,
        most=20,
    )
    overlap: Length = key("length", "How far each end lies over the next.", required=True)
    over: Names = key(
        "names",
        "Strips of it that lie over both their neighbours, as a base over both sides.",
        to="pieces",
        otherwise="the end of each lies over the next",
        most=20,
    )
    stitch: Text = key("name", "Stitch that holds the ends.", to="stitches", required=True)
    rows: Count = key(
        "count", "Rows of stitching across each joint.", otherwise="as many as its stitch has", least=1, most=6
    )
    ring: Flag = key(
        "flag",
        "True: it closes on itself, the last end over the first; one strip alone will do.",
        default=defaults.IS_RING,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class SeamSpec(NamedTable):
    wrong: tuple[str, ...] = ()  # fields that were written and could not be read (noted)
    title: Text = key("text", "Words for the pages.", otherwise="the table's name")
    stitch: Text = key("name", "Stitch used.", to="stitches", required=True)
    meet: Names = key(
        "sides",
        'Partners of the seam, from the top layer down; "back 2: left" means the second of those that are cut. Goods by '
        'length stand by their name alone ("binding"), a zip with the side that is sewn ("zip: left"). Part of an edge: '
        '"back: left from top 2 in to bottom", "back: left from notch low to notch high".',
        required=True,
        most=8,
    )
    times: Count = key(
        "count",
        "How often it is sewn for one make, each time with other copies.",
        otherwise="as often as its pieces are cut for it",
        least=1,
        most=200,
    )
    lap: Length = key(
        "length",
        "Lapped: how far the first partner lies over the others; the needle goes in at the inset from its edge, and "
        "at the lap less the inset from theirs. With a zip: how far its tape lies under their edges, which are level.",
        otherwise="0: edge to edge",
    )
    turned: Flag = key("flag", "True: sewn face to face and turned right side out.", default=defaults.IS_TURNED)
    ease: Length = key(
        "length", "How much longer than the first partner the others may be; it is eased in.", default=defaults.EASE_MM
    )
    ease_at: Text = key(
        "edges", "Edges of the first partner along which the rest is eased in.", otherwise="evenly along all of them"
    )
    load: Text = key("load", "What it has to carry; the thread is checked against it.")


@dataclass(frozen=True, slots=True, kw_only=True)
class StrapHolesSpec(Table):
    count: Count = key("count", "Number of holes; odd, so that there is a middle one.", required=True, least=1, most=99)
    pitch: Length = key("length", "From hole to hole.", default=defaults.HOLE_PITCH_MM)
    punch: Length = key("length", "Size of the punch.", required=True)
    tip: Length = key("length", "From the last hole to the tip.", default=defaults.TIP_MM)


@dataclass(frozen=True, slots=True, kw_only=True)
class StrapSkiveSpec(Table):
    over: Length = key("length", "How far in from the cut end it is thinned.", required=True)
    to: Length = key("thickness", "Thickness left.", required=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class StrapEndSpec(Table):
    shape: Text = key(
        "choice", "How the end is made.", choices=("square", "rounded", "pointed", "turned"), required=True
    )
    back: Length = key("length", "Turned: how far it lies back on itself.")
    loop: Length = key(
        "length",
        "Turned: how far it stands open beyond what lies back, as a loop for the hand does.",
        otherwise="0: it lies close round what it goes round",
    )
    around: Names = key(
        "names",
        "Turned: hardware that the end goes round; of several in one fold first what lies at the fold itself.",
        to="hardware",
        most=4,
    )
    keeper: Text = key("name", "Turned: keeper whose ends lie in the fold and are held there.", to="straps")
    slot: Length = key(
        "length",
        "Turned round a buckle with a tongue: whole length of the slot at the fold; its width is that of the tongue and "
        f"{format_mm(SLOT_OVER_TONGUE_MM)}.",
        otherwise="half way round the tongue's eye on the bar: pi x (bar + 2 x tongue + leather) / 2",
    )
    takes: Text = key(
        "name", "Turned: hardware that closes it, a snap so that it opens; its holes stand in punches.", to="hardware"
    )
    number: Count = key("count", "How many of that hardware.", default=defaults.CLOSING_NUMBER, least=1, most=20)
    sewn: Text = key(
        "name",
        "Turned: stitch that closes it along both long edges of what lies back, never across the strap.",
        to="stitches",
        otherwise="by the strap's own stitch, where nothing else closes it",
    )
    skive: StrapSkiveSpec | None = key("table", "Thins the end.", of=StrapSkiveSpec)
    width: Length = key("length", "Width at this end, where the strap tapers to it.", otherwise="that of the strap")
    straight: Length = key(
        "length",
        "Tapered: how far it keeps that width, from the end as made up.",
        otherwise="as far as what is turned back or shaped; else 0",
    )
    taper: Length = key("length", "Tapered: over how long a way it comes to the strap's width.")
    holes: StrapHolesSpec | None = key("table", "Row of buckle holes at this end.", of=StrapHolesSpec)


@dataclass(frozen=True, slots=True, kw_only=True)
class StrapPaddingSpec(Table):
    of: Text = key("name", "Material, such as foam.", to="materials", required=True)
    width: Length = key("length", "Its width.", required=True)
    length: Length = key(
        "length",
        "Its length, in the middle of the strap.",
        otherwise="clear of what is turned back, and of each end by what it is clear of each long edge",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class StrapPunchSpec(Table):
    at: Text = key(
        "position",
        'Centre of the hole, from start, end, left, right or a middle; "at the fold" of a turned end, of two '
        '"at the first fold" or "at the second fold".',
        required=True,
    )
    punch: Length = key("length", "Size of the punch.", required=True)
    long: Length = key("length", "Whole length of an oblong hole; the punch is its width.")
    lies: Text = key(
        "choice",
        "Which way an oblong hole lies: up runs along the strap, from start to end; across runs over its width.",
        choices=("up", "across"),
        default=defaults.SLOT_LIES,
    )
    takes: Text = key(
        "name",
        "Hardware that goes in, as the half of a snap; what closes a turned end may stand at that end instead.",
        to="hardware",
    )
    through: Names = key("texts", "Straps that it goes through besides, as of a hole of a piece.", most=10)


@dataclass(frozen=True, slots=True, kw_only=True)
class StrapSpec(NamedTable):
    wrong: tuple[str, ...] = ()  # fields that were written and could not be read (noted)
    title: Text = key("text", "Words for the pages.", otherwise="the table's name")
    of: Text = key("name", "Material it is cut from.", to="materials", required=True)
    cut: Count = key("count", "How many for one make.", default=defaults.CUT, least=1, most=MOST_CUT)
    width: Length = key("length", "Width.", required=True)
    finished: Length = key("length", "Length when made up, from end to end (from bar to bar where turned).")
    wears: Length = key(
        "length",
        "Length when worn, at the middle hole: from the other end (its middle hole, or the partner's end) to that hole.",
    )
    partner: Text = key("name", "The other part of a two-part strap, which carries the buckle.", to="straps")
    holes: StrapHolesSpec | None = key(
        "table", "Row of buckle holes at the second end; each end may have its own.", of=StrapHolesSpec
    )
    punches: tuple[StrapPunchSpec, ...] = key(
        "tables", "Further holes: for rivets and screws, the slot of a buckle's tongue.", of=StrapPunchSpec, most=50
    )
    ends: tuple[StrapEndSpec, ...] = key("tables", "First and second end.", of=StrapEndSpec, size=2)
    stitch: Text = key(
        "name", "Stitch along its long edges; a doubled strap is sewn in one run round a shaped end too.", to="stitches"
    )
    doubled: Flag = key("flag", "True: a second layer lies under its finished length.", default=defaults.IS_DOUBLED)
    lining: Text = key("name", "Material of the second layer.", to="materials", otherwise="as the strap, when doubled")
    padding: StrapPaddingSpec | None = key(
        "table", "Doubled: what lies between strap and second layer.", of=StrapPaddingSpec
    )
    keeper_for: Text = key("name", "Makes it a keeper: the strap it goes round, in place of a length.", to="straps")
    inside: Length = key(
        "length", "Keeper: its width inside.", otherwise="that of the strap, or of its end that holds the keeper"
    )
    layers: Count = key(
        "count",
        "Keeper: layers that lie in it, the tip among them.",
        otherwise=f"{defaults.KEEPER_LAYERS}; {defaults.HELD_KEEPER_LAYERS} where its own ends lie in the fold",
        least=1,
        most=9,
    )
    overlap: Length = key(
        "length", "Keeper: how far its ends lie over each other; 0 where they meet.", default=defaults.KEEPER_OVERLAP_MM
    )
    die: Text = key("text", "Die that cuts it; no template is printed, and the lists name the die.")
    rule: Flag = key(
        "flag", "True: a plain one is measured off by the rule, and not printed.", default=defaults.IS_RULED
    )
    kept: Text = key("text", "Template kept from another build, by what is written on it; it is not printed again.")
    cut_from: Text = key(
        "choice",
        "Part of a hide that it is taken from: firm, good (all but belly, shanks and neck end), or any.",
        choices=PARTS_OF_HIDE,
        otherwise="firm; any of a keeper, and of what lies under another layer",
    )
    note: Text = key("note", "Words for the cutting list.")


@dataclass(frozen=True, slots=True, kw_only=True)
class StrapChangeSpec(NamedTable):
    """What of a strap a variant may change: by words and material, not by shape, which hangs on measures."""

    title: Text = key("text", "Words for the label.")
    of: Text = key("name", "Material it is cut from.", to="materials")
    lining: Text = key("name", "Material of the second layer.", to="materials")
    note: Text = key("note", "Words for the cutting list.")
