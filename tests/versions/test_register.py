"""The register: exact copies in plain files, whole or not at all, and never changed."""

import errno
import hashlib
import os
import re
import signal
import subprocess
import sys
import tomllib
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from killed import run_to_death

from docgen.checks import resolve_build
from docgen.problems import SpecRejected
from docgen.read import read_spec
from docgen.versions.compared.words import describe_issue, describe_refusal
from docgen.versions.kept.issue import record_version
from docgen.versions.kept.record import find_seal
from docgen.versions.kept.register import VersionRefused, read_issued
from docgen.versions.kept.shelf import list_versions
from docgen.write import WriteFailed

DAY = "2026-03-31"
SVG = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="80mm" height="60mm" viewBox="0 0 80 60">'
    '<rect id="flap" x="0" y="0" width="80" height="60"/></svg>'
)
DRAWN = """
[spec]
code    = "drawn-flap"
title   = "Drawn flap"
version = "1"

[materials.hide]
kind      = "leather"
tannage   = "vegetable"
thickness = "2 mm"

[pieces.flap]
of      = "hide"
shape   = "drawing"
file    = "shapes/flap.svg"
element = "flap"
"""


def files_of(folder: Path) -> dict[str, bytes]:
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


@pytest.fixture
def refusal(issue):
    """refusal(path) -> why this spec is not issued."""

    def refuse(path: Path) -> VersionRefused:
        with pytest.raises(VersionRefused) as caught:
            issue(path)
        return caught.value

    return refuse


def test_an_issued_version_is_plain_files_with_a_record(write_bag, tmp_path, issue):
    spec = write_bag()
    outcome = issue(spec)
    folder = tmp_path / "issued" / "field-bag" / "3"
    assert outcome.is_new
    assert set(files_of(folder)) == {"field-bag.toml", "record.toml", ".gitattributes"}
    assert (folder / "field-bag.toml").read_bytes() == spec.read_bytes()
    assert (folder / ".gitattributes").read_text() == "# Exact copies: git leaves their line ends alone.\n* -text\n"
    record = tomllib.loads((folder / "record.toml").read_text(encoding="utf-8"))
    whole = hashlib.sha256(spec.read_bytes()).hexdigest()
    assert record == {
        "code": "field-bag",
        "title": "Seed collector's field bag",
        "version": "3",
        "digest": whole[:10].upper(),
        "issued": DAY,
        "changed": "Pocket 1/4 in deeper; rivet holes of the handle re-spaced.",
        "spec": "field-bag.toml",
        "seal": find_seal(record),
        "before": {},
        "sha256": {"field-bag.toml": whole},
    }
    assert (folder / "record.toml").read_text().startswith("# Written by docgen when this version was issued.")
    assert describe_issue(outcome) == (
        f"issued version 3 of field-bag: digest {whole[:10].upper()}, 2026-03-31\n"
        f"  {folder}  (the spec; keep this folder, for example in git)"
    )


def test_drawings_are_kept_under_their_own_names_and_the_copy_can_be_made_again(tmp_path, issue, refusal):
    spec = tmp_path / "drawn-flap.toml"
    spec.write_text(DRAWN)
    (tmp_path / "shapes").mkdir()
    (tmp_path / "shapes" / "flap.svg").write_text(SVG)
    outcome = issue(spec)
    folder = tmp_path / "issued" / "drawn-flap" / "1"
    assert (folder / "shapes" / "flap.svg").read_text() == SVG
    assert resolve_build(read_spec(outcome.issued.spec_path)).digest == outcome.issued.digest
    assert f"{folder}  (the spec and 1 file; keep this folder, for example in git)" in describe_issue(outcome)
    (tmp_path / "shapes" / "flap.svg").write_text(SVG.replace('width="80" height="60"/', 'width="80" height="50"/'))
    assert "height: 1 31/32 in (50 mm), was 2 3/8 in (60 mm)" in describe_refusal(refusal(spec))


def test_issuing_the_very_same_again_is_fine_and_writes_nothing(write_bag, issue):
    spec = write_bag()
    folder = issue(spec).issued.folder
    before = {path: path.stat().st_mtime_ns for path in folder.rglob("*")}
    again = issue(spec, "2026-05-01")
    assert describe_issue(again) == (
        "version 3 of field-bag was issued on 2026-03-31 already, with the very same contents; nothing was written\n"
        f"  {folder}"
    )
    assert {path: path.stat().st_mtime_ns for path in folder.rglob("*")} == before


