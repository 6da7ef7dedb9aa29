"""`docgen new --from`: what a maker has drawn becomes a spec that checks and prints at once."""

import json
import re
import tomllib
from io import StringIO

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator
from svgelements import SVG, Shape

from docgen.checks import resolve_build
from docgen.cli import main
from docgen.geometry.outline import outline_path
from docgen.geometry.path import path_box
from docgen.read import read_spec

SIZED = 'width="600mm" height="400mm" viewBox="0 0 600 400"'
BAG = """\
<g id="layer1"><path d="M10 10h250v170a30 30 0 0 1 -30 30h-190a30 30 0 0 1 -30 -30z"/></g>
<g id="layer2"><circle cx="30" cy="30" r="2"/><circle id="stud" cx="240" cy="30" r="1.5"/></g>
<text x="100" y="100" font-size="6">cut 2</text><text x="100" y="120" font-size="12">Front panel</text>
<rect id="flap" x="300" y="10" width="250" height="120"/><path id="fold" d="M305 40h240"/>
<polygon points="20,250 120,250 120,390 20,390"/>
<text x="20" y="240"><tspan x="130" y="300">Side</tspan> <tspan>wall</tspan></text>
<circle id="path77" cx="500" cy="300" r="40"/>"""


def draw(folder, inside, head=SIZED, name="bag.svg"):
    text = f'<svg xmlns="http://www.w3.org/2000/svg" {head}>{inside}</svg>'
    (folder / name).write_text(text, encoding="utf-8")
    return text


@pytest.fixture
def begin(tmp_path, monkeypatch, capsys):
    """begin(inside, *words) -> exit code, what was said, the text of the spec ("" for none)."""
    monkeypatch.chdir(tmp_path)

    def begin(inside, *words, head=SIZED):
        draw(tmp_path, inside, head)
        (tmp_path / "mine.toml").unlink(missing_ok=True)
        code = main(["new", "mine", "--from", "bag.svg", *words])
        said = capsys.readouterr()
        spec = tmp_path / "mine.toml"
        return code, said.out + said.err, spec.read_text(encoding="utf-8") if spec.exists() else ""

    return begin


def resolve(folder, text):
    path = folder / "mine.toml"
    path.write_text(text, encoding="utf-8")
    return resolve_build(read_spec(path))


def test_every_outline_is_a_piece_by_its_id_or_the_words_at_it(begin, tmp_path):
    code, said, text = begin(BAG)
    assert code == 0
    assert "4 pieces from bag.svg: front-panel, flap, side-wall, path77" in said
    spec = tomllib.loads(text)
    elements = {name: piece["element"] for name, piece in spec["pieces"].items()}
    assert elements == {"front-panel": "Front panel", "flap": "flap", "side-wall": "Side wall", "path77": "path77"}
    build = resolve(tmp_path, text)
    assert build.cautions == ()
    assert {piece.name: len(piece.marks.holes) for piece in build.pieces} == {
        "front-panel": 2,
        "flap": 0,
        "side-wall": 0,
        "path77": 0,
    }
    assert main(["make", "mine.toml"]) == 0


def test_sizes_are_those_that_another_library_reads(begin):
    """svgelements gives each shape's box; the drawing is in mm, one unit each (25.4 mm an inch)."""
    text = draw_text = begin(BAG)[2]
    svg = f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 600 400" width="600" height="400">{BAG}</svg>'
    boxes = [shape.bbox() for shape in SVG.parse(StringIO(svg)).elements() if isinstance(shape, Shape)]
    sizes = [(round(right - left, 1), round(low - top, 1)) for left, top, right, low in boxes]
    told = re.findall(r"^\[pieces\.[\w-]+\]  # .*?\(([\d.]+) mm\) wide, .*?\(([\d.]+) mm\) high$", text, re.MULTILINE)
    assert len(told) == 4
    assert all((float(wide), float(high)) in sizes for wide, high in told)
    assert "# hole: 5/32 in (4 mm) across, 25/32 in (20 mm) from left, 7 3/32 in (180 mm) from bottom" in draw_text
    assert "# hole stud: 1/8 in (3 mm) across" in draw_text
    assert "# mark fold: 9 7/16 in (240 mm) long" in draw_text


