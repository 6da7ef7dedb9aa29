"""Slips of a tired maker in correct builds: how many of those that can be known `docgen check` tells, and how well.

`python tests/bench/bench_slips.py [--number 600] [--seed 1] [--all] [--missed] [--free] [--kind WORDS] [--build WORDS]
[--builds DIR ...]`
"""

import argparse
import random
import re
import sys
from collections import Counter, defaultdict
from dataclasses import dataclass
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))

from slips import operators_later  # noqa: F401 - enters its operators
from slips.builds import Correct, brought_builds, correct_builds
from slips.by_hand import KIND as BY_HAND
from slips.by_hand import hand_slips
from slips.judged import why_free
from slips.judged_alike import why_free_alike
from slips.judged_freely import why_free_anywhere
from slips.judged_further import why_free_further
from slips.judged_idle import is_still_work
from slips.judged_scaled import why_free_scaled
from slips.judged_strictly import is_known_all_the_same
from slips.mends import follow_mend
from slips.operators import OPERATORS, Slip
from slips.right import right_changes
from slips.told import Checker

from docgen.problems import Problem

LINE_RE = re.compile(r"line \d+")
A_LITTLE_MM = 6.4  # a quarter inch
NAME_RE = re.compile(r'"([a-z][a-z0-9-]*)"')
PART_RE = re.compile(r'"([a-z][a-z0-9-]*)(?=[":])')  # also of an edge


@dataclass(frozen=True)
class Told:
    """One slip and what was said of it beyond what is said of the build without it."""

    build: str
    slip: Slip
    problems: tuple[Problem, ...]
    free: str
    asked: str  # where no problem is told, and what is written there is asked about: where that stands
    points: bool
    mended: str  # "right", "one of two", "astray", "not mended", or "" where no value can be followed


def main() -> None:
    asked = _ask()
    builds = brought_builds(asked.builds) if asked.builds else correct_builds()
    builds = {name: build for name, build in builds.items() if re.search(asked.build, name)}
    rows = [_tell_or_fall(*drawn) for drawn in _draw(asked, builds)]
    by_kind: dict[str, list[Told]] = defaultdict(list)
    for row in rows:
        by_kind[row.slip.kind].append(row)
    print(f"{'kind':45} slips  free  knowable  told  share  points  asked  followed right/one of two/astray/not")
    for kind, told in [*by_kind.items(), ("all", rows)]:
        _print_row(kind, told)
    print(f"asked at the table of a line that is gone: {sum(row.asked == 'at its table' for row in rows)}")
    _print_false_alarms(builds)
    for row in rows:
        if not row.free and not row.problems and not row.asked:
            print(f"MISSED  {row.build}: {row.slip.label}")
    for row in rows:
        if row.free and not row.problems and asked.free:
            print(f"FREE  {row.build}: {row.slip.label}\n        {row.free}")
    for row in rows:
        if row.mended in ("astray", "not mended") and asked.missed:
            print(
                f"{row.mended.upper()}  {row.build}: {row.slip.label}\n"
                f"        {row.problems[0].what} | {row.problems[0].mend}"
            )


def _ask() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--number", type=int, default=600)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--all", action="store_true")
    parser.add_argument("--missed", action="store_true", help="print also the mends that led astray")
    parser.add_argument("--free", action="store_true", help="print also what is not told, and need not be")
    parser.add_argument("--kind", default="")
    parser.add_argument("--build", default="")
    parser.add_argument("--builds", nargs="+", type=Path, default=[], help="folders of other correct builds")
    return parser.parse_args()


def _draw(
    asked: argparse.Namespace, builds: dict[str, Correct]
) -> list[tuple[str, Slip, Checker, frozenset[str], str]]:
    every = []
    for name, (text, folder) in builds.items():
        checker = Checker(folder)
        before = frozenset(problem.what for problem in checker.problems(text))
        for kind, slips in OPERATORS.items():
            if re.search(asked.kind, kind):
                every += [(name, slip, checker, before, text) for slip in slips(text)]
        if re.search(asked.kind, BY_HAND):
            every += [(name, slip, checker, before, text) for slip in hand_slips(name, text)]
    if asked.all:
        return every
    return _even_draw(every, asked.number, random.Random(asked.seed))


def _even_draw(every: list, number: int, chance: random.Random) -> list:
    """As many of each kind of each build as there are, up to the same share; the groups by chance, so that a small draw
    comes from all builds."""
    groups = defaultdict(list)
    for one in every:
        groups[one[1].kind, one[0]].append(one)
    for group in groups.values():
        chance.shuffle(group)
    order = list(groups.values())
    chance.shuffle(order)
    drawn: list = []
    while len(drawn) < min(number, len(every)):
        for group in order:
            if group:
                drawn.append(group.pop())
    return drawn[:number]


def _print_false_alarms(builds: dict[str, Correct]) -> None:
    """What is said of builds that are right, and of changes that leave them so."""
    alarms: list[str] = []
    changes = 0
    for name, (text, folder) in builds.items():
        checker = Checker(folder)
        own = checker.problems(text)
        before = {problem.what for problem in own}
        alarms += [f"FALSE ALARM  {name}: {problem.check}: {problem.what}" for problem in own]
        for what, changed in right_changes(name, text):
            changes += 1
            told = [problem for problem in checker.problems(changed) if problem.what not in before]
            alarms += [f"FALSE ALARM  {name}: {what}\n        {problem.check}: {problem.what}" for problem in told]
    print(f"{len(builds)} correct builds and {changes} correct changes: {len(alarms)} false alarms")
    for alarm in alarms:
        print(alarm)


