"""What a spec makes: its variants by themselves, and every choice of each axis of a range with those of the others."""

from collections.abc import Iterable, Iterator
from itertools import chain, combinations, islice, product
from math import prod

from docgen.classes import dataclass
from docgen.problems import Problem, make_error, suggest
from docgen.read import NAME_MOST, NamedLength, Spec, VariantSpec, list_keys
from docgen.resolve.values import flag, words
from docgen.tables.defaults import IS_MADE
from docgen.tables.sizes import MOST_IN_A_RANGE

CHANGED = ("materials", "stitches", "hardware", "pieces", "straps")


@dataclass(frozen=True, slots=True, kw_only=True)
class Make:
    """One thing that a spec makes: its name, the choices it is made of, in the order of the axes, and the table that
    changes it alone."""

    name: str
    choices: tuple[VariantSpec, ...]
    own: VariantSpec | None = None

    @property
    def changes(self) -> tuple[VariantSpec, ...]:
        """All that changes it, the last word last."""
        return (*self.choices, *((self.own,) if self.own else ()))


def list_axes(spec: Spec) -> dict[str, tuple[VariantSpec, ...]]:
    """The choices of each axis, in the order in which the spec first names them."""
    axes: dict[str, tuple[VariantSpec, ...]] = {}
    for variant in spec.variants:
        if variant.axis is not None:
            axes[variant.axis.value] = (*axes.get(variant.axis.value, ()), variant)
    return axes


def list_makes(spec: Spec) -> tuple[Make, ...]:
    """All that a spec makes under a name; none where it has no variants. Of a range that is too large, its first part."""
    own = {variant.name: variant for variant in spec.variants if variant.axis is None}
    made = [Make(name=name, choices=choices, own=own.get(name)) for name, choices in _combine(spec)]
    ranged = {make.name for make in made}
    made += [Make(name=name, choices=(), own=variant) for name, variant in own.items() if name not in ranged]
    return tuple(make for make in made if make.own is None or flag(make.own.made, IS_MADE))[:MOST_IN_A_RANGE]


def _combine(spec: Spec) -> Iterator[tuple[str, tuple[VariantSpec, ...]]]:
    """Name and choices of each of a range."""
    axes = list_axes(spec)
    for choices in islice(product(*axes.values()), MOST_IN_A_RANGE if axes else 0):
        yield "-".join(choice.name for choice in choices), choices


def check_range(spec: Spec) -> Iterator[Problem]:
    """A range too large, two makes of one name or with too long a name, one left out that is not there, and what two axes
    both change."""
    axes = list_axes(spec)
    count = prod(map(len, axes.values())) if axes else 0
    if count > MOST_IN_A_RANGE:
        what = f"the axes {_listed(axes)} give {count:,} makes; at most {MOST_IN_A_RANGE} are made of one range"
        yield make_error(list(axes.values())[-1][-1].place, what, "leave choices out, or split the spec")
    else:
        yield from _check_names(spec)
    for (first, some), (second, others) in combinations(axes.items(), 2):
        known = {change: variant for variant in some for change in _tell_changes(variant)}
        for variant in others:
            for change in _tell_changes(variant):
                if change in known:
                    what = (
                        f'{change} is changed by the axis "{first}" (in "{known[change].name}") and by "{second}" too'
                    )
                    yield make_error(variant.place, what, "let one axis change it, or a variant of the joint name")


def _check_names(spec: Spec) -> Iterator[Problem]:
    seen: dict[str, tuple[VariantSpec, ...]] = {}
    for name, choices in _combine(spec):
        if name in seen:
            what = f'two makes of the range are called "{name}"'
            yield make_error(choices[-1].place, what, "give its choices other names")
        elif len(name) > NAME_MOST:
            what = f'the make "{name}" has a name of {len(name)} letters; at most {NAME_MOST} are allowed'
            yield make_error(
                choices[-1].place, what, 'call its choices by short codes, like "w20", and give them a title'
            )
        seen[name] = choices
    for variant in spec.variants:
        if variant.made is not None and (variant.axis is not None or (seen and variant.name not in seen)):
            what = f'"{variant.name}" is no make of the range, so that it cannot be left out of it'
            yield make_error(
                variant.made.place, what, suggest(variant.name, seen) or f"name it like {next(iter(seen))}"
            )


def _tell_changes(variant: VariantSpec) -> Iterator[str]:
    """Each thing that a variant changes, in words."""
    yield from (f'the measure "{item.name}"' for item in variant.measures)
    yield from (["the number of makes"] if variant.makes else [])
    yield from (f'"{key}" of the care card' for key in _written(variant.care))
    for table in CHANGED:
        yield from (f'"{key}" of {table}.{item.name}' for item in getattr(variant, table) for key in _written(item))


def _written(table: object) -> list[str]:
    return [] if table is None else [part.word for part in list_keys(type(table)) if getattr(table, part.field)]


def _listed(names: Iterable[str]) -> str:
    return " x ".join(f'"{name}"' for name in names)


def make_title(title: str, makes: Iterable[Make]) -> str:
    """The title of a build, followed by what its makes have in common: the words of a choice that is that of all, or of
    the one variant."""
    all_makes = list(makes)
    shared = [choice for choice in all_makes[0].choices if all(choice in make.choices for make in all_makes)]
    alone = all_makes[0].own if len(all_makes) == 1 else None
    told = [words(item.title, item.name.replace("-", " ")) for item in shared]
    if alone is not None and (alone.title is not None or not shared):
        told = [words(alone.title, alone.name.replace("-", " "))]
    return ", ".join([title, *told])


def merge_lengths(written: Iterable[NamedLength], others: Iterable[NamedLength]) -> tuple[NamedLength, ...]:
    """Measures with others in their place, by name."""
    other = {item.name: item for item in others}
    return tuple(other.get(item.name, item) for item in written)


def all_of(makes: Iterable[VariantSpec], table: str) -> tuple[object, ...]:
    """What several variants say of one table, one after the other."""
    return tuple(chain.from_iterable(getattr(item, table) for item in makes))
