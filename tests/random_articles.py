"""Articles put together at random from what makers use, each with what a person who holds it sees: what a picture of the
finished article must show. The choices are of common practice, no published source; the places are worked out by hand."""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import dataclass, field

from short_specs import SNAP_HALVES, piece, seam, step


@dataclass(frozen=True, slots=True)
class Seen:
    """A place of a part, in mm from the lower left corner of its template, and whether it is seen: from the `front`, from
    `behind`, in the `opened` article, or from the front or behind, not both (`outside`); with a `twin` one of the two."""

    view: str
    part: str
    x: float
    y: float
    is_seen: bool
    twin: tuple[float, float] | None = None


@dataclass
class Article:
    """A spec while it is written, what is seen of it, and the number of steps before which parts lie flat."""

    pieces: list[str] = field(default_factory=list)
    seams: list[str] = field(default_factory=list)
    steps: list[str] = field(default_factory=list)
    seen: list[Seen] = field(default_factory=list)
    flat: dict[str, int] = field(default_factory=dict)

    @property
    def text(self) -> str:
        return "".join((*self.pieces, *self.seams, *self.steps))

    def sew(self, do: str, **seams: tuple[str, ...]) -> None:
        """A step with its seams, by their names and partners."""
        self.seams += [seam(name.replace("_", "-"), *partners) for name, partners in seams.items()]
        self.steps.append(step(do, seams=" ".join(seams).replace("_", "-")))

    def lies_flat(self, part: str) -> None:
        """Nothing that has been done by now bends the part."""
        self.flat[part] = len(self.steps)

    def see(self, view: str, part: str, x: float, y: float, *, is_seen: bool = True) -> None:
        self.seen.append(Seen(view, part, x, y, is_seen))

    def see_either(self, view: str, part: str, one: tuple[float, float], other: tuple[float, float]) -> None:
        """Of two places of a part that lie on each other either is seen, and hides the other."""
        self.seen.append(Seen(view, part, *one, is_seen=True, twin=other))


def lands(*found: str) -> str:
    return f"landings = [{', '.join(found)}]\n" if found else ""


def bends(edge: str, *at: float) -> str:
    folds = ", ".join(f'{{ at = "{mm} mm from {edge}", open = true, angle = 90 }}' for mm in at)
    return f"folds = [{folds}]\n"


