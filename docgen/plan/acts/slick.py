"""Grain on which glue holds once it is roughened."""

from collections.abc import Sequence, Set
from itertools import pairwise

from docgen.assemble import pile_seam
from docgen.plan.act import Act
from docgen.plan.acts.work import Work
from docgen.resolve import Seam
from docgen.tables.practice import ROUGH_GROUNDS


def is_slick(work: Work, part: str, face: Act) -> bool:
    """Whether a face is the grain of leather, on which glue holds once it is roughened: not a napped one."""
    return face.case == "face_grain" and work.material_of(part).finish not in ROUGH_GROUNDS


def slick_between(work: Work, seam: Seam, loose: Sequence[Set[str]]) -> list[str]:
    """The layers of a seam whose grain, on which glue does not hold, is glued to another, as that of a welt is; as its
    section shows them."""
    once = next((one for one in work.build.assembly.sewn if one.seam == seam.name and not seam.is_turned), None)
    found: dict[str, None] = {}
    for pile in pile_seam(work.build, once) if once is not None else ():
        for upper, lower in pairwise([ply for ply in pile if not ply.is_partial]):
            met = [ply.part for ply, grain in ((upper, "down"), (lower, "up")) if ply.grain == grain]
            if {upper.part, lower.part} in loose:
                found |= dict.fromkeys(part for part in met if work.material_of(part).finish not in ROUGH_GROUNDS)
    return [*found]
