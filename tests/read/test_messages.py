"""Every message of reading, whole: `key_messages.txt` and `syntax_messages.txt` hold text and answer.

In these files a case is `=== name`, the lines added to a small good spec (their first is line 8, in
[materials.body]), `---`, and what a person reads.
"""

from collections.abc import Callable
from pathlib import Path

import pytest
from cases import read_cases

from docgen.problems import SpecRejected, render_problem, shorten
from docgen.read import Spec

KEY_CASES, SYNTAX_CASES = (
    read_cases(Path(__file__).with_name(f"{name}_messages.txt").read_text(encoding="utf-8"))
    for name in ("key", "syntax")
)


def test_the_cases_are_all_there() -> None:
    assert len(KEY_CASES) >= 80
    assert len(SYNTAX_CASES) >= 35


@pytest.mark.parametrize("case", KEY_CASES)
def test_a_wrong_key_or_value_is_told_in_shop_words(messages: Callable[[str], list[str]], case: str) -> None:
    given, told, _ = KEY_CASES[case]
    assert "\n".join(messages(given)) == told.rstrip("\n")


@pytest.mark.parametrize("case", SYNTAX_CASES)
def test_an_error_of_syntax_is_told_in_shop_words(read_small: Callable[[str], Spec], case: str) -> None:
    given, told, _ = SYNTAX_CASES[case]
    with pytest.raises(SpecRejected) as caught:
        read_small(given.removesuffix("\n"))
    assert "\n".join(render_problem(problem) for problem in caught.value.problems) == told.rstrip("\n")


def test_words_that_are_too_long_are_counted(messages: Callable[[str], list[str]]) -> None:
    capped = '"' + "x" * 99
    assert messages(f'title = "{"x" * 201}"\nnote = "{"x" * 5000}"\nwidth = "{"x" * 201}"\n') == [
        "a.toml:8: error: title has 201 letters; at most 200 are allowed\n"
        f"    written: {capped}\n"
        "    mend:    write less",
        "a.toml:9: error: note has 5,000 letters; at most 1,000 are allowed\n"
        f"    written: {capped}\n"
        "    mend:    write less",
        "a.toml:10: error: width has 201 letters; at most 200 are allowed\n"
        f"    written: {capped}\n"
        "    mend:    write less",
    ]


@pytest.mark.parametrize("most", [1, 2, 40, 100])
def test_words_are_shortened_only_where_they_are_longer_than_there_is_room_for(most: int) -> None:
    for count in (most - 1, most, most + 1, 3 * most):
        said = shorten("\n" + "x" * count + "\t", most)
        assert said == "x" * count if count <= most else said == "x" * (most - 1) + "…"


def test_words_of_the_longest_length_are_taken(read_small: Callable[[str], Spec]) -> None:
    spec = read_small(f'title = "{"x" * 200}"\nnote = "{"y" * 1000}"\n[pieces.{"a" * 40}]\n')
    assert spec.problems == ()
    assert len(spec.pieces[0].name) == 40


def test_a_name_of_41_letters_is_too_long(messages: Callable[[str], list[str]]) -> None:
    name = "a" * 41
    assert messages(f"[pieces.{name}]\n") == [
        f'a.toml:8: error: in [pieces], "{name}" is not a short name\n'
        f"    written: [pieces.{name}]\n"
        "    mend:    use at most 40 letters; it has 41"
    ]


def test_a_link_of_81_letters_is_too_long(messages: Callable[[str], list[str]]) -> None:
    link = "https://" + "a" * 73
    assert messages(f'[shop]\nlink = "{link}"\n') == [
        "a.toml:9: error: link has 81 letters; at most 80 are allowed\n"
        f'    written: "{link}"\n'
        "    mend:    use a shorter address"
    ]


def test_a_version_takes_letters_digits_dots_and_hyphens(read_text: Callable[[str], Spec]) -> None:
    spec = read_text(
        '[spec]\ncode = "a"\ntitle = "A"\nversion = "2 b"\n[materials.m]\nkind = "foam"\nthickness = 0.5\n'
    )
    assert [render_problem(problem) for problem in spec.problems] == [
        'a.toml:4: error: version cannot be "2 b"\n'
        '    written: "2 b"\n'
        "    mend:    use letters, digits, dots and hyphens, at most 12",
        "a.toml:7: error: thickness has no unit: 0.5\n"
        "    written: 0.5\n"
        '    mend:    write "0.5 oz" or "0.5 mm", quotes and all',
    ]


def test_a_spec_without_anything_needs_its_first_tables(read_text: Callable[[str], Spec]) -> None:
    spec = read_text("")
    assert [render_problem(problem) for problem in spec.problems] == [
        "a.toml: error: there is no [spec]\n    mend:    add [spec] with code, title and version",
        "a.toml: error: there is no [materials.NAME]\n    mend:    add [materials.NAME] with kind and thickness",
    ]


def test_a_material_named_while_there_are_none_is_not_a_second_mistake(read_text: Callable[[str], Spec]) -> None:
    spec = read_text('[spec]\ncode = "a"\ntitle = "A"\nversion = "2"\n[pieces.a]\nof = "body"\n')
    assert [problem.what for problem in spec.problems] == ["there is no [materials.NAME]"]
    assert spec.pieces[0].of is None


