"""Words in a spec that look like markup, code or a path: printed as words, or told as a problem; never obeyed."""

import json
import os
import subprocess
import sys
import tomllib
from pathlib import Path
from types import SimpleNamespace

import pytest
from pypdf import PdfReader
from spec_text import write_out

from docgen.cli import main
from docgen.read import describe_keys

ROOT = Path(__file__).resolve().parents[2]

# Every table of the language that holds words.
SPEC = write_out("""\
<spec roll: @, version 1>
changed = "@"
[shop]
name = "@"
contact = "@"
[materials.body]
title = "@"
kind = "leather"
thickness = "4 oz"
colour = "@"
edges = "@"
note = "@"
<stitch main: by hand, Tex 135 nylon, 4 mm, 4 mm>
colour = "@"
[pieces.back]
title = "@"
of = "body"
shape = "rectangle"
size = ["190 mm", "150 mm"]
note = "@"
folds = [{ at = "80 mm from top", note = "@" }]
[pieces.front]
title = "@"
like = "back"
marks = false
note = "@"
kept = "@"
[pieces.side]
title = "@"
die = "@"
of = "body"
cut = 2
shape = "strip"
size = ["30 mm", "100 mm"]
[joins.band]
title = "@"
of = ["side", "side"]
overlap = "12 mm"
stitch = "main"
rows = 1
[seams.foot]
title = "@"
stitch = "main"
meet = ["back: bottom", "front: bottom"]
[straps.tie]
title = "@"
of = "body"
width = "20 mm"
finished = "200 mm"
ends = [{ shape = "square" }, { shape = "pointed" }]
note = "@"
[straps.stay]
of = "body"
width = "20 mm"
finished = "100 mm"
kept = "@"
[straps.lug]
of = "body"
width = "20 mm"
finished = "90 mm"
die = "@"
[trimmings.grip]
kind = "webbing"
what = "@"
thickness = "1 mm"
length = "300 mm"
finish = "@"
note = "@"
<hardware stud: 1, @>
finish = "@"
note = "@"
[[steps]]
group = "@"
do = "@"
tools = ["@", "@"]
first = ["@", "@"]
last = ["@", "@"]
note = "@"
pieces = ["back", "front", "side"]
seams = ["foot"]
joins = ["band"]
straps = ["tie", "stay", "lug"]
hardware = ["stud"]
[care]
card = "A6"
load = "@"
extra = "@"
repair = "@"
parts = [{ id = "keep", text = "@" }]
""")
WORD_KINDS = {"text", "note", "texts"}
SHAPED = {
    ("spec", "picture"),
    ("steps[]", "picture"),
    ("parts.NAME", "use"),
    ("parts.NAME", "instead"),
    ("pattern", "paper"),
    ("shop", "mark"),
    ("pieces.NAME", "file"),
    ("pieces.NAME", "element"),
    ("steps[]", "order"),
    ("variants.NAME", "without"),
    ("pieces.NAME.holes[]", "through"),
    ("pieces.NAME.hole-rows[]", "through"),
    ("straps.NAME.punches[]", "through"),
    ("pieces.NAME.notches[]", "at"),
    ("pieces.NAME.drawn-holes[]", "element"),
    ("pieces.NAME.drawn-holes[]", "through"),
}
"""Words with a meaning: whatever has none is a problem."""
ONLY_CHECKED = {
    ("pieces.NAME", "lines"),
    ("machines.NAME", "title"),
    ("irons.NAME", "title"),
    ("costs", "currency"),
    ("holds[]", "what"),
    ("accept[]", "at"),
    ("accept[]", "figures"),
    ("accept[]", "reason"),
    ("variants.NAME", "title"),
}
"""Words that no page of this spec shows."""

COUNT = SPEC.count("@")
CARE_COUNT = SPEC[SPEC.index("[care]") :].count("@")

MARKUP = [
    '<img src=\\"/etc/passwd\\"/> <b>fat</b>',
    "{{ 7*7 }} {% include '/etc/passwd' %}",
    "&amp; &lt;br/&gt; %s %(x)d %%",
    "$(touch /tmp/x) `id` ../../etc/passwd",
    "(close) Tj ET \\\\) /JS <</S/URI>>",
    "## head - list | a | b | # !!",
]

