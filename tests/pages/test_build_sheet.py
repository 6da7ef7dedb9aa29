"""The build sheet: every step once with its settings, cautions in full and in short, all inside the page."""

import re
from dataclasses import replace
from functools import cache
from itertools import islice, pairwise

import pytest
from demos import PATHS, demo_build, demo_plan, with_steps
from on_paper import HOSTILE, check_inside, check_said, make_setup, texts, visible_marks

from docgen.fonts import text_width_mm
from docgen.geometry.path import path_box
from docgen.pages.drawn.small_drawing import SAID_WITH
from docgen.pages.lists.cutting_list import lay_out_cutting_list
from docgen.pages.looks.words import words as page_words
from docgen.pages.marks.page import ClipMark, Document, PathMark, TextMark
from docgen.pages.pictures.pictures import Pictures
from docgen.pages.setting.paging import hold_measures
from docgen.pages.work.acts import tell
from docgen.pages.work.build_sheet import lay_out_build_sheet
from docgen.pages.work.build_step import short_caution
from docgen.plan import Plan, plan_work
from docgen.plan.names import call_hardware
from docgen.problems import Place, make_caution
from docgen.resolve import Machine, find_bed
from docgen.tables.cautions import AT_STEP, HAZARDS
from docgen.tables.strength import STRENGTH_CAUTION
from docgen.written.units.table import MM_PER_POINT
from docgen.written.units.telling import format_bought_run


def lay_out_texts(plan: Plan) -> list[str]:
    return texts(lay_out_build_sheet(plan, make_setup()))


def joined(plan: Plan) -> str:
    return " ".join(lay_out_texts(plan))


@cache
def demo_texts(name: str) -> tuple[str, ...]:
    return tuple(lay_out_texts(demo_plan(name)))


@cache
def plan_many(name: str, makes: int, is_bare: bool) -> Plan:
    """A demo made so many times, with its own steps or without."""
    build = replace(demo_build(name), makes=makes, show="in" if makes == 1 else "mm")
    return plan_work(with_steps(build, ()) if is_bare else build)


@cache
def lay_out_many(name: str, paper: str, makes: int, is_bare: bool) -> Document:
    return lay_out_build_sheet(plan_many(name, makes, is_bare), make_setup(paper))


def test_every_step_is_there_once_in_order() -> None:
    build = demo_build("field-bag")
    build = with_steps(build, tuple(replace(step, do=f"Do{n:02}.") for n, step in enumerate(build.steps)))
    found = lay_out_texts(plan_work(build))
    done = [text.rpartition(": ")[2] for text in found if "Do" in text and text.endswith(".")]
    assert done == [step.do for step in build.steps]
    assert found.count("initials") == len(build.steps)


def test_a_group_is_named_only_where_it_changes() -> None:
    build = demo_build("field-bag")
    groups = ["Alpha", "Alpha", "", "Alpha", *["Omega"] * (len(build.steps) - 4)]
    steps = tuple(replace(step, group=group, do="Do it.") for step, group in zip(build.steps, groups, strict=True))
    found = [text for text in lay_out_texts(plan_work(with_steps(build, steps))) if text.endswith("Do it.")]
    assert found[:5] == ["Alpha: Do it.", "Do it.", "Do it.", "Alpha: Do it.", "Omega: Do it."]
    assert {*found[5:]} == {"Do it."}


def test_each_run_has_a_row_with_its_figures() -> None:
    """25.4 mm / 6 is a stitch of 4.23 mm; what a run has other than its stitch stands below its row."""
    plan = plan_work(demo_build("field-bag"))
    job = next(job for step in plan.steps for job in step.jobs if job.title == "Gusset to back")
    assert job.seam is not None
    seam = replace(job.seam, holes_mm=tuple(5.08 * k for k in range(101)), load_words="")
    job = replace(job, stitches=100, pitch_mm=5.08, length_mm=508.0, stack_range_mm=(2.42, 4.5), rows=2, seam=seam)
    step = replace(plan.steps[0], jobs=(job,), takes=(), acts=(), good=(), drawn=())
    found = joined(replace(plan, steps=(step,)))
    assert "Gusset to back stitch main 100 stitches 20 in (508 mm) long 2.4 to 4.5 mm thick" in found
    assert "Gusset to back: stitch length 5.08 mm (5 per inch); 2 rows, 1/8 in (3.2 mm) apart." in found
    even = replace(step, jobs=(replace(job, stack_mm=4.5, stack_range_mm=(4.48, 4.52)),))
    assert "4.5 mm thick" in joined(replace(plan, steps=(even,)))


