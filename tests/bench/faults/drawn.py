"""Small faults of the program: where one can be, what it changes, and how it is put in asleep."""

from __future__ import annotations

import ast
import copy
import hashlib
import shutil
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parents[3]
COPIED = ("docgen", "layouts", "specs", "tests", "README.md", "DEVELOPERS.md", "pyproject.toml")
WAKER = """\
import os

awake = int(os.environ.get("DOCGEN_FAULT", "0"))
met = set()


def is_awake(number):
    met.add(number)
    return number == awake
"""
COMPARISONS: dict[type[ast.cmpop], type[ast.cmpop]] = {
    ast.Lt: ast.LtE,
    ast.LtE: ast.Lt,
    ast.Gt: ast.GtE,
    ast.GtE: ast.Gt,
    ast.Eq: ast.NotEq,
    ast.NotEq: ast.Eq,
    ast.In: ast.NotIn,
    ast.NotIn: ast.In,
    ast.Is: ast.IsNot,
    ast.IsNot: ast.Is,
}
SUMS: dict[type[ast.operator], type[ast.operator]] = {
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.Div,
    ast.Div: ast.Mult,
    ast.FloorDiv: ast.Div,
    ast.Mod: ast.Mult,
}


@dataclass(frozen=True, slots=True)
class Fault:
    """One change of one place: the file, its line, what stood there and what stands there now; `node` and `change` count
    through what could be changed. What is not `late` runs while the module loads, and `names` are what it makes there.
    `number` is that of a run, `mark` the same in every run."""

    number: int
    mark: str
    path: str
    line: int
    before: str
    after: str
    node: int
    change: int
    late: bool
    names: tuple[str, ...]

    @property
    def words(self) -> str:
        return f"{self.mark} {self.path}:{self.line}\n    - {self.before}\n    + {self.after}"

    @property
    def room(self) -> str:
        return self.path.split("/")[1].removesuffix(".py")


def find_nodes(tree: ast.AST) -> Iterator[ast.AST]:
    """Every node whose change could change what the program does: no types, imports, names for export, docstrings."""
    for name, value in ast.iter_fields(tree):
        if name in ("annotation", "returns", "decorator_list", "type_comment"):
            continue
        for child in value if isinstance(value, list) else [value]:
            if isinstance(child, ast.AST) and not _says_nothing(child):
                yield child
                yield from find_nodes(child)


def _says_nothing(node: ast.AST) -> bool:
    if isinstance(node, ast.Import | ast.ImportFrom):
        return True
    if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
        return True
    if isinstance(node, ast.Assign) and isinstance(node.targets[0], ast.Name):
        return node.targets[0].id == "__all__" or _is_type(node.value)
    return isinstance(node, ast.If) and ast.unparse(node.test) == "TYPE_CHECKING"


def _is_type(value: ast.expr) -> bool:
    return isinstance(value, ast.Subscript) and isinstance(value.value, ast.Name) and value.value.id[:1].isupper()


def list_changes(node: ast.AST) -> list[Callable[[ast.AST], ast.AST | None]]:
    """What can be done to a node; each gives the node that takes its place, None where the node was changed itself."""
    changes: list[Callable[[ast.AST], ast.AST | None]] = []
    if isinstance(node, ast.Compare) and type(node.ops[0]) in COMPARISONS:
        changes.append(_turn_comparison)
    if isinstance(node, ast.BinOp) and type(node.op) in SUMS:
        changes.append(_turn_sum)
    if isinstance(node, ast.BoolOp):
        changes += [_turn_bool, _drop_value]
    if isinstance(node, ast.If | ast.IfExp | ast.While):
        changes.append(_deny)
    if isinstance(node, ast.Constant):
        changes += _constant_changes(node)
    if isinstance(node, ast.Call) and len(node.args) >= 2:
        changes.append(_swap_arguments)
    if isinstance(node, ast.Expr | ast.AugAssign) or (isinstance(node, ast.Return) and node.value is not None):
        changes.append(_leave_out)
    if isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.Not | ast.USub):
        changes.append(lambda it: it.operand)  # type: ignore[attr-defined]
    if isinstance(node, ast.comprehension) and node.ifs:
        changes.append(_drop_condition)
    return changes


