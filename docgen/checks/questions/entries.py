"""Figures that agree elsewhere in the same spec: where an entry is like another in all that it says but one, that is asked.

An entry is a table with a name, or an item of a list of pieces and straps. One is like another where both say the same
keys; a slip is what sets it apart by a key, by one figure, by a sign in a sum or by the side that it is measured from.
"""

import re
from collections import Counter, defaultdict
from collections.abc import Callable, Hashable, Iterator, Sequence, Set
from dataclasses import fields, is_dataclass
from functools import cache
from itertools import chain, islice
from typing import Any, Final, NamedTuple, cast

from docgen.checks.questions.places import PLACE_RE
from docgen.checks.questions.question import Question, question
from docgen.checks.sizes_said import plain_mm
from docgen.checks.trade import Subject
from docgen.geometry.outline import ACROSS_STRIPS
from docgen.problems import Place
from docgen.read import Value

MOST_ENTRIES: Final = 120  # of a longer list nothing is asked: rows of holes of a stranger's file
MOST_LEAVES: Final = 40
LEAST_LEAVES: Final = 3  # so many values make an entry like another, its size among them, or one more: our choice
LEAST_OF_HEM: Final = 2  # its edges, and how far it is turned
LEAST_OF_SIZE: Final = 5  # material, shape and one way alone agree by chance
LEAST_APART_MM: Final = 3.0  # a lid goes over its box by less; the most is a limit
FAR: Final = 5.0  # so many times as large as its like a figure has lost a digit, or is in another unit: our choice
UNSAID: Final = frozenset({"name", "title", "note", "what", "group", "place", "wrong"})
# What a like entry may leave out and be as right: what goes through it, which end or way is meant, what is reckoned.
LEFT_FREELY: Final = frozenset([
    "cut", "dividers", "end", "holes", "hole_rows", "drawn_holes", "inset", "landings", "lap", "leads", "like",
    "load", "marks", "mirror", "lines", "of", "pair", "long", "price", "shape", "size", "takes", "through", "tongue",
    "weight", "width_range", "template", "shows", "notches", "finished", "wears", "keeper_for", "straps", "posts",
    "count", "bar", "inside"
])  # fmt: skip
OTHER_THINGS: Final = frozenset({"keeper_for", "like", "kind", "by"})  # unlike in these is another thing
UNLIKE_FREELY: Final = frozenset({"inset", "bar", "inside", "thickness", "posts", "ready", "punch", "points"})
TERM_RE: Final = re.compile(r"(?:^|(?<=\s))([+-] )?([a-z][a-z0-9-]*)(?![\w-])")
FIGURE_RE: Final = re.compile(r"(?<=\s)([+-]) \d[\d./ ]*(?:mm|cm|in)?$")
ADDED_RE: Final = re.compile(r"([a-z][a-z0-9-]*) ([+-]) (\d[\d./ ]*(?:mm|in))")
LEAST_SIGNS: Final = 2
UNIT_RE: Final = re.compile(r"^(\d+(?:\.\d+)?) (mm|in|oz)$")
FALSE_UNSAID: Final = ("turned", "inside", "doubled", "open", "double", "pair", "mirror", "ring")
MIRRORED: Final = {"right": "left", "top": "bottom", "end": "start"}
LISTS: Final = ("holes", "hole_rows", "landings", "folds", "hems", "skives", "slits", "ends", "punches")


Terms = tuple[tuple[str, bool], ...]


class Leaf(NamedTuple):
    """One value of an entry: the keys that lead to it, and, of a place, which of its parts."""

    path: tuple[str, ...]
    words: str
    place: Place


class Entry(NamedTuple):
    """What stands in one table: where, how it is called, the keys that it has, and its values."""

    place: Place
    called: str
    keys: frozenset[str]
    leaves: tuple[Leaf, ...]
    size: tuple[str, ...] = ()  # of the piece in whose list it stands
    is_item: bool = False  # of such a list


@question
def ask_entries(subject: Subject) -> Iterator[Question]:
    """Entries that say all but one key or figure as their like does; one question at a place."""
    asked: set[Place] = set()
    near_mm = (LEAST_APART_MM, subject.build.limits.nearly_alike_mm)
    folded = {f'"{end.keeper.value}"' for strap in subject.spec.straps for end in strap.ends if end.keeper}
    for entries in _families(subject):
        if len(entries) <= MOST_ENTRIES:
            found = (
                _ask_left_out(entries, folded),
                _ask_apart(subject, entries, near_mm),
                _ask_units(entries),
                _ask_flags(entries),
            )
            for question in chain.from_iterable(found):
                if question.place not in asked:
                    asked.add(question.place)
                    yield question


