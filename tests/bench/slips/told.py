"""What `docgen check` says of a text: its problems, in this process, as the command finds them."""

import re
import tempfile
from pathlib import Path

from docgen.checks import ask_maker, resolve_variants
from docgen.problems import Problem, SpecRejected
from docgen.read import read_spec

PLACE_RE = re.compile(r"Place\([^()]*\)")
TINY_RE = re.compile(r"(\.\d{6})\d+")


class Checker:
    """Checks texts as specs that stand in a folder with the drawings of a build."""

    def __init__(self, drawings: Path) -> None:
        self._folder = tempfile.TemporaryDirectory()
        for path in drawings.glob("*.svg"):
            (Path(self._folder.name) / path.name).write_bytes(path.read_bytes())
        self._path = Path(self._folder.name) / "spec.toml"

    def problems(self, text: str) -> tuple[Problem, ...]:
        """All problems of this text, errors and cautions."""
        self._path.write_text(text, "utf-8")
        try:
            builds = resolve_variants(read_spec(self._path))
        except SpecRejected as error:
            return error.problems
        return tuple(dict.fromkeys(problem for build in builds for problem in build.cautions))

    def asked(self, text: str) -> tuple[tuple[int, str], ...]:
        """What is asked of this text: the line of each question, and its words; nothing of one that is wrong."""
        self._path.write_text(text, "utf-8")
        spec = read_spec(self._path)
        try:
            return tuple((one.place.line, one.what) for one in ask_maker(spec, resolve_variants(spec)))
        except SpecRejected:
            return ()

    def shapes(self, text: str) -> tuple[str, ...]:
        """All that is known of the build that a right text gives, without where it is written."""
        self._path.write_text(text, "utf-8")
        builds = resolve_variants(read_spec(self._path))
        return tuple(TINY_RE.sub(r"\1", PLACE_RE.sub("", repr((b.pieces, b.straps, b.joins, b.seams)))) for b in builds)
