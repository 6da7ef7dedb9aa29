"""Check of a zip of which one side hangs on nothing."""

from collections.abc import Iterator

from docgen.checks.trade.check import Found, Subject, check

ACROSS = {"left": "right", "right": "left"}


@check("zip-side-loose", "Both sides of a zip are sewn in where one is.", "counted", needs_whole=True)
def find_loose_zip_sides(subject: Subject) -> Iterator[Found]:
    """Zips of which one seam names one side, and none the other; by joins they are held otherwise."""
    for item in subject.build.trimmings:
        uses = [use for seam in subject.build.seams for use in seam.trimmings if use.name == item.name]
        is_joined = any(cut.joins for cut in item.cuts)
        if item.kind == "zip" and len(uses) == 1 and item.number == 1 and uses[0].side in ACROSS and not is_joined:
            side = uses[0].side
            what = f'the {side} side of "{item.name}" is sewn in, and no seam takes the {ACROSS[side]}'
            yield uses[0].place, what, f'write "{item.name}: {ACROSS[side]}" in the seam of the other edge', item.name


@check(
    "zip-sides-unlike",
    "Both sides of a zip are sewn to as many layers.",
    "plain from the work; asked, since one side may be bare",
    needs_whole=True,
)
def find_unlike_zip_sides(subject: Subject) -> Iterator[Found]:
    """Zips sewn in by two seams, one of which sews some of what the other sews, and not all."""
    for item in subject.build.trimmings:
        seams = [seam for seam in subject.build.seams if any(use.name == item.name for use in seam.trimmings)]
        if item.kind != "zip" or len(seams) != 2:
            continue
        few, many = sorted(seams, key=lambda seam: len(seam.sides))
        parts = [{side.part for side in seam.sides} for seam in (few, many)]
        if parts[0] < parts[1]:
            lacks = " and ".join(f'"{name}"' for name in sorted(parts[1] - parts[0]))
            what = f'the seam "{many.name}" sews {lacks} to "{item.name}" too, and "{few.name}" does not'
            mend = f'name {lacks} in the meet of "{few.name}", or accept it where that is meant'
            yield few.sides[0].place, what, mend, few.name
