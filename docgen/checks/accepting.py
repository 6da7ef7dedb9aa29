"""Cautions that the maker accepts, each with a reason."""

from collections.abc import Iterable

from docgen.checks.trade import CHECKS, EARLIER
from docgen.problems import Problem, make_caution, make_error, sort_problems, suggest
from docgen.read import AcceptSpec
from docgen.resolve import Accepted


def check_accepts(specs: tuple[AcceptSpec, ...]) -> list[Problem]:
    """What is to be accepted and cannot be: a check that is not there, or one that stops the build."""
    risky = [check.id for check in CHECKS if not check.stops]
    stops = {*EARLIER, *(check.id for check in CHECKS if check.stops)}
    problems = []
    for spec in specs:
        if spec.check is None or spec.check.value in risky:
            continue
        name = spec.check.value
        if name in stops:
            what = f'what "{name}" finds stops the build, and cannot be accepted'
            problems.append(make_error(spec.check.place, what, "mend it, and take this out"))
        else:
            mend = suggest(name, risky) or f"checks are {', '.join(risky)}"
            problems.append(make_error(spec.check.place, f'there is no check "{name}"', mend))
    return problems


def accept_cautions(
    specs: tuple[AcceptSpec, ...], problems: Iterable[Problem]
) -> tuple[tuple[Problem, ...], tuple[Accepted, ...]]:
    """The cautions that are left, and those accepted; an acceptance that meets none is a caution of its own."""
    left: list[Problem] = []
    accepted: list[Accepted] = []
    met: set[int] = set()
    for problem in sort_problems(problems):
        index = next((i for i, spec in enumerate(specs) if _is_meant(spec, problem)), None)
        reason = specs[index].reason if index is not None else None
        if index is None or reason is None:
            left.append(problem)
        else:
            met.add(index)
            accepted.append(Accepted(problem=problem, reason=reason.value))
    left += [_tell_unmet(spec) for index, spec in enumerate(specs) if index not in met and spec.check and spec.reason]
    return sort_problems(left), tuple(accepted)


def leave_accepted(specs: tuple[AcceptSpec, ...], problems: Iterable[Problem]) -> list[Problem]:
    """What is told of a spec with errors: all but the cautions that are accepted."""
    return [problem for problem in problems if not any(spec.reason and _is_meant(spec, problem) for spec in specs)]


def _is_meant(spec: AcceptSpec, problem: Problem) -> bool:
    is_found = spec.check is not None and problem.severity == "caution" and problem.check == spec.check.value
    return is_found and (spec.at is None or spec.at.value == problem.at)


def _tell_unmet(spec: AcceptSpec) -> Problem:
    at = f' at "{spec.at.value}"' if spec.at else ""
    name = spec.check.value if spec.check else ""
    what = f'nothing is found by "{name}"{at}, so that there is nothing to accept'
    return make_caution(spec.place, what, "take it out")
