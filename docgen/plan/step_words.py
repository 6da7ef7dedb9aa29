"""What a step handles, in words: skives, holes, slits and folds of pieces, straps, hardware."""

from collections.abc import Iterable, Mapping, Sequence, Set
from dataclasses import replace

from docgen.assemble import Assembled, Fastened, Stack
from docgen.plan.cutting import join_edges, purpose_words, slit_words, thin_words
from docgen.plan.trimmings import trimming_lines
from docgen.resolve import END_NAMES, Build, Hardware, Piece, Step, Strap, StrapEnd, by_name
from docgen.tables.cautions import has_phrase
from docgen.written.units.telling import Show, format_length, format_mm, format_stack, format_thickness

Line = tuple[str, str]
Told = tuple[tuple[str, str], Line]  # what a step does, by kind and name, and a line of words about it

FOLDING = ("fold", "turn", "crease")


def step_lines(build: Assembled, steps: Sequence[Step], at: int, punched: Mapping[str, int]) -> tuple[Told, ...]:
    """What step `at` (from 0) cuts, skives, punches and folds, as label and words; `punched` tells which step makes the
    holes of a piece."""
    step, show = steps[at], build.show
    pieces = by_name(build.pieces)
    lines: list[Told] = []
    for name in step.skives:
        lines += [(("skives", name), (_count_title(pieces[name]), told)) for told in skive_words(pieces[name], show)]
    for name in step.pieces:
        piece = pieces[name]
        every = [*purpose_words(piece.marks.holes, show), *slit_words(piece, show)] if punched.get(name) == at else []
        lines += [(("pieces", name), (_count_title(piece), told)) for told in every]
    if any(has_phrase(step.do, phrase) for phrase in FOLDING):
        for piece in build.pieces:
            if piece.marks.folds and piece.name in _turned(build, step):
                lines += [(("pieces", piece.name), (_count_title(piece), told)) for told in fold_words(piece, show)]
    for strap in build.straps:
        if strap.name in step.straps:
            title = strap.title if strap.cut == 1 else f"{strap.title}, {strap.cut} for each make"
            lines += [(("straps", strap.name), (title, told)) for told in strap_words(build, strap.name)]
    return (*lines, *((("trimmings", ""), line) for line in trimming_lines(build, steps, at)))


def hardware_lines(build: Assembled, steps: Sequence[Step], at: int) -> tuple[Told, ...]:
    """The hardware of step `at` (from 0), as label and words: how many, where, with which post."""
    return tuple(
        (("hardware", item.name), (item.what, words))
        for item in build.hardware
        if item.name in steps[at].hardware
        for words in hardware_words(item, steps, at, build)
    )


def _count_title(piece: Piece) -> str:
    return piece.title if piece.cut == 1 else f"{piece.title}, {piece.cut} for each make"


def _turned(build: Build, step: Step) -> set[str]:
    """Pieces that the step names, and those whose own edges its seams sew."""
    sides = (side for seam in build.seams if seam.name in step.seams for side in seam.sides)
    return {*step.pieces, *(side.part for side in sides if side.edges)}


def skive_words(piece: Piece, show: Show) -> list[str]:
    """Each skived band in words."""
    return [
        f"skive {join_edges(skive.edges)} to {thin_words(skive, show)} over {format_length(skive.width_mm, show)}"
        for skive in piece.marks.skives
    ]


def fold_words(piece: Piece, show: Show) -> list[str]:
    """`fold 1/2 in (12.7 mm) from the edge: turn under and glue`, each fold once."""
    lines = [
        (f"fold {format_length(fold.turned_mm, show)} from the edge" if fold.turned_mm else "fold on the dashed line")
        + (f": {fold.note}" if fold.note else "")
        for fold in piece.marks.folds
    ]
    return list(dict.fromkeys(lines))


def strap_words(build: Build, name: str) -> list[str]:
    """Cut length, ends, holes and range of a strap in words; plain ends in one line."""
    strap = next(strap for strap in build.straps if strap.name == name)
    show = build.show
    lines = [f"cut {format_length(strap.width_mm, show)} wide, {format_length(strap.cut_length_mm, show)} long"]
    if strap.lining:
        material = next((item.title for item in build.materials if item.name == strap.lining), strap.lining)
        lines.append(f"second layer of {material}, {format_length(strap.lining_length_mm, show)} long")
    if strap.padding:
        lines.append(_padding_words(strap, build))
    lines += _end_words(strap, build)
    if strap.first_tips_mm:
        lines.append(f"at the first end {_row_words(strap.first_tips_mm, strap.first_punch_mm, show)}")
    if strap.hole_tips_mm:
        lines.append(_row_words(strap.hole_tips_mm, strap.punch_mm, show))
    row = strap.row_holes
    lines += [f"and {words}" if row else words for words in purpose_words(strap.piece.marks.holes[row:], show)]
    if strap.worn_mm:
        shortest, middle, longest = (format_length(length, show) for length in strap.worn_mm)
        lines.append(f"worn at the middle hole {middle}; from {shortest} to {longest}")
    return lines


def _end_words(strap: Strap, build: Build) -> list[str]:
    first, second = strap.ends
    names = ("first", "second")
    if "turned" not in (first.shape, second.shape):
        shapes = f"both {first.shape}" if first.shape == second.shape else f"{first.shape}, {second.shape}"
        told = [f"ends: {shapes}"]
    elif replace(first, place=second.place) == second:
        told = [f"both ends: {_turned_words(first, build)}"]
    else:
        told = [
            f"{which} end: {_turned_words(end, build) if end.shape == 'turned' else end.shape}"
            for which, end in zip(names, strap.ends, strict=True)
        ]
    thinned = [
        f"skive the {which} end to {format_thickness(end.skive.to_mm, 'leather', build.show, end.skive.to_words)} over "
        f"{format_length(end.skive.over_mm, build.show)}"
        for which, end in zip(names, strap.ends, strict=True)
        if end.skive
    ]
    return [*told, *taper_words(strap, build.show), *thinned]


