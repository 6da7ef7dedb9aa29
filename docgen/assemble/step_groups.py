"""What the groups of proposed steps are called, in the order of the work."""

PREPARE, PANELS, STRIPS, ASSEMBLE, STRAPS, TRIMMINGS, HARDWARE = (
    "Prepare",
    "Pockets and landings",
    "Joins and linings",
    "Assemble",
    "Straps",
    "Goods by length",
    "Hardware",
)
