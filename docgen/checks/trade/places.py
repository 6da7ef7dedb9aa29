"""Checks of how parts come to lie in space: what is doubtful once every copy has its place."""

from docgen.checks.trade.check import check, doubts_of
from docgen.tables.sewing import EDGES_APART_MM
from docgen.written.units.telling import format_mm

SEEN = {
    "edges-apart": f"Edges that are sewn together come to lie on each other in space, within {format_mm(EDGES_APART_MM)}.",
    "fold-held-straight": "What a seam holds to a part without a fold is not folded across it.",
    "handle-too-low": "Under a handle there is room for a hand, {hand_room} at its middle.",
    "parts-crossing": "A part that is bent at its folds goes through no other.",
}
FIRST = {  # edges cannot come together while one of these is told, and a handle stands where it is held
    "edges-apart": (
        "lining-short",
        "halves-uneven",
        "landing-over-edge",
        "landing-against-seam",
        "edge-sewn-again",
        "edge-in-two-seams",
        "one-row-apart",
    ),
    "handle-too-low": ("strap-end-unheld",),
}
for _name, _says in SEEN.items():
    check(
        _name,
        _says,
        "solid geometry; what leather gives is our choice",
        needs_whole=True,
        gives_way=("fold-in-seam",),
        waits_for=FIRST.get(_name, ()),
    )(doubts_of(_name, lambda subject: subject.space.doubts))
