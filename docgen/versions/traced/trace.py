"""A page, a code or a PDF -> which issued version it was made from, and whether that is still the one to use."""

import os
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Final, Literal

from docgen.bounded import SECONDS
from docgen.classes import dataclass
from docgen.problems import CallRejected, Place, SpecRejected, count_words, make_error, shorten
from docgen.read import decode_source, is_device, parse_source, read_source, read_spec
from docgen.versions.compared.changes import Comparison
from docgen.versions.compared.compare import compare_issued
from docgen.versions.compared.inside import Inside, look_inside, read_enclosed_spec
from docgen.versions.compared.sides import PDF, build_issued, label_version
from docgen.versions.kept.codes import NotOurs, PageCode, parse_code
from docgen.versions.kept.register import Issued, VersionRefused, find_registers, inner_folders
from docgen.versions.kept.shelf import Shelf, look_over, read_kept, read_newest, version_key
from docgen.versions.traced.scan import PICTURES, ScanMissing, read_page_codes, read_picture_codes
from docgen.write import Enclosed, NotReadable, read_enclosed, write_new_files

Standing = Literal[
    "current",
    "older",
    "altered",
    "lost",
    "lost-other",
    "draft-as-issued",
    "draft-before",
    "draft-open",
    "draft-unknown",
    "unknown",
]
MOST_SPECS: Final = 200


@dataclass(frozen=True, slots=True, kw_only=True)
class Traced:
    """One code and what is known of it. `standing`:

    current, older: issued, and its digest is that on record; altered: the digest on record is another; lost: older, by
    what another record says of it, its own is gone; lost-other: as altered, by such a one; draft-as-issued: a draft with
    the contents that were issued; draft-before: a draft with other contents; draft-open: not issued, and the spec at
    `draft_spec` is the same; draft-unknown: not issued, and no such spec found; unknown: not on record.
    `damage` tells what is wrong with the register. `current` is the version to use, `changes` lead to it. `shelf` is
    what lies in the register, `higher` the specs beside it of a version above all on record, each with that.
    """

    code: PageCode
    standing: Standing
    issued: Issued | None = None
    current: Issued | None = None
    changes: Comparison | None = None
    draft_spec: str = ""
    damage: VersionRefused | None = None
    shelf: Shelf | None = None
    higher: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class TracedFile:
    """What a PDF of ours is: the spec inside it, and all that it carries."""

    path: str
    inside: Inside
    enclosed: Enclosed


@dataclass(frozen=True, slots=True, kw_only=True)
class Trace:
    """Everything `docgen trace WHAT` found; `strangers` are the texts of codes that are not ours, `unread` how many pages
    of a PDF were not looked at, for lack of time."""

    found: tuple[Traced, ...]
    strangers: tuple[str, ...] = ()
    unread: int = 0
    file: TracedFile | None = None


def trace(what: str, folder: Path) -> Trace:
    """Trace a code's text, a PDF, or a picture; registers are looked for in `folder` and two folders down.

    Raises NotOurs, NotReadable, or ScanMissing.
    """
    path = Path(what)
    ending = path.suffix.lower()
    if ending not in (PDF, *PICTURES):
        return Trace(found=(trace_code(_parse_named(what), folder),))
    if not path.is_file():
        raise NotReadable(f"there is no file {what}")
    if ending == PDF:
        return _trace_pdf(path, folder)
    texts = read_picture_codes(path)
    if not texts:
        raise NotReadable(
            f"no code is found on {what}; take the picture from nearer, flat and in good light, "
            "or type what is printed beside the code"
        )
    return _trace_texts(texts, folder)


def _parse_named(what: str) -> PageCode:
    """The code that was typed; where a file was named instead, NotReadable tells what can be traced."""
    try:
        return parse_code(what)
    except NotOurs as error:
        kind = _name_kind(what)
        if not kind:
            raise
        raise NotReadable(
            f"{shorten(what)} is {kind}; docgen trace takes the text of a code, a PDF, or a picture (PNG, JPEG)"
        ) from error


def _name_kind(what: str) -> str:
    """What lies under a name that is no code; empty when nothing does."""
    if os.path.isdir(what):
        return "a folder"
    if os.path.isfile(what):
        return "a spec" if what.lower().endswith(".toml") else "neither a PDF nor a picture"
    return "not an ordinary file" if os.path.lexists(what) else ""


def _trace_texts(texts: tuple[str, ...], folder: Path) -> Trace:
    """Codes off a picture: some may be from elsewhere. NotOurs when all are."""
    codes, strangers = [], []
    for text in texts:
        try:
            codes.append(parse_code(text))
        except NotOurs:
            strangers.append(text)
    if not codes:
        parse_code(texts[0])
    return Trace(found=tuple(trace_code(code, folder) for code in codes), strangers=tuple(strangers))


