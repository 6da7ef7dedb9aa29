"""The web pages of issued versions: at the addresses in the codes, small, well-formed, true, and without what is private.

HTML is held to html.parser, with the void elements and optional end tags of the HTML Living Standard, 13.1.2.
"""

import os
import re
from dataclasses import replace
from html.parser import HTMLParser
from urllib.parse import unquote, urljoin

import pytest

from docgen.calls.asked import SiteCall
from docgen.calls.site import publish_site
from docgen.checks import resolve_variants
from docgen.layout_files import list_languages
from docgen.pages import choices_of, lay_out
from docgen.pages.care.care_words import load_care_words
from docgen.pages.marks.page import TextMark
from docgen.plan import plan_work
from docgen.problems import CallRejected
from docgen.read import Order, read_spec
from docgen.versions.compared.changes import Fact
from docgen.versions.kept.issue import record_version
from docgen.versions.kept.register import VersionRefused
from docgen.versions.site.site import capital_link, describe_site
from docgen.versions.site.site_customer import find_address
from docgen.versions.site.site_values import take
from docgen.versions.site.site_words import is_public
from docgen.write import WriteFailed

VOID = {"meta", "br"}
LIMIT = 6 * 1024
HOSTILE = """'"><script>alert(1)</script>&amp;{{ 7*7 }}<b onclick=x>"""

SPEC = """\
[spec]
code = "{code}"
title = '''{title}'''
version = "{version}"
changed = '''{changed}'''

[shop]
name = '''{shop}'''
contact = "private-contact"
{link}

[costs]
currency = "private-crowns"
labour = "41.5 per hour"

[materials.hide]
title = "{hide}"
kind = "leather"
thickness = "{thickness}"
price = "{price} per sq ft"
note = "private-hide-note"

[pieces.base]
title = '''{base}'''
of = "hide"
shape = "rectangle"
size = ["{width}", "6 in"]
folds = [{{ at = "2 in from top", note = "{fold}" }}]

[pieces.lid]
title = "Lid"
of = "hide"
shape = "rectangle"
size = ["4 in", "3 in"]
note = "{note}"

{more}
[[steps]]
do = "Cut the pieces."
pieces = ["base", "lid"]
minutes = {minutes}
note = "{note}"
"""
PLAIN = {
    "code": "tray",
    "title": "Valet tray",
    "version": "1",
    "changed": "",
    "shop": "Alder bench",
    "link": 'link = "https://example.org/b"',
    "hide": "Bridle hide",
    "thickness": "3 mm",
    "price": "11.5",
    "base": "Base",
    "width": "8 in",
    "fold": "private-fold",
    "note": "private-note",
    "minutes": "47",
    "more": "",
}
OTHER = {
    "price": "12.25",
    "fold": "private-crease",
    "note": "private-remark",
    "minutes": "53",
    "changed": "Wider base.",
}
PRIVATE = ("private", "11.5", "12.25", "41.5", "47", "53", "minute", "price", "labour", "cost", "waste")


@pytest.fixture
def issue(tmp_path):
    """issue(day=..., key=value, ...) -> the version, issued below specs/."""

    def call(day="2026-03-01", **words):
        path = tmp_path / "specs" / f"{words.get('code', 'tray')}.toml"
        path.parent.mkdir(exist_ok=True)
        path.write_text(SPEC.format(**{**PLAIN, **words}), encoding="utf-8")
        return record_version(path, resolve_variants(read_spec(path))[0], day).issued

    return call


@pytest.fixture
def write(tmp_path):
    """write(...) -> the outcome of the site in B/, from specs/."""
    return lambda **options: publish_site(SiteCall(folder=tmp_path / "B", source=tmp_path / "specs", **options))


class Reading(HTMLParser):
    """One page: its links, words and tags; raises AssertionError where tags do not nest."""

    def __init__(self, text):
        super().__init__(convert_charrefs=True)
        self.open, self.links, self.words, self.tags, self.attributes = [], [], [], set(), []
        self.feed(text)
        self.close()
        assert self.open == []

    def handle_starttag(self, tag, attrs):
        self.tags.add(tag)
        names = [name for name, _ in attrs]
        assert len(set(names)) == len(names)
        self.attributes += names
        self.links += [value for name, value in attrs if name in ("href", "src")]
        if tag not in VOID:
            self.open.append(tag)

    def handle_endtag(self, tag):
        assert self.open.pop() == tag

    def handle_data(self, data):
        if "style" not in self.open:
            self.words.append(data)

    @property
    def said(self):
        return " ".join(" ".join(self.words).split())


