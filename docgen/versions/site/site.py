"""The register -> a folder of small web pages at the addresses that the codes on printed pages carry.

A code with a shop's link reads LINK/CODE/VERSION/DIGEST/DOCUMENT/PAGE, all in capitals. A plain static host serves that
as the folder of this name, so each printed page is DIR/CODE/VERSION/DIGEST/DOCUMENT/PAGE/index.html; DIR is what the
link leads to. All links between the pages are relative. The code of a care card leads to a page for customers, the same
for all cards of a language; codes of former times named their sheet too, and lead to that page as well. How many pages
a document had when it was printed hangs on the paper, the orders and the pieces asked for, so there are some pages to
spare.
"""

import re
import warnings
from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Final

from docgen.assemble import Assembled
from docgen.classes import dataclass
from docgen.layout_files import find_layouts, list_languages, use_layouts
from docgen.pages import (
    CARD,
    CustomerWords,
    find_layout_problems,
    lay_out,
    lay_out_joint_list,
    name_card,
    tell_customer,
)
from docgen.pages.marks.page import Document, Packet
from docgen.plan import join_plans, plan_work
from docgen.problems import CallRejected, SpecRejected, shorten
from docgen.resolve import Build, Choices
from docgen.versions.compared.sides import build_issued
from docgen.versions.kept.codes import find_document
from docgen.versions.kept.register import Issued, places_of_registers
from docgen.versions.kept.shelf import ShelfWarning, list_versions, look_over, read_kept, tell_shelf
from docgen.versions.site.site_customer import is_card, name_stack
from docgen.versions.site.site_index import make_builds_pages
from docgen.versions.site.site_pages import make_pages
from docgen.versions.site.site_values import Published, PublishedVersion, Stack
from docgen.versions.site.site_words import hide_private
from docgen.write import FILE_MOST, GENERATOR, PNG_MARK, finish_documents, read_ours, replace_after

PDF_CREATOR: Final = b"/Creator (docgen "
PUBLIC_PDFS: Final = ("pattern", "cutting-list", "build-sheet", "care-card")
LEAST_PAGES: Final = {"PATTERN": 24, "CUTTING-LIST": 6, "BUILD-SHEET": 16, "CARE-CARD": 24, "CHANGES": 4}
"""Pages of a document of a version that this docgen no longer reads; the last two also of one that it does read."""
OPEN_ENDED: Final = ("CARE-CARD", "CHANGES")
CHANGES: Final = Document(name="changes", title="", pages=())
"""The cover of `docgen make --since`, whose pages are not known here."""
Choose = Callable[[Build, Path], Choices]
Laid = tuple[str, tuple[tuple[Build, Packet], ...], tuple[CustomerWords, ...]]
PAGE_FOLDER: Final = re.compile(r"[1-9][0-9]{0,5}")


@dataclass(frozen=True, slots=True, kw_only=True)
class SiteOutcome:
    """What `write_site` did: `written` are the files that are new or changed, of `files` in all.

    `links` are the addresses that `folder` must be found at; `left_out` builds of which no version names a link;
    `unread` versions whose spec this docgen no longer takes, so that nothing is told of what changed.
    """

    folder: Path
    files: int
    written: tuple[Path, ...]
    links: tuple[str, ...]
    left_out: tuple[str, ...]
    unread: tuple[str, ...]


def write_site(
    folder: Path, source: Path, *, choose: Choose, has_pdfs: bool = False, progress: Callable[[str], None] | None = None
) -> SiteOutcome:
    """Write the pages of every build that is issued in `source` or two folders down and whose spec names a link.

    `choose` tells how a build is printed whose spec stands, or stood, at a path. With `has_pdfs` also pattern, cutting
    list, build sheet and care card of every version, without the spec inside and without prices, times or notes on what
    is bought. Other files in `folder` stay; one in the way of a page is never overwritten. Raises CallRejected,
    VersionRefused, SpecRejected for faulty layouts, or WriteFailed; then `folder` is as it was.
    """
    say = progress or (lambda words: None)
    registers = find_issued(source)
    found = [_read_build(code, register, folder, choose, say) for code, register in sorted(registers.items())]
    public = [build for build in found if build.link]
    if not public:
        what = f"no spec issued in {shorten(str(source))} names a [shop] link, so that no code leads to a page"
        raise CallRejected(f'{what}; write link = "https://..." under [shop], and issue the next version')
    contents: dict[str, bytes] = {}
    for build in public:
        say(f"writing the pages of {build.code}")
        pdfs = _make_pdfs(build, registers[build.code], choose, say) if has_pdfs else {}
        contents |= pdfs | make_pages(build, {name: len(content) for name, content in pdfs.items()})
    contents |= make_builds_pages(public)
    written = replace_after(folder, lambda: _find_fresh(folder, contents))
    return SiteOutcome(
        folder=folder,
        files=len(contents),
        written=written,
        links=tuple(dict.fromkeys(capital_link(build.link) for build in public)),
        left_out=tuple(build.code for build in found if not build.link),
        unread=tuple(f"{item.code} {one.issued.version}" for item in public for one in item.versions if not one.builds),
    )


