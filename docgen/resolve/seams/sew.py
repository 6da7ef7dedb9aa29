"""The seams of a spec: their partners read, the pieces made with open lengths solved, the sides matched."""

from collections import Counter
from collections.abc import Callable, Mapping, Sequence, Set
from dataclasses import replace

from docgen.classes import dataclass
from docgen.geometry.shapes import Outline
from docgen.problems import Place
from docgen.read import SeamSpec, Spec
from docgen.resolve.parts import Parts
from docgen.resolve.pieces.made_up import fold_hems, read_hems
from docgen.resolve.pieces.outlines import Recipe, find_recipes, has_inset, is_open, is_upright, open_piece
from docgen.resolve.pieces.pieces import Steps, draw_steps, make_pieces
from docgen.resolve.seams.by_steps import follow_steps
from docgen.resolve.seams.folded import find_folded
from docgen.resolve.seams.hemmed_rings import name_rings
from docgen.resolve.seams.joins import measure_joins, read_joins
from docgen.resolve.seams.lengths import Lengths, OutlineOf
from docgen.resolve.seams.open_lengths import GUESS_MM, OpenLengths, solve_lengths
from docgen.resolve.seams.partners import Partners, name_notches, read_partners
from docgen.resolve.seams.row_ends import end_rows
from docgen.resolve.seams.seam import Join, SeamTrimming, Stitch
from docgen.resolve.seams.seams import match_seam
from docgen.resolve.seams.trimmed import part_name, read_seam_trimmings, split_meet
from docgen.resolve.values import Reader, list_part_names, read_show

