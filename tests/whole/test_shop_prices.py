"""Prices in the shop's own file: they make the shop page, and reach nothing that is attached, published or given away."""

from pathlib import Path

import pytest
from pypdf import PdfReader
from spec_text import write_out

from docgen import build_documents
from docgen.calls.asked import SiteCall
from docgen.calls.site import publish_site
from docgen.checks import resolve_build
from docgen.problems import CallRejected, SpecRejected
from docgen.read import read_spec
from docgen.versions.kept.issue import record_version

SPEC = write_out("""
<spec mat: Mat, version 1>
makes = 2
[shop]
name = "Alder Lane Leather"
link = "https://example.org/b"
[materials.hide]
title = "Bridle Hide"
kind = "leather"
thickness = "2 mm"
<stitch main: by machine, Tex 135 bonded nylon, 4 mm, 4 mm>
<rectangle top of hide: ["200 mm", "100 mm"]>
[pieces.under]
like = "top"
marks = false
<seam left: ["top: left", "under: left"]>
<hardware eyelet: 3, =eyelet, 5 mm>
<step "Sew.": seams = ["left"]>
minutes = 30
""")
SHOP = """
[costs]
currency = "guilders"
labour = "41.07 per hour"
[prices.materials]
"bridle hide" = "13.13 per sq ft"
[prices.hardware]
eyelet = "17.19 per 100"
[prices.threads]
"tex 135 bonded nylon" = "23.29 per 500 m"
"""
MONEY = ("guilders", "41.07", "13.13", "17.19", "23.29")


@pytest.fixture
def bench(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    Path("mat.toml").write_text(SPEC, encoding="utf-8")
    return tmp_path


def make(**more: object):
    return build_documents("mat.toml", "out", date="2026-03-04", **more)


def words_of(path: Path) -> str:
    return "\n".join(page.extract_text() for page in PdfReader(path).pages)


def test_without_prices_there_is_no_shop_page(bench: Path) -> None:
    assert not any(path.stem == "shop-page" for path in make().paths)
    with pytest.raises(CallRejected, match="neither the spec nor the shop's file"):
        make(only=["shop-page"])


def test_prices_of_the_shop_make_its_page(bench: Path) -> None:
    Path("shop.toml").write_text(SHOP, encoding="utf-8")
    (path,) = make(only=["shop-page"]).paths
    told = words_of(path)
    assert all(word in told for word in MONEY)
    assert "Not in it, since no price is named" not in told


def test_a_price_in_the_spec_comes_first(bench: Path) -> None:
    Path("shop.toml").write_text(SHOP, encoding="utf-8")
    dearer = SPEC.replace('kind = "leather"\n', 'kind = "leather"\nprice = "19.99 per sq ft"\n')
    Path("mat.toml").write_text(dearer, encoding="utf-8")
    (path,) = make(only=["shop-page"]).paths
    assert "19.99" in words_of(path)
    assert "13.13" not in words_of(path)


@pytest.mark.parametrize(("own", "there", "gone"), [("", "2.71", "5.43"), ('price = "5.43 per m"\n', "5.43", "2.71")])
def test_goods_by_length_have_the_price_of_the_shop_where_they_have_none(
    bench: Path, own: str, there: str, gone: str
) -> None:
    Path("shop.toml").write_text(SHOP + '[prices.trimmings]\nweb = "2.71 per m"\n', encoding="utf-8")
    web = f'[trimmings.web]\nwhat = "webbing"\nkind = "webbing"\nwidth = "25 mm"\nthickness = "1 mm"\n{own}length = "1 m"\n'
    text = SPEC.replace('seams = ["left"]\n', 'seams = ["left"]\ntrimmings = ["web"]\n') + web
    Path("mat.toml").write_text(text, encoding="utf-8")
    told = words_of(make(only=["shop-page"]).paths[0])
    assert there in told
    assert gone not in told


def test_another_currency_is_refused_at_its_line(bench: Path) -> None:
    Path("shop.toml").write_text(SHOP, encoding="utf-8")
    Path("mat.toml").write_text(SPEC + '[costs]\ncurrency = "crowns"\n', encoding="utf-8")
    with pytest.raises(SpecRejected) as caught:
        make()
    (problem,) = caught.value.problems
    assert (problem.place.path, problem.place.line) == ("shop.toml", 3)
    assert problem.what == 'the prices here are in "guilders", and the spec counts in "crowns"'
    assert not Path("out").exists()


def test_prices_of_the_shop_stand_on_its_page_alone(bench: Path) -> None:
    Path("shop.toml").write_text(SHOP, encoding="utf-8")
    paths = make(csv=True).paths
    assert {"shop-page.pdf", "cost.csv"} <= {path.name for path in paths}
    for path in paths:
        if path.name == "cost.csv":
            continue  # the shop's own sum, written only when tables are asked for
        if path.suffix == ".csv":
            told = path.read_text(encoding="utf-8")
        else:
            told = "" if path.stem == "shop-page" else words_of(path)
            inside = PdfReader(path).attachments
            told += "".join(content.decode() for contents in inside.values() for content in contents)
        assert not any(word in told for word in MONEY), path


def test_pages_that_changed_and_the_site_tell_no_price_of_the_shop(bench: Path) -> None:
    Path("shop.toml").write_text(SHOP, encoding="utf-8")
    record_version("mat.toml", resolve_build(read_spec("mat.toml")), "2026-03-04")
    again = SPEC.replace('version = "1"', 'version = "2"').replace('"100 mm"', '"110 mm"')
    Path("mat.toml").write_text(again, encoding="utf-8")
    (path,) = make(since="1").paths
    assert not any(word in words_of(path) for word in MONEY)
    publish_site(SiteCall(folder="site", source=".", pdfs=True))
    pages = [page for page in Path("site").rglob("*") if page.is_file()]
    assert {page.suffix for page in pages} >= {".pdf", ".html"}
    for page in pages:
        if page.suffix == ".pdf":
            assert not any(word in words_of(page) for word in MONEY), page
        else:
            assert not any(word.encode() in page.read_bytes() for word in MONEY), page
