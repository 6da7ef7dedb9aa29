"""The figures of the tables that a shop may put its own in place of: each stands here once, with all that is told of it.

The keys of [limits], what `docgen keys` and the checks say of them, and how versions are compared come from here.
"""

from dataclasses import field, fields
from typing import Any, Final, Literal

from docgen.classes import dataclass
from docgen.tables.hardware import POST_OVER_STACK_MM, SETTER_REACH_MM
from docgen.tables.material import EDGE_TRIM_MM, KNIFE_GAP_MM, REST_MM, WASTE_BY_KIND
from docgen.tables.sewing import (
    FLAT_REACH_MM,
    FOLD_OFF_CORNER_MM,
    HALVES_MEET_MM,
    HAND_ROOM_MM,
    HOLE_EDGE_DIAMETERS,
    HOLE_TO_STITCH_MM,
    HOLES_APART_MM,
    HOLES_BETWEEN_MM,
    LEAST_AT_FOLD_MM,
    LEAST_BENT_MM,
    LEAST_INSET_MM,
    LEAST_PITCH_IN_BLADES,
    LEAST_PITCH_MM,
    LEAST_TIP_WIDTHS,
    LEAST_TURNED_MM,
    LINING_OVER_MM,
    MOST_HOLE_SHARE,
    MOST_PITCH_MM,
    MOST_PLAY_MM,
    NOTCHES_MEET_MM,
    SKIVE_BEYOND_MM,
    SLIT_IN_HOLES,
)
from docgen.tables.thread import HAND_TAILS_MM, MACHINE_TAILS_MM, MACHINE_WASTE, MOST_THREAD_IN_BLADE
from docgen.tables.usual import (
    ASKEW_MM,
    DENSITIES_G_CM3,
    GOODS_MM,
    HIDE_LONG_MM,
    HIDE_WIDE_MM,
    KEEPER_OVERLAP_MM,
    LARGEST_PUNCH_MM,
    LEAST_LIFT_MM,
    LEAST_ZIP_MM,
    LID_ROOM_MM,
    LONGEST_TIP_MM,
    MOST_INSET_MM,
    MOST_LIFT_MM,
    MOST_TACK_MM,
    MOST_WASTE,
    NARROWEST_ROOM_MM,
    NEARLY_ALIKE_MM,
    POSTS_MM,
    STRAP_LONG_MM,
    THICKEST_BAR_MM,
    WIDEST_LAP_MM,
    WIDEST_STRAP_MM,
    WIDEST_WALL_TIMES,
    ZIP_TEETH_MM,
)
from docgen.tables.winding import LONGEST_HAND_THREAD_MM
from docgen.told import KEY, Figure, Told
from docgen.written.units.telling import tell_value