def pages_of(folder):
    return {
        path.relative_to(folder).as_posix(): path.read_text(encoding="utf-8") for path in folder.rglob("index.html")
    }


def said_of(folder, name):
    return Reading((folder / name / "index.html").read_text(encoding="utf-8")).said


def place_of(issued):
    return f"{issued.code}/{issued.version}/{issued.digest}".upper()


def test_every_code_of_every_page_leads_to_a_page_on_any_usual_paper(issue, write, tmp_path):
    issued = issue()
    write()
    (build,) = resolve_variants(read_spec(issued.spec_path))
    for paper in ("letter", "a4", "300x400 mm"):
        choices = replace(choices_of(build.printing), paper=paper)
        packet = lay_out(plan_work(build), choices=choices, date="2026-03-31")
        payloads = {page.payload for document in packet.documents for page in document.pages}
        assert len(payloads) > 5
        for payload in payloads:
            assert (tmp_path / "B" / payload.removeprefix("HTTPS://EXAMPLE.ORG/B/") / "index.html").is_file(), payload


def test_pages_are_well_formed_small_and_all_their_links_lead_to_files(issue, write, tmp_path):
    for version, more in (("1", {}), ("2", {**OTHER, "width": "9 in"}), ("10", {**OTHER, "width": "10 in"})):
        issue(version=version, **more)
    issue(code="cup", title="Cup", link='link = "https://example.org/b"')
    write(pdfs=True)
    folder = tmp_path / "B"
    pages = pages_of(folder)
    assert len(pages) > 100
    for name, text in pages.items():
        assert len(text.encode("utf-8")) < LIMIT, name
        assert text.startswith("<!doctype html>\n")
        reading = Reading(text)
        assert not reading.tags & {"script", "img", "iframe", "link", "object", "form"}
        assert not [attribute for attribute in reading.attributes if attribute.startswith("on")]
        for link in reading.links:
            assert not re.match(r"[a-z]+:|/", link)
            target = unquote(urljoin(f"/{name}", link)).removeprefix("/")
            path = folder / target / "index.html" if link.endswith("/") else folder / target
            assert path.is_file(), (name, link)


def test_a_page_of_the_current_version_says_so_and_what_is_on_it(issue, write, tmp_path):
    issued = issue()
    write()
    said = said_of(tmp_path / "B", f"{place_of(issued)}/PATTERN/2")
    assert said == (
        "Valet tray, version 1: Pattern, page 2 Alder bench Valet tray Pattern, page 2 of version 1, issued 2026-03-01 "
        "Current version 1 is the one to work by Sheet A That is its name where the whole pattern is printed on letter "
        "paper. Base More on version 1 All versions "
        f"Digest {issued.digest}: the same stands beside the code on the page."
    )


def test_a_page_of_an_older_version_says_which_replaced_it_and_what_is_still_right(issue, write, tmp_path):
    first = issue()
    second = issue(day="2026-05-02", version="2", width="8 1/4 in")
    write()
    folder = tmp_path / "B" / place_of(first) / "PATTERN"
    reading = Reading((folder / "2" / "index.html").read_text(encoding="utf-8"))
    assert reading.links[0] == f"../../../../2/{second.digest}/"
    assert reading.said == (
        "Valet tray, version 1: Pattern, page 2 Alder bench Valet tray Pattern, page 2 of version 1, "
        "issued 2026-03-01 Replaced by version 2 issued 2026-05-02 · see version 2 "
        "Before you work by this page, see what changed. Sheet A "
        "That is its name where the whole pattern is printed on letter paper. "
        "Templates on it, held against version 2: "
        "Base : cut again (its outline and the marks on it changed) "
        "All that changed since version 1 All versions "
        f"Digest {first.digest}: the same stands beside the code on the page."
    )
    assert "held against version 2: Lid : still right All that changed" in said_of(folder, "3")


def test_the_page_of_a_version_tells_what_changed_in_the_makers_words(issue, write, tmp_path):
    first = issue()
    second = issue(day="2026-05-02", version="2", width="8 1/4 in", changed="Wider base.")
    write()
    old, new = (said_of(tmp_path / "B", place_of(issued)) for issued in (first, second))
    told = (
        "Changed from version 1 to 2 piece Base width: 8 1/4 in (209.6 mm), was 8 in (203.2 mm); 1/4 in (6.4 mm) more "
        "area: "
    )
    for said in (old, new):
        assert told in said
        assert "New in version 2, in the maker's words: Wider base." in said
        assert "Base : cut again (its outline" in said
        assert "Still right: Lid Changed from" in said
    assert "Replaced by version 2" in old
    assert "Current version 2 is the one to work by" in new


