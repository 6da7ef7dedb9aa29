"""Further articles put together at random: bodies folded of one piece, boxes, sheaths, satchels, hung linings and straps,
each with what a person who holds it sees. The choices are of common practice, no published source; the places are worked
out by hand."""

from __future__ import annotations

import random
from collections.abc import Callable

from random_articles import Article, bends, lands
from short_specs import SNAP_HALVES, hole, piece, rivet, step

ROUND, SIDES = "left bottom right", ("front", "back")
SEWN = ', stitch = "main"'


def folded(seed: int) -> Article:
    """A body of one piece, 160 mm broad: front of 110 mm, base, back of 110 mm, top and flap; with side walls or sewn side
    on side; lined before it is folded or not, with a pocket on the lining or outside, with a snap."""
    pick, made = random.Random(seed), Article()
    deep, fall, is_lined = pick.choice((0, 30, 50)), pick.choice((50, 80)), pick.random() < 0.6
    pocket, has_snap, is_upside = (
        pick.choice(("none", "lining", "front", "back")),
        pick.random() < 0.5,
        pick.random() < 0.5,
    )
    pocket = "none" if pocket == "lining" and not is_lined else pocket
    over = deep or 6
    long = 220 + deep + over + fall
    foot, top = ("top", "bottom") if is_upside else ("bottom", "top")

    def up(mm: float) -> float:
        """A height from the mouth of the front, on the template."""
        return long - mm if is_upside else mm

    over_back = [220 + deep, 220 + deep + over]
    folds = bends(foot, *([110, 110 + deep] if deep else [110]), *over_back)
    if not deep:
        shut = f'at = "110 mm from {foot}", open = true, angle = '
        folds = folds.replace(f"{shut}90", f"{shut}180")
    where = {"front": 20, "back": 110 + deep + 30}.get(pocket)
    landed = [] if where is None else [f'{{ piece = "pocket", at = "centre, {where} mm from {foot}" }}']
    holes = ""
    if has_snap:  # as far below the mouth as the flap falls, less its own 15 mm from the edge
        cap = f'{{ at = "centre, 15 mm from {top}", punch = "4 mm", takes = "cap" }}'
        holes = f'holes = [{cap}, {{ at = "centre, {fall - 15} mm from {foot}", punch = "4 mm", takes = "stud" }}]\n'
    made.pieces.append(piece("body", 160, long, folds + holes + lands(*landed)) + (SNAP_HALVES if has_snap else ""))
    if where is not None:
        made.pieces.append(piece("pocket", 80, 50))
        made.sew("Sew the pocket on.", pocket=(f"pocket: {ROUND}", "body"))
        made.see("behind", "pocket", 40, 20, is_seen=pocket == "back")
        if pocket == "back":
            made.see("front", "pocket", 40, 20, is_seen=False)
    if has_snap:
        made.steps.append(step("Set the snap.", pieces="body", hardware="cap stud"))
    if is_lined:
        within = f'{{ piece = "pocket", at = "centre, {130 + deep} mm from {foot}" }}'
        on = lands(within) if pocket == "lining" else ""
        made.pieces.append(f'[pieces.lining]\nlike = "body"\nmirror = true\nmarks = false\nlines = ["body"]\n{on}')
        if pocket == "lining":
            made.pieces.append(piece("pocket", 80, 50))
            made.sew("Sew the pocket on the lining.", pocket=(f"pocket: {ROUND}", "lining"))
            made.see("front", "pocket", 40, 20, is_seen=False)
            made.see("behind", "pocket", 40, 20, is_seen=False)
        made.sew("Glue the lining in and sew it.", edge=("body: all", "lining: all"))
        for at_mm in (20, 170 + deep, long - 10):
            made.see("front", "lining", 30, up(at_mm), is_seen=False)
        made.see("behind", "lining", 30, up(170 + deep), is_seen=False)
        made.lies_flat("lining")
    made.lies_flat("body")
    if deep:
        made.pieces.append(piece("side", deep + 8, 114, "cut = 2\n"))
    for side in ("left", "right"):
        front, back = f"{side} from {foot} 0 mm to {foot} 110 mm", f"{side} from {foot} 110 mm to {foot} 220 mm"
        whole = f'"body: {side} from {foot} 0 mm to {foot} {220 + deep} mm", "side: {ROUND}"'
        meet = whole if deep else f'"body: {front}", "body: {back}"'
        made.seams.append(f'[seams.{side}]\nstitch = "main"\nmeet = [{meet}]\n')
    if pick.random() < 0.5:
        made.steps.append(step("Sew the sides.", seams="left right"))
    else:
        made.steps += [step("Sew one side.", seams="left"), step("Sew the other side.", seams="right")]
    for view, at_mm in (("front", long - 8), ("front", 102), ("behind", 122 + deep)):
        other = "behind" if view == "front" else "front"
        across = 50 if at_mm == long - 8 else 140  # beside the pocket
        made.see(view, "body", across, up(at_mm))
        made.see(other, "body", across, up(at_mm), is_seen=False)
    made.see("front", "body", 50, up(10), is_seen=False)  # beneath the flap
    return made