def _find_fresh(folder: Path, contents: Mapping[str, bytes]) -> dict[str, bytes]:
    """The files that are new or changed."""
    return {name: content for name, content in contents.items() if not _is_there(folder / name, content)}


def capital_link(link: str) -> str:
    """Where a browser arrives: scheme and host do not tell capitals apart (RFC 3986, 6.2.2.1), the path does."""
    scheme, _, rest = link.rstrip("/").partition("://")
    host, slash, path = rest.partition("/")
    return f"{scheme.lower()}://{host.lower()}{slash}{path.upper()}"


def find_issued(source: Path) -> dict[str, Path]:
    """Code -> register, of all builds issued in a folder and two folders down. Raises CallRejected for none at all, or
    for a build that is issued in two places."""
    if not source.is_dir():
        raise CallRejected(f"there is no folder {shorten(str(source))}")
    found: dict[str, Path] = {}
    for register in places_of_registers(source):
        for code in sorted(item.name for item in register.glob("[!.]*") if item.is_dir()):
            if code in found:
                what = f"{code} is issued in two places: {found[code] / code} and {register / code}"
                raise CallRejected(f"{what}; name the folder of one of them with --from FOLDER")
            if list_versions(register / code):
                found[code] = register
    if not found:
        what = f"nothing is issued in {shorten(str(source))}, or in the folders inside"
        raise CallRejected(f"{what}; docgen issue SPEC, or name another with --from FOLDER")
    return found


def _read_build(code: str, register: Path, folder: Path, choose: Choose, say: Callable[[str], None]) -> Published:
    say(f"reading the versions of {code}")
    shelf = look_over(register / code)
    for line in tell_shelf(shelf):
        warnings.warn(line, ShelfWarning, stacklevel=2)
    issued = [read_kept(shelf, version) for version in shelf.versions]
    versions = tuple(_read_version(one, register.parent, folder, choose) for one in issued)
    shops = [one.builds[0].shop for one in versions if one.builds]
    links = [shop.link for shop in shops if shop.link]
    return Published(
        code=code, versions=versions, link=links[-1] if links else "", shop=shops[-1].name if shops else ""
    )


def _read_version(issued: Issued, home: Path, folder: Path, choose: Choose) -> PublishedVersion:
    """A version as its pages need it; one that is no longer understood has no builds, and pages by a guess."""
    try:
        builds = build_issued(issued)
    except SpecRejected:
        builds = ()
    paper, packets, cards = ("", (), ()) if not builds else _lay_out_all(builds, issued, home, choose)
    if not packets:
        builds = ()
    stacks = [_stack_of(document, build) for build, packet in packets for document in packet.documents]
    if packets:
        stacks += [_stack_of(CHANGES, build) for build in builds]
        named = {name_stack(words, builds[0].care.language): words.variant for words in cards}
        stacks += [Stack(name=name, pages=(), variant=variant) for name, variant in named.items()]
    else:
        stacks += [Stack(name=name, pages=()) for name in LEAST_PAGES]
    at = folder / issued.code.upper() / issued.version.upper() / issued.digest.upper()
    return PublishedVersion(issued=issued, builds=builds, paper=paper, stacks=_add_spare(stacks, at), cards=cards)