SolvedSteps = Callable[[str, Mapping[str, float]], Steps | None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Sewing:
    """What the seams of a spec need: how its pieces and joins are made, partners and stitch of each seam, and what their
    sides are measured on."""

    recipes: Mapping[str, Recipe]
    plans: Mapping[str, Join]
    partners: Mapping[str, Partners]
    sewn: Mapping[str, Stitch]
    trimmings: Mapping[str, tuple[SeamTrimming, ...]]
    wanted: OpenLengths
    steps_of: SolvedSteps
    lengths: Lengths

    def solve(self) -> dict[str, float]:
        """Every open length of a piece that a seam fixes, in mm."""
        return solve_lengths(self.partners, _insets_of(self.sewn), self.wanted, self.lengths)


def prepare_sewing(reader: Reader, spec: Spec, parts: Parts, taken_twice: Set[str] = frozenset()) -> Sewing:
    """Pieces, joins and partners read; seams with a partner or stitch that cannot be read are noted and left out."""
    recipes = find_recipes(reader, spec.pieces, spec.drawings)
    plans = read_joins(reader, spec.joins, parts.stitches)
    partners = _read_all_partners(reader, spec, taken_twice)
    models = {name: recipe.size.name for name, recipe in recipes.items() if recipe.size.name != name}
    linings = frozenset(name for name in models if any(has_inset(recipes[name], s) for s in recipes[name].chain))
    steps_of = _steps_source(reader, recipes)
    sewn = {
        seam.name: parts.stitches[seam.stitch.value]
        for seam in spec.seams
        if partners[seam.name] and seam.stitch is not None and seam.stitch.value in parts.stitches
    }
    places = _open_places(recipes)
    opened = frozenset(name for name in (*recipes, *plans) if _parts_open(name, recipes, plans))
    lengths = Lengths(
        reader=reader,
        outline_of=_outline_source(reader, recipes, steps_of),
        cut_of=lambda name, solved: (steps_of(name, solved) or (None,))[-1],
        joins=plans,
        straps=parts.straps,
        models=models,
        linings=linings,
        opened=opened,
        given=_list_givers(partners, opened),
        solvable=_list_solvable(recipes, plans, partners),
        notches=name_notches(spec.pieces),
        folded=find_folded(recipes, partners),
        written=_size_lines(spec),
        insets=_insets_of(parts.stitches),
        landed=_list_landed(spec),
    )
    return Sewing(
        recipes=recipes,
        plans=plans,
        partners=end_rows(partners, _insets_of(sewn), _quiet(lengths), dict.fromkeys(places, GUESS_MM)),
        sewn=sewn,
        trimmings={seam.name: read_seam_trimmings(reader, seam, parts.trimmings) for seam in spec.seams},
        wanted=OpenLengths(
            places=places,
            parts_open=lambda part: _parts_open(part, recipes, plans),
            unread={one.value for join in spec.joins if join.wrong or join.name not in plans for one in join.of},
        ),
        steps_of=steps_of,
        lengths=lengths,
    )


def _list_givers(partners: Mapping[str, Partners], opened: Set[str]) -> dict[str, tuple[str, str]]:
    """Of each open part the first seam that sews it to a part whose length is written, and that part."""
    found: dict[str, tuple[str, str]] = {}
    for seam, sides in partners.items():
        giver = next((side.part for side in sides if side.edges and side.part not in opened), None)
        for side in sides if giver is not None else ():
            if side.edges and side.part in opened and giver is not None:
                found.setdefault(side.part, (seam, giver))
    return found


def _list_landed(spec: Spec) -> dict[str, dict[str, str]]:
    """Of each piece that lands the pieces on which it does, and where as it is written."""
    found: dict[str, dict[str, str]] = {}
    for host in spec.pieces:
        for landing in host.landings:
            if landing.piece and landing.at:
                found.setdefault(landing.piece.value, {})[host.name] = landing.at.value
    return found


def _insets_of(sewn: Mapping[str, Stitch]) -> dict[str, float]:
    return {name: stitch.inset_mm for name, stitch in sewn.items()}


def _quiet(lengths: Lengths) -> Lengths:
    """The same, but that nothing is noted: what is only tried is told where it is measured."""
    reader = lengths.reader
    return replace(lengths, reader=Reader(measures=reader.measures, problems=[], unreadable=reader.unreadable))


def _list_solvable(
    recipes: Mapping[str, Recipe], plans: Mapping[str, Join], partners: Mapping[str, Partners]
) -> frozenset[str]:
    """Rectangles, strips and joins of them whose length one seam alone can give: a further one would disagree."""
    sizes = {name: recipe.size.name for name, recipe in recipes.items()}
    taken = Counter(sizes.get(side.part, side.part) for sides in partners.values() for side in sides if side.edges)
    upright = {name for name, recipe in recipes.items() if is_upright(recipe) and sizes[name] == name}
    joined = {name for name, join in plans.items() if not upright.isdisjoint(join.pieces)}
    return frozenset(name for name in upright | joined if taken[name] == 1)


def sew(reader: Reader, spec: Spec, sewing: Sewing, parts: Parts) -> Parts:
    """The parts with the pieces, their open lengths solved by the seams, and the joins and seams of them."""
    solved = sewing.solve()
    closed = {name for name, recipe in sewing.recipes.items() if open_piece(recipe) in ("", *solved)}
    pieces = make_pieces(
        reader, sewing.recipes, lambda name: sewing.steps_of(name, solved) if name in closed else None, parts.straps
    )
    show = read_show(spec)
    joins = measure_joins(reader, sewing.plans, pieces, sewing.lengths.written)
    partners = follow_steps(spec, sewing.partners, sewing.sewn, pieces, joins)
    seams = [
        match_seam(seam, partners[seam.name], sewing.sewn[seam.name], solved, sewing.lengths, show)
        for seam in spec.seams
        if seam.name in sewing.sewn
    ]
    return replace(
        parts,
        pieces=pieces,
        solved=solved,
        joins=joins,
        seams=tuple(replace(seam, trimmings=sewing.trimmings[seam.name]) for seam in seams if seam is not None),
    )


def _read_all_partners(reader: Reader, spec: Spec, taken_twice: Set[str]) -> dict[str, Partners]:
    """Partners of every seam, by its name; empty where they cannot be read (noted)."""
    trimmings = {item.name: item.kind is not None and item.kind.value == "zip" for item in spec.trimmings}
    names = (*list_part_names(spec), *trimmings)
    partners = {seam.name: _read_seam_partners(reader, seam, names, trimmings) for seam in spec.seams}
    lined = {piece.name: {value.value for value in piece.lines} for piece in spec.pieces if piece.lines}
    partners = name_rings(spec, {name: _with_linings(found, lined) for name, found in partners.items()})
    return {
        name: () if any(partner.part in taken_twice for partner in found) else found for name, found in partners.items()
    }


def _read_seam_partners(
    reader: Reader, seam: SeamSpec, names: Sequence[str], trimmings: Mapping[str, bool]
) -> Partners:
    """The partners of a seam without its goods by length, of which it is told whether they are a zip: what laps is then
    all of them, level, over its tape."""
    rest, sewn = split_meet(seam, trimmings)
    if sewn and not rest.meet:
        what = f'the seam "{seam.name}" has nothing that "{sewn[0].value}" is sewn to'
        reader.error(sewn[0].place, what, 'write for example meet = ["front: top", "zip: left"]')
        return ()
    found = read_partners(reader, rest, names) or ()
    has_zip = any(trimmings[part_name(value)] for value in sewn)
    return tuple(replace(side, lap_mm=0.0) for side in found) if has_zip else found


def _with_linings(partners: Partners, lined: Mapping[str, Set[str]]) -> Partners:
    """The partners of a lap with what lines the one on top, which lies over with that: only what lies beneath is lapped."""
    top = next((side for side in partners if side.edges), None)
    return tuple(
        replace(side, lap_mm=0.0) if top and side.edges == top.edges and top.part in lined.get(side.part, ()) else side
        for side in partners
    )


def _steps_source(reader: Reader, recipes: Mapping[str, Recipe]) -> SolvedSteps:
    """What draws each piece once for every length that is tried."""
    known: dict[tuple[str, float | None], Steps | None] = {}

    def steps_of(name: str, solved: Mapping[str, float]) -> Steps | None:
        recipe = recipes.get(name)
        if recipe is None:
            return None
        key = (name, solved.get(open_piece(recipe)))
        if key not in known:
            known[key] = draw_steps(reader, recipe, solved)
        return known[key]

    return steps_of


def _outline_source(reader: Reader, recipes: Mapping[str, Recipe], steps_of: SolvedSteps) -> OutlineOf:
    """What seams run along, of each piece for every length that is tried: its outline between the folds of its hems."""
    known: dict[int, tuple[Steps, Outline | None]] = {}

    def outline_of(name: str, solved: Mapping[str, float]) -> Outline | None:
        steps = steps_of(name, solved)
        if steps is None:
            return None
        if id(steps) not in known:
            known[id(steps)] = steps, fold_hems(reader, read_hems(reader, recipes[name], steps[-1]), steps[-1])
        return known[id(steps)][1]

    return outline_of


def _open_places(recipes: Mapping[str, Recipe]) -> dict[str, Place]:
    """Where each open length is written, by the name of its piece."""
    return {
        open_piece(recipe): value.place
        for recipe in recipes.values()
        for value in recipe.size.size
        if open_piece(recipe) and is_open(value)
    }


def _parts_open(part: str, recipes: Mapping[str, Recipe], joins: Mapping[str, Join]) -> set[str]:
    names = joins[part].pieces if part in joins else (part,)
    return {open_piece(recipes[name]) for name in names if name in recipes and open_piece(recipes[name])}


def _size_lines(spec: Spec) -> dict[str, int]:
    """Piece -> the line that says its size, in its own table."""
    values = {piece.name: piece.size[0] if piece.size else piece.diameter for piece in spec.pieces}
    return {name: value.place.line for name, value in values.items() if value is not None}
