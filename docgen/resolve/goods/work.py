"""What a step does, one after the other: by its `order`, else as it is written."""

from collections.abc import Iterator, Mapping, Set
from typing import NamedTuple

from docgen.problems import suggest
from docgen.read import Spec, StepSpec, Value
from docgen.resolve.build import WORK_KINDS, WorkKind
from docgen.resolve.values import Reader

Done = tuple[WorkKind, str]
ORDERED: tuple[WorkKind, ...] = ("pieces", *WORK_KINDS)
BESIDES: tuple[WorkKind, ...] = ("dividers", "landings")


class Besides(NamedTuple):
    """What is sewn besides seams, joins and straps, and no key of a step gives: dividing lines of pieces, and straps that
    are sewn on to pieces. Of goods by length the pieces on which they are `laid`, and the seams that have them between."""

    done: frozenset[Done] = frozenset()
    laid: Mapping[str, tuple[str, ...]] = {}
    seams: Mapping[str, tuple[str, ...]] = {}

    def pieces(self, spec: StepSpec, name: str, told: str) -> tuple[str, ...]:
        """The pieces whose rows an order means: goods that are laid stand for those of their pieces, of those in hand
        first."""
        if told == "dividers":
            return (name,)
        on = self.laid.get(name, ()) if told in ("", "trimmings") else ()
        named = {value.value for value in spec.pieces}
        return tuple(one for one in on if one in named) or on


def sewn_besides(spec: Spec) -> Besides:
    laid: dict[str, tuple[str, ...]] = {}
    for piece in spec.pieces:
        for goods in (item.goods.value for item in piece.laid if item.goods):
            laid[goods] = (*laid.get(goods, ()), piece.name)
    meet = [(seam.name, {side.value.partition(":")[0].strip() for side in seam.meet}) for seam in spec.seams]
    sewn = {goods.name: tuple(name for name, parts in meet if goods.name in parts) for goods in spec.trimmings}
    done: list[Done] = [("dividers", item.name) for item in spec.pieces if item.dividers or item.laid]
    done += [("landings", one.strap.value) for item in spec.pieces for one in item.landings if one.strap and one.stitch]
    return Besides(frozenset(done), laid, sewn)


def refuse_twice(reader: Reader, specs: tuple[StepSpec, ...], besides: Besides) -> None:
    """Dividing lines that the orders of two steps name are noted."""
    seen: set[str] = set()
    for spec in specs:
        for value in spec.order:
            found = besides.pieces(spec, *_parted(value))
            for name in found:
                if name in seen:
                    what = f'an earlier step sews the dividing lines of "{name}"'
                    reader.error(value.place, what, "name them in one order")
            seen.update(found)


def _parted(value: Value[str]) -> tuple[str, str]:
    """A name in an order, and what it says behind it, as in "pocket: seams"."""
    name, _, told = (part.strip() for part in value.value.partition(":"))
    return name, told


def read_timed(reader: Reader, spec: StepSpec, gone: Set[str], besides: Besides) -> tuple[Done, ...]:
    """What `order` names, pieces and what is sewn `besides` among it. What it cannot mean is noted; names in `gone` are
    left out."""
    return tuple(dict.fromkeys(_read_order(reader, spec, _written(spec), gone, besides)))


def read_work(spec: StepSpec, timed: tuple[Done, ...]) -> tuple[Done, ...]:
    """What the step does: what its order names, then the rest as it is written, without pieces."""
    return (*timed, *(done for done in _written(spec) if done not in timed and done[0] != "pieces"))


def _written(spec: StepSpec) -> list[Done]:
    listed = [(value.place, kind, value.value) for kind in ORDERED for value in getattr(spec, kind)]
    return [(kind, name) for _, kind, name in sorted(listed, key=lambda item: (item[0].line, item[0].column))]


def _read_order(
    reader: Reader, spec: StepSpec, written: list[Done], gone: Set[str], besides: Besides
) -> Iterator[Done]:
    seen: set[Done] = set()
    known = [*dict.fromkeys([*written, *sorted(besides.done)])]
    for value in spec.order:
        name, told = _parted(value)
        exact = [done for done in known if done[1] == name and told == done[0]]
        found = exact or [done for done in known if done[1] == name and not told and done[0] not in BESIDES]
        rows: list[Done] = [] if found else [("dividers", piece) for piece in besides.pieces(spec, name, told)]
        if len(found) > 1:
            lists = " and ".join(kind for kind, _ in found)
            reader.error(value.place, f'this step gives "{name}" in {lists}', f'write "{name}: {found[0][0]}"')
        elif not seen.isdisjoint(found or rows):
            reader.error(value.place, f'the order names "{name}" twice', "a step does each thing once: write two steps")
        elif found or (rows and {*rows} <= besides.done):
            seen.update(found or rows)
            yield from found or rows
        elif name not in gone:
            _refuse(reader, value, written, besides)


def _refuse(reader: Reader, value: Value[str], written: list[Done], besides: Besides) -> None:
    name, told = _parted(value)
    kinds = [kind for kind, one in written if one == name]
    if told in BESIDES:
        what = f'"{name}" has no dividing lines' if told == "dividers" else f'no landing sews "{name}" on to a piece'
        reader.error(value.place, what, "leave it out of the order")
    elif told and kinds:
        reader.error(value.place, f'this step does not give "{name}" in {told}', f'write "{name}: {kinds[0]}"')
    elif name in besides.seams:
        seams = " or ".join(f'"{seam}"' for seam in besides.seams[name])
        mend = f"name that in the order: {seams}" if seams else "leave it out of the order: it is cut and fixed first"
        reader.error(value.place, f'"{name}" goes in with its seam' if seams else f'no seam sews "{name}"', mend)
    else:
        mend = (
            suggest(name, [one for _, one in written]) or f'write "{name}" in pieces, seams or hardware of the step too'
        )
        reader.error(value.place, f'this step does not name "{name}"', mend)
