"""Checks of hardware: posts, counts, and items that nothing takes."""

from collections import Counter
from collections.abc import Iterator
from functools import cached_property
from itertools import pairwise

from docgen.assemble import Fastened, wanted_pressed
from docgen.checks.trade.check import PRACTICE, Found, Subject, check
from docgen.checks.trade.copies import (
    find_empty_landings,
    find_lone_copies,
    find_too_few_holes,
    find_unfilled_holes,
    find_unreached_copies,
)
from docgen.checks.trade.ends_closed import count_closing
from docgen.checks.trade.fast import find_uneven_copies
from docgen.checks.trade.fittings import count_holders, tell_held
from docgen.checks.trade.folded_pairs import find_alone_when_folded, find_missing_folds
from docgen.checks.trade.holes import find_holes_apart
from docgen.checks.trade.instead import find_exchanged_ends, find_exchanged_folds, find_exchanged_holes
from docgen.checks.trade.pairs import find_askew_marks
from docgen.problems import count_words, line_words, list_words, shorten
from docgen.resolve import Hardware, by_name, closes_end
from docgen.tables.hardware import POST_SLACK_MM, count_spares, find_kind, find_slack_mm, miss_post
from docgen.written.units.telling import format_mm

COUNTED = (
    find_empty_landings,
    find_too_few_holes,
    find_unreached_copies,
    find_unfilled_holes,
    find_lone_copies,
    find_uneven_copies,
    find_missing_folds,
)
SPARES = "; a few spares may be counted with them"
OTHERWISE = "; or look at how many are cut of each part, and at its holes"


@check(
    "post-length",
    "A post from the drawer is longer than its stack: a rivet's by {rivet_over}, "
    "a tubular rivet's by {tubular_rivet_over}, a snap's by {snap_over}; of these "
    f"{format_mm(POST_SLACK_MM)} more or less will do.",
    PRACTICE,
    needs_whole=True,
    waits_for=("thickness-unusual", "thickness-in-other-unit", "hardware-unusual", "lining-thicker"),
    gives_way=(
        "hole-on-fold",
        "strap-end-unpunched",
        "hole-without-mate",
        "twins-lead-unlike",
        "fold-missing",
        "fold-between-parts",
        "landing-across-fold",
    ),
)
def find_wrong_posts(subject: Subject) -> Iterator[Found]:
    hardware = by_name(subject.build.hardware)
    told: set[tuple[str, str]] = set()
    missed = {name for _, _, _, name in find_holes_apart(subject)}
    for fitting in subject.build.assembly.fastened:
        item = hardware[fitting.hardware]
        if (
            fitting.part in missed
            or fitting.place in subject.odd_punches
            or _is_misfolded(subject, item, fitting)
            or fitting.post_least_mm <= 0
            or not item.posts_mm
        ):
            continue
        if fitting.post_mm:
            yield from _miss_pressed(subject, item, fitting, told)
            continue
        keys = {(item.name, fitting.part), (item.name, f"{fitting.place.line}: {_stack_words(fitting)}")}
        is_new = told.isdisjoint(keys)  # not of a part that is like another, through as much: one cause
        told |= keys
        if is_new:
            what = (
                f'"{item.name}" goes through {_stack_words(fitting)} at "{fitting.part}" and needs a post '
                f"of {_wanted_words(item, fitting)}; {_drawer_words(item, fitting)}"
            )
            posts = next(spec.posts for spec in subject.spec.hardware if spec.name == item.name)
            what += f" (line {posts[0].place.line})" if posts else ""
            mend = (
                "make the stack even" if _is_uneven(item, fitting) else "buy the length that fits, and add it to posts"
            )
            mend += _layer_words(subject, fitting)
            meant = _mend_layers(subject, item, fitting)
            yield fitting.place, what, f"{meant}; else {mend}" if meant else mend, fitting.part


def _is_misfolded(subject: Subject, item: Hardware, fitting: Fastened) -> bool:
    """Whether a stack is uneven, and a part of it is told to have holes that its fold does not lay on each other."""
    found = find_alone_when_folded(subject) if _is_uneven(item, fitting) else ()
    return any(name in fitting.stack.parts for _, _, _, name in found)


def _is_uneven(item: Hardware, fitting: Fastened) -> bool:
    """Whether no post is for both the thinnest and the thickest place."""
    most_mm = fitting.post_most_mm
    return bool(most_mm) and fitting.post_least_mm > most_mm + 2 * find_slack_mm(item.kind)


