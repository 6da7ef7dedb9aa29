"""How to write a spec, topic by topic: words and an example each, which adds to the one in example.toml."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from docgen.problems import CallRejected, shorten, suggest_any
from docgen.read import READY, describe_keys

WHOLE: Final = "example"
PIECES: Final = ("pieces.NAME", "pieces.NAME.points[]")
DRAWN: Final = ("pieces.NAME.corners[]", "pieces.NAME.drawn-holes[]")
MARKS: Final = tuple(
    dict.fromkeys(
        row.table
        for row in describe_keys()
        if row.table.startswith("pieces.NAME.") and row.table not in (*PIECES, *DRAWN)
    )
)

TOPICS: Final = {
    "example": ("a small spec, whole", ("spec", "measures")),
    "lengths": ("lengths, positions, edges, and what is worked out", ()),
    "goods": ("materials, linings, and what is bought by length", ("materials.NAME", "trimmings.NAME")),
    "pieces": ("shapes of pieces", PIECES),
    "marks": ("holes, notches, folds, hems and whatever is marked on a piece", MARKS),
    "drawings": ("pieces that are drawn", DRAWN),
    "stitches": ("thread, pitch, machines and irons", ("stitches.NAME", "machines.NAME", "irons.NAME")),
    "seams": ("edges that are sewn together", ("seams.NAME", "joins.NAME")),
    "straps": (
        "straps, handles and keepers",
        (
            "straps.NAME",
            "straps.NAME.holes",
            "straps.NAME.punches[]",
            "straps.NAME.ends[]",
            "straps.NAME.ends[].skive",
            "straps.NAME.ends[].holes",
            "straps.NAME.padding",
        ),
    ),
    "hardware": ("rivets, rings and buckles", ("hardware.NAME",)),
    "inside": ("the room inside", ("inside", "holds[]")),
    "steps": ("the work, in order", ("steps[]",)),
    "variants": ("other sizes, colours, ranges, and batches", ("variants.NAME",)),
    "parts": ("the shop's own parts, brought into any build", ("parts.NAME",)),
    "checks": ("cautions, and your own limits", ("accept[]", "limits")),
    "printing": ("paper, and printers that stretch", ("pattern", "shop")),
    "prices": ("prices, and the shop's own file", ("costs",)),
    "care": ("the customer's care card", ("care", "care.parts[]")),
    "versions": ("issued versions, and pages traced back", ()),
    "layouts": ("your own words and looks", ()),
}
"""Name -> what it is about, and the tables whose keys it lists."""


def read_topic(name: str) -> str:
    """The words and the example of a topic, as TOML. Raises CallRejected for one that is not there."""
    if name not in TOPICS:
        raise CallRejected(f'there is no topic "{shorten(name)}"; {suggest_any(name, (*TOPICS, *READY))}')
    return Path(__file__).with_name(f"{name}.toml").read_text(encoding="utf-8")


def list_topics() -> str:
    """The topics, a line each."""
    return "\n".join(f"  {name:<9} {about}" for name, (about, _) in TOPICS.items())
