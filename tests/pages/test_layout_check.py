"""A shop's layout files: every fault at once, each with file, line and mend."""

import re
from pathlib import Path

import pytest

from docgen.layout_files import find_layouts, read_layouts, shipped_layouts
from docgen.pages.looks.layout_check import find_layout_problems
from docgen.problems import CallRejected, render_problem


def shipped(name: str) -> str:
    file = shipped_layouts().find(name)
    assert file is not None
    return file.source.decode()


SENTENCES = shipped("sentences.toml")
KNOWN = "the program puts in {paper} and {scale} here"
ALONE = "write {paper}: a name stands alone between its braces"
COPY = 'put it back: "docgen layouts" copies the shipped file into an empty folder'
LOST = "put it back: what the program knows must stand on the page"
PRINT_FIRST = '    written: "Print {sheet} 1 first. Measure this square with a steel rule: {first} each way."\n'
MANY_BRACES = (
    "these words hold a brace too many",
    "write one brace on each side of a name, and none elsewhere: a brace itself cannot be printed",
)


def judge(folder: Path, name: str, text: str) -> list[str]:
    """The problems of one file, with the folder's name taken out and no written words."""
    (folder / name).parent.mkdir(exist_ok=True)
    (folder / name).write_text(text)
    problems = [render_problem(item) for item in find_layout_problems(read_layouts(folder))]
    return [problem.replace(f"{folder}/", "") for problem in problems]


def line_of(text: str, start: str) -> int:
    return next(number for number, line in enumerate(text.split("\n"), 1) if line.startswith(start))


@pytest.mark.parametrize("file", shipped_layouts().files, ids=lambda file: file.name)
def test_a_copy_of_every_shipped_file_is_good(tmp_path: Path, file) -> None:
    assert judge(tmp_path, file.name, file.source.decode()) == []


def test_words_missing_and_unknown_are_named_with_a_guess(tmp_path: Path) -> None:
    text = shipped("words.toml").replace('across = "across"', 'acros = "breit"')
    head, line = line_of(text, "[cutting]"), line_of(text, "acros =")
    assert judge(tmp_path, "words.toml", text) == [
        f'words.toml:{head}: error: "across" is missing in [cutting]\n    mend:    put it back: across = "across"',
        f'words.toml:{line}: error: no words are called "acros" in [cutting]\n'
        '    written: "breit"\n'
        '    mend:    did you mean "across"?',
    ]


@pytest.mark.parametrize(
    ("written", "what", "mend"),
    [
        ("3", "these are no words", 'write words in quotes, like "across"'),
        ('" "', "these are no words", 'write words in quotes, like "across"'),
        (
            '"across 9"',
            'the words hold a number ("9"); only the program prints numbers',
            "write it in letters, or leave it out",
        ),
        ('"' + "b" * 43 + '"', "these words have 43 letters; there is room for 42", "shorten them"),
        (r'"a\nb"', "these words stand on more than one line", "write them on one line"),
        ('"{load}"', "nothing is called {load} here", "nothing is put in here: write it without braces"),
        ('"漢"', "the typeface has no '漢'", "write it otherwise"),
    ],
)
def test_words_that_cannot_be_printed_in_their_place(tmp_path: Path, written: str, what: str, mend: str) -> None:
    text = shipped("words.toml").replace('across = "across"', f"across = {written}")
    line = line_of(text, "across =")
    assert judge(tmp_path, "words.toml", text) == [
        f"words.toml:{line}: error: {what}\n    written: {written.strip() or written}\n    mend:    {mend}"
    ]


def test_a_language_of_the_shops_own_is_held_to_the_english_one(tmp_path: Path) -> None:
    text = shipped("care/en.toml").replace("{load}, as stated", "As stated")
    line = line_of(text, "[advice.load]") + 2
    found = judge(tmp_path, "care/nl.toml", text)
    assert found[0].startswith(f"care/nl.toml:{line}: error: these words have lost {{load}}\n")


OUTSIDE = '"{}" is outside what a page can take'
BODY, DASH = 'body = "10 pt"', 'dash = ["2 mm", "1.2 mm"]'


