"""The page code: its words, its symbol against ISO/IEC 18004, and an independent reader."""

import numpy as np
import pytest
import zxingcpp
from hypothesis import given, settings
from hypothesis import strategies as st

from docgen.pages.setting.tag import ALPHANUMERIC, QUIET_MODULES, code_rows, code_size_mm, draw_code, make_payload

PAYLOAD = "SPEC:TUNER-SATCHEL/3/9F2C61AB04/PATTERN/4"


def read_symbol(rows: tuple[str, ...], dots: int = 4) -> zxingcpp.Barcode:
    """The symbol drawn with `dots` pixels to a module, as another library reads it."""
    dark = np.array([[cell == "1" for cell in row] for row in rows])
    wide = np.pad(dark, QUIET_MODULES)
    picture = np.where(np.kron(wide, np.ones((dots, dots), dtype=bool)), 0, 255).astype(np.uint8)
    found = zxingcpp.read_barcodes(picture)
    assert len(found) == 1
    return found[0]


def test_payload_names_spec_version_digest_document_and_page() -> None:
    assert make_payload("tuner-satchel", 3, "9f2c61ab04", "pattern", 4) == PAYLOAD


def test_a_link_takes_the_place_of_the_scheme() -> None:
    expected = "HTTPS://EXAMPLE.ORG/B/TUNER-SATCHEL/3/9F2C61AB04/PATTERN/4"
    for link in ("https://example.org/b", "https://example.org/b/"):
        assert make_payload("tuner-satchel", "3", "9f2c61ab04", "pattern", 4, link=link) == expected


def test_a_character_outside_the_set_is_refused_by_name() -> None:
    with pytest.raises(ValueError, match="cannot hold") as caught:
        make_payload("satchel_é", 3, "9F2C61AB04", "pattern", 4)
    assert str(caught.value) == ('a page code cannot hold "_É": it takes 0-9, A-Z, space and $ % * + - . / :')


@pytest.mark.parametrize("part", ["", "a/b"])
def test_a_part_that_would_break_the_payload_is_refused(part: str) -> None:
    with pytest.raises(ValueError, match="page code") as caught:
        make_payload(part, 3, "9F2C61AB04", "pattern", 4)
    assert str(caught.value) == (
        f'"{part.upper()}" cannot be a part of a page code: a part is not empty and has no slash'
    )


def test_a_payload_beyond_the_largest_symbol_is_refused() -> None:
    with pytest.raises(ValueError, match="holds 4296") as caught:
        code_rows("A" * 4297)
    assert str(caught.value) == "a page code holds 4296 characters, this one has 4297"


def test_the_set_has_the_45_characters_of_alphanumeric_mode() -> None:
    # ISO/IEC 18004: digits, capitals, nine others
    assert len(ALPHANUMERIC) == 45


# ISO/IEC 18004, capacity table: bytes held by versions 1 to 6, at level L (from memory), and at level M by way of an
# equipment manual's table
BYTES_AT_L = {1: 17, 2: 32, 3: 53, 4: 78, 5: 106, 6: 134}
BYTES_AT_M = {1: 14, 2: 26, 3: 42, 4: 62, 5: 84, 6: 106}


def most_characters(held: int) -> int:
    """Alphanumeric characters in the room of so many bytes."""
    # a byte symbol spends 4 + 8 bits on its head, ours 4 + 9; two characters take 11 bits, one takes 6
    bits = (held + 2) * 8 - 13
    return bits // 11 * 2 + (bits % 11 >= 6)


@pytest.mark.parametrize(("version", "held"), list(BYTES_AT_M.items())[:5])
def test_of_the_levels_that_a_symbol_has_room_for_the_highest_is_taken(version: int, held: int) -> None:
    most = most_characters(held)
    levels = [read_symbol(code_rows("A" * count)).ec_level for count in (most, most + 1)]
    assert levels == ["M", "L"]
    assert len(code_rows("A" * most)) == len(code_rows("A" * (most + 1))) == 17 + 4 * version


