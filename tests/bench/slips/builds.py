"""The correct builds that slips are made in: demos, starters, the builds that the tests work out by hand, and short
ones of other kinds; and any that are brought from elsewhere."""

from collections.abc import Iterable
from pathlib import Path

from docgen.checks import resolve_variants
from docgen.problems import SpecRejected
from docgen.read import read_spec

ROOT = Path(__file__).parents[3]
FOLDERS = {
    "": ROOT / "specs",
    " ": ROOT / "docgen" / "starters",
    "by hand: ": ROOT / "tests" / "assemble" / "builds",
    "short: ": ROOT / "tests" / "bench" / "slips" / "builds",
}


Correct = tuple[str, Path]
BROUGHT = "brought: "


def correct_builds() -> dict[str, Correct]:
    """Name -> text and the folder its drawings stand in."""
    return {
        f"{kind.lstrip()}{path.stem}": (path.read_text("utf-8"), folder)
        for kind, folder in FOLDERS.items()
        for path in sorted(folder.glob("*.toml"))
    }


def brought_builds(folders: Iterable[Path]) -> dict[str, Correct]:
    """The same of every spec below these folders that is found without error, by its path in its folder."""
    found = {
        BROUGHT + str(path.relative_to(folder)): path for folder in folders for path in sorted(folder.rglob("*.toml"))
    }
    return {name: (path.read_text("utf-8"), path.parent) for name, path in found.items() if _is_right(path)}


def _is_right(path: Path) -> bool:
    try:
        resolve_variants(read_spec(path))
    except SpecRejected:
        return False
    return True
