"""However a shop changes its layouts, the pages say the same numbers; and layouts of two builds do not mix."""

import random
import re
import tomllib
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from functools import cache

import pytest
from demos import demo_plan
from on_paper import visible_marks

from docgen.layout_files import LayoutFile, Layouts, shipped_layouts
from docgen.pages import choices_of, lay_out
from docgen.pages.looks.layout_check import find_layout_problems
from docgen.pages.marks.page import Mark, Packet, TextMark
from docgen.problems import SpecRejected

DEMOS = ("field-bag", "notebook-sleeve")
# A line of words in quotes: after its key, or in a list of lines, which may stand on the key's own line.
PHRASE = re.compile(r"""^( *|\w+ *= \[?)(["'])(.*?)\2(?=[\],]|$)""", re.MULTILINE)
WORD = re.compile(r"[^\W\d_]{2,}")
NUMBERED = re.compile(r'^(\w+ *= )"(?=[A-Za-z])', re.MULTILINE)
# The scale of a small drawing or map goes by the room it has; sheets of flowed pages are counted by their number.
BY_ROOM = re.compile(r"\b1 ?: ?\d+|^\d+ \w+ \d+$")


@cache
def lay(name: str, layouts: Layouts | None = None) -> Packet:
    plan = demo_plan(name)
    return lay_out(plan, choices=choices_of(plan.build.printing), date="2026-03-31", layouts=layouts)


def texts(marks: tuple[Mark, ...]) -> list[str]:
    return [mark.text for mark, *_ in visible_marks(marks) if isinstance(mark, TextMark)]


def numbers(packet: Packet) -> dict[str, set[str]]:
    """Every word with a figure in it, by document; codes without the number of their page."""
    said: dict[str, set[str]] = {}
    for document in packet.documents:
        lines = [BY_ROOM.sub("", line) for page in document.pages for line in texts(page.marks)]
        words = (word.strip("().,;:") for line in lines for word in re.split(r"[\s\u00a0]+|/(?=[A-Z])", line))
        found = {word for word in words if re.search(r"\d", word) and "/" not in word.lstrip("0123456789/")}
        said[document.name] = found
    return said


def change(rewrite: Callable[[LayoutFile, str], str]) -> Layouts:
    """The shipped layouts, every file written anew."""
    files = (
        replace(file, source=rewrite(file, file.source.decode()).encode(), is_shipped=False)
        for file in shipped_layouts().files
    )
    return Layouts(tuple(files))


def swap_words(seed: int) -> Callable[[LayoutFile, str], str]:
    """Every word in quotes, outside braces, into other letters; the order of blocks shuffled."""
    dice = random.Random(seed)

    def spell(found: re.Match[str]) -> str:
        return "".join(dice.choice("abdeghiknoprstuvw") for _ in found[0])

    def rewrite(file: LayoutFile, text: str) -> str:
        if file.name == "order.toml":
            lists = tomllib.loads(text)
            return "".join(f"{key} = {dice.sample(names, len(names))}\n" for key, names in lists.items())
        if file.name in ("page.toml", "pattern.toml"):
            return text
        return PHRASE.sub(lambda m: f"{m[1]}{m[2]}{respell(m[3])}{m[2]}", text)

    def respell(words: str) -> str:
        return re.sub(r"\\u....|\{\w+\}|" + WORD.pattern, lambda m: m[0] if m[0][0] in "\\{" else spell(m), words)

    return rewrite


def scale_measures(share: float) -> Callable[[LayoutFile, str], str]:
    """Every measure of page.toml and pattern.toml larger or smaller."""

    def rewrite(file: LayoutFile, text: str) -> str:
        if file.name not in ("page.toml", "pattern.toml"):
            return text
        return re.sub(
            r'"([\d.]+) (mm|pt)"',
            lambda m: f'"{max(float(m[1]) * share, 5 if m[2] == "pt" else 0.06):.3f} {m[2]}"',
            text,
        )

    return rewrite


@pytest.mark.parametrize("demo", DEMOS)
@pytest.mark.parametrize("seed", range(3))
def test_other_words_and_another_order_say_the_same_numbers(demo: str, seed: int) -> None:
    layouts = change(swap_words(seed))
    assert find_layout_problems(layouts) == ()
    assert numbers(lay(demo, layouts)) == numbers(lay(demo))
    assert {text for page in lay(demo, layouts).documents[1].pages for text in texts(page.marks)} != {
        text for page in lay(demo).documents[1].pages for text in texts(page.marks)
    }


@pytest.mark.parametrize("share", [0.92, 1.03])
def test_other_sizes_of_type_and_margins_say_the_same_numbers(share: float) -> None:
    layouts = change(scale_measures(share))
    assert find_layout_problems(layouts) == ()
    assert numbers(lay("notebook-sleeve", layouts)) == numbers(lay("notebook-sleeve"))


def test_numbers_are_looked_for_where_they_stand() -> None:
    found = numbers(lay("field-bag"))
    assert len(found["cutting-list"]) > 60
    assert len(found["build-sheet"]) > 60


@pytest.mark.parametrize("name", ["words.toml", "care/en.toml", "sentences.toml"])
def test_a_number_written_into_the_words_is_refused(name: str) -> None:
    def rewrite(file: LayoutFile, text: str) -> str:
        if file.name != name:
            return text
        return NUMBERED.sub(r'\1"9 ', text, count=1)

    with pytest.raises(SpecRejected) as caught:
        lay_out(
            demo_plan("notebook-sleeve"),
            choices=choices_of(demo_plan("notebook-sleeve").build.printing),
            date="2026-03-31",
            layouts=change(rewrite),
        )
    assert "only the program prints numbers" in caught.value.problems[0].what


def test_layouts_of_two_builds_in_one_program_do_not_mix() -> None:
    plan = demo_plan("notebook-sleeve")
    choices = choices_of(plan.build.printing)
    several = [None, change(swap_words(7)), None, change(swap_words(8))]

    def run(layouts: Layouts | None) -> Packet:
        return lay_out(plan, choices=choices, date="2026-03-31", layouts=layouts)

    alone = [run(layouts) for layouts in several]
    with ThreadPoolExecutor(4) as pool:
        together = list(pool.map(run, several))
    assert together == alone
    assert alone[0] == alone[2] != alone[1] != alone[3]
