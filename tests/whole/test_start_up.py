"""What a command loads before it is done: nothing of the net, nothing that draws where nothing is drawn."""

import os
import subprocess
import sys
from pathlib import Path

import pytest
from spec_text import write_out

SPEC = write_out("""\
<spec mat: Mat, version 1>
<leather hide: 2 mm>
sold = "side"
<rectangle top of hide: ["200 mm", "100 mm"]>
""")
NET = ("http", "ssl", "ftplib", "socketserver", "urllib.request", "urllib.response", "urllib.error")
"""`urllib.parse` is no part of the net; `pathlib` itself loads it (up to Python 3.12)."""

DRAWING = ("docgen.pages", "docgen.plan", "reportlab", "pypdf", "jinja2", "qrcode")
BARE = (*DRAWING, "pint", "argparse", "dataclasses", "typing", "pathlib", "docgen.problems")
VERSIONS = ("docgen.versions.site", "docgen.versions.traced", "docgen.versions.compared.words")
UNUSED = {
    "--help": BARE,
    "--version": BARE,
    "make": (*VERSIONS, "docgen.lay", "docgen.versions.compared.inside", "docgen.pages.lists.csv_tables", "difflib"),
    "cut": (*VERSIONS, "docgen.lay"),
    "lay": VERSIONS,
    "scan": (*DRAWING, "docgen.versions", "docgen.resolve", "numpy"),
    "check": (*DRAWING, "docgen.versions", "docgen.write"),
    "look": (*VERSIONS, "pypdf", "docgen.look.serving"),
    "export": ("docgen.versions", "reportlab.pdfgen", "pypdf"),
    "new": (*DRAWING, "docgen.versions", "docgen.resolve"),
    "keys": (*DRAWING, "docgen.versions", "docgen.resolve", "docgen.write"),
    "printer": (*DRAWING, "docgen.versions"),
    "layouts": (*DRAWING, "docgen.versions", "docgen.read"),
    "issue": ("docgen.versions.site",),
    "compare": ("docgen.versions.site",),
    "trace": ("docgen.versions.site",),
    "site": (),
}
DRAWING = '<svg xmlns="http://www.w3.org/2000/svg" width="9in" viewBox="0 0 9 6"><rect width="9" height="6"/></svg>'
CALLS = (
    "--help",
    "--version",
    "make mat.toml --date 2026-03-31",
    "cut mat.toml mat.toml",
    "lay mat.toml",
    "scan none.jpg --square 40cm --backbone left",
    "check mat.toml",
    "look mat.toml --to mat.html",
    "export mat.toml --to svg",
    "export mat.toml --to dxf",
    "new bag",
    "new flap --from flap.svg",
    "keys",
    "keys --schema",
    "keys straps",
    "printer",
    "layouts layouts",
    "issue mat.toml",
    "compare mat.toml mat.toml",
    "trace SPEC:MAT/1/0123456789/PATTERN/1",
    "site public",
)
RUN = """\
import sys
from docgen.__main__ import run
try:
    code = run()
except SystemExit as left:
    code = left.code
loaded = [name for name in {names!r} if name in sys.modules]
sys.exit(f"loaded: {{loaded}}" if loaded else 99 if code is None else code)
"""


@pytest.mark.parametrize("call", CALLS)
def test_a_command_loads_no_more_than_it_needs(tmp_path: Path, call: str) -> None:
    (tmp_path / "mat.toml").write_text(SPEC, encoding="utf-8")
    (tmp_path / "flap.svg").write_text(DRAWING, encoding="utf-8")
    words = call.split()
    code = RUN.format(names=(*NET, *UNUSED[words[0]]))
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join(path for path in sys.path if path)}
    run = subprocess.run(
        [sys.executable, "-c", code, *words], cwd=tmp_path, capture_output=True, text=True, env=environment, timeout=60
    )
    assert "loaded:" not in run.stderr
    # Nothing is issued here, so that there is no site to be made; and there is no such photo.
    assert run.returncode == {"site": 2, "trace": 6, "scan": 1}.get(words[0], 0), run.stderr


ENDS = """\
import atexit, sys, threading, time
from docgen.__main__ import command
class Kept:
    def __del__(self): print("taken apart")
atexit.register(print, "closed")
{more}
sys.modules["kept"], sys.argv = Kept(), ["docgen", *sys.argv[1:]]
command()
"""
THREAD = "threading.Thread(target=lambda: (time.sleep(1.0), print('come to its end'))).start()"


@pytest.mark.parametrize(("more", "told"), [("", ["closed"]), (THREAD, ["come to its end", "closed", "taken apart"])])
@pytest.mark.parametrize(("name", "code"), [("mat.toml", 0), ("none.toml", 1)])
def test_a_run_ends_at_once_with_what_others_asked_to_be_done_then(tmp_path: Path, more, told, name, code) -> None:
    """What is held is taken apart only where a thread is waited for, as Python does."""
    (tmp_path / "mat.toml").write_text(SPEC, encoding="utf-8")
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join(path for path in sys.path if path)}
    command = [sys.executable, "-c", ENDS.format(more=more), "check", name]
    run = subprocess.run(command, cwd=tmp_path, capture_output=True, text=True, env=environment, timeout=60)
    assert run.stdout.splitlines()[-len(told) :] == told
    assert run.stdout.count("taken apart") == told.count("taken apart")
    assert run.returncode == code, run.stderr