def test_a_number_is_never_parted_from_its_unit(issue, write, tmp_path):
    """On a telephone "8 1/4 in" parted after its 8 would be read as 1/4 in."""
    earlier = issue()
    issued = issue(version="2", width="8 1/4 in", changed="Base 1/4 in wider.")
    write()
    page = (tmp_path / "B" / place_of(issued) / "index.html").read_text(encoding="utf-8")
    assert "8\u00a01/4\u00a0in (209.6\u00a0mm), was 8\u00a0in" in page
    first = (tmp_path / "B" / place_of(earlier) / "index.html").read_text(encoding="utf-8")
    assert "Base 1/4\u00a0in wider." in first


def test_a_care_card_leads_to_a_page_for_customers_that_stays_right_for_what_it_came_with(issue, write, tmp_path):
    first = issue()
    issue(version="2", **OTHER)
    write()
    folder = tmp_path / "B" / place_of(first)
    said = said_of(folder, "CARE-CARD/1")
    phrases = load_care_words("en").advice
    wanted = [f"{phrases[name].heading} {phrases[name].text}" for name in ("first-plain", "never", "wet", "dry")]
    assert said.startswith("Valet tray: Care card Valet tray made by Alder bench version 1 Care card At first ")
    assert [words for words in wanted if words.replace("\u00a0", " ") not in said] == []
    assert said.endswith(
        "Repair A loose thread or a small tear is easiest to mend early. Ask the workshop: private-contact "
        "Contact private-contact Pflegekarte Tarjeta de cuidados Carte d’entretien Scheda di cura"
    )
    for words in ("Replaced", "Digest", first.digest, "2026", "All versions", "PDF"):
        assert words not in said
    # Cards that were printed with the number of their sheet lead to the same words.
    assert {said_of(folder, f"CARE-CARD/{number}") for number in range(1, 25)} == {said}
    assert "CARE-CARD/1/" in Reading((folder / "index.html").read_text(encoding="utf-8")).links


def test_a_page_for_customers_is_in_the_language_of_the_card_and_leads_to_the_others(issue, write, tmp_path):
    issued = issue(more='[care]\nlanguage = "de"\nextra = "Nur für Stifte."\n')
    write()
    folder = tmp_path / "B" / place_of(issued)
    build = resolve_variants(read_spec(issued.spec_path))[0]
    pages = {}
    for language in list_languages():
        orders = [Order(language=language)]
        packet = lay_out(plan_work(build), choices=choices_of(build.printing), date="2026-03-31", orders=orders)
        (document,) = (document for document in packet.documents if document.name == "care-card")
        place = document.pages[0].payload.removeprefix("HTTPS://EXAMPLE.ORG/B/")
        pages[language] = (tmp_path / "B" / place / "index.html").read_text(encoding="utf-8")
    assert not (folder / "CARE-CARD-DE").exists()
    for language, text in pages.items():
        said = Reading(text).said
        labels = load_care_words(language).labels
        assert f'<html lang="{language}">' in text
        assert f"Valet tray {labels['maker']} Alder bench {labels['version']} 1 {labels['card']}" in said
        # The shop's own words are in the language of the spec.
        own = "<bdi>" if language == "de" else '<bdi lang="de">'
        assert f"{own}Nur für Stifte.</bdi>" in text
        others = [load_care_words(other).labels["card"] for other in pages if other != language]
        assert said.endswith(" ".join([labels["contact"], "private-contact", *others])), language


@pytest.mark.parametrize(
    ("contact", "address"),
    [
        ("bench@alder-lane.example", "mailto:bench@alder-lane.example"),
        ("https://alder-lane.example/repairs", "https://alder-lane.example/repairs"),
        ("Alder Lane 3, or bench@alder-lane.example", ""),
        ("http://alder-lane.example", ""),
        ("javascript:alert(1)", ""),
        ("a@b.example?bcc=c@d.example", ""),
        ('https://alder-lane.example/"onclick=x', ""),
    ],
)
def test_a_tap_on_the_contact_opens_a_mail_or_the_site_and_nothing_else(contact, address):
    assert find_address(contact) == address


