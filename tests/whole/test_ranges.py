"""A range of collars: widths x lengths x colours, what its variants change, and templates that several of them share."""

import json
from collections.abc import Callable
from pathlib import Path

import pytest
from pypdf import PdfReader

from docgen import build_documents
from docgen.calls.asked import CompareCall, ExportCall
from docgen.calls.compare import compare_versions
from docgen.calls.export import export_pieces
from docgen.checks import resolve_variants
from docgen.problems import SpecRejected
from docgen.read import json_schema, read_spec
from docgen.resolve import name_findings, tell_variants

SPEC = (Path(__file__).parent / "collar_range.toml").read_text(encoding="utf-8")
Write = Callable[..., Path]


@pytest.fixture
def write(tmp_path: Path) -> Write:
    def write(more: str = "", was: str = "", now: str = "") -> Path:
        assert was in SPEC
        path = tmp_path / "collar.toml"
        path.write_text(SPEC.replace(was, now, 1) + more if was else SPEC + more, encoding="utf-8")
        return path

    return write


def builds(path: Path) -> dict[str, object]:
    return {build.variant: build for build in resolve_variants(read_spec(path))}


def told(path: Path) -> list[tuple[int, str, str]]:
    with pytest.raises(SpecRejected) as caught:
        resolve_variants(read_spec(path))
    return [(problem.place.line, problem.what, problem.mend) for problem in caught.value.problems]


def read_words(path: Path) -> str:
    return " ".join(" ".join(page.extract_text().split()) for page in PdfReader(path).pages)


def test_every_choice_of_one_axis_is_made_with_every_choice_of_the_others(write: Write) -> None:
    """2 x 2 x 3 less the one that is not made; names in the order of the axes."""
    found = builds(write())
    assert list(found) == [
        f"{width}-{length}-{colour}"
        for width in ("w20", "w25")
        for length in ("l30", "l40")
        for colour in ("black", "tan", "red")
        if (width, length, colour) != ("w25", "l40", "red")
    ]
    assert found["w25-l40-black"].title == "Dog collar, 25 mm wide, 40 cm, black"
    assert [found[name].makes for name in ("w20-l30-black", "w20-l30-tan")] == [1, 5]
    assert found["w20-l30-tan"].title == "Dog collar, the small one"


def test_a_variant_changes_more_than_measures(write: Write) -> None:
    found = builds(write())
    black, tan, red = (found[f"w20-l30-{colour}"] for colour in ("black", "tan", "red"))
    assert [build.materials[0].title for build in (black, tan, red)] == [
        "bridle leather, black",
        "russet leather, tan",
        "bridle leather, red",
    ]
    assert [build.stitches[0].thread_words for build in (black, red)] == [
        "Tex 180 waxed polyester, black",
        "Tex 180 waxed polyester",
    ]
    assert [build.hardware[0].finish for build in (black, tan)] == ["", "solid brass"]
    assert (black.care.extra, tan.care.extra) == ("", "Undyed: it darkens in the light.")
    assert [step.do for step in tan.steps] == [
        "Punch the band.",
        "Set the rivets of the name plate.",
        "Glue and sew the backing.",
    ]
    assert len(black.steps) == 4


def test_variants_that_differ_in_words_share_templates_and_say_so(write: Write, tmp_path: Path) -> None:
    outcome = build_documents(write(), tmp_path / "out", date="2026-03-31", paper="a4")
    patterns = [path.parent.name for path in outcome.paths if path.name == "pattern.pdf"]
    assert patterns == ["w20-l30-black", "w20-l40-black", "w25-l30-black", "w25-l40-black"]
    pattern = read_words(tmp_path / "out/w20-l30-black/pattern.pdf")
    assert "For black, tan, red (w20-l30-black, w20-l30-tan, w20-l30-red)." in pattern
    assert "Dog collar, 20 mm wide, 30 cm" in pattern
    assert "bridle leather, 3.5 mm" in pattern
    assert "russet" not in pattern
    assert "cut 1 for each" in pattern
    other = read_words(tmp_path / "out/w20-l30-tan/packet.pdf")
    assert "shared: the pattern is printed with w20-l30-black" in other
    assert "PATTERN." not in other


def test_of_some_variants_the_first_one_has_the_pattern(write: Write, tmp_path: Path) -> None:
    names = ("w20-l30-tan", "w20-l30-red")
    outcome = build_documents(write(), tmp_path / "out", date="2026-03-31", variants=names, only=["pattern"])
    assert [path.parent.name for path in outcome.paths] == ["w20-l30-tan"]
    assert "PATTERN.W20-L30-BLACK" in read_words(outcome.paths[0]), "the code is the same wherever it is printed"


def test_another_thickness_or_title_shares_nothing(write: Write) -> None:
    found = builds(write('[variants.tan.pieces.band]\ntitle = "wide band"\n'))
    assert found["w20-l30-black"].sharing.variants == ("w20-l30-black", "w20-l30-red")
    assert found["w20-l30-tan"].sharing is None
    thick = builds(write(was='title = "russet leather"', now='thickness = "3 mm"'))
    assert thick["w20-l30-tan"].sharing is None
    assert thick["w20-l30-tan"].materials[0].label == "bridle leather"


