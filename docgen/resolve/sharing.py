"""What variants of one spec have in common: templates that are printed once, findings that are told once."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from typing import TypeVar

from docgen.problems import Problem
from docgen.read import MaterialSpec, Spec
from docgen.resolve.build import Build, Sharing
from docgen.resolve.goods.values import Material
from docgen.resolve.ranges import list_makes, make_title
from docgen.resolve.values import words
from docgen.resolve.variants import gather_problems

B = TypeVar("B", bound=Build)
Choices = tuple[tuple[str, str], ...]
MOST_TOLD = 8
EACH = 0
"""Makes of a build, where a template tells how many are cut for each of them."""


def label_materials(materials: Iterable[Material], spec: Spec, picked: Spec) -> tuple[Material, ...]:
    """The materials of a variant; one that it changes only in words keeps the spec's own on shared templates."""
    own = {item.name: item for item in spec.materials}
    now = {item.name: item for item in picked.materials}
    return tuple(
        replace(item, label=words(own[item.name].title, item.name.replace("-", " ")))
        if item.name in own and _is_alike(own[item.name], now[item.name])
        else item
        for item in materials
    )


def _is_alike(before: MaterialSpec, after: MaterialSpec) -> bool:
    """Whether both are of one kind and thickness."""
    pairs = ((before.kind, after.kind), (before.tannage, after.tannage), (before.thickness, after.thickness))
    return all(words(was) == words(now) for was, now in pairs)


def share_templates(builds: tuple[B, ...], spec: Spec) -> tuple[B, ...]:
    """All variants; those whose templates are the same in all that is drawn and said on them know of each other."""
    groups: dict[object, list[B]] = {}
    for build in builds:
        groups.setdefault(_print_of(build), []).append(build)
    if len(groups) == len(builds):
        return builds
    makes = {make.name: make for make in list_makes(spec)}
    title = words(spec.spec.title if spec.spec else None)
    found: dict[str, Sharing] = {}
    for group in groups.values():
        names = tuple(build.variant for build in group)
        common = make_title(title, [makes[name] for name in names])
        sharing = Sharing(variants=names, title=common, words=_tell_apart(group), home=names[0])
        found |= dict.fromkeys(names, sharing) if len(names) > 1 else {}
    return tuple(replace(build, sharing=found.get(build.variant)) for build in builds)


def _print_of(build: Build) -> object:
    """All that the templates of a build show."""
    goods = {item.name: (item.label, item.kind, item.thickness_mm, item.thickness_words) for item in build.materials}
    pieces = tuple(replace(piece, note="", material=str(goods.get(piece.material))) for piece in build.cut)
    return build.show, pieces, tuple(build.seam_titles.items())


def pick_homes(builds: tuple[B, ...]) -> tuple[B, ...]:
    """The builds that are made this time: what several of them share is printed with the first of these."""
    names = [build.variant for build in builds]
    return tuple(
        build
        if build.sharing is None
        else replace(build, sharing=replace(build.sharing, home=next(n for n in names if n in build.sharing.variants)))
        for build in builds
    )


def show_shared(build: B) -> B:
    """The build with what is said on templates that several variants share: it is of all of them, of no colour and no
    number of makes, and its codes name the first."""
    if build.sharing is None:
        return build
    materials = tuple(replace(item, title=item.label) for item in build.materials)
    first = build.sharing.variants[0]
    return replace(build, title=build.sharing.title, variant=first, makes=EACH, materials=materials)


def _tell_apart(group: Sequence[Build]) -> str:
    """What tells variants of a group apart: the choices in which they differ, or their names."""
    found = _as_product({build.variant: build.choices for build in group})
    told = [codes for codes in found.values() if len(codes) > 1]
    return "; ".join(map(_list, told)) if told else _list([build.variant for build in group])


def tell_variants(names: Sequence[str], known: Mapping[str, Choices]) -> str:
    """Some of the variants that are `known`, by the choices that single them out where these do, else by their names."""
    group = {name: known[name] for name in names}
    found = _as_product(group)
    meant = {name for name, choices in known.items() if all(code in found.get(axis, {}) for axis, code in choices)}
    if not found or meant != set(names):
        return _list(names)
    every = {axis: {code for choices in known.values() for at, code in choices if at == axis} for axis in found}
    told = [list(codes) for axis, codes in found.items() if set(codes) != every[axis]]
    return ("-" if all(len(codes) == 1 for codes in told) else "; ").join(map(_list, told))


def _as_product(group: Mapping[str, Choices]) -> dict[str, dict[str, None]]:
    """The codes of each axis in a group of a range; nothing where one of them is no choice of it."""
    if not all(group.values()):
        return {}
    found: dict[str, dict[str, None]] = {}
    for choices in group.values():
        for axis, code in choices:
            found.setdefault(axis, {})[code] = None
    return found


def _list(names: Iterable[str]) -> str:
    listed = list(names)
    more = f" and {len(listed) - MOST_TOLD} more" if len(listed) > MOST_TOLD else ""
    return ", ".join(listed[:MOST_TOLD]) + more


def name_findings(builds: Sequence[Build]) -> tuple[Problem, ...]:
    """The cautions of all builds, each once; one that only some variants have says which."""
    if len(builds) < 2:
        return tuple(dict.fromkeys(caution for build in builds for caution in build.cautions))
    names = [build.variant for build in builds]
    found = [(build.variant, build.cautions) for build in builds]
    everywhere = set(builds[0].cautions).intersection(*(build.cautions for build in builds))
    own = ("", tuple(caution for caution in builds[0].cautions if caution in everywhere))
    return gather_problems([own, *found], names)
