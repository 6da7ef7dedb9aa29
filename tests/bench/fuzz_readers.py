"""Every reader of what comes from outside, fed with bytes that follow the paths inside it.

Run as `python tests/bench/fuzz_readers.py READER [SECONDS] [FOLDER]`, READER one of those below. It needs `atheris`,
which is no dependency of docgen and of no test: pip install atheris. What a reader may say is listed beside it; any other
error, more than 10 s or more than 400 MB over its start ends the run, and the bytes that did it are left in FOLDER.
"""

import contextlib
import sys
import tempfile
from collections.abc import Callable, Iterator
from io import BytesIO
from pathlib import Path

import atheris

ROOT = Path(__file__).resolve().parents[2]
SLOW_S, MOST_MB = 10, 800
PART = b"\n--part--\n"
"""Parts the files of a register where its bytes are one."""

INSTRUMENTED = (
    "docgen.read",
    "docgen.versions.kept",
    "docgen.versions.compared.inside",
    "docgen.write.enclosed",
    "pypdf",
)
with atheris.instrument_imports(include=[*INSTRUMENTED]):
    import pypdf
    from pypdf.generic import DecodedStreamObject, EncodedStreamObject

    from docgen.checks import resolve_variants
    from docgen.problems import SpecRejected
    from docgen.read import DrawingError, read_orders, read_spec
    from docgen.read.photo import parse_photo
    from docgen.read.svg.drawing import parse_drawing
    from docgen.read.svg.name_mark import parse_name_mark
    from docgen.versions.compared.inside import list_specs, look_inside, tell_doubts
    from docgen.versions.kept.register import VersionRefused
    from docgen.versions.kept.shelf import look_over, name_before, read_kept, read_newest, tell_shelf
    from docgen.write import NotReadable
    from docgen.write.enclosed import read_here

FOLDER = Path(tempfile.mkdtemp(prefix="docgen-fuzz-"))


def put(name: str, content: bytes) -> Path:
    path = FOLDER / name
    path.write_bytes(content)
    return path


def feed_spec(content: bytes) -> None:
    with contextlib.suppress(SpecRejected):
        resolve_variants(read_spec(put("bag.toml", content)))


def feed_svg(content: bytes) -> None:
    for read in (lambda: parse_drawing(content, "a.svg", None, 1.0), lambda: parse_name_mark(content, "a.svg")):
        with contextlib.suppress(DrawingError):
            read()


def feed_csv(content: bytes) -> None:
    with contextlib.suppress(SpecRejected):
        read_orders(put("orders.csv", content))


def feed_pdf(content: bytes) -> None:
    path = put("a.pdf", content)
    with contextlib.suppress(NotReadable):
        enclosed = read_here(path)
        tell_doubts(path, enclosed)
        list_specs(path, enclosed)
        look_inside(path, enclosed)


def feed_image(content: bytes) -> None:
    for read in (parse_photo, parse_name_mark):
        with contextlib.suppress(DrawingError):
            read(content, "a.png")


REGISTER = ("record.toml", "pages.toml", "tag.toml")


def feed_register(content: bytes) -> None:
    """Two versions side by side, the second one naming the first."""
    home = FOLDER / "issued" / "tag"
    held = content.split(PART)
    for version, files in (("1", held[:3]), ("2", held[3:6])):
        folder = home / version
        folder.mkdir(parents=True, exist_ok=True)
        for name in REGISTER:
            (folder / name).unlink(missing_ok=True)
        for name, each in zip(REGISTER, files, strict=False):
            (folder / name).write_bytes(each)
    shelf = look_over(home)
    tell_shelf(shelf)
    name_before(shelf)
    for read in (lambda: read_newest(shelf), *(lambda version=version: read_kept(shelf, version) for version in "12")):
        with contextlib.suppress(VersionRefused):
            read()