@pytest.mark.parametrize(
    ("name", "old", "new", "what", "mend"),
    [
        ("page.toml", BODY, 'body = "40 pt"', OUTSIDE, "use 6 to 15 pt"),
        ("page.toml", 'band = "18 mm"', 'band = "10 cm"', OUTSIDE, "use 16.5 to 40 mm"),
        ("page.toml", "help_grey = 0.25", "help_grey = 1", OUTSIDE, "use 0 to 0.7"),
        ("page.toml", 'hair = "0.15 mm"', 'hair = "0"', OUTSIDE, "use 0.05 to 2 mm"),
        ("page.toml", BODY, 'bodie = "10 pt"', 'there is no setting "{}" in [type]', 'did you mean "body"?'),
        ("page.toml", 'margin = "10 mm"', "margin = 14", "14 is no written measure", 'write it like "3 mm"'),
        ("pattern.toml", '[cut]\nwidth = "0.5 mm"', '[cut]\nwidth = "9 mm"', OUTSIDE, "use 0.05 to 2 mm"),
        (
            "pattern.toml",
            DASH,
            'dash = ["2 mm", "0 mm"]',
            "a part of the dash is too short or too long",
            "use 0.05 to 50 mm",
        ),
        (
            "pattern.toml",
            DASH,
            'dash = "2 mm"',
            "a dash is a list of at most 12 lengths",
            'write ["2 mm", "1 mm"], or []',
        ),
        (
            "pattern.toml",
            DASH,
            'dahs = ["2 mm", "1.2 mm"]',
            'there is no setting "{}" in [stitch]',
            'did you mean "dash"?',
        ),
    ],
)
def test_measures_of_pages_and_lines(tmp_path: Path, name: str, old: str, new: str, what: str, mend: str) -> None:
    text = shipped(name).replace(old, new)
    *_, line = new.splitlines()
    key, _, written = line.partition(" = ")
    problem = f"{name}:{line_of(text, line)}: error: {what.format(key)}\n    written: {written}\n    mend:    {mend}"
    assert problem in judge(tmp_path, name, text)


def test_a_setting_that_is_missing_is_named(tmp_path: Path) -> None:
    text = shipped("page.toml").replace('body = "10 pt"\n', "")
    assert judge(tmp_path, "page.toml", text) == [
        f'page.toml:{line_of(text, "[type]")}: error: [type] has no "body"\n    mend:    add body = "10 pt"'
    ]


def test_the_rows_of_the_band_must_leave_room_for_its_title(tmp_path: Path) -> None:
    text = shipped("page.toml").replace('band_row_cells = "6.4 mm"', 'band_row_cells = "14 mm"')
    assert judge(tmp_path, "page.toml", text) == [
        f"page.toml:{line_of(text, 'band =')}: error: the two lower rows leave the band no room for its title\n"
        '    written: "18 mm"\n'
        "    mend:    make the band higher, or the rows lower"
    ]


@pytest.mark.parametrize(
    ("old", "new", "what"),
    [
        (
            '"trimmings", "thread"',
            '"trimings", "thread"',
            '"cutting_list" has no block called "trimings"\n    written: "trimings"\n'
            '    mend:    did you mean "trimmings"?',
        ),
        (
            '"trimmings", "thread"',
            '"thread", "thread"',
            'the block "thread" is named twice\n    written: "thread"\n    mend:    keep one of the two',
        ),
        ("cutting_list = [", "cutting_lst = [", 'no document of blocks is called "cutting_lst"'),
    ],
    ids=["unknown", "twice", "document"],
)
def test_the_order_of_blocks(tmp_path: Path, old: str, new: str, what: str) -> None:
    text = shipped("order.toml").replace(old, new)
    found = judge(tmp_path, "order.toml", text)
    assert any(f"order.toml:{line_of(text, 'cutting_l')}: error: {what}" in problem for problem in found)


KEPT_BLOCKS = {
    "cutting_list": "head blade cautions accepted",
    "build_sheet": "head cautions accepted hazards",
    "care_advice": "nickel never wet load",
}


@pytest.mark.parametrize(
    ("document", "block"), [(page, name) for page in KEPT_BLOCKS for name in KEPT_BLOCKS[page].split()]
)
def test_title_blocks_and_cautions_cannot_be_left_out(tmp_path: Path, document: str, block: str) -> None:
    before, after = shipped("order.toml").split(f"{document} = ")
    names = re.sub(r"\[(\s*),", r"[\1", re.sub(r",\s*,", ",", after.replace(f'"{block}"', "", 1)))
    text = f"{before}{document} = {names}"
    (found,) = judge(tmp_path, "order.toml", text)
    what = f'"{document}" lacks the block "{block}", which cannot be left out'
    assert found.startswith(f"order.toml:{line_of(text, document)}: error: {what}\n")
    assert found.endswith("\n    mend:    put it back")


