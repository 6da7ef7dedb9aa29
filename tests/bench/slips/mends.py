"""Following a mend as a tired maker would: the value it says is written where it says, and the spec is checked again."""

import re
import tomllib

from docgen.problems import Problem
from slips.scalars import Scalar, find_scalars
from slips.told import Checker

WRITE_RE = re.compile(r'(?:write|at least|at most) ([a-z-]+) = ("[^"]*"|\d+(?:\.\d+)?|true|false)')
IN_PLACE_RE = re.compile(r'write ("[^"]*") in place of "([^"]*)"')
PUT_RE = re.compile(r'put the one in "[^"]*" at ("[^"]*")')
IN_TABLE_RE = re.compile(r'^write ([a-z-]+) = ("[^"]*"|\d+|true|false) in \[([a-z0-9.-]+)\](?:$|,)')
ELSEWHERE_RE = re.compile(r" (where|for a|in a|in its|in one)\b")
OTHER_WAY_RE = re.compile(r"[,;?] (if|or|[Ee]lse|leave)\b|in one of them\b")
MEANT_RE = re.compile(r'did you mean "([^"]*)"')


def follow_mend(problem: Problem, text: str, right: str, checker: Checker, before: frozenset[str]) -> str:
    """`right`: the build as it was; `one of two`: another that is silent, by a mend that names a second way; `astray`:
    another that is silent, by one that names none; `not mended`: the problem stays, or another comes; an empty string
    where the mend is no single value."""
    mended = mend_text(problem, text)
    if mended is None:
        return ""
    if _said(mended) == _said(right):
        return "right"
    if OTHER_WAY_RE.search(problem.mend):
        return "one of two"
    left = [one for one in checker.problems(mended) if one.what not in before]
    return "not mended" if left else "astray"


def mend_text(problem: Problem, text: str) -> str | None:
    """The text with the value written that the mend says; None where it says no single one."""
    if elsewhere := IN_TABLE_RE.search(problem.mend):
        path = tuple(elsewhere[3].split("."))
        there = [scalar for scalar in find_scalars(text) if scalar.path == (*path, elsewhere[1])]
        head = f"[{elsewhere[3]}]\n"
        added = text.replace(head, f"{head}{elsewhere[1]} = {elsewhere[2]}\n") if text.count(head) == 1 else None
        return there[0].put(text, elsewhere[2]) if there else added
    here = [scalar for scalar in find_scalars(text) if scalar.line == problem.place.line]
    if meant := MEANT_RE.search(problem.mend):
        known = [scalar for scalar in here if str(scalar.value) and f'"{scalar.value}"' in problem.what]
        if not known and (part := _put_in_part(here, problem, meant[1], text)):
            return part
        known = known or [scalar for scalar in here if f'"{scalar.value}"' == problem.place.words]
        return known[0].put(text, f'"{meant[1]}"') if known else None
    if in_place := IN_PLACE_RE.search(problem.mend):
        known = [scalar for scalar in here if scalar.value == in_place[2]]
        return known[0].put(text, in_place[1]) if known else None
    if put := PUT_RE.search(problem.mend):
        known = [scalar for scalar in here if scalar.key == "at"]
        known = [scalar for scalar in known if f'"{scalar.value}"' == problem.place.words] or known
        return known[0].put(text, put[1]) if known else None
    write = WRITE_RE.match(problem.mend)
    if not write or write[2] == '"..."' or ELSEWHERE_RE.match(problem.mend[write.end() :]):
        return None
    same = [scalar for scalar in here if scalar.key == write[1]]
    if same:
        return same[0].put(text, write[2])
    if problem.place.words.startswith("{") and text.count(problem.place.words) == 1:
        inline = problem.place.words
        return text.replace(inline, f"{inline.removesuffix('}').rstrip()}, {write[1]} = {write[2]} }}")
    lines = text.splitlines(keepends=True)
    head = problem.place.line - 1
    while head and not lines[head].startswith("["):
        head -= 1
    end = next((at for at in range(head + 1, len(lines)) if lines[at].startswith("[")), len(lines))
    of_key = [
        scalar for scalar in find_scalars(text) if head < scalar.line - 1 < end and scalar.path[2:] == (write[1],)
    ]
    if of_key:
        return of_key[0].put(text, write[2])
    return "".join([*lines[: head + 1], f"{write[1]} = {write[2]}\n", *lines[head + 1 :]])


def _put_in_part(here: list[Scalar], problem: Problem, meant: str, text: str) -> str | None:
    """The text with the word that the problem names exchanged where it is one of several in a value."""
    for scalar in here:
        for word in re.findall(r'"([\w-]+)"', problem.what):
            written, found = re.subn(rf"(?<![\w-]){word}(?![\w-])", meant, str(scalar.value))
            if found == 1 and f'"{scalar.value}"' == problem.place.words:
                return scalar.put(text, f'"{written}"')
    return None


def _said(text: str) -> object:
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError:
        return text
