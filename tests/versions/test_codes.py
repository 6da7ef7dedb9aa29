"""What the code on a page says, taken apart again."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from docgen.pages.setting.tag import make_payload
from docgen.versions.kept.codes import NotOurs, PageCode, parse_code

PAGE = PageCode(code="FIELD-BAG", version="3", is_draft=False, digest="9F2C61AB04", document="PATTERN", page=4)


@pytest.mark.parametrize(
    "text",
    [
        "SPEC:FIELD-BAG/3/9F2C61AB04/PATTERN/4",
        "spec:field-bag/3/9f2c61ab04/pattern/4",
        "  SPEC:FIELD-BAG/3/9F2C61AB04/PATTERN/4\n",
        "HTTPS://EXAMPLE.ORG/B/FIELD-BAG/3/9F2C61AB04/PATTERN/4",
        "HTTPS://EXAMPLE.ORG/FIELD-BAG/3/9F2C61AB04/PATTERN/4",
    ],
)
def test_a_code_is_read_with_and_without_a_shop_s_link(text):
    assert parse_code(text) == PAGE


def test_a_draft_says_so_in_its_version():
    code = parse_code("SPEC:FIELD-BAG/2.1-B-DRAFT/9F2C61AB04/BUILD-SHEET/12")
    assert (code.version, code.is_draft, code.document, code.page) == ("2.1-B", True, "BUILD-SHEET", 12)


@settings(max_examples=30)
@given(
    code=st.from_regex(r"[a-z][a-z0-9]{0,5}(-[a-z0-9]{1,5}){0,3}", fullmatch=True),
    version=st.from_regex(r"[A-Za-z0-9.-]{1,12}", fullmatch=True),
    is_draft=st.booleans(),
    digest=st.from_regex(r"[0-9A-F]{10}", fullmatch=True),
    document=st.sampled_from(("PATTERN", "CUTTING-LIST", "BUILD-SHEET", "CARE-CARD", "CHANGES")),
    page=st.integers(1, 999999),
    link=st.sampled_from(("", "https://example.org", "https://example.org/b/3/c/")),
)
def test_whatever_is_printed_is_read_back(code, version, is_draft, digest, document, page, link):
    printed = version + "-DRAFT" if is_draft else version
    read = parse_code(make_payload(code, printed, digest, document, page, link))
    is_read_as_draft = printed.upper().endswith("-DRAFT")
    assert read == PageCode(
        code=code.upper(),
        version=printed.upper().removesuffix("-DRAFT"),
        is_draft=is_read_as_draft,
        digest=digest,
        document=document,
        page=page,
    )


@pytest.mark.parametrize(
    "text",
    [
        "",
        "hello",
        "https://example.org/menu",
        "WIFI:S:shop;T:WPA;P:1234;;",
        "SPEC:FIELD-BAG/3/9F2C61AB04/PATTERN",
        "SPEC:FIELD-BAG/3/9F2C61AB0/PATTERN/4",
        "SPEC:FIELD-BAG/3/9F2C61AB04/RECEIPT/4",
        "SPEC:FIELD-BAG/3/9F2C61AB04/PATTERN/4/5",
    ],
)
def test_a_code_from_elsewhere_is_refused_kindly(text):
    with pytest.raises(NotOurs) as caught:
        parse_code(text)
    assert str(caught.value) == (
        f'"{text}" is not the code of a page from docgen; those read SPEC:CODE/VERSION/DIGEST/DOCUMENT/PAGE'
    )
