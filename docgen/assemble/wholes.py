"""What a strip is a part of."""

from __future__ import annotations

from docgen.assemble.assembly import Copy
from docgen.resolve import Build


def whole_of(build: Build, copy: Copy) -> Copy:
    """The join that a strip is part of, the same for all the places that it has in that; any other copy itself."""
    join = next((join for join in build.joins if copy.part in join.pieces), None)
    if join is None:
        return copy
    each = join.pieces.count(copy.part)
    return Copy(join.name, (copy.number - 1) // each + 1 if copy.number > 0 else copy.number)