@pytest.mark.parametrize(
    ("tannage", "edges", "tool", "is_damp"),
    [
        ("vegetable", "burnished once they are sewn", "mallet", True),
        ("chrome", "burnished once they are sewn", "mallet", False),
        ("vegetable", "burnished once they are sewn", "edge gum", False),
        ("vegetable", "burnished with beeswax", "mallet", False),
        ("vegetable", "bevelled", "mallet", False),
    ],
)
def test_edges_are_burnished_damp_where_water_helps_and_nothing_else_is_named(
    tannage: str, edges: str, tool: str, *, is_damp: bool
) -> None:
    """That vegetable-tanned edges are rubbed damp, or with gum or wax, is common practice, no published source."""
    build = demo_build("sheath")
    body, *goods = build.materials
    steps = [
        replace(step, tools=(tool,), note="Damp the fold.") for step in build.steps
    ]  # told by the maker's own words
    made = replace(build, materials=(replace(body, tannage=tannage, edges=edges), *goods))
    plan = plan_work(with_steps(made, tuple(steps)))
    found = lay_out_texts(plan)
    assert ("Burnish them damp." in " ".join(found)) == is_damp
    assert ("sponge and water" in found) == is_damp


def test_a_section_names_all_posts_that_may_fit() -> None:
    found = " ".join(demo_texts("field-bag"))
    assert "double-cap rivet, post 10 / 12 mm: Back panel" in found
    assert "double-cap rivet, post 8 mm: Front panel" in found


def test_a_hand_sewn_seam_says_its_holes() -> None:
    """A row from edge to edge has one hole fewer than stitches; one within the piece one more; a closed one as many."""
    plan = plan_work(demo_build("notebook-sleeve"))
    seam = plan.build.seams[0]
    assert f"{seam.stitches - 1} holes, {seam.stitches} stitches" in joined(plan)
    for is_closed, holes in ((False, seam.stitches + 1), (True, seam.stitches)):
        pieces = tuple(
            piece.with_marks(
                stitch_lines=tuple(
                    replace(line, path=replace(line.path, closed=is_closed), holes_mm=seam.holes_mm)
                    for line in piece.marks.stitch_lines
                )
            )
            for piece in plan.build.pieces
        )
        assert f"{holes} holes, {seam.stitches} stitches" in joined(plan_work(replace(plan.build, pieces=pieces)))


@pytest.mark.parametrize(("name", "is_told"), [("sleeve", True), ("satchel", False), ("field-bag", False)])
def test_that_rows_by_hand_go_over_edges_and_how_they_begin_and_end_is_told(name: str, is_told: bool) -> None:
    """The rows of the sleeve begin and end at its mouth; all others are sewn by machine."""
    found = " ".join(demo_texts(name))
    assert ("its first and its last stitch go over them" in found) == is_told
    assert ("Begin and end each row with its back-tack" in found) == is_told


def test_thread_and_needle_are_changed_where_they_change() -> None:
    """Over all steps: set up once, changed with the thread, and nothing said where the run before was sewn so."""
    plan = demo_plan("field-bag")
    jobs = [job for step in plan.steps for job in step.jobs]
    changes = sum(one.stitch.thread_words != other.stitch.thread_words for one, other in pairwise(jobs))
    found = " ".join(demo_texts("field-bag"))
    assert found.count("Set up stitch light.") == 1
    assert found.count("Change thread and needle: stitch ") == changes > 1
    sewn = [text for step in plan.steps if step.number == 5 for text in map(tell, step.acts) if "Sew " in text]
    assert sewn == [
        "Sew seam 1 from top right to top left of Back panel.",
        "Sew seam 2 from top right to top left of Front panel.",
    ]
    assert "1 Top edge of the back stitch light 96 stitches" in found
    assert "2 Top edge of the front stitch light 96 stitches" in found


