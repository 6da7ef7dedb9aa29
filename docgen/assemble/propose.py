"""An order of work for a build whose spec gives none: what must lie flat first, what closes last."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterator, Sequence
from dataclasses import replace
from typing import Any, Final

from docgen.assemble.goods import Goods
from docgen.assemble.halves import SNAP
from docgen.assemble.mates import pinned_straps
from docgen.assemble.prepare import prepare_pieces
from docgen.assemble.seam_order import caught_first, edges_first
from docgen.assemble.set_early import set_once_lined
from docgen.assemble.stand_off import stands_off
from docgen.assemble.step_groups import ASSEMBLE, HARDWARE, PANELS, STRAPS, STRIPS, TRIMMINGS
from docgen.resolve import Build, Hole, Join, Piece, Seam, Step, Strap, WorkKind, by_name, closes, side_pieces
from docgen.tables.cautions import STRUCK_TO_SETTER
from docgen.written.units.telling import format_pitch

Work = tuple[WorkKind, str]
DONE: Final = ("seams", "joins", "straps", "trimmings")


def propose_steps(build: Build) -> tuple[Step, ...]:
    """Steps that parts bring; then what these leave: skive, punch, fold; fix and sew what lands on panels, with the straps
    and hardware that one unlined panel alone holds; lay what lines them loosely; join strips; sew linings, then what
    closes; straps; hardware.

    A strap that is sewn on is made before its seam.
    """
    begun = tuple(_give_tools(step, build) for step in build.begun)
    left = _leave_done(build, begun)
    ranked = sorted(left.seams, key=lambda seam: _rank(build, seam))  # stable: the spec's order within a rank
    flat_first = [seam for seam in ranked if _rank(build, seam) == 0]
    flat_first.sort(key=lambda seam: not _is_in_lining(build, seam))  # before that is sewn to what it lines
    early = edges_first(build, flat_first, ranked)
    later = caught_first([seam for seam in ranked if seam not in early])
    sewn_on = {side.part for seam in build.seams for side in seam.sides}
    held = {end.keeper for strap in build.straps for end in strap.ends}
    straps = [strap for strap in left.straps if strap.name not in sewn_on]
    straps.sort(key=lambda strap: strap.name not in held)  # what lies in a fold before the strap that is folded
    handled = {name for step in begun for name in step.pieces}
    made = {name for step in begun for name in step.straps}
    on_panels = _held_by_a_panel(build) & {strap.name for strap in straps}
    flat = (
        *prepare_pieces(build, begun),
        *_lay_goods(build, handled),
        *(_make_strap(strap, build) for strap in left.straps if strap.name in sewn_on),
        *_land(build, handled, early, is_over=False),
        *(_sew(seam, build, PANELS) for seam in early),
        *_land(build, handled, early, is_over=True),
        *(_make_strap(strap, build) for strap in straps if _comes_with(strap, on_panels, straps)),
        *_sew_straps_on(build, handled, made, on_panels),
    )
    steps = (
        *flat,
        *_set_hardware(build, (*begun, *flat), _of_panels(build, on_panels)),
        *_line(build, handled, build.pieces),
        *_join(left),
        *_line(build, handled, build.joins),
        *(_sew(seam, build, STRIPS if _rank(build, seam) < 3 else ASSEMBLE) for seam in later),
        *(_make_strap(strap, build) for strap in straps if not _comes_with(strap, on_panels, straps)),
        *_sew_straps_on(build, handled, made, {strap.name for strap in build.straps} - on_panels),
        *_fix_trimmings(left),
    )
    steps = _with_rings(build, steps)
    items = {item.name for item in build.hardware}
    done = (*begun, *steps)
    return set_once_lined(build, done, _set_hardware(build, done, items))


def _held_by_a_panel(build: Build) -> set[str]:
    """The straps of which one piece alone holds each copy, on which nothing is laid later that would come over what holds
    them; what only stitches hold goes on what is laid later itself before that."""
    hosts: dict[str, set[str]] = {}
    whole: Counter[str] = Counter()  # pieces on which both ends of a strap land
    for piece in build.pieces:
        names = [landing.strap for landing in piece.strap_landings]
        for name in (*names, *(name for hole in piece.marks.holes for name in hole.through)):
            hosts.setdefault(name, set()).add(piece.name)
        ends = {(landing.strap, landing.end) for landing in piece.strap_landings}
        whole.update(name for name in {*names} if {(name, 0), (name, 1)} <= ends)
    straps, covered, under = {strap.name for strap in build.straps}, _covered(build), _covered(build, is_laid=False)
    alone = {name for name, on in hosts.items() if len(on) in (1, whole[name])}
    fast = {landing.strap for piece in build.pieces for landing in piece.strap_landings if not landing.stitch}
    fast |= {name for piece in build.pieces for hole in piece.marks.holes for name in hole.through}
    return {name for name in alone & straps if (covered if name in fast else under).isdisjoint(hosts[name])}


def _covered(build: Build, *, is_laid: bool = True) -> set[str]:
    """Pieces with a lining that is not put in last, with what a seam lays on them once they are no longer flat, and, where
    asked for, that; and strips of joins."""
    late = [seam.parts for seam in build.seams if _rank(build, seam) > 0]
    pairs = [(piece.name, landing.piece) for piece in build.pieces for landing in piece.marks.landings]
    found = {name for pair in pairs if any({*pair} <= parts for parts in late) for name in pair[: 1 + is_laid]}
    goods = Goods(build)
    names = [*goods.pieces, *goods.joins]
    put_in = set[str]().union(*(seam.parts for seam in build.seams if _puts_in(build, seam)))
    covers = [one.name for one in build.pieces if not (one.lines and one.name in put_in)]
    found |= {name for one in covers for name in names if name != one and goods.covers(one, name)}
    return found | {name for join in build.joins for name in join.pieces}


def _comes_with(strap: Strap, names: Collection[str], straps: Sequence[Strap]) -> bool:
    """Whether it is one of these straps, or lies in the fold of one."""
    held = {end.keeper for one in straps if one.name in names for end in one.ends}
    return strap.name in names or strap.name in held


def _of_panels(build: Build, straps: Collection[str]) -> set[str]:
    """Hardware that goes through nothing but a piece on which nothing is laid later, and these straps on it."""
    covered, found = _covered(build), set[str]()
    for item in build.hardware:
        takers = [(piece, hole) for piece in build.cut for hole in piece.marks.holes if hole.takes == item.name]
        ends = [strap.name for strap in build.straps if any(end.takes == item.name for end in strap.ends)]
        alone = all(
            piece.name in straps
            or (not piece.is_strap and piece.name not in covered and _gone_through(build, piece, hole) <= set(straps))
            for piece, hole in takers
        )
        if takers and alone and set(ends) <= set(straps) and any(not piece.is_strap for piece, _ in takers):
            found.add(item.name)
    return found


def _gone_through(build: Build, piece: Piece, hole: Hole) -> set[str]:
    """What the post of a hole goes through besides: what that names, and straps that land there with a hole for it. The
    halves of a snap are set apart."""
    is_snap = any(item.name == hole.takes and item.kind == SNAP for item in build.hardware)
    return {*hole.through, *(() if is_snap else pinned_straps(piece, hole, by_name(build.straps)))}


def _with_rings(build: Build, steps: Sequence[Step]) -> tuple[Step, ...]:
    """The steps with what hangs in the fold of a piece in the first that sews or fixes it, which closes it."""
    known = {item.name for item in build.hardware}
    rings = {piece.name: _rings_of(piece, known) for piece in build.pieces}
    found = []
    for step in steps:
        sewn = {side.part for seam in build.seams if seam.name in step.seams for side in seam.sides}
        sewn |= set(step.pieces) if step.group == PANELS else set()
        more = dict.fromkeys(ring for name in sorted(sewn & rings.keys()) for ring in rings.pop(name))
        found.append(replace(step, hardware=tuple(dict.fromkeys((*step.hardware, *more)))) if more else step)
    return tuple(found)


def _rings_of(piece: Piece, known: Collection[str]) -> list[str]:
    return list(dict.fromkeys(fold.around for fold in piece.marks.folds if fold.around in known))


def _leave_done(build: Build, begun: tuple[Step, ...]) -> Build:
    """The build without the work that these steps do."""
    done = {kind: {name for step in begun for name in getattr(step, kind)} for kind in DONE}
    sewn = {use.name for seam in build.seams if seam.name in done["seams"] for use in seam.trimmings}
    done["trimmings"] |= sewn
    left: dict[str, Any] = {
        kind: tuple(item for item in getattr(build, kind) if item.name not in done[kind]) for kind in DONE
    }
    return replace(build, **left)


def _give_tools(step: Step, build: Build) -> Step:
    """A step of a part with what its seams are sewn with."""
    stitches = {seam.name: seam.stitch for seam in build.seams} | {join.name: join.stitch for join in build.joins}
    sewn = dict.fromkeys(stitches[name] for name in (*step.seams, *step.joins) if name in stitches)
    more = (tool for name in sewn for tool in _sewing_tools(build, name))
    return replace(step, tools=tuple(dict.fromkeys((*step.tools, *more))))


def _rank(build: Build, seam: Seam) -> int:
    """0 what lies flat on a panel, 1 joined strips that do, 2 linings, 3 what closes in the panel beneath it, 4 all
    others, 5 the mouth of a lining that is a bag of its own and is put in then."""
    pieces = by_name(build.pieces)
    beneath = [pieces[side.part] for side in seam.sides if not side.edges and side.part in pieces]
    if beneath:
        if any(closes(seam, piece) for piece in beneath) and not _is_in_lining(build, seam):
            return 3
        return 1 if seam.parts & {join.name for join in build.joins} else 0
    if _puts_in(build, seam):
        return 5
    kinds = {material.name: material.kind for material in build.materials}
    found = _material_kinds(build, seam, pieces, kinds)
    return 2 if any(kind != "leather" for kind in found) else 4


def _is_in_lining(build: Build, seam: Seam) -> bool:
    """Whether it sews something to the hidden side of a lining, which cannot be reached once that is in."""
    beneath = {side.part for side in seam.sides if not side.edges}
    return any(
        landing.is_inside and landing.piece in seam.parts
        for piece in build.pieces
        if piece.lines and piece.name in beneath
        for landing in piece.marks.landings
    )


def _puts_in(build: Build, seam: Seam) -> bool:
    """Whether it sews a lining to what that lines, with no zip between them, and another seam sews that lining to other
    linings alone: both bags are sewn by then."""
    lined = {piece.name: {*piece.lines} for piece in build.pieces if piece.lines}
    pairs = [(name, lined[name]) for name in seam.parts & lined.keys() if seam.parts & lined[name]]
    bags = (other.parts for other in build.seams if other.parts <= lined.keys())
    own = {name for parts in bags if len(parts) > 1 for name in parts}
    return bool(pairs) and not seam.trimmings and all(name in own for name, _ in pairs)


def _material_kinds(build: Build, seam: Seam, pieces: dict[str, Piece], kinds: dict[str, str]) -> list[str]:
    names = (name for side in seam.sides for name in side_pieces(build, side))
    return [kinds.get(pieces[name].material, "leather") for name in names if name in pieces]


def _lay_goods(build: Build, handled: set[str]) -> Iterator[Step]:
    """Goods by length that are sewn flat on a piece, while it lies flat."""
    what = {item.name: item.what for item in build.trimmings}
    for piece in build.pieces:
        laid = [line for line in piece.dividers if line.goods]
        if laid and piece.name not in handled:
            goods = ", ".join(dict.fromkeys(what[line.goods] for line in laid))
            tools = dict.fromkeys(tool for line in laid for tool in _sewing_tools(build, line.stitch))
            do = f"Sew on to {piece.title}, where the stitches are marked: {goods}."
            work: tuple[Work, ...] = (("dividers", piece.name),)
            yield Step(do=do, group=PANELS, pieces=(piece.name,), tools=("scissors", *tools), work=work)


def _land(build: Build, handled: set[str], early: Sequence[Seam], *, is_over: bool) -> Iterator[Step]:
    """What lands on a panel and no seam sews there, by itself or by what it is joined to: what lands on it before all that
    is sewn flat there, or after some."""
    titles = build.titles
    sewn = [{*seam.parts}.union(*(side_pieces(build, side) for side in seam.sides)) for seam in build.seams]
    takes = {piece.name: tuple(hole.takes for hole in piece.marks.holes if hole.takes) for piece in build.pieces}
    for piece in build.pieces:
        flat = [seam.parts for seam in early if piece.name in seam.parts]
        names = list(dict.fromkeys(landing.piece for landing in piece.marks.landings))
        for k, name in enumerate(names):
            over = any(parts & set(names[:k]) for parts in flat)
            if (
                over == is_over
                and not {piece.name, name} <= handled
                and not any({piece.name, name} <= parts for parts in sewn)
                and not stands_off(build.seams, name, piece.name)
            ):
                hardware = tuple(dict.fromkeys(takes.get(name, ())))
                yield Step(
                    do=f"Fix {titles.get(name, name)} to {piece.title}, where its outline is marked.",
                    group=PANELS,
                    pieces=(piece.name, name),
                    hardware=hardware,
                    tools=_setting_tools(build, hardware),
                )


def _line(build: Build, handled: set[str], hosts: Sequence[Piece | Join]) -> Iterator[Step]:
    """What lies behind some of these parts, and neither a seam nor a landing holds it there: before a lining is sewn over
    it."""
    goods, titles = Goods(build), build.titles
    held = {name for seam in build.seams for side in seam.sides for name in side_pieces(build, side)}
    held |= {landing.piece for piece in build.pieces for landing in piece.marks.landings}
    for cover in build.pieces:
        behind = [host.name for host in hosts if host.name != cover.name and goods.covers(cover.name, host.name)]
        if behind and cover.name not in held | handled:
            do = f"Lay {cover.title} behind {' and '.join(titles[name] for name in behind)}."
            yield Step(do=do, group=STRIPS, pieces=(cover.name,))


def _join(build: Build) -> Iterator[Step]:
    for join in build.joins:
        yield Step(
            do=f"Sew the strips of {join.title} end to end.",
            group=STRIPS,
            joins=(join.name,),
            tools=_sewing_tools(build, join.stitch),
        )


def _sew(seam: Seam, build: Build, group: str) -> Step:
    return Step(do=f"Sew: {seam.title}.", group=group, seams=(seam.name,), tools=_sewing_tools(build, seam.stitch))


def _make_strap(strap: Strap, build: Build) -> Step:
    punch = ("hole punch", "mallet") if strap.hole_tips_mm or strap.piece.marks.holes else ()
    stitches = dict.fromkeys(name for name in (strap.stitch, *(end.sewn for end in strap.ends)) if name)
    sewing = tuple(dict.fromkeys(tool for name in stitches for tool in _sewing_tools(build, name)))
    around = {name for end in strap.ends if not end.takes for name in end.rings}
    hardware = tuple(item.name for item in build.hardware if item.name in around)
    return Step(
        do=f"Make the strap: {strap.title}.",
        group=STRAPS,
        straps=(strap.name,),
        hardware=hardware,
        tools=("strap cutter", *punch, *sewing),
    )


def _sew_straps_on(build: Build, handled: set[str], made: set[str], straps: Collection[str]) -> Iterator[Step]:
    """Those of some straps that are sewn on to a piece, piece by piece."""
    titles = build.titles
    for piece in build.pieces:
        sewn = [
            landing
            for landing in piece.strap_landings
            if landing.strap in straps and landing.stitch and not (landing.strap in made and piece.name in handled)
        ]
        names = ", ".join(dict.fromkeys(titles[landing.strap] for landing in sewn))
        tools = dict.fromkeys(tool for landing in sewn for tool in _sewing_tools(build, landing.stitch))
        if sewn:
            do = f"Sew on to {piece.title}, where their stitches are marked: {names}."
            work: tuple[Work, ...] = tuple(
                ("landings", name) for name in dict.fromkeys(landing.strap for landing in sewn)
            )
            yield Step(do=do, group=STRAPS, pieces=(piece.name,), tools=tuple(tools), work=work)


def _fix_trimmings(build: Build) -> Iterator[Step]:
    """Goods by length that no seam sews."""
    sewn = {use.name for seam in build.seams for use in seam.trimmings}
    sewn |= {strip for join in build.joins for strip in join.pieces}
    sewn |= {line.goods for piece in build.pieces for line in piece.dividers}
    for item in build.trimmings:
        if item.name not in sewn:
            yield Step(do=f"Fix: {item.what}.", group=TRIMMINGS, trimmings=(item.name,))


def _set_hardware(build: Build, before: Sequence[Step], names: set[str]) -> Iterator[Step]:
    """What the steps before have not placed, of some: in pieces that do not have it yet, or not named by them at all."""
    known = {item.name for item in build.hardware}
    given: set[str] = set()
    closing = (item for item in build.hardware if any(end.takes == item.name for s in build.straps for end in s.ends))
    for item in (item for item in dict.fromkeys((*closing, *build.hardware)) if item.name in names - given):
        setting = [step for step in before if item.name in step.hardware]
        done = {name for step in setting for name in (*step.pieces, *step.straps)}
        takers = [piece for piece in build.cut if any(hole.takes == item.name for hole in piece.marks.holes)]
        pieces, straps = (
            tuple(one.name for one in takers if one.is_strap == is_strap and one.name not in done)
            for is_strap in (False, True)
        )
        if pieces or straps or not setting:
            rings = dict.fromkeys(
                ring
                for strap in build.straps
                for end in strap.ends
                if end.takes == item.name
                for ring in end.rings
                if ring in known
            )
            through = {name for piece in takers for hole in piece.marks.holes for name in hole.through}
            held = {
                name
                for piece in takers
                for hole in piece.marks.holes
                if hole.takes == item.name
                for name in _gone_through(build, piece, hole).difference(hole.through)
            }
            straps += tuple(strap.name for strap in build.straps if strap.name in held.difference(straps))
            closed = (piece for piece in build.pieces if piece.name in through.union(pieces))
            hung = (ring for piece in closed for ring in _rings_of(piece, known))
            rings |= dict.fromkeys(ring for ring in hung if not any(ring in step.hardware for step in before))
            given |= rings.keys()
            yield Step(
                do=f"Set: {item.what}.",
                group=HARDWARE,
                pieces=pieces,
                straps=straps,
                hardware=(item.name, *rings),
                tools=_setting_tools(build, (item.name,)),
            )


def _sewing_tools(build: Build, name: str) -> tuple[str, ...]:
    stitch = next(stitch for stitch in build.stitches if stitch.name == name)
    if stitch.by == "machine":
        return ("sewing machine",)
    return (f"pricking iron, {stitch.iron or format_pitch(stitch.pitch_mm)}", "awl", "hand needles")


def _setting_tools(build: Build, names: tuple[str, ...]) -> tuple[str, ...]:
    """A setter for each kind that is struck, and a mallet; rings and buckles take none."""
    kinds = dict.fromkeys(item.kind for item in build.hardware if item.name in names and item.kind in STRUCK_TO_SETTER)
    setters = dict.fromkeys(f"{STRUCK_TO_SETTER[kind]} setter" for kind in kinds)
    return (*setters, "mallet") if setters else ()
