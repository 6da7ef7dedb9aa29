"""How the partners of a seam are held until they are sewn: glued, where in figures; else clipped, where clips reach."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from docgen.assemble import Copy, Event, Lies, is_glued_by, pile_seam
from docgen.geometry.outline import WHOLE
from docgen.plan.act import Act, Told, act
from docgen.plan.acts.flaps import strip_below
from docgen.plan.acts.glued_edges import edges_act
from docgen.plan.acts.lined import lined_all_over, sews_lining
from docgen.plan.acts.on_host import between_on_host, stood_off
from docgen.plan.acts.places import edge_words
from docgen.plan.acts.slick import is_slick, slick_between
from docgen.plan.acts.work import Work
from docgen.plan.cutting import join_words
from docgen.plan.round_rows import is_round
from docgen.resolve import Seam, SeamSide, catches, comes_from_inside
from docgen.tables.cautions import has_phrase
from docgen.tables.consumables import is_glue
from docgen.tables.practice import SPRAYED, TAPE

HOLDING = ("clip", "clamp", "pin")  # who writes these tells how it is held
MARKS = ("mark_round", "mark_each", "mark_roughen", "mark_each_roughen", "mark_round_hem", "mark_roughen_hem")
"""Said of each part."""
NOTCHED = ("notch", *HOLDING)
GLUED_EDGES = ("hold_glue", "hold_glue_all", "hold_own", "hold_between")
CLIPS_REACH = ("hold_clips", "hold_notches", "hold_round", "hold_notches_round", "hold_said")


def find_glues(work: Work, at: int) -> list[str]:
    """What holds parts together, of the tools that a step names."""
    return [tool for tool in work.steps[at].tools if is_glue(tool)]


def glue_words(glues: Sequence[str]) -> str:
    """The glues of a step in words: of several one is meant, and which the maker knows."""
    return join_words(glues) if len(glues) < 2 else f"{', '.join(glues[:-1])} or {glues[-1]}"


def glue_acts(work: Work, at: int, event: Event) -> Iterator[Act]:
    """What is put on before the partners of a seam are laid together: what takes at once cannot be shifted."""
    return hold_acts(work, at, work.seams[event.name]) if find_glues(work, at) else iter(())


def hold_acts(work: Work, at: int, seam: Seam) -> Iterator[Act]:
    """How the partners are held; where clips reach and the step's own words say how, by that. What an earlier seam of it
    says is told as that, but of the same copies, which are held already."""
    holds = _told_hold(work, at, seam)
    if not holds or lies_there(work, at, seam):
        return
    own = [side.part for side in work.sides(seam)[:1]]
    told = {
        one
        for before in _seams_before(work, at, seam)
        for one in _told_hold(work, at, before)
        if one.case not in MARKS or [side.part for side in work.sides(before)[:1]] == own
    }
    yield from (one for one in holds if one not in told)
    is_held = any(_copies(work, at, before) == _copies(work, at, seam) for before in _seams_before(work, at, seam))
    if holds[0] in told and holds[0].case in CLIPS_REACH and not is_held:
        yield act("hold_again")


def _copies(work: Work, at: int, seam: Seam) -> set[Copy]:
    """The copies that a step sews by a seam."""
    events = {index for index, one in work.events(at) if one.name == seam.name}
    return {copy for one in work.build.assembly.sewn if one.event in events for copy in one.sides}


def _told_hold(work: Work, at: int, seam: Seam) -> list[Act]:
    """How the partners are held; clipped as the words of the spec say, where they do: these stand above the lines."""
    step, holds = work.steps[at], _hold(work, at, seam)
    is_told = any(has_phrase(words, phrase) for words in (step.do, step.note, *step.first) for phrase in HOLDING)
    return [act("hold_said")] if is_told and holds and holds[0].case in CLIPS_REACH else holds


def press_acts(work: Work, at: int, seam: Seam) -> Iterator[Act]:
    """What of partners that are glued by their edges meets first, where no earlier seam of the step says so, nor its own
    words: what takes at once cannot be shifted."""
    step = work.steps[at]
    is_told = any(has_phrase(words, word) for words in (step.do, step.note, *step.first) for word in NOTCHED)
    is_told = is_told or any(_press(work, at, before) for before in _seams_before(work, at, seam))
    yield from () if is_told else _press(work, at, seam)


def lies_there(work: Work, at: int, seam: Seam) -> bool:
    """Whether the partners of a seam, flat pieces, are glued and laid on each other by an earlier one of its step: with all
    edges that meet, and on what it sews them on. A wall is brought to each edge by itself."""
    own = {side.part for side in work.sides(seam)}
    is_flat = len(own) > 1 and own <= work.pieces.keys() and all(work.pieces[one].shape != "strip" for one in own)
    return (
        is_flat
        and not seam.is_turned
        and any(
            own <= {side.part for side in work.sides(before)}
            and {side.part for side in seam.sides} <= {side.part for side in before.sides}
            and is_glued_by_edges(work, at, before)
            for before in _seams_before(work, at, seam)
        )
    )


def _seams_before(work: Work, at: int, seam: Seam) -> list[Seam]:
    """The seams that a step sews before one of its own."""
    seams = [work.seams[one.name] for _, one in work.events(at) if one.kind == "seams"]
    return seams[: seams.index(seam)]


def _press(work: Work, at: int, seam: Seam) -> list[Act]:
    """The notches first, where both have some; else the ends, of rows of several edges, or along a wall."""
    own = work.sides(seam)
    if not is_glued_by_edges(work, at, seam):
        return []
    is_closed = is_round(work.build, seam)
    if sum(_has_notch(work, side) for side in own) > 1:
        return [act("press_notches_round" if is_closed else "press_notches")]
    if is_closed:
        return [act("press_round")] if any(side.part in work.joins for side in own) else []
    is_long = any(len(side.edges) > 1 or side.part in work.joins for side in own)
    return [act("press_ends")] if is_long else []


def is_glued_by_edges(work: Work, at: int, seam: Seam) -> bool:
    """Whether a step glues the partners of a seam along the edges that meet."""
    return bool(find_glues(work, at)) and any(one.case in GLUED_EDGES for one in _hold(work, at, seam))


def _hold(work: Work, at: int, seam: Seam) -> list[Act]:
    """With the glue that the step names, else with clips; notches first, where both have some. Clips do not reach what is
    sewn flat on the middle of a piece."""
    if _is_glued(work, at, seam):
        return []
    glues = find_glues(work, at)
    flat = [side.part for side in seam.sides if not side.edges and side.part in work.pieces]
    own = work.sides(seam)
    if glues and own and (any(side.part == own[0].part and not side.edges for side in seam.sides) or _hems(work, seam)):
        return []  # its hem is fixed when it is turned
    if len(own) == 1 and not flat and not seam.trimmings and _is_bare(work, own[0], seam):
        return []  # a row for its looks: there is nothing to hold
    if glues:
        return [*_glue(work, at, seam, own, flat)]
    is_laid = flat and own and own[0].part not in flat
    if is_laid and (work.lands_on(seam) or stood_off(work, own[0].part, work.pieces[flat[0]])):
        return [act("hold_flat", part=work.titles[own[0].part], host=work.titles[flat[0]])]
    notched = sum(_has_notch(work, side) for side in own) > 1
    if is_round(work.build, seam):
        return [act("hold_notches_round" if notched else "hold_round")]
    return [act("hold_notches" if notched else "hold_clips")]


def _is_glued(work: Work, at: int, seam: Seam) -> bool:
    """Whether a seam sews a lining alone to its part, and this step or one before has glued it there."""
    parts = seam.parts
    return any(
        lies.is_cover and parts == {lies.copy.part, lies.host.part} and is_glued_by(step, lies.copy.part)
        for lies in work.build.assembly.lies
        for step in work.steps[: at + 1]
    )


def _is_bare(work: Work, side: SeamSide, seam: Seam) -> bool:
    """Whether nothing comes under a seam that is not fast by then: the part itself in one layer, without a hem, and what
    lies on it already."""
    own = [work.cut[name] for name in work.strips(side.part) if name in work.cut]
    return [layer.part for layer in seam.layers].count(side.part) <= 1 and not any(piece.hems for piece in own)


def _hems(work: Work, seam: Seam) -> bool:
    """Whether a seam sews the hem of one part alone, with nothing else beneath, and a step with glue has turned it."""
    own = work.sides(seam)
    pieces = [work.pieces[name] for side in own for name in work.strips(side.part) if name in work.pieces]
    is_alone = (
        len(seam.sides) == len(own) == 1 and not seam.trimmings and {one.part for one in seam.layers} == seam.parts
    )
    turned = dict(work.build.assembly.turning)
    return (
        is_alone
        and bool(pieces)
        and all({*own[0].edges} <= one.hemmed and find_glues(work, turned.get(one.name, 0)) for one in pieces)
    )


def _glue(work: Work, at: int, seam: Seam, own: list[SeamSide], flat: list[str]) -> Iterator[Act]:
    """Where the glue goes on each of the partners; a surface on which it does not hold is roughened first."""
    glue = glue_words(find_glues(work, at))
    inset = work.length(next(one.inset_mm for one in work.build.stitches if one.name == seam.stitch))
    landed = work.lands_on(seam)
    values: dict[str, Told]
    if not own or any(has_phrase(glue, word) for word in SPRAYED):
        yield faces_act(work, at, glue)
    elif lined := lined_all_over(work, at, seam):
        yield act("hold_faces", glue=glue, parts=join_words([work.titles[name] for name in lined]))
    elif landed is not None and is_fast_on(work, seam):
        values = {
            "under": work.inner(own[0].part),
            "part": work.titles[own[0].part],
            "host": work.titles[landed[0].name],
        }
        yield act("hold_edges", **values, glue=glue, inset=inset, edges=edge_words(work, own[0]))
    elif landed is not None:
        part, (host, landing) = own[0], landed
        ground = work.inner(host.name) if landing.is_inside else work.outer(host.name)
        comes_inside = comes_from_inside(landing, work.pieces[part.part])
        down, face = (part.part, work.outer(part.part)) if comes_inside else _face_down(work, at, part.part)
        if has_phrase(glue, TAPE):
            yield act(
                "hold_tape", glue=glue, part=work.titles[down], under=face, inset=inset, edges=edge_words(work, part)
            )
            return
        through = between_on_host(work, seam)
        hem = _hem_down(work, at, down, part) if not through else ""
        case = marking("mark_each" if through else "mark_round", is_slick(work, host.name, ground))
        yield act(f"{case}_hem", hem=hem) if hem else act(case)
        if is_slick(work, down, face):
            yield act("roughen_edges", parts=work.titles[down])
        if through:
            yield act(
                "hold_each",
                glue=glue,
                parts=join_words([work.titles[one] for one in (part.part, *through, host.name)]),
                inset=inset,
                edges=edge_words(work, part),
                part=work.titles[part.part],
            )
            return
        values = {"glue": glue, "part": work.titles[down], "under": face}
        values |= {"inset": inset, "edges": edge_words(work, part)}
        strip = strip_below(work, host, landing, seam.name) if landing.is_over else None
        yield act("hold_strip", **values, strip=strip) if strip is not None else act("hold_within", **values)
    else:
        held = [side.part for side in seam.sides if side in own or not side.edges]
        between = _with_between(work, seam, held)
        fast = [_is_fast(work, at, one, other) for one, other in pairwise(between)]
        loose = [{one, other} for (one, other), is_fast in zip(pairwise(between), fast, strict=True) if not is_fast]
        if fast and not loose:
            return
        meeting = [one for one in between if any(one in pair for pair in loose)] or between
        parts = dict.fromkeys(work.titles[part] for part in meeting if part in work.titles)
        lap_mm = max(side.lap_mm for side in seam.sides)
        told = {"glue": glue, "inset": work.length(lap_mm) if lap_mm else inset, "parts": join_words([*parts])}
        is_tape = has_phrase(glue, TAPE)
        if (zip_ := glued_zip(work, at, seam)) is not None:
            goods, side, over_mm = zip_
            is_tape = all(has_phrase(one, TAPE) for one in find_glues(work, at))
            both = act("with_tape", part=work.titles[own[0].part], side=side, goods=goods)
            values = {"glue": glue, "parts": both, "inset": work.length(over_mm) if over_mm else inset}
            yield (
                act("hold_between", **values, edges=edge_words(work, own[0])) if is_tape else act("hold_glue", **values)
            )
            return
        if lap_mm and not is_tape and is_slick(work, own[-1].part, work.outer(own[-1].part)):
            yield act("roughen_lapped", part=work.titles[own[-1].part], over=work.titles[own[0].part])
        if not (lap_mm or is_tape) and (slick := slick_between(work, seam, loose)):
            yield act("roughen_edges", parts=join_words([work.titles[part] for part in slick]))
        if is_tape and len(parts) > 1:
            yield act("hold_between", **told, edges=edge_words(work, own[0]))
        elif meeting == [own[0].part] and not lap_mm and _folds_in(work, own[0].part, seam):
            yield act("hold_own", **told, under=work.inner(own[0].part))
        else:
            yield act("hold_glue" if len(parts) == 2 else "hold_glue_all", **told)


def glued_zip(work: Work, at: int, seam: Seam) -> tuple[str, str, float] | None:
    """What the zip is called of which a seam sews one tape to the edge of one part, which tape, and how far the part lies
    over it, where the step has glue: that goes on both before the zip is laid there."""
    zips = {one.name: one.what for one in work.build.trimmings if one.kind == "zip"}
    uses = [use for use in seam.trimmings if use.name in zips and use.side]
    is_plain = len(uses) == len(seam.sides) == 1 and bool(work.sides(seam)) and not seam.is_turned
    return (zips[uses[0].name], uses[0].side, uses[0].lap_mm) if is_plain and find_glues(work, at) else None


def marking(case: str, is_rough: bool) -> str:
    """The case of a line that marks where something is glued; of one that roughens it as well."""
    return {"mark_round": "mark_roughen"}.get(case, f"{case}_roughen") if is_rough else case


def _face_down(work: Work, at: int, name: str) -> tuple[str, Act]:
    """What of a part lies down where it is laid on another by a step: its inner side, or the lining that covers that by
    then."""
    placed = [lies for k, one in enumerate(work.build.assembly.events) if one.step <= at for lies in work.lays_at(k)]
    covers = [one.copy.part for one in placed if one.is_cover and one.host.part == name]
    seen = [one for one in covers if work.material_of(one).kind in ("leather", "fabric")]
    return (seen[-1], work.outer(seen[-1])) if seen else (name, work.inner(name))


def _folds_in(work: Work, part: str, seam: Seam) -> bool:
    """Whether a part that a seam closes on itself meets with its inner side: no fold of it has the other in."""
    marks = work.cut[part].marks if part in work.cut else None
    return marks is not None and not seam.is_turned and not any(one.is_grain_in("grain") for one in marks.folds)


def _hem_down(work: Work, at: int, down: str, side: SeamSide) -> str:
    """The hems of a part, turned by then, that bring their grain down on what it is glued to, along its edges or at their
    ends; "" where that is no grain, or lies under a lining."""
    piece, turned_at = work.pieces.get(side.part), dict(work.build.assembly.turning).get(side.part, at + 1)
    if piece is None or down != side.part or turned_at > at or not is_slick(work, down, work.outer(down)):
        return ""
    if any(catches(seam.sides, piece) for seam in work.build.seams):
        return ""
    edges = [*dict.fromkeys(edge for hem in piece.hems for edge in hem.edges)]
    return "" if WHOLE in edges or not edges else f"{join_words(edges)} hem{'s' * (len(edges) > 1)}"


def glued_ends(work: Work, at: int, straps: Sequence[str], hosts: Sequence[str], laid: Sequence[Act]) -> Iterator[Act]:
    """Lines that lay ends of straps on pieces, with the glue that the step names: what takes at once is marked first."""
    if not laid or not find_glues(work, at):
        yield from laid
        return
    glue = glue_words(find_glues(work, at))
    parts = join_words([work.titles[name] for name in straps])
    is_doubled = all(name in work.straps and work.straps[name].lining for name in straps)
    told: dict[str, Told] = {"glue": glue, "under": act("face_second") if is_doubled else work.inner(straps[0])}
    if any(has_phrase(glue, word) for word in (TAPE, *SPRAYED)):
        yield from (act("hold_ends", **told, part=parts), *laid)
        return
    is_rough = any(is_slick(work, host, work.outer(host)) for host in hosts)
    yield from (*laid, act(marking("mark_ends", is_rough)))
    yield from (act("hold_ends_marked", **told), act("press_down", part=parts))


def _is_fast(work: Work, at: int, one: str, other: str) -> bool:
    """Whether one of two layers lines the other and is glued there before: by an earlier step, or where the order of its
    own names it; or lies on it as a welt, and is glued there by an earlier step."""
    if work.is_glued_before(at, one, other):
        return True
    lined = [(lies.copy.part, lies.host.part) for lies in work.build.assembly.lies if lies.is_cover]
    return any(
        {part, host} == {one, other}
        and (("pieces", part) in work.steps[at].timed or any(is_glued_by(step, part) for step in work.steps[:at]))
        for part, host in lined
    )


def _with_between(work: Work, seam: Seam, held: list[str]) -> list[str]:
    """The partners, and what lies between them where that is told: it is glued on both its faces."""
    once = next((one for one in work.build.assembly.sewn if one.seam == seam.name), None)
    found = dict.fromkeys(held[:1])
    for pile in pile_seam(work.build, once) if once is not None else ():
        parts = [ply.part for ply in pile]
        if len({*held}) < len(held) and len(parts) > 2 and parts == parts[::-1] and parts[len(parts) // 2] not in held:
            return [parts[len(parts) // 2]]  # the linings of one part that closes on itself meet, not the part
        at = [k for k, part in enumerate(parts) if part in held]
        found |= dict.fromkeys(parts[at[0] : at[-1] + 1] if at else ())
    return [*dict.fromkeys([*found, *held])]


def is_marked(work: Work, at: int, seam: Seam) -> bool:
    """Whether what a seam sews flat on a piece is laid there and marked before it is glued."""
    glues = find_glues(work, at)
    is_dry = bool(glues) and not any(has_phrase(glue, TAPE) for glue in glues)
    return is_dry and work.lands_on(seam) is not None and not is_fast_on(work, seam)


def is_fast_on(work: Work, seam: Seam) -> bool:
    """Whether what a seam sews flat on a piece is sewn on that by an earlier one, so that it cannot be taken off again."""
    landed, own = work.lands_on(seam), work.sides(seam)
    if landed is None:
        return False
    order = [event.name for event in work.build.assembly.events if event.kind == "seams"]
    both = {own[0].part, landed[0].name}
    before = order[: order.index(seam.name)] if seam.name in order else ()
    return any(both <= work.seams[name].parts for name in before)


def is_glued_by_seam(work: Work, at: int, lies: Lies) -> bool:
    """Whether a seam of a step sews what lands on a piece flat on it, and tells itself where it is glued."""
    seams = (work.seams[event.name] for _, event in work.events(at) if event.kind == "seams")
    return any(
        any(side.part == lies.copy.part and side.edges for side in seam.sides)
        and any(side.part == lies.host.part and not side.edges for side in seam.sides)
        for seam in seams
    )


def faces_act(work: Work, at: int, glue: str) -> Act:
    """Of glue that goes all over: with all parts that a step lays on each other, and that it sews where it is sprayed, or
    by no edges; but not with those that are glued along edges, as a pocket is that stays open at others."""
    seams = [work.seams[event.name] for _, event in work.events(at) if event.kind == "seams"]
    is_sprayed = any(has_phrase(glue, word) for word in SPRAYED)
    sewn = {side.part for seam in seams for side in seam.sides if is_sprayed or not work.sides(seam)}
    step = [lies for k, event in work.events(at) if event.kind != "landings" for lies in work.lays_at(k)]
    wide = [lies for lies in step if edges_act(work, lies, glue) is None and not is_glued_by_seam(work, at, lies)]
    along = [] if is_sprayed else seams  # they tell themselves how far
    wide = [one for one in wide if not (one.is_cover and any(sews_lining(work, seam, one) for seam in along))] or wide
    wanted = {*sewn, *(name for lies in wide for name in (lies.copy.part, lies.host.part))}
    names = [name for name in work.handled[at] if name in wanted or not wanted]
    return act("hold_faces", glue=glue, parts=join_words([work.titles[name] for name in names]))


def _has_notch(work: Work, side: SeamSide) -> bool:
    names, is_whole = {*side.edges}, WHOLE in side.edges
    strips = [work.pieces[name] for name in work.strips(side.part) if name in work.pieces]
    return any(is_whole or notch.edge in names for piece in strips for notch in piece.marks.notches)
