"""Further slips that make another right build: rules as those of `judged.py`, and some that look at both builds."""

import re
import tomllib
from collections.abc import Iterator
from typing import Any

from slips.judged import ANY, DELETED, QUARTER, SAME_THING, TABLE, Free
from slips.judged_idle import HANDLING, WORDS_ONLY_RE, of_steps, of_units
from slips.operators import Slip

UNIT = "^a length in the other unit"


FURTHER: tuple[Free, ...] = (
    Free("^width and height", ANY, "a part of another shape, where no seam and no hole says which"),
    Free("^minus", r"^(measures|trimmings)\.", "a measure of another size: all that hangs on it follows"),
    Free("^minus", r"^pieces\.[\w-]+\.(size|points|curve)", "a part of another size, where no seam says which"),
    Free("^minus", r"^straps\.[\w-]+\.(finished|wears)", "a strap of another length"),
    Free("^minus", r"^pieces\.flap\.folds", "a bend half an inch elsewhere, which leather gives", build="backpack"),
    Free(QUARTER, r"^pieces\.[\w-]+\.holes\.\d+\.at", "a hole a little elsewhere, which no other has to meet"),
    Free(QUARTER, r"^trimmings\.[\w-]+\.ready", "a zip of another length"),
    Free(QUARTER, r"^straps\.tab\.width", "a strap that goes through no fitting"),
    Free("^a hole", r"^pieces\.(apron|body)\.landings\.0", "a pocket elsewhere on its panel", build="apron"),
    Free("^a name", r"^pieces\.pouch\.of", "a pocket of another leather"),
    Free(DELETED, ANY, "a lining that its shape tells", was=r"^lines\s*= \[.front., .back.\]", build="coin-pouch"),
    Free("^minus", r"^inside", "a room otherwise than worked out, in which all goes"),
    Free(DELETED, ANY, "a pocket that is not divided", was=r"^dividers\s*="),
    Free(DELETED, ANY, "how hides are sold may be left out: the usual one is reckoned", was=r"^sold\s*="),
    Free(
        DELETED, ANY, "a bar round which a piece is folded: nothing is reckoned from it", was=r"^bar ", build="saddle"
    ),
    Free(DELETED, ANY, "its words tell the kind", was=r'^kind\s*= "screw-post"', build="bottle-carrier"),
    Free(DELETED, ANY, "a roll whose width is not known: less is reckoned", was=r'^width\s*= "\d+ cm"'),
    Free(
        DELETED,
        ANY,
        "one hole of the two that lie on each other once the tab is folded: punched through both, as the field bag's are",
        was=r"punch = .4 mm. \},$",
        build="by hand: bucket",
    ),
    Free(TABLE, ANY, "edges smoothed, on which nothing hangs", was="the work, in order", build="^wallet$"),
    Free(
        "^a name",
        r"^pieces\.(end|sleeve-left|wall-lining|card|note|loop)\.of$",
        "a part or a lining of another material",
    ),
    Free("^a name", r"^straps\.(tether|tail|tie|carry)\.of$", "a strap of another leather, which buckles with none"),
    Free("^a name", r"^steps\.2\.pieces", "both lie under the same dividing lines", build="cable-roll"),
    Free(QUARTER, r"^straps\.loop\.width", "a wider keeper", build="by hand: belt|waist-belt"),
    Free(QUARTER, r"^straps\.slide\.width", "a narrower keeper", build="hound-collar"),
    Free(
        "^a hole",
        r"^pieces\.back\.landings\.0",
        "a welt at the other side of what is the same from either",
        build="^sheath$",
    ),
    Free(
        DELETED,
        ANY,
        "corners that stay sharp, of both layers alike",
        was=r"^round\s*= \{ top-left = .1 1/4 in",
        build="guitar-strap$",
    ),
    Free(QUARTER, r"^straps\.pad\.width", "a pad that goes through no fitting", build="camera-strap"),
    Free(QUARTER, r"^pieces\.(flap|back|body)\.folds", "a bend a quarter inch elsewhere, which leather gives"),
    Free(QUARTER, r"^pieces\.pocket\.folds", "as much turned over", build="by hand: apron"),
    Free(
        "^a hole",
        r"^pieces\.outer\.holes\.0",
        "the hole for a chain or thong at the other end of what is the same from either",
        build="(long-wallet|pencil-roll)$",
    ),
    Free(DELETED, ANY, "a flat handle of one layer, with a row along its edges", was=r"^doubled", build="market-tote"),
    Free(
        DELETED, ANY, "a figure of the shop that may be left out: less is reckoned", was=r"^(thread-price|faults)\s*="
    ),
    Free(DELETED, ANY, "cloth without a nap: its pieces may be turned", was=r"^nap\s*="),
    Free("^a hole", r"^pieces\.cover\.landings\.2", "a pen loop half an inch lower", build="ledger-cover"),
    Free("^a decimal", r"^hardware\.[\w-]+\.inside", "a ring that its strap goes through as well", most=1.25),
    Free("^a decimal", r"^straps\.[\w-]+\.ends\.\d\.slot", "a slot a little shorter", most=1.25),
    Free("^a name", r"^pieces\.pipe\.of", "piping of cloth", build="by hand: crossbody"),
    Free(
        DELETED,
        ANY,
        "the corners of a flap that stay sharp, where no seam follows them",
        was=r"^round\s*=.*2 in",
        build="messenger-bag",
    ),
    Free(
        DELETED, ANY, "the ends of a keeper lie over each other by what is usual", was=r"^overlap\s*=", build="^belt$"
    ),
    Free(
        QUARTER, r"^straps\.[\w-]+\.ends\.\d\.(loop|skive\.over)", "a loop a little smaller, a skive a little shorter"
    ),
    Free("^digits", r"^straps\.[\w-]+\.ends\.\d\.straight", "an end of another shape"),
    Free(f"{QUARTER}|^a decimal", r"^straps\.[\w-]+\.padding\.width", "foam a little narrower, clear of the stitches"),
    Free(DELETED, ANY, "a figure of the fitting that may be left out: less is checked", was=r'^hole\s*= "'),
    Free(DELETED, ANY, "the usual area of such hides is reckoned", was=r"^area\s*="),
    Free(DELETED, ANY, "a variant by itself, in no range", was=r"^axis\s*="),
    Free("^digits", r"^holds", "accepted: the neck stands out of the mouth", build="bottle-carrier"),
    Free("^a count", r"^pieces\.stiffener\.cut", "board behind one of two", now="^1$"),
    Free(QUARTER, r"^pieces\.cuff\.holes\.2", "the second stud elsewhere: a cuff for a larger wrist", build="cuff"),
    Free(TABLE, ANY, "edges smoothed, on which nothing hangs", was=r"^\[\[steps", build="card-sleeve"),
    Free(
        "^a switch",
        r"^pieces\.back\.marks",
        "nothing is marked on its model but what lands, which is said anew",
        build="by hand: satchel",
    ),
    Free(
        "^a switch",
        r"lining\.mirror$",
        "a part as wide to either side: it is the same turned over",
        build="guitar-strap",
    ),
    Free("^a switch", r"\.nap$", "cloth without a nap: its pieces may be turned"),
    Free("^a switch", r"^pieces\.(inside|liner)\.marks$", "a lining that is marked where its model folds"),
    Free(
        f"{QUARTER}|^digits",
        r"^trimmings\.[\w-]+\.(width|length)",
        "goods by length a little wider or longer, by which what they close follows",
        most=SAME_THING,
    ),
    Free("^a count", r"^straps\.[\w-]+\.ends\.\d\.holes\.count", "another number of holes in a row"),
    Free(
        QUARTER, r"^straps\.[\w-]+\.ends\.\d\.(taper|straight|slot)", "an end of another shape, a slot a little longer"
    ),
    Free("^(digits|a decimal)", r"^(holds|inside)", "a thing or a room smaller than that, where all still goes in"),
    Free("^digits", r"lining\.size", "a lining a little smaller than its part", most=SAME_THING),
    Free(
        "^a decimal",
        r"^straps\.[\w-]+\.finished",
        "a strap of another length, which nothing else tells",
        most=SAME_THING,
    ),
    Free(
        "^a length in the other unit",
        r"^straps\.[\w-]+\.finished",
        "a strap of another length: the sum is shorter by what was added",
        was=r"\+",
    ),
    Free(QUARTER, r"^pieces\.back\.holes", "the rivet of a loop a little higher, clear of the edge", build="sheath$"),
    Free(
        QUARTER,
        r"^pieces\.(back|front)\.holes",
        "half of a snap that still meets the other by what leather gives at its bends",
        build="(phone-pouch|clutch)",
    ),
    Free(
        "^a (hole|decimal)",
        r"^(straps|pieces)\.(tail|front)\.(punches|holes)",
        "a hole for the button of a guitar, whose place nothing else tells",
        build="(bass|guitar)-strap",
    ),
    Free(
        "^digits",
        r"^straps\.[\w-]+\.punches\.\d\.at",
        "holes elsewhere on what lies back: punched through both layers once it is turned",
        was="from (start|end)",
    ),
    Free("^a count", r"^hardware\.eyelet\.count", "one to spare of what can be spoiled when it is set", now="^(2|13)$"),
    Free(TABLE, ANY, "the room is worked out from the pieces, and what has to go in goes", was=r"^\[inside\]"),
    Free(DELETED, ANY, "a zip that is bought by length", was=r"^ready\s*="),
    Free(
        QUARTER, r"^straps\.(free|fixed|loop|band)\.overlap", "the ends of a keeper lie over each other a little more"
    ),
    Free("^digits", r"^pieces\.pocket-[lr]\.size", "a pocket a little wider, within what it lies on"),
    Free("^a count", r"^hardware\.post\.count", "no hole says that it takes them: it is asked", build="bass-strap"),
    Free("^digits", r"^stitches\.fine\.thread", "thread a tenth thicker", was="Tex 45 ", now="Tex 54 "),
    Free(
        DELETED,
        ANY,
        "a choice of a range that is the build as it stands",
        was=r"^measures = \{ round",
        build="bucket-bag",
    ),
    Free(DELETED, ANY, "a figure of the shop that may be left out: less is checked", was=r"^(bed|throat)\s*="),
    Free(DELETED, ANY, "the usual back tack is reckoned", was=r"^back-tack\s*="),
    Free(QUARTER, r"^materials\.[\w-]+\.(firm|edge)", "a hide of which a quarter inch more or less is firm"),
    Free(QUARTER, r"^materials\.board\.size", "a sheet of board of another size, out of which all is cut"),
    Free("^a count", r"^stitches\.[\w-]+\.rows", "another number of rows", now="^[123]$"),
    Free(
        "^a switch",
        r"^straps\.handle\.doubled$",
        "a flat handle of one layer, with a row along its edges",
        build="market-tote",
    ),
    Free("^a hole", r"^pieces\.front\.landings\.0", "a pocket higher on its panel", build="by hand: rolltop"),
    Free(
        "^a name left out",
        ANY,
        "where it lands is written, so that the needle goes through it all the same",
        was='^meet: "upper"$',
        build="^wallet$",
    ),
    Free("^a switch", r"^straps\.[\w-]+\.doubled$", "a flat strap of one layer", was="true"),
    Free(
        "^digits", r"^straps\.(bridge|band|grip|wrist)\.width", "a strap that goes through no fitting", most=SAME_THING
    ),
    Free(DELETED, ANY, "a roll whose width is not known: less is reckoned", was=r'^width\s*= "\d{3,4} mm"'),
    Free("^a decimal", r"^pieces\.[\w-]+\.dividers", "a pocket of another width", most=SAME_THING),
    Free("^a decimal", r"^straps\.[\w-]+\.ends\.\d\.straight", "an end of another shape", most=SAME_THING),
    Free("^digits", r"^straps\.[\w-]+\.ends\.\d\.holes\.tip", "a strap of another length", most=SAME_THING),
    Free("^a hole", r"^pieces\.[\w-]+\.laid\.\d\.at", "a zip elsewhere on its panel"),
    Free("^a hole", r"^pieces\.[\w-]*lining\.landings\.0", "a pocket elsewhere on its lining"),
    Free("^a name", r"^pieces\.(body|cover)\.of$", "a panel of another leather"),
    *(
        Free(
            "^thread",
            r"^stitches\.\w+\.thread",
            "heavier thread, as is usual for as much leather",
            now=now,
            build=build,
        )
        for now, build in (
            ("Tex 270", "by hand: wrist"),
            ("Tex 540", "by hand: glasses"),
            ("Tex 135", "by hand: watch"),
        )
    ),
    *(
        Free("^two steps", ANY, reason, was=words, build=build)
        for words, build, reason in (
            ("Punch body and handles", "log-carrier", "both are punched through each other as they lie cemented"),
            (
                "Cement the handles down",
                "log-carrier",
                "its rivets hold each handle before or after the cement and row",
            ),
            ("Glue lining and row to the outer", "pencil-roll", "the knot of the thong lies under the lining then"),
            ("Punch the hole for the thong", "pencil-roll", "the thong goes through outer and lining, knotted within"),
            ("Sew the handle to the body", "short: duffel", "with its zip open the body lies flat again"),
            ("Make the handles and sew them", "market-tote", "at the rim, which stays open above"),
            ("Sew the flap to the back", "short: backpack", "along the rim, which stays open above"),
            ("Sew each end of the yoke", "saddle-bags", "along the rims, which stay open above"),
        )
    ),
)


