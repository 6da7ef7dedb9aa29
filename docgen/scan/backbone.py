"""Where the backbone of a hide runs, by the side of the picture that it lies to."""

from typing import Final

import numpy as np

from docgen.scan.shapes import Points, area_of
from docgen.scan.words import ScanRefused

LEFT, RIGHT, TOP, BOTTOM, MIDDLE = "left", "right", "top", "bottom", "middle"
WAYS: Final = {LEFT: (-1.0, 0.0), RIGHT: (1.0, 0.0), TOP: (0.0, 1.0), BOTTOM: (0.0, -1.0)}
FACING: Final = 0.82
"""The cosine of how far a straight edge may be turned away from that side: some 35 degrees."""

LEAST_EDGE: Final = 0.35
"""A straight edge is at least such a share of the hide's longer side."""

STRAIGHT: Final = 0.008
"""How far such an edge may bend, as a share of that side."""

SLICES: Final = 24
INNER: Final = (0.12, 0.88)


def find_backbone(outline: Points, lies: str, tail: str) -> Points:
    """Its end at the tail, then that at the neck: along the straight edge that lies to the left, right, top or bottom, or
    down the middle between the two flanks. `tail` is the side of the picture that the tail lies to."""
    ends = _middle_line(outline, tail) if lies == MIDDLE else _straight_edge(outline, lies)
    towards = np.array(WAYS[tail])
    return ends if float((ends[0] - ends[1]) @ towards) > 0 else ends[::-1]


def _straight_edge(outline: Points, lies: str) -> Points:
    """Where a long ruler laid against the hide from that side would touch it. Raises ScanRefused where it would rock, or
    bridge a hollow."""
    thin = simplify(outline, STRAIGHT * float(np.ptp(outline, axis=0).max()))
    edges = _hull(thin)
    edges = np.stack([edges, np.roll(edges, -1, axis=0)], axis=1)
    ways = edges[:, 1] - edges[:, 0]
    lengths = np.hypot(*ways.T)
    facing = np.stack([ways[:, 1], -ways[:, 0]], axis=1) / np.maximum(lengths, 1e-9)[:, None]
    touching = np.array([length if _touches(thin, edge) else 0.0 for edge, length in zip(edges, lengths, strict=True)])
    own = np.where(facing @ np.array(WAYS[lies]) > FACING, touching, 0.0)
    if own.max() < LEAST_EDGE * np.ptp(outline, axis=0).max():
        longest = facing[int(touching.argmax())]
        seen = max(WAYS, key=lambda side: float(longest @ np.array(WAYS[side])))
        what = f"the hide has no long straight edge at the {lies} of the picture"
        raise ScanRefused(what, f"its longest lies at the {seen}: --backbone {seen}, or --backbone {MIDDLE}")
    return np.asarray(edges[int(own.argmax())])


def _touches(outline: Points, edge: Points) -> bool:
    """Whether the outline has these two corners one after the other."""
    first = int((outline == edge[0]).all(axis=1).argmax())
    beside = (outline[first - 1], outline[(first + 1) % len(outline)])
    return any(bool((point == edge[1]).all()) for point in beside)


def _hull(points: Points) -> Points:
    """The convex hull, anticlockwise (Andrew's monotone chain, 1979; from memory)."""
    ordered = sorted(map(tuple, points.tolist()))

    def chain(run: list[tuple[float, ...]]) -> list[tuple[float, ...]]:
        kept: list[tuple[float, ...]] = []
        for x, y in run:
            while len(kept) > 1:
                (ax, ay), (bx, by) = kept[-2], kept[-1]
                if (bx - ax) * (y - ay) - (by - ay) * (x - ax) > 0:
                    break
                kept.pop()
            kept.append((x, y))
        return kept[:-1]

    return np.array(chain(ordered) + chain(ordered[::-1]))


def _middle_line(outline: Points, tail: str) -> Points:
    """The straight line nearest to the middles between the flanks, from end to end; found twice, the second time with
    slices at right angles to the first line."""
    up = -np.array(WAYS[tail])
    for _ in range(2):
        across = np.array([up[1], -up[0]])
        along, beside = outline @ up, outline @ across
        low, high = float(along.min()), float(along.max())
        at = low + (high - low) * np.linspace(*INNER, SLICES)
        middles = np.array([_middle(along, beside, height) for height in at])
        slope, start = np.polyfit(at, middles, 1)
        ends = np.array([(low, start + slope * low), (high, start + slope * high)])
        line: Points = ends @ np.array([up, across])
        up = (line[1] - line[0]) / np.hypot(*(line[1] - line[0]))
    return line


def _middle(along: Points, beside: Points, height: float) -> float:
    """Half-way between the outermost places of an outline at a height."""
    after_along, after_beside = np.roll(along, -1), np.roll(beside, -1)
    met = (along <= height) != (after_along <= height)
    share = (height - along[met]) / (after_along[met] - along[met])
    places = beside[met] + share * (after_beside[met] - beside[met])
    return float(places.min() + places.max()) / 2


def thin_out(outline: Points, near_mm: float) -> Points:
    """The outline with as few points as keep within so much of it, or nearer, and hold the same area to 3 in 10,000."""
    for share in (1.0, 0.5, 0.25):
        thin = simplify(outline, share * near_mm)
        if abs(area_of(thin) / area_of(outline) - 1) < 3e-4:
            return thin
    return outline


def simplify(outline: Points, near_mm: float) -> Points:
    """The outline with as few points as keep within so much of it (Douglas and Peucker, 1973; from memory)."""
    first = int(outline[:, 0].argmin())
    outline = np.roll(outline, -first, axis=0)
    far = int(((outline - outline[0]) ** 2).sum(axis=1).argmax())
    halves = (outline[: far + 1], np.concatenate([outline[far:], outline[:1]]))
    return np.concatenate([_thin(half, near_mm)[:-1] for half in halves])


def _thin(line: Points, near_mm: float) -> Points:
    kept, waiting = {0, len(line) - 1}, [(0, len(line) - 1)]
    while waiting:
        first, last = waiting.pop()
        if last - first < 2:
            continue
        way = line[last] - line[first]
        length = max(1e-9, float(np.hypot(*way)))
        inner = line[first + 1 : last] - line[first]
        off = np.abs(inner[:, 0] * way[1] - inner[:, 1] * way[0]) / length
        worst = int(off.argmax())
        if off[worst] > near_mm:
            kept.add(first + 1 + worst)
            waiting += [(first, first + 1 + worst), (first + 1 + worst, last)]
    found: Points = line[sorted(kept)]
    return found