def test_a_drawing_is_not_repeated_where_a_step_goes_on() -> None:
    """Over many heights of paper, so that breaks fall between all kinds of lines."""
    plan = plan_work(demo_build("field-bag"))
    parted = 0
    undivided = count_figures(lay_out_build_sheet(plan, replace(make_setup(), paper_height_mm=5000.0)))
    for height_mm in range(200, 300, 13):
        setup = replace(make_setup(), paper_height_mm=float(height_mm))
        document = lay_out_build_sheet(plan, setup)
        check_inside(document)
        parted += sum(text.endswith(", continued") for text in texts(document))
        assert count_figures(document) == undivided
    assert parted


def count_figures(document: Document) -> int:
    return sum(isinstance(mark, ClipMark) for page in document.pages for mark in page.marks)


def test_a_section_is_drawn_at_the_first_step_that_makes_its_stack_and_named_at_the_others() -> None:
    plan, found = demo_plan("field-bag"), demo_texts("field-bag")
    said = " ".join(found)
    heads = [at for at, text in enumerate(found) if text in {str(step.number) for step in plan.steps}]
    assert len(heads) >= len(plan.steps)
    for stack in Pictures(plan.build).stacks:
        first, *others = stack.steps
        assert found.count(stack.letter) == 1, "drawn once"
        assert said.count(f"Section {stack.letter}: at step {first}.") == len(others)
        assert (f"also step {others[0]}" in said) if others else True
    assert "Sections A, B ... (2:1) show what lies under needle or post" in said


def test_a_build_sheet_of_the_demo_bag_is_six_pages() -> None:
    """With the words of steps at 12 pt and nothing that is read at the bench below 10 pt, on both papers."""
    plan = demo_plan("field-bag")
    for paper in ("letter", "A4"):
        setup = make_setup(paper)
        document = lay_out_build_sheet(plan, setup)
        assert len(document.pages) <= 6
        sizes = {
            round(mark.size_mm / MM_PER_POINT, 1)
            for page in document.pages
            for mark, _, dy in visible_marks(page.marks)
            if isinstance(mark, TextMark) and mark.y_mm + dy > setup.frame.bottom and mark.text != "!"
        }
        assert min(sizes) >= 10.0
        titles = {*plan.build.part_titles.values()}
        acts = [tell(one) for step in plan.steps for one in step.acts]
        told = [
            mark
            for page in document.pages
            for mark, _, _ in visible_marks(page.marks)
            if isinstance(mark, TextMark)
            and len(mark.text) > 24
            and mark.text not in titles
            and any(one.startswith(mark.text) for one in acts)
        ]
        assert len(told) >= 40
        assert all(mark.size_mm / MM_PER_POINT >= 12.0 - 1e-6 for mark in told)


def test_threads_for_sewing_by_hand_and_needles_are_told() -> None:
    plan, found = demo_plan("notebook-sleeve"), " ".join(demo_texts("notebook-sleeve"))
    assert "threads to cut" in found
    assert plan.threads[0].hand[0].count
    sewing = sum(bool(step.jobs) for step in plan.steps)
    assert found.count("2 hand needles") == 3 + sewing, "twice laid out, set up, and at each step that sews"


@pytest.mark.parametrize(("limit", "threads"), [({}, 1), ({"hand_tails_mm": 600.0}, 2), ({"hand_thread_mm": 900.0}, 5)])
def test_both_papers_cut_threads_by_the_limits_in_force(limit: dict[str, float], threads: int) -> None:
    """The build sheet cuts what the cutting list cuts, however long the shop wants its tails and its thread."""
    build = demo_build("notebook-sleeve")
    plan = plan_work(replace(build, limits=replace(build.limits, **limit)))
    cut = next(cut for cut in plan.threads[0].hand if cut.title == "Front to back")
    words = format_bought_run(cut.length_mm, plan.build.show)
    assert cut.count == threads
    assert f"{threads} × {words}" in joined(plan)
    assert words in " ".join(texts(lay_out_cutting_list(plan, make_setup())))


