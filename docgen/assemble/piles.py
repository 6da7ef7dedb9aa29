"""Stack -> its layers from the top down, each with the way its grain side looks: what a section through it shows.

A stack tells what lies under a needle or a post; which of it lies over which, and which side of it looks where, follows
from what lies on what, and where that does not tell, from the places of its parts. Where neither tells, there is no pile.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from docgen.assemble.assembled import Assembled, leathers
from docgen.assemble.assembly import Copy, Fastened, Run, Sewn, Stack
from docgen.assemble.corners import is_open_corner
from docgen.assemble.goods_laid import is_behind
from docgen.assemble.hung_linings import backs
from docgen.assemble.layering import FOLDED_LAYERS, PAIR, Layering
from docgen.assemble.plies import Pile, turn_over
from docgen.resolve import Layer, Piece, Seam, by_name, find_parts, joint_ends_mm


def pile_seam(build: Assembled, once: Sewn) -> tuple[Pile, ...]:
    """The layers under the needle of a seam while it is sewn, what faces out on top; of one that is turned right side
    out as it lies before that. A pile for each place that is unlike, first for what it mostly is; none where the order is
    not told, or which of them lie at one place."""
    seam = by_name(build.seams)[once.seam]
    if once.stack.is_vague or any(find_loose(build, seam)) or is_open_corner(build, seam):
        return ()
    piles = [_pile_place(build, stack, seam, once) for stack in _stack_places(once.stack)]
    told = [pile for pile in piles if pile is not None]
    return tuple(told) if len(told) == len(piles) else ()


def _pile_place(build: Assembled, stack: Stack, seam: Seam, once: Sewn) -> Pile | None:
    if _is_self_sewn(seam, once):
        return _pile_self(build, stack, seam, once)
    return Layering(build, stack, once.sides).pile_seam(seam, once)


def _stack_places(stack: Stack) -> tuple[Stack, ...]:
    """The stack at each of its places: what lies there under a part of the seam only stays so."""
    return tuple(
        replace(
            stack,
            layers=tuple(
                replace(layer, thickness_mm=mm, thinnest_mm=min(layer.least_mm, mm), thickest_mm=mm)
                for layer, mm in zip(stack.layers, mms, strict=True)
                if mm
            ),
        )
        for mms in stack.places
    ) or (stack,)


def pile_joints(build: Assembled, run: Run) -> tuple[Pile | None, ...]:
    """The layers of the joints of a join: a pile for each two strips of which the one lies over the other,
    None where it is not told."""
    join = by_name(build.joins)[run.part]
    ends_mm = joint_ends_mm(join, find_parts(build))
    ends = [replace(layer, thickness_mm=ends_mm[layer.part]) for layer in run.stack.layers[:2]]
    known, tapes = {layer.part: layer for layer in ends}, run.stack.layers[2:]
    pairs = [(other, one) if join.lies_under(one, other) else (one, other) for one, other in join.neighbours]
    told = [(known[one], known[other]) for one, other in dict.fromkeys(pairs) if one in known and other in known]
    return tuple(_pile_joint(build, run.stack, pair, tapes) for pair in told)


def _pile_joint(build: Assembled, stack: Stack, layers: Sequence[Layer], tapes: Sequence[Layer]) -> Pile | None:
    """Leather over what is none: that is sewn to its flesh side. Goods laid on one of the strips lie with that, a zip
    behind its window, and so do pieces that land there; None where they lie on both, or goods on none."""
    layering = Layering(build, stack, ())
    ranged = [[layer] for layer in sorted(layers, key=lambda layer: layer.material not in leathers(build))]
    pieces, behind = by_name(build.pieces), list[Layer]()
    for tape in tapes:
        on = [group for group in ranged if any(_bears(pieces.get(one.part), tape.part) for one in group)]
        if not on and tape.part in pieces:  # it lies at the other joint
            continue
        if len(on) != 1 or (tape.part in pieces and pieces[tape.part].marks.folds):
            return None
        strip = next(pieces[one.part] for one in on[0] if one in layers)
        behind += [tape] if _lies_behind(layering, strip, tape.part) else []
        on[0].insert(len(on[0]) if tape in behind else 0, tape)
    return tuple(layering.ply(layer, is_up=layer not in behind) for group in ranged for layer in group)


def _bears(piece: Piece | None, name: str) -> bool:
    """Whether goods by length are laid on a piece, or another piece lands there."""
    return piece is not None and (name in piece.landing_names or any(line.goods == name for line in piece.dividers))


def _lies_behind(layering: Layering, strip: Piece, name: str) -> bool:
    """Whether what is laid on a strip lies on its hidden side."""
    if name in layering.trimmings:
        return is_behind(layering.trimmings[name], strip)
    return any(one.is_inside for one in strip.marks.landings if one.piece == name)


def pile_run(build: Assembled, run: Run) -> Pile | None:
    """The layers of stitching that is no seam, nor a joint: a strap with its second layer or its turned end, a line across
    a piece, the end of a strap on what it is sewn to; what is laid on a hidden side lies on top, as it is sewn."""
    if run.kind == "straps":
        return Layering(build, run.stack, (Copy(run.part),)).pile_strap(run.stack.layers)
    on = (lies.copy for lies in build.assembly.lies if lies.copy.part == run.part and lies.host.part in run.stack.parts)
    copy = next(on, Copy(run.part))
    layering = Layering(build, run.stack, (copy,))
    pile = layering.pile_post()
    return turn_over(pile) if pile is not None and layering.is_laid_inside(copy) else pile


def pile_post(build: Assembled, one: Fastened) -> Pile | None:
    """The layers that a post goes through."""
    layering = Layering(build, one.stack, (Copy(one.part),))
    is_end = one.part in by_name(build.straps) and set(one.stack.parts) == {one.part}
    if is_end:
        return layering.pile_strap(one.stack.layers)
    return layering.pile_post() or _pile_back_to_back(layering, one.part)


def _pile_back_to_back(layering: Layering, part: str) -> Pile | None:
    """Two parts that seams lay on each other, outer sides away from each other, with what lies on each: that on top in
    which the post is told. None where a seam that joins them is turned, or lays them otherwise."""
    roots = layering.roots
    if len(roots) != PAIR or not layering.is_told:
        return None
    if part not in (roots[0].part, roots[1].part):
        return None
    first, other = roots if part == roots[0].part else roots[::-1]
    both = {first.part, other.part}
    seams = [one for one in layering.build.seams if both <= {side.part for side in one.sides if side.edges}]
    beside = [layering.beside(first, other, seam) for seam in seams]
    is_back = all(one is not None and not one.is_wall and not one.is_same for one in beside)
    if not seams or not is_back or any(seam.is_turned for seam in seams):
        return None
    return (*layering.sandwich(first, is_up=True), *layering.sandwich(other, is_up=False))


def find_loose(build: Assembled, seam: Seam) -> Iterator[str]:
    """Parts that are sewn flat on a side of a seam, and nothing says where: they may lie under the seam too."""
    sides = seam.parts
    unplaced = {one.copy.part for one in build.space.unplaced}
    for other in build.seams:
        if other.name != seam.name and {side.part for side in other.sides if not side.edges} & sides:
            yield from (side.part for side in other.sides if side.edges and side.part in unplaced)


def is_caught(seam: Seam, part: str) -> bool:
    """Whether a seam catches both edges of a folded part on another: its halves are not turned with it."""
    parts = [side.part for side in seam.sides]
    others = [one for one in parts if one != part]
    return bool(others) and parts in ([part, part, *others], [*others, part, part])


def _is_self_sewn(seam: Seam, once: Sewn) -> bool:
    """Whether edges of one part are sewn to each other, as of one that is folded."""
    edged = [copy for side, copy in zip(seam.sides, once.sides, strict=True) if side.edges]
    return len({*edged}) < len(edged) and not _is_hem(seam)


def _is_hem(seam: Seam) -> bool:
    """Whether a seam sews a piece's own edges down on it."""
    return any(not side.edges for side in seam.sides) and len(seam.parts) == 1


