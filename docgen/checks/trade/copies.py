"""Checks of how many are cut: against the places where they land, the joins they go into, and what holds the others."""

from collections import Counter
from collections.abc import Iterator

from docgen.assemble import Copy, laid_places
from docgen.checks.naming import landing_lines
from docgen.checks.trade.check import Found, Subject, check
from docgen.checks.trade.holes import free_holes, tell_fewer
from docgen.geometry.measure import is_inside
from docgen.geometry.nearby import near_finder
from docgen.geometry.outline import outline_box
from docgen.geometry.shapes import Path
from docgen.problems import Place, count_words, is_are, name_words
from docgen.read import PieceSpec
from docgen.resolve import Hole, Piece, StrapLanding
from docgen.tables.sewing import OTHER_HOLE_MM, SAME_PUNCH_MM


@check(
    "landing-empty",
    "Every place where a part lands has a copy of it, and every copy its place.",
    "counted",
    needs_whole=True,
)
def find_empty_landings(subject: Subject) -> Iterator[Found]:
    """Parts that land: fewer copies than places; or more, where nothing else holds the rest. A piece that is cut more
    than once may bear what lands on one of them alone."""
    sewn = _times_sewn(subject)
    for name, (least, most) in _places(subject).items():
        cut = subject.counts[name]
        if cut < least:
            places = f'{count_words(least, "place")} for "{name}"{landing_lines(subject.spec, name)}'
            what = f"there are {places}, and {cut} {is_are(cut)} cut"
            one = _lone_end(subject, name)
            other = ", or look whether one of these places is meant for another part"
            other = f'; or write end = "{one}" in one of its landings' if one and least == 2 * cut else other
            yield _place_of(subject, name), what, f"write cut = {least}{other}", name
        elif cut > most and not sewn[name] and not _is_riveted(subject, name):
            what = f'{cut} of "{name}" {is_are(cut)} cut, and there {is_are(most)} {count_words(most, "place")} for it'
            bare = _find_bare(subject, name)
            rest = f': "{bare.name}" has none of the marks of its like (line {bare.place.line})' if bare else ""
            yield _place_of(subject, name), what, f"write cut = {most}, or say where the rest land{rest}", name


def _find_bare(subject: Subject, name: str) -> PieceSpec | None:
    """The piece without marks that is like one on which a part lands."""
    hosts = {base.name for base in subject.build.pieces if any(it.strap == name for it in base.strap_landings)}
    hosts |= {base.name for base in subject.build.pieces if any(it.piece == name for it in base.marks.landings)}
    bare = (spec for spec in subject.spec.pieces if spec.like and spec.marks and not spec.marks.value)
    return next((spec for spec in bare if spec.like and spec.like.value in hosts and not spec.lines), None)


def _lone_end(subject: Subject, name: str) -> str:
    """The end of a strap that lands nowhere, where the other does; nothing for one that is turned round a fitting."""
    strap = subject.parts.straps.get(name)
    ends = {end.end for base in subject.build.pieces for end in base.strap_landings if end.strap == name}
    if strap is None or len(ends) != 1 or any(end.rings for end in strap.ends):
        return ""
    return "first" if ends == {1} else "second"


def _places(subject: Subject) -> dict[str, tuple[int, int]]:
    """Part -> how many places take it, where each host has them once and where every copy has them."""
    least: Counter[tuple[str, int]] = Counter()
    most: Counter[tuple[str, int]] = Counter()
    for base in subject.build.pieces:
        # what is marked twice is one place; where its holes are in the host too, every copy of that has it
        spots = {
            (it.piece, 0, it.dx_mm, it.dy_mm): _is_in_every(base, it.piece, it.outline) for it in base.marks.landings
        }
        spots |= {(it.strap, it.end, *it.at): _is_in_every(base, it.strap, it.outline) for it in base.strap_landings}
        spots |= {(it.strap, it.end, *it.at): True for it in _left_off(subject, base)}
        for (name, end, *_), is_every in spots.items():
            least[name, end] += base.cut if is_every else 1
            most[name, end] += base.cut
    found: dict[str, tuple[int, int]] = {}
    for name, end in least:
        one, every = found.get(name, (0, 0))
        found[name] = max(one, least[name, end]), max(every, most[name, end])
    return found


