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
