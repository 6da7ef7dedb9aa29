"""What figures usually are: beyond them a number or its unit may be mistaken, and is asked about.

Beyond those of `sizes` nothing can be meant, and nothing is made. All are common practice, no published source, unless a
line names one; where sources differ, the cautious end stands here.
"""

# Kind of goods -> thinnest and thickest in which they are usually sold, mm. Leather goes up to 16 oz (fineleatherworking,
# chart); thinner than 0.5 mm it is pared for linings.
GOODS_MM = {"leather": (0.5, 6.5), "fabric": (0.1, 2.5), "foam": (1.0, 15.0), "board": (0.3, 5.0)}
# Animal -> thinnest and thickest in which its leather is mostly sold, whole, mm.
ANIMALS_MM = {
    "goat": (0.5, 2.0),
    "lamb": (0.4, 1.4),
    "sheep": (0.4, 1.6),
    "pig": (0.4, 1.6),
    "calf": (0.5, 2.4),
    "kip": (0.5, 2.6),
    "deer": (0.7, 2.4),
    "kangaroo": (0.4, 1.8),
}
# Kind of goods -> g/cm3, from and to: leather 0.77 to 1.1 (D1814's ounce; belt leather, textbook problems), with room; the
# others from memory.
DENSITIES_G_CM3 = {"leather": (0.5, 1.3), "fabric": (0.1, 1.5), "foam": (0.01, 0.5), "board": (0.3, 1.5)}
# Least and most that is lost of a hide or roll, where any is: small goods 15 to 20 %, upholstery 30 to 45 % and up to 80 %
# with the largest panels (leather-dictionary.com, "Leather cutting waste"), half with large panels (keleenleathers.com).
LEAST_WASTE = {"leather": 0.05}
LEAST_OTHER_WASTE = 0.02
MOST_WASTE = 0.50
# A whole hide, long and wide, mm: 2.0 x 1.8 m (greengate.co.uk). Straps come up to 8 ft from a side (weaverleathersupply,
# "strap yield chart"); half a foot more from a long one.
HIDE_LONG_MM = 2000.0
HIDE_WIDE_MM = 1800.0
STRAP_LONG_MM = 2600.0
# A strap is narrower than a hand is wide, and wider than it is thick.
NARROWEST_STRAP_MM = 3.0
WIDEST_STRAP_MM = 130.0
# The tip of a strap after its last hole: 50 to 120 mm; more than twice that.
LONGEST_TIP_MM = 300.0
# The wall between two panels, as so many times the longer side of a panel. Our choice: a barrel bag has two to three times.
WIDEST_WALL_TIMES = 4.0
# Laps of one row are 8 to 12 mm, of two 12 to 15: twice that.
WIDEST_LAP_MM = 30.0
# The wire of rings and buckles.
THICKEST_BAR_MM = 8.0
# What one fitting weighs, g: small ones that are set, and any other. D rings of 26 mm weigh 9, buckles of that width 22.
MOST_RIVET_G = 8.0
MOST_FITTING_G = 400.0
# Cloth off the roll: from 90 cm; linings of felt and canvas come half as wide, and rests.
NARROWEST_ROLL_MM = 400.0
# Posts in a drawer, and what goes under a foot: heavy harness machines sew an inch.
POSTS_MM = (2.0, 40.0)
MOST_LIFT_MM = 30.0
LEAST_LIFT_MM = 3.0
# What is sewn back over at each end: 13 mm, an inch at most (restitching clauses of military specifications); three times
# that.
MOST_TACK_MM = 76.2
# What a seam of hand luggage is said to carry: 23 kg is lifted in the ideal case (NIOSH lifting equation); four times that.
MOST_LOAD_KG = 100.0
# A stitch line from its cut edge: 3 to 6 mm (webcasty.com, 2013), 10 to 13 in turned seams.
MOST_INSET_MM = 20.0
# What is left beyond the row of a seam that is turned: our choice.
TURNED_IN_MM = 3.0
# A corner that is rounded at all.
LEAST_ROUND_MM = 1.5
# Minutes that one step takes, and metres of thread on a bobbin and on a spool.
MOST_MINUTES = 480
BOBBIN_M = (3.0, 400.0)
SPOOL_M = (20.0, 20000.0)
# And those for machines hold at least.
MACHINE_BOBBIN_M = 8.0
MACHINE_SPOOL_M = 100.0
# So many thread thicknesses long is a stitch of light thread; of linen by hand, which is bought by its thickness for the
# iron, 5 to 7 are usual.
LIGHT_THREAD_TIMES = {"machine": 13.0, "hand": 12.5}
LIGHT_LINEN_TIMES = 9.0
COARSEST_MM = 12.0  # a stitch longer than that only tacks
HEAVY_ON_CLOTH_TEX = 138.0  # canvas is sewn with that or finer by machine

# The thicker end of a range over the thinner: hides are sold an ounce or half a millimetre apart, splits from one ounce to
# two.
MOST_RANGE = 2.0
# The shortest length that is cut of goods by length.
SHORTEST_CUT_MM = 15.0
# Smallest and largest of how a hide is sold, over the usual ones: lamb skins are a third of calf, and bulls half as large
# again as cows.
HIDE_AREA_TIMES = (0.3, 2.0)
# Holes of a row for a buckle: five to seven, and with room.
MOST_ROW_HOLES = 13

