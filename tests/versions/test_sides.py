"""What a person names is the build that is meant: a spec, a number, or a PDF, looked up in the right register."""

from dataclasses import replace
from pathlib import Path

import pytest
from spec_text import write_out

from docgen.checks import resolve_variants
from docgen.problems import CallRejected, SpecRejected
from docgen.read import read_spec
from docgen.versions.compared.inside import build_enclosed, list_specs, look_inside, parts_inside
from docgen.versions.compared.sides import home_of, pair_variants, read_pair, read_side, read_version, tell_draft
from docgen.versions.kept.issue import record_version
from docgen.versions.kept.record import KEYS, find_fault, is_inside, write_record
from docgen.versions.kept.register import VersionRefused, find_registers, read_issued
from docgen.versions.kept.shelf import list_versions
from docgen.versions.traced.trace import save_spec, trace
from docgen.write import Enclosed, NotReadable

TRAY = write_out("""\
<spec tray: Tray, version 1>
<leather hide: 2 mm>
<rectangle base of hide: ["100 mm", "80 mm"]>
""")
DRAWN = TRAY.replace('"rectangle"\nsize = ["100 mm", "80 mm"]', '"drawing"\nfile = "art/base.svg"\nscale = "1 mm"')
DRAWING = b'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 100"><path d="M0 0H80V60H0Z"/></svg>'


@pytest.fixture(autouse=True)
def shop(tmp_path, monkeypatch):
    """The folder that everything lies in, and that is the present one."""
    monkeypatch.chdir(tmp_path)
    return tmp_path


def write(name, text=TRAY, *, version="1", code="tray"):
    path = Path(name)
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text.replace('version = "1"', f'version = "{version}"').replace('"tray"', f'"{code}"'))
    return path


def issue(name, **said):
    path = write(name, **said)
    return record_version(path, resolve_variants(read_spec(path))[0], "2026-03-31").issued


def enclose(*files, creator="docgen 1.0"):
    return Enclosed(creator=creator, files=files, labels=("1",), texts=("",))


def test_a_variant_is_compared_with_its_like_and_a_new_one_with_the_first():
    base = resolve_variants(read_spec(write("tray.toml")))[0]
    small, wide, new = (replace(base, variant=name) for name in ("small", "wide", "new"))
    pairs = pair_variants((small, wide), (wide, new, small))
    assert [(old.variant, now.variant) for old, now in pairs] == [
        ("wide", "wide"),
        ("small", "new"),
        ("small", "small"),
    ]


def test_two_numbers_are_two_versions_in_the_order_in_which_they_are_named():
    for version in ("1", "2", "10"):
        issue("tray.toml", version=version)
    first, second = read_pair("10", "2", Path())
    assert [(side.label, side.build.version) for side in (first, second)] == [("version 10", "10"), ("version 2", "2")]


def test_a_number_beside_a_spec_is_one_of_its_versions_on_either_side():
    issue("one/tray.toml")
    issue("two/cup.toml", code="cup")
    path = write("one/tray.toml", version="2")
    assert [side.label for side in read_pair("1", str(path), Path())] == ["version 1", "tray.toml"]
    assert [side.label for side in read_pair(str(path), "1", Path())] == ["tray.toml", "version 1"]


def test_what_is_no_version_is_taken_for_a_file():
    issue("tray.toml")
    for name in ("gone.toml", "gone.TOML", "gone.pdf", "GONE.PDF", "gone/3"):
        with pytest.raises(SpecRejected) as caught:
            read_pair(name, "1", Path())
        assert caught.value.problems[0].place.path == name


def test_a_pdf_is_read_as_one_however_its_name_is_written():
    for name in ("care-card.pdf", "CARE-CARD.PDF"):
        Path(name).write_bytes(b"no pages")
        with pytest.raises(NotReadable, match=f"{name} is damaged, or no PDF"):
            read_side(name)


def test_a_file_whose_name_could_be_a_version_is_the_file():
    issue("tray.toml")
    write("3", version="7")
    assert read_pair("3", "1", Path())[0].build.version == "7"


def test_an_issued_copy_is_called_by_its_version_and_no_other_file_is():
    copy = issue("tray.toml").spec_path
    assert read_side(str(copy)).label == "version 1"
    assert read_side(str(write("issued/tray/2/tray.toml"))).label == "tray.toml"  # another number than its folder's
    assert read_side(str(write("kept/tray/1/tray.toml"))).label == "tray.toml"


def test_a_version_that_is_not_issued_is_told_with_those_that_are():
    issue("tray.toml")
    issue("tray.toml", version="2")
    with pytest.raises(VersionRefused) as caught:
        read_version(Path("issued/tray"), "123456789012345678901234")
    problem = caught.value.problem
    assert problem.what == 'no version "1234567890123456789…" of tray is issued'
    assert problem.mend == "issued are 1, 2"
    assert problem.place.path == str(Path("issued/tray"))


