"""Variants of one spec: the same build with what they change, each resolved for itself, their problems told together."""

from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from functools import partial
from itertools import chain
from typing import Any, TypeVar

from docgen.problems import Place, Problem, SpecRejected, make_error, suggest
from docgen.read import CareSpec, HeadSpec, NamedTable, Spec, list_keys
from docgen.resolve.build import Build
from docgen.resolve.leaving import check_left_out, leave_out
from docgen.resolve.ranges import CHANGED, Make, all_of, check_range, list_makes, make_title, merge_lengths

MOST_NAMED = 6
B = TypeVar("B", bound=Build)
T = TypeVar("T", bound=NamedTable)


def pick_variant(spec: Spec, name: str) -> Spec:
    """The spec as a variant changes it; as it is for "". ValueError for a name that is not there."""
    if not name:
        return spec
    make = find_make(spec, name)
    changes = make.changes
    tables: dict[str, Any] = {table: _merge(getattr(spec, table), all_of(changes, table)) for table in CHANGED}
    changed = replace(
        spec,
        spec=_change_head(spec.spec, make),
        measures=merge_lengths(spec.measures, (item for one in changes for item in one.measures)),
        care=_change_care(spec.care, [one.care for one in changes if one.care is not None]),
        **tables,
    )
    return leave_out(changed, {value.value for one in changes for value in one.without})


def find_make(spec: Spec, name: str) -> Make:
    """What of the spec is made under a name. ValueError for a name that is not there."""
    make = next((make for make in list_makes(spec) if make.name == name), None)
    if make is None:
        raise ValueError(f'the spec has no variant "{name}"')
    return make


def _change_head(head: HeadSpec | None, make: Make) -> HeadSpec | None:
    """The head with the words and the number of makes of a variant."""
    if head is None:
        return None
    makes = next((one.makes for one in reversed(make.changes) if one.makes), head.makes)
    title = head.title and replace(head.title, value=make_title(head.title.value, [make]))
    return replace(head, title=title, makes=makes)


def _merge(entries: tuple[T, ...], changes: Iterable[Any]) -> tuple[T, ...]:
    """Entries with what changes say of them, by name."""
    merged: dict[str, Any] = {entry.name: entry for entry in entries}
    for change in changes:
        if change.name in merged:
            merged[change.name] = _lay_over(merged[change.name], change)
    return tuple(merged[entry.name] for entry in entries)


def _lay_over(entry: Any, change: Any) -> Any:
    """An entry with every key that is written in the change."""
    written = {part.field: getattr(change, part.field) for part in list_keys(type(change))}
    return replace(entry, **{field: value for field, value in written.items() if value not in (None, ())})


def _change_care(care: CareSpec | None, changes: Sequence[CareSpec]) -> CareSpec | None:
    for change in changes:
        care = change if care is None else _lay_over(care, change)
    return care


def check_variants(spec: Spec) -> list[Problem]:
    """Measures of variants that the spec itself does not have, where a slip of the pen would change nothing; and what is
    wrong with a range."""
    known = tuple(item.name for item in spec.measures)
    lost = [
        make_error(
            item.length.place,
            f'the variant "{variant.name}" changes the measure "{item.name}", which [measures] does not have',
            suggest(item.name, known) or "add it to [measures]",
        )
        for variant in spec.variants
        for item in variant.measures
        if item.name not in known
    ]
    return [*lost, *check_range(spec), *check_left_out(spec)]


Each = Callable[[Callable[[int], Any], int], Iterable[Any]]
"""What calls a function with 0, 1, ... below a number and gives the results in this order, wherever it is called."""


def resolve_each(spec: Spec, resolve: Callable[[Spec, str], B], each: Each) -> tuple[B, ...]:
    """Every variant resolved by `resolve`, or the spec's own measures where it has no variants.

    The spec's own measures must do as well. Raises SpecRejected with all problems of all of them, each once; one that
    only some variants have says which.
    """
    names = ("", *(make.name for make in list_makes(spec)))
    results = list(each(partial(_try, spec, names, resolve), len(names)))
    found = [(name, result) for name, result in zip(names, results, strict=True) if not isinstance(result, Build)]
    if found:
        raise SpecRejected(gather_problems(found, names))
    return tuple(results[1:] or results)


def _try(spec: Spec, names: Sequence[str], resolve: Callable[[Spec, str], B], number: int) -> B | tuple[Problem, ...]:
    """The build of one variant, or all that is wrong with it."""
    try:
        return resolve(spec, names[number])
    except SpecRejected as error:
        return error.problems


def gather_problems(found: Sequence[tuple[str, Sequence[Problem]]], names: Sequence[str]) -> tuple[Problem, ...]:
    """Each problem once, with the variants that have it, where it is neither in the spec's own words ("") nor in all."""
    owners: dict[Problem, list[str]] = {}
    for name, problems in found:
        for problem in problems:
            owners.setdefault(problem, []).append(name)
    variants = [name for name in names if name]
    alike = _alike(owners)
    told = {*chain(*alike.values())}
    return tuple(
        _name_owners(problem, having, variants, alike.get(problem, []))
        for problem, having in owners.items()
        if problem not in told
    )


def _alike(owners: Mapping[Problem, Sequence[str]]) -> dict[Problem, list[Problem]]:
    """Problem -> those of other variants that are told at the same place by the same check, where each variant has but
    one: they are of one cause, by other figures."""
    groups: dict[tuple[str, str, Place, str], list[Problem]] = {}
    for problem in owners:
        if problem.check and problem.at:
            groups.setdefault((problem.severity, problem.check, problem.place, problem.at), []).append(problem)
    return {
        group[0]: group[1:]
        for group in groups.values()
        if len(group) > 1 and max(Counter(name for one in group for name in {*owners[one]}).values()) == 1
    }


def _name_owners(problem: Problem, having: list[str], variants: list[str], alike: Sequence[Problem]) -> Problem:
    named = list(dict.fromkeys(having))
    if "" in having or not variants:
        return problem
    if len(named) == len(variants) > 1:
        return replace(problem, what=f"in every variant: {problem.what}")
    kind = "variant" if len(named) == 1 else "variants"
    told = ", ".join(f'"{name}"' for name in named[:MOST_NAMED])
    more = f" and {len(named) - MOST_NAMED} more" if len(named) > MOST_NAMED else ""
    others = ", and alike in others" if alike else ""
    return replace(problem, what=f"in the {kind} {told}{more}{others}: {problem.what}")