def _constant_changes(node: ast.Constant) -> list[Callable[[ast.AST], ast.AST | None]]:
    value = node.value
    if isinstance(value, bool):
        return [lambda it: ast.Constant(not it.value)]  # type: ignore[attr-defined]
    if isinstance(value, int):
        return [lambda it: ast.Constant(it.value + 1)]  # type: ignore[attr-defined]
    if isinstance(value, float):
        return [lambda it: ast.Constant(it.value * 1.25 + (it.value == 0))]  # type: ignore[attr-defined]
    return []


def _turn_comparison(node: ast.AST) -> None:
    node.ops[0] = COMPARISONS[type(node.ops[0])]()  # type: ignore[attr-defined]


def _turn_sum(node: ast.AST) -> None:
    node.op = SUMS[type(node.op)]()  # type: ignore[attr-defined]


def _turn_bool(node: ast.AST) -> None:
    node.op = ast.Or() if isinstance(node.op, ast.And) else ast.And()  # type: ignore[attr-defined]


def _drop_value(node: ast.AST) -> ast.AST | None:
    node.values.pop()  # type: ignore[attr-defined]
    return node.values[0] if len(node.values) == 1 else None  # type: ignore[attr-defined]


def _deny(node: ast.AST) -> None:
    node.test = ast.UnaryOp(op=ast.Not(), operand=node.test)  # type: ignore[attr-defined]


def _swap_arguments(node: ast.AST) -> None:
    node.args[0], node.args[1] = node.args[1], node.args[0]  # type: ignore[attr-defined]


def _leave_out(node: ast.AST) -> ast.AST | None:
    return ast.Return(value=ast.Constant(None)) if isinstance(node, ast.Return) else ast.Pass()


def _drop_condition(node: ast.AST) -> None:
    node.ifs.pop()  # type: ignore[attr-defined]


def draw_faults(number: int, seed: int, only: str, first: int = 1) -> list[Fault]:
    """The faults whose marks come first. A mark is made of the seed, the file, the text of the line and what becomes what
    there: what changes elsewhere leaves a draw as it is, and a line that is new may take the place of another."""
    marked = sorted(
        (hashlib.sha256(f"{seed}|{path}|{words}".encode()).hexdigest()[:12], path, index, change)
        for path in find_paths(only)
        for words, index, change in list_places((ROOT / path).read_text(encoding="utf-8"))
    )
    faults = []
    for mark, path, index, change in marked[:number]:
        tree = ast.parse((ROOT / path).read_text(encoding="utf-8"))
        node = list(find_nodes(tree))[index]
        change_words, surroundings = write_change(node, change), find_surroundings(tree, node)
        faults.append(
            Fault(first + len(faults), mark, path, find_line(node), *change_words, index, change, *surroundings)
        )
    return faults


def find_paths(only: str) -> list[str]:
    paths = [path.relative_to(ROOT).as_posix() for path in sorted((ROOT / "docgen").rglob("*.py"))]
    return [path for path in paths if path.startswith(only)]


def list_places(text: str) -> Iterator[tuple[str, int, int]]:
    """All that could be changed in a file: the line with what becomes what, and which of several alike; then where."""
    met: Counter[str] = Counter()
    lines = text.split("\n")
    for index, node in enumerate(find_nodes(ast.parse(text))):
        for change in range(len(list_changes(node))):
            before, after = write_change(node, change)
            words = f"{lines[find_line(node) - 1].strip()}|{before}|{after}"
            if before != after:
                yield f"{words}|{met[words]}", index, change
                met[words] += 1


def find_line(node: ast.AST) -> int:
    return int((node.target if isinstance(node, ast.comprehension) else node).lineno)  # type: ignore[attr-defined]


def write_change(node: ast.AST, change: int) -> tuple[str, str]:
    before, after = (" ".join(ast.unparse(item).split())[:150] for item in (node, change_node(node, change)))
    return before, after


