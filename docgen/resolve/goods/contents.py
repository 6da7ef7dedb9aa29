"""What has to go in, against the room inside."""

from docgen.read import HeldSpec, InsideSpec
from docgen.resolve.goods.values import Held, Inside
from docgen.resolve.values import Reader


def read_inside(reader: Reader, spec: InsideSpec | None) -> Inside | None:
    """The room inside; None where it is not said, or cannot be read (noted)."""
    if spec is None:
        return None
    sizes = [reader.length(value) for value in (spec.width, spec.height, spec.depth)]
    if sizes[0] is None or sizes[1] is None or sizes[2] is None:
        return None
    return Inside(width_mm=sizes[0], height_mm=sizes[1], depth_mm=sizes[2])


def read_holds(reader: Reader, specs: tuple[HeldSpec, ...], inside: Inside | None) -> tuple[Held, ...]:
    """The things that have to go in, each told whether it fits the room that is written."""
    held = []
    for spec in specs:
        sizes = [reader.length(value) for value in spec.size]
        if spec.what is None or len(sizes) != 3 or sizes[0] is None or sizes[1] is None or sizes[2] is None:
            continue
        size_mm = (sizes[0], sizes[1], sizes[2])
        fits = inside is not None and goes_in(size_mm, inside)
        held.append(Held(what=spec.what.value, size_mm=size_mm, fits=fits, place=spec.place))
    return tuple(held)


def goes_in(size_mm: tuple[float, float, float], inside: Inside) -> bool:
    """Whether a box goes into a box, turned as need be, its edges along those of the other."""
    room = sorted((inside.width_mm, inside.height_mm, inside.depth_mm))
    return all(size <= least + 1e-6 for size, least in zip(sorted(size_mm), room, strict=True))
