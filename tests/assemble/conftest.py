from collections.abc import Callable

import pytest
from spec_text import write_out

from docgen.assemble import Assembled, Assembly
from docgen.checks.trade.joining import DOUBTS
from docgen.problems import SpecRejected, render_problem

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
def put_together(resolve_text: Callable[[str], Assembled]) -> Callable[[str], Assembly]:
    """How these lines after the head go together."""
    return lambda text: resolve_text(text).assembly


@pytest.fixture
def doubts(resolve_text: Callable[[str], Assembled]) -> Callable[[str], str]:
    """The doubts about how a build goes together, as a person reads them."""

    def tell(text: str) -> str:
        try:
            problems = resolve_text(text).cautions
        except SpecRejected as error:
            problems = error.problems
        return "".join(render_problem(problem) + "\n" for problem in problems if problem.check in DOUBTS)

    return tell
