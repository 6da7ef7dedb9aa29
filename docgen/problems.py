"""Problems found in a spec: gathered as values, raised once, put into words once.

`Problem` is what a phase finds; `SpecRejected` carries all of them out; `render_problems` is the only
place where they become text for a person.
"""

from collections import Counter
from collections.abc import Collection, Iterable, Sequence
from typing import Literal

from docgen.classes import dataclass

Severity = Literal["error", "caution"]
MANY = 10
"""So many problems are summed up by kind below them."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Where something stands: file, line and column (both from 1; line 0: the file as a whole), words as written."""

    path: str = ""
    line: int = 0
    column: int = 0
    words: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """One thing wrong (`error`) or risky (`caution`): where, what, and what would mend it.

    `check` is the id of the check that found it and `at` the part it concerns: by these a caution can be accepted.
    """

    severity: Severity
    place: Place
    what: str
    mend: str = ""
    check: str = ""
    at: str = ""


class SpecRejected(Exception):
    """The spec cannot be built; `problems` holds every problem found, in the order of the file."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = sort_problems(problems)
        super().__init__(f"{len(self.problems)} problems in the spec")


class CallRejected(ValueError):
    """The call cannot be meant: a name, paper, length, unit or day that does not exist."""


def make_error(place: Place, what: str, mend: str = "", check: str = "", at: str = "") -> Problem:
    """A problem that stops the build."""
    return Problem(severity="error", place=place, what=what, mend=mend, check=check, at=at)


def make_caution(place: Place, what: str, mend: str = "", check: str = "", at: str = "") -> Problem:
    """A problem that is printed, and does not stop the build."""
    return Problem(severity="caution", place=place, what=what, mend=mend, check=check, at=at)


def sort_problems(problems: Iterable[Problem]) -> tuple[Problem, ...]:
    """Problems in the order of the file, each once; errors before cautions on the same line."""
    unique = dict.fromkeys(problems)
    return tuple(sorted(unique, key=lambda p: (p.place.path, p.place.line, p.severity == "caution", p.place.column)))


def has_errors(problems: Iterable[Problem]) -> bool:
    """True when at least one problem stops the build."""
    return any(problem.severity == "error" for problem in problems)


def suggest(word: str, known: Iterable[str]) -> str:
    """`did you mean "x"?` for the nearest known word, or an empty string when none is near."""
    import difflib

    close = difflib.get_close_matches(word, list(known), n=1, cutoff=0.6)
    return f'did you mean "{close[0]}"?' if close else ""


def suggest_two(word: str, known: Iterable[str]) -> str:
    """As `suggest`; where the nearest word is no mere misspelling, with the next nearest."""
    import difflib

    close = difflib.get_close_matches(word, list(known), n=2, cutoff=0.6)
    if len(close) < 2 or is_misspelt(word, close[0]):
        return f'did you mean "{close[0]}"?' if close else ""
    return f'did you mean "{close[0]}", or "{close[1]}"?'


def is_misspelt(one: str, other: str) -> bool:
    """Whether a name is another but for one slip of the pen: a letter left out, put in, wrong, or two the other way
    about. Two names of a build may well be more alike than that in words, as left and right are; so are those whose last
    part is one letter or figure, as `-l` and `-r`."""
    if one[:-1] == other[:-1] and one[-2:-1] == "-":
        return False
    return one in _slips(other) or other in _slips(one) or (len(one) == len(other) and _is_one_letter_off(one, other))


def _slips(name: str) -> set[str]:
    """The name with a letter left out, or two that are neighbours the other way about."""
    left_out = {name[:at] + name[at + 1 :] for at in range(len(name))}
    return left_out | {name[:at] + name[at + 1] + name[at] + name[at + 2 :] for at in range(len(name) - 1)}


def _is_one_letter_off(one: str, other: str) -> bool:
    return sum(a != b for a, b in zip(one, other, strict=True)) <= 1


def suggest_any(word: str, known: Collection[str], none: str = "") -> str:
    """As `suggest`; all known words where none is near, and `none` where there are none."""
    return suggest(word, known) or (f"there are {', '.join(known)}" if known else none)


def refuse_unknown(kind: str, names: Iterable[str], known: Collection[str], none: str = "") -> None:
    """Raises CallRejected for the first of the names that is not known, with what would mend it as in `suggest_any`."""
    for name in names:
        if name not in known:
            raise CallRejected(f'no {kind} is called "{shorten(name)}"; {suggest_any(name, known, none)}')


def render_problem(problem: Problem) -> str:
    """One problem as the lines a person reads: place, what, the words as written, and the mend."""
    place = problem.place
    path = show_plain(place.path)
    head = path if not place.line else f"{path}:{place.line}"
    lines = [f"{head}: {problem.severity}: {problem.what}"]
    if place.words:
        lines.append(f"    written: {shorten(place.words)}")
    if problem.mend:
        lines.append(f"    mend:    {problem.mend}")
    if problem.check and problem.severity == "caution":
        lines.append(f"    check:   {problem.check}" + (f", at {problem.at}" if problem.at else ""))
    return "\n".join(lines)


def render_problems(problems: Iterable[Problem]) -> str:
    """All problems, one below the other, with a closing count."""
    listed = list(problems)
    errors = sum(problem.severity == "error" for problem in listed)
    cautions = len(listed) - errors
    counts = [count_words(errors, "error"), count_words(cautions, "caution")]
    tail = " and ".join(words for words in counts if words) or "no problems"
    has_kinds = len(listed) >= MANY and len({problem.check for problem in listed}) > 1
    kinds = [f"by kind: {_count_kinds(listed)}"] if has_kinds else []
    return "\n".join([*(render_problem(problem) for problem in listed), *kinds, tail])


def _count_kinds(problems: Sequence[Problem]) -> str:
    """How many there are of each check, the most first; those without an id as others."""
    counts = Counter(problem.check or "others" for problem in problems)
    return ", ".join(f"{name} {count}" for name, count in counts.most_common())


def count_words(count: int, word: str) -> str:
    """`1 error`, `3 errors`; an empty string for none."""
    return "" if not count else f"{count} {word}" + ("" if count == 1 else "s")


def name_words(names: Iterable[str]) -> str:
    """Names as they are spoken of: `"back" and "front"`."""
    return " and ".join(f'"{name}"' for name in names)


def is_are(count: int) -> str:
    return "is" if count == 1 else "are"


def line_words(line: int | None) -> str:
    """` (line 12)`, behind what stands there; nothing where the line is not known."""
    return f" (line {line})" if line else ""


def lines_words(lines: Sequence[int]) -> str:
    """`line 12`, `lines 12 and 14`."""
    return f"line{'s' * (len(lines) > 1)} {list_words(map(str, lines))}"


def list_words(words: Iterable[str]) -> str:
    """`a`, `a and b`, `a, b and c`."""
    *before, last = words
    return f"{', '.join(before)} and {last}" if before else last


def show_plain(text: str) -> str:
    """The whole text, with a question mark for every letter that does not print."""
    return text if text.isprintable() else "".join(c if c.isprintable() else "?" for c in text)


def shorten(text: str, most: int = 100) -> str:
    """Text on one line without control characters, at most `most` letters."""
    clean = " ".join("".join(c if c.isprintable() else " " for c in text).split())
    return clean if len(clean) <= most else clean[: most - 1] + "…"
