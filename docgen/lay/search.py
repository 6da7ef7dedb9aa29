"""A better order of laying, in a fixed number of rounds with a fixed chance, so that the same batch gets the same lay."""

import math
from collections.abc import Callable, Sequence
from dataclasses import field
from typing import Final

from docgen.classes import dataclass
from docgen.lay.filling import Clashes, Filling, Spot, Turn, fill_sheet
from docgen.lay.grid import largest_piece, reach_map
from docgen.lay.kinds import STRAPS, Kind, Sheet

MOST_SHEETS: Final = 60
MOST_EMPTY: Final = 4  # sheets that take none of what is left, one after the other, before it is given up
HELD_BACK: Final = 12  # a round may be as bad as what was held so many rounds ago, so that the search leaves its corner
STRAPS_STAY: Final = 4  # rows hold what they hold: straps are moved so many times more seldom
WORK_HIDE, WORK_BOX = 2.0e9, 3.0e9
MOST_ROUNDS_HIDE, MOST_ROUNDS_BOX, LEAST_ROUNDS = 300, 4000, 8
FEW_LIES: Final = 2  # where no piece has more, they are laid against either side of a panel or roll
PATIENCE: Final = 8  # so many times as many rounds where a longer search is asked for
SURE_ROUNDS: Final = 60  # where no lay can take fewer sheets, only what is left can grow, and soon hardly does

Score = tuple[float, ...]


class Chance:
    """Whole numbers by chance, from a seed: a generator of our own (xorshift, Marsaglia, "Xorshift RNGs", 2003), so that no
    other version of Python gives another lay."""

    FULL: Final = 2**64 - 1

    def __init__(self, seed: int) -> None:
        self.state = (seed * 2654435761 + 88172645463325252) & self.FULL

    def below(self, most: int) -> int:
        state = self.state
        state ^= state << 13 & self.FULL
        state ^= state >> 7
        state ^= state << 17 & self.FULL
        self.state = state
        return (state >> 11) % most


@dataclass(frozen=True, slots=True)
class Try:
    """What an order gives: by sheet what lies on it, what is left, its score (less is better), and what each sheet was
    given and how it was filled, from which an order that begins alike goes on."""

    order: tuple[Turn, ...]
    score: Score
    laid: tuple[tuple[int, tuple[Spot, ...]], ...]
    left: tuple[Turn, ...]
    filled: tuple[tuple[tuple[Turn, ...], Filling], ...]


@dataclass(frozen=True, slots=True)
class Effort:
    """How long is searched: so many `rounds`, or as many as follow from counts where it is None, and more of these where
    it `is_patient`."""

    rounds: int | None = None
    is_patient: bool = False


USUAL: Final = Effort()
FIRST: Final = Effort(rounds=0)  # the first orders alone