def change_node(node: ast.AST, change: int) -> ast.AST:
    """The node as the fault has it; the node itself stays whole."""
    new = copy.deepcopy(node)
    made = list_changes(new)[change](new)
    return new if made is None else made


def find_surroundings(tree: ast.AST, node: ast.AST) -> tuple[bool, tuple[str, ...]]:
    """Whether a node is in the body of a function; and the names of the function, class, field or value it stands in."""
    around = [item for item in ast.walk(tree) if any(child is node for child in ast.walk(item))]
    late = any(
        any(child is node for line in item.body for child in ast.walk(line))
        for item in around
        if isinstance(item, ast.FunctionDef)
    ) or any(isinstance(item, ast.Lambda) and item is not node for item in around)
    names = [item.name for item in around if isinstance(item, ast.FunctionDef)]
    for item in around:
        targets = (
            item.targets if isinstance(item, ast.Assign) else [item.target] if isinstance(item, ast.AnnAssign) else []
        )
        names += [target.id for target in targets if isinstance(target, ast.Name)]
    return late, tuple(names)


def put_in(faults: list[Fault], folder: Path) -> None:
    """The program with its tests in this folder, every fault in it asleep; and for those that are not late, a note in
    each function that uses their names."""
    for name in COPIED:
        source = ROOT / name
        (shutil.copytree if source.is_dir() else shutil.copy2)(source, folder / name)
    (folder / "fault_waker.py").write_text(WAKER, encoding="utf-8")
    early = {name: fault.number for fault in faults if not fault.late for name in fault.names}
    for path in sorted((folder / "docgen").rglob("*.py")):
        tree = ast.parse(path.read_text(encoding="utf-8"))
        nodes = list(find_nodes(tree))
        for fault in faults:
            if folder / fault.path == path:
                put_to_sleep(tree, nodes[fault.node], fault)
        for node in [node for node in ast.walk(tree) if isinstance(node, ast.FunctionDef)]:
            used = {item.id for item in ast.walk(node) if isinstance(item, ast.Name)}
            used |= {item.attr for item in ast.walk(node) if isinstance(item, ast.Attribute)}
            node.body[:0] = [ast.Expr(_ask(-early[name])) for name in sorted(used & early.keys())]
        at = next((at for at, line in enumerate(tree.body) if not _comes_first(line)), len(tree.body))
        tree.body.insert(at, ast.ImportFrom("fault_waker", [ast.alias("is_awake")], 0))
        path.write_text(ast.unparse(ast.fix_missing_locations(tree)), encoding="utf-8")


def _comes_first(line: ast.stmt) -> bool:
    is_words = isinstance(line, ast.Expr) and isinstance(line.value, ast.Constant)
    return is_words or (isinstance(line, ast.ImportFrom) and line.module == "__future__")


def _ask(number: int) -> ast.Call:
    return ast.Call(ast.Name("is_awake", ast.Load()), [ast.Constant(number)], [])


def put_to_sleep(tree: ast.AST, node: ast.AST, fault: Fault) -> None:
    """The fault beside what stands there, chosen when it is awake."""
    ask, new = _ask(fault.number), change_node(node, fault.change)
    if isinstance(node, ast.If | ast.While):
        node.test = ast.IfExp(ask, ast.UnaryOp(ast.Not(), copy.deepcopy(node.test)), node.test)
    elif isinstance(node, ast.comprehension):
        node.ifs[-1] = ast.BoolOp(ast.Or(), [ask, node.ifs[-1]])
    elif isinstance(node, ast.stmt):
        _replace(tree, node, ast.If(ask, [new], [node]))  # type: ignore[list-item]
    else:
        _replace(tree, node, ast.IfExp(ask, new, node))  # type: ignore[arg-type]


def _replace(tree: ast.AST, old: ast.AST, new: ast.AST) -> None:
    for parent in [parent for parent in ast.walk(tree) if parent is not new]:
        for name, value in ast.iter_fields(parent):
            if value is old:
                setattr(parent, name, new)
            elif isinstance(value, list):
                setattr(parent, name, [new if item is old else item for item in value])
