"""The shop's own page: sums that agree with the plan, only with prices, never in the packet or on the care card."""

from dataclasses import replace
from io import BytesIO

import pytest
from demos import unpriced_build, with_steps
from on_paper import make_setup, texts
from pypdf import PdfReader

from docgen.pages import choices_of, lay_out
from docgen.pages.lists.shop_page import format_money, format_weight, lay_out_shop_page, price_words, quantity_words
from docgen.pages.looks.words import words
from docgen.pages.marks.page import Packet
from docgen.plan import Cost, CostLine, Plan, plan_work
from docgen.resolve import Costs, Price, Step, Weight
from docgen.write import finish_documents

LETTER = make_setup()


def priced_plan(makes: int = 1) -> Plan:
    build = unpriced_build("notebook-sleeve")
    first = replace(build.materials[0], price=Price(amount=1e-4, per="area", words="1.00 per dm²"))
    steps = (Step(do="Cut.", minutes=45), Step(do="Sew.", minutes=50))
    costs = Costs(currency="crowns", labour=Price(amount=24.0, per="hour", words="24 per hour"))
    weights = (Weight(name="hide", grams=120.0),)
    build = replace(
        build, makes=makes, materials=(first, *build.materials[1:]), costs=costs, weights=weights, unweighed=("stud",)
    )
    return plan_work(with_steps(build, steps))


def page_words(plan: Plan) -> list[str]:
    document = lay_out_shop_page(plan, LETTER)
    assert document is not None
    assert document.is_apart
    return texts(document)


def test_without_prices_there_is_no_shop_page() -> None:
    assert lay_out_shop_page(plan_work(unpriced_build("notebook-sleeve")), LETTER) is None


def test_cost_time_and_weight_of_a_batch_of_twelve() -> None:
    """Work: 12 x 95 min = 19 h, at 24 crowns 456. Weight: 12 x 120 g = 1.44 kg = 3.17 lb."""
    plan = priced_plan(12)
    found = page_words(plan)
    assert plan.cost is not None
    for wanted in ("For the shop only", "19 h", "456.00 crowns", "120 g (4.2 oz)", "1.44 kg (3.17 lb)", "1.00 per dm²"):
        assert wanted in found
    assert f"{plan.cost.total:.2f} crowns" in found
    assert f"{plan.cost.each:.2f} crowns" in found
    assert "Not in it, since their weight is not named: button stud, 8 mm, screw 4 mm long." in found
    assert (
        "Not in it, since no price is named: Tex 280 waxed linen, natural; button stud, 8 mm, screw 4 mm long." in found
    )


def test_without_a_wage_the_page_says_that_work_is_missing() -> None:
    build = priced_plan().build
    found = page_words(plan_work(replace(build, costs=Costs())))
    assert "No time or no wage is named: work is not in it." in found


def make_packet() -> Packet:
    plan = priced_plan()
    return lay_out(plan, choices=replace(choices_of(plan.build.printing), paper="a4"), date="2026-03-04")


def test_the_packet_and_the_care_card_hold_no_price() -> None:
    """Read back with pypdf."""
    contents = finish_documents(make_packet())
    said = {
        name: "".join(page.extract_text() for page in PdfReader(BytesIO(data)).pages) for name, data in contents.items()
    }
    assert "crowns" in said["shop-page.pdf"]
    assert [name for name, text in said.items() if "crowns" in text or "shop only" in text] == ["shop-page.pdf"]
    pages = {name: len(PdfReader(BytesIO(data)).pages) for name, data in contents.items()}
    assert pages["packet.pdf"] == sum(pages.values()) - pages["packet.pdf"] - pages["shop-page.pdf"]


def test_the_shop_page_can_be_written_alone() -> None:
    contents = finish_documents(make_packet(), only=("shop-page", "care-card"))
    assert sorted(contents) == ["care-card.pdf", "shop-page.pdf"]
    (page,) = PdfReader(BytesIO(contents["shop-page.pdf"])).pages
    assert "For the shop only" in page.extract_text()


@pytest.mark.parametrize(
    ("grams", "inches_first", "mm_first"),
    [
        (100.0, "3.5 oz (100 g)", "100 g (3.5 oz)"),
        (453.6, "1 lb (454 g)", "454 g (1 lb)"),
        (2500.0, "5.51 lb (2.5 kg)", "2.5 kg (5.51 lb)"),
    ],
)
def test_weights_in_both_units(grams: float, inches_first: str, mm_first: str) -> None:
    """1 oz = 28.349523125 g, 1 lb = 453.59237 g (NIST SP 811, appendix B.8)."""
    assert format_weight(grams, "in") == inches_first
    assert format_weight(grams, "mm") == mm_first


def test_a_column_of_weights_has_the_same_units_throughout() -> None:
    """756 g are 1.67 lb, so 17 g stand below them as 0.037 lb; of 9.08 kg, 202 g are 0.45 lb and 0.2 kg."""
    assert format_weight(17.0, "in", 756.0) == "0.037 lb (17 g)"
    assert format_weight(202.0, "in", 9080.0) == "0.45 lb (0.2 kg)"
    assert format_weight(12.0, "mm", 9080.0) == "0.012 kg (0.026 lb)"


def test_the_printed_sums_add_up() -> None:
    """4 x 0.334 is 1.336; four lines of 0.33 add to 1.32, and so the page says."""
    lines = tuple(
        CostLine(kind="hardware", what=f"stud {n}", quantity=1.0, price=Price(amount=0.334, per="each", words=""))
        for n in range(4)
    )
    cost = Cost(currency="", lines=lines, unpriced=(), makes=1, minutes=0)
    found = page_words(replace(priced_plan(), cost=cost))
    assert found.count("0.33") == 4
    assert "1.32" in found
    assert "1.34" not in found


@pytest.mark.parametrize(
    ("amount", "currency", "said"), [(12.5, "crowns", "12.50 crowns"), (0.005, "", "0.01"), (1e6, "", "1000000.00")]
)
def test_money(amount: float, currency: str, said: str) -> None:
    assert format_money(amount, currency) == said


@pytest.mark.parametrize(
    ("kind", "per", "quantity", "said"),
    [
        ("material", "area", 92903.04, "1 sq ft (9.3 dm²)"),
        ("material", "length", 914.4, "1 yd (0.92 m)"),
        ("hardware", "each", 24.0, "24"),
        ("thread", "each", 0.25, "0.25 of a spool"),
        ("labour", "hour", 1.75, "1 h 45 min"),
        ("labour", "hour", 0.5, "30 min"),
        ("labour", "hour", 2.0, "2 h"),
    ],
)
def test_quantities_in_words(kind: str, per: str, quantity: float, said: str) -> None:
    line = CostLine(kind=kind, what="x", quantity=quantity, price=Price(amount=1.0, per=per, words=""))
    assert quantity_words(line, "in", words("shop_page")) == said


@pytest.mark.parametrize(
    ("written", "told"),
    [
        ("14 per yd", "14.00 per yd"),
        ("0.8 each", "0.80 each"),
        ("11.50 per side", "11.50 per side"),
        ("0.005 each", "0.005 each"),  # a price of less than a hundredth stays as it is
        ("24", "24.00"),
        ("2.5m", "2.5m"),
    ],
)
def test_prices_below_each_other_have_their_hundredths(written: str, told: str) -> None:
    assert price_words(written) == told