@dataclass(slots=True)
class Search:
    """A batch on sheets that are made as they are needed; `rest_cells` are the sides of the smallest rest worth keeping,
    None where the length that is used up counts."""

    make_sheet: Callable[[int], Sheet]
    cell_mm: float
    rest_cells: tuple[int, int] | None
    clashes: Clashes = field(default_factory=Clashes)
    sheets: list[Sheet] = field(default_factory=list)
    used: dict[tuple[int, tuple[Spot, ...]], float] = field(default_factory=dict)

    def sheet(self, number: int) -> Sheet:
        while len(self.sheets) <= number:
            self.sheets.append(self.make_sheet(len(self.sheets)))
        return self.sheets[number]

    def run(self, kinds: Sequence[tuple[Kind, int]], effort: Effort, shared: int = 1) -> Try:
        """The best lay that is found for so many of each kind; the rounds that are usual may be shared among searches."""
        orders = _first_orders(kinds)
        if not self.rest_cells:
            across = self.sheet(0).across
            orders += [_stand_alike(order, across) for order in orders]
        tries = [self._judge(order, None, None) for order in orders]
        held = best = min((one for one in tries if one is not None), key=lambda one: one.score)
        patience = PATIENCE if effort.is_patient else 1
        count = patience * self._count_rounds(kinds) // shared if effort.rounds is None else effort.rounds
        least: float = self._least_sheets(kinds) if self.rest_cells or len(best.laid) > 1 else 0
        if len(kinds) == 1 and not self.rest_cells:
            least = math.inf  # of one kind on panels or a roll no order is better
        before = [best.score] * HELD_BACK
        chance = Chance(1)
        for number in range(count):
            if number >= patience * SURE_ROUNDS // shared and best.score[:2] <= (0, least):
                break
            limit = before[number % HELD_BACK]
            order = _change(held.order, chance)
            if not self.rest_cells:
                order = _change_sides(order, chance)
            found = self._judge(order, limit, held)
            if found is not None and (found.score <= limit or found.score <= held.score):
                held = found
                best = min(best, found, key=lambda one: one.score)
            before[number % HELD_BACK] = held.score
        return best

    def _least_sheets(self, kinds: Sequence[tuple[Kind, int]]) -> int:
        """Sheets that any lay takes: those whose open area holds all pieces, and all pieces of each kind, of which there
        are no more on a sheet than its area holds whole."""
        left_mm2 = sum(kind.area_mm2 * count for kind, count in kinds)
        left = [count for _, count in kinds]
        number = 0
        while (left_mm2 > 0 or any(count > 0 for count in left)) and number < MOST_SHEETS:
            sheet = self.sheet(number)
            open_mm2 = (sheet.across * sheet.along - sheet.closed[""].bit_count()) * self.cell_mm**2
            left_mm2 -= open_mm2
            left = [count - int(open_mm2 // kind.area_mm2) for count, (kind, _) in zip(left, kinds, strict=True)]
            number += 1
        return number

    def _judge(self, order: tuple[Turn, ...], limit: Score | None, held: Try | None) -> Try | None:
        """Lay the order on sheet after sheet; a sheet that takes none of the rest is passed over."""
        rest = order
        laid: list[tuple[int, tuple[Spot, ...]]] = []
        done: list[tuple[tuple[Turn, ...], Filling]] = []
        number = empty = 0
        while rest and number < MOST_SHEETS and empty < MOST_EMPTY:
            base = held.filled[number] if held is not None and number < len(held.filled) else None
            # Of a roll only what is shorter counts, so that a filling ends where it has become longer.
            most = int(limit[4]) if limit and not self.rest_cells and limit[:2] == (0, 1) else None
            filled = fill_sheet(self.sheet(number), rest, self.clashes, base, most)
            if filled is None:
                return None
            done.append((rest, filled))
            if filled.laid:
                laid.append((number, tuple(filled.laid)))
            empty = 0 if filled.laid else empty + 1
            rest = tuple(filled.left)
            number += 1
            if limit is not None and not limit[0] and len(laid) > limit[1]:
                return None
        return Try(order, self._score(laid, rest), tuple(laid), rest, tuple(done))

    def _score(self, laid: Sequence[tuple[int, tuple[Spot, ...]]], rest: Sequence[Turn]) -> Score:
        """Missing area, sheets, what lies on the last of several and of pairs without its other half, what the last two
        use up, how far the last one reaches, and where its weight lies."""
        missing = sum(turn.kind.area_mm2 for turn in rest)
        if not laid:
            return missing, 0, 0.0, 0.0, 0, 0.0
        ends = [(spot.v + spot.mask.height, spot.kind.area_mm2) for spot in laid[-1][1]]
        used = sum(self.used_up_mm2(number, spots) for number, spots in laid[-2:]) if self.rest_cells else 0.0
        last = sum(area for _, area in ends) + _parted_mm2(laid) if len(laid) > 1 else 0.0
        return missing, len(laid), last, used, max(end for end, _ in ends), sum(end * area for end, area in ends) / 1e6

    def used_up_mm2(self, number: int, laid: Sequence[Spot]) -> float:
        """What a rest worth keeping can no longer reach on a sheet."""
        key = number, tuple(laid)
        if key not in self.used:
            cells = self.reach(number, ()).bit_count() - self.reach(number, laid).bit_count()
            self.used[key] = cells * self.cell_mm**2
        return self.used[key]

    def reach(self, number: int, laid: Sequence[Spot]) -> int:
        """The cells of a sheet that a rest worth keeping can still cover."""
        sheet = self.sheet(number)
        if not laid and sheet.reach:
            return sheet.reach
        full = (1 << sheet.across * sheet.along) - 1
        taken = sheet.closed[""] | sheet.faults
        for spot in laid:
            taken |= spot.mask.linear(sheet.across) << spot.v * sheet.across + spot.u
        wide, high = self.rest_cells or (1, 1)
        found = reach_map(full & ~taken, sheet.across, sheet.along, wide, high)
        if not laid:
            sheet.reach = found
        return found

    def largest_rest(self, number: int, laid: Sequence[Spot]) -> int:
        """How many cells the largest rest in one piece has."""
        sheet = self.sheet(number)
        return largest_piece(self.reach(number, laid), sheet.across, sheet.along)

    def _count_rounds(self, kinds: Sequence[tuple[Kind, int]]) -> int:
        """A number of rounds that takes about the same time for every batch, from counts alone and never from a clock."""
        sheet = self.sheet(0)
        pieces = sum(count for _, count in kinds)
        lies = sum(len(kind.lies) for kind, _ in kinds)
        work = pieces * lies * (sheet.across * sheet.along / 8 + 2000) * 0.35
        most = MOST_ROUNDS_HIDE if self.rest_cells else MOST_ROUNDS_BOX
        return max(LEAST_ROUNDS, min(most, int((WORK_HIDE if self.rest_cells else WORK_BOX) / work)))


def _parted_mm2(laid: Sequence[tuple[int, tuple[Spot, ...]]]) -> float:
    """The area of what lies on another sheet than the other half of its pair: leather of two hides differs."""
    pairs = {spot.kind.number for _, spots in laid for spot in spots if spot.kind.is_mirrored}
    parted = 0.0
    for _, spots in laid if pairs else ():
        more: dict[int, float] = {}
        for spot in spots:
            if spot.kind.number in pairs:
                area = -spot.kind.area_mm2 if spot.kind.is_mirrored else spot.kind.area_mm2
                more[spot.kind.number] = more.get(spot.kind.number, 0.0) + area
        parted += sum(map(abs, more.values()))
    return parted


def _first_orders(kinds: Sequence[tuple[Kind, int]]) -> list[tuple[Turn, ...]]:
    """Orders to begin with: straps, widest first; then what shows by area, length or width; what is hidden too."""
    rules: tuple[Callable[[Kind], float], ...] = (
        lambda kind: -kind.area_mm2,
        lambda kind: -kind.long_mm,
        lambda kind: -kind.short_mm,
    )

    def rank(kind: Kind, rule: Callable[[Kind], float]) -> tuple[float, ...]:
        own = (-kind.short_mm, -kind.long_mm) if kind.group == STRAPS else (rule(kind), -kind.area_mm2)
        return (kind.group != STRAPS, *own, kind.number)

    copies = [(kind, copy) for kind, count in kinds for copy in range(count)]
    return [
        tuple(
            Turn(kind, None)
            for kind, _ in sorted(copies, key=lambda one: (*rank(one[0], rule), one[1], one[0].is_mirrored))
        )
        for rule in rules
    ]


def _stand_alike(order: tuple[Turn, ...], across: int) -> tuple[Turn, ...]:
    """The order with all pieces of a kind in the lie in which rows of them alone take least."""

    def find_lie(kind: Kind) -> int:
        beside = [across // mask.width for mask in kind.lies]
        takes = [mask.height / count if count else math.inf for mask, count in zip(kind.lies, beside, strict=True)]
        return takes.index(min(takes))

    lies = {id(kind): find_lie(kind) for kind in {id(turn.kind): turn.kind for turn in order}.values()}
    return tuple(Turn(turn.kind, lies[id(turn.kind)]) for turn in order)


def _change(order: tuple[Turn, ...], chance: Chance) -> tuple[Turn, ...]:
    """One to three turns swapped, moved, or given another lie, within their group."""
    found = list(order)
    loose = [k for k, turn in enumerate(found) if turn.kind.group != STRAPS]
    for _ in range(1 + chance.below(3)):
        at = chance.below(len(found))
        if loose and found[at].kind.group == STRAPS and chance.below(STRAPS_STAY):
            at = loose[chance.below(len(loose))]
        what = chance.below(10)
        is_strap = found[at].kind.group == STRAPS
        same = [k for k, turn in enumerate(found) if (turn.kind.group == STRAPS) == is_strap]
        other = same[chance.below(len(same))]
        if what < 4:
            found[at], found[other] = found[other], found[at]
        elif what < 8:
            found.insert(other, found.pop(at))
        else:
            kind = found[at].kind
            found[at] = Turn(kind, None if chance.below(3) == 0 else chance.below(len(kind.lies)), found[at].is_right)
    return tuple(found)


def _change_sides(order: tuple[Turn, ...], chance: Chance) -> tuple[Turn, ...]:
    """Where pieces can hardly be turned, every other time one or two lie to the other side; else turns are change."""
    if any(len(turn.kind.lies) > FEW_LIES for turn in order) or chance.below(2):
        return order
    found = list(order)
    for _ in range(1 + chance.below(2)):
        at = chance.below(len(found))
        found[at] = found[at]._replace(is_right=not found[at].is_right)
    return tuple(found)