# An audit hook that notes what is opened, started or called while it is told to; it cannot be taken away again.
WATCH = """
import sys
seen = []
is_on = []
def note(event, given):
    if not is_on:
        return
    if event == "open" and isinstance(given[0], (str, bytes)):
        seen.append(["open", given[0] if isinstance(given[0], str) else given[0].decode()])
    elif event.startswith(("socket.", "subprocess.", "urllib.", "os.system", "os.exec", "os.fork", "os.posix_spawn")):
        seen.append([event, str(given)[:200]])
sys.addaudithook(note)
"""
# Runs docgen under it from its first import on, and tells what was noted as JSON on the last line.
WATCHED = f"""{WATCH}
import json
is_on.append(True)
from docgen.cli import main
code = main(sys.argv[1:])
print("SEEN" + json.dumps(seen))
sys.exit(code)
"""


def fill(payloads):
    """The spec with a payload and a mark of its own (Q0Q, Q1Q ...) in every place of words."""
    parts = SPEC.split("@")
    filled = [parts[0]]
    for index, part in enumerate(parts[1:]):
        filled.append(f"{payloads[index % len(payloads)]} Q{index}Q{part}")
    return "".join(filled)


def arguments(spec, folder):
    return ["make", str(spec), "--out", str(folder), "--date", "2026-03-31"]


def run_alone(spec, folder):
    """docgen in a process of its own: what it said, and all that was noted."""
    command = [sys.executable, "-c", WATCHED, *arguments(spec, folder)]
    # reportlab looks for settings of its own in the home folder.
    made = subprocess.run(
        command,
        capture_output=True,
        text=True,
        timeout=120,
        cwd=spec.parent,
        env={**os.environ, "HOME": str(spec.parent)},
    )
    seen = made.stdout.partition("SEEN")[2]
    return made, json.loads(seen) if seen else []


@pytest.fixture(scope="module")
def watch():
    """The audit hook in this process: what it notes, and the list that turns it on."""
    names = {}
    exec(WATCH, names)
    return names["seen"], names["is_on"]


@pytest.fixture
def run(watch, capsys, monkeypatch):
    """run(spec, folder) -> the same as `run_alone`, in this process, which has its imports behind it."""
    seen, is_on = watch

    def call(spec, folder):
        monkeypatch.chdir(spec.parent)
        monkeypatch.setenv("HOME", str(spec.parent))  # as in `run_alone`
        seen.clear()
        is_on.append(True)
        try:
            code = main(arguments(spec, folder))
        finally:
            is_on.clear()
        said = capsys.readouterr()
        return SimpleNamespace(returncode=code, stdout=said.out, stderr=said.err), list(seen)

    return call


def is_ours(path, folder):
    """Python's own files, the packages, this program, and the folder of the test."""
    homes = (ROOT, sys.prefix, sys.base_prefix, os.path.dirname(os.__file__), folder)
    real = os.path.realpath(path)
    return any(real.startswith(os.path.realpath(home)) for home in homes)


def read_squeezed(folder):
    text = "".join(page.extract_text() for page in PdfReader(folder / "packet.pdf").pages)
    return "".join(text.split())


def test_every_place_of_words_is_tried():
    filled = tomllib.loads(SPEC)
    tried = set()

    def walk(value, table):
        for key, item in value.items():
            named = table in ("materials", "stitches", "pieces", "joins", "seams", "straps", "hardware", "trimmings")
            path = f"{table}.NAME" if named else f"{table}.{key}" if table else key
            if isinstance(item, dict):
                walk(item, path)
            elif isinstance(item, list) and item and isinstance(item[0], dict):
                for entry in item:
                    walk(entry, f"{table}.{key}[]" if table else f"{key}[]")
            elif item == "@" or item == ["@", "@"]:
                tried.add((table, key))

    walk(filled, "")
    rows = {(row.table, row.key) for row in describe_keys() if row.told.kind in WORD_KINDS}
    assert tried == rows - SHAPED - ONLY_CHECKED


