"""What a seam sews flat on a piece: what lies with it, in which order, and what is held off."""

from __future__ import annotations

from docgen.assemble import stands_off
from docgen.plan.acts.work import Work
from docgen.resolve import Landing, Piece, Seam


def between_on_host(work: Work, seam: Seam) -> list[str]:
    """The parts through which a seam sews a piece flat on its host, and that land there too, as a pocket under or over
    another: those that it names, and what is laid with it."""
    landed, edged = work.lands_on(seam), {side.part for side in work.sides(seam)}
    if landed is None:
        return []
    host = landed[0]
    on = {one.piece for one in host.marks.landings} - edged
    events = [k for k, one in enumerate(work.build.assembly.events) if (one.kind, one.name) == ("seams", seam.name)]
    laid = [lies for at in events for lies in work.lays_at(at) if lies.host.part == host.name and not lies.is_cover]
    found = [*(side.part for side in seam.sides), *(lies.copy.part for lies in laid)]
    return [name for name in dict.fromkeys(found) if name in on]


def pressed_on_host(work: Work, seam: Seam) -> list[str]:
    """What a seam sews flat on its host with what lies between them or over it, from the lowest up: what lands first."""
    landed, parts = work.lands_on(seam), [*between_on_host(work, seam), work.sides(seam)[0].part]
    order = landed[0].landing_names if landed is not None else ()
    return sorted(parts, key=lambda part: order.index(part) if part in order else len(order))


def stood_off(work: Work, wall: str, host: Piece) -> list[Landing]:
    """Where what a wall holds off a piece is marked on that."""
    return [one for one in host.marks.landings if stands_off(work.build.seams, one.piece, host.name) == wall]
