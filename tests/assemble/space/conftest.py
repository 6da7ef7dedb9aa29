"""Specs of a few lines, put in their places."""

from collections.abc import Callable

import pytest

from docgen.assemble import Assembled
from docgen.assemble.space import Space


@pytest.fixture
def place(resolve_text: Callable[[str], Assembled]) -> Callable[[str], Space]:
    return lambda text: resolve_text(text).space
