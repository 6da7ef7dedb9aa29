"""`docgen cut`: one cutting list over several specs, each line naming its build, and goods reckoned together."""

import csv
from pathlib import Path

import pypdf
import pytest
from spec_text import write_out

from docgen.calls.asked import CutCall, MakeCall
from docgen.calls.cut import cut_specs
from docgen.calls.make import make_documents
from docgen.cli import main
from docgen.problems import CallRejected, SpecRejected

SIDE = 'sold = "side"\narea = "2-2.2 m2"\n'
BELT = write_out(f"""\
<spec belt: Belt, version 2>
<leather hide: 3 mm>
{SIDE}title = "harness leather"
<strap belt of hide: 40 mm>
finished = "1100 mm"
""")
MAT = write_out(f"""\
<spec mat: Mat, version 1>
<leather butt: 3 mm>
{SIDE}title = "Harness leather"
<rectangle top of butt: ["400 mm", "300 mm"]>
<rectangle disc of butt: ["100 mm", "100 mm"]>
""")


@pytest.fixture
def bench(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    Path("belt.toml").write_text(BELT, encoding="utf-8")
    Path("mat.toml").write_text(MAT, encoding="utf-8")
    return tmp_path


def rows(path: Path) -> list[dict[str, str]]:
    return list(csv.DictReader(path.read_text(encoding="utf-8-sig").splitlines()))


def test_goods_of_both_are_one_material_and_every_line_names_its_build(bench: Path, capsys) -> None:
    assert main(["cut", "belt.toml", "mat.toml", "--makes", "9", "--csv", "--date", "2026-03-31"]) == 0
    assert "joint-cutting-list.pdf" in capsys.readouterr().out
    (material,) = rows(bench / "out/cut/materials.csv")
    alone = []
    for name in ("belt", "mat"):
        make_documents(MakeCall(spec=f"{name}.toml", makes=9, csv=True, only=("cutting-list",), out=name))
        alone += rows(bench / name / "materials.csv")
    together = sum(float(item["pieces together (dm2)"]) for item in alone)
    assert float(material["pieces together (dm2)"]) == pytest.approx(together, abs=0.01)
    # Nine belts in rows of 40 mm and nine mats: 0.4 and 1.17 sq m over 0.75 are 2.09, where what shows comes out of 83 %
    # of 2.1, and each alone takes one.
    assert [item["how many to buy"] for item in (*alone, material)] == ["1", "1", "2"]
    titles = [item["title"] for name in ("straps", "pieces") for item in rows(bench / f"out/cut/{name}.csv")]
    assert titles == ["belt (belt)", "top (mat)", "disc (mat)"]
    text = "".join(page.extract_text() for page in pypdf.PdfReader("out/cut/joint-cutting-list.pdf").pages)
    assert "9 × belt, version 2" in text.replace("\u00a0", " ")
    assert "9 × mat, version 1" in text.replace("\u00a0", " ")


def test_specs_of_one_code_are_told_apart_by_their_versions(bench: Path) -> None:
    Path("new.toml").write_text(BELT.replace('version = "2"', 'version = "3"'), encoding="utf-8")
    cut_specs(CutCall(specs=("belt.toml", "new.toml"), csv=True, out="."))
    assert [item["title"] for item in rows(bench / "straps.csv")] == ["belt (belt 2)", "belt (belt 3)"]


def test_goods_that_differ_are_bought_apart(bench: Path) -> None:
    Path("mat.toml").write_text(MAT.replace('thickness = "3 mm"', 'thickness = "2 mm"'), encoding="utf-8")
    cut_specs(CutCall(specs=("belt.toml", "mat.toml"), csv=True, out="."))
    assert [item["thickness (mm)"] for item in rows(bench / "materials.csv")] == ["3", "2"]


def test_mistakes_of_all_specs_are_told_in_one_go_and_nothing_is_written(bench: Path) -> None:
    for name in ("belt", "mat"):
        path = Path(f"{name}.toml")
        path.write_text(path.read_text(encoding="utf-8").replace('"3 mm"', '"3"'), encoding="utf-8")
    with pytest.raises(SpecRejected) as caught:
        cut_specs(CutCall(specs=("belt.toml", "mat.toml")))
    assert {problem.place.path for problem in caught.value.problems} == {"belt.toml", "mat.toml"}
    assert not Path("out").exists()


def test_too_many_specs_or_makes_are_refused(bench: Path) -> None:
    with pytest.raises(CallRejected, match="up to 50 specs"):
        cut_specs(CutCall(specs=("belt.toml",) * 51))
    with pytest.raises(CallRejected, match="1 to 1000 makes"):
        cut_specs(CutCall(specs=("belt.toml",), makes=0))


def test_the_same_call_gives_the_same_bytes(bench: Path) -> None:
    for out in ("a", "b"):
        cut_specs(CutCall(specs=("belt.toml", "mat.toml"), out=out, date="2026-03-31"))
    assert Path("a/joint-cutting-list.pdf").read_bytes() == Path("b/joint-cutting-list.pdf").read_bytes()
