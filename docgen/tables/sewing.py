"""Limits of sewing, folding and punching in leather, by which the checks judge.

All are common practice, no published source, unless a line names one.
"""

# Shorter machine stitches in leather perforate it like a postage stamp (leatherworker.net, 93986, says that short
# stitches do, without a figure). Longer ones than 4 per inch belong to harness.
LEAST_PITCH_MM = 2.1
MOST_PITCH_MM = 6.4
# By hand French number 16 is the finest of luxury saddlery (OQLF, "griffe a frapper"): 27.07 / 16 = 1.69 mm.
LEAST_HAND_PITCH_MM = 1.6
# A blade thicker than this many times the one by table leaves holes that its thread does not fill.
MOST_NEEDLE_OVER_TABLE = 1.6
# Thinner leather tears at a fold (seen in makers' pages without a figure).
LEAST_AT_FOLD_MM = 0.5
# What a turned edge needs at least; 5 to 8 mm for small goods, 8 to 12 for bags.
LEAST_TURNED_MM = 5.0
# From the centre of a hole to the edge, in diameters of the hole: 1.5 to 2 (thetravelpart.com, weak).
HOLE_EDGE_DIAMETERS = 1.5
# Leather that must stay between the rim of a hole and a stitch line.
HOLE_TO_STITCH_MM = 1.0
# Holes of two layers for one fitting must lie this near to each other to take it; those that lie farther apart than
# `OTHER_HOLE_MM` are meant for two.
HOLES_MEET_MM = 1.0
OTHER_HOLE_MM = 6.0
# Inch and metric punches that go by one size differ by no more.
SAME_PUNCH_MM = 0.25
# The halves of a snap, once what closes is folded over: leather goes round its folds by some mm more or less. Our choice.
ONE_PIECE_MEET_MM = 5.0  # both halves in one piece: what its bends take; our choice
HALVES_MEET_MM = 12.0
# The holes of a strap mostly stand 20 to 30 mm apart.
HOLES_APART_MM = 50.0
# Leather that must stay between two holes of a row.
HOLES_BETWEEN_MM = 2.0
# What stays beyond a stitch line, in a narrow piece, over what lies between it and its edge. Our choice.
MORE_BEYOND_LINE_MM = 1.5
# A stitch line nearer to the cut edge tears out.
LEAST_INSET_MM = 1.0
# Strips of a join that are sewn must lie over each other by this: a needle needs leather on both sides of it.
LEAST_OVERLAP_MM = 2.0
# What of the lower strip lies beyond the row that goes through both.
LEAST_BEYOND_ROW_MM = 1.0
# Leather that stays between two rows, beside the blade that cuts their holes: less is a strip that tears out. Our choice.
LEAST_BETWEEN_ROWS_MM = 0.5
# A skive that leaves less leaves nothing to glue or sew.
LEAST_SKIVED_MM = 0.1
# What a strap is narrower than its ring or buckle at most; then it slides and turns in it. None at all (saddlers), 0.5 to
# 1 mm, 2 mm (kredum.cz): a little over the loosest.
MOST_PLAY_MM = 3.0
# Least pitch in widths of the needle's blade: less than 60 % of the leather is left in the row. A double hole test punches
# 3 apart (ASTM D4705 as taught), 12 per inch with a blade of 0.9 mm is 2.35.
LEAST_PITCH_IN_BLADES = 2.5
# Longest stitch in thread thicknesses: 5 per inch with Tex 70 by machine, fine thread in coarse hand work.
MOST_PITCH_IN_THREADS = {"machine": 16.5, "hand": 13.0}
# Shortest stitch by hand in thread thicknesses: 0.8 mm thread goes with 3.85 to 4 mm.
LEAST_PITCH_IN_THREADS = 4.75
# Longer stitches than this, a little over 5 per inch, belong to thread of at least that Tex (leatherworker.net, 93986: 5 to
# 6 per inch with Tex 70 to 135; heavier thread with longer stitches).
LONG_PITCH_MM = 5.2
LONG_PITCH_TEX = 200
# Leather in the stack, mm, and the least Tex that holds it: a little under what is usual for it (45 to 70 up to 2 mm, 70 to
# 135 up to 4, 135 to 210 up to 6, 210 to 350 up to 10).
LEAST_TEX_FROM_MM = ((8.0, 130), (3.0, 60), (0.0, 25))
# The same by hand, as thickness of the thread in mm: a little under 0.35 to 0.5 mm up to 2 mm, 0.5 to 0.6 up to 4, 0.6 to
# 0.8 up to 6, 0.8 to 1.0 up to 10. The thickness is an estimate from the Tex, a tenth of which is no difference.
LEAST_HAND_FROM_MM = ((6.0, 0.54), (5.0, 0.48), (4.0, 0.4), (3.0, 0.36), (2.0, 0.3), (0.0, 0.24))
# Leather in the stack, mm, and the most Tex that is sewn through it: some sizes heavier than is usual for it (45 to 70 up
# to 2 mm, 70 to 135 up to 4, 135 to 210 up to 6; two layers of 2 mm still take 210); above, no thread is too heavy. By
# hand as thickness of the thread, up to half more than the usual 0.5, 0.6 and 0.8 mm, since it is sewn for its looks.
MOST_TEX_TO_MM = ((2.0, 150), (3.8, 180), (6.0, 300))
MOST_HAND_TO_MM = ((2.0, 0.65), (3.0, 0.7), (4.0, 0.9), (6.0, 1.1))
# What a skived band is wider than its lap or hem: half as much again (8 mm turned, 12 skived) or 2 to 4 mm.
SKIVE_BEYOND_MM = 12.0
SKIVE_SHORT_MM = 0.5
# Leather of this and more is thinned before it is turned over: a little over the 3 to 4 oz that are turned as they are.
LEAST_HEM_SKIVED_MM = 1.8
# So many times as long as it is wide, a piece pulls along its length.
LONG_STRIP = 3.0
# Match marks of two partners, along their stitch lines.
NOTCHES_MEET_MM = 1.5
# The tip of a strap after its last hole, in widths of the strap.
LEAST_TIP_WIDTHS = 1.5
# A lining may be larger than its leather by what its cutting is out.
LINING_OVER_MM = 1.0
# What a keeper is longer than the way round its straps, so that they slide.
KEEPER_ROOM_MM = 2.0
# How far the middle of a buckle's slot may lie from the fold. Our choice: the tongue still comes through there.
SLOT_OFF_FOLD_MM = 3.0
# The slot for a buckle's tongue is so much wider than the tongue. Common practice, no published source.
SLOT_OVER_TONGUE_MM = 1.0
# A slit beside a hole lets the head of a stud pass, which is up to twice as wide as its neck: as long as the hole is wide,
# or half as much again. Common practice, no published source; four times is our choice.
SLIT_IN_HOLES = 4.0
# The hole for a tongue or stud, as a share of its strap: 4 mm in 20 to 38 mm; the eye of a guitar's tail, 8 in 25.
MOST_HOLE_SHARE = 0.32
# A fold lies at the corner that it goes round, but for what leather takes at a bend. Our choice.
FOLD_OFF_CORNER_MM = 4.0
# What is bent over beyond an open fold, so that fingers hold it: a little under the half inch of a lip. Our choice.
LEAST_BENT_MM = 12.0
# What closes a turned end lies so near to the buckle or ring in its fold, a keeper between them and all. Our choice.
CLOSED_WITHIN_MM = 75.0
# A turned end that is sewn for itself is held by so many stitches on either edge, however short it is. Our choice.
LEAST_END_STITCHES = 3

# Beds of sewing machines, and how far from an open edge a flat one still gets behind a closed tube: common practice, no
# published source; the figure is our choice.
BEDS = ("flat", "cylinder", "post")
FLAT_REACH_MM = 50.0
# Room under a handle for a hand, from memory of tables of the body: the palm is some 30 mm thick. Our choice.
HAND_ROOM_MM = 30.0
# What leather gives where two edges that are sewn together do not follow one line: our choice.
EDGES_APART_MM = 8.0
# A longer seam round corners, along an edge that has none, wants a mark in between. Our choice.
LONG_UNMATCHED_MM = 600.0

LEAST_TAPE_MM = 2.0
"""Tape beyond a stitch line by which it holds; common practice, no published source."""
