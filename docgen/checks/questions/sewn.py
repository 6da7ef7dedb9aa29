"""What is sewn, and leaves in doubt where its sides meet, what its row is for, or how it holds."""

from collections.abc import Iterator

from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject
from docgen.geometry.outline import WHOLE, edge_names, outline_box
from docgen.geometry.path import path_box, path_length
from docgen.problems import name_words
from docgen.resolve import Landing, Piece, Seam, SeamSide, Step
from docgen.tables.cautions import has_phrase
from docgen.tables.consumables import is_glue
from docgen.tables.sewing import LONG_UNMATCHED_MM
from docgen.tables.thread import thread_diameter_mm
from docgen.tables.usual import COARSEST_MM, HEAVY_ON_CLOTH_TEX, LIGHT_LINEN_TIMES, LIGHT_THREAD_TIMES
from docgen.written.units.telling import format_pitch

HOLDING = ("glue", "glued", "tape", "taped", "pin", "pinned", "clip", "baste", "tack", "stick", "hold", "cement")
CLIPS_REACH_MM = 30.0  # from an edge: common practice, no published source
LEAST_EDGES = 3  # that run round a piece


@question
def ask_threads(subject: Subject) -> Iterator[Question]:
    """Thread that is light for its stitch, and still holds."""
    for own in subject.spec.stitches:
        stitch = subject.parts.stitches.get(own.name)
        if stitch is None or own.thread is None:
            continue
        if stitch.pitch_mm > COARSEST_MM:
            continue  # that is asked, or told, as it stands
        times = stitch.pitch_mm / thread_diameter_mm(stitch.thread_tex, stitch.thread_fibre)
        is_linen = stitch.by == "hand" and stitch.thread_fibre == "linen"
        if times > (LIGHT_LINEN_TIMES if is_linen else LIGHT_THREAD_TIMES[stitch.by]):
            pitch = format_pitch(stitch.pitch_mm)
            what = f"{stitch.thread_words} is light for a stitch of {pitch}, {times:.0f} times as long as it is thick"
            answer = "look at both figures; where a fine thread is meant there is nothing to do"
            yield Question(place=own.thread.place, what=what, answer=answer)


@question
def ask_last_corners(subject: Subject) -> Iterator[Question]:
    """Sides that name every edge of a piece, with a round corner between the last and the first, which that leaves open."""
    for seam in subject.build.seams:
        for side in seam.sides:
            piece = subject.parts.pieces.get(side.part)
            edges = piece.sewn_outline.edges if piece else ()
            names = [edge.name for edge in edges if not edge.corner]
            if piece is None or side.ends or len(names) < LEAST_EDGES or {*names} != {*side.edges}:
                continue
            ends = {side.edges[0], side.edges[-1]}
            around = [(edges[k - 1], edge, edges[(k + 1) % len(edges)]) for k, edge in enumerate(edges) if edge.corner]
            corner = next((edge for before, edge, after in around if {before.name, after.name} == ends), None)
            if corner is not None:
                what = (
                    f'"{seam.name}" names every edge of "{piece.name}", and leaves its round corner {corner.name} open'
                )
                answer = f'write "{piece.name}: all" where it goes all round; else there is nothing to do'
                yield Question(place=seam.place_of(side), what=what, answer=answer)


@question
def ask_corners_between(subject: Subject) -> Iterator[Question]:
    """Round corners between two edges that two seams sew to the same parts, and neither of them goes round."""
    sides: dict[str, list[tuple[Seam, SeamSide]]] = {}
    for seam in subject.build.seams:
        for side in (side for side in seam.sides if side.edges and not side.ends):
            sides.setdefault(side.part, []).append((seam, side))
    told: set[frozenset[str]] = set()
    for name, own in sides.items():
        piece = subject.parts.pieces.get(name)
        edges = piece.sewn_outline.edges if piece and len(own) > 1 else ()
        for k, corner in enumerate(edges):
            before, after = edges[k - 1].name, edges[(k + 1) % len(edges)].name
            if not corner.corner or any({before, after} <= {*side.edges} or WHOLE in side.edges for _, side in own):
                continue
            pairs = [
                (one, other)
                for one, first in own
                for other, last in own
                if before in first.edges and after in last.edges and one.parts == other.parts and len(one.parts) > 1
            ]
            for one, other in pairs[:1]:
                pair = frozenset((one.name, other.name))
                if pair not in told and path_length(corner.path) > subject.parts.stitches[one.stitch].pitch_mm:
                    told.add(pair)
                    what = (
                        f'"{one.name}" and "{other.name}" sew the edges of "{name}" on both sides of its round corner '
                    )
                    what += f"{corner.name}, {subject.length(path_length(corner.path))} long, and neither goes round it"
                    answer = (
                        f'write one seam with "{name}: all"; where the corner is to stay open there is nothing to do'
                    )
                    later = max((one, other), key=lambda seam: seam.place.line)
                    yield Question(place=later.place, what=what, answer=answer)


