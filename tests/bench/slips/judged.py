"""Which slips a checker cannot know, since they make another build that is as right: by kind and place, with the reason.

A rule speaks only of slips that nothing was said of or that may go unsaid: what is told is told, and counts as told.
"""

import math
import re
import tomllib
from dataclasses import dataclass
from typing import Any

from slips.builds import BROUGHT
from slips.operators import FIGURE_RE, Slip, number_of

ANY = ""


@dataclass(frozen=True)
class Free:
    """Slips of these kinds at such places, and why both builds are right. All but `most` are patterns that are searched."""

    kinds: str
    where: str
    reason: str
    was: str = ANY
    now: str = ANY
    build: str = ANY
    most: float = math.inf  # how many times as much, or as little, the first figure that differs becomes at most

    def covers(self, build: str, slip: Slip) -> bool:
        """True where this rule speaks of the slip; one that names a build speaks of none that is brought."""
        pairs = (
            (self.kinds, slip.kind),
            (self.where, slip.path),
            (self.was, slip.was),
            (self.now, slip.now),
            (self.build, build),
        )
        if self.build and build.startswith(BROUGHT):
            return False
        return all(re.search(pattern, words) for pattern, words in pairs) and _times(slip) <= self.most


def _times(slip: Slip) -> float:
    """How many times as much or as little the first figure that differs becomes; 1 where none does."""
    figures = [[number_of(figure) for figure in FIGURE_RE.findall(words)] for words in (slip.was, slip.now)]
    for one, other in zip(*figures, strict=False):
        if one != other:
            return max(one, other) / min(one, other) if min(one, other) else math.inf
    return 1.0


QUARTER = "^a quarter inch"
FIGURE = "^(a quarter inch|a decimal or a fraction|digits)"
UNIT = "^a length in the other unit"
DELETED = "^a line deleted"
SAME_THING = (
    3.0  # so many times as large, or as small, it may be the same thing of another size; beyond, a digit is lost
)
TABLE = "^a whole table deleted"

