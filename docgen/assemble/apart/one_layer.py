"""What would be drawn in one layer with the lining that covers it."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from itertools import permutations

from docgen.assemble.assembly import Copy
from docgen.assemble.space.placed import Space


def pairs_in_one_layer(space: Space, groups: Sequence[Collection[Copy]]) -> Iterator[tuple[Copy, Copy]]:
    """What is laid behind a part and the lining that a step puts behind that too, both drawn next to it: foam would be seen
    on the lining. `groups` come together in the step."""
    inner_parts = [placed for placed in space.parts if placed.is_inner and placed.level < 0]
    for filling, lining in permutations(inner_parts, 2):
        is_pair = (filling.how, lining.how) == ("lies on", "lies behind") and filling.host == lining.host
        own = {filling.copy, lining.copy, filling.host}
        if is_pair and filling.level == lining.level and sum(not own.isdisjoint(group) for group in groups) == len(own):
            yield filling.copy, lining.copy
