from collections.abc import Callable

import pytest
from spec_text import write_out

from docgen.assemble import Assembly, assemble
from docgen.problems import render_problem
from docgen.resolve import Build

# Leather of 2 mm, a lining of 0.5 mm, foam of 3 mm; stitches of 4 mm, 4 mm in from the edge.
HEAD = write_out("""\
<spec bag: Bag, version 1>
show = "mm"
<leather body: 2 mm>
<leather thin: 1 mm>
<fabric cloth: 0.5 mm>
[materials.pad]
kind = "foam"
thickness = "3 mm"
<stitch main: by machine, Tex 135 bonded nylon, 4 mm, 4 mm>
""")


@pytest.fixture
def head() -> str:
    return HEAD


@pytest.fixture
def put_together(resolve_text: Callable[[str], Build]) -> Callable[[str], Assembly]:
    """How these lines after the head go together."""
    return lambda text: assemble(resolve_text(text))


@pytest.fixture
def doubts(put_together: Callable[[str], Assembly]) -> Callable[[str], str]:
    """The doubts of an assembly, as a person reads them."""
    return lambda text: "".join(render_problem(problem) + "\n" for problem in put_together(text).doubts)