def why_free_further(build: str, slip: Slip) -> str:
    """The reason why this slip is no mistake that can be known, or an empty string."""
    data = tomllib.loads(slip.text)
    found = [*_of_names(data, slip)]
    if slip.kind == "a name left out of a list":
        found += _of_lists(data, slip)
    if slip.kind.startswith("two steps"):
        steps = data["steps"]
        later = next(at for at, step in enumerate(steps) if at and f'"{step["do"]}"' in slip.was)
        found += _of_order(data, steps[later - 1], steps[later])
    found += [*of_units(slip)]
    if slip.kind == "a whole table deleted" and slip.was == "[[steps]]":
        found += of_steps(data, slip)
    return next(iter(found), "") or next((rule.reason for rule in FURTHER if rule.covers(build, slip)), "")


def _of_lists(data: dict[str, Any], slip: Slip) -> Iterator[str]:
    """Names that are left out of a list."""
    key, _, name = slip.was.partition(": ")
    name = name.strip('"')
    if key == "meet":
        seam = next(one for one in data["seams"].values() if f'"{name}"' not in str(one["meet"]) and _is_at(slip, one))
        left = seam["meet"]
        edges = {
            word for piece in data["pieces"].values() for hem in piece.get("hems", ()) for word in hem["edges"].split()
        }
        if len(left) == 1 and name == left[0].split(":")[0] and edges & {*left[0].split(":")[-1].split()}:
            yield "a row along a turned edge: the hem lies under it"
    steps = data.get("steps", ())
    for at, step in enumerate(steps if key == "hardware" else ()):
        around = any(f'around = "{name}"' in line for line in slip.text.splitlines())
        if _is_at(slip, step) and around and any(name in one.get("hardware", ()) for one in steps[:at]):
            yield "a ring that an earlier step has put in: what goes round it later finds it there"
    for step in data.get("steps", ()) if key in ("pieces", "straps") else ():
        if not _is_at(slip, step):
            continue
        others = [one for one in data["steps"] if one is not step]
        if WORDS_ONLY_RE.match(step["do"]) or any(name in one.get(key, ()) for one in others):
            yield "words of work on a part that another step has in hand"
        if any(name in {side.split(":")[0].split()[0] for side in _sides(data, one)} for one in (step, *others)):
            yield "a part that a seam has in hand all the same"


