"""Ways in which one number, name or line of a spec goes wrong: each gives every slip of its kind that a text holds."""

import itertools
import re
import tomllib
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace

from slips.scalars import Scalar, find_scalars, table_lines

WORDS = {
    "title",
    "do",
    "note",
    "name",
    "contact",
    "extra",
    "repair",
    "changed",
    "code",
    "version",
    "group",
    "tools",
    "reason",
    "first",
    "last",
}
COUNTS = {"count", "cut", "number", "rows", "times", "teeth"}
FIGURE = r"(?:\d+ \d+/\d+|\d+/\d+|\d+\.\d+|\d+)"
LENGTH_RE = re.compile(rf"({FIGURE}) (in|mm)\b")
FIGURE_RE = re.compile(FIGURE)
NAMES_RE = re.compile(r'^(\s*)([\w-]+)(\s*=\s*)\[((?:"[\w-]+(?:: [^"]*)?"(?:, )?){2,})\]\s*(#.*)?$')
SIZE_RE = re.compile(r'^(\s*size\s*=\s*\[)("[^"]+"), ("[^"]+")(\].*)$')
LISTED = ("meet", "of", "pieces", "seams", "straps", "hardware", "skives", "joins", "lines")
BESIDE = {
    "left": "bottom", "bottom": "right", "right": "top", "top": "left", "start": "right", "end": "left",
}  # fmt: skip
ACROSS = {"left": "right", "right": "left", "top": "bottom", "bottom": "top", "start": "end", "end": "start"}
REFERENCES = {
    "of": ("materials", "pieces"), "stitch": ("stitches",), "machine": ("machines",), "piece": ("pieces",),
    "strap": ("straps",), "takes": ("hardware",), "around": ("hardware",), "through": ("pieces", "straps", "joins"),
    "like": ("pieces",), "keeper-for": ("straps",), "partner": ("straps",), "pieces": ("pieces",), "on": ("pieces",),
    "seams": ("seams",), "joins": ("joins",), "straps": ("straps",), "hardware": ("hardware",), "skives": ("pieces",),
}  # fmt: skip


@dataclass(frozen=True)
class Slip:
    """One change of a text: its class, what it changes into what, the lines (from 1) that hold the change, and why it is
    no mistake, where that is known with it."""

    kind: str
    path: str
    was: str
    now: str
    text: str = field(repr=False)
    lines: tuple[int, ...] = ()
    free: str = ""
    gone: str = field(default="", repr=False)  # the table that is deleted

    @property
    def label(self) -> str:
        """How it is told and judged."""
        return f"{self.kind}: {self.path}: {self.was} -> {self.now}"


Operator = Callable[[str], Iterator[Slip]]
OPERATORS: dict[str, Operator] = {}


def operator(kind: str) -> Callable[[Callable[[str, Scalar], Iterator[str]]], Operator]:
    """Enters a way to write one value wrong, which gives each wrong way as TOML."""

    def enter(write: Callable[[str, Scalar], Iterator[str]]) -> Operator:
        def slips(text: str) -> Iterator[Slip]:
            for scalar in find_scalars(text):
                was = text[scalar.start : scalar.end]
                for now in write(text, scalar):
                    if now != was:
                        yield Slip(kind, scalar.dotted, was, now, scalar.put(text, now), (scalar.line,))

        OPERATORS[kind] = slips
        return slips

    return enter


def enter_lines(kind: str) -> Callable[[Operator], Operator]:
    """Enters a way to change whole lines."""

    def enter(slips: Operator) -> Operator:
        OPERATORS[kind] = slips
        return slips

    return enter


def is_words(scalar: Scalar) -> bool:
    return not isinstance(scalar.value, str) or scalar.key in WORDS or (scalar.key == "what")


@operator("a count one off")
def count_off(_text: str, scalar: Scalar) -> Iterator[str]:
    if isinstance(scalar.value, int) and not isinstance(scalar.value, bool) and scalar.key in COUNTS:
        yield str(scalar.value + 1)
        if scalar.value > 1:
            yield str(scalar.value - 1)


@operator("a name for its neighbour")
def neighbour(text: str, scalar: Scalar) -> Iterator[str]:
    if is_words(scalar) or scalar.path[0] == "spec":
        return
    data = tomllib.loads(text)
    words = str(scalar.value)
    if scalar.key == "meet":
        head, colon, rest = words.partition(":")
        for other in _next_name([*data.get("pieces", {}), *data.get("joins", {})], head):
            yield f'"{other}{colon}{rest}"'
    for table in REFERENCES.get(scalar.key, ()):
        for other in _next_name(list(data.get(table, {})), words):
            yield f'"{other}"'