def box(seed: int) -> Article:
    """A box of a base and four walls, with a lid sewn to the upper edge of the back or none, and a pocket on the front."""
    pick, made = random.Random(seed), Article()
    wide, deep, high = pick.choice((120, 200)), pick.choice((60, 90)), pick.choice((40, 70))
    has_lid, is_base_first, has_pocket = pick.random() < 0.5, pick.random() < 0.5, pick.random() < 0.4
    landed = lands('{ piece = "pocket", at = "centre, 10 mm from bottom" }') if has_pocket else ""
    made.pieces += [piece("base", wide, deep), piece("front", wide, high, landed), piece("back", wide, high)]
    made.pieces += [piece("west", deep, high), piece("east", deep, high)]
    if has_pocket:
        made.pieces.append(piece("pocket", 60, high - 20))
        made.sew("Sew the pocket on.", pocket=(f"pocket: {ROUND}", "front"))
        made.see("front", "pocket", 30, 8)
        made.see("behind", "pocket", 30, 8, is_seen=False)
    feet = {
        "foot_front": ("front: bottom", "base: top"),
        "foot_back": ("back: bottom", "base: bottom"),
        "foot_west": ("west: bottom", "base: left"),
        "foot_east": ("east: bottom", "base: right"),
    }
    ups = {
        "one": ("front: left", "west: right"),
        "two": ("front: right", "east: left"),
        "three": ("back: right", "west: left"),
        "four": ("back: left", "east: right"),
    }
    for named in (feet, ups) if is_base_first else (ups, feet):
        made.sew("Sew these edges.", **named)
    if has_lid:
        made.pieces.append(piece("lid", wide, deep + 30, bends("bottom", 30)))
        made.sew("Sew the lid on.", lid=("lid: top", "back: top"))
        made.see("front", "lid", wide / 2, 10)
    for view, other in (("front", "back"), ("back", "front")):
        made.see("front" if view == "front" else "behind", view, wide / 2 + 45, 10)
        made.see("front" if view == "front" else "behind", other, wide / 2, 6, is_seen=False)
    made.see("behind", "base", wide / 2, 10, is_seen=False)
    return made


