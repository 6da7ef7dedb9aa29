"""The finished article, from the front and from behind, with the names of its parts."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

from docgen.assemble import Body, BoxBody, Closed, Kind, Lined, MetalBody, OpenedOut
from docgen.classes import dataclass
from docgen.pages.looks.words import words
from docgen.pages.pictures.drawing import Drawing, Shown
from docgen.pages.pictures.figure import make_figure, scale_for
from docgen.pages.pictures.leaders import THIN_MM, Named, find_unseen
from docgen.pages.pictures.view import Side, View, corner, dimetric, isometric, turned_round, upright
from docgen.pages.setting.blocks import Figure, PageStyle
from docgen.plan import spoken

HIGH_MM, HIGH_OPEN_MM = 56.0, 46.0
RISES_MM = 25.0  # higher than layers on each other are drawn
LESS_SHARES = (0.5, 0.46, 0.42)  # of the width for the front, where names stand behind as well
SMALL_MM = (32.0, 26.0)  # wide and high, at the head of lists
FRONT_SHARE = 0.54  # of the width: it bears most names


SIDES: Final[tuple[Side, Side]] = ("front", "behind")


def view_of(kind: Kind, side: Side, *, is_away: bool = False) -> View:
    """What lies is seen isometrically, what stands with its front nearly true; turned round where its front looks away."""
    if kind == "lying":
        return turned_round(isometric(side)) if is_away else isometric(side)
    return dimetric(SIDES[side == "front"] if is_away else side)


@dataclass(frozen=True, slots=True, kw_only=True)
class Article:
    """The finished article as it is drawn from the front and from behind, and the names of its parts; `notes` tell what
    is drawn open or not at all. What opens as a book does is drawn open too, with the names of what that shows."""

    front: Drawing
    behind: Drawing
    named: tuple[Named, ...]
    notes: tuple[str, ...]
    inside: Drawing | None = None
    named_inside: tuple[Named, ...] = ()
    shows_flesh: bool = False  # where no step does


def set_article(closed: Closed, kind: Kind, lined: Lined) -> Article | None:
    """None where nothing is to be drawn. `lined` tells what lies behind copies."""
    outer = [body for body in closed.bodies if not body.placed.is_inner and body.copy not in lined.buried]
    if not outer or closed.is_scanty:
        return None
    said = words("pictures")
    shown = [*_show(closed.bodies, closed.metal, closed, lined), *(Shown(body=one) for one in closed.zips)]
    titles = dict.fromkeys(body.title for body in outer)
    named = tuple((tuple(k for k, body in enumerate(outer) if body.title == title), title) for title in titles)
    named += tuple(((len(outer) + len(closed.metal) + k,), one.title) for k, one in enumerate(closed.zips))
    rows = {round(body.placed.surface.bands[0].at[1], 3) for body in outer if body.placed.how == "laid out"}
    front, behind = (Drawing(shown, _view_of_whole(kind, side, outer, closed)) for side in SIDES)
    unseen = _find_unseen_metal(front, behind)
    notes = tuple(
        f"{said[key]}: {', '.join(map(spoken, titles))}"
        for key, titles in (("open", closed.opened), ("not_drawn", closed.absent), ("unseen", unseen))
        if titles
    )
    notes = (said["laid_out"], *notes) if len(rows) > 1 else notes
    article = Article(front=front, behind=behind, named=named, notes=notes)
    return _open(article, closed, closed.opened_out, lined) if closed.opened_out else article


def set_boxes(boxes: Sequence[BoxBody], parts: Sequence[str]) -> Article:
    """Boxes folded of one piece each, standing; of all `parts`, by their titles, what lies within them or apart is not
    drawn."""
    titles = tuple(one.title for one in boxes)
    named: tuple[Named, ...] = tuple(((k,), title) for k, title in enumerate(titles))
    front, behind = (Drawing([Shown(body=one) for one in boxes], dimetric(side)) for side in SIDES)
    missing = [title for title in dict.fromkeys(parts) if title not in titles]
    notes = (f"{words('pictures')['not_drawn']}: {', '.join(map(spoken, missing))}",) if missing else ()
    shut = {one.net.piece.lid_of for one in boxes}
    shows_flesh = any(one.net.is_grain_out and one.net.piece.name not in shut and not one.net.is_lid for one in boxes)
    return Article(front=front, behind=behind, named=named, notes=notes, shows_flesh=shows_flesh)


def _show(bodies: Sequence[Body], metal: Sequence[MetalBody], closed: Closed, lined: Lined) -> list[Shown]:
    return [
        *(
            Shown(
                body=body,
                is_hatched=lined.is_hatched(body),
                covered=lined.bare(body),
                flanged=closed.flanged.get(body.copy, frozenset()),
                beneath=lined.hidden_rows(body.copy),
                is_lined=lined.hides(body.copy) and not body.is_strap,
                shut=lined.shut_holes(body),
            )
            for body in bodies
            if not body.placed.is_inner and body.copy not in lined.buried
        ),
        *(Shown(body=one) for one in metal),
    ]


def _open(article: Article, closed: Closed, opened: OpenedOut, lined: Lined) -> Article:
    """The article with what it shows when it is opened: all but what folds is named there, as far as it is seen."""
    side: Side = "front" if opened.is_up else "behind"
    inside = Drawing(_show(opened.bodies, opened.metal, closed, lined), isometric(side))
    within = [one for one in article.named if one[1] not in opened.covers]
    unseen = find_unseen(inside.glance(1.0), within, THIN_MM)
    shown = tuple(one for one in within if one not in unseen)
    rest = tuple(one for one in article.named if one not in shown)
    return replace(article, named=rest, inside=inside, named_inside=shown)


def _find_unseen_metal(front: Drawing, behind: Drawing) -> Sequence[str]:
    """What the hardware is called of which nothing is seen from either side, as of feet under a bag."""
    metal = [(place, one) for place, one in enumerate(front.shown) if isinstance(one.body, MetalBody)]
    seen = {
        one.body.title
        for place, one in metal
        if any(drawing.seen(place, one, line)[2] for drawing in (front, behind) for line in one.body.lines)
    }
    return [title for title in dict.fromkeys(one.body.title for _, one in metal) if title not in seen]


def _view_of_whole(kind: Kind, side: Side, bodies: Sequence[Body], closed: Closed) -> View:
    """What lies and rises is not turned over to be seen from behind, as what is flat is, and what is folded: its other half
    lies beneath. A flat pouch stands with its zip up."""
    is_away, mouths = closed.is_away, [one for one in closed.zips if not one.lies]
    if mouths and kind == "lying" and not closed.opened_out:
        return upright(SIDES[(side == "front") == is_away])
    heights = [at[2] for body in bodies for face in body.faces for at in face.corners]
    is_folded = any(
        body.placed.how in ("begun with", "back to back") and len(body.placed.surface.bands) > 1 for body in bodies
    )
    is_low = max(heights) - min(heights) <= RISES_MM
    if kind != "lying" or is_low or is_folded:
        return view_of(kind, side, is_away=is_away)
    return turned_round(corner(side)) if is_away else corner(side)


def draw_small(article: Article, style: PageStyle) -> Figure:
    """The article from the front, small, without names."""
    scale = scale_for(article.front, (), SMALL_MM, style)
    return make_figure(article.front, (), SMALL_MM[0], scale, style)[0]


def draw_article(article: Article, width_mm: float, share: float, style: PageStyle) -> tuple[Figure, ...]:
    """Front, with that share of the width, and back side by side, to one scale; of what opens also the inside, no larger. A
    part is named where it is seen first; what is narrow, at the front where it is narrow behind too. Where some are named
    behind the width is shared so that both are largest."""
    said, front, behind = words("pictures"), article.front, article.behind
    at_front, at_back = _share_names(article, width_mm, share, style)
    shares = (share, *LESS_SHARES) if at_back else (share,)
    scale, share, columns = max(_scales(article, at_front, at_back, width_mm, shares, style))
    front_mm, behind_mm = _widths(width_mm, share, style)
    told = "; ".join([said["from_behind"], *article.notes])
    first, _ = make_figure(front, at_front, front_mm, scale, style, said["from_front"], least_mm=THIN_MM)
    second, _ = make_figure(behind, at_back, behind_mm, scale, style, told, least_mm=THIN_MM, columns=columns)
    if article.inside is None:
        return first, second
    inside, named = article.inside, article.named_inside
    scale = min(scale, scale_for(inside, named, (width_mm, HIGH_OPEN_MM), style))
    third, _ = make_figure(inside, named, width_mm, scale, style, said["opened_out"], least_mm=THIN_MM)
    return first, second, third


def _widths(width_mm: float, share: float, style: PageStyle) -> tuple[float, float]:
    front_mm = (width_mm - style.gutter_mm) * share
    return front_mm, width_mm - style.gutter_mm - front_mm


def _scales(
    article: Article,
    at_front: Sequence[Named],
    at_back: Sequence[Named],
    width_mm: float,
    shares: Sequence[float],
    style: PageStyle,
) -> Iterator[tuple[float, float, int]]:
    """The scale at which both views fit, for each share of the width and number of columns of names behind."""
    for share in shares:
        front_mm, behind_mm = _widths(width_mm, share, style)
        scale = scale_for(article.front, at_front, (front_mm, HIGH_MM), style)
        for columns in (2, 1) if at_back else (2,):
            its = scale_for(article.behind, at_back, (behind_mm, HIGH_MM), style, columns)
            yield min(scale, its), share, columns


def _share_names(
    article: Article, width_mm: float, share: float, style: PageStyle
) -> tuple[Sequence[Named], Sequence[Named]]:
    """The names at the front, and those behind of what is not seen there."""
    named, front, behind = article.named, article.front, article.behind
    front_mm, behind_mm = _widths(width_mm, share, style)
    scale = min(scale_for(front, named, (front_mm, HIGH_MM), style), scale_for(behind, (), (behind_mm, HIGH_MM), style))
    seen, seen_behind = front.glance(scale), behind.glance(scale)
    lost = find_unseen(seen, named)
    at_front = [one for one in named if one not in lost]
    narrow = find_unseen(seen_behind, lost)
    if narrow:
        wide = [one for one in lost if one not in narrow]
        at_front = [one for one in named if one not in wide]
        lost = [*wide, *find_unseen(seen, at_front, THIN_MM)]
        lost, at_front = [one for one in named if one in lost], [one for one in at_front if one not in lost]
    unseen = find_unseen(seen_behind, lost, THIN_MM)
    return at_front, [one for one in lost if one not in unseen]
