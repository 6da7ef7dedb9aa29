"""Laying pieces in a given order on one sheet, each at the first place where it fits, straps in rows off the edge."""

import math
from collections.abc import Sequence
from dataclasses import field
from typing import NamedTuple

from docgen.classes import dataclass
from docgen.lay.grid import NEARLY, Mask, clash_map, repeat
from docgen.lay.kinds import STRAPS, Kind, Sheet


class Spot(NamedTuple):
    """Where one piece lies: its kind, its mask, the cell of the mask's corner, across and along, and by how much of a cell
    a strap begins beyond that."""

    kind: Kind
    mask: Mask
    u: int
    v: int
    shift: float = 0.0


class Row(NamedTuple):
    """A row of straps of one width: where it begins and how wide it is, in cells and parts of them."""

    begin: float
    strip: float


class Turn(NamedTuple):
    """One piece to be laid: its kind, the lie it must take, None for the best of all, and whether it goes as far to the
    right as it can of the places that are as low."""

    kind: Kind
    lie: int | None
    is_right: bool = False


class Moment(NamedTuple):
    """How a filling stands after a turn, so that another that begins alike goes on from here."""

    spots: int
    left: int
    top: int
    free: dict[tuple[str, int], tuple[int, int]]
    rows: tuple[Row, ...]


@dataclass(slots=True)
class Filling:
    """What lies on a sheet, what found no place, and how far along it reaches (cells)."""

    laid: list[Spot] = field(default_factory=list)
    left: list[Turn] = field(default_factory=list)
    top: int = 0
    moments: list[Moment] = field(default_factory=list)


class Clashes:
    """Which places of one mask another that is laid takes away, worked out once for each two."""

    def __init__(self) -> None:
        self.known: dict[tuple[int, int, int], tuple[int, int]] = {}

    def find(self, mask: Mask, laid: Mask, across: int) -> tuple[int, int]:
        key = (id(mask), id(laid), across)
        if key not in self.known:
            self.known[key] = clash_map(mask, laid, across)
        return self.known[key]


def fill_sheet(
    sheet: Sheet,
    order: Sequence[Turn],
    clashes: Clashes,
    base: tuple[Sequence[Turn], Filling] | None = None,
    most: int | None = None,
) -> Filling | None:
    """The pieces in their order, each where it ends lowest along; None where that passes `most`.

    `base` is an order and its filling of the same sheet: what begins alike is taken from it.
    """
    run = _Run(sheet, clashes, base, order)
    for turn in order[len(run.done.moments) :]:
        run.lay(turn)
        if most is not None and run.done.top > most:
            return None
    return run.done