def test_versions_are_counted_as_a_person_counts_them(issue, write, tmp_path):
    for version in ("9", "10", "2"):
        issue(version=version, changed=f"Change {version}.")
    write()
    said = said_of(tmp_path / "B", "TRAY")
    assert said == (
        "Valet tray, all versions Alder bench Valet tray All versions, newest first "
        "version 10 current issued 2026-03-01: Change 10. version 9 issued 2026-03-01: Change 9. "
        "version 2 issued 2026-03-01: Change 2. All builds"
    )


def test_nothing_private_is_on_any_page(issue, write, tmp_path):
    issue()
    issue(version="2", width="8 1/4 in", thickness="3.5 mm", **OTHER)
    write()
    pages = pages_of(tmp_path / "B")
    assert pages
    for name, text in pages.items():
        said = re.sub(r"[0-9A-F]{10}", "", Reading(text).said).lower()
        if "CARE-CARD" in name:
            said = said.replace("private-contact", "")  # which is there for the customer, as on the card
        numbered = re.sub(r"page \d+", "", said)
        assert [word for word in PRIVATE if word in numbered] == [], name


IN_PAPERS = ("11.5", "41.5", "47min", "crowns", "hide-note")


def test_the_pdfs_hold_neither_the_spec_nor_what_is_private(issue, write, tmp_path):
    from pypdf import PdfReader

    issued = issue()
    write(pdfs=True)
    folder = tmp_path / "B" / place_of(issued)
    names = sorted(path.name for path in folder.glob("*.pdf"))
    assert names == ["build-sheet.pdf", "care-card.pdf", "cutting-list.pdf", "pattern.pdf"]
    for name in names:
        reader = PdfReader(folder / name)
        assert not reader.attachments
        words = "".join("".join(page.extract_text().split()) for page in reader.pages)
        if name != "care-card.pdf":
            assert issued.digest in words
        assert [word for word in IN_PAPERS if word in words] == [], name
    assert "Pattern PDF, " in said_of(tmp_path / "B", place_of(issued))
    # The papers of the workshop do hold it, so that the words above are those to look for.
    (build,) = resolve_variants(read_spec(issued.spec_path))
    packet = lay_out(plan_work(build), choices=choices_of(build.printing), date="2026-03-31")
    marks = [mark for document in packet.documents for page in document.pages for mark in page.marks]
    words = "".join("".join(mark.text.split()) for mark in marks if isinstance(mark, TextMark))
    assert [word for word in IN_PAPERS if word in words] == list(IN_PAPERS)


def test_the_same_register_gives_the_same_bytes_and_a_second_run_writes_nothing(issue, write, tmp_path):
    issue()
    issue(version="2", **OTHER)
    first = write(pdfs=True)
    assert len(first.written) == first.files
    again = publish_site(SiteCall(folder=tmp_path / "other", source=tmp_path / "specs", pdfs=True))
    for path in again.written:
        assert path.read_bytes() == (tmp_path / "B" / path.relative_to(tmp_path / "other")).read_bytes()
    assert write(pdfs=True).written == ()


def test_hostile_words_stay_words(issue, write, tmp_path):
    first = issue(title=HOSTILE, shop=HOSTILE, base=HOSTILE, changed=HOSTILE)
    issue(version="2", title=HOSTILE, shop=HOSTILE, base=HOSTILE, changed=HOSTILE, width="9 in")
    write()
    for name, text in pages_of(tmp_path / "B").items():
        reading = Reading(text)
        assert "script" not in reading.tags, name
        assert "b" not in reading.tags, name
        assert "49" not in reading.said, name
    assert HOSTILE in said_of(tmp_path / "B", "TRAY")
    assert HOSTILE in said_of(tmp_path / "B", f"{place_of(first)}/PATTERN/2")


def test_long_words_of_many_bytes_stay_under_the_limit(issue, write, tmp_path):
    long = "&é" * 95
    for version in range(1, 9):
        pieces = "".join(
            f'[pieces.p{n}]\ntitle = "{long}"\nof = "hide"\nshape = "rectangle"\nsize = ["{version + n} mm", "60 mm"]\n'
            for n in range(40, 52)
        )
        issue(version=str(version), title=long, shop=long, base=long, changed="&" * 900, more=pieces)
    write()
    pages = pages_of(tmp_path / "B")
    assert max(len(text.encode("utf-8")) for text in pages.values()) < LIMIT
    # The index of the build goes on, and every version is on it once.
    listed = [
        link
        for name, text in pages.items()
        if re.fullmatch(r"TRAY/(_\d+/)?index.html", name)
        for link in re.findall(r'href="(?:\.\./)?(\d+)/', text)
    ]
    assert sorted(map(int, listed)) == list(range(1, 9))
    assert "TRAY/_2/index.html" in pages


