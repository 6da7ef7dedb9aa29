"""What each stitch is tried on before it goes into the work: offcuts of the thickest stack it sews."""

import math
from collections.abc import Iterable

from docgen.plan.plan import Scrap, SewingJob
from docgen.resolve import Build

SAME_MM = 0.05  # as stacks are told


def plan_scraps(build: Build, jobs: Iterable[SewingJob]) -> tuple[Scrap, ...]:
    """One entry for each stitch that sews something, in the order of the spec."""
    thickest: dict[str, SewingJob] = {}
    for job in jobs:
        known = thickest.get(job.stitch.name)
        if known is None or job.stack_range_mm[1] > known.stack_range_mm[1]:
            thickest[job.stitch.name] = job
    return tuple(_make_scrap(build, thickest[s.name]) for s in build.stitches if s.name in thickest)


def _make_scrap(build: Build, job: SewingJob) -> Scrap:
    """From the layers at the thickest place; where one is as thick as several of its material, as in a joint, of as
    many."""
    materials = {material.name: material for material in build.materials}
    trimmings = {item.name: item.what for item in build.trimmings}
    names: list[str] = []
    for layer in job.layers if job.seam is None else job.seam.at_most or job.seam.layers:
        whole = materials.get(layer.material)
        whole_mm = whole.thickness_mm if whole is not None else 0.0
        count = math.ceil((layer.thickness_mm - SAME_MM) / whole_mm) if whole_mm else 1  # skived ones are several too
        names += [whole.title if whole is not None else trimmings[layer.part]] * max(count, 1)
    return Scrap(stitch=job.stitch, title=job.title, materials=tuple(names), stack_mm=job.stack_range_mm[1])