class _Run:
    """One filling while it goes on."""

    def __init__(
        self, sheet: Sheet, clashes: Clashes, base: tuple[Sequence[Turn], Filling] | None, order: Sequence[Turn]
    ) -> None:
        self.sheet, self.clashes, self.done = sheet, clashes, Filling()
        self.free: dict[tuple[str, int], tuple[int, int]] = {}
        self.rows: tuple[Row, ...] = ()
        if base:
            self._go_on(base, order)
        self.dead = {id(turn.kind) for turn in self.done.left if turn.lie is None}

    def _go_on(self, base: tuple[Sequence[Turn], Filling], order: Sequence[Turn]) -> None:
        """Begin where the other order was still the same."""
        old, filling = base
        at = 0
        while at < min(len(order), len(old)) and order[at] == old[at]:
            at += 1
        if at:
            moment = filling.moments[at - 1]
            self.done = Filling(
                laid=filling.laid[: moment.spots],
                left=filling.left[: moment.left],
                top=moment.top,
                moments=filling.moments[:at],
            )
            self.free, self.rows = dict(moment.free), moment.rows

    def lay(self, turn: Turn) -> None:
        """Lay one piece, or leave it."""
        spot, done = self._find(turn), self.done
        if spot is None:
            done.left.append(turn)
            if turn.lie is None:
                self.dead.add(id(turn.kind))
        else:
            done.laid.append(spot)
            done.top = max(done.top, spot.v + spot.mask.height)
            row = Row(spot.u + spot.shift, turn.kind.strip)
            if turn.kind.group == STRAPS and row not in self.rows:
                self.rows = (*self.rows, row)
        free = dict(self.free) if spot or not done.moments else done.moments[-1].free
        done.moments.append(Moment(len(done.laid), len(done.left), done.top, free, self.rows))

    def _find(self, turn: Turn) -> Spot | None:
        kind = turn.kind
        if id(kind) in self.dead:
            return None
        if kind.group == STRAPS and self.sheet.has_rows:
            return self._next_in_rows(kind)
        for zone in (kind.first, kind.zone) if kind.first else (kind.zone,):
            spots = [
                spot
                for lie, mask in enumerate(kind.lies)
                if turn.lie in (None, lie) and (spot := self._first_spot(turn, mask, kind.bare[lie], zone)) is not None
            ]
            if spots:
                return min(spots, key=lambda ranked: ranked.rank).spot
        return None

    def _first_spot(self, turn: Turn, mask: Mask, bare: Mask, zone: str) -> "_Ranked | None":
        kind, free = turn.kind, self._free(mask, bare, zone)
        if not free:
            return None
        across = self.sheet.across
        v, u = divmod((free & -free).bit_length() - 1, across)
        if turn.is_right:
            u = (free >> v * across & (1 << across) - 1).bit_length() - 1
            return _Ranked((v + mask.height, v, -u), Spot(kind, mask, u, v))
        return _Ranked((v + mask.height, v, u), Spot(kind, mask, u, v))

    def _free(self, mask: Mask, bare: Mask, zone: str) -> int:
        """The places that are left, brought up to what has been laid since it was asked last."""
        across, laid = self.sheet.across, self.done.laid
        key = (zone, id(mask))
        free, upto = self.free.get(key) or (self._start(zone, mask, bare), 0)
        if free and upto < len(laid):
            taken = 0
            for spot in laid[upto:]:
                places, shift = self.clashes.find(mask, spot.mask, across)
                by = spot.v * across + spot.u - shift
                taken |= places << by if by >= 0 else places >> -by
            free ^= free & taken
        self.free[key] = (free, len(laid))
        return free

    def _start(self, zone: str, mask: Mask, bare: Mask) -> int:
        """Where a mask may lie before anything else is laid: across a struck edge only beyond the ends of its rows."""
        sheet, free = self.sheet, self.sheet.start(zone, mask, bare)
        if not (free and self.rows and sheet.is_struck):
            return free
        edge = math.floor(min(row.begin for row in self.rows) + NEARLY)
        rows = [spot for spot in self.done.laid if spot.kind.group == STRAPS]
        low = max(0, min(spot.v for spot in rows) - mask.height + 1)
        high = max(spot.v + spot.mask.height for spot in rows)
        left = max(0, edge - mask.width + 1)
        crossing = repeat((1 << edge) - (1 << left), sheet.across, high - low) << low * sheet.across
        return free & ~crossing

    def _next_in_rows(self, kind: Kind) -> Spot | None:
        """In a row of this width that is begun, end to end; else in a new row behind all others, as a strap cutter takes
        them off. Straps are laid before all else, so that only those of its own row can be in the way."""
        for row in self.rows:
            if row.strip == kind.strip and (spot := self._in_row(kind, row.begin)):
                return spot
        behind = max((row.begin + row.strip for row in self.rows), default=0.0)
        if spot := self._in_row(kind, behind):
            return spot
        u = self._nearest_edge(self.sheet.start(kind.zone, kind.lies[0], kind.lies[0]), math.ceil(behind - NEARLY))
        return None if u is None else self._in_row(kind, u)

    def _in_row(self, kind: Kind, begin: float) -> Spot | None:
        """The first place along in a row that begins there; it may begin within the cell in which the last one ends."""
        mask, u = kind.lies[0], math.floor(begin + NEARLY)
        if kind.wider and math.ceil(begin + kind.strip - NEARLY) > u + mask.width:
            mask = kind.wider
        column = self.sheet.column(kind.zone, mask, u)
        for spot in self.done.laid:
            if spot.u == u and column:
                low = max(0, spot.v - mask.height + 1)
                column &= ~((1 << spot.v + spot.mask.height) - (1 << low))
        return Spot(kind, mask, u, (column & -column).bit_length() - 1, begin - u) if column else None

    def _nearest_edge(self, free: int, behind: int) -> int | None:
        """How far across the free place nearest to the edge is, from `behind` on."""
        across, rows, folded = self.sheet.across, self.sheet.along, free
        while rows > 1:
            half = (rows + 1) // 2
            folded = folded & ((1 << half * across) - 1) | folded >> half * across
            rows = half
        folded >>= behind
        return behind + (folded & -folded).bit_length() - 1 if folded else None


class _Ranked(NamedTuple):
    """A spot with what it is judged by: how far it reaches, then where it begins."""

    rank: tuple[int, int, int]
    spot: Spot
