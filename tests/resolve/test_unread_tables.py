"""A table that is none is one mistake, not one for each name that would have stood there."""

from collections.abc import Callable

import pytest
from spec_text import write_out

SPEC = write_out("""\
<spec bag: Bag, version 1>
<leather body: 2 mm>
<stitch main: by machine, Tex 135 bonded nylon, 4 mm, 4 mm>
""")
PIECES = write_out("""\
<rectangle back: ["width", "height"]>
<front>
""")
SEAM = write_out("""\
<seam>
<step "Sew.": pieces = ["back"]>
""")


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("measures = -1\n" + SPEC + PIECES + SEAM, "measures must be a table of name = length"),
        ("pieces = 5\n" + SPEC + SEAM, "pieces must be one table per name"),
    ],
)
def test_what_hangs_on_a_table_that_is_none_is_not_told(
    check_text: Callable[[str], list[str]], text: str, what: str
) -> None:
    assert check_text(text) == [what]