def test_the_same_number_with_other_contents_is_refused_with_what_differs(write_bag, issue, refusal):
    folder = issue(write_bag()).issued.folder
    before = files_of(folder)
    error = refusal(write_bag(('["8 in", "4 3/4 in"]', '["8 in", "5 in"]')))
    assert describe_refusal(error) == (
        f"{folder}: error: version 3 of field-bag was issued on 2026-03-31 with other contents\n"
        "    mend:    an issued version does not change: raise the version, "
        'say in "changed" what is new, and issue that\n'
        "what differs:\n"
        "  piece front (Front panel)\n"
        "      landing of pocket: up to 1/4 in (6.4 mm) from where it was\n"
        "      stitch line pocket-to-front: up to 1/4 in (6.4 mm) from where it was\n"
        "  piece pocket (Outer pocket)\n"
        "      height: 5 in (127 mm), was 4 3/4 in (120.7 mm); 1/4 in (6.4 mm) more\n"
        "      area: 0.28 sq ft (2.6 dm²), was 0.26 sq ft (2.4 dm²)\n"
        "  seam pocket-to-front (Pocket to front)\n"
        "      length: 15 7/8 in (403 mm), was 15 3/8 in (390.3 mm); 1/2 in (12.7 mm) more\n"
        "      stitches: 127, was 123; 4 more"
    )
    assert files_of(folder) == before


def test_only_a_comment_differs_and_is_refused_all_the_same(write_bag, issue, refusal):
    issue(write_bag())
    words = describe_refusal(refusal(write_bag(("A lined panel bag", "A lined bag"))))
    assert words.endswith("  no change to anything that is made; only words of the spec file differ")


@pytest.mark.parametrize("version", [".", "..", ".3", "3.", "-1", "3-draft", "3-DRAFT"])
def test_a_version_that_cannot_name_a_folder_or_reads_as_a_draft_is_refused(write_bag, tmp_path, version, resolve_once):
    """By the spec's own check, and by the register too, which makes a folder of it."""
    spec = write_bag()
    build = replace(resolve_once(spec), version=version)
    with pytest.raises(VersionRefused) as caught:
        record_version(spec, build, "2026-03-31")
    with pytest.raises(SpecRejected):
        resolve_once(write_bag(('version = "3"', f'version = "{version}"')))
    assert describe_refusal(caught.value) == (
        f'{spec}: error: "{version}" cannot be the number of an issued version\n'
        '    mend:    begin and end it with a letter or digit, and not with "-draft", like "3" or "2.1"'
    )
    assert not (tmp_path / "issued").exists()


def test_a_version_that_differs_in_capitals_only_is_refused(write_bag, issue, refusal):
    issue(write_bag(('version = "3"', 'version = "3a"')))
    spec = write_bag(('version = "3"', 'version = "3A"'))
    assert describe_refusal(refusal(spec)) == (
        f'{spec}: error: version "3A" would be taken for "3a", which is issued\n'
        "    mend:    choose a number that differs in more than capitals"
    )


# ---- damage ----------------------------------------------------------------

MEND = "bring the folder back from a copy, such as git or a backup; docgen has changed nothing"


# What comes of a file's bytes; nothing where it is lost.
DAMAGE = {
    "record lost": ("record.toml", None, "this issued version has lost its record"),
    "record spoilt": (
        "record.toml",
        lambda _: b"code = \n",
        "the record cannot be read: the value is missing (column 8)",
    ),
    "record cut": ("record.toml", lambda held: held.replace(b"issued =", b"# issued ="), "the record is not whole"),
    "record leads out": (
        "record.toml",
        lambda held: held.replace(b'"field-bag.toml" =', b'"../field-bag.toml" ='),
        "the record is not whole",
    ),
    "record of another": (
        "record.toml",
        lambda held: held.replace(b'version = "3"', b'version = "4"'),
        "the record is of version 4 of field-bag, not of this folder",
    ),
    "digest changed": (
        "record.toml",
        lambda held: re.sub(rb'digest = ".*"', b'digest = "0123456789"', held),
        "the record says digest 0123456789, the copies beside it have @",
    ),
    "copy lost": ("field-bag.toml", None, "this copy is missing from an issued version"),
    "copy changed": ("field-bag.toml", lambda held: held + b"# more\n", "this copy is not as it was issued"),
    "line ends": (
        "field-bag.toml",
        lambda held: held.replace(b"\n", b"\r\n"),
        "only the line ends of this copy are not as they were issued",
    ),
}


def do_harm(path: Path, harm: Callable[[bytes], bytes] | None) -> None:
    if harm is None:
        path.unlink()
    else:
        path.write_bytes(harm(path.read_bytes()))


@pytest.mark.parametrize(("name", "harm", "what"), DAMAGE.values(), ids=DAMAGE.keys())
def test_a_damaged_register_is_told_with_its_path_and_left_alone(write_bag, name, harm, what, issue, refusal):
    spec = write_bag()
    issued = issue(spec).issued
    do_harm(issued.folder / name, harm)
    before = files_of(issued.folder)
    said = f"{issued.folder / name}: error: {what.replace('@', issued.digest)}\n    mend:    {MEND}"
    assert describe_refusal(refusal(spec)) == said
    with pytest.raises(VersionRefused) as caught:
        read_issued(issued.folder)
    assert describe_refusal(caught.value) == said
    assert files_of(issued.folder) == before


def test_an_empty_folder_in_the_place_of_a_version_is_damage_and_not_overwritten(write_bag, tmp_path, refusal):
    folder = tmp_path / "issued" / "field-bag" / "3"
    folder.mkdir(parents=True)
    assert str(refusal(write_bag())) == "this issued version has lost its record"
    assert list(folder.iterdir()) == []