def _pile_self(build: Assembled, stack: Stack, seam: Seam, once: Sewn) -> Pile | None:
    """A part that closes on itself: the sides in the order of the seam, each with what lies on that; its halves lapped,
    outer sides together, or inner ones. Binding lies round all. None where it is not told which layer is of which side."""
    bought = {use.name for use in seam.trimmings}
    known = {copy.part: copy for copy in once.sides}
    groups: list[list[Layer]] = []
    for layer in (layer for layer in stack.layers if layer.most_mm > 0):
        is_more = layer.part in bought and bool(groups) and groups[-1][0].part == layer.part
        if groups and (is_more or layer.part not in {*known, *bought}):
            groups[-1].append(layer)
        else:
            groups.append([layer])
    heads = [group[0].part for group in groups if group[0].part not in bought]
    if heads != [copy.part for copy in once.sides] or len(known) < len({*once.sides}):
        return None
    pile: Pile = ()
    round_all: list[Pile] = []
    for k, group in enumerate(groups):
        part = group[0].part
        layering = Layering(build, replace(stack, layers=tuple(group)), [known.get(part, Copy(part))])
        is_first = not any(other[0].part == part for other in groups[:k])
        plies = _pile_side(layering, seam, heads.count(part), is_first=is_first)
        if plies is None:
            return None
        if part in bought and layering.trimmings[part].kind == "binding":
            round_all.append(plies)
        else:
            pile += plies
    for own in round_all:
        pile = (own[0], *pile, *own[1:])
    return pile


def _pile_side(layering: Layering, seam: Seam, sides: int, *, is_first: bool) -> Pile | None:
    """A half of a part that has two sides in a seam, or what lies flat beneath; of what lies between or outside, alone,
    the side in sight is not told."""
    if len(layering.roots) != 1 or not layering.is_told:
        return None
    copy = layering.roots[0]
    if sides == 1 and any(side.part == copy.part and not side.edges for side in seam.sides):
        return layering.sandwich(copy, is_up=True) if seam.sides[-1].part == copy.part else None
    if sides < FOLDED_LAYERS:
        own = layering.own(copy, is_up=True) if len(layering.layers) == 1 else None
        return own if own is None or layering.is_piping(copy) else tuple(replace(ply, grain="") for ply in own)
    backed = _backed_by(layering.build, copy, seam)
    ways = layering.ways_in(backed or copy)
    if len(ways) > 1 or sides > FOLDED_LAYERS:
        return None
    is_out = (seam.is_turned and not is_caught(seam, copy.part)) == (True in ways)
    sewn = seam.parts
    is_lining = any(
        lies.copy == copy and lies.host.part in sewn and lies.is_behind for lies in layering.build.assembly.lies
    )
    is_lining = is_lining or backed is not None
    is_lapped = any(side.lap_mm for side in seam.sides)
    return layering.sandwich(copy, is_up=(is_out if is_first or is_lapped else not is_out) != is_lining)


def _backed_by(build: Assembled, copy: Copy, seam: Seam) -> Copy | None:
    """The part of a seam on which another one lies back to back and bends as that does: it looks the other way."""
    placed = build.space.part(copy)
    host = build.space.part(placed.host) if placed is not None and placed.host is not None else None
    return (
        host.copy if host is not None and host.copy.part in seam.parts and backs(build.space, copy, host.copy) else None
    )
