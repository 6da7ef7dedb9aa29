"""The spec inside a PDF of ours: which of the attached files it is, and whether the pages were made from it."""

import contextlib
import errno
import re
import tempfile
import warnings
from collections.abc import Callable, Container
from dataclasses import replace
from pathlib import Path, PurePosixPath
from typing import Final, TypeVar

from docgen.assemble import Assembled
from docgen.checks import resolve_variants
from docgen.classes import dataclass
from docgen.problems import Place, Problem, SpecRejected, make_error, shorten
from docgen.read import Spec, decode_source, make_digest, parse_source, read_spec
from docgen.versions.kept.codes import NotOurs, PageCode, parse_code
from docgen.write import Enclosed, NotReadable, WriteFailed, explain, is_half_done

OURS: Final = "docgen "
SPECS_MOST: Final = 20
"""Attached files that are looked at as a spec."""

PRINTED: Final = re.compile(r"[:/]([A-Z][A-Z0-9-]{0,39}/[A-Z0-9.-]{1,18}/[0-9A-F]{10}/[A-Z-]+(?:\.[A-Z0-9-]+)?/[0-9])")
Worked = TypeVar("Worked")


class EnclosedWarning(UserWarning):
    """Something about a PDF that does not keep it from being read."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Inside:
    """The spec inside a PDF: its name; `codes` are those printed in words on the pages, and `is_right` tells that all of
    them have its digest, and that no file it is made of has two contents."""

    name: str
    codes: tuple[PageCode, ...]
    is_right: bool


def look_inside(path: Path, enclosed: Enclosed) -> Inside:
    """Of the specs that are attached the one that the pages were made from, else the first. What else is attached does
    not count. Raises NotReadable when there is none."""
    names, codes = list_specs(path, enclosed), find_codes(enclosed)
    if len(names) > 1 and not codes:
        raise NotReadable(f"{path} has several specs inside, and no code on its pages tells which is its own")
    for name in names:
        digest, files = _judge(path, enclosed, name, [code.digest for code in codes])
        if codes and all(code.digest == digest for code in codes):
            return Inside(name=name, codes=codes, is_right=not any(file in enclosed.doubles for file in files))
    return Inside(name=names[0], codes=codes, is_right=False)


def list_specs(path: Path, enclosed: Enclosed) -> tuple[str, ...]:
    """The names of attached files that may be the spec, those first that have its table. Raises NotReadable."""
    if not enclosed.creator.startswith(OURS):
        raise NotReadable(f"{path} was not made by docgen: it has no build spec inside")
    tables = {name: _list_tables(name, held) for name, held in enclosed.files if name.lower().endswith(".toml")}
    names = [name for name, found in tables.items() if "spec" in found or "part" not in found]
    if not names:
        raise NotReadable(f"{path} was not made by docgen: it has no build spec inside")
    return tuple(sorted(names, key=lambda name: "spec" not in tables[name])[:SPECS_MOST])


def _list_tables(name: str, held: bytes) -> tuple[str, ...]:
    """The tables of an attached file; none where it cannot be read."""
    try:
        return tuple(parse_source(name, decode_source(name, held)))
    except SpecRejected:
        return ()


def _judge(path: Path, enclosed: Enclosed, name: str, digests: Container[str]) -> tuple[str, tuple[str, ...]]:
    """The digest of a spec with the files that it names, and all their names; "" where it cannot be read. `digests` are
    those on the pages."""
    files = dict(enclosed.files)
    source = files.pop(name)
    digest = make_digest(source, tuple(sorted(files.items())))
    if digest in digests:  # as docgen wrote it, with nothing else attached
        return digest, tuple(name for name, _ in enclosed.files)
    try:
        spec = _work_on_enclosed(path, enclosed, name, read_spec)
    except (SpecRejected, NotReadable):
        return "", ()
    return spec.digest, (name, *(file for file, _ in spec.files))


def find_codes(enclosed: Enclosed) -> tuple[PageCode, ...]:
    """The codes printed in words on the pages, without document and page; each once."""
    found: dict[PageCode, None] = {}
    for text in enclosed.texts:
        for part in PRINTED.finditer("".join(text.split()).upper()):
            with contextlib.suppress(NotOurs):
                code = parse_code(f"SPEC:{part[1]}")
                found[replace(code, document="", page=0, variant="")] = None
    return tuple(found)


def tell_doubts(path: Path | str, enclosed: Enclosed) -> tuple[str, ...]:
    """What makes others see something else in a PDF than docgen does, in words."""
    doubles = [
        f'"{shorten(name, 60)}" inside {path} has other contents under its second name: others may see those'
        for name in enclosed.doubles
    ]
    if is_half_done(Path(path).absolute().parent):
        doubles.append(
            f"a run that put files into the folder of {path} was stopped, or is at work still: "
            "what lies there may be of two runs; make it again"
        )
    acts = ", ".join(enclosed.actions)
    return (*doubles, *([f"{path} acts by itself, which no file from docgen does: it {acts}"] if acts else []))


def build_enclosed(path: Path, enclosed: Enclosed) -> tuple[Assembled, ...]:
    """The build of the spec inside a PDF of ours. Raises NotReadable when there is none, SpecRejected when it is
    wrong, or not the one that the pages were made from."""
    inside = look_inside(path, enclosed)
    doubts = [*tell_doubts(path, enclosed)]
    if not inside.codes:
        doubts.append(
            f"no code is found on the pages of {path}, so that nothing tells whether the spec inside is theirs"
        )
    elif not inside.is_right:
        what = "the spec inside is not the one its pages were made from: their digests differ"
        mend = "trace the code of one page; where its version is issued, compare with that number"
        raise SpecRejected([make_error(Place(path=str(path)), what, mend)])
    if len(enclosed.texts) < len(enclosed.labels):
        doubts.append(f"only the first {len(enclosed.texts)} pages of {path} were looked at, for lack of time")
    for words in doubts:
        warnings.warn(words, EnclosedWarning, stacklevel=2)
    return _work_on_enclosed(path, enclosed, inside.name, lambda at: resolve_variants(read_spec(at)))


def read_enclosed_spec(path: Path, enclosed: Enclosed) -> Spec:
    """The spec inside a PDF of ours, as written, with the drawings it names. Raises as `build_enclosed` does."""
    return _work_on_enclosed(path, enclosed, look_inside(path, enclosed).name, read_spec)


def _work_on_enclosed(path: Path, enclosed: Enclosed, name: str, work: Callable[[Path], Worked]) -> Worked:
    """What `work` makes of the spec of this name, put into a folder of its own with all beside it that can be. Raises
    WriteFailed where that folder cannot be filled."""
    try:
        made = tempfile.TemporaryDirectory(prefix="docgen-", ignore_cleanup_errors=True)
    except OSError as error:
        raise WriteFailed(Path(tempfile.gettempdir()), explain(error)) from error
    with made as folder:
        spec = Path(folder, *parts_inside(name))
        if not _put(spec, dict(enclosed.files)[name]):
            raise NotReadable(f"what is attached to {path} cannot be taken out of it")
        # Names that stay as they are come first, so that no other stands in their way. What no disk takes is left out.
        for file, content in sorted(enclosed.files, key=lambda held: "/".join(parts_inside(held[0])) != held[0]):
            if file != name:
                _put(Path(folder, *parts_inside(file)), content)
        try:
            return work(spec)
        except SpecRejected as error:
            problems = [_place_enclosed(item, path, Path(folder)) for item in error.problems]
            raise SpecRejected(problems) from error


NO_NAMES: Final = (errno.ENAMETOOLONG, errno.EINVAL, errno.ENOTDIR, errno.EEXIST, errno.EISDIR, errno.ENOENT)
"""Error numbers of a name that cannot be had, be it that the disk takes none such or that another stands there."""


def _put(place: Path, content: bytes) -> bool:
    """Write a new file; False where it can have no such name. Raises WriteFailed."""
    try:
        place.parent.mkdir(parents=True, exist_ok=True)
        with open(place, "xb") as file:
            file.write(content)
    except ValueError:
        return False
    except OSError as error:
        if error.errno not in NO_NAMES:
            raise WriteFailed(place, explain(error)) from error
        return False
    return True


def _place_enclosed(problem: Problem, pdf: Path, folder: Path) -> Problem:
    """The problem at the file inside the PDF, the spec or a part that it brings in."""
    name = Path(problem.place.path)
    inside = name.relative_to(folder) if name.is_relative_to(folder) else name
    return replace(problem, place=replace(problem.place, path=f"{inside.as_posix()} in {pdf}"))


def parts_inside(name: str) -> tuple[str, ...]:
    """A name from a PDF as a path that stays where it is put."""
    parts = PurePosixPath(name.replace("\\", "/").replace(":", "-")).parts
    return tuple(part for part in parts if part not in ("/", "..", ".")) or ("file",)
