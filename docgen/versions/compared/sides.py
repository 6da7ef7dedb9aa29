"""What a person names -> a build: a spec, an issued version by its number, or a PDF of ours."""

import tempfile
from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path, PurePosixPath
from typing import Final, TypeVar

from docgen.assemble import Assembled
from docgen.checks import resolve_variants
from docgen.classes import dataclass
from docgen.problems import Place, Problem, SpecRejected, make_caution, shorten
from docgen.read import Spec, decode_source, parse_source, read_spec
from docgen.versions.kept.printed import KeptPages
from docgen.versions.kept.register import (
    REGISTER,
    Issued,
    VersionRefused,
    find_registers,
    list_versions,
    read_issued,
    refuse,
    register_of,
)
from docgen.write import Enclosed, NotReadable, read_enclosed

PDF: Final = ".pdf"
OURS: Final = "docgen "
Worked = TypeVar("Worked")


@dataclass(frozen=True, slots=True, kw_only=True)
class Named:
    """A build, or all variants of it, and what it is called in a comparison; of an issued version what names its pages,
    where that was kept."""

    builds: tuple[Assembled, ...]
    label: str
    pages: KeptPages | None = None

    @property
    def build(self) -> Assembled:
        """The build, or the first of its variants."""
        return self.builds[0]


def label_version(build: Assembled) -> str:
    """How an issued version is called."""
    return f"version {build.version}"


def build_issued(issued: Issued) -> tuple[Assembled, ...]:
    """The build of an issued version, or all its variants. SpecRejected when this docgen no longer takes its spec."""
    return resolve_variants(read_spec(issued.spec_path))


def pair_variants(before: Sequence[Assembled], after: Sequence[Assembled]) -> tuple[tuple[Assembled, Assembled], ...]:
    """Builds to be compared: each variant with its like; one without a like with the first of the other side."""
    old = {build.variant: build for build in before}
    return tuple((old.get(build.variant, before[0]), build) for build in after)


def read_pair(first: str, second: str, folder: Path) -> tuple[Named, Named]:
    """Both sides of `docgen compare A B`: a bare number is a version in the other one's register, or, with two numbers,
    in the only register below `folder`. Raises SpecRejected, VersionRefused, or NotReadable."""
    names = (first, second)
    found = [None if _is_number(name) else read_side(name) for name in names]
    home = next((_home_of(name, side, folder) for name, side in zip(names, found, strict=True) if side), None)
    home = home or _only_home(folder, first)
    return (found[0] or read_version(home, first), found[1] or read_version(home, second))


def _is_number(name: str) -> bool:
    return not Path(name).exists() and not name.lower().endswith((PDF, ".toml")) and "/" not in name


def read_side(name: str) -> Named:
    """A spec or a PDF as a build."""
    path = Path(name)
    if path.suffix.lower() == PDF and path.exists():
        return Named(builds=build_enclosed(path, read_enclosed(path)), label=path.name)
    builds = resolve_variants(read_spec(path))
    is_issued = path.parent.parent.parent.name == REGISTER and path.parent.name == builds[0].version
    return Named(builds=builds, label=label_version(builds[0]) if is_issued else path.name)


def read_version(home: Path, version: str) -> Named:
    """An issued version by its number; `home` is the folder of its build in a register. Raises VersionRefused when it is
    not there or damaged."""
    known = list_versions(home)
    if version not in known:
        what = f'no version "{shorten(version, 20)}" of {home.name} is issued'
        mend = f"issued are {', '.join(known)}" if known else "nothing is issued yet: docgen issue SPEC"
        raise refuse(home, what, mend)
    issued = read_issued(home / version)
    builds = build_issued(issued)
    return Named(builds=builds, label=label_version(builds[0]), pages=issued.pages)


def tell_draft(path: Path, build: Assembled) -> Problem | None:
    """Why the pages of a build are a draft's, None when its very contents are issued under its version.

    `path` is the spec's. What is damaged in the register makes a draft too, and is told; nothing ever blocks a draft.
    """
    home = home_of(path, build.code)
    what = f"the pages say DRAFT: version {build.version} of {build.code} is not issued"
    place = Place(path=str(path))
    if build.version not in list_versions(home):
        return make_caution(place, what, f"once it is right: docgen issue {path}")
    try:
        issued = read_issued(home / build.version)
    except VersionRefused as error:
        return make_caution(error.problem.place, f"the pages say DRAFT: {error.problem.what}", error.problem.mend)
    if (issued.source, issued.files) == (build.source, build.files):
        return None
    what = f"the pages say DRAFT: version {build.version} was issued on {issued.date} with other contents"
    return make_caution(place, what, f"raise the version; docgen compare {build.version} {path} tells what differs")