def _lay_out_all(builds: tuple[Assembled, ...], issued: Issued, home: Path, choose: Choose) -> Laid:
    """The paper, the packet of each variant, with that of the joint cutting list, and what customers are told; none when
    it cannot be laid out."""
    spec = home / issued.spec_name
    layouts = find_layouts(spec)
    problems = find_layout_problems(layouts)
    if problems:
        raise SpecRejected(problems)
    with use_layouts(layouts):
        choices = choose(builds[0], spec)
        try:
            plans = [plan_work(build) for build in builds]
            packets = [(plan.build, lay_out(plan, choices=choices, date=issued.date)) for plan in plans]
            if len(plans) > 1:
                joint = join_plans(plans, issued.title)
                packets.append((joint.build, lay_out_joint_list(joint, choices=choices, date=issued.date)))
        except SpecRejected:
            return "", (), ()
        own = builds[0].care.language
        named = [language for language in list_languages() if language == own or name_card(language, own) != CARD]
        cards = [tell_customer(plan, language) for plan in plans for language in named]
    return choices.paper, tuple(packets), tuple(cards)


def _stack_of(document: Document, build: Build) -> Stack:
    name = document.name.upper()
    name = f"{name}.{build.variant.upper()}" if build.variant else name
    return Stack(name=name, pages=tuple(page.sheet for page in document.pages), variant=build.variant)


def _add_spare(stacks: Iterable[Stack], at: Path) -> tuple[Stack, ...]:
    """Each document with pages to spare, and at least those that an earlier run has written: none is left to say
    "current" for ever."""
    found: dict[str, Stack] = {}
    for stack in stacks:
        found.setdefault(stack.name, stack)
    for name in _list_folders(at):
        if find_document(name.partition(".")[0]):
            found.setdefault(name, Stack(name=name, pages=(), variant=name.partition(".")[2].lower()))
    return tuple(_spare(stack, at) for stack in found.values())


def _spare(stack: Stack, at: Path) -> Stack:
    kind, count = stack.name.partition(".")[0], len(stack.pages)
    if is_card(stack) and kind not in LEAST_PAGES:
        return replace(stack, numbers=(1,))
    least = LEAST_PAGES.get(kind, 0) if kind in OPEN_ENDED or not count else 0
    known = [int(name) for name in _list_folders(at / stack.name) if PAGE_FOLDER.fullmatch(name)]
    most = max(count + max(2, count // 2), least)
    return replace(stack, numbers=tuple(sorted({*range(1, most + 1), *known})))


def _list_folders(folder: Path) -> list[str]:
    try:
        return sorted(item.name for item in folder.iterdir() if item.is_dir())
    except OSError:
        return []


def _make_pdfs(build: Published, register: Path, choose: Choose, say: Callable[[str], None]) -> dict[str, bytes]:
    """Name -> bytes of the PDFs of every version, made from builds without what is private, and without the spec."""
    pdfs: dict[str, bytes] = {}
    for version in build.versions:
        if not version.builds:
            continue
        say(f"drawing version {version.issued.version} of {build.code}")
        spec = register.parent / version.issued.spec_name
        with use_layouts(find_layouts(spec)):
            choices = choose(version.builds[0], spec)
            for one in version.builds:
                packet = lay_out(plan_work(hide_private(one)), choices=choices, date=version.issued.date)
                only = [document.name for document in packet.documents if document.name in PUBLIC_PDFS]
                held = finish_documents(replace(packet, source=b"", files=()), only=only)
                ending = f"-{one.variant}.pdf" if one.variant else ".pdf"
                pdfs |= {f"{version.address}{name.removesuffix('.pdf')}{ending}": held[name] for name in held}
    return pdfs


def _is_there(path: Path, content: bytes) -> bool:
    """True when a file has these very bytes. Raises WriteFailed for one that docgen has not written."""
    mark = {".pdf": PDF_CREATOR, ".png": PNG_MARK}.get(path.suffix, GENERATOR)
    return read_ours(path, mark, max(len(content), FILE_MOST)) == content


def describe_site(outcome: SiteOutcome) -> str:
    """What was written, where it belongs, and what is not in it."""
    count = len(outcome.written)
    lines = [f"wrote {outcome.folder}: {outcome.files} files, {count or 'none'} of them new or changed"]
    lines += [f"put this folder where {link}/ leads, capitals as they stand here" for link in outcome.links]
    if outcome.left_out:
        lines.append(f"left out, since none of their versions names a [shop] link: {', '.join(outcome.left_out)}")
    if outcome.unread:
        names = ", ".join(outcome.unread)
        lines.append(f"without what changed, since this docgen no longer takes the spec: {names}")
    return "\n".join(lines)
