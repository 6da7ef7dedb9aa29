"""Templates print what they are given, ask and go through lists; everything else is refused with its line."""

from __future__ import annotations

import pytest

from docgen.layout_files import LayoutFile, Layouts, shipped_layouts, use_layouts
from docgen.pages.looks.template_rules import find_template_problems, find_used_names
from docgen.pages.looks.templates import decode_template, parse_words, render_words
from docgen.problems import SpecRejected, render_problem

ALLOWED = (
    'a template may print {{ name }}, ask {% if name %} or {% if name == "word" %}, '
    "and go through a list with {% for item in names %}"
)
NAMES = {"name": "text", "lines": "list"}


def judge(text: str) -> list[str]:
    return [render_problem(item) for item in find_template_problems("line.j2", text, NAMES, needs_all=False)]


def one(what: str, mend: str = ALLOWED, line: int = 1) -> list[str]:
    return [f"line.j2{f':{line}' if line else ''}: error: {what}\n    mend:    {mend}"]


def test_every_shipped_template_keeps_the_rules() -> None:
    files = [file for file in shipped_layouts().files if file.name.endswith(".j2")]
    assert len(files) >= 4
    for file in files:
        text = decode_template(file)
        assert find_template_problems(file.path, text, find_used_names(text)) == [], file.name


@pytest.mark.parametrize(
    "text",
    [
        "plain words, {{ name }}.",
        "{% if name %}a{% elif name == 'x' %}b{% else %}c{% endif %}",
        '{% if not name or name != "9" and name %}a{% endif %}',
        "{% for line in lines %}{% for other in lines %}{{ line }}{{ other }}{% endfor %}{% endfor %}",
        "{% if lines %}{# a remark #}{% raw %}{{ left as it is }}{% endraw %}{% endif %}",
    ],
)
def test_what_a_template_may_do(text: str) -> None:
    assert judge(text) == []


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("{{ name() }}", "a call is not allowed in a template"),
        ("{{ range(10) }}", "a call is not allowed in a template"),
        ("{{ name|upper }}", "a filter is not allowed in a template"),
        ("{{ name.__class__ }}", "a look inside a name is not allowed in a template"),
        ("{{ name['a'] }}", "a look inside a name is not allowed in a template"),
        ("{{ name ~ name }}", "a sum is not allowed in a template"),
        ("{{ name * 3 }}", "a sum is not allowed in a template"),
        ("{{ 'x' }}", "a value of its own is not allowed in a template"),
        ("{{ [name] }}", "a list is not allowed in a template"),
        ("{{ name if name }}", "something is not allowed in a template"),
        ("{% include 'secret.j2' %}", "another file is not allowed in a template"),
        ("{% import 'secret.j2' as x %}", "another file is not allowed in a template"),
        ("{% from 'secret.j2' import x %}", "another file is not allowed in a template"),
        ("{% extends 'secret.j2' %}", "another file is not allowed in a template"),
        ("{% set x = name %}", "a name of its own is not allowed in a template"),
        ("{% with x = name %}{% endwith %}", "a name of its own is not allowed in a template"),
        ("{% macro x() %}{% endmacro %}", "a macro is not allowed in a template"),
        ("{% block x %}{% endblock %}", "a block is not allowed in a template"),
        ("{% filter upper %}x{% endfilter %}", "a filter is not allowed in a template"),
        ("{% if name is defined %}x{% endif %}", "a test with is is not allowed in a template"),
        ("{% if name|length %}x{% endif %}", "a filter is not allowed in a template"),
        ("{% for x in lines recursive %}x{% endfor %}", "a loop with if, else or recursive"),
        ("{% for x in lines if x %}x{% endfor %}", "a loop with if, else or recursive"),
        ("{% for x in lines %}x{% else %}y{% endfor %}", "a loop with if, else or recursive"),
        ("{% for x in range(9) %}x{% endfor %}", "a loop that is not allowed"),
        ("{% for x, y in lines %}x{% endfor %}", "a loop that is not allowed"),
        ("{% for %}", "this template is faulty: Expected an expression, got 'end of statement block'"),
        ("{{ name", "this template is faulty: unexpected end of template, expected 'end of print statement'."),
    ],
)
def test_what_a_template_may_not_do(text: str, what: str) -> None:
    assert judge(f"fine\n{text}") == one(what, line=2)


