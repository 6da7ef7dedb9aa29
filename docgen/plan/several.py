"""Plans of several specs -> one cutting list by material over all of them, each line naming its build."""

import hashlib
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from typing import Final

from docgen.classes import dataclass
from docgen.plan.joint import join_plans
from docgen.plan.plan import CutItem, MaterialPlan, Plan, StrapItem
from docgen.problems import Place, Problem
from docgen.resolve import Material

CODE: Final = "cut"
"""What stands for the code of a spec on the pages of a list over several."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Several:
    """The plans of one spec, of all its variants, and the word by which lines name it."""

    label: str
    title: str
    plans: tuple[Plan, ...]


def label_specs(specs: Sequence[tuple[str, Sequence[Plan]]]) -> tuple[Several, ...]:
    """Each spec by its title and plans, named by its code; by its version too where another has the same code."""
    codes = [plans[0].build.code for _, plans in specs]
    found = []
    for title, plans in specs:
        build = plans[0].build
        label = build.code if codes.count(build.code) == 1 else f"{build.code} {build.version}"
        found.append(Several(label=label, title=title, plans=tuple(plans)))
    return tuple(found)


def join_specs(specs: Sequence[Several], day: str) -> Plan:
    """One plan for all of them, for the cutting list: materials that are the same goods are reckoned together, and every
    line says of which build it is. ValueError for no specs.

    Its pages stand for no spec alone: their code is CODE, their version the day, their digest that of all digests.
    """
    materials = _share_materials([part for spec in specs for plan in spec.plans for part in plan.materials])
    plans = [_name_lines(spec, materials) for spec in specs]
    joint = join_plans(plans, "; ".join(dict.fromkeys(spec.title for spec in specs)))
    digests = " ".join(plan.build.digest for spec in specs for plan in spec.plans[:1])
    build = replace(
        joint.build,
        code=CODE,
        version=day,
        changed="",
        digest=hashlib.sha256(digests.encode()).hexdigest()[:10],
        source=b"",
        files=(),
        cautions=tuple(item for plan in plans for item in plan.build.cautions),
    )
    return replace(
        joint,
        build=build,
        needles=(),
        cost=None,
        weights=(),
        joined=tuple(_told(spec, joint) for spec, joint in zip(specs, plans, strict=True)),
        joined_by="builds",
    )


def _told(spec: Several, plan: Plan) -> tuple[str, int]:
    build = spec.plans[0].build
    return f"{spec.label}, version {build.version} ({build.digest})", plan.build.makes


def _key(material: Material) -> tuple[object, ...]:
    """What makes two materials the same goods."""
    goods = (material.kind, material.tannage, material.finish, material.thickness_mm, material.roll_width_mm)
    return (material.title.casefold(), *goods, material.goods)


def _share_materials(parts: Iterable[MaterialPlan]) -> dict[tuple[object, ...], Material]:
    """Each kind of goods once, with the largest share that any spec loses of it."""
    found: dict[tuple[object, ...], Material] = {}
    for material in (part.material for part in parts):
        first = found.setdefault(_key(material), replace(material, note=""))
        found[_key(material)] = replace(first, waste=max(first.waste, material.waste))
    return found


def _name_lines(spec: Several, materials: dict[tuple[object, ...], Material]) -> Plan:
    """The plan of one spec, its variants joined, as a variant of its label: joined with others, every line says so."""
    plan = join_plans(spec.plans, spec.title) if len(spec.plans) > 1 else spec.plans[0]
    label = spec.label
    build = replace(
        plan.build,
        variant=label,
        choices=(),
        cautions=tuple(_name_problem(item, label) for item in plan.build.cautions),
        accepted=tuple(replace(item, problem=_name_problem(item.problem, label)) for item in plan.build.accepted),
    )
    return replace(
        plan,
        build=build,
        materials=tuple(_name_material(part, materials[_key(part.material)], label) for part in plan.materials),
        hardware=tuple(
            replace(item, hardware=replace(item.hardware, name=item.hardware.what, place=Place()))
            for item in plan.hardware
        ),
        trimmings=tuple(
            replace(item, trimming=replace(item.trimming, name=f"{label} {item.trimming.name}", cuts=()))
            for item in plan.trimmings
        ),
        supplies=tuple(replace(item, what=f"{item.what} ({label})") for item in plan.supplies),
    )


def _name_material(part: MaterialPlan, material: Material, label: str) -> MaterialPlan:
    return replace(
        part,
        material=material,
        straps=tuple(_own_straps(part.straps, label)),
        items=tuple(_own_items(part.items, label)),
    )


def _own_straps(straps: Iterable[StrapItem], label: str) -> Iterator[StrapItem]:
    """Straps under names of their own, so that those of two specs are never one line."""
    for item in straps:
        yield replace(item, strap=replace(item.strap, name=f"{label} {item.strap.name}"))


def _own_items(items: Iterable[CutItem], label: str) -> Iterator[CutItem]:
    for item in items:
        yield replace(item, name=f"{label} {item.name}")


def _name_problem(problem: Problem, label: str) -> Problem:
    return replace(problem, what=f"{label}: {problem.what}")
