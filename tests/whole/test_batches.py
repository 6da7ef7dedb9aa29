"""Batches, variants and tables from the command's own door: what is written, and that all of it is or none."""

import csv
from pathlib import Path

import pytest
from demos import FILES
from pypdf import PdfReader
from spec_text import write_out

from docgen import build_documents, cli
from docgen.calls.asked import CheckCall, ExportCall
from docgen.calls.check import check_spec
from docgen.calls.export import export_pieces
from docgen.problems import CallRejected, SpecRejected
from docgen.write import WriteFailed

SPEC = write_out("""
<spec mat: Mat, version 1>
makes = 2

[measures]
width = "200 mm"

<leather hide: 2 mm>

<stitch main: by machine, Tex 135 bonded nylon, 4 mm, 4 mm>

<rectangle top of hide: ["width", "100 mm"]>

[pieces.under]
like = "top"
marks = false

<seam left: ["top: left", "under: left"]>

<hardware eyelet: 3, =eyelet, 5 mm>
""")
VARIANTS = """
[variants.small]
measures = { width = "150 mm" }
makes = 3

[variants.large]
measures = { width = "400 mm" }
"""
TABLES = ["pieces", "straps", "materials", "hardware", "thread"]


@pytest.fixture
def write(tmp_path: Path):
    def write(more: str = "") -> Path:
        path = tmp_path / "mat.toml"
        path.write_text(SPEC + more, encoding="utf-8")
        return path

    return write


def make(path: Path, **more: object):
    return build_documents(path, path.parent / "out", date="2026-03-04", **more)


