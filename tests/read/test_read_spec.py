"""Reading a whole file: what comes out of a good one, and which files are turned away."""

import hashlib
import os
from collections.abc import Callable
from pathlib import Path

import pytest

from docgen.problems import Place, SpecRejected, render_problem
from docgen.read import Spec, Value, read_spec


def rejected(path: str | Path) -> str:
    with pytest.raises(SpecRejected) as caught:
        read_spec(path)
    return "\n".join(render_problem(problem) for problem in caught.value.problems)


def test_a_good_spec_has_no_problems_and_knows_its_file(good_path: Path) -> None:
    spec = read_spec(good_path)
    source = good_path.read_bytes()
    assert spec.problems == ()
    assert (spec.path, spec.source) == (str(good_path), source)
    assert spec.digest == hashlib.sha256(source).hexdigest()[:10].upper()


def test_every_table_of_a_good_spec_is_read(good_path: Path) -> None:
    spec = read_spec(good_path)
    names = [
        [part.name for part in parts]
        for parts in (spec.materials, spec.stitches, spec.pieces, spec.joins, spec.seams, spec.straps, spec.hardware)
    ]
    assert names == [
        ["body", "lining"],
        ["main"],
        ["back", "pocket", "strip", "disc", "lining"],
        ["band"],
        ["side"],
        ["tie"],
        ["rivet", "ring"],
    ]
    assert [pair.name for pair in spec.measures] == ["width", "edge"]
    assert None not in (spec.spec, spec.shop, spec.pattern, spec.care)
    assert len(spec.steps) == 2


