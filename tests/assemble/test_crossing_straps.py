"""Straps sewn on to one piece across each other: each goes through what lies there by then. By hand."""

from spec_text import Resolve

PANEL = """\
<rectangle panel: ["200 mm", "150 mm"]>
landings = [
  { strap = "under", at = "12 mm right of centre, 60 mm from top", leads = "up", over = "40 mm", stitch = "main" },
  { strap = "over", at = "centre, 80 mm from top", leads = "up", over = "60 mm", stitch = "main" },
]
[straps.under]
of = "body"
width = "16 mm"
finished = "300 mm"
[straps.over]
of = "body"
width = "30 mm"
finished = "300 mm"
[[steps]]
do = "Cut both straps."
straps = ["under", "over"]
[[steps]]
do = "Sew them on."
pieces = ["panel"]
order = ["under", "over"]
straps = ["under", "over"]
"""


def test_what_is_sewn_on_first_goes_through_the_panel_alone(resolve_text: Resolve) -> None:
    """2 + 2 mm; the wider one over it through 2 mm more where it crosses that."""
    build = resolve_text(PANEL)
    runs = {run.part: run for run in build.assembly.runs if run.kind == "landings"}
    ranges = {name: (run.stack.thinnest_mm, run.stack.thickest_mm) for name, run in runs.items()}
    assert ranges == {"under": (4.0, 4.0), "over": (4.0, 6.0)}
    assert {(one.part, one.least_mm, one.most_mm) for one in runs["over"].stack.layers} == {
        ("over", 2.0, 2.0),
        ("under", 0.0, 2.0),
        ("panel", 2.0, 2.0),
    }
