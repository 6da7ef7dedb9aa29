"""`docgen export`: files and messages whole, exit codes, and that nothing is written when something is wrong."""

import re
from pathlib import Path

import ezdxf
import pytest
import svgelements
from spec_text import write_out

from docgen.calls.asked import ExportCall
from docgen.calls.export import export_pieces
from docgen.cli import main
from docgen.problems import SpecRejected

SPECS = Path(__file__).parents[2] / "specs"

SPEC = write_out("""\
<spec tray: Valet tray, version 2>

<leather hide: 3 mm>

<rectangle base of hide: ["200 mm", "150 mm"]>
holes = [{ at = "20 mm from left, 20 mm from bottom", punch = "4 mm" }]

[pieces.corner]
of = "hide"
shape = "circle"
diameter = "40 mm"

<strap tie of hide: 12 mm>
finished = "300 mm"
ends = [{ shape = "square" }, { shape = "pointed" }]
""")
RISKY = SPEC.replace("20 mm from left", "3 mm from left")


@pytest.fixture
def bench(tmp_path, monkeypatch):
    """An empty folder to stand in, with a good spec in it."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "tray.toml").write_text(SPEC, encoding="utf-8")
    return tmp_path


def leave(arguments):
    """The exit code of a call that leaves by SystemExit."""
    with pytest.raises(SystemExit) as left:
        main(arguments)
    return left.value.code


def read_folder(folder):
    return {path.name: path.read_bytes() for path in sorted(folder.iterdir())}


def test_every_piece_and_strap_is_written_and_told(bench, capsys):
    assert main(["export", "tray.toml", "--to", "svg"]) == 0
    assert capsys.readouterr().out == (
        f"wrote {Path('out', 'tray-v2')}\n"
        "  tray-v2-base.svg\n"
        "  tray-v2-corner.svg\n"
        "  tray-v2-tie.svg\n"
        "all lengths in mm, at full size; no kerf\n"
    )
    assert sorted(read_folder(bench / "out" / "tray-v2")) == [
        "tray-v2-base.svg",
        "tray-v2-corner.svg",
        "tray-v2-tie.svg",
    ]


def test_only_the_pieces_named_go_into_the_folder_named_with_their_kerf(bench, capsys):
    call = ["export", "tray.toml", "--to", "dxf", "--out", "die", "--kerf", "0.2 mm", "--pieces", "tie", "base"]
    assert main(call) == 0
    assert capsys.readouterr().out == (
        "wrote die\n"
        "  tray-v2-base.dxf\n"
        "  tray-v2-tie.dxf\n"
        "all lengths in mm, at full size; a kerf of 0.2 mm is allowed for\n"
    )
    space = ezdxf.readfile(bench / "die" / "tray-v2-base.dxf").modelspace()
    (hole,) = space.query("CIRCLE")
    assert hole.dxf.radius == pytest.approx(1.9)
    (outline,) = space.query("LWPOLYLINE")
    xs = [x for x, *_ in outline.get_points()]
    assert max(xs) - min(xs) == pytest.approx(200.2)


def test_kerf_in_inches_is_read_as_every_length(bench):
    exported = export_pieces(ExportCall(spec="tray.toml", to="svg", out="die", kerf="1/64 in", pieces=("corner",)))
    assert exported.kerf_mm == pytest.approx(25.4 / 64)
    picture = svgelements.SVG.parse(str(exported.paths[0]), ppi=25.4)
    (circle,) = (shape for shape in picture.elements() if isinstance(shape, svgelements.Circle))
    assert 2 * circle.implicit_r == pytest.approx(40 + 25.4 / 64, abs=1e-3)


@pytest.mark.parametrize(
    ("more", "said"),
    [
        (["--to", "pdf"], 'pieces are exported to svg or dxf, not to "pdf"'),
        (["--to", "svg", "--pieces", "cornr"], 'no piece is called "cornr"; did you mean "corner"?'),
        (["--to", "svg", "--pieces", "lid"], 'no piece is called "lid"; there are base, corner, tie'),
        (["--to", "svg", "--kerf", "0.2"], 'the kerf: 0.2 has no unit; write "0.2 in" or "0.2 mm"'),
        (["--to", "svg", "--kerf", "3.01 mm"], "a kerf of 3.01 mm does not work; use 0 to 3 mm"),
        (["--to", "svg", "--kerf=-1 mm"], "a kerf of -1 mm does not work; use 0 to 3 mm"),
    ],
)
def test_what_does_not_exist_is_a_wrong_call(bench, more, said, capsys):
    assert main(["export", "tray.toml", *more]) == 2
    assert capsys.readouterr().err == f"docgen: {said}\n"
    assert not (bench / "out").exists()


def test_kind_of_file_must_be_said(bench, capsys):
    assert leave(["export", "tray.toml"]) == 2
    assert capsys.readouterr().err == (
        "docgen export: the following arguments are required: --to\nhelp: docgen export --help\n"
    )


def test_help_shows_an_example(capsys):
    assert leave(["export", "--help"]) == 0
    assert "  docgen export field-bag.toml --to dxf\n" in capsys.readouterr().out


def test_kerf_that_swallows_a_hole_is_told_and_nothing_is_written(bench, capsys):
    (bench / "tray.toml").write_text(SPEC.replace('"4 mm"', '"1 mm"'), encoding="utf-8")
    (bench / "die").mkdir()
    (bench / "die" / "tray-v2-base.svg").write_text("before", encoding="utf-8")
    assert main(["export", "tray.toml", "--to", "svg", "--out", "die", "--kerf", "1 mm"]) == 1
    assert capsys.readouterr().err == (
        'tray.toml:14: error: a hole of 1 mm in "base" is lost in a kerf of 1 mm\n'
        '    written: "20 mm from left, 20 mm from bottom"\n'
        "    mend:    use a smaller kerf or a larger hole\n"
        "1 error\n"
    )
    assert read_folder(bench / "die") == {"tray-v2-base.svg": b"before"}


def test_wrong_spec_is_told_and_nothing_is_written(bench):
    (bench / "tray.toml").write_text(SPEC.replace('"hide"', '"hid"', 1), encoding="utf-8")
    with pytest.raises(SpecRejected) as refused:
        export_pieces(ExportCall(spec="tray.toml", to="svg"))
    assert [problem.place.line for problem in refused.value.problems] == [11]
    assert not (bench / "out").exists()


def test_folder_that_cannot_take_the_files_is_told(bench, capsys):
    (bench / "die").write_text("a file", encoding="utf-8")
    assert main(["export", "tray.toml", "--to", "svg", "--out", "die"]) == 3
    assert capsys.readouterr().err == (
        "cannot write die: there is a file of that name, not a folder\nthe folder holds what it held before\n"
    )


def test_all_files_stay_as_they_were_when_one_cannot_be_written(bench, capsys):
    assert main(["export", "tray.toml", "--to", "svg", "--out", "die"]) == 0
    (bench / "die" / "tray-v2-tie.svg").unlink()
    (bench / "die" / "tray-v2-tie.svg").mkdir()
    before = (bench / "die" / "tray-v2-base.svg").read_bytes()
    assert main(["export", "tray.toml", "--to", "svg", "--out", "die", "--kerf", "1 mm"]) == 3
    assert (bench / "die" / "tray-v2-base.svg").read_bytes() == before
    assert capsys.readouterr().err == (
        f"cannot write {Path('die', 'tray-v2-tie.svg')}: there is a folder of that name\n"
        "the folder holds what it held before\n"
    )


def test_cautions_are_printed(bench, capsys):
    (bench / "tray.toml").write_text(RISKY, encoding="utf-8")
    assert main(["export", "tray.toml", "--to", "svg", "--pieces", "base"]) == 0
    out = capsys.readouterr().out
    assert re.search(r"^tray\.toml:14: caution: a hole of .* lies .* from the edge$", out, re.MULTILINE)
    assert out.endswith("1 caution\n")


@pytest.mark.parametrize("to", ["svg", "dxf"])
@pytest.mark.parametrize("name", ["field-bag", "notebook-sleeve"])
def test_demos_are_written_the_same_each_time(name, to, tmp_path):
    folders = [tmp_path / "one", tmp_path / "two"]
    for folder in folders:
        export_pieces(ExportCall(spec=SPECS / f"{name}.toml", to=to, out=folder, kerf="0.15 mm"))
    first, second = map(read_folder, folders)
    assert len(first) >= 3
    assert first == second


def test_title_of_the_spec_cannot_become_markup_or_commands(bench):
    title = "</title><script>1</script>&amp; %%d ^J"
    (bench / "tray.toml").write_text(SPEC.replace("Valet tray", title), encoding="utf-8")
    (svg, *_), (dxf, *_) = (
        export_pieces(ExportCall(spec="tray.toml", to=to, out="die")).paths for to in ("svg", "dxf")
    )
    assert b"<script" not in svg.read_bytes()
    assert b"%%d" not in dxf.read_bytes()
