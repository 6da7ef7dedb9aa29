"""Parts of a build made by hand, for tests of what comes after resolving: plain ones, with what a test names put in."""

from dataclasses import fields as fields_of
from dataclasses import replace

from docgen.geometry.shapes import Outline
from docgen.resolve import Hardware, Marks, Material, Piece, Stitch, Strap, StrapEnd

BODY = Material(
    name="body",
    title="bridle leather",
    kind="leather",
    tannage="vegetable",
    finish="waxed",
    thickness_mm=2.0,
    thickness_words="2 mm",
    waste=0.25,
    roll_width_mm=0.0,
    note="",
)
CLOTH = replace(
    BODY, name="cloth", title="canvas", kind="fabric", tannage="", finish="", thickness_mm=0.6, thickness_words="0.6 mm"
)
MAIN = Stitch(
    name="main",
    by="machine",
    type="301",
    thread_words="Tex 135 bonded nylon",
    thread_tex=135.0,
    thread_fibre="nylon",
    needle_nm=130,
    pitch_mm=4.0,
    inset_mm=5.0,
    rows=1,
    row_gap_mm=3.0,
    back_tack_mm=10.0,
)
SQUARE = StrapEnd(shape="square", back_mm=0.0, around="", takes_mm=0.0)


def make_piece(name: str, outline: Outline, **fields: object) -> Piece:
    """One rectangle of the leather with this outline, titled as it is named; fields of its marks stand among its own."""
    plain = Piece(
        name=name, title=name.title(), material="body", cut=1, is_pair=False, shape="rectangle", outline=outline
    )
    marks = {each.name: fields.pop(each.name) for each in fields_of(Marks) if each.name in fields}
    return replace(plain, marks=Marks(**marks), **fields)  # type: ignore[arg-type]


def make_hardware(name: str, what: str, count: int, **fields: object) -> Hardware:
    plain = Hardware(name=name, what=what, count=count, finish="", inside_mm=0, bar_mm=0, posts_mm=(), note="")
    return replace(plain, **fields)  # type: ignore[arg-type]


def make_strap(piece: Piece, **fields: object) -> Strap:
    """A plain strap of this strip, square at both ends and as long as cut, with these fields put in."""
    width_mm, length_mm = piece.outline.edges[1].path.segments[0].end
    plain = Strap(
        name=piece.name,
        title=piece.title,
        material=piece.material,
        cut=piece.cut,
        width_mm=width_mm,
        cut_length_mm=length_mm,
        finished_mm=length_mm,
        worn_mm=(),
        hole_tips_mm=(),
        punch_mm=0.0,
        ends=(SQUARE, SQUARE),
        partner="",
        stitch="",
        piece=piece,
        note="",
    )
    return replace(plain, **fields)  # type: ignore[arg-type]
