"""Assembled -> what a section is drawn through: every seam, run and post of two layers and more, with the pile of each, or
why none is drawn."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.assemble.apart import find_ring_hems
from docgen.assemble.assembled import Assembled
from docgen.assemble.assembly import Fastened, Run, Sewn
from docgen.assemble.corners import is_open_corner
from docgen.assemble.hem_rows import find_hem_rows
from docgen.assemble.piles import find_loose, pile_joints, pile_post, pile_run, pile_seam
from docgen.assemble.plies import Pile
from docgen.classes import dataclass
from docgen.resolve import by_name

CORNER = "the edges meet at a corner, and nothing says how they lie there"
LOOSE = 'nothing says where "{0}" lies, which may be under it'
MISSED = 'its row may miss "{0}" under the hem'
VAGUE = "which layers lie at one place along it does not follow from their places"
ORDER = "which layer lies on which, and which side up, does not follow from their places"
FOLDED = "{0} {1} folded in a joint, and a section is drawn there of flat layers alone"
Made = Sewn | Run | Fastened


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """What goes through layers at one place, and these from the top down; None where `why` tells that no section is drawn
    of it."""

    made: Made
    pile: Pile | None
    why: str = ""


def find_sections(build: Assembled) -> Iterator[Section]:
    """Seams, then other stitching, then posts, each in the order of the work. Hems of rings that may be turned over a
    lining are left out: that is told with the lining."""
    over = {hem.seam for hem in find_ring_hems(build) if hem.linings}
    missed = {row.seam.name: row.lining for row in find_hem_rows(build) if row.lining}
    made: tuple[Made, ...] = (*build.assembly.sewn, *build.assembly.runs, *build.assembly.fastened)
    for one in (one for one in made if len(one.stack.layers) > 1):
        if isinstance(one, Sewn):
            if one.seam in missed:
                yield Section(made=one, pile=None, why=MISSED.format(missed[one.seam]))
            elif one.seam not in over:
                piles = pile_seam(build, one)
                yield from (Section(made=one, pile=pile) for pile in piles)
                if not piles:
                    yield Section(made=one, pile=None, why=_why(build, one))
        elif isinstance(one, Run):
            for pile in pile_joints(build, one) if one.kind == "joins" else (pile_run(build, one),):
                yield Section(made=one, pile=pile, why="" if pile else _why_untold(build, one))
        else:
            pile = pile_post(build, one)
            yield Section(made=one, pile=pile, why="" if pile else ORDER)


def _why(build: Assembled, once: Sewn) -> str:
    seam = by_name(build.seams)[once.seam]
    loose = next(find_loose(build, seam), "")
    if loose:
        return LOOSE.format(loose)
    return VAGUE if once.stack.is_vague else CORNER if is_open_corner(build, seam) else ORDER


def _why_untold(build: Assembled, run: Run) -> str:
    folded = {piece.name for piece in build.pieces if piece.marks.folds} if run.kind == "joins" else set()
    names = [f'"{layer.part}"' for layer in run.stack.layers[2:] if layer.part in folded]
    return FOLDED.format(", ".join(names), "lies" if len(names) == 1 else "lie") if names else ORDER


def tell_sections(build: Assembled) -> Iterator[str]:
    """Of what no section is drawn, in words: once for each reason."""
    names: dict[str, dict[str, None]] = {}
    for section in find_sections(build):
        if section.pile is None:
            names.setdefault(section.why, {}).setdefault(_name(section.made))
    for why, made in names.items():
        yield f"{'a section' if len(made) == 1 else 'sections'} of {', '.join(made)}: {why}"


def _name(made: Made) -> str:
    if isinstance(made, Sewn):
        return f'"{made.seam}"'
    if isinstance(made, Run):
        return f'the stitching of "{made.work}"'
    return f'"{made.hardware}" in "{made.part}"'
