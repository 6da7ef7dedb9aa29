"""Names as they stand among other words: what is a name and what is said of it must not run together at the bench."""

from collections.abc import Iterable

from docgen.resolve import Hardware

PARTING = (",", ";", ":", " and ", " or ")  # what stands between names in running words
SIZE = ", "  # before what the name of hardware says further


def spoken(name: str) -> str:
    """The name as its template has it; in quotes where it has in it what stands between names: `"Upper pocket, left"`."""
    return f'"{name}"' if any(mark in name for mark in PARTING) and '"' not in name else name


def call_hardware(items: Iterable[Hardware]) -> dict[str, str]:
    """What is said of each kind until no other is called so, further words in brackets: `D ring`, `roller buckle (3/4 in)`
    beside one of another size."""
    told = {item.name: item.what.split(SIZE) for item in items}
    return {
        name: _shortest(words, [one for other, one in told.items() if other != name]) for name, words in told.items()
    }


def _shortest(words: list[str], others: list[list[str]]) -> str:
    count = next((k for k in range(1, len(words)) if all(one[:k] != words[:k] for one in others)), len(words))
    first, more = words[0], SIZE.join(words[1:count])
    return f"{first} ({more})" if more else first