FEEDS: dict[str, Callable[[bytes], None]] = {
    "spec": feed_spec,
    "svg": feed_svg,
    "csv": feed_csv,
    "pdf": feed_pdf,
    "image": feed_image,
    "register": feed_register,
}


def seeds(reader: str) -> Iterator[bytes]:
    """Files of the kind to begin with: the demos, and small ones made here."""
    from docgen.calls.asked import IssueCall, MakeCall
    from docgen.calls.issue import issue_spec
    from docgen.calls.make import make_documents

    spec = 'title = "Tag"\nversion = "1"\n[materials.hide]\nkind = "leather"\nthickness = "3-4 oz"\n[pieces.back]\n'
    spec = f'[spec]\ncode = "tag"\n{spec}of = "hide"\nshape = "rectangle"\nsize = ["3 in", "4 in"]\n'
    path = put("tag.toml", spec.encode())
    if reader in ("spec", "svg"):
        ending = {"spec": "toml", "svg": "svg"}[reader]
        yield from (file.read_bytes() for file in sorted((ROOT / "specs").rglob(f"*.{ending}")))
    if reader == "spec":
        yield spec.encode()
    if reader == "csv":
        yield b"name,serial,date,how many\nAda,A-1,2026-03-31,2\n"
    if reader == "pdf":
        out = FOLDER / "out"
        make_documents(MakeCall(spec=str(path), out=str(out), only=("care-card",), date="2026-03-31"))
        whole = (out / "care-card.pdf").read_bytes()
        yield whole
        yield unpack(whole)
        writer = pypdf.PdfWriter()
        writer.add_blank_page(200, 200)
        small = BytesIO()
        writer.write(small)
        yield small.getvalue()
    if reader == "image":
        from PIL import Image

        for mode in ("L", "RGBA", "P"):
            for kind in ("PNG", "JPEG"):
                kept = BytesIO()
                with contextlib.suppress(OSError):
                    Image.new(mode, (12, 9), 3).save(kept, kind)
                    yield kept.getvalue()
    if reader == "register":
        first = issue_spec(IssueCall(spec=str(path), date="2026-03-31")).issued.folder
        path.write_text(spec.replace('"1"', '"2"', 1))
        second = issue_spec(IssueCall(spec=str(path), date="2026-04-01")).issued.folder
        yield PART.join((folder / name).read_bytes() for folder in (first, second) for name in REGISTER)


def unpack(content: bytes) -> bytes:
    """The same PDF with nothing packed, so that a changed byte is met by what reads words, names and files."""
    writer = pypdf.PdfWriter(clone_from=pypdf.PdfReader(BytesIO(content)))
    for number, item in enumerate(writer._objects):
        if isinstance(item, EncodedStreamObject) and item.get("/Filter") == "/FlateDecode":
            plain = DecodedStreamObject()
            plain.set_data(item.get_data())
            plain.update({key: held for key, held in item.items() if key not in ("/Filter", "/DecodeParms", "/Length")})
            writer._objects[number] = plain
    kept = BytesIO()
    writer.write(kept)
    return kept.getvalue()


def main() -> None:
    reader, seconds, folder, *_ = (*sys.argv[1:], "60", "")[:3] if len(sys.argv) < 4 else sys.argv[1:4]
    kept = Path(folder or tempfile.mkdtemp(prefix=f"docgen-fuzz-{reader}-"))
    corpus = kept / "corpus"
    corpus.mkdir(parents=True, exist_ok=True)
    for number, content in enumerate(seeds(reader)):
        (corpus / f"seed-{number}").write_bytes(content)
    options = [f"-max_total_time={seconds}", f"-timeout={SLOW_S}", f"-rss_limit_mb={MOST_MB}", "-max_len=200000"]
    atheris.Setup(
        [sys.argv[0], *options, "-print_final_stats=1", f"-artifact_prefix={kept}/", str(corpus)], FEEDS[reader]
    )
    atheris.Fuzz()


if __name__ == "__main__":
    main()
