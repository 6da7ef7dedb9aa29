"""What lies beside issued versions, what is lost of them, and records that were changed: told, and never taken for more."""

import shutil
import tomllib

import pytest
from sealed import reseal, unseal

from docgen.versions.compared.words import describe_issue, describe_trace
from docgen.versions.kept.register import VersionRefused, read_issued
from docgen.versions.kept.shelf import look_over, read_kept, read_newest
from docgen.versions.traced.trace import trace

BACK = "bring the folder back from a copy, such as git or a backup; docgen has changed nothing"


def as_version(number):
    return (('version = "3"', f'version = "{number}"'), ('repair = "Worn', f'repair = "Worn, of {number},'))


@pytest.fixture
def issue_as(write_bag, issue):
    """issue_as(number) -> the bag issued under it, with contents of its own."""
    return lambda number: issue(write_bag(*as_version(number)), "2026-03-01").issued


@pytest.fixture
def code_of():
    return lambda issued: f"SPEC:FIELD-BAG/{issued.version.upper()}/{issued.digest}/PATTERN/4"


def test_a_record_names_the_versions_before_it_with_digest_and_record(issue_as, tmp_path):
    one, two, three = map(issue_as, ("1", "2", "3"))
    before = tomllib.loads((three.folder / "record.toml").read_text())["before"]
    assert list(before) == ["1", "2"]
    assert [before[held.version]["digest"] for held in (one, two)] == [one.digest, two.digest]
    shelf = look_over(tmp_path / "issued" / "field-bag")
    assert read_kept(shelf, "1") == one
    assert read_newest(shelf) == three


@pytest.mark.parametrize("key", ["title", "changed", "issued"])
def test_title_note_and_date_of_a_record_are_kept_as_the_spec_is(issue_as, code_of, tmp_path, run, key):
    issued = issue_as("3")
    path = issued.folder / "record.toml"
    other = {"title": "Another", "changed": "Nothing.", "issued": "2026-03-02"}[key]
    lines = [f'{key} = "{other}"' if line.startswith(f"{key} =") else line for line in path.read_text().splitlines()]
    path.write_text("\n".join([*lines, ""]))
    told = "the record was changed: its lines are not as docgen wrote them"
    with pytest.raises(VersionRefused, match=told):
        read_issued(issued.folder)
    code, said, _ = run("trace", code_of(issued))
    assert (code, told in said) == (6, True)


def test_a_record_sealed_again_is_told_by_the_later_ones(issue_as, code_of, tmp_path, run):
    first = issue_as("1")
    issue_as("2")
    path = first.folder / "record.toml"
    path.write_text(path.read_text().replace('issued = "2026-03-01"', 'issued = "2026-02-01"'))
    reseal(path)
    assert read_issued(first.folder).date == "2026-02-01"
    code, said, _ = run("trace", code_of(first))
    assert code == 6
    assert "record.toml: error: the record is not the one that later versions of field-bag name" in said


def test_a_record_of_an_older_docgen_is_read_as_before(issue_as, code_of, tmp_path):
    first = issue_as("1")
    unseal(first.folder / "record.toml")
    assert read_issued(first.folder) == first
    second = issue_as("2")
    assert trace(code_of(first), tmp_path).found[0].standing == "older"
    assert trace(code_of(second), tmp_path).found[0].standing == "current"


def test_an_older_version_that_is_lost_is_known_by_the_later_records(issue_as, code_of, tmp_path, run):
    first, second = issue_as("1"), issue_as("2")
    shutil.rmtree(first.folder)
    third = issue_as("3")
    shutil.rmtree(second.folder)
    home = tmp_path / "issued" / "field-bag"
    for lost in (first, second):
        code, said, _ = run("trace", code_of(lost))
        assert code == 4
        assert "issued with these contents, as another record says; its own is lost" in said
        assert "NOT current: version 3 was issued on 2026-03-01" in said
        told = (
            f"{home.relative_to(tmp_path) / lost.version} is lost: it was issued with the digest {lost.digest}; {BACK}"
        )
        assert f"  caution: {told}\n" in f"{said}\n"
    code, said, _ = run("trace", code_of(first).replace(first.digest, "0123456789"))
    assert (code, "with other contents; do not cut by it" in said) == (5, True)
    assert run("trace", code_of(third))[0] == 0
    code, _, wrong = run("compare", "1", "3")
    assert (code, "version 1 of field-bag was issued, and is lost" in wrong) == (1, True)