def test_other_files_stay_and_one_in_the_way_is_never_overwritten(issue, write, tmp_path):
    issue()
    folder = tmp_path / "B"
    folder.mkdir()
    (folder / "about.html").write_text("mine", encoding="utf-8")
    write()
    assert (folder / "about.html").read_text(encoding="utf-8") == "mine"
    issue(version="2", **OTHER)
    (folder / "index.html").write_text("mine", encoding="utf-8")
    before = {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()}
    with pytest.raises(WriteFailed) as raised:
        write()
    assert str(raised.value) == (
        f"cannot write {folder / 'index.html'}: there is a file of that name that is not from docgen"
    )
    assert {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()} == before


def test_an_older_pdf_of_ours_is_replaced_and_another_is_not(issue, write, tmp_path):
    pdf = tmp_path / "B" / place_of(issue()) / "pattern.pdf"
    write(pdfs=True)
    content = pdf.read_bytes()
    pdf.write_bytes(content + b"% older")
    assert write(pdfs=True).written == (pdf,)
    assert pdf.read_bytes() == content
    pdf.write_bytes(b"%PDF-1.4 of another program")
    with pytest.raises(WriteFailed, match=r"pattern\.pdf: there is a file of that name that is not from docgen$"):
        write(pdfs=True)
    assert pdf.read_bytes() == b"%PDF-1.4 of another program"


def test_a_disk_that_fails_half_way_leaves_the_folder_as_it_was(issue, write, tmp_path, monkeypatch):
    issue()
    write()
    before = {path: path.read_bytes() for path in (tmp_path / "B").rglob("*") if path.is_file()}
    issue(version="2", **OTHER)
    real, calls = os.replace, []

    def fail_late(source, target):
        calls.append(target)
        if len(calls) == 20:
            raise OSError(28, "No space left on device")
        real(source, target)

    monkeypatch.setattr(os, "replace", fail_late)
    with pytest.raises(WriteFailed, match="there is no space left on the disk"):
        write()
    monkeypatch.undo()
    assert len(calls) > 20
    after = {path: path.read_bytes() for path in (tmp_path / "B").rglob("*") if path.is_file()}
    assert after == before
    assert not (tmp_path / "B" / "TRAY" / "2").exists()


def test_a_page_that_an_earlier_run_wrote_is_never_left_to_call_itself_current(issue, write, tmp_path):
    first = issue()
    write()
    page = tmp_path / "B" / place_of(first) / "PATTERN"
    (page / "900").mkdir()
    (page / "900" / "index.html").write_bytes((page / "1" / "index.html").read_bytes())
    issue(version="2", **OTHER)
    write()
    assert "Replaced by version 2" in said_of(tmp_path / "B", f"{place_of(first)}/PATTERN/900")


def test_a_build_whose_spec_names_no_link_is_left_out(issue, write, tmp_path):
    issue()
    issue(code="cup", title="Secret cup", link="")
    outcome = write()
    assert not (tmp_path / "B" / "CUP").exists()
    assert not any("Secret" in text for text in pages_of(tmp_path / "B").values())
    count = outcome.files
    assert describe_site(outcome) == (
        f"wrote {tmp_path / 'B'}: {count} files, {count} of them new or changed\n"
        "put this folder where https://example.org/B/ leads, capitals as they stand here\n"
        "left out, since none of their versions names a [shop] link: cup"
    )


def test_a_version_whose_spec_is_no_longer_understood_still_has_its_pages(issue, write, tmp_path, monkeypatch):
    from docgen.problems import Place, SpecRejected, make_error
    from docgen.versions.site import site

    first = issue()
    issue(version="2", **OTHER)
    real = site.build_issued

    def refuse_first(issued):
        if issued.version == "1":
            raise SpecRejected([make_error(Place(path="tray.toml"), "a key of former times")])
        return real(issued)

    monkeypatch.setattr(site, "build_issued", refuse_first)
    outcome = write()
    assert outcome.unread == ("tray 1",)
    assert describe_site(outcome).endswith("\nwithout what changed, since this docgen no longer takes the spec: tray 1")
    said = said_of(tmp_path / "B", f"{place_of(first)}/PATTERN/3")
    assert "Replaced by version 2" in said
    assert "Changed from" not in said_of(tmp_path / "B", place_of(first))