def test_findings_are_told_by_titles_and_without_their_mend() -> None:
    build = demo_build("field-bag")
    caution = make_caution(Place(), 'the strap "handle" is thin', 'write thickness = "6 oz"')
    found = joined(plan_work(replace(build, cautions=(caution,))))
    assert 'the strap "Handle" is thin' in found
    assert "write thickness" not in found


def test_cautions_stand_in_full_at_the_front_and_in_short_at_the_step() -> None:
    plan, found = demo_plan("notebook-sleeve"), " ".join(demo_texts("notebook-sleeve"))
    for hazard in plan.hazards:
        assert HAZARDS[hazard][1].split(". ")[1][:20] in found
    # Where the holes are punched, and twice where a pricking iron is struck.
    assert found.count("Punch: solid block and board beneath.") == 3


@pytest.mark.parametrize("hazard", HAZARDS)
def test_a_caution_at_a_step_is_one_line(hazard: str) -> None:
    """On the narrower paper, beside the sign, in bold type of the body."""
    setup = make_setup("A4")
    room_mm = setup.frame.width - 12.0
    assert short_caution(hazard).startswith(f"{HAZARDS[hazard][0]}: ")
    assert text_width_mm(short_caution(hazard), "bold", setup.style.body_type_mm) <= room_mm
    assert {*AT_STEP} == {*HAZARDS}


def test_a_proposed_order_says_so() -> None:
    words = "The order of these steps is proposed from the seams; whoever designed the build has not set it."
    build = demo_build("notebook-sleeve")
    assert words in joined(plan_work(with_steps(build, ())))
    assert words not in " ".join(demo_texts("notebook-sleeve"))


def test_the_front_has_tools_goods_and_changes() -> None:
    build = replace(demo_build("field-bag"), changed="Everything anew.", makes=2)
    caution = make_caution(Place(), "the needle is thin for its thread", "take 140/22")
    plan = plan_work(replace(build, cautions=(caution,)))
    document = lay_out_build_sheet(plan, make_setup())
    first = texts(replace(document, pages=document.pages[:1]))
    assert first[0] == f"Build sheet: {build.title}"
    changed = "What has changed since the version before: Everything anew."
    assert [first.count(words) for words in (changed, *plan.tools)] == [1] * (1 + len(plan.tools))
    for item in build.hardware:
        assert f"{2 * item.count} × {item.what}" in first
    pieces = 2 * sum(piece.cut for piece in build.pieces if piece.material == "pad")
    assert f"closed-cell foam: {pieces} pieces" in " ".join(first)
    assert "the needle is thin for its thread" in first


def test_many_goods_stand_in_columns_over_several_pages() -> None:
    build = demo_build("field-bag")
    many = tuple(replace(build.hardware[0], name=f"h{n}", what=f"Thing{n}") for n in range(100))
    document = lay_out_build_sheet(plan_work(with_steps(replace(build, hardware=many), build.steps[:1])), make_setup())
    check_inside(document)
    found = [text for text in texts(document) if " × Thing" in text]
    assert [int(text.rpartition("Thing")[2]) for text in found] == list(range(100))
    at = [
        mark.x_mm
        for page in document.pages
        for mark in page.marks
        if isinstance(mark, TextMark) and "Thing" in mark.text
    ]
    assert len({round(x) for x in at}) == 3


