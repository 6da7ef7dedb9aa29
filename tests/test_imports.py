"""Who imports whom: phases in one direction, doors kept, third parties behind their walls; only the cli prints.

The source is read, nothing is imported, so that imports inside functions and under TYPE_CHECKING count too.
"""

import ast
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
PHASES = ("read", "resolve", "assemble", "checks", "plan", "lay", "pages", "write")
BASE = (
    *("version", "classes", "bounded", "problems", "told", "written"),
    *("fonts", "photos", "layout_files", "web_templates", "geometry", "tables"),
)
# Above the phases; only they may call them all.
OUTER = ("calls", "cli", "__main__", "starters", "topics", "versions", "look", "scan", "")
# Values that stand in a module of their own for the phases after it.
VALUE_MODULES = {
    "docgen.pages.marks.page": ("write", "calls", "cli", "versions", "look"),
    "docgen.pages.setting.blocks": ("versions", "look"),
    "docgen.pages.drawn.export": ("write", "calls"),
}
# A second door to a phase, for those who need what is behind it: the others do not load it.
SECOND_DOORS = {"docgen.checks.questions": ("calls", "cli", "look")}
# Third party -> modules that may import it (a folder means all in it).
WALLS = {
    "tomllib": ("docgen.read",),
    "pint": ("docgen.written.units.other",),
    "jinja2": ("docgen.web_templates",),
    "qrcode": ("docgen.pages.setting.tag",),
    "reportlab": ("docgen.write",),
    "reportlab.pdfbase.ttfonts": ("docgen.fonts", "docgen.write"),
    "pypdf": ("docgen.write.enclosed",),
    "fontpkg_fira_sans": ("docgen.fonts",),
    "pypdfium2": ("docgen.versions.traced.scan",),
    "zxingcpp": ("docgen.versions.traced.scan",),
    "PIL": (
        *("docgen.versions.traced.scan", "docgen.read.svg.name_mark"),
        *("docgen.photos", "docgen.read.photo", "docgen.scan"),
    ),
    "numpy": ("docgen.scan",),
}


def find_sources(root: Path) -> dict[str, Path]:
    """Dotted name -> file of every module below `root`."""
    sources = {}
    for path in sorted(root.glob("docgen/**/*.py")):
        parts = path.relative_to(root).with_suffix("").parts
        sources[".".join(parts[:-1] if parts[-1] == "__init__" else parts)] = path
    return sources