def test_a_process_of_its_own_opens_nothing_from_its_first_import_on(tmp_path):
    check_markup(tmp_path, MARKUP, run_alone)


@pytest.mark.parametrize("turn", range(len(MARKUP)))
def test_markup_is_printed_as_words_and_opens_nothing(tmp_path, turn, run):
    check_markup(tmp_path, MARKUP[turn:] + MARKUP[:turn], run)


def check_markup(tmp_path, payloads, run):
    spec, folder = tmp_path / "roll.toml", tmp_path / "out"
    spec.write_text(fill(payloads))
    made, seen = run(spec, folder)
    assert made.returncode == 0, made.stderr
    assert [event for event in seen if event[0] != "open" or not is_ours(event[1], tmp_path)] == []
    assert any(event == ["open", str(spec)] for event in seen)
    text = read_squeezed(folder)
    missing = [f"Q{index}Q" for index in range(COUNT) if f"Q{index}Q" not in text]
    assert missing == []
    for payload in payloads:
        for word in json.loads(f'"{payload}"').split(" "):
            assert "".join(word.split()) in text, word
    assert "root:" not in text


def test_long_words_without_a_gap_are_printed_whole(tmp_path, run):
    spec, folder = tmp_path / "roll.toml", tmp_path / "out"
    text = fill(["K" * 190])
    for index in range(COUNT - CARE_COUNT, COUNT):  # the care card is small
        text = text.replace(f"{'K' * 190} Q{index}Q", f"Q{index}Q")
    text = text.replace(f"{'K' * 190} Q0Q", "Q0Q")  # as is the first page's column beside the test squares
    spec.write_text(text)
    made, _ = run(spec, folder)
    assert made.returncode == 0, made.stderr
    text = read_squeezed(folder)
    assert text.count("K") >= 190 * (COUNT - CARE_COUNT - 1)
    assert [f"Q{index}Q" for index in range(COUNT) if f"Q{index}Q" not in text] == []


REFUSED = {
    "a control character": "bell\\u0007",
    "an escape sequence": "\\u001b[31mred",
    "a null": "end\\u0000",
    "a right-to-left override": "abc\\u202edcba",
    "a right-to-left mark": "a\\u200f",
    "an emoji": "thread \\U0001F9F5",
    "an unknown script": "革",
    "5,000 letters": "m" * 5000,
}


@pytest.mark.parametrize("payload", REFUSED.values(), ids=REFUSED.keys())
def test_what_cannot_be_printed_is_told_with_its_line_and_writes_nothing(tmp_path, payload, run):
    spec, folder = tmp_path / "roll.toml", tmp_path / "out"
    text = SPEC.replace("@", payload)
    spec.write_text(text)
    made, _ = run(spec, folder)
    assert made.returncode == 1, made.stdout
    assert not folder.exists()
    assert "Traceback" not in made.stderr
    wanted = {number for number, line in enumerate(text.splitlines(), start=1) if payload in line}
    told = {int(line.split(":")[1]) for line in made.stderr.splitlines() if line.startswith(f"{spec}:")}
    assert wanted <= told


ODD_PIECE = '[pieces.odd]\nof = "body"\nshape = "drawing"\nfile = "{}"\n'


@pytest.mark.parametrize(
    "lines",
    [
        '[pattern]\npaper = "<b>letter</b>"',
        '[pattern]\npaper = "../../etc/passwd"',
        ODD_PIECE.format("/etc/passwd"),
        ODD_PIECE.format("../../../../../etc/passwd"),
        ODD_PIECE.format("https://pieces.example/odd.svg"),
        ODD_PIECE.format("//pieces.example/odd.svg"),
    ],
)
def test_words_with_a_meaning_are_refused_when_they_have_none(tmp_path, lines, run):
    spec = tmp_path / "roll.toml"
    spec.write_text(f"{lines}\n" + SPEC.replace("@", "plain"))
    made, seen = run(spec, tmp_path / "out")
    assert made.returncode == 1
    assert f"{spec}:{len(lines.splitlines())}: error: " in made.stderr
    assert [event for event in seen if event[0] != "open" or not is_ours(event[1], tmp_path)] == []
