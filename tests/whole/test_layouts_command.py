"""`docgen layouts DIR`, and layouts of the shop's own used by `docgen make`."""

import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from pypdf import PdfReader

from docgen.cli import main
from docgen.layout_files import shipped_layouts

SPEC = Path(__file__).parents[2] / "specs" / "notebook-sleeve.toml"


@pytest.fixture
def shop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with a spec, and the current one."""
    shutil.copy(SPEC, tmp_path / "sleeve.toml")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def make(*arguments: str) -> str:
    """The words of the cutting list."""
    assert main(["make", "sleeve.toml", "--only", "cutting-list", "--out", "out", *arguments]) == 0
    return "\n".join(page.extract_text() for page in PdfReader("out/cutting-list.pdf").pages)


def test_all_shipped_files_are_copied(shop: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["layouts", "layouts"]) == 0
    names = [file.name for file in shipped_layouts().files]
    for file in shipped_layouts().files:
        assert (shop / "layouts" / file.name).read_bytes() == file.source
    assert capsys.readouterr().out == (
        "copied into layouts:\n  " + "\n  ".join(names) + "\n"
        "change what you like and delete the rest: what is not there is taken as shipped\n"
        "beside a spec it is used by itself; else: docgen make SPEC --layouts layouts\n"
    )


def test_no_file_is_overwritten(shop: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (shop / "mine").mkdir()
    (shop / "mine" / "words.toml").write_text("mine")
    (shop / "mine" / "page.toml").write_text("mine too")
    assert main(["layouts", "mine"]) == 3
    told = capsys.readouterr()
    assert told.err == "there already in mine, and left as they are: page.toml, words.toml\n"
    assert told.out.endswith(
        "change what you like and delete the rest: what is not there is taken as shipped\n"
        "docgen make SPEC --layouts mine\n"
    )
    assert (shop / "mine" / "words.toml").read_text() == "mine"
    assert (shop / "mine" / "order.toml").is_file()


def test_a_folder_that_cannot_be_made_is_told(shop: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (shop / "mine").write_text("a file")
    assert main(["layouts", "mine"]) == 3
    assert capsys.readouterr().err.startswith("cannot write mine: ")


def test_layouts_beside_the_spec_or_named_change_the_words(shop: Path) -> None:
    assert "Cutting list" in make()
    main(["layouts", "layouts"])
    words = (shop / "layouts" / "words.toml").read_text()
    for path in (shop / "layouts").glob("*.*"):
        path.unlink()
    (shop / "layouts" / "words.toml").write_text(words.replace('"Cutting list"', '"What to cut"'))
    assert "What to cut" in make()
    (shop / "other").mkdir()
    (shop / "other" / "words.toml").write_text(words.replace('"Cutting list"', '"For the knife"'))
    assert "For the knife" in make("--layouts", "other")


def test_a_language_of_the_shops_own_is_known(shop: Path) -> None:
    (shop / "layouts" / "care").mkdir(parents=True)
    english = shipped_layouts().find("care/en.toml")
    assert english is not None
    text = english.source.decode().replace('"Care card"', '"Onderhoud"')
    (shop / "layouts" / "care" / "nl.toml").write_text(text)
    spec = (shop / "sleeve.toml").read_text()
    spec = (
        spec.replace("[care]\n", '[care]\nlanguage = "nl"\n')
        if "[care]" in spec
        else f'{spec}\n[care]\nlanguage = "nl"\n'
    )
    (shop / "sleeve.toml").write_text(spec)
    assert main(["make", "sleeve.toml", "--only", "care-card", "--out", "out"]) == 0
    assert "Onderhoud" in PdfReader("out/care-card.pdf").pages[0].extract_text()


def test_faults_of_layouts_and_spec_come_in_one_go(shop: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (shop / "layouts").mkdir()
    sentences = shipped_layouts().find("sentences.toml")
    assert sentences is not None
    (shop / "layouts" / "sentences.toml").write_text(sentences.source.decode().replace("{machine}", "{macine}"))
    (shop / "layouts" / "build_scrap.j2").write_text("Try it. {{ machine }}")
    spec = (shop / "sleeve.toml").read_text()
    (shop / "sleeve.toml").write_text(spec.replace("version =", "verzion =", 1))
    for command in (["check", "sleeve.toml"], ["make", "sleeve.toml"]):
        assert main(command) == 1
        told = capsys.readouterr().err
        assert "error: nothing is called {macine} here\n" in told
        assert "did you mean {machine}?" in told
        assert "layouts/build_scrap.j2: error: layout files of this kind are no longer read\n" in told
        assert 'did you mean "version"?' in told
    assert not (shop / "out").exists()


def test_a_folder_of_layouts_that_is_not_there_is_a_wrong_call(shop: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["make", "sleeve.toml", "--layouts", "none"]) == 2
    assert capsys.readouterr().err == 'docgen: there is no folder "none" with layouts\n'


TELL_TEMPLATES = """\
import sys
from docgen.cli import main
code = main(sys.argv[1:])
print(code, "jinja2" in sys.modules)
"""


@pytest.mark.parametrize(
    ("command", "told"),
    [
        (["check", "sleeve.toml"], "0 False"),
        (["make", "sleeve.toml", "--out", "out"], "0 False"),
        (["issue", "sleeve.toml"], "0 False"),
        (["site", "public"], "0 True"),
    ],
    ids=lambda value: value[0] if isinstance(value, list) else "",
)
def test_words_of_the_pages_load_no_templates_but_those_of_the_site_do(
    shop: Path, command: list[str], told: str
) -> None:
    main(["layouts", "layouts"])
    spec = (shop / "sleeve.toml").read_text()
    (shop / "sleeve.toml").write_text(spec.replace("[shop]\n", '[shop]\nlink = "https://made.example"\n'))
    if command[0] == "site":
        assert main(["issue", "sleeve.toml"]) == 0
    run = subprocess.run([sys.executable, "-c", TELL_TEMPLATES, *command], capture_output=True, text=True, check=True)
    assert run.stdout.splitlines()[-1] == told