def _mend_layers(subject: Subject, item: Hardware, fitting: Fastened) -> str:
    """What would give the stack the layers that a post of the drawer is for: the part that the others of its piece go
    through too, or a fold that only bends."""
    piece = subject.parts.pieces.get(fitting.part)
    own = next((hole for hole in piece.marks.holes if hole.place == fitting.place), None) if piece else None
    if piece is None or own is None:
        return ""
    straps = [part for part in fitting.stack.parts if part in subject.parts.straps and part not in own.through]
    if own.through and straps:
        return f'measure the hole again: "{straps[0]}" lies there too, and through does not name it'
    others = [hole for hole in piece.marks.holes if hole.takes == item.name and hole.place != own.place]
    through = {hole.through for hole in others}
    more = next(iter(through)) if len(through) == 1 else ()
    if {*own.through} < {*more}:
        named = ", ".join(f'"{name}"' for name in more)
        lines = line_words(others[0].place.line)
        return f'write through = [{named}] here too, as the others of "{piece.name}" do{lines}'
    folds = [fold for fold in piece.own_folds if not fold.is_open and not fold.around]
    material = subject.material(piece)
    if len(folds) != 1 or material is None or [layer.part for layer in fitting.stack.layers].count(piece.name) < 2:
        return ""
    less_mm, slack_mm = material.thickness_mm, find_slack_mm(item.kind)
    wanted = (fitting.post_least_mm - less_mm, fitting.post_most_mm - less_mm if fitting.post_most_mm else None)
    fits = any(not miss_post(wanted, post_mm, slack_mm) for post_mm in item.posts_mm)
    return f"write open = true in its fold (line {folds[0].place.line}), where it only bends" if fits else ""


def _layer_words(subject: Subject, fitting: Fastened) -> str:
    """What else to look at: what lies there, and the lines that tell how thick that is."""
    parts = [
        f'"{part}"' + (f" {count} times" if count > 1 else "") for part, count in Counter(fitting.stack.parts).items()
    ]
    goods = {layer.material for layer in fitting.stack.layers}
    lines = [str(own.thickness.place.line) for own in subject.spec.materials if own.thickness and own.name in goods]
    are = "they are" if len(parts) > 1 else "it is"
    thick = f", and how thick {are} (line{'s' if len(lines) > 1 else ''} {' and '.join(lines)})" if lines else ""
    return f"; or look at what lies there: {list_words(parts)}{thick}"


def _miss_pressed(subject: Subject, item: Hardware, fitting: Fastened, told: set[tuple[str, str]]) -> Iterator[Found]:
    """What goes through foam, which gives by as much as nobody can tell, and of which no post fits once it is flat."""
    wanted, slack_mm = wanted_pressed(subject.build, item, fitting), find_slack_mm(item.kind)
    if wanted is None or (item.name, fitting.part) in told:
        return
    if all(miss_post(wanted, post, slack_mm) for post in item.posts_mm):
        told.add((item.name, fitting.part))
        least, most = (format_mm(mm) for mm in wanted)
        what = (
            f'"{item.name}" goes through foam at "{fitting.part}", {_stack_words(fitting)} in all: once that is flat '
            f"the post of {format_mm(fitting.post_mm)} is too long, and one of {least} to {most} is needed"
        )
        yield fitting.place, what, "add one of that length to posts, or cut the foam away there", fitting.part


def _stack_words(fitting: Fastened) -> str:
    least, most = (format_mm(mm) for mm in (fitting.stack.thinnest_mm, fitting.stack.thickest_mm))
    return most if least == most else f"{least} to {most}"


def _wanted_words(item: Hardware, fitting: Fastened) -> str:
    slack_mm = find_slack_mm(item.kind)
    if not fitting.post_most_mm:
        return f"{format_mm(fitting.post_least_mm - slack_mm)} or more"
    if fitting.post_most_mm < fitting.post_least_mm:
        at_most, at_least = format_mm(fitting.post_most_mm), format_mm(fitting.post_least_mm)
        return f"{at_most} or less where it is thinnest, {at_least} or more where it is thickest"
    slack = f" ({format_mm(slack_mm)} more or less will do)" if slack_mm else ""
    return f"{format_mm(fitting.post_least_mm)} to {format_mm(fitting.post_most_mm)}{slack}"


def _drawer_words(item: Hardware, fitting: Fastened) -> str:
    wanted = (fitting.post_least_mm, fitting.post_most_mm or None)
    misses = {post: miss_post(wanted, post, find_slack_mm(item.kind)) for post in item.posts_mm}
    shorter = [post for post, miss in misses.items() if miss < 0]
    longer = [post for post, miss in misses.items() if miss > 0]
    if not longer:
        return f"the longest in the drawer, {format_mm(max(shorter))}, is too short"
    if not shorter:
        return f"the shortest in the drawer, {format_mm(min(longer))}, is too long"
    return f"in the drawer {format_mm(max(shorter))} is too short and {format_mm(min(longer))} too long"


