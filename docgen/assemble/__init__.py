"""Build -> Assembly: which copies there are, what joins them, in which order, and what lies under each needle and post.

Only what is exported here may be used by later phases. Layers and counts follow from what is joined to what, and when;
a place in space is not needed.
"""

from __future__ import annotations

from docgen.assemble.apart import (
    INWARD_MM,
    SNAP_APART,
    Body,
    BodyFace,
    BodyHole,
    BodyLine,
    Bond,
    BoxBody,
    Closed,
    Flat,
    Folding,
    Heap,
    Joined,
    Lined,
    MetalBody,
    Moved,
    OpenedOut,
    Side,
    Span,
    TakenApart,
    UnsureError,
    find_boxes,
    find_floor,
    is_of_lining,
    list_beneath,
    list_made_up,
    parts_inside,
    shift_heap,
    size_mm,
)
from docgen.assemble.assembled import Assembled, find_leather_stitches, leathers, leave_apart, put_together
from docgen.assemble.assembly import Assembly, Copy, Event, EventKind, Fastened, Half, Lies, Room, Run, Sewn, Stack
from docgen.assemble.behind_goods import list_behind
from docgen.assemble.closed import Closing
from docgen.assemble.corners import is_open_corner
from docgen.assemble.disorder import find_disorder, is_host
from docgen.assemble.faced import find_faced
from docgen.assemble.fold_ways import folds_either_way, goes_either_way
from docgen.assemble.gather import assemble
from docgen.assemble.hem_rows import HemRow, find_hem_rows
from docgen.assemble.hung_linings import look_inward
from docgen.assemble.landing import is_glued_by, is_laid_by
from docgen.assemble.mates import laid_places, riveted_places
from docgen.assemble.piles import is_caught, pile_joints, pile_post, pile_run, pile_seam
from docgen.assemble.plies import Pile, Ply
from docgen.assemble.posts import wanted_pressed
from docgen.assemble.room import goes_in_room, is_bag, is_of_whole, room_words
from docgen.assemble.sections import find_sections, tell_sections
from docgen.assemble.snap_sides import Looks, find_snap_half
from docgen.assemble.space import (
    FACES_UNTOLD,
    LINE_UNTOLD,
    NO_HOLD,
    NO_HOLE,
    ON_STRIP,
    OTHER_HALF,
    PLACE_UNTOLD,
    POINTS_UNTOLD,
    SPOT_UNTOLD,
    WAY_UNTOLD,
    Face,
    Gap,
    InFold,
    Kind,
    LineInSpace,
    Metal,
    Placed,
    Space,
    Unplaced,
    Unset,
    Vec,
    inner,
    is_in_ring,
    keeper_on,
    list_in_fold,
    place_parts,
    plus,
    way_of_flap,
)
from docgen.assemble.stand_off import stands_off