def _left_off(subject: Subject, base: Piece) -> list[StrapLanding]:
    """The places of straps on the model of a piece that this one has the holes for, and not the place: too few are cut."""
    spec = subject.piece_spec(base.name)
    model = subject.parts.pieces.get(spec.like.value) if spec and spec.like else None
    named = {name for hole in base.marks.holes if hole.takes for name in hole.through}
    own = {it.strap for it in base.strap_landings}
    return [it for it in (model.strap_landings if model else ()) if it.strap in named - own]


def _is_in_every(base: Piece, name: str, outline: Path) -> bool:
    """Whether a host has a hole for what fastens a part there."""
    return any((hole.takes or name in hole.through) and is_inside(outline, hole.at) for hole in base.marks.holes)


def _times_sewn(subject: Subject) -> Counter[str]:
    """How often seams sew a part to another on which it does not land."""
    found: Counter[str] = Counter()
    hosts: dict[str, set[str]] = {}
    for base in subject.build.pieces:
        for name in (*(it.piece for it in base.marks.landings), *(it.strap for it in base.strap_landings)):
            hosts.setdefault(name, set()).add(base.name)
    for seam in subject.build.seams:
        parts = seam.parts
        for name in parts & {*hosts}:
            found[name] += len(parts) > 1 and not (parts & hosts[name])
    return found


def _is_riveted(subject: Subject, name: str) -> bool:
    """Whether a hole of a piece on which it does not land names it."""
    for piece in subject.build.pieces:
        landed = {it.piece for it in piece.marks.landings} | {it.strap for it in piece.strap_landings}
        named = {part for hole in piece.marks.holes for part in hole.through}
        own = piece.name == name and bool(named)
        if own or (name in named and name not in landed):
            return True
    return False


def _place_of(subject: Subject, name: str) -> Place:
    """The line that says how many are cut; its table where none does."""
    return subject.written_at((*subject.spec.pieces, *subject.spec.straps), name, "cut")


@check("strips-left-over", "As many strips are cut as their joins take.", "counted from the joins", needs_whole=True)
def find_spare_strips(subject: Subject) -> Iterator[Found]:
    """Strips of which the joins that name them do not take all; a strip that a seam names by itself is passed over."""
    build = subject.build
    named = subject.sewn.keys()
    for piece in build.pieces:
        joins = [join for join in build.joins if piece.name in join.pieces]
        taken = sum(subject.counts[join.name] * join.pieces.count(piece.name) for join in joins)
        if joins and taken < piece.cut and piece.name not in named:
            names = name_words(join.name for join in joins)
            what = f'{piece.cut} of "{piece.name}" are cut, and {names} {"take" if len(joins) > 1 else "takes"} {taken}'
            mend = f"write cut = {taken}, or name the strip once more where it is left out"
            yield _place_of(subject, piece.name), what, mend, piece.name
    for join in build.joins:
        made = subject.counts[join.name]
        seams = [seam for seam in build.seams if any(side.part == join.name and side.edges for side in seam.sides)]
        sewn = max((build.assembly.times(seam.name) for seam in seams), default=made)
        if join.is_ring and 0 < sewn < made:
            (name,) = {*join.pieces} if len({*join.pieces}) == 1 else (join.pieces[0],)
            what = f'{made} of "{join.name}" are made by what is cut of "{name}", and what is sewn round by it takes {sewn}'
            mend = f'name "{name}" once more in it, or write cut = {subject.parts.pieces[name].cut * sewn // made}'
            yield join.place, what, mend, join.name


