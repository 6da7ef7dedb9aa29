"""Every mistake that resolving finds is told once and whole: the cases stand in `messages_*.txt` beside this file."""

from pathlib import Path

import pytest
from cases import read_cases
from spec_text import Tell

CASES = [
    pytest.param(given, told, id=f"{path.stem}-{name}")
    for path in sorted(Path(__file__).parent.glob("messages_*.txt"))
    for name, (given, told, _) in read_cases(path.read_text(encoding="utf-8")).items()
]


@pytest.mark.parametrize(("given", "told"), CASES)
def test_each_mistake_is_told_once_and_whole(messages: Tell, given: str, told: str) -> None:
    assert messages(given) == told