def home_of(path: Path, code: str) -> Path:
    """The folder of the versions of the spec at `path`; of an issued copy it is in the register it lies in."""
    parents = path.absolute().parents
    if len(parents) > 2 and parents[2].name == REGISTER and parents[1].name == code:
        return parents[1]
    return register_of(path) / code


def _home_of(name: str, side: Named, folder: Path) -> Path:
    """In the register beside the spec; of a PDF, or where that has none, in the nearest one below the folder."""
    home = home_of(Path(name), side.build.code)
    others = () if home.is_dir() else find_registers(folder, home.name)
    return others[0] if others else home


def _only_home(folder: Path, version: str) -> Path:
    """In the register below a folder when only one build is issued in it."""
    homes = [item for item in (folder / REGISTER).glob("*") if item.is_dir()]
    if len(homes) == 1:
        return homes[0]
    what = f'"{shorten(version, 40)}" is no file, and it is not clear of which build it would be a version'
    raise refuse(folder, what, "name one side as a spec, like: docgen compare 2 field-bag.toml")


def build_enclosed(path: Path, enclosed: Enclosed) -> tuple[Assembled, ...]:
    """The build of the spec inside a PDF of ours. Raises NotReadable when there is none, SpecRejected when it is
    wrong."""
    return _work_on_enclosed(path, enclosed, lambda at: resolve_variants(read_spec(at)))


def read_enclosed_spec(path: Path, enclosed: Enclosed) -> Spec:
    """The spec inside a PDF of ours, as written, with the drawings it names. Raises as `build_enclosed` does."""
    return _work_on_enclosed(path, enclosed, read_spec)


def _work_on_enclosed(path: Path, enclosed: Enclosed, work: Callable[[Path], Worked]) -> Worked:
    """What `work` makes of the spec, put into a folder of its own with all that is attached beside it."""
    name = spec_name_of(path, enclosed)
    with tempfile.TemporaryDirectory(prefix="docgen-") as folder:
        try:
            for file, content in enclosed.files:
                place = Path(folder, *parts_inside(file))
                place.parent.mkdir(parents=True, exist_ok=True)
                place.write_bytes(content)
        except (OSError, ValueError) as error:
            raise NotReadable(f"what is attached to {path} cannot be taken out of it") from error
        try:
            return work(Path(folder, *parts_inside(name)))
        except SpecRejected as error:
            problems = [_place_enclosed(item, path, Path(folder)) for item in error.problems]
            raise SpecRejected(problems) from error


def _place_enclosed(problem: Problem, pdf: Path, folder: Path) -> Problem:
    """The problem at the file inside the PDF, the spec or a part that it brings in."""
    name = Path(problem.place.path)
    inside = name.relative_to(folder) if name.is_relative_to(folder) else name
    return replace(problem, place=replace(problem.place, path=f"{inside.as_posix()} in {pdf}"))


def spec_name_of(path: Path, enclosed: Enclosed) -> str:
    """The name of the spec inside a PDF of ours. Raises NotReadable."""
    specs = [name for name, held in enclosed.files if name.lower().endswith(".toml") and not _is_part(name, held)]
    if not enclosed.creator.startswith(OURS) or len(specs) != 1:
        raise NotReadable(f"{path} was not made by docgen: it has no build spec inside")
    return specs[0]


def _is_part(name: str, held: bytes) -> bool:
    """Whether an attached file is a shop's own part that the spec brings in."""
    try:
        document = parse_source(name, decode_source(name, held))
    except SpecRejected:
        return False
    return "part" in document and "spec" not in document


def parts_inside(name: str) -> tuple[str, ...]:
    """A name from a PDF as a path that stays where it is put."""
    parts = PurePosixPath(name.replace("\\", "/").replace(":", "-")).parts
    return tuple(part for part in parts if part not in ("/", "..", ".")) or ("file",)