@check(
    "copy-alone",
    "Where one copy of a piece or strap is joined to another part, every copy is.",
    "counted",
    needs_whole=True,
    waits_for=("landing-empty", "work-in-no-step"),
)
def find_lone_copies(subject: Subject) -> Iterator[Found]:
    """Copies that nothing holds, of parts of which others are held. What lands or is joined is told by those checks."""
    build = subject.build
    held = _held(subject)
    told = {*_places(subject)} | {strip for join in build.joins for strip in join.pieces}
    for part in (*build.pieces, *(strap.piece for strap in build.straps)):
        alone = [copy for copy in build.assembly.copies if copy.part == part.name and copy not in held]
        is_told = part.name in told or _is_spare(subject, part) or _is_riveted(subject, part.name)
        is_told = is_told or _lie_side_by_side(subject, part) or _is_loose_foam(subject, part)
        if 0 < len(alone) < part.cut and not is_told:
            taken = part.cut - len(alone)
            what = f'{part.cut} of "{part.name}" are cut, and only {taken} {is_are(taken)} joined to another part'
            named = {side.copy for seam in build.seams for side in seam.sides if side.part == part.name}
            idle = (
                next((copy for copy in range(1, part.cut + 1) if copy not in named), 0) if max(named, default=0) else 0
            )
            other = f', or name "{part.name} {idle}" in one of its seams' if idle else ""
            mend = f"write cut = {taken}{other}, or say what holds the rest"
            yield _place_of(subject, part.name), what, mend, part.name


def _is_loose_foam(subject: Subject, part: Piece) -> bool:
    """Whether a part is foam that no seam sews: a filling of several layers lies loose."""
    material = None if part.is_strap else subject.material(part)
    is_sewn = any(side.part == part.name for seam in subject.build.seams for side in seam.sides)
    return material is not None and material.kind == "foam" and not is_sewn