@pytest.mark.parametrize(
    ("written", "faults"),
    [
        ("on {papr}", [("nothing is called {papr} here", "did you mean {paper}?")]),
        ("on {colour}", [("nothing is called {colour} here", KNOWN)]),
        ("on {}", [("nothing is called {} here", KNOWN)]),
        ("on {0}", [("nothing is called {0} here", KNOWN)]),
        *(
            (f"on {{{asked}}}", [(f"nothing is called {{{asked}}} here", ALONE)])
            for asked in (
                "paper.upper",
                "paper.__class__",
                "paper[0]",
                "paper!r",
                "paper:>1000000",
                " paper ",
                "paper=",
            )
        ),
        (
            "on {paper.a} {paper[0]}",
            [("nothing is called {paper.a} here", ALONE), ("nothing is called {paper[0]} here", ALONE)],
        ),
        ("on {{ paper }}", [("nothing is called { paper } here", ALONE), MANY_BRACES]),
        ("on {% if paper %}", [("nothing is called {% if paper %} here", KNOWN)]),
        ("on {paper", [MANY_BRACES]),
        ("on paper}", [MANY_BRACES]),
        ("on {paper:{scale}}", [MANY_BRACES]),
    ],
)
def test_only_a_name_that_is_known_there_stands_in_braces(
    tmp_path: Path, written: str, faults: list[tuple[str, str]]
) -> None:
    text = SENTENCES.replace("on {paper} paper at {scale}", f"{written} at {{scale}}")
    line = line_of(text, "print =")
    found = [problem.partition("\n    written: ") for problem in judge(tmp_path, "sentences.toml", text)]
    told = [
        (head.removeprefix(f"sentences.toml:{line}: error: "), tail.split("mend:    ")[1]) for head, _, tail in found
    ]
    assert told[: len(faults)] == faults


def test_all_faults_of_sentences_come_at_once_each_with_its_line(tmp_path: Path) -> None:
    """A list for words, an unknown name, a number, a name twice and one lost, tables and keys lost or misspelt."""
    changes = {
        'title = "How to print"': 'title = ["How to print"]',
        "Print this sheet first.": "Print {sheet} 1 first.",
        "Measure the other square: {second} each way.": "{first} again.",
        "{printer}": "{printr}",
        '"Each sheet has its own squares. Check them too."': "7",
        "[how_to_join]": "[how_to_jion]",
        "order_pieces = [": "order_piece = [",
    }
    text = SENTENCES
    for old, new in changes.items():
        assert old in text
        text = text.replace(old, new)
    text = text.partition("[build_scrap]")[0]
    measured = line_of(SENTENCES, "measure =")
    assert judge(tmp_path, "sentences.toml", text) == [
        f"sentences.toml: error: the table [how_to_join] is missing\n    mend:    {COPY}",
        f'sentences.toml:{line_of(text, "[cutting_list]")}: error: "order_pieces" is missing in [cutting_list]\n'
        '    mend:    put it back: order_pieces = ["Cut the large pieces first{small}{under}."]',
        *(
            f"sentences.toml: error: the table [{name}] is missing\n    mend:    {COPY}"
            for name in ("build_scrap", "step", "finished", "finished_due")
        ),
        f'sentences.toml:{line_of(text, "[how_to_jion]")}: error: no words are called "how_to_jion" in the file\n'
        '    written: [how_to_jion]\n    mend:    did you mean "how_to_join"?',
        f'sentences.toml:{line_of(text, "order_piece =")}: error: no words are called "order_piece" in [cutting_list]\n'
        '    written: ["Cut the large pieces first{small}{under}."]\n    mend:    did you mean "order_pieces"?',
        f"sentences.toml:{line_of(text, 'title =')}: error: these are no words\n"
        '    written: ["How to print"]\n    mend:    write them like "How to print"',
        f"sentences.toml:{line_of(text, 'printer =')}: error: nothing is called {{printr}} here\n"
        "    written: 'This pattern is corrected for the printer \"{printr}\". Print it on no other.'\n"
        "    mend:    did you mean {printer}?",
        f"sentences.toml:{measured + 1}: error: nothing is called {{sheet}} here\n{PRINT_FIRST}"
        "    mend:    the program puts in {first} and {second} here",
        f'sentences.toml:{measured + 1}: error: the words hold a number ("1"); only the program prints numbers\n'
        f"{PRINT_FIRST}    mend:    write it in letters, or leave it out",
        f"sentences.toml:{measured + 3}: error: these are no words\n    written: 7\n    mend:    write words in quotes, "
        'like "Print this sheet first. Measure this square with a steel rule: {first} each way."',
        f"sentences.toml:{measured}: error: {{first}} stands here more than once\n    mend:    keep one of them",
        f"sentences.toml:{measured}: error: these words have lost {{second}}\n    mend:    {LOST}",
    ]


def rewrite(text: str, case: str, lines: str) -> str:
    """The lines of one case written anew."""
    new, count = re.subn(rf"^{case} = \[.*?\]$", lambda m: f"{case} = {lines}", text, flags=re.MULTILINE | re.DOTALL)
    assert count == 1
    return new


def test_a_case_may_have_other_lines_or_none(tmp_path: Path) -> None:
    text = SENTENCES
    for case in ("no_joins", "board", "order_large", "always"):
        text = rewrite(text, case, "[]")
    text = rewrite(text, "print", "['At full size, {scale}.', 'On {paper}.', 'Not fitted to the page.']")
    assert judge(tmp_path, "sentences.toml", text) == []