@pytest.mark.parametrize(
    ("text", "what", "mend"),
    [
        ("{{ nmae }}", 'there is no "nmae" for this template', 'did you mean "name"?'),
        ("{% if colour %}x{% endif %}", 'there is no "colour" for this template', "there are lines, name"),
        ("{{ lines }}", '"lines" is a list', "write {% for item in lines %}"),
        ("{% for x in name %}x{% endfor %}", '"name" is one text, not a list', "write {{ name }}"),
        (
            "{% for x in lines %}{% for y in x %}y{% endfor %}{% endfor %}",
            '"x" is one text, not a list',
            "write {{ x }}",
        ),
        ("{% for name in lines %}x{% endfor %}", '"name" has a meaning already', "call the item otherwise"),
        (
            "{% if name == lines %}x{% endif %}",
            "a comparison that is not allowed",
            'compare one name with one word: name == "word"',
        ),
        (
            "{% if name > 'a' %}x{% endif %}",
            "a comparison that is not allowed",
            'compare one name with one word: name == "word"',
        ),
        (
            "4 in each way",
            'the words hold a number ("4"); only the program prints numbers',
            "write it in letters, or leave it out",
        ),
        (
            "½ of it",
            'the words hold a number ("½"); only the program prints numbers',
            "write it in letters, or leave it out",
        ),
        ("a 漢 here", "the typeface has no '漢'", "write it otherwise"),
    ],
)
def test_faults_in_names_and_words(text: str, what: str, mend: str) -> None:
    assert judge(f"{{% if name %}}\nfine\n{text}\n{{% endif %}}") == one(what, mend, line=3)


def test_every_mistake_of_a_template_is_told_with_its_line_and_in_order() -> None:
    text = "words\n{% autoescape true %}x{% endautoescape %}\n{{ name() }}\nfive 5\n"
    found = find_template_problems("line.j2", text, NAMES, needs_all=False)
    told = [(item.place.line, item.what) for item in SpecRejected(found).problems]
    assert [line for line, _ in told] == [2, 3, 4]
    assert told[0][1] == "a change of how text is read is not allowed in a template"


def test_a_name_that_is_lost_is_missed() -> None:
    found = find_template_problems("line.j2", "words {{ name }}", {"name": "text", "paper": "text"})
    mend = "put it back: nothing that the program knows may be missing on the page"
    assert [render_problem(item) for item in found] == one("this template has lost {{ paper }}", mend, line=0)


def nest(opening: str, closing: str, times: int) -> str:
    return opening * times + "x" + closing * times


@pytest.mark.parametrize(
    ("text", "what", "mend"),
    [
        (
            nest("{% for a in lines %}{% for b in lines %}{% for c in lines %}", "{% endfor %}" * 3, 1),
            "more than 2 loops in each other, or more than 20 in all",
            "take out some of the loops",
        ),
        (
            "{% for a in lines %}x{% endfor %}" * 21,
            "more than 2 loops in each other, or more than 20 in all",
            "take out some of the loops",
        ),
        (nest("{% if name %}", "{% endif %}", 9), "questions lie more than 8 deep in each other", ALLOWED),
        ("{% if " + "not " * 9 + "name %}x{% endif %}", "this question is too long", ALLOWED),
        ("{% if " + "(" * 5000 + "name" + ")" * 5000 + " %}x{% endif %}", "this template is nested too deep", ALLOWED),
        (nest("{% if name %}", "{% endif %}", 2500), "this template is nested too deep", ALLOWED),
    ],
    ids=["loops", "many loops", "questions", "a long question", "brackets", "deep questions"],
)
def test_what_could_run_for_long_is_refused(text: str, what: str, mend: str) -> None:
    found = find_template_problems("line.j2", text, NAMES, needs_all=False)
    assert (found[0].what, found[0].mend) == (what, mend)


def fill(text: str) -> Layouts:
    """A template of 64 KiB of nothing but this text."""
    whole = text * (64 * 1024 // len(text))
    return Layouts((LayoutFile("line.j2", "line.j2", whole.encode(), is_shipped=False),))


@pytest.mark.parametrize("text", ["{{", "{%", "{#", "{% raw %}", "{{ '"])
def test_a_faulty_template_of_64_kib_is_refused(text: str) -> None:
    with use_layouts(fill(text)), pytest.raises(SpecRejected) as caught:
        render_words("line", name="bag", lines=())
    assert caught.value.problems[0].what.startswith("this template is ")


@pytest.mark.parametrize(("text", "blocks"), [("{{ name }}", 1), ("((((", 1), ("-%}", 1), ("a" * 50, 1), ("\n", 0)])
def test_a_template_of_64_kib_is_read(text: str, blocks: int) -> None:
    with use_layouts(fill(text)):
        assert len(parse_words(render_words("line", name="bag", lines=()))) == blocks


def test_more_words_than_pages_can_be_made_of_are_refused() -> None:
    text = "{% for a in lines %}{% for b in lines %}{{ name }}{% endfor %}{% endfor %}" * 10
    with (
        use_layouts(Layouts((LayoutFile("line.j2", "line.j2", text.encode(), is_shipped=False),))),
        pytest.raises(SpecRejected) as caught,
    ):
        render_words("line", name="bag" * 50, lines=("x",) * 1000)
    assert [render_problem(item) for item in caught.value.problems] == [
        "line.j2: error: this template makes more than 64 KiB of words\n    mend:    shorten it"
    ]


def test_a_template_that_is_no_text_is_named_with_its_line() -> None:
    file = LayoutFile("line.j2", "line.j2", b"fine\n\xff\n", is_shipped=False)
    with use_layouts(Layouts((file,))), pytest.raises(SpecRejected) as caught:
        render_words("line")
    assert [render_problem(item) for item in caught.value.problems] == [
        'line.j2:2: error: this template is not UTF-8 text\n    mend:    save it with the encoding "UTF-8"'
    ]
