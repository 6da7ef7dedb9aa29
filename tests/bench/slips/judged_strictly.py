"""Slips that a rule frees by kind and place, and that the build itself contradicts all the same: they can be known."""

import re
import tomllib
from typing import Any

from slips.operators import Slip

TURNING_RE = re.compile(r"\b(turn|turned|inside out|face to face|grain to grain|right sides)\b", re.IGNORECASE)
UPRIGHT_RE = re.compile(r"\b(tall|high|height)\b")
ACROSS_RE = re.compile(r"\b(wide|width|across)\b")
SIZE_RE = re.compile(r'"([^"]*)", "([^"]*)"')
SIDES = {"left": "right", "right": "left", "top": "bottom", "bottom": "top", "front": "back", "back": "front"}
MARKS = ("holes", "hole-rows", "slits")  # what lands, is laid or divides a model does not come along


def is_known_all_the_same(text: str, slip: Slip) -> bool:
    """Whether something in the build speaks against this slip; `text` is the right build."""
    data = tomllib.loads(text)
    return any(
        (
            slip.path.endswith(".marks") and _shows_more_than_shape(data, slip),
            slip.path.endswith(".turned") and _is_said_to_turn(data, slip),
            slip.kind.startswith("width and height") and _is_named_otherwise(slip),
            slip.path.endswith(".edge") and slip.path.startswith("pieces.") and _has_its_like(data, slip),
            slip.kind.startswith("two steps") and _lies_loose(slip),
        )
    )


def _shows_more_than_shape(data: dict[str, Any], slip: Slip) -> bool:
    """Marks of a model that a part like it cannot share: what is set there."""
    model = data["pieces"][slip.path.split(".")[1]].get("like")
    return bool(model and any(key in data["pieces"][model] for key in MARKS))


def _is_said_to_turn(data: dict[str, Any], slip: Slip) -> bool:
    """A seam that a step says is turned, or whose like are all turned."""
    name = slip.path.split(".")[1]
    said = [step["do"] for step in data.get("steps", ()) if name in step.get("seams", ())]
    others = [seam for other, seam in data["seams"].items() if other != name and seam.get("turned")]
    return any(TURNING_RE.search(words) for words in said) or len(others) > 1


def _is_named_otherwise(slip: Slip) -> bool:
    """A height that is called a width, and the other way about."""
    sizes = SIZE_RE.search(slip.now)
    return bool(sizes and UPRIGHT_RE.search(sizes[1]) and ACROSS_RE.search(sizes[2]))


def _has_its_like(data: dict[str, Any], slip: Slip) -> bool:
    """An edge whose name differs from another of its piece by a side alone."""
    words = slip.was.strip('"').split("-")
    points = data["pieces"][slip.path.split(".")[1]].get("points", ())
    names = {point.get("edge") for point in points}
    likes = {"-".join([*words[:k], SIDES[word], *words[k + 1 :]]) for k, word in enumerate(words) if word in SIDES}
    return len(words) > 1 and bool(likes & names)


def _lies_loose(slip: Slip) -> bool:
    """A part that comes in hand after the seam round what it lies on, or a strap that is sewn on then."""
    data = tomllib.loads(slip.text)
    steps, seams = data["steps"], data.get("seams", {})
    later = next(at for at, step in enumerate(steps) if at and f'"{step["do"]}"' in slip.was)
    sewing, laying = steps[later - 1], steps[later]
    sides = [side for name in sewing.get("seams", ()) for side in seams[name]["meet"]]
    hosts = [data["pieces"].get(side.split(":")[0].split()[0], {}) for side in sides if ":" in side]
    landed = [one for host in hosts for one in host.get("landings", ())]
    if laying.get("seams") or len(sides) < 2:
        return False
    pieces = {one["piece"] for one in landed if "piece" in one} & {*laying.get("pieces", ())}
    sewn_on = {one["strap"] for one in landed if one.get("stitch")} & {*laying.get("straps", ())}
    return bool(pieces | sewn_on)
