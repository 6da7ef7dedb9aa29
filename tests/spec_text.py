"""Specs written for a test: a short line between angle brackets stands for the lines that most of them begin with.

It is a table by its name, or a table without what is the same nearly everywhere; the lines below it go on in that
table, and are counted as in the spec that comes out.
"""

import re
from collections.abc import Callable

from docgen.resolve import Build

Edit = tuple[str, str]
Resolve = Callable[..., Build]
Tell = Callable[..., str]

BAG = "<back>\n<front>\n<seam>"
SHORT = {
    "<bag with a seam of its own stitch>": f'{BAG}\n[seams.t]\nstitch = "own"\nmeet = ["back: right", "front: right"]',
    "<bag>": BAG,
    r"<flatbed that lifts (.+)>": (
        r'[machines.flatbed]\nlifts = "\1"\nneedle-from = "90/14"\nneedle-to = "160/23"\nlongest-stitch = "5 mm"'
    ),
    "<back>": '[pieces.back]\nof = "body"\nshape = "rectangle"\nsize = ["200 mm", "150 mm"]',
    "<front>": '[pieces.front]\nlike = "back"',
    "<bare front>": '[pieces.front]\nlike = "back"\nmarks = false',
    "<strap>": '[straps.s]\nof = "body"\nwidth = "20 mm"',
    "<belt>": '[straps.belt]\nof = "body"\nwidth = "20 mm"',
    "<circle>": '[pieces.a]\nof = "body"\nshape = "circle"',
    "<seam>": '[seams.s]\nstitch = "main"\nmeet = ["back: left", "front: left"]',
    r"<spec (\S+): (.+), version (.+)>": r'[spec]\ncode = "\1"\ntitle = "\2"\nversion = "\3"',
    r"<(leather|fabric) (\S+): (.+)>": r'[materials.\2]\nkind = "\1"\nthickness = "\3"',
    r"<(rectangle|strip) (\S+) of (\S+): (.+)>": r'[pieces.\2]\nof = "\3"\nshape = "\1"\nsize = \4',
    r"<(rectangle|strip) (\S+): (.+)>": r'[pieces.\2]\nof = "body"\nshape = "\1"\nsize = \3',
    r"<seam (\S+): (.+)>": r'[seams.\1]\nstitch = "main"\nmeet = \2',
    r"<join (\S+): (.+), (\S+ mm)>": r'[joins.\1]\nof = \2\noverlap = "\3"\nstitch = "main"',
    r"<stitch (\S+): by (\S+), (.+), (.+), (.+)>": (
        r'[stitches.\1]\nby = "\2"\nthread = "\3"\npitch = "\4"\ninset = "\5"'
    ),
    r"<zip: (.+), (.+), (.+)>": r'[trimmings.zip]\nwhat = "\1"\nkind = "zip"\nwidth = "\2"\nthickness = "\3"',
    r"<strap (\S+) of (\S+): (.+)>": r'[straps.\1]\nof = "\2"\nwidth = "\3"',
    r"<hardware (\S+): (\d+), (.+)>": r'[hardware.\1]\nwhat = "\3"\ncount = \2',
    r'<step (".+"): (.+)>': r"[[steps]]\ndo = \1\n\2",
}


def write_out(text: str, *edits: Edit) -> str:
    """The lines of a spec in full, then words that stand in it once exchanged for others."""
    for old, new in edits:
        old, new = write_out(old), write_out(new)
        text = write_out(text)
        assert text.count(old) == 1
        text = text.replace(old, new)
    for short, lines in SHORT.items():
        text = re.sub(short, lines, text)
    return text


# Thirteen lines when written out, so that the lines of a test begin with line 14.
HEAD = write_out("""\
<spec bag: Bag, version 1>
show = "mm"
<leather body: 2 mm>
<stitch main: by machine, Tex 135 bonded nylon, 4 mm, 4 mm>
""")