@question
def ask_cloth_stitches(subject: Subject) -> Iterator[Question]:
    """Stitches that go through no leather, of a pitch coarser than any leather takes, or of a thread heavier than what
    sews the leather of the same build, and than canvas is sewn with."""
    leather = subject.leather_stitches
    build = subject.build
    heaviest = max((one.thread_tex for one in build.stitches if one.name in leather and one.by == "machine"), default=0)
    sewn = {seam.stitch for seam in build.seams}
    for own in subject.spec.stitches:
        stitch = subject.parts.stitches.get(own.name)
        if stitch is None or own.name in leather or own.name not in sewn:
            continue
        if own.pitch and stitch.pitch_mm > COARSEST_MM:
            what = f"a stitch of {format_pitch(stitch.pitch_mm)} holds no hem and no seam"
            answer = "look at the figure; where it only tacks there is nothing to do"
            yield Question(place=own.pitch.place, what=what, answer=answer)
        if own.thread and stitch.by == "machine" and stitch.thread_tex > max(HEAVY_ON_CLOTH_TEX, heaviest):
            what = f'"{own.name}" sews cloth alone, with {stitch.thread_words}'
            what += (
                f", and what sews the leather is Tex {heaviest:g} at most" if heaviest else ", which is heavy for it"
            )
            answer = "look at the figure; where so heavy a thread is meant there is nothing to do"
            yield Question(place=own.thread.place, what=what, answer=answer)


@question
def ask_notches(subject: Subject) -> Iterator[Question]:
    """Long seams round corners on one side, along an edge without any on the other, with no mark in between."""
    for seam in subject.build.seams:
        pair = _find_unmatched(subject, seam)
        if pair is None:
            continue
        round_, plain = pair
        long = subject.length(seam.length_mm)
        corners = f'the {" ".join(round_.edges)} of "{round_.part}"'
        what = f'nothing says where "{plain.part}" meets {corners}: no notch in all {long} of the seam "{seam.name}"'
        answer = f'write notches for "{round_.part}" and "{plain.part}", as far from one end of the seam on both'
        yield Question(place=seam.place, what=what, answer=answer)


def _find_unmatched(subject: Subject, seam: Seam) -> tuple[SeamSide, SeamSide] | None:
    """The side that goes round corners and the one that has none, where the seam is long and neither has a notch."""
    sides = [side for side in seam.sides if side.edges]
    if seam.length_mm <= LONG_UNMATCHED_MM or any(side.part not in subject.parts.pieces for side in sides):
        return None  # the lap of a join is a mark, too
    if any(_has_notch(subject, side) for side in sides):
        return None
    corners = [side for side in sides if len(side.edges) > 1]
    plain = [side for side in sides if len(side.edges) == 1 and side.edges != (WHOLE,)]
    return (corners[0], plain[0]) if corners and plain else None


def _has_notch(subject: Subject, side: SeamSide) -> bool:
    return any(notch.edge in side.edges for notch in subject.parts.pieces[side.part].marks.notches)


@question
def ask_rows(subject: Subject) -> Iterator[Question]:
    """Seams of one part by itself, in a build of several: a row for its looks, or a partner that is left out. Along a hem
    the row holds that, and goods by length are sewn in by it."""
    for seam in subject.build.seams if len(subject.parts.pieces) > 1 else ():
        side = seam.sides[0]
        piece = subject.parts.pieces.get(side.part)
        hemmed = piece.hemmed if piece else frozenset()
        if len(seam.sides) == 1 and not seam.trimmings and hemmed.isdisjoint(side.edges):
            what = f'the seam "{seam.name}" goes through "{side.part}" alone: is it a row for its looks?'
            answer = "leave it where it is; else name in meet what it is sewn to"
            yield Question(place=seam.place_of(side), what=what, answer=answer)