def sheath(seed: int) -> Article:
    """A sheath of front and back with a welt along one side, and a loop for the belt: a strip laid on the back, a doubled
    one that is riveted on, or the tail of the back turned down behind it."""
    pick, made = random.Random(seed), Article()
    loop, side = pick.choice(("laid", "riveted", "tail")), pick.choice(("left", "right"))
    wide, high = pick.choice((50, 70)), pick.choice((150, 190))
    has_welt, is_on_front, tail = pick.random() < 0.8, pick.random() < 0.5, pick.choice((80, 100))
    other = "left" if side == "right" else "right"
    from_top = tail if loop == "tail" and not is_on_front else 0
    at = f"0 mm from {other if is_on_front else side}, {from_top} mm from top"
    welt = [f'{{ piece = "welt", at = "{at}", inside = true }}'] if has_welt else []
    on_back = [] if is_on_front else [*welt]
    on_back += ['{ piece = "loop", at = "centre, 15 mm from top" }'] if loop == "laid" else []
    more = lands(*on_back)
    more += hole("centre, 15 mm from top", more=', through = ["loop", "loop"]') if loop == "riveted" else ""
    more += f'folds = [{{ at = "{tail} mm from top", inside = "grain" }}]\n' if loop == "tail" else ""
    made.pieces.append(piece("front", wide, high, lands(*welt) if is_on_front else ""))
    made.pieces.append(piece("back", wide, high + (tail if loop == "tail" else 0), more))
    if has_welt:
        made.pieces.append(piece("welt", 10, high - 20))
        made.see("front", "welt", 5, 40, is_seen=False)
        made.see("behind", "welt", 5, 40, is_seen=False)
    if loop == "laid":
        made.pieces.append(piece("loop", 25, 80))
        made.sew("Sew the loop on.", upper=("loop: top", "back"), lower=("loop: bottom", "back"))
        made.see("behind", "loop", 4, 40)
    elif loop == "riveted":
        holes = ", ".join(f'{{ at = "centre, 12 mm from {end}", punch = "4 mm" }}' for end in ("top", "bottom"))
        made.pieces.append(piece("loop", 25, 130, f'folds = [{{ at = "middle" }}]\nholes = [{holes}]\n') + rivet())
        made.steps.append(step("Rivet the loop on.", pieces="loop back", hardware="rivet"))
        made.see_either("behind", "loop", (3, 4), (3, 126))  # one end lies on the other
    else:
        made.lies_flat("back")
        made.sew("Turn the tail down behind and sew it.", tail=("back: top", "back"))
        made.see("behind", "back", 20, high + tail - 10)
        made.see("front", "back", 20, high + tail - 10, is_seen=False)
    if loop != "tail":
        made.see("front", "loop", 4, 4, is_seen=False)
    if has_welt:
        made.steps.append(step("Glue the welt.", pieces="welt " + ("front" if is_on_front else "back")))
    back = f"back: left bottom right from top {tail} mm to top {tail} mm" if loop == "tail" else f"back: {ROUND}"
    made.sew("Sew round.", round=(f"front: {ROUND}", back))
    for view, part, hidden in (("front", "front", "back"), ("behind", "back", "front")):
        made.see(view, part, wide / 2, 30)
        made.see(view, hidden, wide / 2, 30, is_seen=False)
    return made


def satchel(seed: int) -> Article:
    """Front, back and gusset, pockets with a gusset of their own on the front, a flap with a tongue, over them."""
    pick, made = random.Random(seed), Article()
    deep, own, fall = pick.choice((50, 80)), pick.choice((20, 30)), pick.choice((90, 200))
    has_tongue, is_first, pockets = pick.random() < 0.6, pick.random() < 0.5, range(pick.choice((0, 1, 2)))
    over = deep + own * bool(pockets)
    on_front = [f'{{ piece = "pocket-{k}", at = "{30 + 120 * k} mm from left, 20 mm from bottom" }}' for k in pockets]
    tongue = '{ strap = "tongue", at = "centre, 45 mm from bottom", over = "40 mm", leads = "down", stitch = "main" }'
    on_flap = lands(tongue) if has_tongue else ""
    wall = '[pieces.{}]\nof = "body"\nshape = "strip"\nsize = ["{} mm", "solve"]\n'
    made.pieces += [piece("front", 280, 220, lands(*on_front)), wall.format("wall", deep)]
    made.pieces.append(piece("back", 280, 220, lands('{ piece = "flap", at = "centre, 16 mm from top" }')))
    made.pieces.append(piece("flap", 280, 24 + over + fall, bends("top", 24, 24 + over) + on_flap))
    made.pieces += [piece(f"pocket-{k}", 100, 90) + wall.format(f"bellows-{k}", own) for k in pockets]

    def put_pockets() -> None:
        for k in pockets:
            made.sew(f"Sew the gusset to pocket {k}.", **{f"b{k}": (f"pocket-{k}: {ROUND}", f"bellows-{k}: left")})
            made.sew("Sew it on the front.", **{f"c{k}": (f"bellows-{k}: right", "front")})

    def put_flap() -> None:
        if has_tongue:
            made.pieces.append('[straps.tongue]\nof = "body"\nwidth = "25 mm"\nfinished = "70 mm"\n')
            made.steps.append(step("Sew the tongue on the flap.", straps="tongue", pieces="flap"))
            made.see("front", "tongue", 20, 12)
            made.see("behind", "tongue", 20, 12, is_seen=False)
        made.sew("Sew the flap on.", flap=("flap: top", "back"))

    for do in (put_pockets, put_flap) if is_first else (put_flap, put_pockets):
        do()
    made.sew("Sew the gusset to the front.", one=(f"front: {ROUND}", "wall: left"))
    made.sew("Sew the back on.", two=(f"back: {ROUND}", "wall: right"))
    made.see("front", "flap", 70, 8)
    made.see("behind", "flap", 70, 8, is_seen=False)
    made.see("behind", "flap", 70, 24 + over + fall - 8)
    made.see("front", "front", 200, 5)  # beside the tongue
    made.see("behind", "back", 140, 5)
    for k in pockets:
        made.see("front", f"pocket-{k}", 50, 80, is_seen=fall < 110)  # 110 mm lie above the pocket
        made.see("behind", f"pocket-{k}", 50, 10, is_seen=False)
        if fall < 110:
            made.see("front", f"pocket-{k}", 50, 10)
    return made


