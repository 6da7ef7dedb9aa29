"""The folder of layouts in; the style of the pages, words for labels, and blocks of running text out.

What comes from a spec stays text: it is escaped before it enters a template, it can begin no heading or list,
and it comes back as written once the template's own words have been divided into blocks.
"""

from __future__ import annotations

import html
import re
import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import fields, replace
from functools import cache
from types import MappingProxyType
from typing import TYPE_CHECKING, Any

from docgen.layout_files import layouts_folder
from docgen.pages.blocks import Block, Bullet, Caution, Heading, PageStyle, Paragraph, Tick
from docgen.problems import Place, Problem, SpecRejected, make_error, suggest
from docgen.units import WrittenError, parse_length, parse_type_size

if TYPE_CHECKING:
    from jinja2.sandbox import SandboxedEnvironment

PAGE_LAYOUT = Place(path="layouts/page.toml")

Words = str | tuple["Words", ...]

MARKER = re.compile(r"(#{1,3}|-|\[ \]|!)(?: +|$)")
SPACES = re.compile(r"[^\S\u00a0\u202f]+")  # no-break spaces keep a number and its unit on one line
MARKER_LETTERS = str.maketrans({letter: f"&#{ord(letter)};" for letter in "#-[!"})


@cache
def load_settings(name: str) -> Mapping[str, Any]:
    """The tables of layouts/NAME.toml, unchangeable; SpecRejected where it is missing or no TOML."""
    path = layouts_folder() / f"{name}.toml"
    try:
        return _freeze(tomllib.loads(path.read_text(encoding="utf-8")))  # type: ignore[no-any-return]
    except OSError as error:
        raise _reject(f"{name}.toml", "this layout file cannot be read") from error
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        raise _reject(f"{name}.toml", f"this layout file is not TOML: {error}") from error


def words(table: str) -> Mapping[str, str]:
    """One table of layouts/words.toml: the words the pages say, by key; SpecRejected when it is not there."""
    found = load_settings("words").get(table)
    if not isinstance(found, Mapping):
        raise _reject("words.toml", f"the table [{table}] is missing")
    return found


@cache
def load_page_style() -> PageStyle:
    """layouts/page.toml in mm; SpecRejected names every setting that is missing, unknown or not a measure."""
    return read_page_style(load_settings("page"))


def read_page_style(settings: Mapping[str, Any]) -> PageStyle:
    """The style from tables [type], [line], [space] (written measures) and [tone] (plain numbers)."""
    names = {_setting_key(field.name): field.name for field in fields(PageStyle)}
    given = _list_settings(settings)
    problems = [_find_unknown(where, given[where], list(names)) for where in given if where not in names]
    values: dict[str, float] = {}
    for (table, key), name in names.items():
        if (table, key) not in given:
            problems.append(make_error(PAGE_LAYOUT, f'[{table}] has no "{key}"'))
            continue
        written = given[table, key]
        try:
            values[name] = _read_measure(table, written)
        except WrittenError as error:
            place = replace(PAGE_LAYOUT, words=f"{key} = {written}")
            problems.append(make_error(place, error.what, error.mend))
    if problems:
        raise SpecRejected(problems)
    return PageStyle(**values)


def _list_settings(settings: Mapping[str, Any]) -> dict[tuple[str, str], object]:
    """Every setting by table and key; one that stands in no table has the table ""."""
    listed: dict[tuple[str, str], object] = {}
    for table, keys in settings.items():
        if isinstance(keys, Mapping):
            listed.update({(table, key): value for key, value in keys.items()})
        else:
            listed["", table] = keys
    return listed


def _find_unknown(where: tuple[str, str], written: object, known: Sequence[tuple[str, str]]) -> Problem:
    table, key = where
    mend = suggest(key, (name for home, name in known if home == table))
    place = replace(PAGE_LAYOUT, words=f"{key} = {written}")
    return make_error(place, f'there is no setting "{key}"' + (f" in [{table}]" if table else ""), mend)


def _setting_key(field: str) -> tuple[str, str]:
    """`body_type_mm` -> ("type", "body"); `margin_mm` -> ("space", "margin"); `leading` -> ("tone", ...)."""
    for ending, table in (("_type_mm", "type"), ("_line_mm", "line"), ("_mm", "space")):
        if field.endswith(ending):
            return table, field.removesuffix(ending)
    return "tone", field


def _read_measure(table: str, written: object) -> float:
    if table == "tone":
        if isinstance(written, (int, float)) and not isinstance(written, bool) and 0 <= written <= 3:
            return float(written)
        raise WrittenError(f'"{written}" is no plain number from 0 to 3', "write it like 1.3")
    if not isinstance(written, str):
        raise WrittenError(f"{written} is no written measure", 'write it like "3 mm"')
    return parse_type_size(written) if table == "type" else parse_length(written)


def render_words(name: str, /, **strings: Words) -> str:
    """The words of layouts/NAME.j2 with ready-made strings, or tuples of them, put in; still escaped.

    Line ends inside the strings become spaces. `parse_words` makes blocks of the result. TypeError for values
    of any other kind; SpecRejected where the template is faulty or asks for a string it was not given.
    """
    import jinja2

    values = {key: _collapse(value) for key, value in strings.items()}
    try:
        return _environment().get_template(f"{name}.j2").render(values)
    except jinja2.TemplateSyntaxError as error:
        raise _reject(f"{error.name}", f"this template is faulty: {error.message}", error.lineno) from error
    except jinja2.TemplateError as error:
        raise _reject(f"{name}.j2", f"this template is faulty: {error.message}") from error


@cache
def _environment() -> SandboxedEnvironment:
    import jinja2
    from jinja2.sandbox import SandboxedEnvironment

    return SandboxedEnvironment(
        loader=jinja2.FileSystemLoader(layouts_folder()),
        undefined=jinja2.StrictUndefined,
        autoescape=True,
        finalize=_escape,
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


def _reject(file: str, what: str, line: int = 0) -> SpecRejected:
    return SpecRejected([make_error(Place(path=f"layouts/{file}", line=line), what)])