def test_the_register_of_an_issued_copy_is_the_one_it_lies_in():
    copy = issue("tray.toml").spec_path
    assert home_of(copy, "tray") == Path("issued/tray").absolute()
    assert home_of(copy, "cup") == copy.parent / "issued/cup"
    assert home_of(Path("kept/tray/1/tray.toml"), "tray") == Path("kept/tray/1/issued/tray")
    assert home_of(Path("tray.toml"), "tray") == Path("issued/tray")


def test_a_spec_without_a_register_finds_the_nearest_one_that_has_its_code():
    issue("near/tray.toml")
    issue("near/deeper/tray.toml", version="2")
    issue("away/cup.toml", code="cup")
    path = write("away/tray.toml", version="3")
    assert read_pair("1", str(path), Path())[0].build.version == "1"


def test_a_register_is_not_looked_for_behind_a_link_or_in_hidden_folders(tmp_path_factory):
    elsewhere = tmp_path_factory.mktemp("elsewhere")
    issue(elsewhere / "tray.toml")
    Path("linked").symlink_to(elsewhere)
    issue(".hidden/tray.toml")
    issue("plain/tray.toml")
    assert find_registers(Path(), "tray") == (Path("plain/issued/tray"),)


def test_a_record_of_very_many_files_is_not_read():
    folder = issue("tray.toml").folder
    record = folder / "record.toml"
    record.write_text(record.read_text() + "".join(f'"{n}.svg" = "0"\n' for n in range(1000)))
    with pytest.raises(VersionRefused, match="the record names more than 1000 files"):
        read_issued(folder)


def test_a_draft_is_looked_for_among_two_hundred_specs_and_no_more():
    digest = read_spec(write("tray.toml")).digest
    for n in range(199):
        Path(f"a{n}.toml").write_text("")
    assert trace(f"SPEC:TRAY/1-DRAFT/{digest}/PATTERN/1", Path()).found[0].standing == "draft-open"
    Path("b.toml").write_text("")
    assert trace(f"SPEC:TRAY/1-DRAFT/{digest}/PATTERN/1", Path()).found[0].standing == "draft-unknown"


def test_a_drawing_is_not_saved_through_a_linked_folder(tmp_path_factory):
    elsewhere = tmp_path_factory.mktemp("elsewhere")
    Path("art").mkdir()
    Path("art/base.svg").write_bytes(DRAWING)
    found = trace(f"SPEC:TRAY/1/{issue('tray.toml', text=DRAWN).digest}/PATTERN/1", Path())
    Path("back").mkdir()
    Path("back/art").symlink_to(elsewhere)
    with pytest.raises(CallRejected, match=r'the drawing "art/base\.svg" would be written through a link out of back'):
        save_spec(found, Path("back/new.toml"))
    assert not Path("back/new.toml").exists()
    assert list(elsewhere.iterdir()) == []
    Path("back/art").unlink()
    assert save_spec(found, Path("back/new.toml")) == (Path("back/new.toml"), Path("back/art/base.svg"))


def test_two_numbers_need_a_register_of_one_build():
    issue("tray.toml")
    Path("issued/read-me.txt").write_text("Keep this folder.")
    assert read_pair("1", "1", Path())[0].build.code == "tray"
    issue("cup.toml", code="cup")
    with pytest.raises(
        VersionRefused, match='"1" is no file, and it is not clear of which build it would be a version'
    ):
        read_pair("1", "1", Path())


def test_other_drawings_make_a_draft_as_another_spec_does():
    Path("art").mkdir()
    Path("art/base.svg").write_bytes(DRAWING)
    issue("tray.toml", text=DRAWN)
    build = resolve_variants(read_spec("tray.toml"))[0]
    assert tell_draft(Path("tray.toml"), build) is None
    caution = tell_draft(Path("tray.toml"), replace(build, files=(("art/base.svg", DRAWING + b" "),)))
    assert caution is not None
    assert caution.what == "the pages say DRAFT: version 1 was issued on 2026-03-31 with other contents"


def test_a_pdf_is_ours_by_its_maker_and_the_one_spec_in_it():
    text = ("TRAY.TOML", TRAY.encode())
    assert list_specs(Path("a.pdf"), enclose(text, ("base.svg", b""))) == ("TRAY.TOML",)
    for other in (enclose(text, creator="A writer 1.0"), enclose(), enclose(("a", b""))):
        with pytest.raises(NotReadable, match=r"a\.pdf was not made by docgen: it has no build spec inside"):
            list_specs(Path("a.pdf"), other)
    with pytest.raises(NotReadable, match=r"a\.pdf has several specs inside, and no code on its pages tells which is"):
        look_inside(Path("a.pdf"), enclose(text, ("other.toml", TRAY.encode())))