def _trace_pdf(path: Path, folder: Path) -> Trace:
    """A file of ours by its attachment and printed codes; any other, a scan for instance, by its pages as pictures."""
    enclosed = read_enclosed(path)
    try:
        inside = look_inside(path, enclosed)
    except NotReadable as error:
        return _trace_scanned(path, enclosed, folder, error)
    if not inside.codes:
        return _trace_scanned(path, enclosed, folder, NotReadable(f"no code is found on the pages of {path}"))
    file = TracedFile(path=str(path), inside=inside, enclosed=enclosed)
    unread = len(enclosed.labels) - len(enclosed.texts)
    return Trace(found=tuple(trace_code(code, folder) for code in inside.codes), file=file, unread=unread)


def _trace_scanned(path: Path, enclosed: Enclosed, folder: Path, otherwise: NotReadable) -> Trace:
    try:
        texts, looked_at = read_page_codes(path, len(enclosed.labels), SECONDS - enclosed.seconds)
    except ScanMissing as error:
        raise NotReadable(f"{otherwise}\n{error}") from error
    unread = len(enclosed.labels) - looked_at
    if not texts:
        first = f"\nonly the first {count_words(looked_at, 'page')} were looked at" if unread else ""
        raise NotReadable(f"{otherwise}{first}") from otherwise
    return replace(_trace_texts(texts, folder), unread=unread)


def trace_code(code: PageCode, folder: Path) -> Traced:
    """What the registers below a folder know of a code."""
    homes = find_registers(folder, code.code.lower())
    if not homes:
        return _trace_draft(Traced(code=code, standing="unknown"), folder)
    # Of several registers the one that knows the version; of a shop with one, that one.
    found = [_trace_in(code, home) for home in homes]
    best = next((item for item in found if item.standing not in ("unknown", "draft-unknown")), found[0])
    return _trace_draft(best, folder) if best.issued is None else best


def _trace_in(code: PageCode, home: Path) -> Traced:
    """What one register knows of a code."""
    shelf = look_over(home)
    found = Traced(code=code, standing="unknown", shelf=shelf)
    name = next((version for version in shelf.versions if version.upper() == code.version), None)
    try:
        current = read_newest(shelf)
        issued = read_kept(shelf, name) if name else None
    except VersionRefused as error:
        return replace(found, damage=error)
    found = replace(found, current=current, higher=_find_higher(home, shelf))
    if issued is None or current is None:
        return replace(found, standing=_judge_unread(code, shelf))
    standing: Standing
    if issued.digest != code.digest:
        standing = "draft-before" if code.is_draft else "altered"
    elif code.is_draft:
        standing = "draft-as-issued"
    else:
        standing = "current" if issued.version == current.version else "older"
    # Of contents that are not on record nothing is known but that they differ.
    is_known = standing not in ("altered", "draft-before")
    changes = _compare(issued, current) if is_known and issued.version != current.version else None
    return replace(found, standing=standing, issued=issued, changes=changes)


def _judge_unread(code: PageCode, shelf: Shelf) -> Standing:
    """How a code stands whose version has no record here: by what other records say of it."""
    name = next((version for version in shelf.lost if version.upper() == code.version), None)
    if name is None:
        return "draft-unknown" if code.is_draft else "unknown"
    return "lost" if shelf.named[name].digest == code.digest else "lost-other"


def _find_higher(home: Path, shelf: Shelf) -> tuple[tuple[str, str], ...]:
    """The specs beside a register of a version above all on record: path and version."""
    if not shelf.versions:
        return ()
    found = []
    for path in sorted(home.parent.parent.glob("*.toml"))[:MOST_SPECS]:
        head = read_head(path)
        version = head.get("version")
        is_ours = head.get("code") == home.name and isinstance(version, str)
        if is_ours and version_key(str(version)) > version_key(shelf.versions[-1]):
            found.append((str(path), str(version)))
    return tuple(found)


def read_head(path: Path) -> Mapping[str, object]:
    """The [spec] of a spec as written; empty for a file that has none."""
    try:
        head = parse_source(path, decode_source(path, read_source(path))).get("spec")
    except SpecRejected:
        return {}
    return head if isinstance(head, dict) else {}


def _compare(issued: Issued, current: Issued) -> Comparison | None:
    """What changed since; None when this docgen cannot read one of the specs any more."""
    try:
        after = build_issued(current)[0]
    except SpecRejected:
        return None
    return compare_issued(issued, after, label_version(after))


