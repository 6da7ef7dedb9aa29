"""What the spec cannot tell, asked of the maker: a small function for what is asked, under a decorator.

A question is no fault: nothing is in its way, and where it stays open the build sheet leaves it to whoever makes the
thing. Every module of this room is loaded, so that a new question is one function in one of them.
"""

from collections.abc import Sequence
from importlib import import_module
from pathlib import Path

from docgen.assemble import Assembled, TakenApart
from docgen.checks.naming import tell_measures
from docgen.checks.questions.question import REGISTERED, Question
from docgen.checks.questions.twice import tell_once
from docgen.checks.trade import Subject
from docgen.problems import make_caution
from docgen.read import Spec, own_words

__all__ = ["Question", "ask_maker"]

for _module in sorted(file.stem for file in Path(__file__).parent.glob("[a-z]*.py")):
    import_module(f"{__name__}.{_module}")

BY_WORDS = f"{__name__}.entries"
"""Asks by the words of like entries alone: not of a value that another question is about."""

TABLES = ("[", "{")


def ask_maker(spec: Spec, builds: Sequence[Assembled], apart: Sequence[TakenApart] = ()) -> tuple[Question, ...]:
    """What is asked about any of the variants, each question once, and of a left and a right part together, in
    the order of the file; of a part in a file of its
    own by the names that stand there. `apart` is what can be drawn of each, where that is worked out already."""
    drawn = apart or [TakenApart(build) for build in builds]
    subjects = [Subject(spec=spec, build=one.build, drawn=one) for one in drawn]
    asked = [(ask.__module__ == BY_WORDS, one) for subject in subjects for ask in REGISTERED for one in ask(subject)]
    told = {one.place for is_by_words, one in asked if not is_by_words and not one.place.words.startswith(TABLES)}
    found = dict.fromkeys(_own(one, spec) for is_by_words, one in asked if not (is_by_words and one.place in told))
    return tuple(sorted(tell_once(sorted(found, key=_in_file)), key=_in_file))


def _in_file(question: Question) -> tuple[str, int]:
    return question.place.path, question.place.line


def _own(question: Question, spec: Spec) -> Question:
    measures = tell_measures(question.place, spec)
    what = f"{question.what}; {measures}" if measures else question.what
    told = own_words(make_caution(question.place, what, question.answer), spec)
    return Question(place=told.place, what=told.what, answer=told.mend)