@check(
    "hardware-count",
    "As many are counted as places take them, each place once.",
    "counted",
    needs_whole=True,
    waits_for=("fold-between-parts", "marks-taken-over"),
)
def find_wrong_counts(subject: Subject) -> Iterator[Found]:
    """Fewer or more counted than there are places; or all holes counted where one item goes through two of them."""
    places: Counter[str] = Counter()
    for fitting in subject.build.assembly.fastened:
        places[fitting.hardware] += fitting.items
    holes, told = _count_holes(subject), _Told(subject)
    for item in subject.build.hardware:
        spares = count_spares(item.kind, places[item.name])
        if item.count != places[item.name] and _is_doubted(told, item, places[item.name]):
            continue
        place = subject.written_at(subject.spec.hardware, item.name, "count")
        is_near = places[item.name] - 2 * item.count in (-item.count, -1, 1)
        if (is_near or places[item.name] % 2 == 0) and _takes_two_holes(subject, item):
            taken = count_words(places[item.name], "hole")
            what = f'"{item.name}" goes into {taken}, two for each, and the count is {item.count}'
            yield place, what, f"write count = {places[item.name] // 2}, or look whether a hole is missing", item.name
        elif exchanged := find_exchanged_holes(subject, item, places):
            yield exchanged
        elif places[item.name] > item.count:
            what = _miscount_words(subject, item, places[item.name])
            yield place, what, f"write count = {places[item.name]}{OTHERWISE}", item.name
        elif places[item.name] < holes[item.name] == item.count:
            what = (
                f'"{item.name}" is counted twice: {holes[item.name]} holes take it, and some lie upon each other, so '
                f"that {places[item.name]} will do"
            )
            yield place, what, f"write count = {places[item.name]}{OTHERWISE}", item.name
        elif 0 < places[item.name] < item.count - spares:
            what = _miscount_words(subject, item, places[item.name])
            mend = f"write count = {places[item.name]}"
            yield place, what, mend + SPARES * (spares > 0) + OTHERWISE, item.name
        elif exchanged := find_exchanged_ends(subject, item) or find_exchanged_folds(subject, item):
            yield exchanged
        elif not places[item.name] and not closes_on_one(subject, item):
            yield from tell_held(subject, item)


def _takes_two_holes(subject: Subject, item: Hardware) -> bool:
    """Whether a snap closes one part on itself, in which no other does, so that each has two holes there, and all of that
    name are so."""
    fastened = [one for one in subject.build.assembly.fastened if one.hardware == item.name]
    parts, snaps = {one.part for one in fastened}, {one.name for one in subject.build.hardware if one.kind == "snap"}
    is_in_one = len(parts) == 1 and not any(one.half for one in fastened)
    others = {one.hardware for one in subject.build.assembly.fastened if one.part in parts} & snaps
    closes = any(
        end.takes == item.name for strap in subject.build.straps for end in strap.ends
    )  # both its layers at once
    return (
        item.kind == "snap" and len(others) == 1 and is_in_one and not closes and sum(one.items for one in fastened) > 1
    )


class _Told:
    """What other checks find, looked for once for all hardware. Nothing in it changes."""

    def __init__(self, subject: Subject) -> None:
        self.subject = subject

    @cached_property
    def askew(self) -> tuple[Found, ...]:
        return tuple(find_askew_marks(self.subject))

    @cached_property
    def apart(self) -> tuple[Found, ...]:
        return tuple(find_holes_apart(self.subject))

    @cached_property
    def miscut(self) -> frozenset[str]:
        """Parts that are told to be cut too often or too seldom."""
        return frozenset(name for find in COUNTED for _, _, _, name in find(self.subject))


def _is_doubted(told: _Told, item: Hardware, places: int) -> bool:
    """Whether a part that takes it is told to be cut too often or too seldom, or holes are told that would make the count
    right if they were: that is the cause."""
    subject = told.subject
    if any(f'"{item.name}"' in what for _, what, _, _ in told.askew):
        return True
    more = _count_told(told, item)
    if more and item.count == places + more:
        return True
    pieces, ends = count_holders(subject, item)
    fastened = {
        part for one in subject.build.assembly.fastened if one.hardware == item.name for part in one.stack.parts
    }
    return not told.miscut.isdisjoint({*fastened, *pieces, *ends})


def _count_told(told: _Told, item: Hardware) -> int:
    """How many places more there would be, fewer if less than 0, without the holes that other checks tell: those that miss
    each other, that a part beneath lacks, and that are punched in an end beyond what closes it."""
    subject = told.subject
    apart = {place: at for place, what, _, at in told.apart if f'"{item.name}"' in what}
    missed = sum(subject.counts[at] for at in apart.values())
    holes = [hole for base in subject.build.pieces for it in base.marks.landings for hole in it.holes]
    holes += [hole for base in subject.build.pieces for it in base.strap_landings for hole in it.holes]
    lacking = sum(hole.takes == item.name and hole.place not in apart for hole in holes)
    ends = (
        (strap, which) for strap in subject.build.straps for which in (0, 1) if strap.ends[which].takes == item.name
    )
    punched = sum((count_closing(strap, which) - strap.ends[which].number) * strap.cut for strap, which in ends)
    return punched - missed - lacking