def _next_name(names: list[str], name: str) -> Iterator[str]:
    if name in names and len(names) > 1:
        yield names[(names.index(name) + 1) % len(names)]


@operator("a length in the other unit")
def other_unit(_text: str, scalar: Scalar) -> Iterator[str]:
    if is_words(scalar):
        return
    words = str(scalar.value)
    if " oz" in words and "size" not in words:
        yield f'"{words.replace(" oz", " mm")}"'
    elif scalar.key in ("thickness", "to") and " mm" in words:
        yield f'"{words.replace(" mm", " oz")}"'
    elif "per inch" in words:
        yield f'"{words.replace("per inch", "mm")}"'
    else:
        for match in LENGTH_RE.finditer(words):
            other = "mm" if match[2] == "in" else "in"
            yield f'"{words[: match.start(2)]}{other}{words[match.end(2) :]}"'


@operator("a quarter inch more or less")
def quarter(_text: str, scalar: Scalar) -> Iterator[str]:
    if is_words(scalar) or scalar.key in ("thickness", "to", "pitch", "posts", "lifts", "inset"):
        return
    words = str(scalar.value)
    for match in LENGTH_RE.finditer(words):
        figure, step = number_of(match[1]), 0.25 if match[2] == "in" else 6.0
        for new in (figure + step, figure - step):
            if new > 0:
                yield f'"{words[: match.start(1)]}{new:g}{words[match.end(1) :]}"'


@operator("a decimal or a fraction lost")
def decimal_lost(_text: str, scalar: Scalar) -> Iterator[str]:
    if is_words(scalar):
        return
    words = str(scalar.value)
    for match in FIGURE_RE.finditer(words):
        figure = match[0]
        wrong = (
            figure.replace(".", "")
            if "." in figure
            else figure.split(" ")[0]
            if " " in figure
            else figure.replace("/", "")
        )
        if wrong != figure:
            yield f'"{words[: match.start()]}{wrong.lstrip("0") or "0"}{words[match.end() :]}"'


@operator("digits turned round or one lost")
def digits(_text: str, scalar: Scalar) -> Iterator[str]:
    if is_words(scalar):
        return
    words = str(scalar.value)
    for match in re.finditer(r"(?<![\d./])\d{2,}(?![\d./])", words):
        for wrong in (match[0][::-1], match[0][:-1]):
            if not wrong.startswith("0"):
                yield f'"{words[: match.start()]}{wrong}{words[match.end() :]}"'


@operator("an edge for the edge beside it")
def edge_beside(_text: str, scalar: Scalar) -> Iterator[str]:
    if scalar.key not in ("meet", "edges", "on") or is_words(scalar):
        return
    words = str(scalar.value)
    for match in re.finditer(r"\b(left|bottom|right|top|start|end)\b", words[words.find(":") + 1 :]):
        at = match.start() + words.find(":") + 1
        yield f'"{words[:at]}{BESIDE[match[0]]}{words[at + len(match[0]) :]}"'


@operator("a hole, fold or landing from the other side")
def other_side(_text: str, scalar: Scalar) -> Iterator[str]:
    if scalar.key not in ("at", "start", "end") or is_words(scalar):
        return
    words = str(scalar.value)
    for match in re.finditer(r"(?<=from )(left|bottom|right|top|start|end)|(left|right)(?= of centre)", words):
        yield f'"{words[: match.start()]}{ACROSS[match[0]]}{words[match.end() :]}"'


@operator("a letter lost")
def letter_lost(_text: str, scalar: Scalar) -> Iterator[str]:
    words = str(scalar.value)
    if not is_words(scalar) and re.fullmatch(r"[a-z][a-z-]{3,}", words):
        yield f'"{words[0]}{words[2:]}"'