def _families(subject: Subject) -> Iterator[list[Entry]]:
    """Entries that may be like each other: tables of one kind, and items of one list over all pieces or straps."""
    for tables in (
        subject.spec.pieces,
        subject.spec.straps,
        subject.spec.joins,
        subject.spec.seams,
        subject.spec.trimmings,
        subject.spec.stitches,
    ):
        yield [_entry(table, f'"{table.name}"') for table in tables[: MOST_ENTRIES + 1]]
    for tables in (subject.spec.pieces, subject.spec.straps):
        for key in LISTS:
            items = [
                (item, f'"{table.name}"', tuple(one.value for one in getattr(table, "size", ())))
                for table in tables
                if isinstance(getattr(table, key, None), tuple)
                for item in getattr(table, key)[: MOST_ENTRIES + 1]
            ]
            yield [_entry(*item)._replace(is_item=True) for item in items[: MOST_ENTRIES + 1]]


def _entry(table: object, called: str, size: tuple[str, ...] = ()) -> Entry:
    leaves = tuple(islice(_leaves(table, ()), MOST_LEAVES))
    keys = frozenset(name for name in _said(cast(Hashable, type(table))) if getattr(table, name) not in (None, ()))
    return Entry(getattr(table, "place", Place()), called, keys, leaves, size)


def _leaves(item: object, path: tuple[str, ...]) -> Iterator[Leaf]:
    if isinstance(item, Value):
        words = str(item.value)
        parts = words.split(", ") if path and path[-1] in ("at", "start", "end") else [words]
        for number, part in enumerate(parts):
            yield Leaf((*path, str(number)), part, item.place)
    elif isinstance(item, tuple):
        for number, one in enumerate(item):
            yield from _leaves(one, (*path, str(getattr(one, "name", "") or number)))
    elif is_dataclass(item):
        for name in _said(cast(Hashable, type(item))):
            value = getattr(item, name)
            if value not in (None, ()):
                yield from _leaves(value, (*path, name))


@cache
def _said(kind: Any) -> tuple[str, ...]:
    """The keys of a class of tables that say something of the thing itself."""
    return tuple(field.name for field in fields(kind) if field.name not in UNSAID)


def _ask_left_out(entries: Sequence[Entry], folded: Set[str]) -> Iterator[Question]:
    """Entries that lack one key of another that says the same in all but one besides; none where a third lacks it too, and
    no stitch of a keeper that lies folded in an end."""
    by_keys = defaultdict(list)
    for entry in entries:
        by_keys[entry.keys].append(entry)
    for keys, alone in by_keys.items():
        if len(alone) != 1:
            continue
        for key in sorted(frozenset().union(*by_keys) - keys - LEFT_FREELY):
            full = [other for other in by_keys.get(keys | {key}, ()) if _is_like(alone[0], other)]
            is_flat = key == "turned" and any(
                ":" not in leaf.words for leaf in alone[0].leaves if leaf.path[0] == "meet"
            )
            if key == "around":  # tabs of one size hold rings of one size
                full = [other for other in full if other.size == alone[0].size]
            if full and not is_flat and not (key == "stitch" and alone[0].called in folded):
                word = key.replace("_", "-")
                what = f"nothing says {word} of {alone[0].called}, and all else as of {full[0].called}, which says it"
                value = "true" if key in FALSE_UNSAID else "..."
                answer = f"write {word} = {value} for both; where it is meant so there is nothing to do"
                yield Question(place=alone[0].place, what=what, answer=answer)
                break


def _is_like(one: Entry, other: Entry) -> bool:
    """Whether what both say is the same in all but one key, and in one at least: of pieces, of which many are rectangles of
    one leather, and of items of two lists in all, and no other thing is named there; seams meet like edges."""
    words = {leaf.path: leaf.words for leaf in other.leaves}
    unlike = {leaf.path[0] for leaf in one.leaves if words.get(leaf.path) != leaf.words}
    is_strict = (
        "shape" in one.keys or (one.is_item and one.called != other.called) or not unlike.isdisjoint(OTHER_THINGS)
    )
    if "meet" in unlike and _met(one) != _met(other):
        return False
    return len(unlike) < len(one.keys) and len(unlike) <= (not is_strict)


def _met(seam: Entry) -> list[str]:
    """The edges that a seam meets, those of one side of a part as those of the other."""
    meets = [leaf.words.partition(":")[2].split() for leaf in seam.leaves if leaf.path[0] == "meet"]
    return sorted(" ".join(sorted(MIRRORED.get(word, word) for word in words)) for words in meets)


