"""What is named in place of a code, and records that were changed by hand: told for what they are."""

import contextlib

import pytest

from docgen.cli import main

BACK = "bring the folder back from a copy, such as git or a backup; docgen has changed nothing"


@pytest.mark.parametrize(
    ("what", "kind"),
    [
        ("field-bag.toml", "a spec"),
        ("specs", "a folder"),
        ("notes.txt", "neither a PDF nor a picture"),
        ("/dev/null", "not an ordinary file"),
    ],
)
def test_what_is_no_code_is_told_for_what_it_is(run, write_bag, tmp_path, what, kind):
    write_bag()
    (tmp_path / "specs").mkdir()
    (tmp_path / "notes.txt").write_text("mine")
    assert run("trace", what) == (
        2,
        "",
        f"docgen: {what} is {kind}; docgen trace takes the text of a code, a PDF, or a picture (PNG, JPEG)\n",
    )


def test_a_folder_is_no_shop_file(run, write_bag, tmp_path):
    write_bag()
    (tmp_path / "shop").mkdir()
    code, _, told = run("make", "field-bag.toml", "--shop", "shop")
    assert code == 1
    assert told.splitlines()[0] == "shop: error: this is a folder, not a shop file"


@pytest.mark.parametrize(
    ("key", "value", "fault"),
    [
        ("issued", "2026-02-30", 'issued is "2026-02-30", which is no day of the calendar'),
        ("title", r"\u001b[2J", "title has letters that do not print"),
    ],
)
def test_a_record_changed_by_hand_is_told(run, write_bag, issue, tmp_path, key, value, fault):
    issued = issue(write_bag()).issued
    record = issued.folder / "record.toml"
    lines = record.read_text().splitlines()
    record.write_text("\n".join(f'{key} = "{value}"' if line.startswith(f"{key} =") else line for line in lines))
    code, said, _ = run("trace", f"SPEC:FIELD-BAG/3/{issued.digest}/PATTERN/4")
    assert code == 6
    assert f"{record.relative_to(tmp_path)}: error: the record was changed: {fault}\n" in said
    code, _, told = run("issue", "field-bag.toml")
    assert (code, told) == (
        1,
        f"{record.relative_to(tmp_path)}: error: the record was changed: {fault}\n    mend:    {BACK}\n",
    )


@pytest.mark.parametrize(
    "call", [("check", "a\x1b[2J.toml"), ("trace", "a\x1b[2J.pdf"), ("\x1b[2J",), ("new", "\x1b[2J")]
)
def test_nothing_steers_the_terminal(capfd, tmp_path, monkeypatch, call):
    monkeypatch.chdir(tmp_path)
    with contextlib.suppress(SystemExit):
        main(list(call))
    said = capfd.readouterr()
    assert "\x1b" not in said.out + said.err
    assert said.err