RULES: tuple[Free, ...] = (
    # ---- what may be left out: less is checked or printed, nothing becomes wrong
    Free(
        DELETED,
        ANY,
        "words for the pages, which may be left out",
        was=r"^(group|contact|name|extra|repair|card|note|show|paper|title|colour|edges)\s*=",
    ),
    Free(
        DELETED,
        ANY,
        "a figure of the shop that may be left out: less is reckoned or checked",
        was=r"^(price|weight|waste|minutes|makes|currency|labour|load|lifts|needle-from|needle-to|longest-stitch|machine"
        r"|posts|finish|tannage|tools|width\s+= \"(54|58|40) in)",
    ),
    Free(DELETED, ANY, "inside width that nothing goes through but by the maker's word", was=r"^inside\s*="),
    Free(
        "^an edge",
        r"^pieces\.front\.notches",
        "a match mark elsewhere, on what lies flat on a part without any",
        build="sleeve",
    ),
    Free(TABLE, ANY, "a variant less", was=r"^\[variants"),
    Free("^a hole", r"^pieces\.back\.holes", "a hole whose place nothing else tells", build="sheath$"),
    Free("^a count", r"^trimmings\.", "more or less of goods by length that nothing else names"),
    Free("^a count", r"^irons\.", "another iron"),
    Free("^a name", r"^pieces\.shoulder\.of", "a part of another leather", build="instrument"),
    Free(TABLE, ANY, "nothing says what has to go in, or what stands on the card", was=r"^\[\[?(holds|care)"),
    Free(
        DELETED,
        ANY,
        "a piece whose corners stay sharp, and meet none that are round",
        was=r"^round\s*=",
        build="sleeve",
    ),
    Free(
        DELETED,
        ANY,
        "small round corners of a tab or pocket, which no seam has to follow",
        was=r'^round\s*= \{ bottom-left = "(3/4|1/4) in"',
    ),
    Free(DELETED, ANY, "straps with square ends", was=r"^ends\s*= \[\{ shape = \"(rounded|square)"),
    Free(DELETED, ANY, "a strap that is not sewn", was=r"^stitch\s*=", build="field-bag|tote"),
    # ---- another size of the same thing
    Free(
        FIGURE,
        r"^(variants\.[\w-]+\.)?measures\.",
        "a measure of another size: all that hangs on it follows",
        most=SAME_THING,
    ),
    Free(UNIT, r"^measures\.(ease|room|round)", "a measure of another size: all that hangs on it follows"),
    Free(
        QUARTER,
        r"^pieces\.[\w-]+\.(size|diameter|round$|points\.\d+\.(at|curve)|curve)",
        "a part of another size, where no seam says which",
    ),
    Free(FIGURE, r"^pieces\.[\w-]+\.points", "a corner elsewhere, where no seam says where"),
    Free("^a decimal", r"^pieces\.[\w-]+\.size", "a part of another size, where no seam says which", most=SAME_THING),
    Free(
        QUARTER,
        r"^straps\.[\w-]+\.(finished|wears|holes\.tip|ends\.\d\.back|punches\.\d\.long)",
        "a strap of another length",
    ),
    Free("^(digits|a decimal)", r"^straps\.[\w-]+\.(wears|holes\.tip)", "a strap of another length", most=SAME_THING),
    Free("^a decimal", r"^straps\.[\w-]+\.ends\.\d\.back", "an end that lies back a little less"),
    Free(
        QUARTER,
        r"^(joins\.[\w-]+\.overlap|seams\.[\w-]+\.lap|pieces\.[\w-]+\.hems\.\d\.turn)",
        "as much over each other",
    ),
    Free(QUARTER, r"^pieces\.[\w-]+\.dividers", "a pocket a little to the side"),
    Free(QUARTER, r"^(holds|inside)", "contents or room a little other than what was written"),
    Free(QUARTER, r"^(materials\.[\w-]+\.width)", "a roll of another width"),
    Free("^digits", r"^materials\.[\w-]+\.width", "a roll of another width", most=SAME_THING),
    Free(UNIT, r"^holds", "a thing so thin that it goes in"),
    Free("^a count", r"^joins\.[\w-]+\.rows|^straps\.[\w-]+\.holes\.count", "another number of rows or holes"),
    # ---- counts, names and orders that make another right build
    Free("^a count", r"^hardware\.(rivet|snap)\.count", "one to spare of what can be spoiled when it is set"),
    Free("^a count", r"^pieces\.pad\.cut", "foam behind one of two panels", now="^1$"),
    Free(
        "^a name",
        r"^pieces\.(panel-lining|back-lining|pad)\.like$",
        "front and back have one shape",
        build="^(field-bag|bag|crossbody)$",
    ),
    Free(
        "^a name",
        r"^pieces\.(front|back|outside|gusset|base|long|short|bellows|upper|lower|high|middle|low)\.of$",
        "a panel or pocket of another material",
    ),
    Free(DELETED, ANY, "one row in place of two, or a pocket less", was=r"^(rows\s*=|\{ at = .*stitch = )"),
    Free(DELETED, ANY, "another shape, where no seam follows the corner", was=r"^\{ at = \[.*edge = "),
    Free(
        "^a hole", r"^pieces\.(gusset-side|side)\.holes", "a hole for a ring elsewhere, where no landing says the place"
    ),
    Free(
        "^a hole", r"^pieces\.ring-tab\.holes", "the same place, once the tab is folded in its middle", now="from top"
    ),
    Free(
        "^a hole",
        r"^pieces\.(back|front|inside)\.landings",
        "a pocket elsewhere on its panel",
        was="pocket|centre, (1 in|2 in|30 mm)",
    ),
    Free(
        "^a hole",
        r"^pieces\.inside\.landings",
        "a pocket in the other half of a folded part, which is as wide there",
        was="0 from (left|right)",
        build="wallet$",
    ),
    Free(
        "^an edge",
        r"^seams\.[\w-]+\.meet\.0$",
        "a pocket in the corner of its panel, whose other sides the seam round that holds: open at its foot or beside",
        was=r": (left|bottom)",
        now=r": (right|bottom)",
        build="(wallet|folder)$",
    ),
    Free("^a name", r"^straps\.(fixed|free)\.of$", "a keeper of the leather that lines the strap"),
    Free(QUARTER, r"^straps\.[\w-]+\.padding\.length", "foam a little longer or shorter, still within its strap"),
    Free("^a switch", r"\.turned$", "a seam that shows: its edges stay outside"),
    Free("^a switch", r"lining\.marks$", "a lining with its model's notches, which meet those of the panel"),
    Free(
        TABLE,
        ANY,
        "words of work that nothing hangs on: edges smoothed, a fold creased, an end trimmed",
        was=r"^\[\[steps",
        build="^sleeve$",
    ),
    *(
        Free("^two steps", ANY, "neither needs the other: both orders can be worked", was=words)
        for words in (
            "Skive the ends of the gusset strips",
            "Lay the lining on the flesh side of each panel",
            "Lay a lining on the flesh side of each panel",
            "Sew the gusset to the front, then to the back",
            "Glue the ends of the wall over each other",
            "Fold the tabs round the rings",
            "Fold the ring tabs",
            "Fold the buckle tabs",
            "Sew the wall to the base",
            "Punch the two eyes",
            "Glue the pockets along their sides",
            "Turn the pocket top under",
            "Glue foam to the flesh side",
            "Glue the strips end to end",
            "Make and burnish the two parts of the shoulder strap",
            "Sew the handle, rivet it",
            "Sew the base in",
            "Rivet the loop",
            "Hem both",
            "Sew the handles",
            "Sew the panels to the base",
            "Pipe both panels",
            "Line the front",
            "Line both",
            "Bellows to the pocket",
            "Sew the bellows to the front",
            "Sew the flap on",
            "Sew the gusset to the back, from the top left",
            "Hem front, back and both ends of the gusset",
            "Burnish the upper edges of both pockets",
            "Crease the fold of the cover and burnish",
            "Punch the body, its lining and the tail",
            "Sew the tail to the foot",
            "Set the cap in the flap and the stud in the front",
            "Rivet the closing straps to the backs",
            "Set both studs in the front",
        )
    ),
    Free(
        FIGURE,
        r"^pieces\.[\w-]+\.corners\.\d+\.at",
        "an edge of a drawing begins a little elsewhere, and no seam names it",
        build="cable-roll",
    ),
    Free(
        "^digits",
        r"^pieces\.[\w-]+\.(size|diameter)",
        "a part of another size, where no seam says which",
        most=SAME_THING,
    ),
    Free("^digits", r"^pieces\.[\w-]+\.dividers", "a pocket of another width", most=SAME_THING),
    Free("^digits", r"^pieces\.[\w-]+\.round$", "a corner rounded less", most=SAME_THING),
    Free("^digits", r"^straps\.[\w-]+\.finished", "a strap of another length", most=SAME_THING),
    Free(
        FIGURE,
        r"^pieces\.[\w-]+\.landings\.\d\.at",
        "a part that lands a little elsewhere, with no hole beneath it",
        most=SAME_THING,
    ),
    Free(
        QUARTER, r"^pieces\.[\w-]+\.landings\.\d\.over", "a strap that lies fast a little farther, with the same rivets"
    ),
    Free(QUARTER, r"^pieces\.[\w-]+\.skives\.\d\.width", "a band a little wider or narrower, beside or over its lap"),
    Free(
        "^(a quarter inch|a decimal)",
        r"^straps\.[\w-]+\.punches\.\d\.at",
        "holes elsewhere on what lies back: punched through both layers once it is turned",
        was="from (start|end)",
    ),
    Free(
        "^(a quarter inch|a decimal|digits)",
        r"^pieces\.(gusset-side|gusset|side|wall|ring-tab|tab|loop)\.holes\.\d\.at",
        "the rivet of a tab or loop a little higher; where it comes to lie is not written",
        most=SAME_THING,
    ),
    Free(
        "^(a quarter inch|a decimal|digits)",
        r"^straps\.(handle|hinge|carry|keeper|neck|tie)\.width",
        "a strap that goes through no fitting",
        most=SAME_THING,
    ),
    # ---- figures that stand alone
    Free("^(digits|a decimal)", r"(price|labour|load)$", "a price or load that nothing else tells"),
    Free("^digits", r"weight$", "a weight that nothing else tells"),
    Free("^digits", r"posts\.\d", "another post in the drawer"),
    Free("^a letter", r"(points|corners)\.\d+\.edge$", "an edge by another name that no seam names"),
    Free("^a name", r"^(stitches|seams|straps)\.[\w-]+\.stitch$", "another stitch that suits this stack as well"),
    Free(
        UNIT,
        "thickness$",
        "leather or cloth as there is",
        was='"(2|1.2|1.6|1.8|4-5|5) (mm|oz)"',
        now='"(2|5|4-5) (oz|mm)"',
    ),
)


