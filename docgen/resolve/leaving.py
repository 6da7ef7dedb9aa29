"""What a variant leaves out: steps by their names, and pieces, straps, hardware and the like, with all that hangs on
them."""

import re
from collections.abc import Callable, Collection, Iterator
from dataclasses import replace
from typing import Any, Final

from docgen.problems import Problem, make_error, suggest
from docgen.read import Names, PieceSpec, SeamSpec, Spec, StepSpec, StrapSpec, TrimmingSpec, VariantSpec
from docgen.resolve.values import words

TABLES: Final = ("pieces", "joins", "straps", "trimmings", "hardware", "seams")
WORKED: Final = ("pieces", "skives", "joins", "seams", "straps", "hardware", "trimmings")
FIRST: Final = r"[A-Za-z0-9-]+"

Gone = Collection[str]


def leave_out(spec: Spec, named: Gone) -> Spec:
    """The spec without steps of these names; of a name that no step has, without the parts of that name, the places where
    they land, the holes that take them and the seams that nothing else is sewn in. Steps that have nothing to do any more
    go too."""
    if not named:
        return spec
    gone = set(named) - step_names(spec)
    left: dict[str, Any] = {
        table: tuple(entry for entry in getattr(spec, table) if entry.name not in gone) for table in TABLES
    }
    left["pieces"] = tuple(_leave_piece(piece, gone) for piece in left["pieces"])
    left["straps"] = tuple(_leave_strap(strap, gone) for strap in left["straps"])
    left["trimmings"] = tuple(item for item in map(_leave_along(gone), left["trimmings"]) if item is not None)
    left["seams"] = tuple(seam for seam in (_leave_seam(seam, gone) for seam in spec.seams) if seam is not None)
    for table in ("trimmings", "seams"):
        gone |= {entry.name for entry in getattr(spec, table)} - {entry.name for entry in left[table]}
    return replace(
        spec,
        **left,
        steps=_leave_steps(spec.steps, named, gone),
        begun=_leave_steps(spec.begun, named, gone),
        accept=tuple(item for item in spec.accept if words(item.at) not in gone),
    )


def step_names(spec: Spec) -> set[str]:
    """The names that steps bear."""
    return {step.name.value for step in (*spec.steps, *spec.begun) if step.name}


def check_left_out(spec: Spec) -> Iterator[Problem]:
    """Names of nothing that could be left out, and parts that are left out while others go by them."""
    parts = {entry.name for table in TABLES for entry in getattr(spec, table)}
    steps = step_names(spec)
    for variant in spec.variants:
        for value in variant.without:
            if value.value not in parts | steps and ("steps", value.value) not in spec.left_out:
                what = f'without = "{value.value}", but there is no step, piece, strap or hardware of that name'
                yield make_error(value.place, what, suggest(value.value, [*steps, *parts]) or "take it out")
        yield from _find_hanging(spec, variant, {value.value for value in variant.without} - steps)


def _find_hanging(spec: Spec, variant: VariantSpec, gone: Gone) -> Iterator[Problem]:
    """What cannot be without what is left out: pieces that are like it, the other part of a strap, strips of a join."""
    links = [(piece.name, piece.like, "is like it") for piece in spec.pieces]
    links += [(piece.name, piece.shares, "is cut by its template") for piece in spec.pieces]
    links += [(strap.name, strap.partner, "buckles on to it") for strap in spec.straps]
    links += [(strap.name, strap.keeper_for, "goes round it") for strap in spec.straps]
    links += [(join.name, strip, "is joined of it") for join in spec.joins for strip in join.of]
    for name, other, how in links:
        if other is not None and other.value in gone and name not in gone:
            what = f'the variant "{variant.name}" leaves out "{other.value}", and "{name}" {how}'
            place = next(value.place for value in variant.without if value.value == other.value)
            yield make_error(place, what, f'leave out "{name}" too, or keep both')


def _leave_seam(seam: SeamSpec, gone: Gone) -> SeamSpec | None:
    """The seam without partners that are left out; None where that leaves one alone, or no edges."""
    kept = tuple(value for value in seam.meet if _part_of(value.value) not in gone)
    if seam.name in gone:
        return None
    if len(kept) == len(seam.meet):
        return seam
    return replace(seam, meet=kept) if len(kept) > 1 and any(":" in value.value for value in kept) else None


def _leave_along(gone: Gone) -> Callable[[TrimmingSpec], TrimmingSpec | None]:
    """Goods by length without the edges of what is left out; None for those that lie along nothing else."""

    def leave(item: TrimmingSpec) -> TrimmingSpec | None:
        kept = tuple(value for value in item.along if _part_of(value.value) not in gone)
        return replace(item, along=kept) if kept or not item.along else None

    return leave


def _part_of(side: str) -> str:
    found = re.match(FIRST, side.strip())
    return found[0] if found else ""


def _leave_piece(piece: PieceSpec, gone: Gone) -> PieceSpec:
    def takes_none(hole: Any) -> bool:
        return words(hole.takes) not in gone

    return replace(
        piece,
        landings=tuple(one for one in piece.landings if not {words(one.piece), words(one.strap)} & set(gone)),
        holes=tuple(replace(one, through=_kept(one.through, gone)) for one in piece.holes if takes_none(one)),
        hole_rows=tuple(replace(one, through=_kept(one.through, gone)) for one in piece.hole_rows if takes_none(one)),
        drawn_holes=tuple(one for one in piece.drawn_holes if takes_none(one)),
        folds=tuple(replace(one, around=None) if words(one.around) in gone else one for one in piece.folds),
        laid=tuple(one for one in piece.laid if words(one.goods) not in gone),
        dividers=tuple(replace(one, on=None) if words(one.on) in gone else one for one in piece.dividers),
        lines=_kept(piece.lines, gone),
        lid_of=None if words(piece.lid_of) in gone else piece.lid_of,
    )


def _leave_strap(strap: StrapSpec, gone: Gone) -> StrapSpec:
    ends = (
        replace(
            end,
            around=_kept(end.around, gone),
            takes=None if words(end.takes) in gone else end.takes,
            keeper=None if words(end.keeper) in gone else end.keeper,
        )
        for end in strap.ends
    )
    kept = (hole for hole in strap.punches if words(hole.takes) not in gone)
    punches = (replace(hole, through=_kept(hole.through, gone)) for hole in kept)
    return replace(strap, ends=tuple(ends), punches=tuple(punches))


def _leave_steps(steps: tuple[StepSpec, ...], named: Gone, gone: Gone) -> tuple[StepSpec, ...]:
    left = []
    for step in steps:
        if words(step.name) in named:
            continue
        kept: dict[str, Any] = {kind: _kept(getattr(step, kind), gone) for kind in WORKED}
        is_idle = not any(kept.values()) and any(getattr(step, kind) for kind in WORKED)
        left += [] if is_idle else [replace(step, **kept)]
    return tuple(left)


def _kept(values: Names, gone: Gone) -> Names:
    return tuple(value for value in values if value.value not in gone)