# Metals and platings as they are written; others are as good, and one that is nearly one of these is asked about.
METALS = (
    *("brass", "solid brass", "antique brass", "brushed brass", "brass-plated", "bronze", "solid bronze"),
    *("copper", "copper-plated", "nickel", "nickel-plated", "nickel silver", "black nickel", "nickel-free"),
    *("steel", "stainless steel", "stainless", "blackened steel", "zinc", "zinc-plated", "zinc alloy"),
    *("chrome", "chrome-plated", "gold-plated", "silver-plated", "gunmetal", "aluminium", "aluminum", "iron", "black"),
    *("antique nickel", "antique copper", "matte black", "silver", "gold", "tin-plated", "enamelled", "lacquered"),
)

# Currencies as they are written; others are as good, and one that is nearly one of these is asked about.
CURRENCIES = (
    *("dollars", "euros", "pounds", "francs", "kronor", "kroner", "yen", "pesos", "reais", "rand", "zloty", "forint"),
    *("crowns", "rupees", "shekels", "won", "yuan", "baht", "lira", "dinars"),
    *("USD", "EUR", "GBP", "CHF", "SEK", "NOK", "DKK", "JPY", "CAD", "AUD", "NZD", "MXN", "BRL", "ZAR", "PLN", "CZK"),
)

# Marks left and right of a middle that miss each other's mirrored place by less were hardly meant to: our choice.
ASKEW_MM = 30.0
# Entries that agree in all but one figure, which differs by so much at most, were hardly meant to be unlike: our choice.
NEARLY_ALIKE_MM = 10.0
# What measures are called -> least and most of such things, mm: cards by ISO/IEC 7810, 54 by 86, with room; belts by what
# is sold; bodies with room.
CALLED_MM = {
    "card": (50.0, 130.0),
    "belt": (15.0, 100.0),
    "wrist": (110.0, 260.0),
    "waist": (500.0, 1600.0),
    "neck": (200.0, 900.0),
}
# What a belt is thick, which goes through a loop with its width: common practice, no published source.
BELT_THICK_MM = 4.0
# How wide a keeper mostly is, as so many times what it holds, or in mm if that is more; the longest handle that is held in
# the hand or hangs from the forearm.
KEEPER_WIDE_TIMES = (0.2, 1.0)
KEEPER_WIDE_MM = 25.0
HANDLE_LONG_MM = 900.0
# How wide a handle mostly is at most, the least that is sewn on at its ends, the least layer of leather that is one by
# itself; and how thick a strap is in all.
HANDLE_WIDE_MM = 70.0
HANDLE_HELD_MM = 15.0
HANDLE_THICK_MM = 1.2
STRAP_THICK_MM = 7.0
# The ends of a keeper meet, or lie over each other by a row of stitches: common practice, no published source.
KEEPER_OVERLAP_MM = 4.0
# A zip is called by the width of its closed teeth in mm, no. 3 and up: common practice, no published source.
ZIP_TEETH_MM = 3.0
# Goods by length, by kind: thinnest and thickest, narrowest and widest, mm. Zips close 3 to 10 mm wide on tapes that make
# 20 to 60 mm together; webbing is 10 to 75 mm wide and about 1.5 to 2 mm thick (handwiki, "Webbing"), with room. The others
# common practice.
TRIMMINGS_MM = {
    "zip": ((0.2, 2.5), (8.0, 80.0)),
    "webbing": ((0.5, 5.0), (6.0, 120.0)),
    "elastic": ((0.3, 4.0), (3.0, 100.0)),
    "cord": ((0.5, 20.0), (0.5, 20.0)),
    "piping-cord": ((0.5, 12.0), (0.5, 40.0)),
    "binding": ((0.1, 2.5), (8.0, 80.0)),
    "bead": ((0.1, 8.0), (4.0, 60.0)),
}
# Thread for leather goes from Tex 15 to about 620 (five-cord and harness thread); the figure above that is our choice. Flat
# braided ones are sold by their width, up to 1.2 mm (from memory).
THREAD_TEX = (10.0, 700.0)
FLAT_THREAD_MM = 1.25
# The largest hole that is punched for a fitting: round hand punches go up to about an inch and a quarter.
LARGEST_PUNCH_MM = 32.0
# How much larger inside a loose lid is than its box outside, both ways together: common practice, no published source.
LID_ROOM_MM: tuple[float, float | None] = (0.5, 4.0)
# The shortest zip that is sold.
LEAST_ZIP_MM = 50.0
# The narrowest room between two dividing lines: a pen takes 15.
NARROWEST_ROOM_MM = 10.0
# The narrowest piece by itself, a row of stitches and leather on both sides of it: our choice.
NARROWEST_PIECE_MM = 9.0
# And of a pocket by itself, between its rows: a pencil or two.
NARROWEST_POCKET_MM = 18.0
# Ease that is written, as a share of its seam; and how much of it is needed at least. Our choice.
MOST_EASE_SHARE = 0.05
LEAST_EASE_USED = 0.2