def why_free(build: str, slip: Slip) -> str:
    """The reason why this slip is no mistake that can be known, or an empty string."""
    if slip.free:
        return slip.free
    if slip.kind.startswith("two steps"):
        data, one, other = _exchanged(slip)
        if _handled(data, one).isdisjoint(_handled(data, other)):
            return "neither step has in hand what the other has: both orders can be worked"
        if _share_a_panel(data, one, other):
            return (
                "a pocket, and straps or tabs elsewhere on the panel that lies flat beneath: both orders can be worked"
            )
        if _sew_other_edges(data, one, other):
            return "other edges of the same parts, and what closes them now comes last: both orders can be worked"
    return next((rule.reason for rule in RULES if rule.covers(build, slip)), "")


Step = dict[str, Any]


def _exchanged(slip: Slip) -> tuple[dict[str, Any], Step, Step]:
    """The build, and the two steps that changed places, as they stand now."""
    data = tomllib.loads(slip.text)
    steps = data["steps"]
    later = next(at for at, step in enumerate(steps) if at and f'"{step["do"]}"' in slip.was)
    return data, steps[later - 1], steps[later]


def _share_a_panel(data: dict[str, Any], one: Step, other: Step) -> bool:
    """Whether one sews pieces flat on a panel, and the other nothing but puts straps or hardware on that too."""
    for sewing, setting in ((one, other), (other, one)):
        flat = {
            side for seam in _listed(sewing.get("seams")) for side in data["seams"][seam]["meet"] if ":" not in side
        }
        shared = _handled(data, one) & _handled(data, other)
        if shared and shared <= flat and not setting.get("seams") and not sewing.get("hardware"):
            return True
    return False


