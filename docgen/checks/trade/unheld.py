"""Check of pieces that have a place on another, and that nothing fastens there."""

from collections.abc import Iterator

from docgen.checks.trade.check import Found, Subject, check
from docgen.resolve import Step, by_name
from docgen.tables.cautions import has_phrase
from docgen.tables.consumables import is_glue

FASTENS = ("glue", "cement", "stick", "tape", "sew", "stitch", "lace", "rivet", "slip", "lay")


@check(
    "landing-unheld",
    "What has its place on another part is sewn, set or glued there.",
    "plain from the work; what is only laid there may be accepted",
    needs_whole=True,
    gives_way=("piece-loose",),
)
def find_unheld_landings(subject: Subject) -> Iterator[Found]:
    """Pieces of leather that land once the steps are written, that no seam, join, line or hardware holds, nor any seam goes
    through, and that no step which fastens has in hand; once for a piece."""
    build = subject.build
    landed = {landing.piece: base for base in build.pieces for landing in base.marks.landings if not landing.is_over}
    held = subject.sewn.keys() | {name for one in build.joins for name in one.pieces}
    held |= {name for piece in build.cut for hole in piece.marks.holes for name in hole.through}
    opens = {item.name for item in build.hardware if item.kind == "snap"}
    fast = [one for one in build.assembly.fastened if one.hardware not in opens]
    held |= {layer.part for one in fast for layer in one.stack.layers}
    held |= {layer.part for once in build.assembly.sewn for layer in once.stack.layers}
    held |= {piece.name for piece in build.pieces if piece.dividers or any(fold.around for fold in piece.marks.folds)}
    held |= {name for step in build.steps if _fastens(step) for name in step.pieces}
    materials = by_name(build.materials)
    for piece in build.pieces if build.steps else ():
        goods = materials.get(piece.material)
        if piece.name in landed and piece.name not in held and goods is not None and goods.kind == "leather":
            host = landed[piece.name].name
            what = f'"{piece.name}" has its place on "{host}", and no seam, step or hardware fastens it there'
            yield piece.place, what, "name it in the seam, or in the step that glues it", piece.name


def _fastens(step: Step) -> bool:
    said = (step.do, *step.first, *step.last)
    is_said = any(has_phrase(line, word) for line in said for word in FASTENS)
    return is_said or bool(step.seams or step.joins) or any(is_glue(tool) for tool in step.tools)
