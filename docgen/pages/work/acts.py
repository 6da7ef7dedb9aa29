"""Lines of steps as values -> words, by [step] of sentences.toml."""

from docgen.pages.looks.words import say
from docgen.pages.setting.paging import hold_measures
from docgen.plan import Act, Told

TABLE = "step"


def tell(one: Act) -> str:
    """A line of a step, with no break inside a measure."""
    return hold_measures(_tell(one).strip())


def _tell(one: Act) -> str:
    return " ".join(say(TABLE, one.case, **{name: _put(value) for name, value in one.values}))


def _put(value: Told) -> str:
    if isinstance(value, str):
        return value
    return _tell(value) if isinstance(value, Act) else ", ".join(map(_tell, value))