def find_imports(module: str, path: Path, modules: set[str]) -> Iterator[str]:
    """Every module that is imported, wherever the import stands."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            yield from _from_imports(module, path, node, modules)
        elif isinstance(node, ast.Call) and _is_call_of(node, ("import_module", "__import__")):
            yield from (name for word in node.args[:1] for name in _named(word, modules))


def _from_imports(module: str, path: Path, node: ast.ImportFrom, modules: set[str]) -> Iterator[str]:
    package = module if path.name == "__init__.py" else module.rpartition(".")[0]
    for _ in range(node.level - 1):
        package = package.rpartition(".")[0]
    start = f"{package}.{node.module}".rstrip(".") if node.level else str(node.module)
    for alias in node.names:
        name = f"{start}.{alias.name}"
        # The wall of reportlab has a gate inside it, so that its modules count by their full names.
        yield name if name in modules or name in WALLS else start


def _named(word: ast.expr, modules: set[str]) -> list[str]:
    """The modules that a text can name: itself, or all that begin as an f-string does."""
    if isinstance(word, ast.Constant):
        return [str(word.value)]
    if isinstance(word, ast.JoinedStr) and isinstance(word.values[0], ast.Constant):
        return [name for name in sorted(modules) if name.startswith(str(word.values[0].value))]
    return []


def _is_call_of(node: ast.Call, names: tuple[str, ...]) -> bool:
    called = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
    return called in names


def find_part(module: str) -> str:
    """`docgen.read.spec` -> `read`; `docgen` -> ``."""
    return module.split(".")[1] if "." in module else ""


def check_own_import(module: str, other: str) -> str:
    """What is wrong when one module of docgen imports another; empty when nothing is."""
    part, other_part = find_part(module), find_part(other)
    if part == other_part:
        return ""
    if part == "geometry" and other != "docgen.classes":
        return f"{module}: geometry imports nothing of docgen, but {other}"
    if other_part in BASE:
        return ""
    if part in BASE or (other_part in OUTER and part not in OUTER):
        return f"{module} imports {other}, which stands above it"
    if part in PHASES and other_part in PHASES and PHASES.index(other_part) > PHASES.index(part):
        return f"{module} imports {other}, a later phase"
    if other_part in PHASES and other.count(".") > 1 and part not in (VALUE_MODULES | SECOND_DOORS).get(other, ()):
        return f"{module} reaches into {other}; use what docgen.{other_part} exports"
    return ""


def check_outside_import(module: str, other: str) -> str:
    """What is wrong when a module imports a third party; empty when nothing is."""
    walls = [wall for wall in WALLS if other == wall or other.startswith(f"{wall}.")]
    if walls:
        allowed = WALLS[max(walls, key=len)]
        if any(module == place or module.startswith(f"{place}.") for place in allowed):
            return ""
        return f"{module} imports {other}; only {' and '.join(allowed)} may"
    if other.split(".")[0] in sys.stdlib_module_names:
        return ""
    return f"{module} imports {other}, which is known nowhere"


def find_faults(root: Path) -> list[str]:
    """Every import that breaks a rule, and every print outside the cli."""
    sources = find_sources(root)
    faults = []
    for module, path in sources.items():
        for other in find_imports(module, path, set(sources)):
            is_own = other == "docgen" or other.startswith("docgen.")
            faults.append((check_own_import if is_own else check_outside_import)(module, other))
        if find_part(module) != "cli" and _prints(path):
            faults.append(f"{module} prints; only docgen.cli may")
    return [fault for fault in faults if fault]


def find_circles(root: Path) -> list[tuple[str, ...]]:
    """Modules that import each other, in one step or in many, wherever the imports stand."""
    sources = find_sources(root)
    wanted = {module: set(find_imports(module, path, set(sources))) for module, path in sources.items()}
    reached = {module: set(others & set(sources)) for module, others in wanted.items()}
    for via in sources:
        for others in reached.values():
            if via in others:
                others |= reached[via]
    found = {
        module: sorted(other for other in others if module in reached[other]) for module, others in reached.items()
    }
    return sorted({tuple(circle) for circle in found.values() if circle})


def _prints(path: Path) -> bool:
    tree = ast.parse(path.read_text(encoding="utf-8"))
    return any(isinstance(node, ast.Call) and _is_call_of(node, ("print",)) for node in ast.walk(tree))


def test_imports_keep_their_direction_and_their_doors() -> None:
    assert find_faults(ROOT) == []


def test_no_module_is_imported_by_what_it_imports() -> None:
    assert find_circles(ROOT) == []


def plant(root: Path, texts: dict[str, str]) -> None:
    for path, text in texts.items():
        file = root / "docgen" / path
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(text, encoding="utf-8")


def test_a_circle_is_found_by_all_its_modules(tmp_path: Path) -> None:
    texts = {
        "__init__": "",
        "a": "def f() -> None:\n    from docgen.b import x",
        "b": "from importlib import import_module\nimport_module(f'docgen.c{1}')",
        "c1": "import docgen.a",
        "d": "import docgen.a",
    }
    plant(tmp_path, {f"{name}.py": text for name, text in texts.items()})
    assert find_circles(tmp_path) == [("docgen.a", "docgen.b", "docgen.c1")]


def test_all_phases_are_looked_at() -> None:
    parts = {find_part(module) for module in find_sources(ROOT)}
    assert parts >= {*PHASES, *BASE, "cli", "calls"}
    assert parts <= {*PHASES, *BASE, *OUTER}


PLANTED = {
    "a back import": ("read/a.py", "from docgen.plan import Plan", "docgen.read.a imports docgen.plan, a later phase"),
    "one inside a function": (
        "resolve/a.py",
        "def f() -> None:\n    import docgen.write",
        "docgen.resolve.a imports docgen.write, a later phase",
    ),
    "one for types only": (
        "plan/a.py",
        "from typing import TYPE_CHECKING\nif TYPE_CHECKING:\n    from docgen.pages.marks.page import Page",
        "docgen.plan.a imports docgen.pages.marks.page, a later phase",
    ),
    "one by its name as text": (
        "read/a.py",
        "import importlib\nimportlib.import_module('docgen.write')",
        "docgen.read.a imports docgen.write, a later phase",
    ),
    "a relative one": ("read/a.py", "from ..pages import lay_out", "docgen.read.a imports docgen.pages, a later phase"),
    "an inner module": (
        "pages/a.py",
        "from docgen.read.b import x",
        "docgen.pages.a reaches into docgen.read.b; use what docgen.read exports",
    ),
    "an inner module as a name": (
        "pages/a.py",
        "from docgen.read import b",
        "docgen.pages.a reaches into docgen.read.b; use what docgen.read exports",
    ),
    "geometry and units": (
        "geometry/a.py",
        "from docgen.written.units import x",
        "docgen.geometry.a: geometry imports nothing of docgen, but docgen.written.units",
    ),
    "the base and a phase": (
        "tables/a.py",
        "from docgen.read import Spec",
        "docgen.tables.a imports docgen.read, which stands above it",
    ),
    "a phase and a call": (
        "read/a.py",
        "from docgen.calls.make import x",
        "docgen.read.a imports docgen.calls.make, which stands above it",
    ),
    "a breach of a wall": (
        "pages/a.py",
        "from pint import UnitRegistry",
        "docgen.pages.a imports pint; only docgen.written.units.other may",
    ),
    "reportlab in the fonts": (
        "fonts.py",
        "from reportlab.pdfgen import canvas",
        "docgen.fonts imports reportlab.pdfgen; only docgen.write may",
    ),
    "a stranger": ("read/a.py", "import yaml", "docgen.read.a imports yaml, which is known nowhere"),
    "a print": ("write/a.py", "print('done')", "docgen.write.a prints; only docgen.cli may"),
}


@pytest.mark.parametrize("case", PLANTED)
def test_a_planted_fault_is_found(tmp_path: Path, case: str) -> None:
    place, source, expected = PLANTED[case]
    plant(tmp_path, {"read/b.py": "", place: source})
    assert find_faults(tmp_path) == [expected]


def test_what_is_allowed_is_not_found(tmp_path: Path) -> None:
    good = {
        "read/a.py": "import tomllib\nfrom docgen.problems import Place\nfrom docgen.read.b import x",
        "read/b.py": "from docgen.tables.care import CareAdvice",
        "write/letters.py": "from docgen.pages.marks.page import Page\nfrom reportlab.pdfbase import ttfonts",
        "fonts.py": "from reportlab.pdfbase.ttfonts import TTFontFile\nfrom reportlab.pdfbase import ttfonts",
        "cli/make.py": "from docgen.version import __version__\nfrom docgen.read import read_spec\nprint(1)",
    }
    plant(tmp_path, good)
    assert find_faults(tmp_path) == []