def _trace_draft(traced: Traced, folder: Path) -> Traced:
    """A draft is looked for among the specs in the folder."""
    if not traced.code.is_draft:
        return traced
    for path in _specs(folder):
        spec = read_spec_or_none(path)
        if spec == traced.code.digest:
            return replace(traced, standing="draft-open", draft_spec=str(path))
    return replace(traced, standing="draft-unknown")


def _specs(folder: Path) -> list[Path]:
    found = [path for top in (folder, *inner_folders(folder)) for path in sorted(top.glob("*.toml"))]
    return found[:MOST_SPECS]


def read_spec_or_none(path: Path) -> str | None:
    """The digest of a spec as it is now; None for a file that is no spec."""
    try:
        return read_spec(path).digest if b"[spec]" in read_source(path) else None
    except (OSError, SpecRejected):
        return None


def save_spec(found: Trace, to: Path) -> tuple[Path, ...]:
    """Write the traced spec to a new file, and its drawings beside it under their own names; returns the paths.

    It comes from the register, else from inside the PDF, and is saved only when it is the one the pages were made from.
    A drawing that is there already with the same contents is left. Raises WriteFailed when a file is there already or
    cannot be written, NotReadable when the spec is nowhere,
    SpecRejected when what is inside the PDF is not to be trusted, CallRejected when `to` has the name of a drawing.
    """
    if found.file is not None and not found.file.inside.is_right:
        raise _reject_saving(found.file, *OTHER_SPEC)
    issued = next((item.issued for item in found.found if item.issued and item.standing in _EXACT), None)
    if issued is not None:
        source, drawings = issued.source, issued.files
    elif found.file is not None:
        source, drawings = _take_out(found.file, [item.code.digest for item in found.found])
    else:
        raise NotReadable("the spec of this code is neither on record here nor in a PDF at hand; nothing was saved")
    for name, _ in drawings:
        _check_room(name, to)
    return write_new_files(to.parent, {to.name: source, **dict(drawings)}, kept=[name for name, _ in drawings])


_EXACT: Final = ("current", "older", "draft-as-issued")
OTHER_SPEC: Final = (
    "the spec inside is not the one its pages were made from: their digests differ; nothing was saved",
    "trace the code of one page; where its version is issued, --save takes it from the register",
)


def _take_out(file: TracedFile, digests: list[str]) -> tuple[bytes, tuple[tuple[str, bytes], ...]]:
    """The spec inside a PDF and the drawings it names, and nothing else that is attached.

    Raises SpecRejected for a name that could lead elsewhere, and when these are not what the pages were made from.
    """
    try:
        spec = read_enclosed_spec(Path(file.path), file.enclosed)
    except SpecRejected as error:
        what = f"the spec inside cannot be read: {error.problems[0].what}; nothing was saved"
        raise _reject_saving(file, what, "ask who sent it for another copy") from error
    if any(digest != spec.digest for digest in digests):
        raise _reject_saving(file, *OTHER_SPEC)
    for name, _ in spec.files:
        if not all(map(is_plain_name, name.split("/"))):
            what = f"{quote_name(name)} inside is no plain name of a file; nothing was saved"
            raise _reject_saving(file, what, "take the files you trust out of it with a PDF reader")
    return spec.source, spec.files


def is_plain_name(name: str) -> bool:
    """Whether a name stays beside the spec on any disk: letters that print, no separators, no dot in front."""
    is_ours = bool(name) and name.isprintable() and not is_device(name)
    return is_ours and not name.startswith(".") and not any(c in "/\\:" for c in name)


def quote_name(name: str) -> str:
    """A name that a stranger chose, safe to show."""
    return f'"{shorten(name, 60)}"'


def _reject_saving(file: TracedFile, what: str, mend: str) -> SpecRejected:
    return SpecRejected([make_error(Place(path=file.path), what, mend)])


def _check_room(name: str, to: Path) -> None:
    """A drawing neither takes the place of the spec nor goes through a link out of the folder. Raises CallRejected."""
    if name.casefold() == to.name.casefold():
        mend = 'give --save another name, one that ends in ".toml"'
        raise CallRejected(f"a drawing of this spec is called {quote_name(name)}; {mend}")
    home = os.path.realpath(to.parent)
    inner = os.path.realpath(to.parent / name)
    if os.path.commonpath([home, inner]) != home:
        raise CallRejected(
            f"the drawing {quote_name(name)} would be written through a link out of {to.parent}; "
            "save into a folder of its own"
        )