def hung(seed: int) -> Article:
    """Front and back, flat or with a gusset, with a lining of their own that is sewn by itself, hung in, and sewn to them
    round the mouth, a pocket on it or not."""
    pick, made = random.Random(seed), Article()
    deep, is_turned, has_pocket = pick.choice((0, 40)), pick.random() < 0.5, pick.random() < 0.5
    is_lining_first, side = pick.random() < 0.5, pick.choice(("front", "back"))
    made.pieces += [piece("front", 200, 150), piece("back", 200, 150)]
    on = lands('{ piece = "pocket", at = "centre, 40 mm from bottom" }') if has_pocket else ""
    for one in ("front", "back"):
        made.pieces.append(piece(f"lining-{one}", 200, 150, (on if one == side else "") + f'lines = ["{one}"]\n'))
        made.see("front", f"lining-{one}", 100, 60, is_seen=False)
        made.see("behind", f"lining-{one}", 100, 60, is_seen=False)
    for name in ("wall", "lining-wall") if deep else ():
        made.pieces.append(f'[pieces.{name}]\nof = "body"\nshape = "strip"\nsize = ["{deep} mm", "solve"]\n')
    if has_pocket:
        made.pieces.append(piece("pocket", 90, 60))
        made.see("front", "pocket", 45, 20, is_seen=False)
        made.see("behind", "pocket", 45, 20, is_seen=False)

    def put(prefix: str) -> None:
        if prefix and has_pocket:
            made.sew("Sew the pocket on the lining.", pocket=(f"pocket: {ROUND}", f"lining-{side}"))
        first, name = len(made.seams), prefix.replace("-", "_")
        front, back = (f"{prefix}{one}: {ROUND}" for one in ("front", "back"))
        walled = {f"{name}one": (front, f"{prefix}wall: left"), f"{name}two": (back, f"{prefix}wall: right")}
        made.sew(
            "Sew the lining." if prefix else "Sew the outside.", **(walled if deep else {f"{name}round": (front, back)})
        )
        if is_turned and not prefix:
            made.seams[first:] = [one + "turned = true\n" for one in made.seams[first:]]

    for prefix in ("lining-", "") if is_lining_first else ("", "lining-"):
        put(prefix)
    mouth = {f"mouth_{one}": (f"{one}: top", f"lining-{one}: top") for one in ("front", "back")}
    made.sew("Hang the lining in and sew the mouth.", **mouth)
    for view, part, hidden in (("front", "front", "back"), ("behind", "back", "front")):
        made.see(view, part, 60, 20)
        made.see(view, hidden, 60, 20, is_seen=False)
    return made