def _ask_apart(subject: Subject, entries: Sequence[Entry], near_mm: tuple[float, float]) -> Iterator[Question]:
    """Figures that alone set an entry apart from another, and nearly agree with it, or are many times as large."""
    groups: dict[object, list[tuple[Entry, Leaf]]] = defaultdict(list)
    for entry in entries:
        evens = [(one.path, _even(one.words) if one.path[0] != "end" else "") for one in entry.leaves]
        for number, leaf in enumerate(entry.leaves):
            least = {"size": LEAST_OF_SIZE, "turn": LEAST_OF_HEM}.get(leaf.path[0], LEAST_LEAVES)
            if UNLIKE_FREELY.isdisjoint(leaf.path) and len(entry.leaves) >= least:
                rest = tuple(one for k, one in enumerate(evens) if k != number and one[0][0] != "end")
                groups[leaf.path, _side(entry, leaf), rest].append((entry, leaf))
    for found in groups.values():
        counts = Counter(_even(leaf.words) for _, leaf in found)
        if len(counts) != 2:
            continue
        (_, often), (odd, seldom) = counts.most_common()
        is_odd = odd if often > seldom else _even(found[-1][1].words)
        entry, leaf = next(one for one in reversed(found) if _even(one[1].words) == is_odd)
        other = next(one for one in found if _even(one[1].words) != is_odd)
        mm, other_mm = _mm(leaf), _mm(other[1])
        side = _side_of(leaf)
        is_place = bool(side) and side == _side_of(other[1])
        deep = entry if mm > other_mm else other[0]
        is_mouth = any(one.path[0] == "edges" and one.words == "top" for one in deep.leaves)
        # Hems that meet are as deep as each other, but for a deeper one at the mouth of a pocket.
        is_alone = leaf.path[0] == "turn" and entry.called == other[0].called and not is_mouth
        if seldom == 1 and leaf.path[-2] == "count" and abs(int(leaf.words) - int(other[1].words)) == 1:
            what = f"{entry.called} has {leaf.words} here, and {other[0].called}, like it in all else, {other[1].words}"
            answer = "look at both counts; where they are meant to be unlike there is nothing to do"
            yield Question(place=leaf.place, what=what, answer=answer)
        most_mm = subject.build.limits.marks_askew_mm if side and not is_place else near_mm[1]
        is_slip = leaf.path[0] != "turn" and _is_slip(mm, other_mm, (near_mm[0], most_mm), is_place=is_place)
        is_same_place = entry.called == other[0].called and _is_place_besides(entry, leaf, *other)
        if seldom == 1 and (is_alone or is_slip) and not is_same_place:
            one, two = map(subject.length, (mm, other_mm))
            what = f"{entry.called} says {one} here, and {other[0].called}, like it in all else, {two}"
            answer = "look at both figures; where they are meant to be unlike there is nothing to do"
            yield Question(place=leaf.place, what=what, answer=answer)


def _is_place_besides(entry: Entry, leaf: Leaf, other: Entry, its: Leaf) -> bool:
    """Whether two entries of one thing would stand at one place if they agreed in a figure: they are two in a row."""
    rest = [
        {one.path: one.words for one in e.leaves if one.path != mine.path} for e, mine in ((entry, leaf), (other, its))
    ]
    return leaf.path[0] in ("at", "start", "end") and _side_of(leaf) == _side_of(its) and rest[0] == rest[1]


def _side(entry: Entry, leaf: Leaf) -> str:
    """The side that a place is measured from; of left and right, which are mirrored, the first, of what lands of all two
    that face each other."""
    side = _side_of(leaf)
    return MIRRORED.get(side, side) if side == "right" or "strap" in entry.keys else side


def _side_of(leaf: Leaf) -> str:
    found = PLACE_RE.match(leaf.words)
    return found[2] if found else ""


def _even(words: str) -> str:
    """The words, where two places that are mirrored have the same."""
    if words in ACROSS_STRIPS:
        return min(words, ACROSS_STRIPS[words])
    found = PLACE_RE.match(words)
    return f"{found[1]} from {min(found[2], ACROSS_STRIPS[found[2]])}" if found else words


def _mm(leaf: Leaf) -> float:
    found = PLACE_RE.match(leaf.words)
    return plain_mm(found[1] if found else leaf.words)


def _is_slip(one_mm: float, other_mm: float, near_mm: tuple[float, float], *, is_place: bool) -> bool:
    least_mm, most_mm = sorted((one_mm, other_mm))
    is_far = not is_place and most_mm >= FAR * least_mm
    return least_mm > 0 and (near_mm[0] <= most_mm - least_mm <= near_mm[1] or is_far)


def _ask_units(entries: Sequence[Entry]) -> Iterator[Question]:
    """One figure that stands under one key in two units; the one that is seldom is asked, else the later."""
    figures: dict[tuple[tuple[str, ...], str], list[tuple[str, Leaf]]] = defaultdict(list)
    for entry in entries:
        for leaf in entry.leaves:
            found = UNIT_RE.match(leaf.words)
            if found and leaf.path[0] not in LISTS:  # their items are entries by themselves
                figures[leaf.path, found[1]].append((found[2], leaf))
    for written in figures.values():
        often = Counter(unit for unit, _ in written).most_common()
        if len(often) > 1:
            usual = often[0][0] if often[0][1] > often[1][1] else written[0][0]
            odd = next(leaf for unit, leaf in reversed(written) if unit != usual)
            other = next(leaf for unit, leaf in written if unit == usual)
            what = f'"{odd.words}" stands here, and "{other.words}" in line {other.place.line} of its like'
            yield Question(place=odd.place, what=what, answer="look at the unit of both")