def closes_on_one(subject: Subject, item: Hardware) -> bool:
    """Whether as many of an item are counted as straps turn both their ends round it, and nothing else goes round: each may
    close on one, which is asked."""
    rings = [(strap.cut, [ring for end in strap.ends for ring in end.rings]) for strap in subject.build.straps]
    both = sum(cut for cut, found in rings if found.count(item.name) > 1)
    around = sum(cut * found.count(item.name) for cut, found in rings)
    return bool(both) and item.count == both and around == 2 * item.count


def _miscount_words(subject: Subject, item: Hardware, places: int) -> str:
    return (
        f'"{item.name}" goes into {count_words(places, "place")} of one make ({_list_places(subject, item)}), '
        f"and the count is {item.count}"
    )


def _list_places(subject: Subject, item: Hardware) -> str:
    """`back 4, tab 2`, in the order of the spec."""
    counts: Counter[str] = Counter()
    for fitting in subject.build.assembly.fastened:
        if fitting.hardware == item.name and fitting.items:
            counts[fitting.part] += fitting.items
    return ", ".join(f"{part} {count}" for part, count in counts.items())


def _count_holes(subject: Subject) -> Counter[str]:
    holes: Counter[str] = Counter()
    for piece in subject.build.pieces:
        for hole in piece.marks.holes:
            holes[hole.takes] += piece.cut
    for strap in subject.build.straps:
        for hole in strap.piece.marks.holes:
            holes[hole.takes] += 0 if closes_end(strap, hole) else strap.cut
        for end in strap.ends:
            holes[end.takes] += strap.cut * end.number
    return holes


@check(
    "hardware-idle",
    "Every item of hardware is used.",
    "counted",
    needs_whole=True,
    gives_way=("hardware-count", "strap-without-buckle"),
)
def find_idle_hardware(subject: Subject) -> Iterator[Found]:
    used = {hole.takes for piece in subject.build.cut for hole in piece.marks.holes}
    used |= {name for strap in subject.build.straps for end in strap.ends for name in (*end.rings, end.takes)}
    used |= {fold.around for piece in subject.build.pieces for fold in piece.marks.folds}
    held = frozenset(used)
    used |= {name for step in subject.build.steps for name in step.hardware}
    is_webbed = any(item.kind in ("webbing", "cord", "elastic") for item in subject.build.trimmings)
    for item in subject.build.hardware:
        if item.name not in used:
            what = f'no hole takes "{item.name}", no strap goes round it, and no step sets it'
            yield item.place, what, "use it, or take it out", item.name
        elif item.name not in held and (item.inside_mm or item.bar_mm) and not is_webbed:
            what = f'nothing is folded round "{item.name}", and no hole takes it'
            yield item.place, what, f'write around = "{item.name}" where it is held, or take it out', item.name


@check("kind-contradicts-words", "The kind of hardware is the one that its words name.", "plain from the words")
def find_other_kinds(subject: Subject) -> Iterator[Found]:
    """Where what it is names a kind that is set or held in another way; a copper rivet is a rivet, too."""
    for spec in subject.spec.hardware:
        if spec.what is None or spec.kind is None:
            continue
        named, kind = find_kind(spec.what.value), spec.kind.value
        if "other" not in (named, kind) and named.split("-")[-1] != kind.split("-")[-1]:
            what = f'"{spec.name}" is said to be of kind {kind}, and "{shorten(spec.what.value, 60)}" names a {named}'
            yield spec.kind.place, what, f'write kind = "{named}", or leave it out', spec.name


@check(
    "posts-order",
    "Posts are listed from the shortest to the longest, each once.",
    "our choice",
    gives_way=("hardware-unusual",),
)
def find_jumbled_posts(subject: Subject) -> Iterator[Found]:
    """At the first post that is no longer than the one before it: two figures changed places, or a digit did."""
    for spec in subject.spec.hardware:
        posts = next((item.posts_mm for item in subject.build.hardware if item.name == spec.name), ())
        for k, (before, after) in enumerate(pairwise(posts), start=1):
            if after <= before and len(spec.posts) == len(posts):
                what = (
                    f'a post of {subject.length(after)} of "{spec.name}" stands after one of {subject.length(before)}'
                )
                yield spec.posts[k].place, what, "look at both figures", spec.name
                break