def test_a_file_in_the_place_of_the_register_is_told(write_bag, tmp_path, issue):
    (tmp_path / "issued").write_text("mine")
    with pytest.raises(WriteFailed) as caught:
        issue(write_bag())
    assert str(caught.value) == (
        f"cannot write {tmp_path / 'issued' / 'field-bag'}: a part of its path is a file, not a folder"
    )
    assert (tmp_path / "issued").read_text() == "mine"


# ---- a full disk, a killed run, two at once --------------------------------


@pytest.mark.parametrize("call", [1, 2, 3])
def test_a_full_disk_leaves_the_register_as_it_was(write_bag, tmp_path, monkeypatch, call, issue):
    issue(write_bag(('version = "3"', 'version = "2"')))
    before = files_of(tmp_path / "issued")
    left = [call]

    def full(handle: int) -> None:
        left[0] -= 1
        if not left[0]:
            raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(WriteFailed) as caught:
        issue(write_bag())
    assert str(caught.value) == (
        f"cannot write {tmp_path / 'issued' / 'field-bag'}: there is no space left on the disk"
    )
    assert files_of(tmp_path / "issued") == before
    assert sorted(os.listdir(tmp_path / "issued" / "field-bag")) == ["2"]


# Calls that touch the disk: fsync of three files and the folder, then the rename.
@pytest.mark.skipif(os.name == "nt", reason="there is no SIGKILL")
@pytest.mark.parametrize("moment", [0, 1, 2, 3, 4, 5])
def test_a_run_killed_at_any_moment_leaves_the_version_whole_or_absent(write_bag, tmp_path, moment, issue):
    spec = write_bag()
    assert run_to_death(lambda: issue(spec), ("fsync", "rename"), moment) == -signal.SIGKILL
    folder = tmp_path / "issued" / "field-bag" / "3"
    assert folder.exists() == (moment > 4)
    if folder.exists():
        assert read_issued(folder).source == spec.read_bytes()
    assert list_versions(tmp_path / "issued/field-bag") == (("3",) if moment > 4 else ())
    outcome = issue(spec)
    assert outcome.is_new == (moment <= 4)
    assert read_issued(folder).source == spec.read_bytes()


def test_what_a_killed_run_left_is_swept_by_the_next_issue_also_where_nothing_is_new(write_bag, tmp_path, issue):
    top = tmp_path / "issued" / "field-bag"
    spec = write_bag()
    for _ in range(2):
        (top / ".docgen-unfinished-1").mkdir(parents=True)
        issue(spec)
        assert os.listdir(top) == ["3"]


# Waits before it writes until the other one has come as far.
AT_ONCE = """
import os, sys, time
from docgen.problems import SpecRejected
from docgen.read import read_spec
from docgen.checks import resolve_build
from docgen.versions.kept import issue
from docgen.versions.kept.register import VersionRefused
from docgen.versions.compared.words import describe_issue, describe_refusal
spec, own, other = sys.argv[1:]
write = issue.write_new_folder
def wait(*given):
    open(own, "w").close()
    while not os.path.exists(other):
        time.sleep(0.01)
    return write(*given)
issue.write_new_folder = wait
try:
    print(describe_issue(issue.record_version(spec, resolve_build(read_spec(spec)), "2026-03-31")))
except VersionRefused as error:
    print(describe_refusal(error))
"""


def run_both(specs: tuple[Path, Path], tmp_path: Path) -> list[str]:
    signs = (str(tmp_path / "a.sign"), str(tmp_path / "b.sign"))
    runs = [
        subprocess.Popen([sys.executable, "-c", AT_ONCE, str(spec), *order], stdout=subprocess.PIPE, text=True)
        for spec, order in zip(specs, (signs, signs[::-1]), strict=True)
    ]
    return sorted((run.communicate(timeout=60)[0] for run in runs), key=lambda said: not said.startswith("issued"))


def test_of_two_at_once_with_the_same_contents_one_issues_and_the_other_says_so(write_bag, tmp_path):
    spec = write_bag()
    first, second = run_both((spec, spec), tmp_path)
    assert first.startswith("issued version 3 of field-bag: ")
    assert second.startswith("version 3 of field-bag was issued on 2026-03-31 already, with the very same contents;")
    assert read_issued(tmp_path / "issued" / "field-bag" / "3").source == spec.read_bytes()


def test_of_two_at_once_with_other_contents_one_is_refused_and_nothing_is_mixed(write_bag, tmp_path):
    one = write_bag(name="one.toml")
    other = write_bag(('["8 in", "4 3/4 in"]', '["8 in", "5 in"]'), name="other.toml")
    first, second = run_both((one, other), tmp_path)
    assert first.startswith("issued version 3 of field-bag: ")
    assert "version 3 of field-bag was issued on 2026-03-31 with other contents" in second
    assert "piece pocket (Outer pocket)" in second
    folder = tmp_path / "issued" / "field-bag" / "3"
    issued = read_issued(folder)
    assert issued.source == (tmp_path / issued.spec_name).read_bytes()
    assert len(files_of(folder)) == 3
    assert os.listdir(folder.parent) == ["3"]