def _lie_side_by_side(subject: Subject, part: Piece) -> bool:
    """Whether all copies of a lining, foam or board have room beside each other behind one part that it is said to line,
    as the boards of a cover do."""
    sizes = [outline_box(piece.outline) for piece in subject.build.pieces if piece.name in part.lines]
    own = outline_box(part.outline)
    return any(part.cut <= (box.width + 1e-6) // own.width * ((box.height + 1e-6) // own.height) for box in sizes)


def _held(subject: Subject) -> set[Copy]:
    assembly = subject.build.assembly
    held = {copy for group in assembly.joined[-1] if len({one.part for one in group}) > 1 for copy in group}
    return held | {one.copy for one in assembly.lies}


def _is_spare(subject: Subject, part: Piece) -> bool:
    """Whether its copies that are left over are told by how often it is sewn."""
    return any(doubt.check == "copies-left-over" and doubt.at == part.name for doubt in subject.build.assembly.doubts)


@check(
    "parts-in-two",
    "All pieces hang together when the work is done.",
    "counted; what is made in two parts, such as a box and its lid, may be accepted",
    needs_whole=True,
    waits_for=("work-in-no-step", "fold-between-parts", "edge-sewn-again"),
)
def find_parts_apart(subject: Subject) -> Iterator[Found]:
    """Groups of pieces that are sewn or set to each other and to nothing else: all but the one of most pieces, of equal
    ones the first in the spec."""
    pieces = subject.parts.pieces
    groups = [*dict.fromkeys(frozenset(group) for group in _groups(subject) if group)]
    groups.sort(key=lambda group: (len(group), -min(map([*pieces].index, group))))
    for parts in groups[:-1]:
        if len(parts) > 1 and not parts <= groups[-1]:  # copies of the same thing are made beside each other
            names = [name for name in pieces if name in parts]
            words = name_words(names)
            what = f"{words} hang together, and nothing joins them to the rest"
            yield pieces[names[0]].place, what, "name one of them in a seam with the rest, or accept this", names[0]


def _groups(subject: Subject) -> list[list[str]]:
    """The pieces that hang together in the end, by name; strips with all that their join is sewn to, and a loose lid with
    its box."""
    build = subject.build
    join_of = build.join_of
    joins = {join.name: join.pieces for join in build.joins}
    lid_of = {piece.name: piece.lid_of for piece in build.pieces if piece.lid_of}
    groups: list[list[str]] = []
    for group in build.assembly.joined[-1]:
        parts = [copy.part for copy in group if copy.part not in subject.parts.straps]
        parts += [strip for part in parts for strip in joins.get(part, ())]
        bound = {join_of.get(part, part) for part in parts} & {*joins}
        bound |= {box if lid in parts else lid for lid, box in lid_of.items() if lid in parts or box in parts}
        mates = [other for other in groups if any(not bound.isdisjoint((part, join_of.get(part))) for part in other)]
        groups = [other for other in groups if other not in mates]
        groups.append([*parts, *(part for other in mates for part in other)])
    names = {piece.name for piece in build.pieces}
    return [[part for part in group if part in names] for group in groups]


@check(
    "copies-not-reached",
    "No more are cut of what hardware fastens than holes go through it.",
    "counted",
    needs_whole=True,
)
def find_unreached_copies(subject: Subject) -> Iterator[Found]:
    """Parts that nothing but the holes of others holds, and of which more are cut than there are such holes."""
    build = subject.build
    sewn = subject.sewn.keys() | {*_places(subject)}
    named: Counter[str] = Counter()
    for piece in build.pieces:
        for hole in piece.marks.holes:
            named.update({name: piece.cut for name in {*hole.through} if hole.takes})
    own = {piece.name for piece in build.cut if any(hole.takes for hole in piece.marks.holes)}
    for part in build.cut:
        count = named[part.name]
        cut = subject.counts[part.name]
        if 0 < count < cut and part.name not in sewn | own and not _is_joined(subject, part.name):
            holes = f"there {is_are(count)} {count_words(count, 'hole')}"
            what = f'{cut} of "{part.name}" are cut, and {holes} for it in what it is set to'
            yield _place_of(subject, part.name), what, f"write cut = {count}, or add the holes", part.name


def _is_joined(subject: Subject, name: str) -> bool:
    return any(name in join.pieces for join in subject.build.joins)


@check(
    "holes-unfilled",
    "Where the strips of a join wait for what comes through from another part, as many come.",
    "counted",
    needs_whole=True,
)
def find_unfilled_holes(subject: Subject) -> Iterator[Found]:
    """Strips of a join that are cut more than once and have a hole each for a fitting of another part, and fewer of that
    part than holes."""
    build = subject.build
    for piece in build.pieces:
        for hole in piece.marks.holes:
            for name in dict.fromkeys(hole.through) if hole.takes else ():
                waiting = [
                    strip
                    for strip in subject.parts.strips(name)
                    if strip.name != name
                    and strip.cut > piece.cut
                    and any(_waits(twin, hole) for twin in strip.marks.holes)
                ]
                if not waiting:
                    continue
                named = {one.name for one in build.cut for other in one.marks.holes if {name} & {*other.through}}
                if named == {piece.name} and _through_count(piece, name) < waiting[0].cut:
                    strip = waiting[0]
                    what = (
                        f'{strip.cut} of "{strip.name}" have a hole each for "{hole.takes}", and "{piece.name}" brings '
                        f"{_through_count(piece, name)}"
                    )
                    yield _place_of(subject, piece.name), what, f"write cut = {strip.cut}", piece.name
                    return


def _waits(twin: Hole, hole: Hole) -> bool:
    return not twin.takes and not twin.long_mm and abs(twin.diameter_mm - hole.diameter_mm) <= SAME_PUNCH_MM


def _through_count(piece: Piece, name: str) -> int:
    return piece.cut * sum(bool(hole.takes) and name in hole.through for hole in piece.marks.holes)


@check(
    "holes-too-few",
    "What comes through a part from another has as many holes there as it brings.",
    "counted; what is marked through the other part has none",
    needs_whole=True,
)
def find_too_few_holes(subject: Subject) -> Iterator[Found]:
    """Parts that hardware of others goes through, with holes for it: fewer than come through, or more copies of a strap."""
    build = subject.build
    brought: Counter[tuple[str, str]] = Counter()
    first, bringers = dict[tuple[str, str], Hole](), dict[tuple[str, str], Counter[str]]()
    landed = {it.piece for base in build.pieces for it in base.marks.landings}
    landed |= {it.strap for base in build.pieces for it in base.strap_landings}
    for piece in build.pieces:
        for hole in _apart(piece) if piece.name not in landed and any(one.through for one in piece.marks.holes) else ():
            for name in [one for one in dict.fromkeys(hole.through) if hole.takes and one not in landed]:
                brought[name, hole.takes] += piece.cut
                bringers.setdefault((name, hole.takes), Counter())[piece.name] += 1
                first.setdefault((name, hole.takes), hole)
    sewn = subject.sewn.keys()
    for (name, takes), count in brought.items():
        parts = subject.parts.strips(name) or tuple(part for part in build.cut if part.name == name)
        own = {part.name: sum(_fits(twin, first[name, takes]) for twin in free_holes(subject, part)) for part in parts}
        there = sum(part.cut * own[part.name] for part in parts)
        if 0 < there < count:
            of_one = own[parts[0].name]
            is_cut = parts[0].name == name and count % of_one == 0 and name not in sewn
            what = f'{count_words(count, "hole")} for "{takes}" go through "{name}", and it has {there}'
            few = tell_fewer(subject, bringers[name, takes], there)
            more = f"write cut = {count // of_one}" if is_cut else "add a hole for each"
            mend = f"{more}{few}, or {'add the holes' if is_cut else 'take one away'}"
            there_first = next(hole.place for part in parts for hole in part.marks.holes)
            place = _place_of(subject, name) if is_cut else there_first
            yield place, what, mend, name
        elif _is_spare_strap(parts[0], own[parts[0].name], count) and count < there and name not in sewn:
            what = f'{parts[0].cut} of "{name}" are cut, and hardware goes through {count // own[name]} of them'
            mend = f"write cut = {count // own[name]}, or say what holds the rest"
            yield _place_of(subject, name), what, mend, name


def _is_spare_strap(part: Piece, of_one: int, count: int) -> bool:
    """Whether a strap has no holes but for what comes through it, and that goes through some copies whole."""
    return part.is_strap and 0 < of_one == len(part.marks.holes) and count % of_one == 0


def _apart(piece: Piece) -> Iterator[Hole]:
    """Its holes, those that a fold lays on one before them left out."""
    holes = piece.marks.holes
    near = near_finder([hole.at for hole in holes], OTHER_HOLE_MM)
    for index, hole in enumerate(holes):
        met = (number for at in laid_places(piece, hole.at) for number in near(at))
        if not any(number < index and holes[number].takes == hole.takes for number in met):
            yield hole


def _fits(twin: Hole, hole: Hole) -> bool:
    is_free = twin.takes in ("", hole.takes) and not twin.long_mm
    return is_free and abs(twin.diameter_mm - hole.diameter_mm) <= SAME_PUNCH_MM


@check(
    "tab-loose", "What is folded round a fitting is fastened to another part.", "plain from the work", needs_whole=True
)
def find_loose_tabs(subject: Subject) -> Iterator[Found]:
    """Pieces that are folded round hardware, in a build whose other parts are sewn, and that no seam, hole or landing
    fastens, nor a step that has another part in hand."""
    build = subject.build
    sewn = subject.sewn.keys()
    named = {name for piece in build.cut for hole in piece.marks.holes for name in hole.through}
    together = [
        {*step.pieces, *(side.part for seam in build.seams if seam.name in step.seams for side in seam.sides)}
        for step in build.steps
    ]
    for piece in build.pieces if sewn else ():
        is_folded = any(fold.around for fold in piece.marks.folds)
        is_fastened = piece.name in sewn | named | {*_places(subject)} or any(
            hole.through for hole in piece.marks.holes
        )
        is_glued = any(piece.name in parts and len(parts) > 1 for parts in together)
        if is_folded and not (is_fastened or is_glued):
            what = f'"{piece.name}" is folded round its fitting, and nothing fastens it to another part'
            yield piece.place, what, "say what its holes go through, or where it lands", piece.name
