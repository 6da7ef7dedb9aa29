"""What a person names -> a build: a spec, an issued version by its number, or a PDF of ours."""

from collections.abc import Sequence
from pathlib import Path
from typing import Final

from docgen.assemble import Assembled
from docgen.checks import resolve_variants
from docgen.classes import dataclass
from docgen.problems import Place, Problem, make_caution, shorten
from docgen.read import read_spec
from docgen.versions.kept.printed import KeptPages
from docgen.versions.kept.register import (
    BRING_BACK,
    REGISTER,
    Issued,
    VersionRefused,
    find_registers,
    refuse,
    register_of,
)
from docgen.versions.kept.shelf import look_over, read_kept
from docgen.write import read_enclosed

PDF: Final = ".pdf"


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
        from docgen.versions.compared.inside import build_enclosed

        return Named(builds=build_enclosed(path, read_enclosed(path)), label=path.name)
    builds = resolve_variants(read_spec(path))
    is_issued = path.parent.parent.parent.name == REGISTER and path.parent.name == builds[0].version
    return Named(builds=builds, label=label_version(builds[0]) if is_issued else path.name)


def read_version(home: Path, version: str) -> Named:
    """An issued version by its number; `home` is the folder of its build in a register. Raises VersionRefused when it is
    not there or damaged."""
    shelf = look_over(home)
    if version not in shelf.versions:
        what = f'no version "{shorten(version, 20)}" of {home.name} is issued'
        mend = (
            f"issued are {', '.join(shelf.versions)}" if shelf.versions else "nothing is issued yet: docgen issue SPEC"
        )
        if version in shelf.lost:
            what, mend = f"version {version} of {home.name} was issued, and is lost", BRING_BACK
        raise refuse(home, what, mend)
    issued = read_kept(shelf, version)
    builds = build_issued(issued)
    return Named(builds=builds, label=label_version(builds[0]), pages=issued.pages)


def tell_draft(path: Path, build: Assembled) -> Problem | None:
    """Why the pages of a build are a draft's, None when its very contents are issued under its version.

    `path` is the spec's. What is damaged in the register makes a draft too, and is told; nothing ever blocks a draft.
    """
    home = home_of(path, build.code)
    what = f"the pages say DRAFT: version {build.version} of {build.code} is not issued"
    place = Place(path=str(path))
    shelf = look_over(home)
    if build.version not in shelf.versions:
        return make_caution(place, what, f"once it is right: docgen issue {path}")
    try:
        issued = read_kept(shelf, build.version)
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