def test_a_case_keeps_its_names_and_its_caution(tmp_path: Path) -> None:
    text = rewrite(rewrite(SENTENCES, "proposed", "[]"), "measure", "[]")
    measured, proposed = line_of(text, "measure ="), line_of(text, "proposed =")
    *lost, caution = judge(tmp_path, "sentences.toml", text)
    assert lost == [
        f"sentences.toml:{measured}: error: these words have lost {{{name}}}\n    written: []\n    mend:    {LOST}"
        for name in ("first", "second")
    ]
    what = 'this caution cannot be left out\n    written: []\n    mend:    put it back: proposed = ["The order of these'
    assert caution.startswith(f"sentences.toml:{proposed}: error: {what}")


@pytest.mark.parametrize("written", ["{{load}}", "{load} }", "{ {load}", "{load}{"])
def test_a_brace_too_many_in_a_phrase_is_told(tmp_path: Path, written: str) -> None:
    head, labels, advice = shipped("care/en.toml").partition("[labels]")
    text = head + labels + advice.replace("{load}", written, 1)
    (said,) = judge(tmp_path, "care/en.toml", text)
    assert "error: these words hold a brace too many\n" in said
    assert said.endswith(f"    mend:    {MANY_BRACES[1]}")


def test_faults_of_several_files_come_at_once(tmp_path: Path) -> None:
    (tmp_path / "page.toml").write_text("[type\n")
    (tmp_path / "order.toml").write_bytes(b"\xff")
    (tmp_path / "sentences.toml").write_text("title = 'a\n")
    found = find_layout_problems(read_layouts(tmp_path))
    assert [Path(problem.place.path).name for problem in found] == ["order.toml", "page.toml", "sentences.toml"]
    assert all(problem.place.line == 1 for problem in found)


def test_a_file_with_a_name_of_its_own_is_refused(tmp_path: Path) -> None:
    (tmp_path / "word.toml").write_text("")
    (tmp_path / "notes.txt").write_text("not looked at")
    assert [render_problem(item) for item in find_layout_problems(read_layouts(tmp_path))] == [
        f'{tmp_path}/word.toml: error: no layout file has this name\n    mend:    did you mean "words.toml"?'
    ]


@pytest.mark.parametrize(
    ("name", "home"),
    [
        ("how_to_print.j2", "[how_to_print] of sentences.toml"),
        ("build_scrap.j2", "[build_scrap] of sentences.toml"),
        ("mine.j2", "sentences.toml"),
        ("care/nl.j2", "sentences.toml"),
    ],
)
def test_a_file_of_the_older_kind_is_not_passed_over_in_silence(tmp_path: Path, name: str, home: str) -> None:
    (tmp_path / "care").mkdir()
    (tmp_path / name).write_text("Print it on {{ paper }}.")
    assert [render_problem(item) for item in find_layout_problems(read_layouts(tmp_path))] == [
        f"{tmp_path}/{name}: error: layout files of this kind are no longer read\n"
        f'    mend:    its words now stand in {home}: copy that file with "docgen layouts", put your words in, and '
        "delete this one"
    ]


def test_files_that_lead_out_are_folders_or_are_too_large_are_not_read(tmp_path: Path) -> None:
    folder = tmp_path / "layouts"
    folder.mkdir()
    (tmp_path / "secret").write_text("secret")
    (folder / "pattern.toml").symlink_to(tmp_path / "secret")
    (folder / "order.toml").mkdir()
    (folder / "words.toml").write_text("#" * (64 * 1024 + 1))
    assert [render_problem(item).replace(f"{folder}/", "") for item in find_layout_problems(read_layouts(folder))] == [
        "order.toml: error: this is not an ordinary file\n    mend:    copy the shipped one with docgen layouts",
        "pattern.toml: error: this file leads out of its folder\n    mend:    copy the file itself into the folder",
        "words.toml: error: this layout file is larger than 64 KiB\n    mend:    shorten it",
    ]


def test_a_folder_that_is_named_must_be_there(tmp_path: Path) -> None:
    with pytest.raises(CallRejected) as caught:
        find_layouts(tmp_path / "bag.toml", "no-such-folder")
    assert str(caught.value) == 'there is no folder "no-such-folder" with layouts'


def test_layouts_come_from_beside_the_spec_file_by_file(tmp_path: Path) -> None:
    assert find_layouts(tmp_path / "bag.toml") == shipped_layouts()
    (tmp_path / "layouts").mkdir()
    (tmp_path / "layouts" / "sentences.toml").write_text(SENTENCES)
    found = find_layouts(tmp_path / "bag.toml")
    own = [file.name for file in found.files if not file.is_shipped]
    assert own == ["sentences.toml"]
    assert [file.name for file in found.files] == [file.name for file in shipped_layouts().files]
