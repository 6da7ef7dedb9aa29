"""Pieces as written: their outlines and what is marked on them."""

from docgen.classes import dataclass
from docgen.read.kinds import key
from docgen.read.written import Count, Flag, Length, Lengths, NamedLength, NamedTable, Names, Table, Text
from docgen.tables import defaults
from docgen.tables.hides import PARTS_OF_HIDE
from docgen.tables.sizes import MOST_CUT


@dataclass(frozen=True, slots=True, kw_only=True)
class PointSpec(Table):
    at: Lengths = key("lengths", "Where: across from the left end, up from the bottom.", size=2, required=True)
    name: Text = key("code", "Name of the corner.")
    round: Length = key(
        "length", "Radius of the corner; none where a curve begins or ends.", default=defaults.CORNER_RADIUS_MM
    )
    edge: Text = key("code", "Name of the edge from this point to the next.", otherwise="edge-1, edge-2, ...")
    curve: Lengths = key(
        "lengths", "Makes the edge to the next point a curve: two handles, as across, up, across, up.", size=4
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class CornerSpec(Table):
    at: Lengths = key(
        "lengths", "Where: across and up from the lower left of the drawn outline.", size=2, required=True
    )
    name: Text = key("code", "Name of the corner.")
    edge: Text = key(
        "code", "Name of the edge from here to the next corner, anticlockwise.", otherwise="edge-1, edge-2, ..."
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class HoleSpec(Table):
    at: Text = key("position", "Centre of the hole.", required=True)
    punch: Length = key("length", "Size of the punch.", required=True)
    long: Length = key("length", "Whole length of an oblong hole; the punch is its width.")
    lies: Text = key(
        "choice",
        "Which way an oblong hole lies: up runs from bottom to top (a strip: from start to end), across from left to "
        "right.",
        choices=("up", "across"),
        default=defaults.SLOT_LIES,
    )
    takes: Text = key("name", "Hardware that goes in.", to="hardware")
    through: Names = key(
        "texts",
        "Pieces, joins or straps that it goes through besides, without those that land here; a folded one is "
        "named twice.",
        most=10,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class HoleRowSpec(Table):
    start: Text = key("position", "Centre of the first hole.", required=True)
    end: Text = key("position", "Centre of the last hole.", required=True)
    count: Count = key("count", "Number of holes.", required=True, least=2, most=500)
    punch: Length = key("length", "Size of the punch.", required=True)
    takes: Text = key("name", "Hardware that goes in each.", to="hardware")
    through: Names = key(
        "texts",
        "Pieces, joins or straps that each goes through besides, without those that land here; a folded one is "
        "named twice.",
        most=10,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnHoleSpec(Table):
    element: Text = key("text", "Id of the circle in the drawing.", otherwise="all that punch means")
    punch: Length = key("length", "Size of the circles that are meant.", otherwise="of any size")
    takes: Text = key("name", "Hardware that goes in.", to="hardware", required=True)
    through: Names = key("texts", "Pieces, joins or straps that it goes through besides, as of a hole.", most=10)


@dataclass(frozen=True, slots=True, kw_only=True)
class NotchSpec(Table):
    on: Text = key("code", "Edge that carries the notch.", required=True)
    name: Text = key("code", "Name of the notch, for a seam that begins or ends there.")
    at: Text = key(
        "text",
        'Where along it: "middle", or a length from one of its neighbours ("2 in from left").',
        default=defaults.NOTCH_AT,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class FoldSpec(Table):
    at: Text = key("position", 'A line across the piece ("1 in from top", "centre").', required=True)
    note: Text = key("text", "Which way, for the pattern.")
    open: Flag = key(
        "flag",
        "True: it only bends, as a flap does; its halves are not fixed on each other.",
        default=defaults.FOLD_IS_OPEN,
    )
    angle: Count = key("count", "Open: by how many degrees it bends.", otherwise="not said", least=1, most=180)
    inside: Text = key(
        "choice",
        "Which side lies inside the fold: a loop folded backward has its grain side there.",
        choices=("grain", "flesh"),
        otherwise="the side that does not show, and asked where it may be meant either way",
    )
    around: Text = key("name", "Hardware that the piece is folded round, a ring or a buckle.", to="hardware")


@dataclass(frozen=True, slots=True, kw_only=True)
class HemSpec(Table):
    edges: Text = key(
        "edges", "Edges that are turned over to the flesh side, of cloth to the wrong side.", required=True
    )
    turn: Length = key("length", "How far they are turned over.", required=True)
    double: Flag = key("flag", "True: turned twice, so that the cut edge lies inside.", default=defaults.HEM_IS_DOUBLE)


@dataclass(frozen=True, slots=True, kw_only=True)
class DividerSpec(Table):
    at: Text = key("position", 'A line across the piece ("64 mm from left", "centre").', required=True)
    stitch: Text = key("name", "Stitch used.", to="stitches", required=True)
    on: Text = key("name", "Piece beneath, which is sewn through too.", to="pieces")


@dataclass(frozen=True, slots=True, kw_only=True)
class LaidSpec(Table):
    goods: Text = key("name", "Goods by length: a zip, webbing and the like.", to="trimmings", required=True)
    at: Text = key(
        "position",
        'Its middle: a line across the piece ("64 mm from left", "centre"), from edge to edge.',
        required=True,
    )
    stitch: Text = key(
        "name",
        "Stitch along both its edges, at the inset from them; of a zip from the window.",
        to="stitches",
        required=True,
    )
    clear: Length = key(
        "length",
        "How far its run stays from the edges of the piece; a zip goes on beyond its window by its ends.",
        default=defaults.LAID_CLEAR_MM,
    )
    window: Length = key(
        "length",
        "Zip: width of the slot that is cut over its teeth; without clear it goes from edge to edge, so that the zip lies "
        "between two strips.",
        otherwise="none: it lies on the piece",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class SlitSpec(Table):
    start: Text = key("position", "One end of the cut.", required=True)
    end: Text = key("position", "The other end.", required=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class SkiveSpec(Table):
    edges: Text = key("edges", "Edges that are thinned.", required=True)
    width: Length = key("length", "Width of the band.", required=True)
    to: Length = key("thickness", "Thickness left.", required=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class LandingSpec(Table):
    piece: Text = key("name", "Piece that lands here.", to="pieces")
    strap: Text = key("name", "Strap that is fastened here, in place of a piece.", to="straps")
    at: Text = key(
        "position",
        "Where its nearest sides come to lie, from this piece's edges or centre; of a strap the middle of its end. "
        "A flap that goes over the edge is laid half round about its stitches from there, its own edge twice their inset "
        "farther in.",
        required=True,
    )
    end: Text = key(
        "choice", "Strap: which of its ends is held.", choices=("first", "second"), default=defaults.STRAP_END
    )
    leads: Text = key(
        "choice",
        "Strap: which way it leaves from there.",
        choices=("up", "down", "left", "right"),
        default=defaults.STRAP_LEADS,
    )
    over: Length = key(
        "length", "Strap: how much of its end lies on this piece and is held.", default=defaults.STRAP_OVER_MM
    )
    stitch: Text = key(
        "name",
        "Strap: stitch that sews it on, along both edges of what lies here and across its very end.",
        to="stitches",
    )
    inside: Flag = key("flag", "Piece: true: it lies on the side that does not show.", default=defaults.IS_INSIDE)


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceSpec(NamedTable):
    wrong: tuple[str, ...] = ()  # fields that were written and could not be read (noted)
    by_length: bool = False  # goods by length that lie among the strips of a join
    title: Text = key("text", "Words for the label.", otherwise="the table's name")
    of: Text = key("name", "Material it is cut from.", to="materials")
    cut: Count = key("count", "How many for one make.", default=defaults.CUT, least=1, most=MOST_CUT)
    pair: Flag = key("flag", "True: half of them are cut mirrored.", default=defaults.IS_PAIR)
    shape: Text = key("choice", "Kind of shape.", choices=("rectangle", "strip", "circle", "outline", "drawing"))
    size: Lengths = key("lengths", 'Width and height (a strip: width and length); one may be "solve".', size=2)
    diameter: Length = key("length", "Diameter of a circle.")
    points: tuple[PointSpec, ...] = key("tables", "Corners of an outline, in order round it.", of=PointSpec, most=200)
    file: Text = key("text", "Drawing: SVG file beside the spec.")
    element: Text = key(
        "text",
        "Drawing: id of the outline, or of the group that holds it; the words written at it; or its place among the "
        'outlines of the file ("outline 2").',
        otherwise="the only closed line",
    )
    scale: Length = key("length", "Drawing: size of one of its units, only when it gives no real ones.")
    corners: tuple[CornerSpec, ...] = key(
        "tables",
        "Drawing: points of the outline between which its edges run.",
        otherwise="its sharp corners, with edges edge-1, edge-2, ... from the one nearest the lower left",
        of=CornerSpec,
        most=200,
    )
    drawn_holes: tuple[DrawnHoleSpec, ...] = key(
        "tables", "Drawing: hardware for the circles inside the outline.", of=DrawnHoleSpec, most=100
    )
    round: tuple[NamedLength, ...] = key("corners", "Radius of the corners of a rectangle or strip.")
    like: Text = key(
        "name",
        "Its model: a piece whose shape and marks it takes; a strap that lands on that lands on this too, where there is "
        "one cut for each, and other pieces that land there do not.",
        to="pieces",
    )
    mirror: Flag = key("flag", "Turned over, left for right.", default=defaults.IS_MIRRORED)
    inset: Length = key("length", "Smaller than its model by this much all round (less than nothing: larger).")
    marks: Flag = key("flag", "Whether the model's marks come along.", otherwise="true, false with an inset")
    holes: tuple[HoleSpec, ...] = key("tables", "Single holes.", of=HoleSpec, most=500)
    hole_rows: tuple[HoleRowSpec, ...] = key("tables", "Rows of evenly spaced holes.", of=HoleRowSpec, most=100)
    notches: tuple[NotchSpec, ...] = key("tables", "Match marks on an edge.", of=NotchSpec, most=100)
    folds: tuple[FoldSpec, ...] = key("tables", "Fold lines.", of=FoldSpec, most=50)
    slits: tuple[SlitSpec, ...] = key("tables", "Straight cuts inside the piece.", of=SlitSpec, most=100)
    skives: tuple[SkiveSpec, ...] = key("tables", "Bands thinned along edges.", of=SkiveSpec, most=50)
    hems: tuple[HemSpec, ...] = key("tables", "Edges that are turned over and fixed.", of=HemSpec, most=20)
    dividers: tuple[DividerSpec, ...] = key(
        "tables", "Lines of stitches that divide the piece, as those of a row of pockets.", of=DividerSpec, most=50
    )
    laid: tuple[LaidSpec, ...] = key(
        "tables", "Goods by length that are laid flat on it and sewn along both edges.", of=LaidSpec, most=20
    )
    landings: tuple[LandingSpec, ...] = key(
        "tables",
        "Where other pieces and straps land on this one; what is written first lies beneath.",
        of=LandingSpec,
        most=50,
    )
    lines: Names = key(
        "texts",
        "Lining, foam or board: pieces and joins behind which it lies.",
        otherwise="those whose shape it takes; of a facing those whose lining is sewn to it",
        most=20,
    )
    lid_of: Text = key(
        "name", "Box, folded up of one piece, over which this one goes, folded up too, as a loose lid.", to="pieces"
    )
    shows: Text = key("choice", "Which side of it faces out.", choices=("grain", "flesh"), default=defaults.SHOWS)
    die: Text = key("text", "Die that cuts it; no template is printed, and the lists name the die.")
    rule: Flag = key(
        "flag",
        "True: a plain rectangle or strip is measured off by the rule, and not printed.",
        default=defaults.IS_RULED,
    )
    kept: Text = key("text", "Template kept from another build, by what is written on it; it is not printed again.")
    shares: Text = key("name", "Piece of the same outline by whose template it is cut too.", to="pieces")
    centre_lines: Text = key("choice", "Centre lines drawn on the pattern.", choices=("up", "across", "both"))
    least_stretch: Text = key(
        "choice", "Which way the leather must stretch least.", choices=("up", "across"), otherwise="not said"
    )
    cut_from: Text = key(
        "choice",
        "Part of a hide that a lay takes it from: firm, good (all but belly, shanks and neck end), or any, for what is "
        "hidden, which is looked for in those first.",
        choices=PARTS_OF_HIDE,
        otherwise="good; any where it lies behind another piece",
    )
    note: Text = key("note", "Words for the cutting list.")


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceChangeSpec(NamedTable):
    """What of a piece a variant may change: by words and material, not by shape, which hangs on measures."""

    title: Text = key("text", "Words for the label.")
    of: Text = key("name", "Material it is cut from.", to="materials")
    note: Text = key("note", "Words for the cutting list.")