def _is_at(slip: Slip, table: dict[str, Any]) -> bool:
    """Whether the line that is changed stands in this table."""
    line = slip.text.splitlines()[slip.lines[0] - 1]
    key = line.split("=")[0].strip()
    written = tomllib.loads(line.strip())
    return bool(table.get(key) == written[key])


def _of_names(data: dict[str, Any], slip: Slip) -> Iterator[str]:
    """Names in place of others that say the same."""
    if slip.kind.startswith("a name") and (at := re.fullmatch(r"steps\.(\d+)\.pieces\.\d+", slip.path)):
        step, name = data["steps"][int(at[1])], slip.now.strip('"')
        if WORDS_ONLY_RE.match(step.get("do", "")) and not any(step.get(key) for key in ("hardware", "seams", "joins")):
            yield "edges smoothed or a fold creased on another part, on which nothing hangs"
        both = {name, slip.was.strip('"')}
        if any(both <= _sewn(data, one) for one in data["steps"][: int(at[1]) + 1]):
            yield "both are in hand in that seam, or sewn to each other by then"
    bare = [
        step
        for step in data.get("steps", ())
        if WORDS_ONLY_RE.match(step.get("do", "")) and not step.keys() & {"pieces", "seams"}
    ]
    if slip.kind.startswith("a line deleted") and slip.was.startswith("pieces") and bare:
        yield "edges smoothed or a fold creased, on which nothing hangs"
    if slip.kind.startswith("a name") and slip.path.endswith(".like"):
        now, was = (_shape(data, words.strip('"')) for words in (slip.now, slip.was))
        if now is not None and now == was:
            yield "both have one shape"


