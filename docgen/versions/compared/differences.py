"""Two builds -> every part that was added, removed or changed, in the maker's terms."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import fields as dataclass_fields
from dataclasses import is_dataclass
from difflib import SequenceMatcher
from typing import Any, Final

from docgen.resolve import Build, Join, Piece, Seam, Step, Strap
from docgen.tables.limits import list_limits
from docgen.versions.compared.alike import is_alike, is_equal, is_near
from docgen.versions.compared.changes import Change, Fact, Known, Unit
from docgen.versions.compared.pieces import compare_piece, compare_stitch_holes, frames_of

Fields = Sequence[tuple[str, str, Unit]]
"""Name for a person, name of the field, and what it is."""

NOT_COMPARED: Final = frozenset(
    (
        "name",
        "layers",
        "thinnest_mm",
        "thickest_mm",
        "landed",
        "strength_n",
        "eased_mm",
        "thread_tex",
        "thread_fibre",
        "thread_strength_n",
        "holes_mm",
        "is_point_given",
        "lining_length_mm",
    )
)
"""Names of what identifies a part, or follows from other figures that are told."""

TOLD_HEAD: Final = (
    "version",
    "changed",
    "digest",
    "source_name",
    "source",
    "files",
    "shop",
    "printing",
    "materials",
    "stitches",
    "pieces",
    "joins",
    "seams",
    "straps",
    "hardware",
    "steps",
    "care",
    "cautions",
    "accepted",
    "fittings",
    "weights",
    "unweighed",
    "solved_measures",
    "limits",
)
TOLD_PIECE: Final = (
    "is_pair",
    "shape",
    "outline",
    "holes",
    "notches",
    "folds",
    "slits",
    "skives",
    "landings",
    "stitch_lines",
    "drawn",
    "is_strap",
    "is_solved",
)
TOLD_STRAP: Final = ("worn_mm", "hole_tips_mm", "ends", "piece", "thickness_mm")

HEAD: Final[Fields] = (
    ("code", "code", "words"),
    ("title", "title", "words"),
    ("makes in a batch", "makes", "count"),
    ("unit shown first", "show", "words"),
)
SHOP: Final[Fields] = (("name", "name", "words"), ("contact", "contact", "words"), ("link", "link", "words"))
PRINTING: Final[Fields] = (
    ("paper", "paper", "words"),
    ("margin", "margin_mm", "length"),
    ("overlap of sheets", "overlap_mm", "length"),
)
LIMITS: Final[Fields] = tuple(
    (told.title, name, "share" if told.kind == "percent" else "length") for name, _, told in list_limits() if told.title
)
MATERIAL: Final[Fields] = (
    ("title", "title", "words"),
    ("kind", "kind", "words"),
    ("tannage", "tannage", "words"),
    ("finish", "finish", "words"),
    ("thickness", "thickness_words", "words"),
    ("waste", "waste", "share"),
    ("width of the goods", "roll_width_mm", "length"),
    ("note", "note", "words"),
)
STITCH: Final[Fields] = (
    ("sewn by", "by", "words"),
    ("type", "type", "words"),
    ("thread", "thread_words", "words"),
    ("needle", "needle_nm", "needle"),
    ("stitch length", "pitch_mm", "pitch"),
    ("line in from the edge", "inset_mm", "length"),
    ("rows", "rows", "count"),
    ("rows apart", "row_gap_mm", "length"),
    ("back-tack", "back_tack_mm", "length"),
)
PIECE: Final[Fields] = (
    ("title", "title", "words"),
    ("cut from", "material", "words"),
    ("number to cut", "cut", "count"),
    ("note", "note", "words"),
)
JOIN: Final[Fields] = (
    ("title", "title", "words"),
    ("overlap", "overlap_mm", "length"),
    ("stitch", "stitch", "words"),
    ("rows", "rows", "count"),
    ("length", "length_mm", "length"),
    ("width", "width_mm", "length"),
    ("all layers together", "stack_mm", "length"),
)
SEAM: Final[Fields] = (
    ("title", "title", "words"),
    ("stitch", "stitch", "words"),
    ("length", "length_mm", "length"),
    ("stitches", "stitches", "count"),
    ("all layers together", "stack_mm", "length"),
)
STRAP: Final[Fields] = (
    ("title", "title", "words"),
    ("cut from", "material", "words"),
    ("number to cut", "cut", "count"),
    ("width", "width_mm", "length"),
    ("cut length", "cut_length_mm", "length"),
    ("finished length", "finished_mm", "length"),
    ("punch", "punch_mm", "length"),
    ("partner", "partner", "words"),
    ("stitch", "stitch", "words"),
    ("note", "note", "words"),
)
HARDWARE: Final[Fields] = (
    ("what", "what", "words"),
    ("number", "count", "count"),
    ("finish", "finish", "words"),
    ("inside", "inside_mm", "length"),
    ("bar", "bar_mm", "length"),
    ("note", "note", "words"),
)
STEP: Final[Fields] = (("do", "do", "words"), ("group", "group", "words"), ("note", "note", "words"))
STEP_LISTS: Final = ("pieces", "skives", "joins", "seams", "straps", "hardware", "tools")
CARE: Final[Fields] = (("card", "card", "words"), ("extra", "extra", "words"), ("repair", "repair", "words"))


def list_changes(before: Build, after: Build) -> tuple[Change, ...]:
    """All that changed, part by part, pieces first; the version, its digest and its note of change do not count."""
    return (
        *_single("spec", before, after, HEAD, (*TOLD_HEAD, *_further(after))),
        *_named("piece", before.pieces, after.pieces, _piece_facts),
        *_named("strap", before.straps, after.straps, _strap_facts),
        *_named("join", before.joins, after.joins, _join_facts),
        *_named("seam", before.seams, after.seams, _seam_facts),
        *_named(
            "material",
            before.materials,
            after.materials,
            lambda a, b: compare_fields(a, b, MATERIAL, ("thickness_mm",)),
        ),
        *_named(
            "stitch",
            before.stitches,
            after.stitches,
            lambda a, b: compare_fields(a, b, STITCH, ("thread_tex", "thread_fibre")),
        ),
        *_named("hardware", before.hardware, after.hardware, _hardware_facts),
        *_steps(before.steps, after.steps),
        *_single("care card", before.care, after.care, CARE),
        *_single("shop", before.shop, after.shop, SHOP),
        *_single("pattern", before.printing, after.printing, PRINTING),
        *_single("limits", before.limits, after.limits, LIMITS),
        *_further_changes(before, after),
    )


def _further(build: Build) -> list[str]:
    """Fields of a build that hold parts of kinds not listed above."""
    return [
        item.name
        for item in dataclass_fields(build)
        if item.name not in TOLD_HEAD and not isinstance(getattr(build, item.name), str | int | float)
    ]


def _further_changes(before: Build, after: Build) -> list[Change]:
    """Their changes, field by field under its own name."""
    changes: list[Change] = []
    for field in _further(after):
        old, new = getattr(before, field), getattr(after, field)
        if is_dataclass(old) and is_dataclass(new):
            changes += _single(_plain(field), old, new, ())
        elif isinstance(old, tuple) and isinstance(new, tuple) and _are_named(*old, *new):
            changes += _named(_plain(field).removesuffix("s"), old, new, lambda a, b: compare_fields(a, b, ()))
        elif not is_alike(old, new):
            fact = Fact(name=_plain(field), before=_tell(old), after=_tell(new), unit="words")
            changes.append(Change(part="spec", name="", title="", how="changed", facts=(fact,)))
    return changes


def _are_named(*items: object) -> bool:
    return all(hasattr(item, "name") for item in items)


def compare_fields(before: Any, after: Any, fields: Fields, told: Iterable[str] = ()) -> list[Fact]:
    """The fields that differ; lengths by more than 0.05 mm.

    A field that neither `fields` names nor `told`, which are told otherwise, is compared under its own name, so
    that none is ever forgotten.
    """
    known = {field for _, field, _ in fields} | set(told) | NOT_COMPARED
    others = [item.name for item in dataclass_fields(before) if item.name not in known]
    rest = [(_plain(name), name, _unit_of(getattr(after, name), name)) for name in others if "place" not in name]
    facts = []
    for name, field, unit in (*fields, *rest):
        was, now = getattr(before, field), getattr(after, field)
        if not (is_alike(was, now) if unit == "length" else is_equal(was, now)):
            facts.append(Fact(name=name, before=_tell(was), after=_tell(now), unit=unit))
    return facts


def _plain(field: str) -> str:
    return field.removesuffix("_mm").removeprefix("is_").removeprefix("has_").replace("_", " ")


def _unit_of(value: object, field: str) -> Unit:
    return "length" if isinstance(value, float) and field.endswith("_mm") else "words"


def _tell(value: object) -> Known:
    """A value as a fact carries it; several in one line, a part by its own words."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if value is None or isinstance(value, str | int | float):
        return value
    if isinstance(value, tuple):
        return ", ".join(str(_tell(item)) for item in value)
    if is_dataclass(value) and hasattr(value, "words"):
        return str(value.words)
    if is_dataclass(value):
        parts = (_tell(getattr(value, item.name)) for item in dataclass_fields(value) if "place" not in item.name)
        return " ".join(str(part) for part in parts if part not in (None, ""))
    return str(value)


