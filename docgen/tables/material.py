"""Figures for materials: waste and area."""

from __future__ import annotations

from docgen.units import MM2_PER_DM2, MM2_PER_SQFT, MM_PER_OUNCE

__all__ = ["MM2_PER_DM2", "MM2_PER_SQFT", "MM_PER_OUNCE", "WASTE_BY_KIND", "find_gross_mm2", "find_waste"]

# Share of what is bought that is lost in cutting, of the whole and not on top of the pieces. All four are
# common practice, no published source. Leather-dictionary.com, "Leather cutting waste", gives about 20 % for
# small articles and 30 to 45 % for upholstery.
WASTE_BY_KIND = {"leather": 0.25, "fabric": 0.10, "foam": 0.10, "board": 0.10}


def find_waste(kind: str) -> float:
    """The usual share lost in cutting a kind of material; 0.10 for kinds not listed."""
    return WASTE_BY_KIND.get(kind, 0.10)


def find_gross_mm2(net_mm2: float, waste: float) -> float:
    """Area to buy, so that `net_mm2` is left after the share `waste` (0 to below 1) of it is lost."""
    return net_mm2 / (1 - waste)