def test_every_stitch_is_set_up_and_tried_on_the_stack_it_sews() -> None:
    build = replace(demo_build("field-bag"), machines=())
    found = joined(plan_work(build))
    assert "main: try on 2 × bridle leather + 2 × cotton canvas, " in found
    assert " together, as in Gusset to back" in found
    assert (
        "Try every stitch on scrap first, skived alike: a row must come out at its stitch length. Counts are without "
        "back-tacks; one in fifty either way does no harm. Both threads must lock in the middle of the layers: set the "
        "tension there, not on the work."
    ) in found
    for words in ("stitch length", "in from the edge", "back-tack", "130/21, leather"):
        assert words in found


def test_by_hand_nothing_is_said_of_two_threads() -> None:
    found = " ".join(demo_texts("notebook-sleeve"))
    assert "Both threads" not in found
    assert "top and bottom" not in found
    assert "saddle: try on 2 × natural shoulder, 3.6 mm together, as in Front to back" in found


def test_a_machine_is_named_where_the_spec_describes_one() -> None:
    build = demo_build("field-bag")
    machine = Machine(name="arm", title="Longarm")
    stitches = tuple(replace(stitch, machine="arm" if stitch.name == "main" else "") for stitch in build.stitches)
    found = lay_out_texts(plan_work(replace(build, machines=(machine,), stitches=stitches)))
    assert (found.count("Longarm"), found.count("machine")) == (2, 2)


def test_the_bed_of_a_machine_stands_beside_its_title_once() -> None:
    build = demo_build("field-bag")
    stitches = tuple(replace(stitch, machine="arm") for stitch in build.stitches)
    for title, bed, is_said in (("Arm", "cylinder", True), ("Flat bed", "flat", False), ("Arm", "", False)):
        machine = Machine(name="arm", title=title, bed=bed)
        found = joined(plan_work(replace(build, machines=(machine,), stitches=stitches)))
        assert (re.search(r"\b(Arm|bed), (cylinder|flat)\b", found) is not None) == is_said


def test_a_stitch_is_sewn_on_the_bed_of_its_own_machine() -> None:
    build = demo_build("field-bag")
    machines = (Machine(name="table", title="Table", bed="flat"), Machine(name="arm", title="Arm", bed="cylinder"))
    stitches = tuple(replace(stitch, machine="arm") for stitch in build.stitches)
    build = replace(build, machines=machines, stitches=stitches)
    assert [find_bed(build, name) for name in (stitches[0].name, "none")] == ["cylinder", ""]


@pytest.mark.parametrize(
    ("minutes", "makes", "words"),
    [
        (5, 1, "batch 1 make working time for one make 1 h "),
        (7, 12, "working time for one make 1 h 24 min for the batch 16 h 48 min"),
        (2, 1, "working time for one make 24 min"),
    ],
)
def test_the_front_tells_how_long_it_takes_where_every_step_does(minutes: int, makes: int, words: str) -> None:
    build = demo_build("field-bag")
    steps = tuple(replace(step, minutes=minutes) for step in build.steps)
    plan = plan_work(with_steps(replace(build, makes=makes), steps))
    found = joined(plan)
    assert words in found
    assert found.count(f"{minutes} min, taken") == len(steps)
    untold = plan_work(with_steps(build, (*steps[1:], replace(steps[0], minutes=0))))
    assert "working time" not in joined(untold)


def test_a_step_tells_how_long_glue_waits() -> None:
    plan = demo_plan("field-bag")
    words = "Wait 15 to 120 min, until dry to the touch"
    glued = sum("contact cement" in step.tools for step in plan.steps)
    assert " ".join(demo_texts("field-bag")).count(f"{words} (see the tin)") == glued > 0


def test_what_is_out_of_order_stands_at_its_step_and_at_the_front() -> None:
    build = demo_build("field-bag")
    caution = make_caution(build.steps[3].place, "step 4 punches it too late", "punch it before step 2")
    found = joined(plan_work(replace(build, cautions=(caution,))))
    assert found.count("step 4 punches it too late") == 2
    assert "punch it before step 2" not in found