def taper_words(strap: Strap, show: Show) -> list[str]:
    """How each tapered end is cut: `first end: 3/4 in wide for 4 in, then tapers over 6 in`."""
    lines = []
    for which, end in enumerate(strap.ends):
        if end.taper is not None:
            wide, straight, long = (
                format_length(mm, show) for mm in (end.taper.width_mm, end.taper.straight_mm, end.taper.long_mm)
            )
            kept = f" for {straight}" if end.taper.straight_mm else ""
            lines.append(f"{END_NAMES[which]}: {wide} wide{kept}, then tapers over {long}")
    return lines


def _turned_words(end: StrapEnd, build: Build) -> str:
    whats = {item.name: _aside_words(item.what) for item in build.hardware}
    around = f" round the {' and the '.join(whats[name] for name in end.rings)}" if end.rings else ""
    back, fold = (format_length(length, build.show) for length in (end.back_mm, end.fold_mm))
    told = [f"turn back {back}{around}", f"fold {fold} from the cut end"]
    if end.loop_mm:
        told.append(f"leave a loop of {format_length(end.loop_mm, build.show)} open on either side of the fold")
    if end.keeper:
        told.append(f"{build.titles[end.keeper]} in the fold")
    if end.slot_long_mm:
        told.append("slot for the tongue at the fold")
    if end.sewn:
        told.append("sewn along both edges of what lies back, not across")
    return "; ".join(told)


def _aside_words(what: str) -> str:
    """`D ring (1 in)`: what stands after the comma goes into brackets, clear of the length that follows."""
    name, _, size = what.partition(", ")
    return f"{name} ({size})" if size else what


def _padding_words(strap: Strap, build: Build) -> str:
    """Where the padding lies: in the middle of what is not turned back."""
    material = next((item.title for item in build.materials if item.name == strap.padding), strap.padding)
    wide, long = (format_length(mm, build.show) for mm in (strap.padding_width_mm, strap.padding_length_mm))
    first, second = strap.ends
    begin_mm = first.back_mm + (strap.finished_mm - first.back_mm - second.back_mm - strap.padding_length_mm) / 2
    begins = format_length(begin_mm, build.show)
    return f"padding of {material}, {wide} wide, {long} long, from {begins} after the first end as made up"


def _row_words(tips_mm: Sequence[float], punch_mm: float, show: Show) -> str:
    punch, first, last = (format_length(length, show) for length in (punch_mm, tips_mm[0], tips_mm[-1]))
    if len(tips_mm) == 1:
        return f"1 hole of {punch}, {first} from the tip"
    return f"{len(tips_mm)} holes of {punch}, from {first} to {last} from the tip"


def hardware_words(item: Hardware, steps: Sequence[Step], at: int, build: Assembled) -> list[str]:
    """How many for one make and for the batch; and where they go in this step, with which post."""
    count = f"{item.count} for each make"
    if build.makes > 1:
        count += f", {item.count * build.makes} for the batch"
    numbers = [str(number) for number, other in enumerate(steps, start=1) if item.name in other.hardware]
    if len(numbers) > 1:
        count += f", in steps {', '.join(numbers[:-1])} and {numbers[-1]} together"
    titles = build.part_titles
    own = [fit for fit in build.assembly.fastened if fit.hardware == item.name and fit.part in titles]
    told = _together(fit for fit in own if build.assembly.events[fit.event].step == at)
    leather = {material.name for material in build.materials if material.kind == "leather"}
    return [count, *(_fitting_words(fit, titles[fit.part], item.kind, leather) for fit in told)]


def _together(fittings: Iterable[Fastened]) -> list[Fastened]:
    """Hardware of which the same is said, counted together: that of both ends of a strap."""
    found: dict[tuple[str, str, Stack, float], Fastened] = {}
    for fit in fittings:
        key = fit.part, fit.half, fit.stack, fit.post_mm
        found[key] = replace(fit, count=fit.count + (found[key].count if key in found else 0))
    return list(found.values())


def _fitting_words(fitting: Fastened, title: str, kind: str, leather: Set[str]) -> str:
    """`Back panel: 4 rivets through 4 mm of leather, post 6 mm`; layers and posts in mm, as posts are sold."""
    told = f"{title}: {_count_kind(fitting.count, f'{kind} {fitting.half}'.strip())}"
    if fitting.stack.thickest_mm:
        is_leather = fitting.stack.layers and all(layer.material in leather for layer in fitting.stack.layers)
        told += f" through {stack_words(fitting.stack)}{' of leather' if is_leather else ''}"
    return f"{told}, post {format_mm(fitting.post_mm)}" if fitting.post_mm else told


def stack_words(stack: Stack) -> str:
    """From its thinnest to its thickest place, where they differ as it is printed."""
    least, most = map(format_stack, (stack.thinnest_mm, stack.thickest_mm))
    return most if least == most else format_stack(stack.thinnest_mm, stack.thickest_mm)


def _count_kind(count: int, kind: str) -> str:
    """`1 rivet`, `2 screw posts`, `1 snap stud`; the bare number where the kind is not known."""
    noun = kind.replace("-", " ")
    return str(count) if kind == "other" else f"{count} {noun}" if count == 1 else f"{count} {noun}s"
