"""Check of bindings against the edge that they go round."""

from collections.abc import Iterator

from docgen.checks.trade.check import PRACTICE, Found, Subject, check
from docgen.written.units.telling import format_mm

OVER_LINE_MM = 1.0


@check(
    "binding-narrow",
    f"A binding goes round its edge and {format_mm(OVER_LINE_MM)} beyond the stitch line on both sides.",
    PRACTICE,
    needs_whole=True,
)
def find_narrow_bindings(subject: Subject) -> Iterator[Found]:
    """Once for a binding, at the thickest edge that it goes round; its own layers left out."""
    written = {spec.name: spec.width for spec in subject.spec.trimmings}
    items = {item.name: item for item in subject.build.trimmings if item.kind == "binding" and item.width_mm}
    need: dict[str, tuple[float, str]] = {}
    for seam in subject.build.seams:
        inset_mm = subject.parts.stitches[seam.stitch].inset_mm
        for use in seam.trimmings:
            if use.name in items:
                own_mm = sum(layer.thickness_mm for layer in seam.layers if layer.part == use.name)
                least_mm = 2 * (inset_mm + OVER_LINE_MM) + max(0.0, seam.stack_mm - own_mm)
                need[use.name] = max(need.get(use.name, (0.0, "")), (least_mm, seam.name))
    for name, (least_mm, seam_name) in need.items():
        value = written[name]
        if value is not None and items[name].width_mm < least_mm - 1e-6:
            what = (
                f'"{name}" is {subject.length(items[name].width_mm)} wide, and to go round the edge of "{seam_name}" and '
                f"under its needle takes {subject.length(least_mm)}"
            )
            yield value.place, what, f"make it {format_mm(least_mm)} wide or wider, or the inset smaller", name
