"""What each stitch is tried on before it goes into the work: offcuts of the thickest stack it sews."""

from docgen.plan.plan import Scrap, SewingJob
from docgen.plan.sewing import all_jobs
from docgen.resolve import Build, side_pieces


def plan_scraps(build: Build) -> tuple[Scrap, ...]:
    """One entry for each stitch that sews something, in the order of the spec."""
    thickest: dict[str, SewingJob] = {}
    for job in all_jobs(build):
        known = thickest.get(job.stitch.name)
        if known is None or _stack_mm(job) > _stack_mm(known):
            thickest[job.stitch.name] = job
    return tuple(_make_scrap(build, thickest[s.name]) for s in build.stitches if s.name in thickest)


def _stack_mm(job: SewingJob) -> float:
    """At the thickest place, where the seam tells it."""
    return max(job.stack_mm, job.seam.thickest_mm if job.seam else 0.0)


def _make_scrap(build: Build, job: SewingJob) -> Scrap:
    titles = {material.name: material.title for material in build.materials}
    names = [titles.get(name, name) for name in _materials(build, job)]
    return Scrap(stitch=job.stitch, title=job.title, materials=tuple(names), stack_mm=_stack_mm(job))


def _materials(build: Build, job: SewingJob) -> list[str]:
    """From the layers at a seam's thickest place; of a join its strip twice; of a strap its own, and its lining."""
    if job.seam is not None and job.seam.layers:
        layers = job.seam.layers
        return [layer.material for layer in layers if layer.least_mm or layer.part in job.seam.landed]
    of = {piece.name: piece.material for piece in build.cut}
    if job.seam is not None:
        parts = [side_pieces(build, side)[0] for side in job.seam.sides]
        return [of[part] for part in parts if part in of]
    strap = next((strap for strap in build.straps if job.parts == (strap.name,)), None)
    if strap is not None:
        return [strap.material, *([strap.lining] if strap.lining else [])]
    return [of[part] for part in (job.parts[0], job.parts[-1]) if part in of]
