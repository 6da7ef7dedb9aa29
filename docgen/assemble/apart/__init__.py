"""Space -> what can be drawn of it: parts as bodies, what each step joins and the way it goes on, and what is not sure."""

from docgen.assemble.apart.bodies import INWARD_MM, Body, BodyFace, BodyHole, BodyLine, parts_inside
from docgen.assemble.apart.bonds import Bond
from docgen.assemble.apart.boxes import BoxBody, find_boxes, find_floor
from docgen.assemble.apart.free_way import size_mm
from docgen.assemble.apart.heaps import Folding, Heap, Moved, UnsureError
from docgen.assemble.apart.hemmed import find_ring_hems
from docgen.assemble.apart.linings import Lined
from docgen.assemble.apart.made_up import list_beneath, list_made_up
from docgen.assemble.apart.metal_bodies import MetalBody
from docgen.assemble.apart.records import Closed, Joined, OpenedOut
from docgen.assemble.apart.shifts import is_of_lining, shift_heap
from docgen.assemble.apart.side import Flat, Side, Span
from docgen.assemble.apart.taken_apart import TakenApart
from docgen.assemble.apart.unsure import SNAP_APART

__all__ = [
    "INWARD_MM",
    "SNAP_APART",
    "Body",
    "BodyFace",
    "BodyHole",
    "BodyLine",
    "Bond",
    "BoxBody",
    "Closed",
    "Flat",
    "Folding",
    "Heap",
    "Joined",
    "Lined",
    "MetalBody",
    "Moved",
    "OpenedOut",
    "Side",
    "Span",
    "TakenApart",
    "UnsureError",
    "find_boxes",
    "find_floor",
    "find_ring_hems",
    "is_of_lining",
    "list_beneath",
    "list_made_up",
    "parts_inside",
    "shift_heap",
    "size_mm",
]
