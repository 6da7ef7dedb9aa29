from dataclasses import replace
from pathlib import Path

import pytest
from spec_text import write_out

from docgen.checks import resolve_build
from docgen.plan import Plan, plan_work
from docgen.read import read_spec

APRON = write_out("""\
<spec apron: Apron with a pocket, version 4>
[shop]
name = "Alder Lane Leather"
contact = "bench@alder-lane.example"
[materials]
body = { kind = "leather", tannage = "vegetable", finish = "waxed", thickness = "2 mm" }
lining = { kind = "fabric", thickness = "0.6 mm" }
pad = { kind = "foam", thickness = "3 mm" }
[pieces]
front = { of = "body", shape = "rectangle", size = ["300 mm", "200 mm"] }
back = { of = "lining", shape = "rectangle", size = ["300 mm", "200 mm"] }
filling = { of = "pad", shape = "rectangle", size = ["280 mm", "180 mm"] }
[hardware]
rivet = { what = "rivet", count = 2, finish = "nickel-plated" }
ring = { what = "ring", count = 1, finish = "solid brass" }
""")


@pytest.fixture(scope="session")
def care_plan(tmp_path_factory: pytest.TempPathFactory) -> Plan:
    """An apron of waxed leather, canvas and foam with nickel-plated and brass parts."""
    path = Path(tmp_path_factory.mktemp("apron")) / "apron.toml"
    path.write_text(APRON, encoding="utf-8")
    plan = plan_work(resolve_build(read_spec(path)))
    return replace(plan, build=replace(plan.build, digest="0123456789"))