def strapped(seed: int) -> Article:
    """A flat pouch with one or two tabs, sewn or riveted on a panel by one end and round rings with the other, and a handle
    that is sewn or riveted on by both ends to either panel."""
    pick, made = random.Random(seed), Article()
    tabs, (panel, other) = pick.choice((("centre",), ("30 mm from left", "30 mm from right"))), pick.sample(SIDES, 2)
    is_tab_sewn, is_handle_sewn, has_handle = pick.random() < 0.5, pick.random() < 0.5, pick.random() < 0.7
    held, leads, on = pick.choice((panel, other)), pick.choice(("up", "down")), pick.choice((30, 40))
    landed, holes = {side: list[str]() for side in SIDES}, {side: list[str]() for side in SIDES}
    middle = 80 + on / 2 if leads == "down" else 80 - on / 2
    for at in tabs:
        ways = f'end = "second", at = "{at}, 80 mm from top", over = "{on} mm", leads = "{leads}"'
        landed[panel].append(f'{{ strap = "tab", {ways}{SEWN if is_tab_sewn else ""} }}')
        if not is_tab_sewn:
            row = f'at = "{at}, {middle} mm from top", punch = "4 mm", takes = "rivet"'
            holes[panel].append(f'{{ {row}, through = ["tab"] }}')
    for end, at in (("first", "60 mm from left"), ("second", "60 mm from right")) if has_handle else ():
        ways = f'end = "{end}", at = "{at}, 45 mm from top", over = "40 mm", leads = "up"'
        landed[held].append(f'{{ strap = "handle", {ways}{SEWN if is_handle_sewn else ""} }}')
        if not is_handle_sewn:
            row = f'at = "{at}, 25 mm from top", punch = "4 mm", takes = "rivet"'
            holes[held].append(f'{{ {row}, through = ["handle"] }}')
    for side in SIDES:
        own = f"holes = [{', '.join(holes[side])}]\n" if holes[side] else ""
        made.pieces.append(piece(side, 200, 150, lands(*landed[side]) + own))
    turned = '{ shape = "turned", back = "25 mm", around = "ring", sewn = "main" }'
    punch = f'punches = [{{ at = "centre, {on / 2:g} mm from end", punch = "4 mm" }}]\n'
    made.pieces.append(
        f'[straps.tab]\nof = "body"\nwidth = "20 mm"\ncut = {len(tabs)}\nfinished = "80 mm"\n'
        f'ends = [{turned}, {{ shape = "square" }}]\n{"" if is_tab_sewn else punch}'
    )
    made.pieces.append(f'[hardware.ring]\nwhat = "ring"\ncount = {len(tabs)}\nbar = "3 mm"\ninside = "20 mm"\n')
    rivets = len(tabs) * (not is_tab_sewn) + 2 * (has_handle and not is_handle_sewn)
    made.pieces.append(rivet(rivets) if rivets else "")
    made.steps.append(step("Turn the tab round its ring and sew it.", straps="tab", hardware="ring"))
    set_in = {} if is_tab_sewn else {"hardware": "rivet"}
    made.steps.append(step("Put the tab on.", straps="tab", pieces=panel, **set_in))
    view = {"front": "front", "back": "behind"}
    if has_handle:
        rows = ", ".join(f'{{ at = "centre, 20 mm from {end}", punch = "4 mm" }}' for end in ("start", "end"))
        own = "" if is_handle_sewn else f"punches = [{rows}]\n"
        made.pieces.append(f'[straps.handle]\nof = "body"\nwidth = "20 mm"\nfinished = "280 mm"\n{own}')
        set_in = {} if is_handle_sewn else {"hardware": "rivet"}
        made.steps.append(step("Put the handle on.", straps="handle", pieces=held, **set_in))
        for along in (8, 272):
            made.see(view[held], "handle", 3, along)
            made.see(view[SIDES[held == "front"]], "handle", 3, along, is_seen=False)
    made.sew("Sew it round.", round=(f"front: {ROUND}", f"back: {ROUND}"))
    made.see(view[panel], "tab", 3, 75)
    made.see(view[other], "tab", 3, 75, is_seen=False)
    for side, hidden in (SIDES, SIDES[::-1]):
        made.see(view[side], side, 130, 10)
        made.see(view[side], hidden, 130, 10, is_seen=False)
    return made


BODIES: tuple[Callable[[int], Article], ...] = (folded, box, sheath, satchel, hung, strapped)
