"""Specs of a few lines, put in their places, each part lifted by what lies beneath it."""

from collections.abc import Callable

import pytest

from docgen.assemble import Assembled, TakenApart
from docgen.assemble.space import Space


@pytest.fixture
def place(resolve_text: Callable[[str], Assembled]) -> Callable[[str], Space]:
    return lambda text: TakenApart(resolve_text(text)).lifted