@pytest.mark.parametrize(("makes", "boxes"), [(1, 0), (2, 2), (12, 12), (24, 24), (25, 0)])
def test_a_batch_has_a_numbered_box_for_each_make_at_each_step(makes: int, boxes: int) -> None:
    plan = plan_work(replace(demo_build("notebook-sleeve"), makes=makes))
    found = lay_out_texts(plan)
    assert found.count("done, make by make") == (len(plan.steps) if boxes else 0)
    if boxes:
        at = found.index("done, make by make")
        assert found[at + 1 : at + 1 + boxes] == [str(number) for number in range(1, boxes + 1)]


@pytest.mark.parametrize("name", PATHS)
@pytest.mark.parametrize("is_bare", [False, True])
def test_everything_that_is_made_is_on_the_sheet(name: str, is_bare: bool) -> None:
    plan, laid = plan_many(name, 1, is_bare), texts(lay_out_many(name, "letter", 1, is_bare))
    build = plan.build
    found, rows = " ".join(laid), [text[2:] for text in laid if re.match(r"\d \D", text)]
    for seam in build.seams:
        is_numbered = any(seam.title.startswith(row) or row.startswith(seam.title) for row in rows)
        assert f"Sew {seam.title}" in found or is_numbered, "by its name, or by the number of its row"
    for join in build.joins:
        assert f"Sew {join.title}" in found
    for strap in build.straps:
        assert strap.title in found
    called = call_hardware(build.hardware)
    for item in build.hardware:
        assert item.what in found, "what is had ready has its whole name"
        assert found.count(called[item.name]) >= 2
    assert laid.count("initials") == len(plan.steps)


@pytest.mark.parametrize("name", PATHS)
@pytest.mark.parametrize(("paper", "makes"), [("letter", 1), ("A4", 12)])
@pytest.mark.parametrize("is_bare", [False, True])
def test_no_page_but_the_last_is_left_nearly_empty(name: str, paper: str, makes: int, is_bare: bool) -> None:
    """A third may stay empty for a step that stays whole; somewhat more where its settings cannot leave its drawing."""
    setup = make_setup(paper)
    document = lay_out_many(name, paper, makes, is_bare)
    check_inside(document)
    assert [page.label for page in document.pages] == [f"Build sheet {n + 1}" for n in range(len(document.pages))]
    assert all(f"/BUILD-SHEET/{n}" in page.payload for n, page in enumerate(document.pages, start=1))
    assert document.name == "build-sheet"
    for page in document.pages[:-1]:
        lows = [mark.y_mm for mark in page.marks if isinstance(mark, TextMark)]
        lows += [mark.box.bottom for mark in page.marks if isinstance(mark, ClipMark)]
        lowest = min(y for y in lows if y > setup.frame.bottom)
        assert setup.frame.top - lowest > 0.45 * setup.frame.height


@pytest.mark.parametrize("name", PATHS)
@pytest.mark.parametrize("paper", ["letter", "A4"])
def test_the_first_thing_that_is_done_stands_on_the_page_of_its_head(name: str, paper: str) -> None:
    steps = iter(demo_plan(name).steps)
    document = lay_out_many(name, paper, 1, is_bare=False)
    for page in document.pages:
        told = " ".join(texts(replace(document, pages=(page,))))
        for step in islice(steps, told.split().count("initials")):
            first = tell(step.acts[0]) if step.acts else step.do
            opening = " ".join(first.split()[:3])
            assert opening[:1].upper() + opening[1:] in told, step.number
    assert next(steps, None) is None


def test_a_divided_step_goes_on_with_its_number() -> None:
    build = demo_build("field-bag")
    steps = tuple(replace(step, straps=tuple(strap.name for strap in build.straps)) for step in build.steps[:3])
    document = lay_out_build_sheet(plan_work(with_steps(build, steps)), replace(make_setup(), paper_height_mm=150.0))
    pages = [texts(replace(document, pages=(page,))) for page in document.pages]
    divided = [page[0] for page in pages if page[0].endswith("continued")]
    assert divided
    for words in divided:
        number = words.removeprefix("Step ").removesuffix(", continued")
        before = next(page for page in pages if number in page and "initials" in page)
        assert pages.index(before) < next(n for n, page in enumerate(pages) if page[0] == words)