def _ask_flags(entries: Sequence[Entry]) -> Iterator[Question]:
    """Flags that are written as false, which says nothing new, where the others of that list are true."""
    flags: dict[tuple[str, ...], list[Leaf]] = defaultdict(list)
    for leaf in (leaf for entry in entries for leaf in entry.leaves if leaf.words in ("True", "False")):
        flags[leaf.path].append(leaf)
    for path, found in flags.items():
        odd = [leaf for leaf in found if leaf.words == "False"]
        if len(odd) == 1 and len(found) > len(odd) and path[-2] in FALSE_UNSAID:
            what = f"{path[-2]} = false says what counts without it, and true stands in line "
            other = next(leaf for leaf in found if leaf.words == "True")
            answer = "write true where it is meant; else there is nothing to do"
            yield Question(place=odd[0].place, what=f"{what}{other.place.line}", answer=answer)


@question
def ask_sums(subject: Subject) -> Iterator[Question]:
    """Places of a piece that are sums of the same measures: all from one side with the same signs, but one."""
    for piece in subject.spec.pieces:
        leaves = [leaf for leaf in _leaves(piece, ()) if PLACE_RE.match(leaf.words)][:MOST_ENTRIES]
        asked: set[Place] = set()
        for odd, other in chain(_odd_sums(leaves, _terms), _odd_sums(leaves, _signed)):
            if odd.place not in asked:
                asked.add(odd.place)
                what = f'"{odd.words}" of "{piece.name}" has the measures of "{other.words}", and is written otherwise'
                answer = "look at its signs and its side; where it is meant so there is nothing to do"
                yield Question(place=odd.place, what=what, answer=answer)


@question
def ask_signs(subject: Subject) -> Iterator[Question]:
    """A measure with a figure behind it that is taken away in one place of the whole spec, and added in all others; or
    the other way about."""
    found: dict[tuple[str, str], dict[str, list[Leaf]]] = {}
    for item in (*subject.spec.pieces, *subject.spec.straps):
        for leaf in islice(_leaves(item, ()), MOST_ENTRIES):
            for name, sign, figure in ADDED_RE.findall(leaf.words):
                found.setdefault((name, figure), {}).setdefault(sign, []).append(leaf)
    for (name, figure), signs in found.items():
        few, many = sorted(signs.values(), key=len) if len(signs) == 2 else ([], [])
        if len(few) == 1 and len(many) >= LEAST_SIGNS:
            sign = next(sign for sign, leaves in signs.items() if leaves is many)
            word = "added" if sign == "+" else "taken away"
            what = f'"{name}" has {figure} {word} in {len(many)} places, and otherwise here'
            answer = "look at its sign; where it is meant so there is nothing to do"
            yield Question(place=few[0].place, what=what, answer=answer)


def _odd_sums(leaves: Sequence[Leaf], read: Callable[[str], Terms]) -> Iterator[tuple[Leaf, Leaf]]:
    """The one place that is summed otherwise than the others of its measures, and the first of those."""
    sums: dict[tuple[object, ...], list[tuple[str, Terms, Leaf]]] = defaultdict(list)
    for leaf in leaves:
        found = PLACE_RE.match(leaf.words)
        terms = read(found[1]) if found else ()
        if found and len(terms) > 1:
            axis = min(found[2], ACROSS_STRIPS[found[2]])
            sums[axis, tuple(name for name, _ in terms)].append((found[2], terms, leaf))
    for of_one in sums.values():
        counts = Counter((side, terms) for side, terms, _ in of_one)
        if len(counts) == 2 and counts.most_common()[0][1] > 1 == counts.most_common()[1][1]:
            usual, odd = (key for key, _ in counts.most_common())
            yield (
                next(leaf for side, terms, leaf in of_one if (side, terms) == odd),
                next(leaf for side, terms, leaf in of_one if (side, terms) == usual),
            )


def _terms(words: str) -> Terms:
    """The measures of a sum, each with whether it is taken away."""
    return tuple(
        (name, sign.startswith("-")) for sign, name in TERM_RE.findall(words) if name not in ("in", "mm", "cm")
    )


def _signed(words: str) -> Terms:
    """The measures of a sum that ends with a figure, and that figure without how large it is; nothing of another sum."""
    found = FIGURE_RE.search(words)
    return (*_terms(words), ("", found[1] == "-")) if found else ()
