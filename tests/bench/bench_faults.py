"""How many small faults the tests notice: each is put into a copy of the program, and the tests that reach its line run.

    python tests/bench/bench_faults.py                 160 faults, drawn at random over all packages
    python tests/bench/bench_faults.py --number 40 --seed 7 --only docgen/versions
    python tests/bench/bench_faults.py --again FILE    those that a run before did not notice

First the whole suite runs once, and `coverage` notes for every line the tests that reach it (`--map FILE` keeps that for
later runs). A fault is one change of one place: a comparison or a sum turned round, a condition denied, a number
moved, a truth or an empty value in place of another, two arguments or two branches changed over, a statement left out.
The tests that reach the line run in the order of how long they take, until one fails; a fault that makes a test hang
is noticed too. What nothing notices is printed with its change, to be closed by a test, or found to change nothing.
"""

from __future__ import annotations

import argparse
import ast
import copy
import json
import os
import random
import shutil
import subprocess
import sys
import tempfile
from collections import Counter, defaultdict
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path

import coverage

ROOT = Path(__file__).resolve().parents[2]
COPIED = ("docgen", "layouts", "specs", "tests", "README.md", "DEVELOPERS.md", "pyproject.toml")
AIM = 0.97
LONGEST_S = 240.0
MOST_TESTS = 400
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
    """One change of one place: the file, its line, what stood there and what stands there now."""

    path: str
    line: int
    last: int
    before: str
    after: str
    source: str

    @property
    def words(self) -> str:
        return f"{self.path}:{self.line}\n    - {self.before}\n    + {self.after}"


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


def draw_fault(path: Path, random_: random.Random) -> Fault | None:
    """One fault in a file, None where there is nothing to change."""
    source = path.read_text(encoding="utf-8")
    tree = ast.parse(source)
    places = [(index, node) for index, node in enumerate(find_nodes(tree)) if list_changes(node)]
    if not places:
        return None
    index, _ = random_.choice(places)
    node = list(find_nodes(tree))[index]
    old = copy.deepcopy(node)
    change = random_.choice(list_changes(node))
    new = change(node)
    if new is not None:
        _replace(tree, node, new)
    else:
        new = node
    if isinstance(old, ast.comprehension):
        line, last = old.target.lineno, old.iter.end_lineno or old.iter.lineno
    else:
        line, last = old.lineno, old.end_lineno or old.lineno  # type: ignore[attr-defined]
    ast.fix_missing_locations(tree)
    before, after = (" ".join(ast.unparse(item).split())[:150] for item in (old, new))
    name = path.relative_to(ROOT).as_posix()
    return Fault(name, line, last, before, after, ast.unparse(tree))


def _replace(tree: ast.AST, old: ast.AST, new: ast.AST) -> None:
    for parent in ast.walk(tree):
        for name, value in ast.iter_fields(parent):
            if value is old:
                setattr(parent, name, new)
            elif isinstance(value, list):
                setattr(parent, name, [new if item is old else item for item in value])


def draw_faults(number: int, seed: int, only: str) -> list[Fault]:
    """Faults at random: a file with the chance of its size, then a place in it."""
    random_ = random.Random(seed)
    paths = [
        path for path in sorted((ROOT / "docgen").rglob("*.py")) if path.relative_to(ROOT).as_posix().startswith(only)
    ]
    sizes = [path.stat().st_size for path in paths]
    faults: dict[tuple[str, int, str, str], Fault] = {}
    while len(faults) < number:
        fault = draw_fault(random_.choices(paths, sizes)[0], random_)
        if fault is not None and fault.before != fault.after:
            faults[fault.path, fault.line, fault.before, fault.after] = fault
    return list(faults.values())


def map_tests(kept: Path) -> dict[str, dict[str, list[str]]]:
    """File -> line -> the tests that reach it, fast ones first."""
    if kept.exists():
        return dict(json.loads(kept.read_text(encoding="utf-8")))
    with tempfile.TemporaryDirectory() as folder:
        data, times = Path(folder, "data"), Path(folder, "times.xml")
        run = [sys.executable, "-m", "pytest", "-q", "-n", "auto", "-p", "no:cacheprovider", f"--junitxml={times}"]
        env = os.environ | {"COVERAGE_FILE": str(data)}
        subprocess.run([*run, "--cov=docgen", "--cov-context=test", "--cov-report="], cwd=ROOT, env=env, check=True)
        reached = read_map(data, _read_times(times))
    kept.write_text(json.dumps(reached), encoding="utf-8")
    return reached