def _sew_other_edges(data: dict[str, Any], one: Step, other: Step) -> bool:
    """Whether both only sew, never an edge that the other sews nor flat, and the first no more than one edge of a part."""
    if any(step.get(key) for step in (one, other) for key in ("hardware", "straps", "skives", "joins", "pieces")):
        return False
    sides = [
        [side for seam in _listed(step.get("seams")) for side in data["seams"][seam]["meet"]] for step in (one, other)
    ]
    if any(":" not in side for side in (*sides[0], *sides[1])):
        return False
    first, second = (
        {(side.split(":")[0], edge) for side in each for edge in side.split(":")[1].split()} for each in sides
    )
    return first.isdisjoint(second) and all(len(side.split(":")[1].split()) == 1 for side in sides[0])


def _handled(data: dict[str, Any], step: dict[str, Any]) -> set[str]:
    """Every part that a step has in hand; strips of joins, and what is sewn."""
    joins = data.get("joins", {})
    parts = {name for key in ("pieces", "skives", "straps", "joins") for name in _listed(step.get(key))}
    for seam in _listed(step.get("seams")):
        parts |= {side.split(":")[0].split()[0] for side in data["seams"][seam]["meet"]}
    return parts | {strip for name in parts & {*joins} for strip in _listed(joins[name]["of"])}


def _listed(value: Any) -> list[str]:
    return [value] if isinstance(value, str) else value or []