def _words_fact(name: str, before: Iterable[str], after: Iterable[str]) -> list[Fact]:
    was, now = ", ".join(before), ", ".join(after)
    return [Fact(name=name, before=was, after=now, unit="words")] if was != now else []


def _single(part: str, before: Any, after: Any, fields: Fields, told: Iterable[str] = ()) -> list[Change]:
    facts = tuple(compare_fields(before, after, fields, told))
    return [Change(part=part, name="", title="", how="changed", facts=facts)] if facts else []


def _named(
    part: str, before: Iterable[Any], after: Iterable[Any], facts_of: Callable[[Any, Any], list[Fact]]
) -> list[Change]:
    """Parts by their names: one under another name is another part."""
    old, new = {item.name: item for item in before}, {item.name: item for item in after}
    changes = []
    for name in dict.fromkeys((*new, *old)):
        item = new.get(name, old.get(name))
        title = getattr(item, "title", "") or getattr(item, "what", "")
        if name not in old or name not in new:
            how = "removed" if name in old else "added"
            changes.append(Change(part=part, name=name, title=title, how=how))  # type: ignore[arg-type]
        elif facts := facts_of(old[name], new[name]):
            changes.append(Change(part=part, name=name, title=title, how="changed", facts=tuple(facts)))
    return changes


