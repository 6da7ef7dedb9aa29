"""A lay along a roll made shorter: what reaches too far is laid where it clashes with little, and that is laid elsewhere.

Which places of a piece clash with none, one or two others is counted for all places at once, bit by bit. A piece that was
often without a place is not easily taken out again: Y. Nagata, O. Braysy, "A powerful route minimization heuristic for the
vehicle routing problem with time windows", Operations Research Letters 37 (2009) 333-338.
"""

from collections.abc import Sequence
from typing import Final, NamedTuple

from docgen.lay.filling import Clashes, Spot
from docgen.lay.grid import Mask
from docgen.lay.kinds import ANY, Kind, Sheet
from docgen.lay.search import Chance, Effort

STEP: Final = 200  # each time a lay is to be shorter by so many parts of one
PAIRS: Final = 12  # so many pieces are tried as the one of two that are taken out
MOST_CHANGES: Final = 4000
WORK: Final = 2.5e10
MOST_MOVES: Final = 20_000
IDLE: Final = 0.5  # a search ends after such a share of its moves without a shorter lay
STARTS: Final = 10  # so many searches, each by another chance, where a longer one is asked for
LEAST_MOVES: Final = 50


class _Lie(NamedTuple):
    """A mask of a piece, its places within the strip, those that clash with nothing, with one piece, and with two."""

    mask: Mask
    inside: int
    free: int
    one: int
    two: int


class _Out(NamedTuple):
    """Pieces to be taken out, what that costs, and where a lie may then be laid."""

    cost: float
    pieces: tuple[int, ...]
    mask: Mask
    places: int


class Squeeze:
    """Pieces on a strip that ends at `limit` (cells along), and those that have no place, the last to be laid first."""

    def __init__(self, sheet: Sheet, clashes: Clashes, chance: Chance) -> None:
        self.sheet, self.clashes, self.chance = sheet, clashes, chance
        self.limit = sheet.along
        self.laid: dict[int, Spot] = {}
        self.left: list[tuple[int, Kind]] = []
        self.failures: dict[int, int] = {}
        self.newest = -1
        self._changes: list[tuple[int, Spot, int]] = []
        self._counts: dict[int, tuple[int, list[int]]] = {}
        self._inside: dict[int, int] = {}

    def add(self, spot: Spot) -> None:
        """One more piece, where it lies."""
        self._lay(len(self.laid), spot)

    def shorten(self, limit: int) -> None:
        """End the strip there; what reaches beyond it has no place any more."""
        self.limit, self._inside = limit, {}
        for piece, spot in tuple(self.laid.items()):
            if spot.v + spot.mask.height > limit:
                self._take_out(piece)

    def run(self, moves: int) -> int:
        """Up to so many moves, until all pieces have a place; how many were made."""
        for move in range(moves):
            if not self.left:
                return move
            self._move()
            if len(self._changes) > MOST_CHANGES:
                self._changes = [(piece, spot, 1) for piece, spot in self.laid.items()]
                self._counts = {}
        return moves

    def _move(self) -> None:
        """Lay the last piece without a place: where it is free, else for what costs least; then another piece is moved."""
        piece, kind = self.left.pop()
        lies = [lie for mask in kind.lies if (lie := self._look(mask)).inside]
        free = [lie for lie in lies if lie.free]
        if free:
            lie = free[self.chance.below(len(free))]
            self._lay(piece, self._corner(kind, lie.mask, lie.free))
            self.newest = piece
            return
        self.failures[piece] = self.failures.get(piece, 0) + 1
        if not lies:
            self.left.insert(0, (piece, kind))
            return
        out = self._cheapest(lies)
        spot = self._corner(kind, out.mask, out.places)
        for other in out.pieces or self._met_by(spot):
            self._take_out(other)
        self._lay(piece, spot)
        self.newest = piece
        self._shift_one()

    def _cheapest(self, lies: Sequence[_Lie]) -> _Out:
        """The one piece or the two that are taken out for the least; any place, where none clashes with so few."""
        costs = sorted((self._cost(piece), piece) for piece in self.laid)
        out = None
        for cost, piece in costs:
            hit = [(lie.mask, places) for lie in lies if (places := lie.one and lie.one & self._taken(lie.mask, piece))]
            if hit:
                mask, places = hit[self.chance.below(len(hit))]
                out = _Out(cost, (piece,), mask, places)
                break
        for cost, piece in costs[:PAIRS]:
            for lie in lies:
                places = lie.two and lie.two & self._taken(lie.mask, piece)
                for more, other in costs if places else ():
                    if out is not None and cost + more >= out.cost:
                        break
                    if other != piece and (both := places & self._taken(lie.mask, other)):
                        out = _Out(cost + more, (piece, other), lie.mask, both)
                        break
        if out is None:
            lie = lies[self.chance.below(len(lies))]
            out = _Out(0.0, (), lie.mask, lie.inside)
        return out

    def _cost(self, piece: int) -> float:
        """The area of a piece, times how often it was without a place; what was laid last stays."""
        cost = self.laid[piece].kind.area_mm2 * (1 + self.failures.get(piece, 0))
        return 1000 * cost if piece == self.newest else cost

    def _shift_one(self) -> None:
        """Another piece goes to a corner where it is free, so that gaps wander."""
        pieces = list(self.laid)
        piece = pieces[self.chance.below(len(pieces))]
        spot = self.laid.pop(piece)
        self._changes.append((piece, spot, -1))
        lie = self._look(spot.kind.lies[self.chance.below(len(spot.kind.lies))])
        self._lay(piece, self._corner(spot.kind, lie.mask, lie.free) if lie.free else spot)

    def _lay(self, piece: int, spot: Spot) -> None:
        self.laid[piece] = spot
        self._changes.append((piece, spot, 1))

    def _take_out(self, piece: int) -> None:
        spot = self.laid.pop(piece)
        self._changes.append((piece, spot, -1))
        self.left.append((piece, spot.kind))

    def _met_by(self, spot: Spot) -> tuple[int, ...]:
        at = spot.v * self.sheet.across + spot.u
        return tuple(piece for piece in self.laid if self._taken(spot.mask, piece) >> at & 1)

    def _taken(self, mask: Mask, piece: int) -> int:
        """The places of a mask that a piece takes away."""
        return self._taken_by(mask, self.laid[piece])

    def _taken_by(self, mask: Mask, spot: Spot) -> int:
        places, shift = self.clashes.find(mask, spot.mask, self.sheet.across)
        by = spot.v * self.sheet.across + spot.u - shift
        return places << by if by >= 0 else places >> -by

    def _look(self, mask: Mask) -> _Lie:
        inside = self._within(mask)
        low, high, *more = self._count(mask)
        many = 0
        for bits in more:
            many |= bits
        one, two = inside & (low ^ (low & (high | many))), inside & (high ^ (high & (low | many)))
        return _Lie(mask, inside, inside ^ (inside & (low | high | many)), one, two)

    def _within(self, mask: Mask) -> int:
        """The places of a mask on the strip."""
        if id(mask) not in self._inside:
            rows = max(0, self.limit - mask.height + 1)
            self._inside[id(mask)] = self.sheet.start(ANY, mask, mask) & (1 << rows * self.sheet.across) - 1
        return self._inside[id(mask)]

    def _count(self, mask: Mask) -> list[int]:
        """How many pieces a mask would clash with at each place, in bits from the lowest; brought up to what lies now."""
        upto, bits = self._counts.get(id(mask), (0, [0, 0]))
        net: dict[tuple[int, Spot], int] = {}
        for piece, spot, by in self._changes[upto:]:
            net[piece, spot] = net.get((piece, spot), 0) + by
        for (_, spot), by in net.items():
            carry = self._taken_by(mask, spot) if by else 0
            at = 0
            while carry:
                if at == len(bits):
                    bits.append(0)
                before, bits[at] = bits[at], bits[at] ^ carry
                carry &= before if by > 0 else bits[at]
                at += 1
        self._counts[id(mask)] = len(self._changes), bits
        return bits

    def _corner(self, kind: Kind, mask: Mask, places: int) -> Spot:
        """A place by chance from which the mask can go on neither to one side nor to one end."""
        across, way = self.sheet.across, self.chance.below(4)
        beside = places & (places << 1 if way & 1 else places >> 1)
        found = places ^ beside
        beyond = found & (found << across if way & 2 else found >> across)
        found = found ^ beyond or found
        at = self.chance.below(found.bit_length())
        at += _lowest(found >> at)
        v, u = divmod(at, across)
        return Spot(kind, mask, u, v)


