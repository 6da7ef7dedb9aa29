"""Letters that the pages could only print as an empty box are told when the spec is read."""

from collections.abc import Callable

import pytest

from docgen.fonts import missing_characters
from docgen.read import Spec


def test_letter_that_the_typeface_lacks_is_named_with_its_code_point(messages: Callable[[str], list[str]]) -> None:
    assert messages('note = "made of 革"\n') == [
        'a.toml:8: error: note holds "革" (U+9769), which the typeface of the pages does not have\n'
        '    written: "made of 革"\n'
        "    mend:    write it with other letters"
    ]


def test_emoji_in_the_text_of_a_step_is_named(messages: Callable[[str], list[str]]) -> None:
    assert messages('[[steps]]\ndo = "Sew \U0001f9f5 round"\n') == [
        'a.toml:9: error: do holds "\U0001f9f5" (U+1F9F5), which the typeface of the pages does not have\n'
        '    written: "Sew \U0001f9f5 round"\n'
        "    mend:    write it with other letters"
    ]


def test_the_first_three_of_many_letters_are_named(messages: Callable[[str], list[str]]) -> None:
    assert messages('title = "革の鞄です革"\n') == [
        'a.toml:8: error: title holds "革" (U+9769), "の" (U+306E), "鞄" (U+9784) and 2 more, '
        "which the typeface of the pages does not have\n"
        '    written: "革の鞄です革"\n'
        "    mend:    write it with other letters"
    ]


@pytest.mark.parametrize(
    "lines",
    [
        '[shop]\nname = "鞄"\n',
        '[hardware.ring]\nwhat = "鞄"\ncount = 1\n',
        '[stitches.main]\nby = "hand"\nthread = "Tex 135 鞄"\npitch = "3 mm"\ninset = "3 mm"\n',
        '[[steps]]\ndo = "Sew."\ntools = ["awl", "鞄"]\n',
    ],
    ids=["text", "hardware", "thread", "list of tools"],
)
def test_words_of_every_printed_kind_are_looked_at(messages: Callable[[str], list[str]], lines: str) -> None:
    (told,) = messages(lines)
    assert 'holds "鞄" (U+9784), which the typeface of the pages does not have' in told


def test_letters_of_european_languages_are_taken(read_small: Callable[[str], Spec]) -> None:
    assert read_small('title = "Ægir, ß, ø, Łódź, Çelik, žluťoučký, Ελλάς, Київ, ½, ×, °, –, “ ”"\n').problems == ()


def test_every_letter_that_is_not_looked_at_is_in_the_typeface() -> None:
    assert missing_characters("".join(map(chr, range(32, 127)))) == ()
