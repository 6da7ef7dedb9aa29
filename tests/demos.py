"""The demo builds and starters, each read once for all tests, and the names of the files made from them."""

from dataclasses import fields, replace
from functools import cache
from pathlib import Path

from docgen.assemble import Assembled, put_together
from docgen.checks import resolve_build
from docgen.plan import Plan, plan_work
from docgen.read import read_spec
from docgen.resolve import Build, Costs, Step

ROOT = Path(__file__).parents[1]
DOCUMENTS = ("pattern", "cutting-list", "build-sheet", "care-card")
FILES = (*DOCUMENTS, "packet")
PATHS = {path.stem: path for path in (*ROOT.glob("specs/*.toml"), *ROOT.glob("docgen/starters/*.toml"))}


@cache
def demo_build(name: str = "field-bag") -> Build:
    return resolve_build(read_spec(PATHS[name]))


@cache
def demo_plan(name: str = "field-bag") -> Plan:
    return plan_work(demo_build(name))


def with_steps(build: Build, steps: tuple[Step, ...]) -> Assembled:
    """The build with other steps, put together by them."""
    plain = Build(**{item.name: getattr(build, item.name) for item in fields(Build)})
    return put_together(replace(plain, steps=steps))


@cache
def unpriced_build(name: str = "field-bag") -> Build:
    """The demo without its prices."""
    build = demo_build(name)
    return replace(
        build,
        materials=tuple(replace(item, price=None) for item in build.materials),
        stitches=tuple(replace(item, thread_price=None) for item in build.stitches),
        hardware=tuple(replace(item, price=None) for item in build.hardware),
        costs=Costs(),
    )