@pytest.mark.parametrize(
    ("character", "name"),
    [
        ("\u202e", "U+202E, RIGHT-TO-LEFT OVERRIDE"),
        ("\u200f", "U+200F, RIGHT-TO-LEFT MARK"),
        ("\u2066", "U+2066, LEFT-TO-RIGHT ISOLATE"),
        ("\u200b", "U+200B, ZERO WIDTH SPACE"),
        ("\ufeff", "U+FEFF, ZERO WIDTH NO-BREAK SPACE"),
        ("\u00ad", "U+00AD, SOFT HYPHEN"),
        ("\U000e0041", "U+E0041, TAG LATIN CAPITAL LETTER A"),
        ("\uf8ff", "U+F8FF, a private-use character"),
        ("\u0085", "U+0085, a control character"),
    ],
)
def test_a_character_that_does_not_show_is_named(
    messages: Callable[[str], list[str]], character: str, name: str
) -> None:
    assert messages(f'title = "a{character}b"\n') == [
        f'a.toml:8: error: title holds {name}\n    written: "a b"\n    mend:    take that character out'
    ]


def test_letters_of_the_typeface_and_signs_of_the_trade_are_words(read_small: Callable[[str], Spec]) -> None:
    spec = read_small('title = "Étui № 2 – 3½ in × 89 mm, <b>&amp;</b> {{ x }} Ω ж \\u00a0"\n')
    assert spec.problems == ()
    title = spec.materials[0].title
    assert title is not None
    assert title.value == "Étui № 2 – 3½ in × 89 mm, <b>&amp;</b> {{ x }} Ω ж"


def test_two_hundred_problems_are_listed_and_the_rest_counted(messages: Callable[[str], list[str]]) -> None:
    listed = messages("[measures]\n" + "".join(f"m{number} = 1\n" for number in range(290)))
    assert len(listed) == 201
    assert listed[-1] == (
        "a.toml:209: error: 90 more problems, from this line on or elsewhere, are not listed\n"
        "    mend:    mend those above and check again"
    )


def test_two_hundred_and_one_problems_are_all_listed(messages: Callable[[str], list[str]]) -> None:
    assert len(messages("[measures]\n" + "".join(f"m{number} = 1\n" for number in range(201)))) == 201


def test_too_many_entries_are_counted(messages: Callable[[str], list[str]]) -> None:
    assert messages("[measures]\n" + "".join(f'm{number} = "1 in"\n' for number in range(1301))) == [
        "a.toml:8: error: measures has 1,301 entries; at most 300 are allowed\n"
        "    written: [measures]\n"
        "    mend:    leave some out, or split the spec"
    ]


def test_too_many_values_in_all_are_counted(messages: Callable[[str], list[str]]) -> None:
    holes = ", ".join(["{at = 'centre', punch = '2 mm'}"] * 90)
    pieces = "".join(f"[pieces.p{number}]\nholes = [{holes}]\n" for number in range(80))
    assert messages(pieces) == [
        "a.toml: error: the spec holds 21,769 keys and values; at most 20,000 are allowed\n"
        "    mend:    split it into several specs"
    ]


def test_a_huge_number_is_shown_capped(messages: Callable[[str], list[str]]) -> None:
    assert messages("[pieces.a]\ncut = 0x" + "f" * 90 + "\n") == [
        f"a.toml:9: error: cut must be from 1 to 200: 0x{'f' * 57}…\n"
        f"    written: 0x{'f' * 90}\n"
        "    mend:    write a whole number from 1 to 200"
    ]


@pytest.mark.parametrize(
    ("version", "what", "mend"),
    [
        ("..", 'version cannot be ".."', "begin and end it with a letter or digit"),
        ("3-", 'version cannot be "3-"', "begin and end it with a letter or digit"),
        ("1234567890123", 'version cannot be "1234567890123"', "use letters, digits, dots and hyphens, at most 12"),
        *(
            (
                version,
                f'version cannot be "{version}": the pages say draft of what is not issued',
                'write the number alone, like "3" or "2.1"',
            )
            for version in ("-draft", "3-DRAFT", "draft", "2.Draft")
        ),
    ],
)
def test_a_version_that_cannot_be_issued_is_refused(
    read_text: Callable[[str], Spec], version: str, what: str, mend: str
) -> None:
    spec = read_text(f'[spec]\ncode = "a"\ntitle = "A"\nversion = "{version}"\n')
    told = [render_problem(problem) for problem in spec.problems]
    assert any(f"error: {what}\n" in item and item.endswith(f"mend:    {mend}") for item in told), told


@pytest.mark.parametrize("link", ["https://..", "https://a:b:c//$$%", "https:///a", "https://a-.org", "https://bag"])
def test_a_link_names_a_site(messages: Callable[[str], list[str]], link: str) -> None:
    told = messages(f'[shop]\nlink = "{link}"\n')
    assert any(f'link names no site: "{link}"' in item for item in told), told


@pytest.mark.parametrize("link", ["https://example.org", "https://a-b.example:8080/x$%"])
def test_a_link_to_a_site_is_read(messages: Callable[[str], list[str]], link: str) -> None:
    assert not any("link" in item for item in messages(f'[shop]\nlink = "{link}"\n'))