def test_edges_are_named_by_the_side_they_face_with_where_they_lie(begin, tmp_path):
    text = begin(BAG)[2]
    flap = tomllib.loads(text)["pieces"]["flap"]
    assert [corner["edge"] for corner in flap["corners"]] == ["bottom", "right", "top", "left"]
    assert 'edge = "right" },  # 4 23/32 in (120 mm), from the lower right to the upper right' in text
    edges = {edge.name: edge for piece in resolve(tmp_path, text).pieces for edge in piece.outline.edges}
    assert {"bottom", "right", "top", "left"} <= edges.keys()


def test_two_edges_that_face_one_way_are_numbered(begin):
    text = begin('<path id="ell" d="M10 10h50v100h50v50h-100z"/>')[2]
    edges = [corner["edge"] for corner in tomllib.loads(text)["pieces"]["ell"]["corners"]]
    assert edges == ["bottom", "right-1", "top-1", "right-2", "top-2", "left"]


def test_the_spec_fits_the_schema_that_is_written_beside_it(begin, tmp_path):
    _, said, text = begin(BAG)
    assert "wrote spec-schema.json" in said
    schema = json.loads((tmp_path / "spec-schema.json").read_text(encoding="utf-8"))
    assert text.startswith("#:schema ./spec-schema.json\n")
    Draft202012Validator(schema).validate(tomllib.loads(text))


def test_seams_that_are_proposed_can_be_sewn_once_their_sign_is_taken_away(begin, tmp_path):
    text = begin(BAG)[2]
    start = text.index("# [stitches.main]")
    sewn = text[:start] + re.sub(r"^# ", "", text[start:], flags=re.MULTILINE)
    (seam,) = resolve(tmp_path, sewn).seams
    assert seam.name == "front-panel-top"


def test_what_has_to_be_said_still_is_marked_at_its_place(begin):
    lines = begin(BAG)[2].splitlines()
    marked = [line.split("#")[0].strip() for line in lines if "SAY" in line]
    assert {"[materials.leather]", 'title   = "Mine"', 'of      = "leather"'} <= set(marked)
    assert any("SAY how it is sewn" in line for line in lines)


# The CSS inch has 96 px (W3C, CSS Values 3, 5.2); 72 to the inch are the points of PostScript.
@pytest.mark.parametrize(("scale", "mm"), [("1/72 in", 25.4 / 72), ("1/96 in", 25.4 / 96)])
def test_a_drawing_without_real_units_is_answered_with_both_usual_sizes(begin, tmp_path, scale, mm):
    code, said, text = begin('<rect id="back" width="720" height="360"/>', head='width="800" height="400"')
    assert (code, text) == (2, "")
    row = next(line for line in said.splitlines() if scale in line)
    told = [float(size) for size in re.findall(r"\(([\d.]+) mm\)", row)]
    assert told == pytest.approx([720 * mm, 360 * mm], abs=0.051)
    assert row.endswith(f'write  docgen new mine --from bag.svg --scale "{scale}"')
    code, said, text = begin(
        '<rect id="back" width="720" height="360"/>', "--scale", scale, head='width="800" height="400"'
    )
    assert code == 0
    (piece,) = resolve(tmp_path, text).pieces
    assert path_box(outline_path(piece.outline)).width == pytest.approx(720 * mm)
    assert f'unit = "{scale}"' in text


def test_a_piece_alone_needs_no_name(begin, tmp_path):
    text = begin('<path d="M0 0h50v40h-50z"/><path d="M5 5h30"/>')[2]
    (piece,) = tomllib.loads(text)["pieces"].values()
    assert "element" not in piece
    assert len(resolve(tmp_path, text).pieces[0].marks.drawn) == 1


def test_outlines_without_any_name_go_by_their_place(begin, tmp_path):
    text = begin('<path d="M0 0h50v40h-50z"/><path d="M60 0h50v70h-50z"/><circle cx="80" cy="20" r="2"/>')[2]
    assert {name: piece["element"] for name, piece in tomllib.loads(text)["pieces"].items()} == {
        "piece-1": "outline 1",
        "piece-2": "outline 2",
    }
    assert [len(piece.marks.holes) for piece in resolve(tmp_path, text).pieces] == [0, 1]


