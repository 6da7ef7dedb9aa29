"""The demo builds, made once for all tests of this folder, the files written from them, and what is asked of a spec."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path

import numpy as np
import pypdfium2
import pytest
from spec_text import HEAD, Edit, write_out

from docgen.checks import resolve_build, resolve_variants
from docgen.checks.questions import ask_maker
from docgen.checks.questions.question import REGISTERED
from docgen.checks.trade import Subject
from docgen.pages import choices_of, lay_out
from docgen.pages.marks.page import Document, Packet
from docgen.plan import Plan, plan_work
from docgen.read import Spec, read_spec
from docgen.write import finish_documents, replace_files

ROOT = Path(__file__).resolve().parents[2]
DATE = "2026-03-31"
PAPERS_MM = {"letter": (215.9, 279.4), "a4": (210.0, 297.0)}
DEMOS = [(name, paper) for name in ("field-bag", "notebook-sleeve") for paper in PAPERS_MM]


@dataclass(frozen=True, slots=True, kw_only=True)
class Made:
    """One demo on one paper: what was laid out, and the folder with the files."""

    name: str
    paper: str
    paper_mm: tuple[float, float]
    spec: Path
    plan: Plan
    packet: Packet
    folder: Path

    def document(self, name: str) -> Document:
        return next(document for document in self.packet.documents if document.name == name)

    def file(self, name: str) -> Path:
        return self.folder / f"{name}.pdf"


@cache
def make_demo(name: str, paper: str, folder: Path) -> Made:
    spec = ROOT / "specs" / f"{name}.toml"
    plan = plan_work(resolve_build(read_spec(spec)))
    packet = lay_out(plan, choices=replace(choices_of(plan.build.printing), paper=paper), date=DATE)
    replace_files(folder, finish_documents(packet))
    return Made(name=name, paper=paper, paper_mm=PAPERS_MM[paper], spec=spec, plan=plan, packet=packet, folder=folder)


@pytest.fixture(scope="session")
def make(tmp_path_factory):
    """make(name, paper) -> Made; the same call makes nothing twice."""
    top = tmp_path_factory.getbasetemp() / "made"
    return lambda name, paper: make_demo(name, paper, top / f"{name}-{paper}")


@pytest.fixture(scope="session", params=DEMOS, ids=lambda demo: "-".join(demo))
def demo(request, make):
    """Both demos on both papers."""
    return make(*request.param)


@pytest.fixture(scope="session")
def bag(make):
    return make("field-bag", "letter")


@pytest.fixture(scope="session")
def rasterise():
    """rasterise(pdf, page, dpi) -> darkness of every pixel from 0 to 255, first row at the top of the page."""

    def draw(pdf: Path | bytes, page: int, dpi: int) -> np.ndarray:
        document = pypdfium2.PdfDocument(pdf)
        try:
            bitmap = document[page].render(scale=dpi / 72, grayscale=True)
            return 255 - bitmap.to_numpy().reshape(bitmap.height, bitmap.width)
        finally:
            document.close()

    return draw


@pytest.fixture
def short_spec(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Callable[..., Spec]:
    """A short spec in full, edited, as it is read from a file."""
    monkeypatch.chdir(tmp_path)

    def short_spec(text: str, *edits: Edit) -> Spec:
        head = "" if text.startswith("<spec") else HEAD
        Path("a.toml").write_text(write_out(head + write_out(text), *edits), encoding="utf-8")
        return read_spec("a.toml")

    return short_spec


@pytest.fixture
def ask(short_spec: Callable[..., Spec]) -> Callable[..., list[str]]:
    """All that is asked of a short spec, edited: line and words of each question."""

    def ask(text: str, *edits: Edit) -> list[str]:
        spec = short_spec(text, *edits)
        return [f"{one.place.line}: {one.what}" for one in ask_maker(spec, resolve_variants(spec))]

    return ask


@pytest.fixture
def ask_only(short_spec: Callable[..., Spec]) -> Callable[..., Callable[..., list[str]]]:
    """ask_only(module, ...): what these modules of questions alone ask of a short spec, edited: line and words of each."""

    def ask_only(*modules: str) -> Callable[..., list[str]]:
        asks = [ask for ask in REGISTERED if ask.__module__.rpartition(".")[2] in modules]

        def ask(text: str, *edits: Edit) -> list[str]:
            spec = short_spec(text, *edits)
            subjects = [Subject(spec=spec, build=build) for build in resolve_variants(spec)]
            found = [one for subject in subjects for ask in asks for one in ask(subject)]
            return list(dict.fromkeys(f"{one.place.line}: {one.what}" for one in found))

        return ask

    return ask_only