@pytest.mark.parametrize("name", ["tray.toml", "/etc/tray.toml", "../../tray.toml", "in\\tray.toml", "c:\\tray.toml"])
def test_what_is_attached_stays_where_it_is_put(shop, name):
    before = sorted(shop.parent.rglob("*.toml"))
    assert build_enclosed(Path("a.pdf"), enclose((name, TRAY.encode())))[0].code == "tray"
    assert sorted(shop.parent.rglob("*.toml")) == before


@pytest.mark.parametrize(
    ("name", "parts"),
    [
        ("art/base.svg", ("art", "base.svg")),
        ("C:\\art\\base.svg", ("C-", "art", "base.svg")),
        ("/../art/./base.svg", ("art", "base.svg")),
        ("..", ("file",)),
        ("", ("file",)),
    ],
)
def test_a_name_from_a_pdf_leads_to_no_other_drive_or_folder(name, parts):
    assert parts_inside(name) == parts


@pytest.mark.parametrize("name", ["art/base.svg", "art\\base.svg", "../art/base.svg"])
def test_a_drawing_is_found_where_the_attached_spec_names_it(name):
    files = (("tray.toml", DRAWN.encode()), (name, DRAWING))
    assert build_enclosed(Path("a.pdf"), enclose(*files))[0].files == (("art/base.svg", DRAWING),)


def test_a_name_that_no_disk_takes_is_told_where_it_is_the_spec_s_and_else_passed_over():
    for name in ("base\0.svg", "x" * 300):
        held = build_enclosed(Path("a.pdf"), enclose(("tray.toml", TRAY.encode()), (name, b"")))
        assert held[0].code == "tray"
    for name in ("base\0.toml", "x" * 300 + ".toml"):
        with pytest.raises(NotReadable, match=r"what is attached to a\.pdf cannot be taken out of it"):
            build_enclosed(Path("a.pdf"), enclose((name, TRAY.encode())))


def test_a_mistake_in_an_attached_spec_is_told_with_the_pdf_it_lies_in():
    wrong = TRAY.replace('"rectangle"', '"rectangel"').encode()
    with pytest.raises(SpecRejected) as caught:
        build_enclosed(Path("a.pdf"), enclose(("tray.toml", wrong)))
    assert {problem.place.path for problem in caught.value.problems} == {"tray.toml in a.pdf"}


def test_versions_are_counted_as_a_person_counts_them():
    for version in ("10", "9", "2a", "2", "2B", "3.1", "3", "draft"):
        write(f"issued/tray/{version}/record.toml")
    assert list_versions(Path("issued/tray")) == ("draft", "2", "2a", "2B", "3", "3.1", "9", "10")


def test_a_record_holds_only_what_was_ever_written_into_one():
    build = resolve_variants(read_spec(write("tray.toml")))[0]
    record = dict.fromkeys(KEYS, "a") | {"issued": "2026-03-31", "sha256": {"tray.toml": "0"}}
    assert find_fault(record) == ""
    assert find_fault(record | {"changed": "one\n\ttwo"}) == ""
    assert find_fault(record | {"changed": "one\rtwo"}) == "changed has letters that do not print"
    assert find_fault(record | {"issued": "20260331"}) == 'issued is "20260331", which is no day of the calendar'
    assert find_fault(record | {"issued": "2026-02-30"}) == 'issued is "2026-02-30", which is no day of the calendar'
    assert find_fault(record | {"title": " "}) == "title is empty"
    assert 'title = "Tray"' in write_record(build, "2026-03-31", {})


@pytest.mark.parametrize(
    ("name", "inside"),
    [
        ("a.svg", True),
        ("art/a.svg", True),
        ("", False),
        ("/a", False),
        ("../a", False),
        ("a\\b", False),
        ("c:a", False),
    ],
)
def test_a_name_in_the_record_stays_inside(name, inside):
    assert is_inside(name) == inside


@pytest.mark.parametrize("name", ["record.toml", "Record.toml", ".gitattributes"])
def test_a_spec_with_a_name_of_the_register_is_refused(name):
    path = write("tray.toml")
    build = replace(resolve_variants(read_spec(path))[0], source_name=name)
    with pytest.raises(VersionRefused) as caught:
        record_version(path, build, "2026-03-31")
    problem = caught.value.problem
    assert problem.what == f"a spec called {name} cannot be issued: the record has that name"
    assert problem.mend == "call it tray.toml"
