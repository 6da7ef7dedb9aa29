"""What names the pages of an issued version is kept with it, and told when they are to be exchanged."""

import hashlib
import shutil
import tomllib
from collections.abc import Callable
from pathlib import Path

import pytest
from pypdf import PdfReader
from sealed import reseal, unseal

from docgen.cli import main

Run = Callable[..., tuple[int, str, str]]
NEXT = ('version = "3"', 'version = "4"')
LARGER = ('["8 in", "4 3/4 in"]', '["9 in", "8 1/2 in"]')
BAG = Path(__file__).with_name("field-bag.toml")
FOLDER = Path("issued", "field-bag", "3")


def labels_of(path: Path, name: str) -> list[str]:
    return [label.removeprefix(f"{name} ") for label in PdfReader(path).page_labels]


def text_of(path: Path) -> str:
    return " ".join(" ".join(page.extract_text() for page in PdfReader(path).pages).split())


def kept() -> dict[str, dict[str, object]]:
    written = tomllib.loads((FOLDER / "pages.toml").read_text(encoding="utf-8"))
    return {document["name"]: document for document in written["documents"]}


@pytest.fixture(scope="module")
def register(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The bag with version 3 issued by the command."""
    folder = tmp_path_factory.mktemp("register")
    shutil.copy(BAG, folder)
    assert main(["issue", str(folder / BAG.name), "--date", "2026-03-01"]) == 0
    return folder


@pytest.fixture
def issued(register: Path, write_bag: Callable[..., Path], here: Path) -> Path:
    """A copy of that folder to stand in, with the bag's next version written."""
    shutil.copytree(register, here, dirs_exist_ok=True)
    return write_bag(NEXT, LARGER)


def test_what_is_kept_is_what_is_printed(run: Run, issued: Path, write_bag: Callable[..., Path], here: Path) -> None:
    """By the labels and the number of pages of the files themselves."""
    write_bag()
    run("make", "field-bag.toml", "--out", "out", "--date", "2026-03-01")
    documents = kept()
    assert list(documents) == ["pattern", "cutting-list", "build-sheet", "care-card"]
    for name, document in documents.items():
        assert document["pages"] == len(PdfReader(here / "out" / f"{name}.pdf").pages)
    labels = labels_of(here / "out" / "pattern.pdf", "Pattern")
    assert [labels[sheet["page"] - 1].removeprefix("sheet ") for sheet in documents["pattern"]["sheets"]] == [
        sheet["name"] for sheet in documents["pattern"]["sheets"]
    ]
    pieces = {piece for sheet in documents["pattern"]["sheets"] for piece in sheet["pieces"]}
    assert {"front", "back", "gusset-sides"} & pieces
    record = tomllib.loads((FOLDER / "record.toml").read_text(encoding="utf-8"))
    assert record["pages"] == hashlib.sha256((FOLDER / "pages.toml").read_bytes()).hexdigest()
    before = (FOLDER / "pages.toml").read_bytes()
    assert run("issue", "field-bag.toml", "--date", "2027-01-01")[0] == 0
    assert (FOLDER / "pages.toml").read_bytes() == before, "an issued version does not change"


@pytest.mark.parametrize(
    ("damage", "told"),
    [
        (lambda held: held.replace(b'paper = "letter"', b'paper = "a4"'), "this copy is not as it was issued"),
        (lambda held: None, "this copy is missing from an issued version"),
    ],
)
def test_what_is_kept_is_guarded(run: Run, issued: Path, damage: Callable[[bytes], bytes | None], told: str) -> None:
    path = FOLDER / "pages.toml"
    held = damage(path.read_bytes())
    path.unlink()
    if held is not None:
        path.write_bytes(held)
    code, _, wrong = run("make", "field-bag.toml", "--since", "3")
    assert code == 1
    assert f"{path}: error: {told}\n" in wrong


def rewrite(change: Callable[[str], str]) -> None:
    """Other pages under a record that agrees with them: as another docgen might have laid the version out."""
    path, record = FOLDER / "pages.toml", FOLDER / "record.toml"
    old = hashlib.sha256(path.read_bytes()).hexdigest()
    path.write_text(change(path.read_text(encoding="utf-8")), encoding="utf-8")
    new = hashlib.sha256(path.read_bytes()).hexdigest()
    record.write_text(record.read_text(encoding="utf-8").replace(old, new), encoding="utf-8")
    reseal(record)


def test_pages_that_docgen_never_wrote_are_refused(run: Run, issued: Path) -> None:
    rewrite(lambda held: held.replace("margin_mm = ", 'margin_mm = "six" #'))
    code, _, wrong = run("make", "field-bag.toml", "--since", "3")
    assert code == 1
    assert f"{FOLDER / 'pages.toml'}: error: what names the pages was changed\n" in wrong


def cover(run: Run, here: Path, *more: str) -> str:
    assert run("make", "field-bag.toml", "--since", "3", "--out", "new", "--date", "2026-04-02", *more)[0] == 0
    return text_of(here / "new" / "changes-since-3.pdf")


def test_older_sheets_are_named_as_issued_though_the_paper_is_another(run: Run, issued: Path, here: Path) -> None:
    names = [sheet["name"] for sheet in kept()["pattern"]["sheets"]]
    told = cover(run, here, "--paper", "a4")
    assert "on this paper: letter" in told
    thrown = told.partition("Throw away ")[2].partition(" of version 3")[0]
    assert all(name in thrown for name in names), "none of letter is right among sheets of A4"
    assert f"sheets {names[0]}" in thrown


def test_sheets_that_would_be_laid_out_otherwise_today_keep_their_names(run: Run, issued: Path, here: Path) -> None:
    last = kept()["pattern"]["sheets"][-1]["name"]
    rewrite(lambda held: held.replace(f'name = "{last}"', 'name = "Z9"'))
    told = cover(run, here)
    thrown = told.partition("Throw away ")[2].partition(" of version 3")[0]
    assert "Z9" in thrown
    pattern = told.partition("Pattern ")[2].partition("Cutting list ")[0]
    assert "Still right" not in pattern, "no sheet of today is taken for one of then"


def test_a_record_without_pages_works_as_before(run: Run, issued: Path, here: Path) -> None:
    told = cover(run, here)
    record = FOLDER / "record.toml"
    lines = record.read_text(encoding="utf-8").splitlines(keepends=True)
    record.write_text("".join(line for line in lines if not line.startswith("pages = ")), encoding="utf-8")
    unseal(record)
    (FOLDER / "pages.toml").unlink()
    assert cover(run, here) == told


def test_a_version_older_than_a_setting_was_laid_out_as_without_it(run: Run, issued: Path, here: Path) -> None:
    told = cover(run, here)
    rewrite(lambda held: held.replace("has_full_straps = false\n", ""))
    assert "has_full_straps" not in (FOLDER / "pages.toml").read_text(encoding="utf-8")
    assert cover(run, here) == told


def test_every_older_page_of_a_document_laid_out_otherwise_is_thrown_away(run: Run, issued: Path, here: Path) -> None:
    count = kept()["cutting-list"]["pages"]
    rewrite(lambda held: held.replace(f'"cutting-list"\npages = {count}', '"cutting-list"\npages = 7'))
    told = cover(run, here).partition("Cutting list ")[2].partition("Build sheet ")[0]
    assert told.startswith("Throw away pages 1, 2, 3, 4, 5, 6 and 7 of version 3 ")
