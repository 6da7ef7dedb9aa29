"""What `tomllib` says of a text that is not TOML -> all that is wrong with it, in shop words, each with its line.

Loaded only when there is something to say.
"""

import re
import tomllib
from pathlib import Path

from docgen.problems import Place, Problem, make_error, shorten
from docgen.read.locate import Repeat, find_open_string, find_repeat
from docgen.read.words import NAMED_TABLES, name_path, name_table, quote_word

ERRORS_MOST = 20  # so many are looked for in one text
LINE_EXAMINED = 300  # longer lines are not compared with the patterns below, which would take too long
POSITION = r"\(at (?:line (\d+), column (\d+)|end of document)\)\s*$"
BARE_WORDS = r"^\s*([\w-]+)\s*=\s*([^\s\"'\[{#][^\"'\[\]{}#,]*?)\s*(?:#.*)?$"
KEY_WITHOUT_VALUE = r"^\s*([\w-]+)\s*=\s*(?:#.*)?$"
DECIMAL_COMMA = r"^\s*([\w-]+)\s*=\s*(\d+),(\d+[^\"'#]*?)\s*(?:#.*)?$"
CURLY_QUOTES = "[“”„‟‘’‚]"
YES_NO = {"yes": "true", "on": "true", "no": "false", "off": "false"}
STATEMENT = r"^\s*(?:$|#|\[\[?\s*[\w\"']|[\w.\"'-]+\s*=)"
"""A line that begins a key or a table, or has no words: what stands above it is at its end."""
HEADER = r"^\s*(\[\[?)[^\[\]{}=]*(?:\]|$)"
PARTED_HEADER = r"^\s*\[\s*([\w-]+)[ \t:/,;]+([\w-]+(?:[ \t]+[\w-]+)*)\s*\]\s*(?:#.*)?$"
OPEN_STRING_WORDS = ("the closing quotes are missing", "end the words with three quotes")

# What tomllib says (a part of it) -> what is wrong, what mends it.
SYNTAX_WORDS = (
    ("unterminated string", "the closing quote is missing", "end the words with the quote they begin with"),
    ("illegal character '\\n'", "the closing quote is missing", "end the words with the quote they begin with"),
    ("illegal character", "a character that TOML does not allow here", "take it out"),
    ('expected "\'"', "the closing quote is missing", "end the words with the quote they begin with"),
    ("unclosed array", "a list is not closed, or lacks a comma, here or just above", "write [a, b]"),
    ("unclosed inline table", "the table in braces is not closed on its line", "write { key = value, key = value }"),
    ("after a key", 'the sign "=" is missing after the key', "write key = value"),
    ("initial character", "a key cannot begin like this", "write key = value, or put the key in quotes"),
    ("end of a table", "the closing bracket of the table's header is missing", "write [table]"),
    ("end of an array", "the closing brackets of the table's header are missing", "write [[table]]"),
    ("unescaped '\\'", "a backslash inside double quotes", r"write it twice: \\, or use single quotes"),
    ("hex value", r"\u and \U need a character's number after them", "write the character itself"),
    ("scalar value", r"the number after \u or \U is not that of a character", "write the character itself"),
    ("date", "not a date that exists", "put it in quotes if it is meant as words"),
    ("after a statement", "something stands after the end of the value", "put words and lengths in quotes"),
    ("invalid value", "not a value that can be read", "put words and lengths in quotes"),
    ("invalid statement", "not a line that can be read", "write key = value, [table] or # note"),
)


def list_syntax_errors(path: str | Path, text: str, message: str) -> list[Problem]:
    """The error that `message` tells of and, where the line at fault stands for itself, those below it."""
    problems: list[Problem] = []
    while len(problems) < ERRORS_MOST:
        problem, is_alone = _word_error(path, text, message)
        problems.append(problem)
        if not is_alone:
            break
        text = _pass_over(text, problem.place.line)
        try:
            tomllib.loads(text)
        except tomllib.TOMLDecodeError as error:
            message = str(error)
        except ValueError:
            break
        else:
            break
    return problems


def _word_error(path: str | Path, text: str, message: str) -> tuple[Problem, bool]:
    """One error with the line as written, and whether the rest can be read without that line."""
    lowered = message.lower()
    lines = text.split("\n")
    line, column = _syntax_position(lines, message)
    if any(part in lowered for part in ("overwrite", "twice", "immutable", "redefine", "duplicate")):
        repeat = find_repeat(text)
        if repeat is not None:
            return _word_repeat(path, repeat), _is_alone(lines, repeat.second.line)
        words = lines[line - 1].strip()[:100]
        place = Place(path=str(path), line=line, column=column, words=words)
        return make_error(place, "a key or table is given twice", "keep one of the two"), False
    open_string = find_open_string(text)
    if open_string:
        line, column = open_string.line, open_string.column
    what, mend = OPEN_STRING_WORDS if open_string else _word_syntax(lines[line - 1], lowered, column)
    place = Place(path=str(path), line=line, column=column, words=lines[line - 1].strip()[:100])
    is_alone = not open_string and "unclosed" not in lowered and _is_alone(lines, line)
    return make_error(place, f"{what} (column {column})", mend), is_alone


