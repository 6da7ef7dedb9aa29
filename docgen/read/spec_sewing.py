"""Stitches, joins, seams and straps as written."""

# ruff: noqa: RUF009 - `key` only makes a field, and `Place` is immutable.

from __future__ import annotations

from dataclasses import dataclass

from docgen.problems import Place
from docgen.read.kinds import key
from docgen.read.written import Count, Flag, Length, Names, Text


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
        "choice", "Point of a machine needle.", choices=("leather", "round"), default="leather where it sews leather"
    )
    pitch: Text = key("pitch", "Length of one stitch.", unit="per inch, length or iron", required=True)
    inset: Length = key("length", "Stitch line, in from the cut edge.", unit="length", required=True)
    rows: Count = key("count", "Rows of stitching.", default="1", least=1, most=6)
    row_gap: Length = key("length", "Distance between rows.", unit="length", default="1/8 in")
    back_tack: Length = key("length", "Sewn back over at each end.", unit="length", default="1/2 in")
    bobbin: Text = key("run", "Thread that fills a bobbin.", unit="m or yd", default="3 g of it")
    spool: Text = key("run", "Thread on the spool that is bought.", unit="m or yd", default="4 oz of it, by hand 50 g")


@dataclass(frozen=True, slots=True, kw_only=True)
class JoinSpec:
    name: str = ""
    place: Place = Place()
    title: Text = key("text", "Words for the pages.", default="the table's name")
    of: Names = key("names", "Strips, in order, sewn end to end.", to="pieces", required=True, most=20)
    overlap: Length = key("length", "How far each end lies over the next.", unit="length", required=True)
    stitch: Text = key("name", "Stitch that holds the ends.", to="stitches", required=True)
    rows: Count = key("count", "Rows of stitching across each joint.", default="1", least=1, most=6)
    ring: Flag = key(
        "flag", "True: it closes on itself, the last end over the first; one strip alone will do.", default="false"
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class SeamSpec:
    name: str = ""
    place: Place = Place()
    wrong: tuple[str, ...] = ()  # fields that were written and could not be read (noted)
    title: Text = key("text", "Words for the pages.", default="the table's name")
    stitch: Text = key("name", "Stitch used.", to="stitches", required=True)
    meet: Names = key(
        "sides",
        'Partners of the seam, from the top layer down; "piece 2: edges" means the second of those that are cut.',
        required=True,
        most=8,
    )
    times: Count = key(
        "count",
        "How often it is sewn for one make, each time with other copies.",
        default="as often as its pieces are cut for it",
        least=1,
        most=200,
    )
    lap: Length = key(
        "length",
        "Lapped: how far the first partner lies over the others, which are sewn that much less the inset from "
        "their edges.",
        unit="length",
        default="0: edge to edge",
    )
    turned: Flag = key("flag", "True: sewn face to face and turned right side out.", default="false")
    ease: Length = key(
        "length",
        "How much longer than the first partner the others may be; it is eased in.",
        unit="length",
        default="0",
    )
    ease_at: Text = key(
        "edges", "Edges of the first partner along which the rest is eased in.", default="evenly along all of them"
    )
    load: Text = key("load", "What it has to carry; the thread is checked against it.", unit="kg, lb or N")


@dataclass(frozen=True, slots=True, kw_only=True)
class StrapHolesSpec:
    place: Place = Place()
    count: Count = key("count", "Number of holes; odd, so that there is a middle one.", required=True, least=1, most=99)
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
    takes: Text = key("name", "Turned: hardware that closes it; its holes stand in punches.", to="hardware")
    number: Count = key("count", "How many of that hardware.", default="1", least=1, most=20)


@dataclass(frozen=True, slots=True, kw_only=True)
class StrapPunchSpec:
    place: Place = Place()
    at: Text = key(
        "position",
        'Centre of the hole, from start, end, left, right or a middle; "at the fold" of a turned end, of two '
        '"at the first fold" or "at the second fold".',
        required=True,
    )
    punch: Length = key("length", "Size of the punch.", unit="length", required=True)
    long: Length = key("length", "Whole length of an oblong hole; the punch is its width.", unit="length")
    lies: Text = key(
        "choice",
        "Which way an oblong hole lies: up runs along the strap, from start to end; across runs over its width.",
        choices=("up", "across"),
        default="up",
    )


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
        "tables", "Further holes: for rivets and screws, the slot of a buckle's tongue.", of=StrapPunchSpec, most=50
    )
    ends: tuple[StrapEndSpec, ...] = key("tables", "First and second end.", of=StrapEndSpec, size=2)
    stitch: Text = key(
        "name", "Stitch along its long edges; a doubled strap is sewn in one run round a shaped end too.", to="stitches"
    )
    doubled: Flag = key("flag", "True: a second layer lies under its finished length.", default="false")
    lining: Text = key("name", "Material of the second layer.", to="materials", default="as the strap, when doubled")
    keeper_for: Text = key("name", "Makes it a keeper: the strap it goes round, in place of a length.", to="straps")
    layers: Count = key("count", "Keeper: layers of the strap that lie in it.", default="3", least=1, most=9)
    overlap: Length = key(
        "length", "Keeper: how far its ends lie over each other; 0 where they meet.", unit="length", default="1/2 in"
    )
    note: Text = key("note", "Words for the cutting list.")