@question
def ask_rounds(subject: Subject) -> Iterator[Question]:
    """Seams along all edges of a piece by their names, so that the rounded corner between the last and the first is left
    out. Of partners alike the first is asked about."""
    for seam in subject.build.seams:
        for side in seam.sides:
            piece = subject.parts.pieces.get(side.part)
            left_out = _corner_between(piece, side) if piece is not None and side.stretch_mm is None else ""
            if left_out:
                what = f'the seam "{seam.name}" goes along all edges of "{side.part}" but not round its {left_out}'
                answer = f'write "{side.part}: {WHOLE}" for right round; where it is to end there is nothing to do'
                yield Question(place=seam.place_of(side), what=what, answer=answer)
                break


def _corner_between(piece: Piece, side: SeamSide) -> str:
    """The rounded corner between the last and the first of edges that are all that a piece has; "" where there is none."""
    edges = piece.outline.edges
    if len(side.edges) < LEAST_EDGES or {*side.edges} != {*edge_names(piece.outline)}:
        return ""
    ends = {side.edges[0], side.edges[-1]}
    beside = ((edges[k - 1].name, edges[(k + 1) % len(edges)].name, one) for k, one in enumerate(edges) if one.corner)
    return next((one.name for before, after, one in beside if {before, after} == ends), "")


@question
def ask_lined_corners(subject: Subject) -> Iterator[Question]:
    """Corners of a lining that nothing sews, where those of what it lines, of the same names, are sewn to themselves."""
    goods = {item.name for item in subject.build.materials if item.kind in ("leather", "fabric")}
    hosts = {name: piece for piece in subject.build.pieces if piece.material in goods for name in piece.lines}
    closed = {
        (side.part, edge)
        for seam in subject.build.seams
        if len(seam.parts) == 1 and len({side.edges for side in seam.sides if side.edges}) > 1
        for side in seam.sides
        for edge in side.edges
    }
    for host, lining in hosts.items():
        own = {part_edge for part_edge in closed if part_edge[0] == host}
        loose = sorted(edge for _, edge in own if edge in edge_names(lining.outline))
        if loose and subject.edges_sewn(lining.name).isdisjoint({*loose, WHOLE}):
            edges = ", ".join(loose)
            what = f'"{lining.name}" lines "{host}", whose {edges} are sewn to each other, and no seam sews its own'
            answer = "add a seam that closes them; where it is held otherwise there is nothing to do"
            yield Question(place=lining.place, what=what, answer=answer)


@question
def ask_holding(subject: Subject) -> Iterator[Question]:
    """What is sewn flat within a piece, where clips do not reach, in steps of the spec's own that name nothing to hold it
    with: all in one question."""
    bare = [step for step in subject.build.steps if not any(_holds(words) for words in _said(step))]
    found = {
        side.part: step
        for step in bare
        for seam in subject.build.seams
        if seam.name in step.seams
        for side in seam.sides
        if side.edges and _lands_within(subject, seam, side.part)
    }
    if found:
        names = name_words(found)
        what = (
            f"nothing says how {names} {'is' if len(found) == 1 else 'are'} held until sewn, where clips do not reach"
        )
        answer = "write a tape or glue under tools of its step; where whoever makes it knows there is nothing to do"
        yield Question(place=next(iter(found.values())).place, what=what, answer=answer)


def _said(step: Step) -> tuple[str, ...]:
    return (step.do, step.note, *step.first, *step.tools)


def _holds(words: str) -> bool:
    """Whether words name a glue, or speak of holding."""
    return is_glue(words) or any(has_phrase(words, one) for one in HOLDING)


def _lands_within(subject: Subject, seam: Seam, part: str) -> bool:
    """Whether a part lands on a piece that lies flat beneath it in that seam, away from all edges of that."""
    flat = [
        subject.parts.pieces[side.part] for side in seam.sides if not side.edges and side.part in subject.parts.pieces
    ]
    landed = [(host, landing) for host in flat for landing in host.marks.landings if landing.piece == part]
    return any(host.name != part and _edge_gap_mm(host, landing) > CLIPS_REACH_MM for host, landing in landed)


def _edge_gap_mm(host: Piece, landing: Landing) -> float:
    """How far what lands lies from the nearest edge of its host."""
    base, box = outline_box(host.sewn_outline), path_box(landing.outline)
    return min(base.right - box.right, box.left - base.left, base.top - box.top, box.bottom - base.bottom)
