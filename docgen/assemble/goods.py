"""What there is to join: parts by name, how many of each, and how thick a piece is at a place, folds and hems included."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from functools import cached_property

from docgen.assemble.assembly import Copy
from docgen.assemble.wall_linings import find_hung_walls, list_outermost
from docgen.geometry.measure import gap_finder, inside_finder, segment_distance, straighten
from docgen.geometry.nearest import Stretch, stretch_by_edge
from docgen.geometry.outline import WHOLE, edge_path, outline_box, outline_path, strip_outline
from docgen.geometry.path import grow_box, path_box
from docgen.geometry.segment import box_of
from docgen.geometry.shapes import Box, Outline, Path, Point, Segment
from docgen.resolve import (
    Build,
    Fold,
    Hem,
    Join,
    Layer,
    Material,
    Piece,
    Seam,
    SeamSide,
    Stitch,
    Strap,
    Trimming,
    edge_mm,
    lay_out_strips,
)
from docgen.tables.sewing import SAME_PUNCH_MM

SAME_END_MM = 0.5  # parts of an edge that share no more than this end where the other begins
SAME_SIZE_MM = 3.0  # parts that differ less in width and length lie upon each other all over
WALL_SEAMS = 2  # by which a wall is sewn to two panels


class Goods:
    """The parts of a build by name. Nothing in it changes; what is worked out once is kept."""

    def __init__(self, build: Build) -> None:
        self.build = build
        self.pieces: dict[str, Piece] = {piece.name: piece for piece in build.pieces}
        self.joins: dict[str, Join] = {
            join.name: join for join in build.joins if all(strip in self.pieces for strip in join.pieces)
        }
        self.straps: dict[str, Strap] = {strap.name: strap for strap in build.straps}
        self.trimmings: dict[str, Trimming] = {item.name: item for item in build.trimmings}
        parts = {*self.pieces, *self.joins, *self.straps}
        self.seams: dict[str, Seam] = {
            seam.name: seam for seam in build.seams if all(side.part in parts for side in seam.sides)
        }
        self.stitches: dict[str, Stitch] = {stitch.name: stitch for stitch in build.stitches}
        self.materials: dict[str, Material] = {material.name: material for material in build.materials}
        # By identity, each with its path, so that no other path can take its number.
        self._boxes: dict[int, tuple[Path, Box]] = {}
        self._insides: dict[int, tuple[Path, Callable[[Point], bool]]] = {}
        self._gaps: dict[tuple[str, str], Callable[[Point], float]] = {}
        self._rims: dict[int, tuple[Path, list[tuple[Box, Segment]]]] = {}
        self._outlines: dict[str, Path] = {}
        self._covers: dict[tuple[str, str], bool] = {}
        self._leather: dict[str, bool] = {}
        self._sizes: dict[str, tuple[float, float]] = {}
        self._layers: dict[str, Layer] = {}
        self._layers_for: dict[tuple[str, float, str], tuple[Layer, ...]] = {}

    @cached_property
    def cut(self) -> dict[str, Piece]:
        """Everything that is cut, by name: pieces, and straps as they are cut."""
        return self.pieces | {name: strap.piece for name, strap in self.straps.items()}

    @cached_property
    def counts(self) -> dict[str, int]:
        """How many of each part there are for one make: pieces and straps as they are cut, joins as their strips
        suffice for."""
        counts = {name: piece.cut for name, piece in self.pieces.items()}
        counts |= {name: strap.cut for name, strap in self.straps.items()}
        for name, join in self.joins.items():
            taken = Counter(join.pieces)
            counts[name] = max(1, min(self.pieces[strip].cut // taken[strip] for strip in taken))
        return counts

    def is_zip(self, name: str) -> bool:
        """Whether it is a zip: of its two tapes one lies on each of the parts that it is sewn to."""
        item = self.trimmings.get(name)
        return item is not None and item.kind == "zip"

    def sides(self, seam: str) -> tuple[SeamSide, ...]:
        """The sides of a seam by its name."""
        return self.seams[seam].sides if seam in self.seams else ()

    @cached_property
    def edge_sides(self) -> dict[str, tuple[tuple[Seam, SeamSide], ...]]:
        """Part -> the sides of seams that run along edges of it, in the order of the spec."""
        found: dict[str, list[tuple[Seam, SeamSide]]] = {}
        for seam in self.seams.values():
            for side in seam.sides:
                if side.edges:
                    found.setdefault(side.part, []).append((seam, side))
        return {part: tuple(sides) for part, sides in found.items()}

    def copies(self, part: str) -> tuple[Copy, ...]:
        """All copies of a part."""
        return tuple(Copy(part, number) for number in range(1, self.counts[part] + 1))

    @cached_property
    def joined_strips(self) -> dict[str, tuple[str, ...]]:
        """Strip -> the joins that it is part of."""
        found: dict[str, tuple[str, ...]] = {}
        for join in self.joins.values():
            for strip in dict.fromkeys(join.pieces):
                found[strip] = (*found.get(strip, ()), join.name)
        return found

    def as_joined(self, copy: Copy) -> Copy:
        """The join that a copy of a strip is part of, where that is made once; any other copy itself."""
        joins = self.joined_strips.get(copy.part, ())
        return Copy(joins[0]) if len(joins) == 1 and self.counts[joins[0]] == 1 else copy

    def strips_of_join(self, part: str) -> tuple[str, ...]:
        """The names of the strips of a join; none of a piece."""
        return tuple(self.joins[part].pieces) if part in self.joins else ()

    def strips(self, part: str) -> tuple[Piece, ...]:
        """The pieces that a part is made of: itself, or the strips of a join, each once; none of a strap."""
        names = dict.fromkeys(self.joins[part].pieces) if part in self.joins else (part,)
        return tuple(self.pieces[name] for name in names if name in self.pieces)

    def folded_across(self, join: Join) -> tuple[float, float]:
        """From where to where a join reaches across once the hems along its long edges are turned: between the folds that
        all its strips have, mm from its left cut edge."""
        left, right = [], []
        for laid in lay_out_strips(join, self.pieces):
            cut, sewn = (
                outline_box(one) for one in (self.pieces[laid.name].outline, self.pieces[laid.name].sewn_outline)
            )
            turned = sewn.left - cut.left, cut.right - sewn.right
            low, high = turned[::-1] if laid.is_turned else turned
            left.append(low)
            right.append(high)
        return min(left, default=0.0), join.width_mm - min(right, default=0.0)

    def edge_parts(self, side: SeamSide) -> dict[str, Stretch]:
        """What a side of a seam takes of each edge of its part, from where to where."""
        return stretch_by_edge(self.sewn_outline(side.part), side.edges, side.stretch_mm) if side.edges else {}

    def sewn_outline(self, part: str) -> Outline:
        """What seams run along: of a join all its strips as one."""
        if part in self.joins:
            return strip_outline(self.joins[part].width_mm, self.joins[part].length_mm)
        return (self.straps[part].piece if part in self.straps else self.pieces[part]).sewn_outline

    def do_meet(self, one: SeamSide, other: SeamSide) -> bool:
        """Whether two sides take an edge, or a part of one, in common."""
        if one.part != other.part or not one.edges or not other.edges:
            return False
        if one.stretch_mm is None and other.stretch_mm is None:
            return meets(one.edges, other.edges)
        parts, others = self.edge_parts(one), self.edge_parts(other)
        return any(overlap_mm(parts[edge], others[edge]) > SAME_END_MM for edge in parts.keys() & others.keys())

    def full_mm(self, piece: Piece) -> float:
        """Thickness of a piece before skiving."""
        return self.materials[piece.material].thickness_mm

    def is_leather(self, part: str) -> bool:
        """Whether a part is of leather; a strap is what its material is."""
        if part not in self._leather:
            names = [strip.material for strip in self.strips(part)] or [self.straps[part].material]
            self._leather[part] = any(self.materials[name].kind == "leather" for name in names)
        return self._leather[part]

    def box(self, path: Path) -> Box:
        """The box round a path, worked out once."""
        if id(path) not in self._boxes:
            self._boxes[id(path)] = path, path_box(path)
        return self._boxes[id(path)][1]

    def is_within(self, path: Path, at: Point) -> bool:
        """Whether a point lies inside a closed path of the build."""
        box = self.box(path)
        if not (box.left <= at.x <= box.right and box.bottom <= at.y <= box.top):
            return False
        if id(path) not in self._insides:
            self._insides[id(path)] = path, inside_finder(path)
        return self._insides[id(path)][1](at)

    def is_on_rim(self, path: Path, at: Point, off_mm: float) -> bool:
        """Whether a point lies no farther from a path of the build than that: only segments near it are measured."""
        if id(path) not in self._rims:
            segments = straighten(path).segments
            self._rims[id(path)] = path, [(path_box(Path((segment,))), segment) for segment in segments]
        return any(
            box.left - off_mm <= at.x <= box.right + off_mm
            and box.bottom - off_mm <= at.y <= box.top + off_mm
            and segment_distance(segment, at) <= off_mm
            for box, segment in self._rims[id(path)][1]
        )

    def outline(self, piece: Piece) -> Path:
        """The cut outline of a piece as one path, always the same one."""
        return self._outlines.setdefault(piece.name, outline_path(piece.outline))

    def turned_boxes(self, piece: Piece) -> list[Box]:
        """Boxes round all that lies under a closed fold or a hem of the piece."""
        boxes = []
        for fold in piece.marks.folds:
            if _turns(fold):
                box = self.box(self.outline(piece))
                corners = [Point(x, y) for x in (box.left, box.right) for y in (box.bottom, box.top)]
                boxes.append(box_of([fold.across(corner) for corner in corners]))
        for hem in piece.hems:
            edges = _edges_of(piece, hem.edges)
            boxes += [grow_box(path_box(edge_path(piece.sewn_outline, edge)), hem.turned_mm) for edge in edges]
        return boxes

    def folded_spots(self, piece: Piece, at: Point, *, with_hems: bool = False) -> tuple[Point, ...]:
        """Points of the piece that come to lie on `at` when each of its closed folds, and those of its hems besides, is
        turned right over."""
        spots = (fold.across(at) for fold in piece.marks.folds if _turns(fold) or (with_hems and fold.of_hem))
        return tuple(spot for spot in spots if self.is_within(self.outline(piece), spot))

    def whole_layer(self, part: str) -> Layer:
        """A part as one layer, unskived."""
        if part not in self._layers:
            self._layers[part] = self._find_layer(part)
        return self._layers[part]

    def _find_layer(self, part: str) -> Layer:
        if part in self.straps:
            strap = self.straps[part]
            return Layer(part=part, material=strap.material, thickness_mm=strap.thickness_mm)
        if part in self.trimmings and part not in self.pieces:
            tape = self.trimmings[part]
            return Layer(part=part, material="", thickness_mm=tape.thickness_mm * tape.layers)
        thickest = max(self.strips(part), key=self.full_mm)
        return Layer(part=part, material=thickest.material, thickness_mm=self.full_mm(thickest))

    def point_mm(self, piece: Piece, at: Point) -> float:
        """Thickness of one layer of a piece at a point, after skiving."""
        left = [skive.to_mm for skive in piece.marks.skives if self.is_within(skive.band, at)]
        return min([self.full_mm(piece), *left])

    def layers_at(self, piece: Piece, at: Point) -> tuple[float, ...]:
        """Thickness of each layer of a piece at a point: itself, what is folded over on to it, and its hems."""
        spots = [at, *self.folded_spots(piece, at)]
        return (*(self.point_mm(piece, spot) for spot in spots), *self.hem_layers(piece, at))

    def layers_for(self, part: str, punch_mm: float, hardware: str) -> tuple[Layer, ...]:
        """The layers of a part at its holes for what goes through a hole so wide of another; where these differ, or it has
        none, one from the thinnest to the thickest that it is."""
        key = part, punch_mm, hardware
        if key not in self._layers_for:
            self._layers_for[key] = tuple(self._find_layers_for(*key))
        return self._layers_for[key]

    def _find_layers_for(self, part: str, punch_mm: float, hardware: str) -> Iterator[Layer]:
        whole, strips = self.whole_layer(part), self.strips(part)
        found = {
            self.layers_at(strip, hole.at)
            for strip in strips
            for hole in strip.marks.holes
            if abs(hole.diameter_mm - punch_mm) <= SAME_PUNCH_MM and hole.takes in ("", hardware)
        }
        if len({tuple(sorted(layers)) for layers in found}) == 1:  # seen from either half of what is folded
            yield from (replace(whole, thickness_mm=thickness_mm) for thickness_mm in min(found))
            return
        sums = [sum(layers) for layers in found]
        sums = sums or [whole.thickness_mm, *(skive.to_mm for strip in strips for skive in strip.marks.skives)]
        yield replace(whole, thickness_mm=max(sums), thinnest_mm=min(sums), thickest_mm=max(sums))

    def hem_layers(self, piece: Piece, at: Point) -> Iterator[float]:
        """What hems lay on the piece at a point of it. One that is turned over another takes its layers with it if either
        is double; the corner of two single ones is cut away (common practice, no published source)."""
        before: list[tuple[Hem, list[float]]] = []
        for hem in piece.hems:
            for edge in _edges_of(piece, hem.edges):
                from_fold_mm = self._from_fold(piece, edge)(at)
                if from_fold_mm < hem.turned_mm:
                    turned = [*self._turned_layers(piece, edge, hem, from_fold_mm)]
                    under = [mm for one, layers in before if one.is_double or hem.is_double for mm in layers]
                    yield from (*turned, *(under * len(turned)))
                    before.append((hem, turned))

    def _from_fold(self, piece: Piece, edge: str) -> Callable[[Point], float]:
        """What measures the distance from an edge of a piece as it is sewn."""
        key = piece.name, edge
        if key not in self._gaps:
            self._gaps[key] = gap_finder(edge_path(piece.sewn_outline, edge))
        return self._gaps[key]

    def _turned_layers(self, piece: Piece, edge: str, hem: Hem, from_fold_mm: float) -> Iterator[float]:
        """The layers of a hem so far in from its fold, each as thick as it is so far from the cut edge."""
        yield self.edge_mm(piece, edge, hem.depth_mm - from_fold_mm)
        if hem.is_double:
            yield self.edge_mm(piece, edge, from_fold_mm)

    def edge_mm(self, piece: Piece, edge: str, inset_mm: float) -> float:
        """Thickness `inset_mm` in from a cut edge: what a skived band leaves there, else the whole."""
        return edge_mm(piece, edge, inset_mm, self.full_mm(piece))

    def covers(self, cover: str, part: str) -> bool:
        """Whether a lining, foam or board lies behind a part: as it says, else by its shape or its size."""
        pair = cover, part
        if pair not in self._covers:
            self._covers[pair] = self._does_cover(cover, part)
        return self._covers[pair]

    def _does_cover(self, cover: str, part: str) -> bool:
        lines = self._lined_by(cover)
        goods = {item.name for item in self.build.trimmings}
        if part in self.joins and lines == {piece.name for piece in self.strips(part)} - goods:
            return True  # a lining of all its strips but for a zip among them
        if self.is_leather(cover) and part not in lines:
            return not lines and (self._lines_wall(cover, part) or part in self.hung_walls.get(cover, ()))
        if lines or not self.is_leather(part):
            return part in lines
        is_elsewhere = cover in self._landed and not any({cover, part} <= {*one.parts} for one in self.seams.values())
        if is_elsewhere and part in self.pieces and cover not in self.pieces[part].landing_names:
            return False
        return self._is_alike(cover, part) or self._is_as_large(cover, part)

    @cached_property
    def _landed(self) -> set[str]:
        """The pieces that are written to land on another."""
        return {name for piece in self.pieces.values() for name in piece.landing_names}

    def _lines_wall(self, cover: str, part: str) -> bool:
        """Whether leather of the size of a wall, and no thicker, is sewn with it to two panels by its long edges, each time
        on its inner side: beneath it where it is the outermost layer, outermost where the seam is turned."""
        if self._walls_covered[part, cover] != WALL_SEAMS:
            return False
        own_mm, wall_mm = (max(map(self.full_mm, self.strips(name)), default=0.0) for name in (cover, part))
        return own_mm <= wall_mm and self._is_as_large(cover, part)

    @cached_property
    def hung_walls(self) -> Mapping[str, frozenset[str]]:
        """The walls of lining bags, each with the walls that it lines."""
        return find_hung_walls(self.seams.values(), self._lined_by, self._is_as_large)

    def _lined_by(self, part: str) -> frozenset[str]:
        """What a part says that it lines."""
        return frozenset(name for piece in self.strips(part) for name in piece.lines)

    @cached_property
    def _walls_covered(self) -> Counter[tuple[str, str]]:
        """By how many seams each pair of a wall and what lies on its inner side is sewn by long edges, outermost."""
        return Counter(pair for seam in self.seams.values() for pair in list_outermost(seam))

    def _is_alike(self, cover: str, part: str) -> bool:
        models = [{piece.model for piece in self.strips(name)} for name in (cover, part)]
        return cover in self.pieces and part in self.pieces and bool(models[0] & models[1])

    def _is_as_large(self, cover: str, part: str) -> bool:
        sizes = [self.size_mm(name) for name in (cover, part)]
        return all(abs(a - b) <= SAME_SIZE_MM for a, b in zip(*sizes, strict=True))

    def size_mm(self, part: str) -> tuple[float, float]:
        """Width and height of a part as it is sewn, of a join width and length."""
        if part not in self._sizes:
            self._sizes[part] = self._find_size_mm(part)
        return self._sizes[part]

    def _find_size_mm(self, part: str) -> tuple[float, float]:
        if part in self.joins:
            return self.joins[part].width_mm, self.joins[part].length_mm
        strap = self.straps.get(part)
        box = outline_box(strap.piece.outline if strap else self.pieces[part].sewn_outline)
        return box.width, box.height


def meets(one: Sequence[str], other: Sequence[str]) -> bool:
    """Whether two runs of edges have one in common."""
    return WHOLE in one or WHOLE in other or not set(one).isdisjoint(other)


def overlap_mm(one: Stretch, other: Stretch) -> float:
    """How much two parts of an edge have in common."""
    return max(min(one[1], other[1]) - max(one[0], other[0]), 0.0)


def _edges_of(piece: Piece, names: Sequence[str]) -> tuple[str, ...]:
    if WHOLE not in names:
        return tuple(names)
    return tuple(edge.name for edge in piece.sewn_outline.edges)


def _turns(fold: Fold) -> bool:
    """Whether a fold lays one half of its piece on the other; what a hem turns over is told by the hem."""
    return not fold.is_open and not fold.of_hem
