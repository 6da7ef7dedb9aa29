"""What a call lays: the materials of a plan on their goods, or on hides that are named."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from docgen.lay import Effort, Hide, Lay, lay_material
from docgen.plan import Bought, MaterialPlan, Plan
from docgen.problems import CallRejected, suggest_any
from docgen.tables.limits import Limits

MOST_PIECES: Final = 600
"""More would take minutes; by then every sheet is like the last."""

Laid = tuple[MaterialPlan, Lay]


def lay_plan(
    plan: Plan, names: Sequence[str] = (), hides: Sequence[Hide] = (), *, is_patient: bool = False
) -> tuple[Laid, ...]:
    """The lay of each material that is named by its name or title, or of all whose goods are known.

    Raises CallRejected for a name that is not there, and where there is nothing to lay on.
    """
    found, effort = _pick(plan, names, has_hides=bool(hides)), Effort(is_patient=is_patient)
    for part in found:
        count = part.pieces + part.strips
        if count > MOST_PIECES:
            what = f'{count} pieces are cut from "{part.material.title}", and a lay takes up to {MOST_PIECES}'
            raise CallRejected(f"{what}: lay a part of the batch, with --makes")
    return tuple((part, lay_material(part, plan.build.limits, hides, effort=effort)) for part in found)


def _pick(plan: Plan, names: Sequence[str], *, has_hides: bool) -> list[MaterialPlan]:
    parts = list(plan.materials)
    if names:
        known = [word for part in parts for word in (part.material.name, part.material.title)]
        for name in names:
            if name not in known:
                raise CallRejected(f'nothing is cut from goods called "{name}"; {suggest_any(name, known)}')
        parts = [part for part in parts if {part.material.name, part.material.title} & set(names)]
    elif has_hides:
        parts = [part for part in parts if part.material.kind == "leather"]
        if len(parts) > 1:
            titles = ", ".join(f'"{part.material.title}"' for part in parts)
            raise CallRejected(f"say with --goods which leather lies on the hide: {titles}")
    known_size = [part for part in parts if has_hides or part.bought is not None]
    if not known_size:
        raise CallRejected('there are no goods whose size is known: say how a material is sold, as sold = "side"')
    return known_size


def buy_by_lays(plan: Plan, laid: Sequence[Laid]) -> Plan:
    """The plan with what the lays say is to be bought; of a roll whichever of lay and rows is shorter."""
    lays = {part.material.name: lay for part, lay in laid}
    return replace(
        plan,
        materials=tuple(
            _buy(part, lays[part.material.name], plan.build.limits) if part.material.name in lays else part
            for part in plan.materials
        ),
    )


def _buy(part: MaterialPlan, lay: Lay, limits: Limits) -> MaterialPlan:
    bought = part.bought
    if bought is None or lay.missing:
        return part
    if part.material.roll_width_mm:
        run_mm = max(sheet.used_mm for sheet in lay.sheets)
        if run_mm >= part.run_mm:
            return part
        beside_mm2 = run_mm * part.material.roll_width_mm - part.net_mm2
        return replace(part, run_mm=run_mm, bought=replace(bought, decides="lay", left_mm2=beside_mm2))
    laid_mm2 = sum(sheet.hide.area_mm2 for sheet in lay.sheets)
    left_mm2 = sum(sheet.rest_mm2 for sheet in lay.sheets) if bought.goods.is_hide else laid_mm2 - lay.net_mm2
    told = Bought(goods=bought.goods, count=len(lay.sheets), decides="lay", left_mm2=left_mm2, laid_mm2=laid_mm2)
    return replace(part, bought=told)
