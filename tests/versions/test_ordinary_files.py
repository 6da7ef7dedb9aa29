"""Pipes and devices where a spec, a copy or a page is looked for are neither waited for nor read."""

import os
import shutil
from pathlib import Path

import pytest
from forked import run_forked
from short_specs import PATCH
from short_specs import PATCH_DRAWING as DRAWING
from spec_text import write_out

from docgen.cli import main
from docgen.read import NotOrdinary, read_ordinary

pytestmark = pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="there are no pipes in folders here")

SPEC = write_out(PATCH.replace("<leather", '[shop]\nlink = "https://example.org/b"\n\n<leather'))


def put_pipe(path: Path) -> None:
    os.mkfifo(path)


def put_zero(path: Path) -> None:
    path.symlink_to("/dev/zero")


ODD = pytest.mark.parametrize("put", [put_pipe, put_zero])


def run(*arguments):
    """A run of its own that may take neither long nor much."""
    return run_forked(*arguments, most_bytes=2 * 1024**3)


@pytest.fixture(scope="module")
def issued(tmp_path_factory):
    """A spec with a drawing, issued."""
    folder = tmp_path_factory.mktemp("issued")
    (folder / "patch.toml").write_text(SPEC)
    (folder / "patch.svg").write_text(DRAWING)
    assert main(["issue", str(folder / "patch.toml"), "--date", "2026-03-01"]) == 0
    return folder


@pytest.fixture
def shop(issued, tmp_path, monkeypatch):
    """A copy of that folder, to stand in."""
    monkeypatch.chdir(tmp_path)
    return shutil.copytree(issued, tmp_path, dirs_exist_ok=True)


@ODD
def test_only_ordinary_files_are_read(tmp_path, put):
    put(tmp_path / "odd")
    with pytest.raises(NotOrdinary):
        read_ordinary(tmp_path / "odd", 10)
    (tmp_path / "plain").write_bytes(b"0123456789abcdef")
    assert read_ordinary(tmp_path / "plain", 10) == b"0123456789a"


@ODD
def test_specs_that_are_no_files_are_passed_over(tmp_path, monkeypatch, put):
    monkeypatch.chdir(tmp_path)
    put(tmp_path / "z.toml")
    traced = run("trace", "SPEC:PATCH/2-DRAFT/0123456789/PATTERN/1")
    assert (traced.returncode, traced.stderr) == (6, "")
    assert "not on record here" in traced.stdout or "a draft, not issued" in traced.stdout


@ODD
@pytest.mark.parametrize(
    ("arguments", "code"),
    [
        (("trace", "SPEC:PATCH/1/0123456789/PATTERN/1"), 6),
        (("issue", "patch.toml"), 1),
        (("site", "public"), 1),
        (("make", "patch.toml", "--only", "care-card"), 0),
        (("compare", "1", "patch.toml"), 1),
    ],
)
def test_a_copy_that_is_no_file_is_told(shop, put, arguments, code):
    copy = shop / "issued" / "patch" / "1" / "patch.svg"
    copy.unlink()
    put(copy)
    done = run(*arguments)
    assert done.returncode == code
    assert "this copy is not an ordinary file" in done.stdout + done.stderr


@ODD
def test_a_record_that_is_no_file_is_told(shop, put):
    record = shop / "issued" / "patch" / "1" / "record.toml"
    record.unlink()
    put(record)
    done = run("trace", "SPEC:PATCH/1/0123456789/PATTERN/1")
    assert done.returncode == 6
    assert "this issued version has lost its record" in done.stdout


@ODD
def test_a_page_of_the_site_that_is_no_file_is_told(shop, put):
    assert run("site", "public").returncode == 0
    page = shop / "public" / "index.html"
    page = next((shop / "public").rglob("index.html")) if not page.exists() else page
    page.unlink()
    put(page)
    done = run("site", "public")
    assert done.returncode == 3
    assert done.stderr.startswith(f"cannot write {page.relative_to(shop)}: it is not an ordinary file\n")


@ODD
@pytest.mark.parametrize("name", ["odd.pdf", "odd.png"])
def test_pages_that_are_no_files_are_told(shop, put, name):
    put(shop / name)
    done = run("trace", name)
    assert done.returncode == 2
    done = run("compare", name, "patch.toml")
    assert done.returncode in (1, 2)


def test_a_large_copy_is_not_read_whole(shop):
    copy = shop / "issued" / "patch" / "1" / "patch.svg"
    with open(copy, "wb") as file:
        file.truncate(8 * 1024**3)
    if copy.stat().st_blocks > 1024 or shutil.disk_usage(shop).free < 1024**2:
        pytest.skip("this disk knows no holes")
    done = run("trace", "SPEC:PATCH/1/0123456789/PATTERN/1")
    assert "this copy is not as it was issued" in done.stdout