def test_words_that_two_outlines_share_name_neither(begin):
    words = '<text x="5" y="10">Tab</text><text x="65" y="10">Tab</text>'
    text = begin(f'<path d="M0 0h50v40h-50z"/><path d="M60 0h50v70h-50z"/>{words}')[2]
    assert list(tomllib.loads(text)["pieces"]) == ["piece-1", "piece-2"]


def test_a_frame_round_the_page_is_no_piece(begin):
    text = begin(f'<rect width="600" height="400"/>{BAG}')[2]
    assert list(tomllib.loads(text)["pieces"]) == ["front-panel", "flap", "side-wall", "path77"]


def test_what_is_in_no_piece_is_told_and_kept_as_a_comment(begin, tmp_path):
    inside = (
        '<rect id="a" width="50" height="40"/><path id="b" d="M100 0h50v40h-49"/><path id="c" d="M200 0l9 9v-9l-9 9z"/>'
    )
    code, said, text = begin(inside)
    assert code == 0
    assert '"b" in "bag.svg" is open, and lies in no outline; its ends lie 40 mm apart' in said
    assert '# "b" in "bag.svg" is open' in text
    assert 'the outline "c" in "bag.svg" ' in said
    assert [piece.name for piece in resolve(tmp_path, text).pieces] == ["a"]


@pytest.mark.parametrize(
    ("inside", "words", "told"),
    [
        ("", (), 'there is no line in "bag.svg"; draw each piece'),
        ('<path id="a" d="M0 0h50v40"/>', (), '"a" in "bag.svg" is open, and lies in no outline; its ends lie 64 mm'),
        ("<rect", (), '"bag.svg" is broken at line 1'),
        ('<use id="u" href="#a"/>', (), '"u" in "bag.svg" is a clone; unlink the clone'),
        (BAG, ("--like", "tote"), "a spec begins from a drawing or from a starter"),
        (BAG, ("--set", "width=3 in"), "a spec begins from a drawing or from a starter"),
        (BAG, ("--scale", "1 mm"), '"bag.svg" says itself how large it is: one unit is 1 mm; leave out scale'),
        (BAG, ("--scale", "wide"), 'cannot read the scale "wide"'),
        (BAG, ("--out", "other/mine.toml"), "bag.svg lies outside other, where the spec goes; copy it there"),
        (
            "".join(f'<path d="M{5 * k} 0h1v1h-1z"/>' for k in range(101)),
            (),
            "has 101 outlines; at most 100 pieces are begun at once",
        ),
    ],
)
def test_what_cannot_be_begun_is_told_and_nothing_written(begin, inside, words, told):
    code, said, text = begin(inside, *words)
    assert (code, text) == (2, "")
    assert told in said
    assert "Traceback" not in said


def test_scale_without_a_drawing_is_refused(begin, capsys):
    assert main(["new", "mine", "--scale", "1 mm"]) == 2
    assert "--scale is for a drawing" in capsys.readouterr().err


def test_a_file_that_is_no_drawing_is_told(tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "bag.png").write_bytes(b"\x89PNG")
    for file, told in [("bag.png", "is not an SVG file"), ("none.svg", "there is no drawing"), ("..", "lies outside")]:
        assert main(["new", "mine", "--from", file]) == 2
        assert told in capsys.readouterr().err


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(words=st.text(st.characters(blacklist_categories=("Cs", "Cc"), blacklist_characters="<>&"), max_size=80))
@example(words="NUL")  # no file of that name is had on Windows
def test_words_of_a_stranger_stay_words(begin, tmp_path, words):
    id_words = words.replace('"', "&quot;")
    inside = f'<rect id="{id_words}" width="50" height="40"/><rect x="100" width="50" height="40"/>'
    inside += f'<text x="110" y="20">{words}</text>'
    code, _, text = begin(inside)
    assert code == 0
    assert set(tomllib.loads(text)) == {"spec", "materials", "pieces"}
    assert len(resolve(tmp_path, text).pieces) == 2
