"""Variants of one spec: the same build with other measures, each resolved for itself, their problems told together."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from functools import partial
from typing import Any, TypeVar

from docgen.problems import Problem, SpecRejected, make_error, suggest
from docgen.read import Spec
from docgen.resolve.build import Build
from docgen.resolve.values import words


def pick_variant(spec: Spec, name: str) -> Spec:
    """The spec with the measures, title and number of makes of a variant; as it is for "". ValueError for a name that
    is not there."""
    if not name:
        return spec
    variant = next((variant for variant in spec.variants if variant.name == name), None)
    if variant is None:
        raise ValueError(f'the spec has no variant "{name}"')
    other = {item.name: item for item in variant.measures}
    measures = tuple(other.get(item.name, item) for item in spec.measures)
    head = spec.spec
    if head is not None:
        own = words(variant.title, variant.name.replace("-", " "))
        title = head.title and replace(head.title, value=f"{head.title.value}, {own}")
        head = replace(head, title=title, makes=variant.makes or head.makes)
    return replace(spec, spec=head, measures=measures)


def check_variants(spec: Spec) -> list[Problem]:
    """Measures of variants that the spec itself does not have: a slip of the pen would change nothing."""
    known = tuple(item.name for item in spec.measures)
    return [
        make_error(
            item.length.place,
            f'the variant "{variant.name}" changes the measure "{item.name}", which [measures] does not have',
            suggest(item.name, known) or "add it to [measures]",
        )
        for variant in spec.variants
        for item in variant.measures
        if item.name not in known
    ]


B = TypeVar("B", bound=Build)
Each = Callable[[Callable[[int], Any], int], Iterable[Any]]
"""What calls a function with 0, 1, ... below a number and gives the results in this order, wherever it is called."""


def resolve_each(spec: Spec, resolve: Callable[[Spec, str], B], each: Each) -> tuple[B, ...]:
    """Every variant resolved by `resolve`, or the spec's own measures where it has no variants.

    The spec's own measures must do as well. Raises SpecRejected with all problems of all of them, each once; one that
    only some variants have says which.
    """
    names = ("", *(variant.name for variant in spec.variants))
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
    """Each problem once, with the variants that have it where it is not in the spec's own measures ("")."""
    owners: dict[Problem, list[str]] = {}
    for name, problems in found:
        for problem in problems:
            owners.setdefault(problem, []).append(name)
    return tuple(_name_owners(problem, having, len(names) - 1) for problem, having in owners.items())


def _name_owners(problem: Problem, having: list[str], variants: int) -> Problem:
    if "" in having or not variants:
        return problem
    listed = ", ".join(f'"{name}"' for name in dict.fromkeys(having))
    kind = "variant" if len(having) == 1 else "variants"
    return replace(problem, what=f"in the {kind} {listed}: {problem.what}")