def read_map(data: Path, took: dict[str, float]) -> dict[str, dict[str, list[str]]]:
    """File -> line -> tests, from what was measured; `took` are their seconds."""
    found = coverage.CoverageData(basename=str(data))
    found.read()
    return {
        name[name.rindex("docgen/") :]: {
            str(line): sorted(
                {test.partition("[")[0].partition("|")[0] for test in tests if test}, key=lambda t: took.get(t, 9.0)
            )
            for line, tests in found.contexts_by_lineno(name).items()
        }
        for name in found.measured_files()
    }


def _read_times(report: Path) -> dict[str, float]:
    from xml.etree import ElementTree

    took: dict[str, float] = defaultdict(float)
    for case in ElementTree.parse(report).iter("testcase"):
        name = f"{case.get('classname', '').replace('.', '/')}.py::{case.get('name', '').partition('[')[0]}"
        took[name] += float(case.get("time", "0"))
    return took


def is_noticed(fault: Fault, tests: list[str], copies: Path) -> bool:
    """Whether one of these tests fails where the fault is put into a copy of the program."""
    with tempfile.TemporaryDirectory(dir=copies) as folder:
        for name in COPIED:
            source = ROOT / name
            (shutil.copytree if source.is_dir() else shutil.copy)(source, Path(folder, name))
        Path(folder, fault.path).write_text(fault.source, encoding="utf-8")
        run = [sys.executable, "-m", "pytest", "-q", "-x", "-p", "no:cacheprovider", *tests]
        env = os.environ | {"PYTHONPATH": folder, "HYPOTHESIS_STORAGE_DIRECTORY": f"{folder}/.hypothesis"}
        try:
            ended = subprocess.run(run, cwd=folder, env=env, capture_output=True, timeout=LONGEST_S, check=False)
        except subprocess.TimeoutExpired:
            return True
        return ended.returncode not in (0, 5)


def pick_tests(fault: Fault, reached: dict[str, dict[str, list[str]]]) -> list[str]:
    """The tests that reach the fault, fast ones first; for what runs while modules load, the tests named like the room."""
    lines = reached.get(fault.path, {})
    found = dict.fromkeys(test for line in range(fault.line, fault.last + 1) for test in lines.get(str(line), ()))
    if found:
        return list(found)[:MOST_TESTS]
    all_of_file = dict.fromkeys(test for tests in lines.values() for test in tests)
    return list(all_of_file)[:MOST_TESTS] or ["tests/test_cli.py", "tests/whole"]


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--number", type=int, default=160)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--only", default="docgen/")
    parser.add_argument("--map", type=Path, default=Path(tempfile.gettempdir(), "docgen-tests-by-line.json"))
    parser.add_argument("--again", type=Path, help="a file that --missed wrote")
    parser.add_argument("--missed", type=Path, help="write what was not noticed into this file")
    parser.add_argument("--at-once", type=int, default=os.cpu_count() or 1)
    chosen = parser.parse_args()
    reached = map_tests(chosen.map)
    faults = draw_faults(chosen.number, chosen.seed, chosen.only)
    if chosen.again:
        wanted = {tuple(item) for item in json.loads(chosen.again.read_text(encoding="utf-8"))}
        faults = [fault for fault in faults if (fault.path, fault.before, fault.after) in wanted]
    with tempfile.TemporaryDirectory() as copies, ThreadPoolExecutor(chosen.at_once) as pool:
        noticed = list(pool.map(lambda fault: is_noticed(fault, pick_tests(fault, reached), Path(copies)), faults))
    tell(faults, noticed, chosen.missed)


def tell(faults: list[Fault], noticed: list[bool], kept: Path | None) -> None:
    """Print what was noticed, by package, and whole what was not."""
    package = [fault.path.split("/")[1].removesuffix(".py") for fault in faults]
    drawn, caught = Counter(package), Counter(name for name, is_ in zip(package, noticed, strict=True) if is_)
    for name in sorted(drawn):
        print(f"{name:12} {caught[name]:4} of {drawn[name]:4}")
    missed = [fault for fault, is_ in zip(faults, noticed, strict=True) if not is_]
    for fault in missed:
        print(fault.words)
    if kept is not None:
        kept.write_text(json.dumps([[fault.path, fault.before, fault.after] for fault in missed]), encoding="utf-8")
    share = sum(noticed) / len(faults) if faults else 1.0
    print(f"noticed {sum(noticed)} of {len(faults)}: {share:.1%} (aim {AIM:.0%})")


if __name__ == "__main__":
    main()