def _is_alone(lines: list[str], line: int) -> bool:
    """Whether a line begins and ends what it says: neither lies within a list that runs over several lines."""
    if not lines[line - 1].strip() or not re.match(STATEMENT, lines[line - 1]):
        return False
    return re.match(STATEMENT, next((below for below in lines[line:] if below.strip()), "")) is not None


def _pass_over(text: str, line: int) -> str:
    """The text with nothing in place of a line, and a table of another name in place of a header: what stands below
    a header belongs to no other."""
    lines = text.split("\n")
    lines[line - 1] = f"[unread-line-{line}]" if re.match(HEADER, lines[line - 1]) else ""
    return "\n".join(lines)


def _syntax_position(lines: list[str], message: str) -> tuple[int, int]:
    """Line and column, both from 1; the end of the last line with words when the text ended too soon."""
    match = re.search(POSITION, message)
    if match and match.group(1):
        return int(match.group(1)), int(match.group(2))
    last = max((number for number, line in enumerate(lines, start=1) if line.strip()), default=1)
    return last, len(lines[last - 1]) + 1


def _word_syntax(line: str, message: str, column: int) -> tuple[str, str]:
    if re.match(KEY_WITHOUT_VALUE, line):
        return "the value is missing", "write key = value"
    if re.search(CURLY_QUOTES, line) and "invalid value" in message:
        return "curly quotes", 'use straight ones: "'
    short = line if len(line) <= LINE_EXAMINED else ""
    told = _word_value(short, message) or _word_header(short)
    if told:
        return told
    if line.replace('\\"', "").count('"') % 2 and "'" not in line:
        return (
            "a quote is missing or too many",
            "give each value two quotes; where an inch mark stands inside, use single ones: '3 1/2\"'",
        )
    told = _word_rest(short, message, column)
    if told:
        return told
    for part, what, mend in SYNTAX_WORDS:
        if part in message:
            return what, mend
    return "not TOML", "compare the line with its neighbours"


def _word_value(line: str, message: str) -> tuple[str, str] | None:
    """Of a value that stands without quotes."""
    comma = re.match(DECIMAL_COMMA, line)
    if comma:
        key, whole, rest = comma.groups()
        return "a comma inside a number", f'write a point, and quotes: {key} = "{whole}.{rest}"'
    bare = re.match(BARE_WORDS, line)
    if not bare or not ("after a statement" in message or "invalid value" in message):
        return None
    key, value = bare.groups()
    if value.lower() in ("true", "false"):
        return "true and false are written in small letters", f"write {key} = {value.lower()}"
    if value.lower() in YES_NO:
        return "yes and no are written true and false", f"write {key} = {YES_NO[value.lower()]}"
    return f"the value of {quote_word(key)} needs quotes", f"write {key} = {quote_word(value)}"


def _word_header(line: str) -> tuple[str, str] | None:
    """Of a header whose names have something other than a dot between them."""
    parted = re.match(PARTED_HEADER, line)
    if not parted:
        return None
    table, rest = parted.groups()
    name = "-".join(rest.split())
    if table in NAMED_TABLES:
        return "a dot is missing in the header", f"write [{table}.{name}]"
    return "a header has no spaces within its names", f"write [{table}-{name}]"


def _word_rest(line: str, message: str, column: int) -> tuple[str, str] | None:
    """Of what stands behind a value or a header, and of a comma too many."""
    before, rest = line[: column - 1].rstrip(), line[column - 1 :].strip()
    if before.endswith(",") and rest[:1] in ("}", ","):
        return "a comma too many", f"take out the comma before the {'brace' if rest[0] == '}' else 'next comma'}"
    if "after a statement" not in message or not rest:
        return None
    what = (
        "something stands after the end of the header" if re.match(HEADER, line) else "something stands after the value"
    )
    if not any(letter.isalnum() for letter in rest):
        return what, f"take out {shorten(rest, 60)}"
    if rest[0] in "\"'":
        return what, "where it is a second value, write both in brackets with a comma between them: [a, b]"
    remark = f"where it is a remark, put # before it: # {shorten(rest, 60)}"
    return what, remark if re.match(HEADER, line) else f"{remark}; words of the value stand in its quotes"


def _word_repeat(path: str | Path, repeat: Repeat) -> Problem:
    """Of a key or a table that stands twice, and of a header that lacks the double brackets of its neighbours."""
    place = repeat.second.place(path)
    if repeat.is_single:
        name = name_path(repeat.path)
        what = f"[{name}] has single brackets, and [[{name}]] stands on line {repeat.first.line}"
        return make_error(place, what, f"write [[{name}]]: each of several has double brackets")
    key = f"{quote_word(str(repeat.path[-1]))} in {name_table(repeat.path[:-1])}"
    name = f"[{name_path(repeat.path)}]" if repeat.is_header else key
    is_named = repeat.is_header and len(repeat.path) == 2 and repeat.path[0] in NAMED_TABLES
    mend = "give one of them another name, or keep one of the two" if is_named else "keep one of the two"
    return make_error(place, f"{name} is given twice, first on line {repeat.first.line}", mend)
