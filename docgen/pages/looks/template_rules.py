"""What a template of layouts/ may do: print names it is given, ask whether one is there or is a certain word, and go
through a list. Nothing else is rendered, so that no template can count, run for long, or reach anything.

The rules are held against the syntax tree before a template is ever rendered; what is not allowed here by name is
refused.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Final, Literal

from jinja2 import Environment, nodes
from jinja2.exceptions import TemplateSyntaxError

from docgen.pages.looks.plain_words import find_faulty_letters
from docgen.problems import Place, Problem, make_error, shorten, suggest

Kind = Literal["text", "list"]

FOR_DEPTH_MOST: Final = 2
FORS_MOST: Final = 20
IF_DEPTH_MOST: Final = 8
ASKED_DEPTH_MOST: Final = 8

NOTHING_MISSING: Final = "nothing that the program knows may be missing on the page"
ALLOWED: Final = (
    'a template may print {{ name }}, ask {% if name %} or {% if name == "word" %}, '
    "and go through a list with {% for item in names %}"
)
REFUSED: Final = {
    "Call": "a call",
    "Filter": "a filter",
    "Test": "a test with is",
    "Getattr": "a look inside a name",
    "Getitem": "a look inside a name",
    "Include": "another file",
    "Import": "another file",
    "FromImport": "another file",
    "Extends": "another file",
    "Assign": "a name of its own",
    "AssignBlock": "a name of its own",
    "With": "a name of its own",
    "Macro": "a macro",
    "CallBlock": "a macro",
    "FilterBlock": "a filter",
    "Block": "a block",
    "Scope": "a change of how text is read",
    "ScopedEvalContextModifier": "a change of how text is read",
    "List": "a list",
    "Tuple": "a list",
    "Dict": "a list",
    "Const": "a value of its own",
    "Add": "a sum",
    "Sub": "a sum",
    "Mul": "a sum",
    "Div": "a sum",
    "FloorDiv": "a sum",
    "Mod": "a sum",
    "Pow": "a sum",
    "Neg": "a sum",
    "Pos": "a sum",
    "Concat": "a sum",
}


@dataclass(slots=True)
class _Reading:
    """One template being judged: the names it is given, and what was found so far."""

    path: str
    names: Mapping[str, Kind]
    problems: list[Problem] = field(default_factory=list)
    used: set[str] = field(default_factory=set)
    fors: int = 0

    def note(self, line: int, what: str, mend: str) -> None:
        self.problems.append(make_error(Place(path=self.path, line=line), what, mend))


def find_used_names(source: str) -> dict[str, Kind]:
    """The names that a good template is given, and which of them are lists."""
    tree = Environment().parse(source)
    made = {loop.target.name for loop in tree.find_all(nodes.For) if isinstance(loop.target, nodes.Name)}
    lists = {loop.iter.name for loop in tree.find_all(nodes.For) if isinstance(loop.iter, nodes.Name)}
    used = {node.name for node in tree.find_all(nodes.Name)} - made
    return {name: "list" if name in lists else "text" for name in sorted(used)}


def find_template_problems(
    path: str, source: str, names: Mapping[str, Kind], *, needs_all: bool = True
) -> list[Problem]:
    """Everything in a template that is not allowed, each with its line; `needs_all`: every name must be used."""
    reading = _Reading(path, names)
    try:
        tree = _parse(source)
        _judge_body(reading, tree.body, frozenset(), 0, 0)
    except TemplateSyntaxError as error:
        reading.note(error.lineno, f"this template is faulty: {error.message}", ALLOWED)
        return reading.problems
    except RecursionError:
        reading.note(0, "this template is nested too deep", ALLOWED)
        return reading.problems
    lost = [name for name in names if name not in reading.used] if needs_all and not reading.problems else []
    for name in lost:
        what = f"this template has lost {{{{ {name} }}}}"
        reading.note(0, what, f"put it back: {NOTHING_MISSING}")
    return reading.problems


def find_left_out(path: str, source: str, shipped: str) -> list[Problem]:
    """Names that the shipped template prints on every page, and this good one only sometimes."""
    lost = _find_always(_parse(shipped).body) - _find_always(_parse(source).body)
    return [
        make_error(
            Place(path=path),
            f"this template leaves out {{{{ {name} }}}} on some pages",
            f"print it outside {{% if ... %}}, or in each branch down to {{% else %}}: {NOTHING_MISSING}",
        )
        for name in sorted(lost)
    ]


def _parse(source: str) -> nodes.Template:
    return Environment(trim_blocks=True, lstrip_blocks=True).parse(source)


def _find_always(body: list[nodes.Node]) -> frozenset[str]:
    """Names that are printed whatever the answers to the questions are; of a list, that it is gone through."""
    found: set[str] = set()
    for node in body:
        if isinstance(node, nodes.Output):
            found |= {part.name for part in node.nodes if isinstance(part, nodes.Name)}
        elif isinstance(node, nodes.For) and isinstance(node.iter, nodes.Name) and isinstance(node.target, nodes.Name):
            inside = _find_always(node.body)
            found |= {node.iter.name} if node.target.name in inside else set()
        elif isinstance(node, nodes.If):
            branches = [node.body, *(branch.body for branch in node.elif_), node.else_]
            found |= frozenset.intersection(*(_find_always(branch) for branch in branches))
    return frozenset(found)


def _judge_body(reading: _Reading, body: list[nodes.Node], items: frozenset[str], loops: int, asks: int) -> None:
    """`items` are the names of the loops round it; so many loops and questions lie round it."""
    for node in body:
        if isinstance(node, nodes.Output):
            _judge_output(reading, node, items)
        elif isinstance(node, nodes.If):
            _judge_if(reading, node, items, loops, asks + 1)
        elif isinstance(node, nodes.For):
            _judge_for(reading, node, items, loops + 1, asks)
        else:
            _refuse(reading, node)


def _judge_output(reading: _Reading, node: nodes.Output, items: frozenset[str]) -> None:
    for part in node.nodes:
        if isinstance(part, nodes.TemplateData):
            _judge_text(reading, part)
        elif not isinstance(part, nodes.Name):
            _refuse(reading, part)
        elif _knows(reading, part, items) and reading.names.get(part.name) == "list" and part.name not in items:
            reading.note(part.lineno, f'"{part.name}" is a list', f"write {{% for item in {part.name} %}}")


def _judge_text(reading: _Reading, data: nodes.TemplateData) -> None:
    for row, line in enumerate(data.data.split("\n")):
        for what, mend in find_faulty_letters(line):
            reading.note(data.lineno + row, what, mend)


def _judge_if(reading: _Reading, node: nodes.If, items: frozenset[str], loops: int, asks: int) -> None:
    if asks > IF_DEPTH_MOST:
        reading.note(node.lineno, f"questions lie more than {IF_DEPTH_MOST} deep in each other", ALLOWED)
        return
    for branch in (node, *node.elif_):
        _judge_question(reading, branch.test, items, 0)
        _judge_body(reading, branch.body, items, loops, asks)
    _judge_body(reading, node.else_, items, loops, asks)


def _judge_question(reading: _Reading, node: nodes.Node, items: frozenset[str], depth: int) -> None:
    if depth > ASKED_DEPTH_MOST:
        reading.note(node.lineno, "this question is too long", ALLOWED)
    elif isinstance(node, nodes.Name):
        _knows(reading, node, items)
    elif isinstance(node, nodes.Not):
        _judge_question(reading, node.node, items, depth + 1)
    elif isinstance(node, (nodes.And, nodes.Or)):
        _judge_question(reading, node.left, items, depth + 1)
        _judge_question(reading, node.right, items, depth + 1)
    elif isinstance(node, nodes.Compare):
        _judge_comparison(reading, node, items)
    else:
        _refuse(reading, node)


def _judge_comparison(reading: _Reading, node: nodes.Compare, items: frozenset[str]) -> None:
    (operand, *more) = node.ops
    sides = (node.expr, operand.expr)
    is_word = any(isinstance(side, nodes.Const) and isinstance(side.value, str) for side in sides)
    named = [side for side in sides if isinstance(side, nodes.Name)]
    if more or operand.op not in ("eq", "ne") or not is_word or not named:
        reading.note(node.lineno, "a comparison that is not allowed", 'compare one name with one word: name == "word"')
        return
    _knows(reading, named[0], items)


def _judge_for(reading: _Reading, node: nodes.For, items: frozenset[str], loops: int, asks: int) -> None:
    reading.fors += 1
    if not isinstance(node.iter, nodes.Name) or not isinstance(node.target, nodes.Name):
        reading.note(node.lineno, "a loop that is not allowed", ALLOWED)
        return
    if node.test is not None or node.else_ or node.recursive:
        reading.note(node.lineno, "a loop with if, else or recursive", ALLOWED)
        return
    if loops > FOR_DEPTH_MOST or reading.fors > FORS_MOST:
        what = f"more than {FOR_DEPTH_MOST} loops in each other, or more than {FORS_MOST} in all"
        reading.note(node.lineno, what, "take out some of the loops")
        return
    if _knows(reading, node.iter, items) and (node.iter.name in items or reading.names[node.iter.name] == "text"):
        reading.note(node.lineno, f'"{node.iter.name}" is one text, not a list', f"write {{{{ {node.iter.name} }}}}")
    if node.target.name in reading.names or node.target.name in items:
        reading.note(node.lineno, f'"{node.target.name}" has a meaning already', "call the item otherwise")
    _judge_body(reading, node.body, items | {node.target.name}, loops, asks)


def _knows(reading: _Reading, node: nodes.Name, items: frozenset[str]) -> bool:
    known = {*reading.names, *items}
    if node.name in known:
        reading.used.add(node.name)
        return True
    mend = suggest(node.name, known) or (f"there are {', '.join(sorted(known))}" if known else "it is given no names")
    reading.note(node.lineno, f'there is no "{shorten(node.name)}" for this template', mend)
    return False


def _refuse(reading: _Reading, node: nodes.Node) -> None:
    name = REFUSED.get(type(node).__name__, "something")
    reading.note(_find_line(node), f"{name} is not allowed in a template", ALLOWED)


def _find_line(node: nodes.Node) -> int:
    """The line of a node, or of the first inside it: a node that only holds others together has none (0: nowhere)."""
    if node.lineno:
        return node.lineno
    return next((line for child in node.iter_child_nodes() if (line := _find_line(child))), 0)
