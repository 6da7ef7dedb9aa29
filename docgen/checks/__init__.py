"""Spec -> a build that is checked: resolved, put together, held against the checks of the trade.

The one door to a build. `resolve_build` raises SpecRejected with all problems of the spec, those of reading included;
cautions travel in the build. What is asked of the maker stands in `questions`, which only those who print it load.
"""

from __future__ import annotations

from dataclasses import replace
from functools import partial

from docgen.assemble import Assembled, leave_apart, put_together
from docgen.checks.accepting import accept_cautions, check_accepts, is_accepted, leave_accepted
from docgen.checks.explain import explain_check
from docgen.checks.naming import name_measures
from docgen.checks.trade import Subject, run_checks
from docgen.problems import Problem, SpecRejected, has_errors
from docgen.read import Spec, own_words
from docgen.resolve import Each, resolve_each, resolve_spec, share_templates

__all__ = ["explain_check", "resolve_build", "resolve_variants"]


def resolve_build(spec: Spec, variant: str = "") -> Assembled:
    """The build that a spec describes, or a variant of it. Raises SpecRejected with every problem found, when any is
    an error, and ValueError for a variant that is not there."""
    if spec.unread:
        raise SpecRejected(spec.problems)  # all that names what stands there would seem wrong
    problems: list[Problem] = [*spec.problems, *check_accepts(spec.accept)]
    picked, plain = resolve_spec(spec, variant, problems)
    build = leave_apart(plain) if has_errors(problems) else put_together(plain)
    run_checks(Subject(spec=picked, build=build), problems, partial(is_accepted, spec.accept))
    problems = [own_words(name_measures(problem, picked), spec) for problem in problems]
    if has_errors(problems):
        from docgen.checks.errors import word_errors

        raise SpecRejected(leave_accepted(spec.accept, word_errors(problems, plain.show)))
    cautions, accepted = accept_cautions(spec.accept, problems)
    return replace(build, cautions=cautions, accepted=accepted)


def resolve_variants(spec: Spec, each: Each | None = None) -> tuple[Assembled, ...]:
    """Every variant of a spec; of one without variants the build alone. `each` may work on them side by side. Raises
    SpecRejected as `resolve_build` does, with the problems of all variants in one go."""
    builds = resolve_each(spec, resolve_build, each or (lambda work, count: map(work, range(count))))
    return share_templates(builds, spec)