PostOver = tuple[float, float | None]
Kind = Literal["percent", "times", "length", "lengths", "densities"]
FIGURES: Final[dict[Kind, Figure]] = {
    "percent": "share",
    "length": "length",
    "times": "number",
    "lengths": "words",
    "densities": "words",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit:
    """What is told of one figure as a key: its kind and its meaning. `zero`: a shop may write 0."""

    kind: Kind
    meaning: str
    zero: bool


def limit(kind: Kind, meaning: str, figure: Any, title: str, *, zero: bool = False) -> Any:
    """A figure by its table, where its source stands; `title` is what it is called where two versions differ."""
    said = Limit(kind=kind, meaning=meaning, zero=zero)
    return field(default=figure, metadata={"limit": said, KEY: Told(title, FIGURES[kind])})


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """Each figure as the spec or the shop says it, else by the tables."""

    needle_share: float = limit(
        "percent", "Share of the needle's blade that thread may fill.", MOST_THREAD_IN_BLADE, "thread in the blade"
    )
    fold_leather_mm: float = limit("length", "Least leather left at a fold.", LEAST_AT_FOLD_MM, "leather at a fold")
    fold_beyond_mm: float = limit(
        "length", "Least that lies beyond a fold to be turned.", LEAST_TURNED_MM, "beyond a fold"
    )
    hole_edge: float = limit(
        "times",
        "Least from the centre of a hole to the edge: so many times its size.",
        HOLE_EDGE_DIAMETERS,
        "hole edge",
    )
    hole_stitch_mm: float = limit(
        "length", "Least from the rim of a hole to a stitch line.", HOLE_TO_STITCH_MM, "hole to stitch line", zero=True
    )
    lining_larger_mm: float = limit(
        "length",
        "Most that a lining may be larger than its leather.",
        LINING_OVER_MM,
        "lining over its leather",
        zero=True,
    )
    waste_leather: float = limit(
        "percent", "Share of a hide lost in cutting.", WASTE_BY_KIND["leather"], "waste of hides", zero=True
    )
    waste_other: float = limit(
        "percent", "Share of other goods lost in cutting.", WASTE_BY_KIND["fabric"], "waste of other goods", zero=True
    )
    knife_gap_mm: float = limit(
        "length",
        "Room for the knife between pieces that lie beside each other.",
        KNIFE_GAP_MM,
        "room for the knife",
        zero=True,
    )
    edge_trim_mm: float = limit(
        "length",
        "What is trimmed off the straight edge of a hide before straps are cut from it.",
        EDGE_TRIM_MM,
        "trimmed off the edge of a hide",
        zero=True,
    )
    rest_short_mm: float = limit(
        "length", "Least width of a rest of leather that is worth keeping.", REST_MM[0], "least width of a rest"
    )
    rest_long_mm: float = limit("length", "Least length of such a rest.", REST_MM[1], "least length of a rest")
    machine_waste: float = limit(
        "percent",
        "Thread lost at the machine, on top of what is sewn.",
        MACHINE_WASTE,
        "waste of machine thread",
        zero=True,
    )
    machine_tails_mm: float = limit(
        "length",
        "Thread pulled out before and after a machine seam, all four tails.",
        MACHINE_TAILS_MM,
        "tails at the machine",
        zero=True,
    )
    hand_tails_mm: float = limit(
        "length", "Tails of one hand thread, both together.", HAND_TAILS_MM, "tails by hand", zero=True
    )
    hand_thread_mm: float = limit(
        "length", "Longest thread that is cut for sewing by hand.", LONGEST_HAND_THREAD_MM, "longest hand thread"
    )
    strap_play_mm: float = limit(
        "length",
        "Most that a strap or a folded piece is narrower than its ring or buckle.",
        MOST_PLAY_MM,
        "play in a fitting",
    )
    pitch_blade: float = limit(
        "times", "Least length of a machine stitch: so many times its needle.", LEAST_PITCH_IN_BLADES, "pitch by needle"
    )
    least_pitch_mm: float = limit("length", "Shortest machine stitch in leather.", LEAST_PITCH_MM, "shortest stitch")
    most_pitch_mm: float = limit("length", "Longest stitch in leather.", MOST_PITCH_MM, "longest stitch")
    stitch_edge_mm: float = limit(
        "length", "Least from a stitch line to its cut edge.", LEAST_INSET_MM, "stitch line to edge"
    )
    strap_tip: float = limit(
        "times", "Least of a strap beyond its last hole: so many times its width.", LEAST_TIP_WIDTHS, "tip of a strap"
    )
    strap_hole: float = limit(
        "percent", "Most of a strap's width that a hole of its row takes.", MOST_HOLE_SHARE, "hole in a strap"
    )
    slit_hole: float = limit(
        "times", "Longest slit beside a hole: so many times its size.", SLIT_IN_HOLES, "slit beside a hole"
    )
    fold_corner_mm: float = limit(
        "length",
        "How far a fold may lie from the corner that it goes round.",
        FOLD_OFF_CORNER_MM,
        "fold off its corner",
    )
    bent_over_mm: float = limit("length", "Least that lies beyond a fold that bends.", LEAST_BENT_MM, "bent over")
    longest_tip_mm: float = limit(
        "length", "Most of a strap beyond its last hole.", LONGEST_TIP_MM, "longest tip of a strap"
    )
    widest_wall: float = limit(
        "times", "Widest wall between two panels: so many times their longer side.", WIDEST_WALL_TIMES, "widest wall"
    )
    widest_lap_mm: float = limit("length", "Most that edges lie over each other.", WIDEST_LAP_MM, "widest lap")
    most_inset_mm: float = limit(
        "length", "Farthest that a stitch line lies from its cut edge.", MOST_INSET_MM, "farthest stitch line"
    )
    most_tack_mm: float = limit("length", "Most that is sewn back over at an end.", MOST_TACK_MM, "longest back-tack")
    widest_strap_mm: float = limit("length", "Widest strap.", WIDEST_STRAP_MM, "widest strap")
    setter_reach_mm: float = limit(
        "length",
        "How deep in what is closed a rivet, snap or eyelet can be set.",
        SETTER_REACH_MM,
        "setter in what is closed",
    )
    between_holes_mm: float = limit(
        "length", "Least leather between the holes of a strap.", HOLES_BETWEEN_MM, "leather between holes"
    )
    notches_meet_mm: float = limit(
        "length", "How far match marks of partners may lie apart.", NOTCHES_MEET_MM, "notches apart"
    )
    marks_askew_mm: float = limit(
        "length",
        "Marks left and right of a middle that nearly stand alike, within this, are asked about.",
        ASKEW_MM,
        "marks askew",
    )
    largest_punch_mm: float = limit("length", "Largest hole that is punched.", LARGEST_PUNCH_MM, "largest punch")
    narrowest_room_mm: float = limit(
        "length", "Narrowest room beside a dividing line.", NARROWEST_ROOM_MM, "room beside a divider"
    )
    skive_beyond_mm: float = limit(
        "length",
        "Most that a skived band is wider than the lap or hem it is for.",
        SKIVE_BEYOND_MM,
        "skive beyond its lap",
        zero=True,
    )
    most_waste: float = limit("percent", "Most that may be lost of a hide or roll.", MOST_WASTE, "most waste")
    leather_thickness_mm: PostOver = limit(
        "lengths", "Thinnest and thickest leather.", GOODS_MM["leather"], "thickness of leather"
    )
    fabric_thickness_mm: PostOver = limit("lengths", "The same for cloth.", GOODS_MM["fabric"], "thickness of cloth")
    foam_thickness_mm: PostOver = limit("lengths", "The same for foam.", GOODS_MM["foam"], "thickness of foam")
    board_thickness_mm: PostOver = limit("lengths", "The same for board.", GOODS_MM["board"], "thickness of board")
    leather_density: PostOver = limit(
        "densities", "Lightest and heaviest leather.", DENSITIES_G_CM3["leather"], "density of leather"
    )
    fabric_density: PostOver = limit("densities", "The same for cloth.", DENSITIES_G_CM3["fabric"], "density of cloth")
    foam_density: PostOver = limit("densities", "The same for foam.", DENSITIES_G_CM3["foam"], "density of foam")
    board_density: PostOver = limit("densities", "The same for board.", DENSITIES_G_CM3["board"], "density of board")
    hide_long_mm: float = limit("length", "Longest piece that comes out of a hide.", HIDE_LONG_MM, "length of a hide")
    hide_wide_mm: float = limit("length", "Widest piece that does.", HIDE_WIDE_MM, "width of a hide")
    hide_strap_mm: float = limit("length", "Longest strap that does.", STRAP_LONG_MM, "longest strap of a hide")
    thickest_bar_mm: float = limit("length", "Thickest bar of a ring or buckle.", THICKEST_BAR_MM, "thickest bar")
    post_lengths_mm: PostOver = limit(
        "lengths", "Shortest and longest post in a drawer.", POSTS_MM, "posts in a drawer"
    )
    foot_lift_mm: PostOver = limit(
        "lengths",
        "Least and most that goes under the foot of a machine.",
        (LEAST_LIFT_MM, MOST_LIFT_MM),
        "lift of a foot",
    )
    flat_reach_mm: float = limit(
        "length",
        "How far from an open edge a machine with a flat bed sews on what is closed.",
        FLAT_REACH_MM,
        "reach of a flat bed",
    )
    hand_room_mm: float = limit(
        "length", "Room for a hand under the middle of a handle.", HAND_ROOM_MM, "room for a hand"
    )
    holes_apart_mm: float = limit(
        "length", "Farthest that the holes of a strap stand apart.", HOLES_APART_MM, "holes of a strap apart"
    )
    shortest_zip_mm: float = limit("length", "Shortest zip.", LEAST_ZIP_MM, "shortest zip")
    nearly_alike_mm: float = limit(
        "length",
        "Figures of two like entries that differ alone, by 3 mm or more and by no more than this, are asked about.",
        NEARLY_ALIKE_MM,
        "nearly alike",
    )
    keeper_overlap_mm: float = limit(
        "length", "Least that the ends of a keeper lie over each other.", KEEPER_OVERLAP_MM, "overlap of a keeper"
    )
    zip_teeth_mm: float = limit(
        "length", "Least that stays free of a zip between the edges over it.", ZIP_TEETH_MM, "free for a zip's teeth"
    )
    snaps_meet_mm: float = limit(
        "length", "How far halves of a snap that close over a bend may miss each other.", HALVES_MEET_MM, "snaps apart"
    )
    lid_room_mm: PostOver = limit(
        "lengths",
        "How much larger inside a loose lid is than its box outside, at least and at most.",
        LID_ROOM_MM,
        "room in a lid",
    )
    rivet_over_mm: PostOver = limit(
        "lengths",
        "How much longer than its stack the post of a rivet is, at least and at most.",
        POST_OVER_STACK_MM["rivet"],
        "rivet over",
    )
    tubular_rivet_over_mm: PostOver = limit(
        "lengths", "The same for a tubular rivet.", POST_OVER_STACK_MM["tubular-rivet"], "tubular rivet over"
    )
    snap_over_mm: PostOver = limit("lengths", "The same for a snap.", POST_OVER_STACK_MM["snap"], "snap over")

    def waste(self, kind: str) -> float:
        """The share of a kind of material that is lost in cutting."""
        return self.waste_leather if kind == "leather" else self.waste_other

    def thickness_mm(self, kind: str) -> PostOver:
        """The thinnest and thickest goods of a kind."""
        own: PostOver = getattr(self, f"{kind}_thickness_mm")
        return own

    def densities_g_cm3(self, kind: str) -> PostOver:
        """The lightest and heaviest goods of a kind."""
        own: PostOver = getattr(self, f"{kind}_density")
        return own

    def post_over_mm(self, kind: str) -> PostOver | None:
        """By how much the post of a kind of hardware is longer than its stack; None for kinds without a post."""
        own = {"rivet": self.rivet_over_mm, "tubular-rivet": self.tubular_rivet_over_mm, "snap": self.snap_over_mm}
        return own.get(kind) or POST_OVER_STACK_MM.get(kind)


def list_limits() -> tuple[tuple[str, str, Limit], ...]:
    """Each limit: its field, its key with `_` for `-`, and what is told of it."""
    return tuple((part.name, part.name.removesuffix("_mm"), part.metadata["limit"]) for part in fields(Limits))


def limit_words(limits: Limits) -> dict[str, str]:
    """The figures in words, as a spec would say them, by key: `5 mm`, `40 %`, `2 to 3 mm`."""
    return {key: tell_value(told.kind, getattr(limits, name)) for name, key, told in list_limits()}