def read_rows(path: Path) -> list[dict[str, str]]:
    with open(path, encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def read_words(path: Path) -> str:
    return " ".join(page.extract_text() for page in PdfReader(path).pages).replace("\u00a0", " ")


def test_tables_are_written_beside_the_documents(write) -> None:
    outcome = make(write(), csv=True)
    assert [path.name for path in outcome.paths] == [f"{n}.pdf" for n in FILES] + [f"{n}.csv" for n in TABLES]
    assert outcome.pages[-5:] == (0,) * 5
    (row,) = read_rows(outcome.folder / "hardware.csv")
    assert (row["what"], row["count"]) == ("'=eyelet, 5 mm", "6")


@pytest.mark.parametrize("makes", [1, 12, 1000])
def test_a_batch_scales_every_list(write, makes: int) -> None:
    """One make: 2 pieces of 2 dm2, 3 eyelets, thread (100 - 2 x 4 + 2 x 12.7 mm) x 2 (1 + 4/p) x 1.15 + 400 mm."""
    folder = make(write(), csv=True, makes=makes, only=["cutting-list"]).folder
    pieces = read_rows(folder / "pieces.csv")
    assert [row["count"] for row in pieces] == [str(makes), str(makes)]
    assert float(read_rows(folder / "materials.csv")[0]["pieces together (dm2)"]) == pytest.approx(4 * makes)
    assert read_rows(folder / "hardware.csv")[0]["count"] == str(3 * makes)
    one = float(read_rows(make(write(), csv=True, makes=1).folder / "thread.csv")[0]["needle thread (m)"])
    many = float(read_rows(make(write(), csv=True, makes=makes).folder / "thread.csv")[0]["needle thread (m)"])
    assert many == pytest.approx(makes * one, abs=0.0006 * makes)


@pytest.mark.parametrize("makes", [0, -1, 1001])
def test_a_batch_of_impossible_size_is_refused(write, makes: int) -> None:
    with pytest.raises(CallRejected) as caught:
        make(write(), makes=makes)
    assert str(caught.value) == f"a batch has 1 to 1000 makes, not {makes}"


def test_each_variant_has_its_folder_and_all_have_one_list(write) -> None:
    outcome = make(write(VARIANTS))
    names = [path.relative_to(outcome.folder).as_posix() for path in outcome.paths]
    assert names == [f"{v}/{n}.pdf" for v in ("small", "large") for n in FILES] + ["joint-cutting-list.pdf"]
    small = read_words(outcome.folder / "small" / "cutting-list.pdf")
    large = read_words(outcome.folder / "large" / "cutting-list.pdf")
    joint = read_words(outcome.folder / "joint-cutting-list.pdf")
    assert "Mat, small" in small
    assert "150 mm" in small
    assert "Mat, large" in large
    assert "400 mm" in large
    assert "150 mm" in joint
    assert "400 mm" in joint
    assert "3 × small, 2 × large" in joint
    assert outcome.count is not None
    alone = make(write(VARIANTS), variants=["small"], only=["pattern"]).count
    assert alone is not None
    assert outcome.count.sheets > alone.sheets


def test_codes_name_the_variant_after_the_document(write) -> None:
    outcome = make(write(VARIANTS), only=["pattern", "care-card", "joint-cutting-list"])
    for variant in ("small", "large"):
        for name in ("pattern", "care-card"):
            said = read_words(outcome.folder / variant / f"{name}.pdf").replace(" ", "").replace("\n", "")
            assert f"/{name.upper()}.{variant.upper()}/1" in said
    assert "/JOINT-CUTTING-LIST/1" in read_words(outcome.folder / "joint-cutting-list.pdf").replace("\n", "")


def test_the_joint_table_sums_over_the_variants(write) -> None:
    folder = make(write(VARIANTS), csv=True, only=["cutting-list", "joint-cutting-list"]).folder
    net = "pieces together (dm2)"
    parts = [float(read_rows(folder / name / "materials.csv")[0][net]) for name in ("small", "large")]
    # 3 makes of two 1.5 dm2 pieces, and 2 makes of two 4 dm2 pieces.
    assert parts == pytest.approx([9, 16])
    assert float(read_rows(folder / "materials.csv")[0][net]) == pytest.approx(25)
    assert sum(int(row["count"]) for row in read_rows(folder / "pieces.csv")) == 10


def test_only_some_variants(write) -> None:
    outcome = make(write(VARIANTS), variants=["large"])
    assert [path.relative_to(outcome.folder).as_posix() for path in outcome.paths] == [f"large/{n}.pdf" for n in FILES]


@pytest.mark.parametrize(
    ("more", "call", "what"),
    [
        (VARIANTS, {"variants": ["smal"]}, 'no variant is called "smal"; did you mean "small"?'),
        (VARIANTS, {"variants": ["x"]}, 'no variant is called "x"; there are small, large'),
        ("", {"variants": ["x"]}, 'no variant is called "x"; the spec has no variants'),
        (
            "",
            {"only": ["shop-page"]},
            "there is no shop page, since neither the spec nor the shop's file names a price",
        ),
        ("", {"only": ["joint-cutting-list"]}, "there is no joint cutting list, since only one thing is made"),
    ],
)
def test_what_is_not_there_is_refused(write, more: str, call: dict[str, list[str]], what: str) -> None:
    path = write(more)
    with pytest.raises(CallRejected) as caught:
        make(path, **call)
    assert str(caught.value) == what
    assert not (path.parent / "out").exists()


def test_all_variants_are_written_or_none(write) -> None:
    """A folder stands where a file of the second variant should go."""
    path = write(VARIANTS)
    before = make(path, only=["cutting-list"])
    kept = {file: file.read_bytes() for file in before.paths}
    (before.folder / "large" / "pattern.pdf").mkdir()
    with pytest.raises(WriteFailed):
        make(path, makes=7)
    assert {file: file.read_bytes() for file in before.paths} == kept
    assert sorted(file.name for file in (before.folder / "small").iterdir()) == ["cutting-list.pdf"]


def test_folders_made_for_nothing_are_taken_away(write) -> None:
    path = write(VARIANTS)
    out = path.parent / "out"
    out.mkdir()
    (out / "large").write_text("a file of that name")
    with pytest.raises(WriteFailed):
        make(path)
    assert [inner.name for inner in out.iterdir()] == ["large"]


def test_pieces_are_exported_for_each_variant(write) -> None:
    path = write(VARIANTS)
    exported = export_pieces(ExportCall(spec=path, to="svg", out=path.parent / "cut"))
    names = [file.relative_to(exported.folder).as_posix() for file in exported.paths]
    assert names == [f"{variant}/mat-v1-{piece}.svg" for variant in ("small", "large") for piece in ("top", "under")]
    assert (exported.folder / "small" / "mat-v1-top.svg").read_text() != (
        exported.folder / "large" / "mat-v1-top.svg"
    ).read_text()


def test_check_covers_every_variant(write) -> None:
    with pytest.raises(SpecRejected) as caught:
        check_spec(CheckCall(spec=write('[variants.flat]\nmeasures = { width = "0" }\n')))
    assert [problem.what for problem in caught.value.problems if problem.what.startswith("in the")][:1] == [
        'in the variant "flat": this comes to 0 mm; "width" on line 38'
    ]


def test_the_command_tells_what_it_wrote(write, capsys) -> None:
    path = write(VARIANTS)
    code = cli.main(
        ["make", str(path), "--out", str(path.parent / "o"), "--csv", "--makes", "3", "--only", "cutting-list"]
    )
    assert code == 0
    lines = capsys.readouterr().out.splitlines()
    assert lines[:3] == [
        f"wrote {path.parent / 'o'}",
        "  small/cutting-list.pdf  1 page",
        "  small/pieces.csv        table",
    ]