def pouch(seed: int) -> Article:
    """Front and back of 200 by 150 mm, flat or with a gusset, sewn or turned; with a flap that is laid on the back, lapped
    over it or one with it, lined or not; with a pocket, with loops on the back, hemmed or cut."""
    pick, made = random.Random(seed), Article()
    flap, pocket = pick.choice(("none", "laid", "lapped", "whole")), pick.choice(("none", "front", "back"))
    deep, is_turned, is_hemmed = pick.choice((0, 40)), pick.random() < 0.5, pick.random() < 0.5
    is_lined, has_loops, fall = pick.random() < 0.5, pick.random() < 0.5 and pocket != "back", pick.choice((70, 110))
    over = deep - 8 if deep and not is_turned and pick.random() < 0.5 else deep or 6
    hem = 'hems = [{ edges = "top", turn = "12 mm" }]\n' if is_hemmed else ""
    on_front = ['{ piece = "pocket", at = "centre, 10 mm from bottom" }'] if pocket == "front" else []
    on_back = ['{ piece = "pocket", at = "centre, 10 mm from bottom" }'] if pocket == "back" else []
    if has_loops:
        on_back += [f'{{ piece = "loop", at = "40 mm from {side}, 50 mm from bottom" }}' for side in ("left", "right")]
    root = {"laid": 24, "lapped": 12}.get(flap, 0)
    if flap == "laid":
        on_back.append('{ piece = "flap", at = "centre, 16 mm from top" }')
    made.pieces.append(piece("front", 200, 162 if is_hemmed else 150, hem + lands(*on_front)))
    folds = bends("bottom", 150, 150 + over) if flap == "whole" else ""
    made.pieces.append(piece("back", 200, 150 + over + fall if flap == "whole" else 150, folds + lands(*on_back)))
    if pocket != "none":
        made.pieces.append(piece("pocket", 100, 50))
        made.sew("Sew the pocket on.", pocket=("pocket: left bottom right", pocket))
        made.see("front", "pocket", 50, 8, is_seen=pocket == "front")
        made.see("behind", "pocket", 50, 8, is_seen=pocket == "back")
    if has_loops:
        made.pieces.append(piece("loop", 25, 60, "cut = 2\n"))
        made.sew("Sew the loops on.", upper=("loop: top", "back"), lower=("loop: bottom", "back"))
        made.see("behind", "loop", 12, 30)
        made.see("front", "loop", 12, 30, is_seen=False)
    if is_hemmed:
        made.sew("Turn the hem and sew it.", hem=("front: top", "front"))
    if root:
        made.pieces.append(piece("flap", 200, root + over + fall, bends("top", root, root + over)))
        if is_lined:
            made.pieces.append('[pieces.flap-lining]\nlike = "flap"\nmirror = true\n')
            made.sew("Line the flap.", edge=("flap: left bottom right", "flap-lining: right bottom left"))
        made.sew("Sew the flap on.", flap=("flap: top", "back: top" if flap == "lapped" else "back"))
        if flap == "lapped":
            made.seams[-1] += 'lap = "12 mm"\n'
        made.see("behind", "flap", 60, root + over + fall - 8)
    up = f" from top {over + fall} mm to top {over + fall} mm" if flap == "whole" else ""
    if deep:
        wall = f'[pieces.wall]\nof = "body"\nshape = "strip"\nsize = ["{deep + 8 * is_turned} mm", "solve"]\n'
        made.pieces.append(wall)
        around = {
            "one": ("front: left bottom right", "wall: left"),
            "two": (f"back: left bottom right{up}", "wall: right"),
        }
        made.sew("Sew the gusset in, and turn the pouch." if is_turned else "Sew the gusset in.", **around)
        if is_turned:
            made.seams[-2:] = [one + "turned = true\n" for one in made.seams[-2:]]
    else:
        made.sew("Sew it round.", round=("front: left bottom right", f"back: left bottom right{up}"))
    if flap != "none":
        part, tip = ("back", 150 + over + fall - 8) if flap == "whole" else ("flap", 8)
        made.see("front", part, 70, tip)
        made.see("behind", part, 70, tip, is_seen=False)
    made.see("front", "front", 80, 130, is_seen=flap == "none")
    made.see("front", "front", 80, 5, is_seen=True)
    made.see("behind", "front", 80, 5, is_seen=False)
    made.see("behind", "back", 80, 5)
    return made


