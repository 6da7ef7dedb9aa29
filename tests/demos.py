"""The demo builds for the tests, each resolved and planned once; names of files; pages that words are set on."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from pathlib import Path

from docgen.pages import load_page_style
from docgen.pages.marks.page import ClipMark, Mark
from docgen.pages.setting.setup import Setup
from docgen.plan import Plan, plan_work
from docgen.read import read_spec
from docgen.resolve import Build, Costs, resolve_build

ROOT = Path(__file__).resolve().parents[1]
SPECS = ROOT / "specs"
SHOWN = {path.stem: path for path in (*SPECS.glob("*.toml"), *(ROOT / "docgen" / "starters").glob("*.toml"))}
"""Every demo, and every starter."""

DOCUMENTS = ("pattern", "cutting-list", "build-sheet", "care-card")
FILES = (*DOCUMENTS, "packet")
PAPERS_MM = {"letter": (215.9, 279.4), "a4": (210.0, 297.0)}
"""ANSI/ASME Y14.1 and ISO 216."""


@cache
def demo_build(name: str = "field-bag") -> Build:
    return resolve_build(read_spec(SHOWN[name]))


@cache
def demo_plan(name: str = "field-bag") -> Plan:
    return plan_work(demo_build(name))


@cache
def unpriced_build(name: str = "field-bag") -> Build:
    """A demo without its prices."""
    build = demo_build(name)
    return replace(
        build,
        materials=tuple(replace(item, price=None) for item in build.materials),
        stitches=tuple(replace(item, thread_price=None) for item in build.stitches),
        hardware=tuple(replace(item, price=None) for item in build.hardware),
        costs=Costs(),
    )


def make_setup(paper: str = "letter") -> Setup:
    width, height = PAPERS_MM[paper]
    return Setup(
        paper_width_mm=width, paper_height_mm=height, margin_mm=6.0, date="2026-03-04", style=load_page_style()
    )


def visible_marks(marks: tuple[Mark, ...], dx: float = 0.0, dy: float = 0.0) -> Iterator[tuple[Mark, float, float]]:
    """Every mark with how far it is moved; what a clip cuts off is left in: text must not need cutting."""
    for mark in marks:
        if isinstance(mark, ClipMark):
            yield from visible_marks(mark.marks, dx + mark.dx_mm, dy + mark.dy_mm)
        else:
            yield mark, dx, dy
