"""Build -> Plan: what to cut, buy and do, in which order, with which settings and cautions.

Only what is exported here may be used by later phases.
"""

from docgen.assemble import Assembled
from docgen.plan.act import Act, Told
from docgen.plan.cost import Cost, CostLine
from docgen.plan.costing import plan_cost, plan_weights
from docgen.plan.cutting import (
    group_skives,
    join_words,
    plan_materials,
    purpose_words,
    skive_notes,
    template_notes,
    thin_words,
)
from docgen.plan.finished import plan_finished
from docgen.plan.iron import iron_words
from docgen.plan.joint import join_plans
from docgen.plan.names import spoken
from docgen.plan.plan import (
    Bought,
    CutItem,
    DrawnPiece,
    Finished,
    HardwareItem,
    MaterialPlan,
    Needles,
    Plan,
    PlanStep,
    Scrap,
    SewingJob,
    StrapItem,
    ThreadNeed,
    TrimmingItem,
)
from docgen.plan.scrap import plan_scraps
from docgen.plan.several import Several, join_specs, label_specs
from docgen.plan.sewing import list_jobs, number_seams
from docgen.plan.step_words import taper_words
from docgen.plan.steps import plan_steps
from docgen.plan.straight_edge import StraightEdge
from docgen.plan.supplies import plan_hardware, plan_needles, plan_supplies
from docgen.plan.thread import plan_threads
from docgen.plan.trimmings import ends_words, plan_trimmings, run_words
from docgen.tables.care import find_care


def plan_work(build: Assembled) -> Plan:
    """The plan of a build; nothing in it can fail, since the build has no holes."""
    sewn = list_jobs(build)
    jobs = [job for _, job in sewn]
    steps = plan_steps(build, sewn)
    used = {piece.material for piece in build.pieces} | {strap.material for strap in build.straps}
    finishes = [(m.kind, m.tannage, m.finish) for m in build.materials if m.name in used and not m.by_length]
    dies = [f"die: {name}" for name in dict.fromkeys(p.template_of for p in build.cut if p.template == "die")]
    hazards = dict.fromkeys(
        ["blade", *(["press"] if dies else []), *(hazard for step in steps for hazard in step.hazards)]
    )
    materials, threads, hardware = plan_materials(build), plan_threads(jobs, build), plan_hardware(build)
    trimmings = plan_trimmings(build)
    return Plan(
        build=build,
        materials=materials,
        scraps=plan_scraps(build, jobs),
        threads=threads,
        needles=plan_needles(threads, steps),
        hardware=hardware,
        trimmings=trimmings,
        supplies=plan_supplies(steps),
        weights=plan_weights(build),
        cost=plan_cost(build, materials, threads, hardware, trimmings),
        steps=steps,
        finished=plan_finished(build),
        is_proposed=build.assembly.is_proposed,
        hazards=tuple(hazards),
        tools=tuple(dict.fromkeys([*dies, *(tool for step in steps for tool in step.tools)])),
        care=find_care(finishes, [item.finish for item in build.hardware], has_load=bool(build.care.load)),
    )
