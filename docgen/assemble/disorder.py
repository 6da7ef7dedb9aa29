"""Steps that come too late: nothing is handled before it is cut, sewn before it is skived, or made when it is closed in."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import permutations

from docgen.assemble.assembly import Assembly, Fastened
from docgen.assemble.behind_goods import late_windows
from docgen.assemble.buried import (
    late_beneath,
    late_fillings,
    late_hems_over,
    late_insides,
    late_linings_behind,
    late_welts,
)
from docgen.assemble.goods import Goods
from docgen.assemble.mates import pinned_straps
from docgen.assemble.order_within import late_within
from docgen.assemble.work_order import Late, Work, is_hem, is_whole, read_work, too_late
from docgen.geometry.measure import gap_finder, is_inside
from docgen.geometry.outline import WHOLE, edge_names, edge_path, outline_path
from docgen.geometry.path import path_area, path_length, points_at
from docgen.geometry.shapes import Point
from docgen.geometry.vector import transform_point
from docgen.problems import Place, name_words
from docgen.resolve import Build, Landing, Piece, Seam, SeamSide, Step, find_bed, side_pieces
from docgen.tables.cautions import has_phrase

Found = tuple[Place, str, str, str]
# What is cut inside a piece, or is no piece at all, when a step begins with "Cut".
CUT_LATER = ("slit", "hole", "notch", "slot", "thread", "tape", "cord")
# What is trimmed once it is sewn, and how, when a step begins with "Cut": no cutting out.
TRIMS_RE = (
    r"(?i)Cut (?:(?:back|down|off|away) )?(?:the |its |their |all |both |four |two |loose |seam )*"
    r"(?:corners?|allowances?|ends?|tips?|rest|surplus|excess)\b"
    r"|.*\b(?:off|away|level|flush|(?:back|down) to)\b"
)
# What turns a whole thing, not the top or the edge of a part.
TURNS_RE = r"(?i)\bturn (?:it|the (?:bag|case|box|pouch|pack|cover|body|tube|cup|roll|whole))\b(?! (?:top|under|over))"
CLAUSE_RE = r"[,;:.]"
LINE_SPOTS = 12
KNIFE_MM = 50.0  # so much room a skiving knife and the hand that leads it take beside an edge: our choice
GLUES = ("Glue", "Cement", "Stick", "Lay")  # what a step begins with that glues


def find_disorder(build: Build, assembly: Assembly) -> Iterator[Found]:
    """What the steps do too late: the place of the step, what is wrong, the mend, and the part it concerns."""
    work = read_work(build, assembly)
    for at in range(len(work.steps)):
        for find in FINDS:
            for _, what, mend, name in find(work, at):
                yield work.steps[at].place, what, mend, name


def _late_cuts(work: Work, at: int) -> Iterator[Late]:
    """Nothing is handled before it is cut: what stands beside "Cut" in the words of a step, else all that it names."""
    step = work.steps[at]
    if not step.do.startswith("Cut ") or any(has_phrase(step.do, phrase) for phrase in CUT_LATER):
        return
    parts, clause = (*step.pieces, *step.straps), re.split(CLAUSE_RE, step.do)[0]
    if re.match(TRIMS_RE, clause):
        return
    cut = [name for name in parts if any(has_phrase(clause, word) for word in (name, *name.split("-")))]
    for name in cut or parts:
        if work.handled[name] < at:
            yield too_late(at, work.handled[name], f'cuts "{name}"', "has in hand", "cut it", name)


def _late_hems(work: Work, at: int) -> Iterator[Late]:
    """No edge is hemmed after its piece is sewn flat on another by the edges beside it."""
    for name in work.steps[at].seams:
        seam = work.goods.seams.get(name)
        if seam is None or not is_hem(seam.sides) or len(seam.parts) > 1:
            continue
        part = seam.sides[0].part
        for other in work.goods.seams.values():
            own = [side for side in other.sides if side.part == part and len(side.edges) >= 3]
            is_flat = any(not side.edges and side.part != part for side in other.sides)
            before = work.step_of("seams", other.name)
            if own and is_flat and before < at:
                yield too_late(at, before, f'hems "{part}"', "sews on", "hem it", name)
                break
            seams = work.steps[at].seams
            if own and is_flat and before == at and seams.index(other.name) < seams.index(name):
                what = f'step {at + 1} sews "{other.name}" before "{name}", which hems "{part}": it is sewn on by then'
                yield at, what, f'write "{name}" before "{other.name}" in seams', name
                break


def _late_linings(work: Work, at: int) -> Iterator[Late]:
    """No edge is lined after it is sewn to another part, edge to edge; what laps over it may come first."""
    seams = work.goods.seams
    for seam in (seams[name] for name in work.steps[at].seams if name in seams):
        for side, cover in permutations(seam.sides, 2):
            if not (side.edges and cover.edges and work.goods.covers(cover.part, side.part)):
                continue
            parts = seam.parts
            for other in seams.values():
                before = work.step_of("seams", other.name)
                others = [one for one in other.sides if one.edges and one.part not in parts]
                is_sewn = any(_is_same_edge(one, side) for one in other.sides)
                is_lapped = any(one.lap_mm for one in other.sides)
                if before < at and others and is_sewn and not is_lapped:
                    yield too_late(at, before, f'lines "{side.part}" by an edge', "sews", "line it", seam.name)
                    return


def _is_same_edge(one: SeamSide, other: SeamSide) -> bool:
    is_copy = one.copy == other.copy or not (one.copy and other.copy)
    return one.part == other.part and is_copy and bool({*one.edges} & {*other.edges}) and not (one.ends or other.ends)


def _late_glue(work: Work, at: int) -> Iterator[Late]:
    """Nothing is glued on to what it is sewn to all round already."""
    step = work.steps[at]
    if step.seams or step.joins or not any(step.do.startswith(f"{word} ") for word in GLUES):
        return
    for name in step.pieces:
        for seam in work.goods.seams.values():
            parts = [side.part for side in seam.sides]
            before = work.step_of("seams", seam.name)
            others = {*step.pieces} - {name}
            is_round = all(is_whole(work.goods, side) for side in seam.sides)
            if before < at and name in parts and is_round and not others.isdisjoint(parts):
                yield too_late(at, before, f'glues "{name}"', "sews all round", "glue it", name)
                return


def _late_skives(work: Work, at: int) -> Iterator[Late]:
    """Nothing is sewn along its edges, burnished there, or has hardware set in it before it is skived; what is sewn on to
    it may come first."""
    for name in work.steps[at].skives:
        sewn = [work.step_of("seams", seam.name) for seam in _seams_along(work, name)]
        sewn += [work.step_of("joins", join) for join in work.goods.joined_strips.get(name, ())]
        if min(sewn, default=at) < at:
            yield too_late(at, min(sewn), f'skives "{name}"', "sews", "skive it", name)
            continue
        burnished = [k for k, step in enumerate(work.steps[:at]) if name in step.pieces and _burnishes(step)]
        settings = [(before, item) for item, before in _settings(work, name, near=True).items() if before < at]
        if burnished:
            yield too_late(at, burnished[0], f'skives "{name}"', "bevels or burnishes", "skive it", name)
            return  # told of the first
        if settings:
            before, item = min(settings)
            yield too_late(at, before, f'skives "{name}"', f'sets "{item}" in', "skive it", name)


def _burnishes(step: Step) -> bool:
    return any(has_phrase(line, word) for line in (step.do, *step.first, *step.last) for word in ("bevel", "burnish"))


def _late_turned(work: Work, at: int) -> Iterator[Late]:
    """Nothing is sewn face to face once the thing is turned right side out."""
    seams = work.goods.seams
    turned = [name for name in work.steps[at].seams if name in seams and seams[name].is_turned]
    for name in (name for name in turned if work.step_of("seams", name) == at):
        parts, is_sewn = {side.part for side in seams[name].sides}, False
        for before, step in enumerate(work.steps[:at]):
            earlier = [seams[one] for one in step.seams if one in seams and seams[one].is_turned]
            is_sewn = is_sewn or any(side.part in parts for one in earlier for side in one.sides)
            if is_sewn and re.search(TURNS_RE, step.do):
                what = (
                    f'step {at + 1} sews "{name}" face to face, and step {before + 1} turns it right side out already'
                )
                yield at, what, f"sew it before step {before + 1}", name
                return


def _seams_along(work: Work, name: str) -> Iterator[Seam]:
    for seam in work.goods.seams.values():
        if any(side.edges and name in side_pieces(work.goods.build, side) for side in seam.sides):
            yield seam


def _late_holes(work: Work, at: int) -> Iterator[Late]:
    """No hole is made where it cannot be reached any more, or after what it takes is set in it."""
    for name, step in work.punched.items():
        if step != at:
            continue
        if work.shut.get(name, at) < at:
            yield too_late(at, work.shut[name], f'punches "{name}"', "closes in", "punch it", name)
        for item, before in _settings(work, name).items():
            if before < at and not _has_others(work.steps[before], name):
                what = f'step {at + 1} punches "{name}", and step {before + 1} sets "{item}" in it already'
                yield at, what, f"punch it before step {before + 1}", name


def _has_others(step: Step, name: str) -> bool:
    """Whether a step names pieces, and not this one: then it is told that what it sets goes in there."""
    return bool(step.pieces) and name not in step.pieces


def _settings(work: Work, name: str, *, near: bool = False) -> dict[str, int]:
    """Hardware that is set in a piece, and the first step that does so there; with `near` only what is in a knife's way
    along a skived edge."""
    taken = _near_skives(work.goods.pieces[name]) if near else set()
    events, found = work.assembly.events, dict[str, int]()
    for fastened in sorted(work.assembly.fastened, key=lambda one: one.event):
        if fastened.part == name and fastened.event < len(events) and (not near or fastened.hardware in taken):
            found.setdefault(fastened.hardware, events[fastened.event].step)
    return found


def _near_skives(piece: Piece) -> set[str]:
    """What is set in a piece near one of its skived edges."""
    found = set()
    for skive in piece.marks.skives:
        names = edge_names(piece.outline) if skive.edges == WHOLE else skive.edges.split()
        gaps = [gap_finder(edge_path(piece.outline, edge)) for edge in names if edge in edge_names(piece.outline)]
        found |= {hole.takes for hole in piece.marks.holes if any(gap(hole.at) < KNIFE_MM for gap in gaps)}
    return found - {""}


def _late_parts(work: Work, at: int) -> Iterator[Late]:
    """No joint comes after the seam that sews its join in, and no strap is made after it is sewn on."""
    for kind, names in (("join", work.steps[at].joins), ("strap", work.steps[at].straps)):
        for name in names:
            sewn = [work.step_of("seams", seam.name) for seam in work.goods.seams.values() if name in seam.parts]
            if min(sewn, default=at) < at:
                yield too_late(at, min(sewn), f'makes the {kind} "{name}"', "sews", "make it", name)
    for name in work.steps[at].straps:
        if work.step_of("straps", name) == at and (before := _first_use(work, name)) < at:
            yield too_late(at, before, f'makes the strap "{name}"', "rivets", "make it", name)


def _first_use(work: Work, name: str) -> int:
    """The first step that sets what goes through a strap from a piece that names it, or on which it lands with its own
    holes there; the number of steps where none does. A keeper may be cut before the strap in whose fold it comes to lie."""
    events = work.assembly.events
    set_in = [
        events[one.event].step
        for one in work.assembly.fastened
        if one.event < len(events) and one.part in work.goods.pieces and name in _fastens(work, one)
    ]
    return min(set_in, default=len(work.steps))


def _fastens(work: Work, fit: Fastened) -> set[str]:
    """The parts that hardware in a piece goes through, and the straps that land there with a hole for it."""
    piece = work.goods.pieces[fit.part]
    holes = [
        hole for hole in piece.marks.holes if hole.takes == fit.hardware and hole.place in fit.places and not fit.half
    ]
    return {*fit.stack.parts}.union(*(pinned_straps(piece, hole, work.goods.straps) for hole in holes))


def _late_landings(work: Work, at: int) -> Iterator[Late]:
    """Nothing is sewn on to a piece that is closed in."""
    for name in work.steps[at].seams:
        if name not in work.goods.seams or work.step_of("seams", name) != at:
            continue
        seam = work.goods.seams[name]
        yield from _late_zips(work, at, seam)
        yield from _late_pockets(work, at, seam)
        if find_bed(work.goods.build, seam.stitch):
            continue  # what that machine reaches is a check of its own
        laid = name_words(side.part for side in seam.sides if side.edges)
        for side in seam.sides:
            before = work.closed.get(side.part, at)
            if not side.edges and before < at and is_host(work.goods, seam, side):
                what = f'step {at + 1} sews {laid} on to "{side.part}", which step {before + 1} closes in already'
                yield at, what, f"sew it on before step {before + 1}", name


def _late_pockets(work: Work, at: int, seam: Seam) -> Iterator[Late]:
    """No part is sewn down where one that lies over its line is sewn down already."""
    hosts = [work.goods.pieces[side.part] for side in seam.sides if not side.edges and side.part in work.goods.pieces]
    for host in hosts:
        marks = host.marks.landings
        own = [k for k, mark in enumerate(marks) if any(side.part == mark.piece and side.edges for side in seam.sides)]
        for k in own:
            line = _line_on(work.goods, marks[k], seam)
            for over in marks[k + 1 :]:
                before = _sewn_down(work, over.piece, host.name)
                covered = [at for at in line if is_inside(over.outline, at)]
                if before < at and len(covered) > len(line) / 2:
                    what = (
                        f'step {at + 1} sews "{marks[k].piece}" to "{host.name}", and step {before + 1} has sewn '
                        f'"{over.piece}" over it already'
                    )
                    yield at, what, f"sew it down before step {before + 1}", seam.name
                    return


def _line_on(goods: Goods, mark: Landing, seam: Seam) -> list[Point]:
    """Points of the stitch lines of what lands, as it lies on its host."""
    lines = [
        line.path for line in goods.pieces[mark.piece].marks.stitch_lines if line.seam == seam.name and not line.row
    ]
    found = []
    for path in lines:
        step_mm = path_length(path) / LINE_SPOTS
        found += [
            transform_point(at, mark.move)
            for at, _ in points_at(path, ((k + 0.5) * step_mm for k in range(LINE_SPOTS)))
        ]
    return found


def _sewn_down(work: Work, part: str, host: str) -> int:
    """The first step that sews a part flat on its host; the number of steps for none."""
    seams = [
        seam.name
        for seam in work.goods.seams.values()
        if any(side.part == part and side.edges for side in seam.sides)
        and any(side.part == host and not side.edges for side in seam.sides)
    ]
    return min((work.step_of("seams", name) for name in seams), default=len(work.steps))


def _late_zips(work: Work, at: int, seam: Seam) -> Iterator[Late]:
    """No zip is sewn to what a seam has closed face to face, and turned."""
    zips = {item.name for item in work.goods.build.trimmings if item.kind == "zip"}
    zip_name = next((use.name for use in seam.trimmings if use.name in zips), "")
    here = (work.goods.seams[name] for name in work.steps[at].seams if name in work.goods.seams)
    if seam is not next(one for one in here if any(use.name == zip_name for use in one.trimmings) or not zip_name):
        return  # told with the first
    for side in seam.sides if zip_name else ():
        before = work.closed.get(side.part, at)
        closing = (
            [work.goods.seams[one] for one in work.steps[before].seams if one in work.goods.seams]
            if before < at
            else []
        )
        if any(one.is_turned and side.part in one.parts for one in closing):
            what = f'step {at + 1} sews "{zip_name}" to "{side.part}", which step {before + 1} closes and turns already'
            yield at, what, f"sew it in before step {before + 1}", seam.name
            return


def is_host(goods: Goods, seam: Seam, flat: SeamSide) -> bool:
    """Whether something is sewn on to the part: it is no lining of a partner, no smaller part between them such as
    piping, and not the partner itself, hemmed."""
    partners = [side.part for side in seam.sides if side.edges]
    if flat.part in partners or any(goods.covers(flat.part, part) for part in partners):
        return False
    host = goods.pieces.get(flat.part)
    if host and any(mark.piece in partners for mark in host.marks.landings):
        return True
    return all(_area_mm2(goods, flat.part) >= _area_mm2(goods, part) for part in partners)


def _area_mm2(goods: Goods, part: str) -> float:
    strap = goods.straps.get(part)
    pieces = [strap.piece] if strap else goods.strips(part)
    return sum(path_area(outline_path(piece.outline)) for piece in pieces)


FINDS = (
    _late_cuts,
    _late_hems,
    late_hems_over,
    _late_linings,
    _late_glue,
    late_fillings,
    late_linings_behind,
    late_insides,
    late_beneath,
    late_welts,
    _late_skives,
    _late_turned,
    _late_holes,
    _late_parts,
    late_within,
    late_windows,
    _late_landings,
)
