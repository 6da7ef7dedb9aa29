"""What a step does, one after the other: by its `order`, else as it is written."""

from collections.abc import Iterator, Set

from docgen.problems import suggest
from docgen.read import Spec, StepSpec, Value
from docgen.resolve.build import WORK_KINDS, WorkKind
from docgen.resolve.values import Reader

Done = tuple[WorkKind, str]
ORDERED: tuple[WorkKind, ...] = ("pieces", *WORK_KINDS)
BESIDES: tuple[WorkKind, ...] = ("dividers", "landings")


def sewn_besides(spec: Spec) -> frozenset[Done]:
    """What is sewn besides seams, joins and straps, and no key of a step gives: dividing lines of pieces, and straps that
    are sewn on to pieces."""
    divided = {item.name for item in spec.pieces if item.dividers or item.laid}
    landed = {one.strap.value for item in spec.pieces for one in item.landings if one.strap and one.stitch}
    return frozenset([*(("dividers", name) for name in divided), *(("landings", name) for name in landed)])


def refuse_twice(reader: Reader, specs: tuple[StepSpec, ...]) -> None:
    """Dividing lines that the orders of two steps name are noted."""
    seen: set[str] = set()
    for value in (value for spec in specs for value in spec.order):
        name, _, told = (part.strip() for part in value.value.partition(":"))
        if told == "dividers" and name in seen:
            reader.error(value.place, f'an earlier step sews the dividing lines of "{name}"', "name them in one order")
        seen |= {name} if told == "dividers" else set()


def read_work(reader: Reader, spec: StepSpec, gone: Set[str], besides: Set[Done] = frozenset()) -> tuple[Done, ...]:
    """What the step does: what `order` names, then the rest as it is written; pieces, and what is sewn `besides`, only
    where `order` names them. What it cannot mean is noted; names in `gone` are left out."""
    listed = [(value.place, kind, value.value) for kind in ORDERED for value in getattr(spec, kind)]
    in_order = sorted(listed, key=lambda item: (item[0].line, item[0].column))
    written: list[Done] = [(kind, name) for _, kind, name in in_order]
    first = tuple(dict.fromkeys(_read_order(reader, spec, [*written, *sorted(besides)], gone)))
    return (*first, *(done for done in written if done not in first and done[0] != "pieces"))


def _read_order(reader: Reader, spec: StepSpec, written: list[Done], gone: Set[str]) -> Iterator[Done]:
    seen: set[Done] = set()
    for value in spec.order:
        name, _, told = (part.strip() for part in value.value.partition(":"))
        found = [done for done in dict.fromkeys(written) if done[1] == name and told == done[0]] or [
            done for done in dict.fromkeys(written) if done[1] == name and not told and done[0] not in BESIDES
        ]
        if len(found) > 1:
            lists = " and ".join(kind for kind, _ in found)
            reader.error(value.place, f'this step gives "{name}" in {lists}', f'write "{name}: {found[0][0]}"')
        elif found and found[0] in seen:
            reader.error(value.place, f'the order names "{name}" twice', "a step does each thing once: write two steps")
        elif found:
            seen.add(found[0])
            yield found[0]
        elif name not in gone:
            _refuse(reader, value, name, told, written)


def _refuse(reader: Reader, value: Value[str], name: str, told: str, written: list[Done]) -> None:
    kinds = [kind for kind, one in written if one == name]
    if told in BESIDES:
        what = f'"{name}" has no dividing lines' if told == "dividers" else f'no landing sews "{name}" on to a piece'
        reader.error(value.place, what, "leave it out of the order")
        return
    if told and kinds:
        reader.error(value.place, f'this step does not give "{name}" in {told}', f'write "{name}: {kinds[0]}"')
        return
    names = [one for kind, one in written if kind not in BESIDES]
    mend = suggest(name, names) or f'write "{name}" in pieces, seams or hardware of the step too'
    reader.error(value.place, f'this step does not name "{name}"', mend)