def cover(seed: int) -> Article:
    """A book cover with a spine, 220 mm high, its halves 150 mm: lined or not, with sleeves, a pocket outside, and a tab
    with a snap that comes round the fore edge, as deep as the spine or a little more."""
    pick, made = random.Random(seed), Article()
    spine, more = pick.choice((12, 20, 30)), pick.choice((0, 2, 4))
    own, other = pick.sample(("left", "right"), 2)
    is_lined, has_pocket, has_tab = pick.random() < 0.6, pick.random() < 0.5, pick.random() < 0.7
    wide, on = 300 + spine, 40
    holes, landed = "", []
    if has_tab:
        landed.append(f'{{ piece = "tab", at = "{wide - on} mm from {other}, middle" }}')
        holes = f'holes = [{{ at = "50 mm from {other}, middle", punch = "4 mm", takes = "stud" }}]\n'
    if has_pocket:
        landed.append(f'{{ piece = "pocket", at = "30 mm from {own}, 15 mm from bottom" }}')
    made.pieces.append(piece("cover", wide, 220, bends("left", 150, 150 + spine) + holes + lands(*landed)))
    if has_pocket:
        made.pieces.append(piece("pocket", 80, 60))
        made.sew("Sew the pocket on.", pocket=("pocket: left bottom right", "cover"))
        made.see("outside", "pocket", 40, 20)
        made.see("opened", "pocket", 40, 20, is_seen=False)
    if has_tab:
        long = on + spine + more + 50 + 14
        tip = f'holes = [{{ at = "14 mm from {own}, middle", punch = "4 mm", takes = "cap" }}]\n'
        made.pieces.append(piece("tab", long, 34, bends(other, on, on + spine + more) + tip) + SNAP_HALVES)
        made.steps.append(step("Set the snap.", pieces="tab cover", hardware="cap stud"))
        made.sew("Sew the tab on.", tab=(f"tab: {other}", "cover"))
        made.see("outside", "tab", 5 if own == "left" else long - 5, 10)
        made.see("outside", "tab", long - 8 if own == "left" else 8, 10)
    if is_lined:
        sleeves = [f'{{ piece = "sleeve-{side}", at = "0 mm from {side}, 0 mm from bottom" }}' for side in (own, other)]
        made.pieces.append('[pieces.lining]\nlike = "cover"\nmarks = false\nlines = ["cover"]\n' + lands(*sleeves))
        made.pieces += [piece(f"sleeve-{side}", 90, 220) for side in (own, other)]
        made.sew("Glue the lining in and sew round.", round=("lining: all", "cover: all"))
        for side in (own, other):
            made.see("opened", f"sleeve-{side}", 80 if side == "left" else 10, 210)
    made.see("outside", "cover", 100, 213)
    made.see("outside", "cover", wide - 100, 213)
    return made


def wallet(seed: int) -> Article:
    """A cover of 210 by 90 mm that folds once, with one to three tiers of pockets in one or both halves, each named by the
    step in one order or another or not at all."""
    pick, made = random.Random(seed), Article()
    tiers, sides = pick.choice((1, 2, 3)), pick.choice((("left",), ("right",), ("left", "right")))
    has_inside, are_all_sewn, order = pick.random() < 0.5, pick.random() < 0.5, pick.choice((1, -1, 0))
    names = [f"{side}-{k}" for side in sides for k in range(tiers)]
    inside = "" if has_inside else ", inside = true"
    landed = lands(
        *(f'{{ piece = "{name}", at = "0 mm from {name[:-2]}, 0 mm from bottom"{inside} }}' for name in names)
    )
    made.pieces.append(piece("cover", 210, 90, 'folds = [{ at = "centre", open = true, angle = 180 }]\n'))
    if has_inside:
        made.pieces.append('[pieces.inner]\nlike = "cover"\nmarks = false\n' + landed)
    else:
        made.pieces[0] += landed
    rows = []
    for name in names:
        tier = int(name[-1])
        made.pieces.append(piece(name, 100, 75 - 12 * tier))
        if are_all_sewn or tier == tiers - 1:
            side = "right" if name.startswith("left") else "left"
            made.seams.append(seam(f"row-{name}", f"{name}: {side}", "inner" if has_inside else "cover"))
            rows.append(f"row-{name}")
        made.see("opened", name, 50, 75 - 12 * tier - 4)
        made.see("opened", name, 50, 10, is_seen=tier == tiers - 1)
    named = {"pieces": " ".join(names[::order])} if order else {}
    made.steps.append(step("Burnish the mouths.", pieces=" ".join(names), tools="burnisher"))
    made.steps.append(step("Lay the pockets and sew them.", **named, seams=" ".join(rows)))
    partners = ("inner: left bottom right", "cover: left bottom right") if has_inside else ("cover: left bottom right",)
    made.sew("Sew round.", round=partners)
    return made


FAMILIES: tuple[Callable[[int], Article], ...] = (pouch, cover, wallet)