def test_variants_have_their_own_pages(write, tmp_path):
    path = tmp_path / "specs" / "tray.toml"
    path.parent.mkdir()
    variants = '\n[variants.small]\ntitle = "Small tray"\n[variants.large]\ntitle = "Large tray"\n'
    path.write_text(SPEC.format(**PLAIN) + variants, encoding="utf-8")
    builds = resolve_variants(read_spec(path))
    issued = record_version(path, builds[0], "2026-03-01").issued
    write(pdfs=True)
    folder = tmp_path / "B" / place_of(issued)
    for build in builds:
        packet = lay_out(plan_work(build), choices=choices_of(build.printing), date="2026-03-31")
        for page in packet.documents[0].pages:
            assert (folder.parents[2] / page.payload.removeprefix("HTTPS://EXAMPLE.ORG/B/") / "index.html").is_file()
    assert [path.name for path in folder.glob("pattern*.pdf")] == ["pattern-small.pdf"], "alike, both share it"
    assert (folder / "JOINT-CUTTING-LIST" / "1" / "index.html").is_file()
    assert (folder / "CHANGES.SMALL" / "1" / "index.html").is_file()
    assert not (folder / "PATTERN").exists()
    assert "Pattern, page 1, variant small" in said_of(tmp_path / "B", f"{place_of(issued)}/PATTERN.SMALL/1")
    for variant in ("small", "large"):
        said = said_of(tmp_path / "B", f"{place_of(issued)}/CUTTING-LIST.{variant.upper()}/1")
        assert f", {variant.capitalize()} tray" in said
        assert said.count(" tray, version") == 1


def test_wrong_calls_are_told(issue, write, tmp_path):
    def refusal():
        with pytest.raises(CallRejected) as raised:
            write()
        return str(raised.value)

    assert refusal() == f"there is no folder {tmp_path / 'specs'}"
    (tmp_path / "specs").mkdir()
    assert refusal() == (
        f"nothing is issued in {tmp_path / 'specs'}, or in the folders inside; "
        "docgen issue SPEC, or name another with --from FOLDER"
    )
    issue(link="")
    assert refusal() == (
        f"no spec issued in {tmp_path / 'specs'} names a [shop] link, so that no code leads to a page; "
        'write link = "https://..." under [shop], and issue the next version'
    )
    assert not (tmp_path / "B").exists()


def test_a_build_that_is_issued_in_two_places_is_refused(issue, tmp_path):
    issue()
    copy = tmp_path / "specs" / "copy" / "issued" / "tray"
    copy.mkdir(parents=True)
    with pytest.raises(CallRejected) as raised:
        publish_site(SiteCall(folder=tmp_path / "B", source=tmp_path / "specs"))
    assert str(raised.value) == (
        f"tray is issued in two places: {tmp_path / 'specs' / 'issued' / 'tray'} and {copy}; "
        "name the folder of one of them with --from FOLDER"
    )


def test_a_damaged_register_stops_the_run(issue, write, tmp_path):
    issued = issue()
    issued.spec_path.write_text("changed", encoding="utf-8")
    with pytest.raises(VersionRefused):
        write()
    assert not (tmp_path / "B").exists()


@pytest.mark.parametrize(
    ("link", "leads"),
    [
        ("https://Example.org/b", "https://example.org/B"),
        ("https://example.org", "https://example.org"),
        ("https://example.org/shop/Tags/", "https://example.org/SHOP/TAGS"),
    ],
)
def test_a_link_leads_where_its_capitals_lead(link, leads):
    assert capital_link(link) == leads


@pytest.mark.parametrize(
    ("part", "name", "unit", "expected"),
    [
        ("piece", "width", "length", True),
        ("piece", "fold of the flap", "move", True),
        ("piece", "note", "words", False),
        ("material", "price", "words", False),
        ("material", "waste", "share", False),
        ("step", "minutes", "words", False),
        ("step", "do", "words", True),
        ("stitch", "thread price", "words", False),
        ("spec", "makes in a batch", "count", False),
        ("spec", "title", "words", True),
        ("hardware", "a key of later times", "words", False),
    ],
)
def test_only_facts_of_the_thing_are_public(part, name, unit, expected):
    assert is_public(part, Fact(name=name, before="a", after="b", unit=unit)) is expected


def test_rows_are_taken_while_they_fit():
    assert take(["aaaa", "&", "b"], lambda row: (row,), 90) == (("aaaa", "&"), 1)
    assert take([], lambda row: (row,), 90) == ((), 0)
