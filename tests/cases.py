"""Cases of a test as one text: `=== name`, the lines that are given, `---`, and what is told of them, whole.

Where a twin is silent, a second `---` follows, and what the twin has otherwise: `- ` before lines or words that stand
once in what is given, `+ ` before those that stand in their place.
"""

from typing import NamedTuple


class Case(NamedTuple):
    given: str
    told: str
    twin: tuple[str, str]


def read_cases(text: str) -> dict[str, Case]:
    """The cases by their names, in their order."""
    blocks = [block.partition("\n") for block in text.split("=== ")[1:]]
    return {name: _read_case(lines) for name, _, lines in blocks}


def _read_case(lines: str) -> Case:
    given, told, *twin = lines.split("---\n")
    return Case(given, told, (_marked("- ", *twin), _marked("+ ", *twin)))


def _marked(sign: str, twin: str = "") -> str:
    return "\n".join(line.removeprefix(sign) for line in twin.splitlines() if line.startswith(sign))