@operator("thread, needle or machine figures")
def thread_figures(_text: str, scalar: Scalar) -> Iterator[str]:
    words = str(scalar.value)
    if scalar.key in ("thread", "needle", "needle-from", "needle-to") and (match := re.search(r"\d+", words)):
        for wrong in (str(int(match[0]) * 3), str(int(match[0]) // 3)):
            yield f'"{words[: match.start()]}{wrong}{words[match.end() :]}"'


@operator("a switch the other way")
def switched(_text: str, scalar: Scalar) -> Iterator[str]:
    if isinstance(scalar.value, bool):
        yield "false" if scalar.value else "true"


@enter_lines("a line deleted")
def line_deleted(text: str) -> Iterator[Slip]:
    lines = text.splitlines(keepends=True)
    for number, line in enumerate(lines):
        if re.match(r"\s*(\w[\w-]*\s*=\s*\S|\{ )", line) and not re.match(r"(title|note|changed)\b", line):
            yield from _try("a line deleted", text, number, line, "", lines[:number] + lines[number + 1 :])


@enter_lines("a line twice")
def line_twice(text: str) -> Iterator[Slip]:
    lines = text.splitlines(keepends=True)
    for number, line in enumerate(lines):
        if re.match(r"\s+\{ ", line):
            yield from _try("a line twice", text, number, line, "twice", [*lines[:number], line, *lines[number:]])


@enter_lines("a whole table deleted")
def table_deleted(text: str) -> Iterator[Slip]:
    lines = text.splitlines(keepends=True)
    for start, end, head in table_lines(text):
        if head not in ("[spec]", "[shop]", "[pattern]", "[care]", "[costs]"):
            gone = "".join(lines[start:end])
            for slip in _try("a whole table deleted", text, start, head, "", lines[:start] + lines[end:]):
                yield replace(slip, gone=gone)


@enter_lines("two steps the other way about")
def order_changed(text: str) -> Iterator[Slip]:
    lines = text.splitlines(keepends=True)
    steps = [(start, end) for start, end, head in table_lines(text) if head == "[[steps]]"]
    for (start, middle), (again, end) in itertools.pairwise(steps):
        if middle == again:
            new = lines[:start] + lines[middle:end] + lines[start:middle] + lines[end:]
            done = next((line for line in lines[start:middle] if re.match(r"do\s*=", line)), lines[start + 1])
            yield from _try("two steps the other way about", text, start, done, "after the next", new)


@enter_lines("a name left out of a list")
def name_left_out(text: str) -> Iterator[Slip]:
    kind, lines = "a name left out of a list", text.splitlines(keepends=True)
    for number, line in enumerate(lines):
        if (match := NAMES_RE.match(line.rstrip("\n"))) and match[2] in LISTED:
            names = re.findall(r'"[^"]+"', match[4])
            for left_out in dict.fromkeys(names):
                kept = list(names)
                kept.remove(left_out)
                new = f"{match[1]}{match[2]}{match[3]}[{', '.join(kept)}]\n"
                changed = [*lines[:number], new, *lines[number + 1 :]]
                yield from _try(kind, text, number, f"{match[2]}: {left_out}", "left out", changed)


@enter_lines("width and height the other way about")
def sizes_exchanged(text: str) -> Iterator[Slip]:
    kind, lines = "width and height the other way about", text.splitlines(keepends=True)
    for number, line in enumerate(lines):
        match = SIZE_RE.match(line.rstrip("\n"))
        if match and match[2] != match[3] and '"solve"' not in match.group(2, 3):
            new = f"{match[1]}{match[3]}, {match[2]}{match[4]}\n"
            yield from _try(kind, text, number, line, new.strip(), [*lines[:number], new, *lines[number + 1 :]])


@operator("minus for plus, or plus for minus")
def sign_turned(_text: str, scalar: Scalar) -> Iterator[str]:
    words = str(scalar.value)
    if not is_words(scalar) and scalar.path[0] != "spec":
        for match in re.finditer(r" ([+-]) ", words):
            other = "-" if match[1] == "+" else "+"
            yield f'"{words[: match.start(1)]}{other}{words[match.end(1) :]}"'


def _try(kind: str, text: str, number: int, was: str, now: str, lines: list[str]) -> Iterator[Slip]:
    """The slip, where the text is TOML still."""
    new = "".join(lines)
    try:
        tomllib.loads(new)
    except tomllib.TOMLDecodeError:
        return
    if new != text:
        yield Slip(kind, f"line {number + 1}", was.strip(), now, new, (number + 1,))


def number_of(figure: str) -> float:
    return sum(int(a) / int(b) if b else float(a) for a, _, b in (part.partition("/") for part in figure.split(" ")))