@pytest.mark.parametrize(("version", "held"), BYTES_AT_L.items())
def test_the_smallest_version_that_fits_is_taken(version: int, held: int) -> None:
    most = most_characters(held)
    side = 17 + 4 * version  # ISO/IEC 18004: modules on a side
    assert len(code_rows("A" * most)) == side
    assert len(code_rows("A" * (most + 1))) == side + 4


def test_the_symbol_is_square_with_three_finders_and_no_margin() -> None:
    rows = code_rows(PAYLOAD)
    assert {len(row) for row in rows} == {len(rows)}
    finder = "1111111"  # ISO/IEC 18004: seven dark modules along each outer side of a finder pattern
    assert rows[0].startswith(finder)
    assert rows[0].endswith(finder)
    assert rows[-1].startswith(finder)
    assert not rows[-1].endswith(finder)


def test_another_library_reads_the_payload() -> None:
    symbol = read_symbol(code_rows(PAYLOAD))
    assert symbol.text == PAYLOAD
    assert symbol.format == zxingcpp.BarcodeFormat.QRCode
    assert symbol.ec_level == "L"


@given(payload=st.text(alphabet=sorted(ALPHANUMERIC), min_size=1, max_size=90))
@settings(max_examples=40, deadline=None)
def test_any_payload_is_read_back(payload: str) -> None:
    assert read_symbol(code_rows(payload)).text == payload


def test_a_short_payload_is_printed_at_18_mm() -> None:
    assert code_size_mm(PAYLOAD) == 18.0
    assert 18.0 / len(code_rows(PAYLOAD)) >= 0.5


def test_a_long_payload_is_printed_larger_to_keep_its_modules() -> None:
    payload = "A" * 150  # version 5, 37 modules
    assert code_size_mm(payload) == 18.5
    mark = draw_code(payload, 10.0, 20.0)
    assert (mark.x_mm, mark.y_mm, mark.size_mm) == (10.0, 20.0, 18.5)


def test_a_small_code_may_be_asked_for_down_to_half_a_millimetre_a_module() -> None:
    assert draw_code(PAYLOAD, 0.0, 0.0, size_mm=16.0).size_mm == 16.0
    assert draw_code(PAYLOAD, 0.0, 0.0, size_mm=5.0).size_mm == len(code_rows(PAYLOAD)) * 0.5
    assert draw_code(PAYLOAD, 0.0, 0.0, size_mm=30.0).size_mm == 30.0


def test_version_4_with_its_quiet_zone_is_20_5_mm_at_half_a_millimetre() -> None:
    # derived: (33 + 2 * 4) * 0.5
    assert (len(code_rows("A" * 110)) + 2 * QUIET_MODULES) * 0.5 == 20.5


def count_finder_lines(rows: tuple[str, ...]) -> int:
    """Places along rows and columns where dark and light follow as 1:1:3:1:1 between light ones."""
    cells = np.pad(np.array([[int(cell) for cell in row] for row in rows]), 1)
    wanted = np.array([0, 1, 0, 1, 1, 1, 0, 1, 0])
    lines = (*cells, *cells.T)
    return sum(bool((line[at : at + 9] == wanted).all()) for line in lines for at in range(len(line) - 8))


def test_few_places_of_a_symbol_look_like_a_corner() -> None:
    """ISO/IEC 18004: a finder pattern is seen by its 1:1:3:1:1 on three lines each way; a reader that takes another place
    for one finds no symbol. Three patterns give 18 lines; in most symbols no other line is like them."""
    documents = ("PATTERN", "CUTTING-LIST", "BUILD-SHEET", "CARE-CARD")
    payloads = [
        f"SPEC:FIELD-BAG/3-DRAFT/374B40F24F/{document}/{page}" for document in documents for page in range(1, 13)
    ]
    counts = [count_finder_lines(code_rows(payload)) for payload in payloads]
    assert min(counts) == 18
    assert max(counts) <= 20
    assert sum(count == 18 for count in counts) >= len(counts) * 0.6