def _shape(data: dict[str, Any], name: str) -> object:
    """The piece whose shape this one has; none where they go round in a ring."""
    for _ in data["pieces"]:
        piece = data["pieces"].get(name, {})
        if "like" not in piece or piece.get("mirror"):
            return name
        name = piece["like"]
    return None


def _sewn(data: dict[str, Any], step: dict[str, Any]) -> set[str]:
    return {side.split(":")[0].split()[0] for side in _sides(data, step)}


Step = dict[str, Any]


def _of_order(data: dict[str, Any], one: Step, other: Step) -> Iterator[str]:
    """Two steps that changed places, as they stand now."""
    for sewing, setting in ((one, other), (other, one)):
        if (
            setting.get("seams")
            or setting.get("joins")
            or setting.get("skives")
            or not (sewing.keys() & {"seams", "joins"})
        ):
            continue
        parts = _sewn(data, sewing)
        if len(parts) == 1 and not sewing.get("joins"):
            yield "a row along one part alone, which closes nothing: what is set elsewhere in it may come before or after"
        if setting.get("hardware") and not sewing.get("joins") and _is_lining(data, parts):
            yield "what is set goes through the lining too, as on the field bag, or before it is there: both are worked"
        if not setting.get("hardware") and not sewing.get("joins") and {*setting.get("pieces", [])} == parts:
            yield "what lies glued is punched through all its layers, before it is sewn or after"
    if (
        {*one} | {*other} <= HANDLING
        and len({*one, *other} & {"skives", "pieces"}) == 2
        and not (one.keys() & other.keys() & {"skives"})
    ):
        yield "skived before it is punched, or after"
    hems = [step for step in (one, other) if len(_sewn(data, step)) == 1 and step.get("seams")]
    if (
        len(hems) == 1
        and one.get("seams")
        and other.get("seams")
        and _sewn(data, hems[0]) <= _flat(data, one) & _flat(data, other)
    ):
        yield "a hem, and a pocket elsewhere on the same panel: both orders can be worked"
    if other.get("hardware") and not (other.keys() & {"seams", "joins", "skives"}) and one.keys() & {"seams", "joins"}:
        yield "set in what is closed by then, within the reach of a setter: farther in, it is told"


def _flat(data: dict[str, Any], step: Step) -> set[str]:
    """The parts that lie flat in what a step sews."""
    return {side for side in _sides(data, step) if ":" not in side}


def _sides(data: dict[str, Any], step: Step) -> list[str]:
    seams = data.get("seams", {})
    return [side for seam in step.get("seams", []) for side in seams.get(seam, {}).get("meet", ())]


def _is_lining(data: dict[str, Any], parts: set[str]) -> bool:
    """Whether these are one part and what lines it."""
    pieces = data["pieces"]
    return any(parts == {name, pieces[name].get("like")} for name in parts if name in pieces)
