"""What is known of a finished article, and of what a step joins, for the pictures of them."""

from __future__ import annotations

from collections.abc import Mapping

from docgen.assemble.apart.bodies import Body
from docgen.assemble.apart.linings import Lined
from docgen.assemble.apart.metal_bodies import MetalBody
from docgen.assemble.apart.zips import ZipBody
from docgen.assemble.assembly import Copy
from docgen.assemble.space.placed import Kind
from docgen.classes import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Closed:
    """The bodies of a finished article and their hardware, the titles of those that are drawn open, and of what is left
    out; the seams along which the edge of a wall lies on a copy; whether its front `is_away` as it is placed, and whether
    so little of it can be drawn that it would not be known (`is_scanty`); what opens as a book does also `opened_out`.
    `zips` are those that lie in its mouth."""

    bodies: tuple[Body, ...]
    metal: tuple[MetalBody, ...]
    opened: tuple[str, ...]
    absent: tuple[str, ...]
    flanged: Mapping[Copy, frozenset[str]]
    is_away: bool
    is_scanty: bool
    opened_out: OpenedOut | None
    zips: tuple[ZipBody, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenedOut:
    """What is folded over other parts laid open: the bodies and their hardware, the titles of those that fold, and whether
    their inner side looks up."""

    bodies: tuple[Body, ...]
    metal: tuple[MetalBody, ...]
    covers: tuple[str, ...]
    is_up: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Joined:
    """What is known of a heap at its step: how it lies, copies that something lies behind already, seams along which the
    edge of a wall lies on a copy already, rows of stitches that are there once the step is done, those that it sews, with
    the part on which each is said to begin, those of them of which nothing says so, what is alike in heaps that are joined
    in the same way, hardware that is set by then and whether the step does it, titles of what hangs on it and cannot be
    drawn, and of what is `hung` in its rings and drawn in the finished article, whether one of its seams is turned right
    side out, and whether the front of the article `is_away`."""

    kind: Kind
    lined: Lined
    flanged: Mapping[Copy, frozenset[str]]
    sewn: frozenset[str]
    picked: Mapping[str, Copy]
    unmarked: frozenset[str]
    likeness: tuple[object, ...]
    metal: tuple[tuple[MetalBody, bool], ...]
    absent: tuple[str, ...]
    hung: tuple[str, ...]
    is_turned: bool
    is_away: bool