def test_where_a_higher_version_is_lost_none_is_called_current(issue_as, code_of, tmp_path, run):
    high = issue_as("5")
    low = issue_as("4")
    shutil.rmtree(high.folder)
    code, said, _ = run("trace", code_of(low))
    assert code == 6
    assert "version 5 of field-bag was issued, as the record of another version says, and is lost" in said
    assert "current version" not in said


def test_a_page_and_a_spec_of_a_later_version_than_any_on_record_are_told(issue_as, code_of, tmp_path, run):
    third, fourth = issue_as("3"), issue_as("4")
    shutil.rmtree(fourth.folder)
    code, said, _ = run("trace", code_of(third))
    assert code == 0
    assert "field-bag.toml says version 4, later than any on record:\n  if that was issued, its record is lost" in said
    code, said, _ = run("trace", code_of(fourth))
    assert code == 6
    assert "caution: the page is of a later one: the record of version 4 may be lost" in said


def test_stray_folders_are_named_stop_nothing_and_are_no_versions(issue_as, code_of, write_bag, tmp_path, issue, run):
    third = issue_as("3")
    home = third.folder.parent
    (home / "notes").mkdir()
    (home / "9").mkdir()
    (home / "9" / "sketch.svg").write_text("mine")
    shutil.copytree(third.folder, home / "3-old")
    shutil.copytree(third.folder, home / "10")
    before = sorted(path for path in home.rglob("*"))
    told = [
        f"{home}/{name} is no issued version, and is passed over: {why}"
        for name, why in (
            ("notes", "it has no record"),
            ("3-old", "it holds a copy of version 3 of field-bag"),
            ("9", "it has no record"),
            ("10", "it holds a copy of version 3 of field-bag"),
        )
    ]
    said = describe_trace(trace(code_of(third), tmp_path))
    assert "it is the current version" in said
    assert [line for line in said.splitlines() if "passed over" in line] == [f"  caution: {line}" for line in told]
    assert run("compare", "3", "field-bag.toml")[0] == 0
    code, _, wrong = run("compare", "9", "field-bag.toml")
    assert (code, "issued are 3" in wrong) == (1, True)
    outcome = issue(write_bag(*as_version("4")))
    assert list(tomllib.loads((outcome.issued.folder / "record.toml").read_text())["before"]) == ["3"]
    assert [line for line in describe_issue(outcome).splitlines() if "passed over" in line] == [
        f"caution: {line}" for line in told
    ]
    assert set(before) <= set(home.rglob("*"))
    assert run("site", "public")[0] in (0, 2)


def test_a_version_without_its_record_is_damage_and_no_stray(issue_as, code_of, tmp_path):
    third, fourth = issue_as("3"), issue_as("4")
    (fourth.folder / "record.toml").unlink()
    found = trace(code_of(third), tmp_path).found[0]
    assert found.standing == "unknown"
    assert str(found.damage) == "this issued version has lost its record"


@pytest.mark.parametrize("change", [('record = "', 'recorded = "'), ("[before]", "[befor]"), ("seal = ", "sealed = ")])
def test_a_record_that_docgen_never_wrote_so_is_not_whole(issue_as, change):
    issue_as("1")
    path = issue_as("2").folder / "record.toml"
    path.write_text(
        path.read_text().replace(*change, 1) if change[0] != "[before]" else path.read_text().replace(*change)
    )
    with pytest.raises(VersionRefused, match="the record is not whole"):
        read_issued(path.parent)