def test_the_joint_list_lists_apart_what_differs(write: Write, tmp_path: Path) -> None:
    outcome = build_documents(write(), tmp_path / "out", date="2026-03-31", only=["joint-cutting-list"])
    text = read_words(outcome.paths[0])
    assert "5 × w20-l30-tan, 1 × each of the other 10" in text.replace("\u00a0", " ")
    for title in ("bridle leather, black", "russet leather, tan", "bridle leather, red"):
        assert f"Cut from {title}" in text
    assert "band (w25-l40)" in text


def test_pieces_that_are_shared_are_exported_once(write: Write, tmp_path: Path) -> None:
    found = export_pieces(ExportCall(spec=write(), to="svg", out=tmp_path / "cut"))
    assert {path.parent.name for path in found.paths} == {f"w2{w}-l{n}0-black" for w in (0, 5) for n in (3, 4)}


def test_a_changed_colour_is_told_of_its_variants_alone(write: Write, tmp_path: Path) -> None:
    before = write().rename(tmp_path / "before.toml")
    after = write(was='materials.hide.colour = "red"', now='materials.hide.colour = "oxblood"')
    found = compare_versions(CompareCall(before=str(before), after=str(after)))
    changed = {one.after.variant: one.changes for one in found}
    assert [name for name, changes in changed.items() if changes] == ["w20-l30-red", "w20-l40-red", "w25-l30-red"]
    (change,) = changed["w20-l30-red"]
    assert [(fact.before, fact.after) for fact in change.facts] == [("bridle leather, red", "bridle leather, oxblood")]
    assert all(template.is_kept for one in found for template in one.templates)


@pytest.mark.parametrize(
    ("more", "line", "what", "mend"),
    [
        (
            "[variants.blue]\naxis = 'colour'\nmaterials.hied.colour = 'blue'\n",
            3,
            "hied, but there is no [materials.hied]",
            'did you mean "hide"?',
        ),
        (
            "[variants.blue]\naxis = 'colour'\nwithout = ['pain']\n",
            3,
            'without = "pain", but there is no step, piece, strap or hardware of that name',
            'did you mean "paint"?',
        ),
        (
            "[variants.blue]\naxis = 'colour'\nmeasures = { width = '20 mm' }\n",
            1,
            'the measure "width" is changed by the axis "width" (in "w25") and by "colour" too',
            "let one axis change it, or a variant of the joint name",
        ),
        (
            "[variants.w20-l30-rde]\nmade = false\n",
            2,
            '"w20-l30-rde" is no make of the range, so that it cannot be left out of it',
            'did you mean "w20-l30-red"?',
        ),
        (
            "[variants.l30-black]\naxis = 'width'\n[variants.of-a-length-with-a-far-too-long-name]\naxis = 'length'\n",
            None,
            'the make "w20-of-a-length-with-a-far-too-long-name-black" has a name of 46 letters; at most 40 are allowed',
            'call its choices by short codes, like "w20", and give them a title',
        ),
    ],
)
def test_what_cannot_be_meant_is_told_at_its_line(
    write: Write, more: str, line: int | None, what: str, mend: str
) -> None:
    found = [problem for problem in told(write(more)) if problem[1] == what]
    assert found, told(write(more))
    assert (found[0][0] if line else None, found[0][2]) == (line and SPEC.count("\n") + line, mend)


def test_a_range_that_is_too_large_is_told_without_making_it(write: Write) -> None:
    more = "".join(f"[variants.s{n}]\naxis = 'size'\n[variants.f{n}]\naxis = 'form'\n" for n in range(40))
    assert 'the axes "width" x "length" x "colour" x "size" x "form" give 19,200 makes' in told(write(more))[0][1]


def test_a_problem_of_a_variant_names_it_and_so_does_a_caution(write: Write) -> None:
    wrong = told(write(was='materials.hide.colour = "red"', now='materials.hide = { thickness = "0 mm" }'))
    assert any(what.startswith('in the variants "w20-l30-red", "w20-l40-red"') for _, what, _ in wrong)
    thin = write(was='materials.hide.colour = "red"', now='materials.hide = { thickness = "5 mm" }')
    cautions = name_findings(resolve_variants(read_spec(thin)))
    (caution,) = [caution for caution in cautions if caution.check == "post-length"]
    assert caution.what.startswith('in the variants "w20-l30-black", "w20-l30-tan", "w20-l40-black"')
    assert "-red" not in caution.what


def test_variants_are_told_by_the_choices_that_single_them_out() -> None:
    known = {f"{w}-{c}": (("width", w), ("colour", c)) for w in ("w1", "w2", "w3") for c in ("red", "tan")}
    assert tell_variants(["w1-red", "w1-tan"], known) == "w1"
    assert tell_variants(["w1-red"], known) == "w1-red"
    assert tell_variants(["w1-red", "w2-red"], known) == "w1, w2; red"
    assert tell_variants(["w1-red", "w2-tan"], known) == "w1-red, w2-tan"


def test_the_schema_asks_nothing_of_what_a_variant_changes() -> None:
    variants = json_schema()["properties"]["variants"]["additionalProperties"]["properties"]
    assert "required" not in variants["materials"]["additionalProperties"]
    assert json.dumps(variants["materials"]["additionalProperties"]["properties"]["thickness"])