def _piece_facts(before: Piece, after: Piece) -> list[Fact]:
    return [
        *compare_fields(before, after, PIECE, TOLD_PIECE),
        *_words_fact("half of them mirrored", ["yes"] * before.is_pair or ["no"], ["yes"] * after.is_pair or ["no"]),
        *compare_piece(before, after),
    ]


def _strap_facts(before: Strap, after: Strap) -> list[Fact]:
    facts = compare_fields(before, after, STRAP, TOLD_STRAP)
    if len(before.hole_tips_mm) != len(after.hole_tips_mm):
        facts.append(Fact(name="holes", before=len(before.hole_tips_mm), after=len(after.hole_tips_mm), unit="count"))
    elif not all(map(is_near, before.hole_tips_mm, after.hole_tips_mm)):
        facts += _row_facts(before, after)
    if len(before.worn_mm) == len(after.worn_mm) == 3:
        facts += [
            Fact(name=name, before=was, after=now, unit="length")
            for name, was, now in zip(
                ("worn, shortest", "worn, middle", "worn, longest"), before.worn_mm, after.worn_mm, strict=True
            )
            if not is_near(was, now)
        ]
    facts += compare_stitch_holes(before.piece, after.piece, frames_of(before.piece, after.piece))
    return facts + _words_fact("ends", map(_end_words, before.ends), map(_end_words, after.ends))


def _row_facts(before: Strap, after: Strap) -> list[Fact]:
    """A row of holes as it is punched: the first from the tip, and how far apart."""
    was, now = sorted(before.hole_tips_mm), sorted(after.hole_tips_mm)
    facts = []
    if not is_near(was[0], now[0]):
        facts.append(Fact(name="first hole from the tip", before=was[0], after=now[0], unit="length"))
    if len(was) > 1 and not is_near(was[1] - was[0], now[1] - now[0]):
        facts.append(Fact(name="holes apart", before=was[1] - was[0], after=now[1] - now[0], unit="length"))
    return facts


def _end_words(end: Any) -> str:
    words = f"{end.shape} {end.back_mm:.1f} mm back" if end.back_mm else str(end.shape)
    return f"{words} round {end.around}" if end.around else words


def _join_facts(before: Join, after: Join) -> list[Fact]:
    return [*_words_fact("strips", before.pieces, after.pieces), *compare_fields(before, after, JOIN, ("pieces",))]


def _seam_facts(before: Seam, after: Seam) -> list[Fact]:
    return [
        *_words_fact("meets", _sides(before), _sides(after)),
        *compare_fields(before, after, SEAM, ("sides", "pitch_mm", "holes")),
    ]


def _sides(seam: Seam) -> list[str]:
    return [f"{side.part}: {' '.join(side.edges)}" if side.edges else side.part for side in seam.sides]


def _hardware_facts(before: Any, after: Any) -> list[Fact]:
    posts = [[f"{post:.1f} mm" for post in item.posts_mm] for item in (before, after)]
    return [*compare_fields(before, after, HARDWARE, ("posts_mm",)), *_words_fact("posts", *posts)]


def _steps(before: Sequence[Step], after: Sequence[Step]) -> list[Change]:
    """Steps by what they say to do: added, removed, or changed in place."""
    changes = []
    matcher = SequenceMatcher(None, [step.do for step in before], [step.do for step in after], autojunk=False)
    for tag, i, i_end, k, k_end in matcher.get_opcodes():
        both = min(i_end - i, k_end - k)
        for step in range(both):
            if facts := _step_facts(before[i + step], after[k + step]):
                name = str(k + step + 1)
                changes.append(
                    Change(part="step", name=name, title=after[k + step].do, how="changed", facts=tuple(facts))
                )
        if tag != "equal":
            changes += [
                Change(part="step", name=str(place + 1), title=before[place].do, how="removed")
                for place in range(i + both, i_end)
            ]
            changes += [
                Change(part="step", name=str(place + 1), title=after[place].do, how="added")
                for place in range(k + both, k_end)
            ]
    return changes


def _step_facts(before: Step, after: Step) -> list[Fact]:
    facts = compare_fields(before, after, STEP, STEP_LISTS)
    for name in STEP_LISTS:
        facts += _words_fact(name, getattr(before, name), getattr(after, name))
    return facts
