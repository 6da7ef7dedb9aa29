"""The layout files in use -> what the pages say: words for labels, settings, templates as blocks.

Numbers reach a template as ready-made strings. Whatever stands in such a string stays text: it can open no
block and is never read as markup.
"""

from __future__ import annotations

import html
import re
from collections.abc import Iterator, Mapping
from functools import lru_cache
from types import MappingProxyType
from typing import TYPE_CHECKING, Any

from docgen.layout_files import LayoutFile, layouts_folder, layouts_in_use
from docgen.pages.looks.page_style import read_page_style
from docgen.pages.setting.blocks import Block, Bullet, Caution, Heading, PageStyle, Paragraph, Tick
from docgen.problems import Place, SpecRejected, make_error
from docgen.read import read_tables

if TYPE_CHECKING:
    from jinja2 import Template
    from jinja2.sandbox import SandboxedEnvironment

    from docgen.pages.looks.template_rules import Kind

Words = str | tuple["Words", ...]

RENDERED_MOST = 64 * 1024
MARKER = re.compile(r"(#{1,3}|-|\[ \]|!)(?: +|$)")
SPACES = re.compile(r"[^\S\u00a0\u202f]+")  # no-break spaces keep a number and its unit on one line
MARKER_LETTERS = str.maketrans({letter: f"&#{ord(letter)};" for letter in "#-[!"})


def find_file(name: str) -> LayoutFile:
    """The layout file in use of this name; SpecRejected when there is none."""
    found = layouts_in_use().find(name)
    if found is None:
        raise SpecRejected([make_error(Place(path=f"layouts/{name}"), "this layout file is missing")])
    return found


@lru_cache(maxsize=64)
def read_settings(file: LayoutFile) -> Mapping[str, Any]:
    """The tables of a layout file, unchangeable; SpecRejected, with the line, where it is no TOML."""
    return _freeze(read_tables(file.path, file.source)[0])  # type: ignore[no-any-return]


def words(table: str) -> Mapping[str, str]:
    """One table of words.toml in use: the words the pages say, by key; SpecRejected when it is not there."""
    file = find_file("words.toml")
    found = read_settings(file).get(table)
    if not isinstance(found, Mapping):
        raise SpecRejected([make_error(Place(path=file.path), f"the table [{table}] is missing")])
    return found


def load_page_style() -> PageStyle:
    """page.toml in use, in mm; SpecRejected names every setting that is missing, unknown or no sensible measure."""
    return read_page_style(find_file("page.toml"))


def render_words(name: str, /, **strings: Words) -> str:
    """The words of NAME.j2 in use with ready-made strings, or tuples of them, put in; still escaped.

    Line ends inside the strings become spaces. `parse_words` makes blocks of the result. TypeError for values
    of any other kind; SpecRejected where the template does what `template_rules` does not allow, or says too much.
    """
    values = {key: _collapse(value) for key, value in strings.items()}
    file = find_file(f"{name}.j2")
    kinds = tuple((key, "list" if isinstance(value, tuple) else "text") for key, value in sorted(values.items()))
    return "".join(_take(file, _compile(file, kinds).generate(values)))


def _take(file: LayoutFile, parts: Iterator[str]) -> Iterator[str]:
    """The parts of a rendered template; SpecRejected once they are more than a page can be made of."""
    left = RENDERED_MOST
    for part in parts:
        left -= len(part)
        if left < 0:
            what = "this template makes more than 64 KiB of words"
            raise SpecRejected([make_error(Place(path=file.path), what, "shorten it")])
        yield part


@lru_cache(maxsize=64)
def _compile(file: LayoutFile, kinds: tuple[tuple[str, Kind], ...]) -> Template:
    """A template that keeps the rules, ready to render."""
    from docgen.pages.looks.template_rules import find_template_problems

    text = decode_template(file)
    problems = find_template_problems(file.path, text, dict(kinds), needs_all=False)
    if problems:
        raise SpecRejected(problems)
    return _environment().from_string(text)


def decode_template(file: LayoutFile) -> str:
    """The text of a template; SpecRejected when it is not UTF-8."""
    try:
        return file.source.decode("utf-8").removeprefix("\ufeff").replace("\r\n", "\n")
    except UnicodeDecodeError as error:
        place = Place(path=file.path, line=file.source[: error.start].count(b"\n") + 1)
        raise SpecRejected(
            [make_error(place, "this template is not UTF-8 text", 'save it with the encoding "UTF-8"')]
        ) from None


@lru_cache(maxsize=1)
def _environment() -> SandboxedEnvironment:
    import jinja2
    from jinja2.sandbox import SandboxedEnvironment

    return SandboxedEnvironment(
        undefined=jinja2.StrictUndefined, autoescape=True, finalize=_escape, trim_blocks=True, lstrip_blocks=True
    )


def render_html(name: str, /, **values: Any) -> str:
    """The web page of the shipped site/NAME.j2 with values put in, all of them escaped for text and attributes.

    It takes more than `render_words` does (values with attributes, templates that extend others), since no shop
    changes these templates.
    """
    return _html_environment().get_template(f"{name}.j2").render(values)


@lru_cache(maxsize=1)
def _html_environment() -> SandboxedEnvironment:
    import jinja2
    from jinja2.sandbox import SandboxedEnvironment

    return SandboxedEnvironment(
        loader=jinja2.FileSystemLoader(layouts_folder() / "site"),
        undefined=jinja2.StrictUndefined,
        autoescape=True,
        trim_blocks=True,
        lstrip_blocks=True,
    )


def _escape(value: Any) -> Any:
    """A value as it is put into a template: escaped, so that none of its letters can open a block."""
    from markupsafe import Markup

    if not isinstance(value, str) or isinstance(value, Markup):
        return value
    return Markup(html.escape(value, quote=False).translate(MARKER_LETTERS))


def _collapse(value: Words) -> Words:
    if isinstance(value, tuple):
        return tuple(_collapse(part) for part in value)
    if not isinstance(value, str):
        raise TypeError(f"a template takes strings and tuples of strings, not {type(value).__name__}")
    return SPACES.sub(" ", value).strip(" ")


def parse_words(text: str) -> tuple[Block, ...]:
    """Rendered words as blocks: `# ` to `### ` headings, `- ` items, `[ ] ` ticks, `! ` cautions, text.

    A block ends at an empty line or where the next one begins; its lines are joined by spaces. A block
    without text is left out. Escapes are undone last.
    """
    blocks: list[tuple[str, list[str]]] = []
    fresh = True
    for line in (line.strip(" \t\r") for line in text.split("\n")):
        found = MARKER.match(line)
        if not line:
            fresh = True
        elif found:
            blocks.append((found[1], [line[found.end() :]]))
            fresh = found[1].startswith("#")
        elif fresh:
            blocks.append(("", [line]))
            fresh = False
        else:
            blocks[-1][1].append(line)
    joined = ((marker, " ".join(lines).strip(" ")) for marker, lines in blocks)
    return tuple(_make_block(marker, html.unescape(text)) for marker, text in joined if text)


def _make_block(marker: str, text: str) -> Block:
    match marker:
        case "-":
            return Bullet(text)
        case "[ ]":
            return Tick(text)
        case "!":
            return Caution(text)
        case "":
            return Paragraph(text)
        case _:
            return Heading(text, len(marker))


def _freeze(value: Any) -> Any:
    """Tables as read-only mappings, lists as tuples, to any depth."""
    if isinstance(value, dict):
        return MappingProxyType({key: _freeze(part) for key, part in value.items()})
    return tuple(_freeze(part) for part in value) if isinstance(value, list) else value