def test_a_value_carries_its_words_and_its_place(good_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(good_path.parent)
    spec = read_spec("good.toml")
    assert spec.materials[0].thickness == Value(
        value="4.5 oz", place=Place(path="good.toml", line=31, column=1, words='"4.5 oz"')
    )
    assert spec.materials[0].place == Place(path="good.toml", line=27, column=1, words="[materials.body]")
    assert spec.pieces[0].size[1] == Value(
        value="height", place=Place(path="good.toml", line=50, column=23, words='"height"')
    )


def test_line_breaks_in_a_note_become_spaces(good_path: Path) -> None:
    head = read_spec(good_path).spec
    assert head is not None
    assert head.changed is not None
    assert head.changed.value == "Flap 1/4 in deeper; tie re-spaced."


def test_a_bare_nought_is_a_length(good_path: Path) -> None:
    piece = read_spec(good_path).pieces[0]
    assert [(pair.name, pair.length.value) for pair in piece.round] == [
        ("bottom-left", "1/2 in"),
        ("bottom-right", "0"),
    ]


def test_one_radius_for_all_corners_has_no_name(good_path: Path) -> None:
    piece = read_spec(good_path).pieces[1]
    assert [(pair.name, pair.length.value) for pair in piece.round] == [("", "1/4 in")]


def test_a_name_alone_is_a_list_of_one(good_path: Path) -> None:
    assert [name.value for name in read_spec(good_path).steps[0].skives] == ["back"]


def test_numbers_and_flags_keep_their_kind(good_path: Path) -> None:
    piece = read_spec(good_path).pieces[1]
    assert (piece.cut and piece.cut.value, piece.pair and piece.pair.value) == (2, True)


def test_wrong_values_are_left_out_and_the_rest_is_kept(read_small: Callable[[str], Spec]) -> None:
    spec = read_small(
        "width = 3\n[pieces.a]\nof = 'felt'\nsize = [12, '3 in']\ncut = 3\n[[steps]]\ndo = 'x'\npieces = ['b', 'a']\n"
    )
    piece = spec.pieces[0]
    assert spec.materials[0].width is None
    assert (piece.of, piece.size, piece.cut and piece.cut.value) == (None, (), 3)
    assert [name.value for name in spec.steps[0].pieces] == ["a"]
    assert len(spec.problems) == 4


def test_a_piece_tells_which_of_its_keys_were_written_and_not_taken(read_small: Callable[[str], Spec]) -> None:
    spec = read_small(
        "[pieces.a]\nof = 'felt'\nsize = [12, '3 in']\ncut = 3\nlike = 'big-piece'\n[pieces.'Big Piece']\n"
        "[pieces.b]\nholes = [{ at = 'centre' }]\nround = '1 in'\n"
    )
    assert [piece.wrong for piece in spec.pieces] == [("of", "size", "like"), ("holes",)]


def test_windows_line_ends_and_a_byte_order_mark_do_no_harm(tmp_path: Path, good_path: Path) -> None:
    path = tmp_path / "a.toml"
    path.write_bytes(b"\xef\xbb\xbf" + good_path.read_bytes().replace(b"\n", b"\r\n"))
    spec = read_spec(path)
    assert spec.problems == ()
    head, plain = spec.spec, read_spec(good_path).spec
    assert head is not None
    assert plain is not None
    assert (head.changed and head.changed.value) == (plain.changed and plain.changed.value)
    assert (head.place.line, head.makes and head.makes.place.line) == (3, 11)


def test_a_file_that_is_not_there(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    assert rejected("a.toml") == (
        "a.toml: error: there is no such file\n    mend:    check the name, and the folder you are in"
    )
    assert "there is no such file" in rejected("a\0.toml")
    assert "there is no such file" in rejected("")


def test_a_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path.parent)
    assert rejected(tmp_path.name) == (
        f"{tmp_path.name}: error: this is a folder, not a spec\n    mend:    name the .toml file in it"
    )


def test_a_pipe_is_turned_away_and_not_waited_for(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    os.mkfifo("a.toml")
    assert rejected("a.toml") == ("a.toml: error: this is not an ordinary file\n    mend:    name a .toml file")


def test_a_file_that_cannot_be_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    Path("a.toml").symlink_to("a.toml")
    assert rejected("a.toml") == (
        "a.toml: error: the file cannot be read: too many levels of symbolic links\n"
        "    mend:    check the file, and who may read it"
    )


def test_a_file_over_half_a_megabyte(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    Path("a.toml").write_bytes(b"#" * (512 * 1024 + 1))
    assert rejected("a.toml") == (
        "a.toml: error: the file is larger than 512 KiB, too large for a spec\n"
        "    mend:    check that this is the spec, and not a drawing or a picture"
    )
    Path("a.toml").write_bytes(b"#" * (512 * 1024))
    assert len(read_spec("a.toml").source) == 512 * 1024


def test_a_file_that_is_not_utf8(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    Path("a.toml").write_bytes("# a\ntitle = 'Étui'\n".encode("latin-1"))
    assert rejected("a.toml") == (
        "a.toml:2: error: the file is not UTF-8 text: the byte C9 cannot be read\n"
        '    mend:    save it in the editor with the encoding "UTF-8"'
    )


def test_a_control_character_in_the_source(read_text: Callable[[str], Spec]) -> None:
    with pytest.raises(SpecRejected) as caught:
        read_text('a = "x\x01"\n')
    assert render_problem(caught.value.problems[0]) == (
        "a.toml:1: error: a character that TOML does not allow here (column 7)\n"
        '    written: a = "x "\n'
        "    mend:    take it out"
    )


@pytest.mark.parametrize("text", ["a = " + "[" * 100_000, "[" * 100_000, "a = " + "{a=" * 100_000, "a." * 100_000])
def test_endless_nesting_is_turned_away(read_text: Callable[[str], Spec], text: str) -> None:
    with pytest.raises(SpecRejected) as caught:
        read_text("\n" + text)
    assert render_problem(caught.value.problems[0]) == (
        "a.toml:2: error: lists and tables are nested more than 8 deep\n"
        f"    written: {text[:100].strip()}\n"
        "    mend:    close every list with ] and every table with }"
    )


def test_a_number_of_5000_digits_is_turned_away(read_text: Callable[[str], Spec]) -> None:
    with pytest.raises(SpecRejected) as caught:
        read_text("\na = " + "9" * 5000)
    assert render_problem(caught.value.problems[0]) == (
        "a.toml:2: error: a number with more digits than can be read\n"
        "    written: 99999999999999999999…\n"
        "    mend:    write a smaller number"
    )


HALF = 510 * 1024
LOST = ",".join(f"'abcabcabcabcabcabcab{{0}}c{number}'" for number in range(45))


@pytest.mark.parametrize(
    "text",
    [
        "[pieces.a]\nsize = [" + "1," * (HALF // 2) + "]",
        "[pieces.a]\nholes = [" + "{}," * (HALF // 3) + "]",
        "[pieces.a]\nround = {" + ",".join(f"a{number}=1" for number in range(HALF // 10)) + "}",
        "".join(f"[pieces.p{number}]\n" for number in range(HALF // 18)),
        "".join(f"[x{number}]\n" for number in range(HALF // 9)),
        "[[steps]]\n" * (HALF // 10),
        "[[steps]]\ndo = 'x'\npieces = [" + ",".join(f"'p{number}'" for number in range(HALF // 9)) + "]",
        "".join(f"[pieces.abcabcabcabcabcabcabc{number}]\n" for number in range(300))
        + "".join(f"[[steps]]\ndo='x'\npieces=[{LOST.format(step)}]\n" for step in range(300)),
        "[hardware.a]\ncount = 0x" + "f" * (HALF - 30),
        "[shop]\nname = '" + "x" * HALF + "'",
        "[shop]\n" + "x" * HALF + " = 1",
        "[materials." + "'" + "y" * HALF + "']",
        '[shop]\nname = "' + "\\u0000" * (HALF // 6) + '"',
    ],
    ids=range(13),
)
def test_a_file_full_of_one_thing_is_read_with_problems(read_text: Callable[[str], Spec], text: str) -> None:
    problems = read_text(text).problems
    assert 1 <= len(problems) <= 201
    assert all(len(render_problem(problem)) < 2000 for problem in problems)


@pytest.mark.parametrize(
    "text",
    ["a = x" + " " * HALF + '"', "a = 1,5" + " " * HALF + '"', "a" * HALF, "a = '" + "x" * HALF, "a = 1\n" * 80_000],
    ids=range(5),
)
def test_a_long_file_with_an_error_of_syntax_is_turned_away(read_text: Callable[[str], Spec], text: str) -> None:
    with pytest.raises(SpecRejected) as caught:
        read_text(text)
    assert len(render_problem(caught.value.problems[0])) < 1000
