"""Figures for materials: waste and area."""

# Share of what is bought that is lost in cutting, of the whole and not on top of the pieces. All four are
# common practice, no published source. Leather-dictionary.com, "Leather cutting waste", gives about 20 % for
# small articles and 30 to 45 % for upholstery.
WASTE_BY_KIND = {"leather": 0.25, "fabric": 0.10, "foam": 0.10, "board": 0.10}

# Room for the knife between pieces beside each other, and what one straightening cut takes off the long edge of a hide, mm.
# Common practice, no published source.
KNIFE_GAP_MM = 2.0
EDGE_TRIM_MM = 10.0
# The smallest rest of leather that is worth keeping: a pocket for cards comes out of it. Our choice.
REST_MM = (100.0, 150.0)

# Density in g/cm3, all from memory: leather by its finish and tannage (0.86 dry vegetable to 1.0), the others by kind.
# A method, without figures for goods, is ISO 2420.
DENSITY_G_CM3 = {
    "waxed": 1.0,
    "oiled": 1.0,
    "coated": 0.9,
    "vegetable": 0.86,
    "chrome": 0.8,
    "leather": 0.86,
    "fabric": 0.6,
    "foam": 0.1,
    "board": 0.8,
}


def find_density(kind: str, tannage: str, finish: str) -> float:
    """Usual density in g/cm3: of leather by finish, then tannage; of other kinds by kind."""
    words = (finish, tannage, kind) if kind == "leather" else (kind,)
    return next((DENSITY_G_CM3[word] for word in words if word in DENSITY_G_CM3), 1.0)


def find_gross_mm2(net_mm2: float, waste: float) -> float:
    """Area to buy, so that `net_mm2` is left after the share `waste` (0 to below 1) of it is lost."""
    return net_mm2 / (1 - waste)
