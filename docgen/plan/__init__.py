"""Build -> Plan: what to cut, buy and do, in which order, with which settings and cautions.

Only what is exported here may be used by later phases.
"""

from __future__ import annotations

from docgen.plan.cutting import plan_hardware, plan_materials
from docgen.plan.plan import (
    CutItem,
    DrawnPiece,
    HardwareItem,
    MaterialPlan,
    Plan,
    PlanStep,
    SewingJob,
    StrapItem,
    ThreadNeed,
)
from docgen.plan.sewing import job_thread_mm, plan_threads
from docgen.plan.steps import plan_steps
from docgen.resolve import Build
from docgen.tables.care import find_care

__all__ = [
    "CutItem", "DrawnPiece", "HardwareItem", "MaterialPlan", "Plan", "PlanStep", "SewingJob", "StrapItem",
    "ThreadNeed", "job_thread_mm", "plan_work",
]  # fmt: skip


def plan_work(build: Build) -> Plan:
    """The plan of a build; nothing in it can fail, since the build has no holes."""
    steps, is_proposed = plan_steps(build)
    used = {piece.material for piece in build.pieces} | {strap.material for strap in build.straps}
    materials = [(m.kind, m.tannage, m.finish) for m in build.materials if m.name in used]
    hazards = dict.fromkeys(["blade", *(hazard for step in steps for hazard in step.hazards)])
    return Plan(
        build=build, materials=plan_materials(build), threads=plan_threads(build),
        hardware=plan_hardware(build),
        steps=steps, is_proposed=is_proposed, hazards=tuple(hazards),
        tools=tuple(dict.fromkeys(tool for step in steps for tool in step.tools)),
        care=find_care(
            materials, [item.finish for item in build.hardware], has_load=bool(build.care.load)
        ),
    )  # fmt: skip
