"""Foam and the lining over it that a step puts behind one part are both drawn next to that: not one on the other.

That a lining covers its foam is common practice, no published source.
"""

from typing import cast

import pytest

from docgen.assemble import Copy
from docgen.assemble.apart.one_layer import pairs_in_one_layer
from docgen.assemble.space.placed import Placed, Space

PANEL, FOAM, LINING = (Copy(part=name, number=1) for name in ("panel", "foam", "lining"))


class Lies:
    def __init__(self, copy: Copy, how: str, level: int) -> None:
        self.copy, self.how, self.level, self.host, self.is_inner = copy, how, level, PANEL, True


class Behind:
    def __init__(self, foam_level: int, lining_level: int) -> None:
        lies = Lies(FOAM, "lies on", foam_level), Lies(LINING, "lies behind", lining_level)
        self.parts = cast("tuple[Placed, ...]", lies)


@pytest.mark.parametrize(
    ("levels", "groups", "is_one"),
    [
        ((-1, -1), [{PANEL}, {FOAM}, {LINING}], True),
        ((-1, -2), [{PANEL}, {FOAM}, {LINING}], False),  # in layers of their own
        ((-1, -1), [{PANEL, FOAM}, {LINING}], False),  # the foam is on the panel before
        ((-1, -1), [{PANEL, FOAM, LINING}], False),
    ],
)
def test_foam_and_lining_of_one_layer_are_told(levels: tuple[int, int], groups: list[set[Copy]], is_one: bool) -> None:
    found = [*pairs_in_one_layer(cast("Space", Behind(*levels)), groups)]
    assert found == ([(FOAM, LINING)] if is_one else [])