def _tell_or_fall(name: str, slip: Slip, checker: Checker, before: frozenset[str], text: str) -> Told:
    """What is told of a slip; nothing where the check itself falls over it, which is printed by name."""
    try:
        return _tell(name, slip, checker, before, text)
    except Exception as error:  # whatever it is, it is ours, and the others are still to be tried
        print(f"FELL OVER  {name}: {slip.label}: {error!r}")
        return Told(name, slip, (), "", "", False, "")


def _tell(name: str, slip: Slip, checker: Checker, before: frozenset[str], text: str) -> Told:
    problems = tuple(problem for problem in checker.problems(slip.text) if problem.what not in before)
    points = any(
        problem.place.line in slip.lines or any(f"line {line}" in problem.what + problem.mend for line in slip.lines)
        for problem in problems
    )
    mended = follow_mend(problems[0], slip.text, text, checker, before) if problems else ""
    free = why_free(name, slip) or ("" if problems else why_free_further(name, slip))
    is_measured = slip.kind.endswith("from the other side") or slip.path.endswith((".mirror", ".marks"))
    if is_measured and not free and not problems and checker.shapes(slip.text) == checker.shapes(text):
        free = "the same place or shape, from either side"
    is_moved = slip.kind.endswith("from the other side") and not free and not problems
    if is_moved and checker.moved_mm(text, slip.text) <= A_LITTLE_MM:
        free = "a hole or a part no more than a quarter inch elsewhere, as other such slips are free"
    may_be_idle = slip.kind in ("a line deleted", "a name left out of a list") and not free and not problems
    if may_be_idle and is_still_work(slip) and checker.work(slip.text) == checker.work(text):
        free = "the same is cut, joined and set, in the same order"
    is_side = slip.kind == "a name left out of a list" and slip.was.startswith("meet") and not free and not problems
    if is_side and checker.layers(slip.text) == checker.layers(text):
        free = "the needle goes through it all the same, where it lies"
    is_step = slip.kind == "a whole table deleted" and slip.was == "[[steps]]" and not free and not problems
    heads = [line for line in text.splitlines()[: slip.lines[0] - 1] if line == "[[steps]]"]
    if is_step and checker.is_done_elsewhere(text, slip.text, len(heads)):
        free = "all that it does is done in another step"
    if free and not problems and not slip.free:
        free = "" if is_known_all_the_same(text, slip) or checker.is_lopsided(text, slip.text) else free
    if not free and not problems:
        free = why_free_anywhere(slip, text, checker) or why_free_alike(slip, text, checker)
        free = free or why_free_scaled(slip, text, checker)
        free = "" if free and checker.is_lopsided(text, slip.text) else free
    asked = "" if problems or free else _how_asked(slip, text, checker)
    return Told(name, slip, problems, free, asked, points, mended)


def _how_asked(slip: Slip, text: str, checker: Checker) -> str:
    """Whether a question that the right build does not bring is asked `at its line`: the very line of the slip, or naming
    that line. A line or a key that is left out has none: then `at its table` counts, anywhere in that, or one that
    names what stood there."""
    before = {LINE_RE.sub("", words) for _, words in checker.asked(text)}
    found = [(line, words) for line, words in checker.asked(slip.text) if LINE_RE.sub("", words) not in before]
    if any(
        line in slip.lines or any(re.search(rf"\bline {one}\b", words) for one in slip.lines) for line, words in found
    ):
        return "at its line"
    is_gone = slip.kind in ("a line deleted", "a key left out of an entry") or not slip.now
    names = (PART_RE if slip.gone else NAME_RE).findall(slip.gone or slip.was) if is_gone else []
    heads = [number for number, line in enumerate(slip.text.splitlines(), 1) if line.startswith("[")]
    head = max((number for number in heads if number < slip.lines[0]), default=0)
    end = (
        min((number for number in heads if number >= slip.lines[0]), default=len(slip.text))
        if not slip.gone
        else head + 1
    )
    is_of_it = (head <= line < end or {*names} & {*NAME_RE.findall(words)} for line, words in found)
    return "at its table" if is_gone and any(is_of_it) else ""


def _print_row(kind: str, rows: list[Told]) -> None:
    knowable = [row for row in rows if not row.free]
    told = [row for row in knowable if row.problems or row.asked]
    mends = Counter(row.mended for row in told)
    share = 100 * len(told) / len(knowable) if knowable else 100
    points = sum(row.points for row in told)
    print(
        f"{kind:45} {len(rows):5} {len(rows) - len(knowable):5} {len(knowable):9} {len(told):5} {share:5.1f}% {points:6}"
        f"  {sum(bool(row.asked) for row in told):5}"
        f"  {mends['right']}/{mends['one of two']}/{mends['astray']}/{mends['not mended']}"
    )


if __name__ == "__main__":
    main()
