"""What each stitch is tried on before it goes into the work: offcuts of the thickest stack it sews."""

from collections.abc import Iterable

from docgen.plan.plan import Scrap, SewingJob
from docgen.resolve import Build


def plan_scraps(build: Build, jobs: Iterable[SewingJob]) -> tuple[Scrap, ...]:
    """One entry for each stitch that sews something, in the order of the spec."""
    thickest: dict[str, SewingJob] = {}
    for job in jobs:
        known = thickest.get(job.stitch.name)
        if known is None or job.stack_range_mm[1] > known.stack_range_mm[1]:
            thickest[job.stitch.name] = job
    return tuple(_make_scrap(build, thickest[s.name]) for s in build.stitches if s.name in thickest)


def _make_scrap(build: Build, job: SewingJob) -> Scrap:
    """From the layers at the thickest place."""
    titles = {material.name: material.title for material in build.materials}
    trimmings = {item.name: item.what for item in build.trimmings}
    layers = job.layers if job.seam is None else job.seam.layers
    there = {*job.parts, *(job.seam.landed if job.seam else ())}
    names = [
        titles.get(layer.material, layer.material) or trimmings[layer.part]
        for layer in layers
        if layer.least_mm or layer.part in there
    ]
    return Scrap(stitch=job.stitch, title=job.title, materials=tuple(names), stack_mm=job.stack_range_mm[1])
