"""The correct builds that slips are made in: demos, starters, the builds that the tests work out by hand, and short
ones of other kinds."""

from pathlib import Path

ROOT = Path(__file__).parents[3]
FOLDERS = {
    "": ROOT / "specs",
    " ": ROOT / "docgen" / "starters",
    "by hand: ": ROOT / "tests" / "assemble" / "builds",
    "short: ": ROOT / "tests" / "bench" / "slips" / "builds",
}


def correct_builds() -> dict[str, tuple[str, Path]]:
    """Name -> text and the folder its drawings stand in."""
    return {
        f"{kind.lstrip()}{path.stem}": (path.read_text("utf-8"), folder)
        for kind, folder in FOLDERS.items()
        for path in sorted(folder.glob("*.toml"))
    }