@pytest.mark.parametrize(("name", "is_divided"), [("field-bag", True), ("cable-roll", False)])
def test_cautions_that_go_on_over_a_page_say_so(name: str, *, is_divided: bool) -> None:
    """Those of the field bag do not fit its first page, as the table there ends short of some of them."""
    document = lay_out_build_sheet(demo_plan(name), make_setup())
    pages = [texts(replace(document, pages=(page,))) for page in document.pages]
    told = [page[0] == "Take care, continued" for page in pages]
    assert told.count(True) == int(is_divided)
    for before, after in pairwise(pages):
        if after[0] == "Take care, continued":
            assert any(words.startswith("Take care of hands") for words in before)


@pytest.mark.parametrize("words", HOSTILE)
def test_hostile_words_stay_text_and_inside(words: str) -> None:
    build = demo_build("field-bag")
    build = replace(
        build,
        title=words,
        changed=words,
        pieces=tuple(replace(piece, title=words) for piece in build.pieces),
        seams=tuple(replace(seam, title=words) for seam in build.seams),
        hardware=tuple(replace(item, what=words) for item in build.hardware),
        stitches=tuple(replace(stitch, thread_words=words) for stitch in build.stitches),
    )
    steps = tuple(replace(s, do=words, group=words, note=words, tools=(words, *s.tools)) for s in build.steps)
    build = with_steps(build, steps)
    document = lay_out_build_sheet(plan_work(build), make_setup())
    check_said(document, words, 2 * len(build.steps))


@pytest.mark.parametrize(
    ("text", "held"),
    [
        ("from 6 1/4 in (158.8 mm) to 7 3/4 in", "from 6~1/4~in (158.8~mm) to 7~3/4~in"),
        ("2.5 oz over 1/2 in", "2.5~oz over 1/2~in"),
        ("7 holes in a row of 4 inside", "7~holes in a row of 4 inside"),
        ("2 rivets (of 14), 3 layers", "2~rivets (of~14), 3~layers"),
        ("at step 3 and on 2 sides; first 1, then 2", "at step 3 and on 2 sides; first 1, then 2"),
    ],
)
def test_measures_are_not_parted_at_a_line_end(text: str, held: str) -> None:
    assert hold_measures(text) == held.replace("~", "\u00a0")


def with_load(load_words: str, strength_n: float) -> Plan:
    """The demo bag whose back has to carry 12 kg, 117.7 N, on a thread that holds so much."""
    plan = plan_work(demo_build("field-bag"))
    seams = tuple(
        replace(seam, load_words=load_words, load_n=117.7, strength_n=strength_n)
        if seam.name == "gusset-to-back"
        else seam
        for seam in plan.build.seams
    )
    return plan_work(replace(plan.build, seams=seams))


@pytest.mark.parametrize(
    ("load_words", "told"),
    [
        ("12 kg", "has to carry 12 kg (26 lb, 118 N); its thread alone, about (estimate) 1100 N (240 lb)."),
        ("20 lb", "has to carry 20 lb (118 N); its thread alone, about (estimate) 1100 N (240 lb)."),
    ],
)
def test_a_loaded_seam_says_what_its_thread_carries_as_an_estimate(load_words: str, told: str) -> None:
    """1176 N, two digits rounded down: 1100 N, 247 lb at 4.44822 N; less than ten times 117.7 N."""
    found = joined(with_load(load_words, 1176.0))
    assert found.count(told) == 1
    assert " ".join(STRENGTH_CAUTION.split()) in found
    assert found.count("It is no rated load.") == 1


def test_beside_a_load_ample_thread_has_no_figure_but_what_gives_first() -> None:
    """25541 N of thread beside 118 N would be trusted, and it is the leather or a rivet that gives."""
    found = joined(with_load("12 kg", 25541.0))
    told = "No rated load: leather, rivets, rings, buckles or straps will give first."
    assert found.count(told) == 1
    assert "25000" not in found
    assert "estimate)" not in found


