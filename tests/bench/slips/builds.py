"""The correct builds that slips are made in: demos, starters, and the builds that the tests work out by hand."""

import importlib
import re
import sys
from pathlib import Path

ROOT = Path(__file__).parents[3]
sys.path.insert(0, str(ROOT / "tests"))
sys.path.insert(0, str(ROOT / "tests" / "assemble"))


def correct_builds() -> dict[str, tuple[str, Path]]:
    """Name -> text and the folder its drawings stand in."""
    found: dict[str, tuple[str, Path]] = {}
    for path in (*sorted((ROOT / "specs").glob("*.toml")), *sorted((ROOT / "docgen" / "starters").glob("*.toml"))):
        found[path.stem] = path.read_text("utf-8"), path.parent
    head = importlib.import_module("conftest").HEAD
    made = importlib.import_module("test_builds")
    for name, text in vars(made).items():
        if name.isupper() and isinstance(text, str) and "[pieces." in text:
            found[f"by hand: {name.lower()}"] = _without_idle(head, text) + text, ROOT
    return found


def _without_idle(head: str, text: str) -> str:
    """The head that the builds by hand share, without the materials that this one does not use."""
    tables = re.split(r"(?m)^(?=\[)", head)
    used = set(re.findall(r'of = "(\w+)"', text))
    return "".join(table for table in tables if not (name := re.match(r"\[materials\.(\w+)", table)) or name[1] in used)