def _lowest(bits: int) -> int:
    return (bits & -bits).bit_length() - 1


def squeeze_roll(sheet: Sheet, clashes: Clashes, spots: Sequence[Spot], effort: Effort) -> tuple[Spot, ...]:
    """The lay, or a shorter one that is found in as many moves as the rounds that are said, or as are usual."""
    moves = _count_moves(sheet, spots) if effort.rounds is None else effort.rounds
    starts = STARTS if effort.is_patient else 1
    return min((_search(sheet, clashes, spots, moves, Chance(1 + k)) for k in range(starts)), key=find_top)


def _count_moves(sheet: Sheet, spots: Sequence[Spot]) -> int:
    """A number of moves that takes about the same time for every lay, from counts alone."""
    lies = sum(len(spot.kind.lies) for spot in spots)
    work = lies * (sheet.across * find_top(spots) / 8 + 5000)
    return max(LEAST_MOVES, min(MOST_MOVES, int(WORK / work)))


def _search(sheet: Sheet, clashes: Clashes, spots: Sequence[Spot], moves: int, chance: Chance) -> tuple[Spot, ...]:
    best, idle, most_idle = tuple(spots), 0, max(1, int(IDLE * moves))
    squeeze = Squeeze(sheet, clashes, chance)
    for spot in best:
        squeeze.add(spot)
    while moves > 0 and idle < most_idle:
        top = find_top(best)
        limit = top - max(1, top // STEP)
        if limit <= 0:
            break
        squeeze.shorten(limit)
        made = squeeze.run(min(moves, most_idle - idle))
        moves, idle = moves - made, idle + made
        if not squeeze.left:
            best, idle = tuple(squeeze.laid.values()), 0
    return best


def find_top(spots: Sequence[Spot]) -> int:
    """How far along pieces reach, cells."""
    return max(spot.v + spot.mask.height for spot in spots)