def test_a_loaded_seam_of_unknown_thread_says_its_load_alone() -> None:
    plan = plan_work(demo_build("field-bag"))
    seams = tuple(replace(seam, strength_n=0.0) for seam in plan.build.seams)
    found = joined(plan_work(replace(plan.build, seams=seams)))
    assert "has to carry 12 kg (26 lb, 118 N)" in found
    assert "estimate)" not in found
    assert "rated load" not in found


@pytest.mark.parametrize(("name", "is_said"), [("duffel", True), ("tote", True), ("sheath", False)])
def test_the_key_says_that_rows_are_left_out_on_narrow_straps(name: str, is_said: bool) -> None:
    """Where the build has rows along a strap, and stitches are drawn at all."""
    build = demo_build(name)
    assert is_said == any(strap.piece.marks.stitch_lines for strap in build.straps)
    found = " ".join(demo_texts(name))
    assert "short dashes: stitches" in found
    assert ("(none on narrow straps)" in found) == is_said


@pytest.mark.parametrize("paper", ["letter", "A4"])
def test_a_section_drawn_before_is_named_on_one_line(paper: str) -> None:
    """Each "Section X: at step n." stands whole on a line, as often as the build tells of one."""
    pictures = Pictures(demo_build("field-bag"))
    told = [(letter, at) for step in range(1, 13) for letter, at in pictures.drawn_before(step)]
    assert told
    lines = texts(lay_out_build_sheet(demo_plan("field-bag"), make_setup(paper)))
    for letter, at in told:
        said = f"Section {letter}: at step {at}."
        assert sum(line.count(said) for line in lines) == told.count((letter, at)), said


@pytest.mark.parametrize("name", ["belt", "strap"])
def test_a_keeper_in_the_fold_is_taken_laid_and_drawn(name: str) -> None:
    """Where the words of a step speak of the keeper in the fold, it is in hand, has its line, and lies on the strap."""
    _, *rest = demo_plan(name).steps
    (step,) = (one for one in rest if "keeper in the fold" in one.do)
    assert any("Keeper loop" in tell(one) for one in step.takes)
    assert any("Keeper loop in the fold" in tell(one) for one in step.acts)
    assert any("on it: " in text and "Keeper loop" in text for text in demo_texts(name))


def test_one_sign_has_one_meaning_in_the_key_of_drawings() -> None:
    """A strap whose middle is left out ends in two zigzags, one that goes on in one."""
    key = page_words("drawing")
    signs = [text.partition(": ")[0] for kind, text in key.items() if ": " in text and kind not in SAID_WITH]
    assert len(signs) > 8
    assert len(set(signs)) == len(signs)


@pytest.mark.parametrize("paper", ["letter", "A4"])
@pytest.mark.parametrize(
    ("name", "titles"), [("belt", ["Belt"]), ("strap", ["Buckle strap", "Hole strap"]), ("lead", ["Lead"])]
)
def test_straps_alone_lie_made_up_on_the_front_page(name: str, titles: list[str], paper: str) -> None:
    """By hand: 1 in of width or more at 1:3 or larger is 8 mm high or more; from end to end they would be thin lines. The
    keeper is on its strap."""
    build = demo_build(name)
    (first, *_) = lay_out_many(name, paper, 1, is_bare=False).pages
    told = texts(replace(lay_out_many(name, paper, 1, is_bare=False), pages=(first,)))
    drawing = next(mark for mark in first.marks if isinstance(mark, ClipMark))
    names = [mark.text for mark in drawing.marks if isinstance(mark, TextMark)]
    assert names == titles
    widest_mm = max(strap.width_mm for strap in build.straps)
    boxes = [path_box(mark.path) for mark in drawing.marks if isinstance(mark, PathMark)]
    assert max(box.height for box in boxes) >= widest_mm / 3 - 0.1
    assert "from behind" not in told
    assert any(words.startswith("about 1:") and " on it: " in words for words in told)


def test_what_has_pieces_is_drawn_from_the_front_and_from_behind() -> None:
    assert {"from the front", "from behind"} <= {*demo_texts("sleeve")}
