"""`docgen site` as a person calls it, and its pages in a browser as wide as a small phone."""

import http.server
import re
import shutil
import subprocess
import threading
from functools import partial

import pytest
from spec_text import write_out

from docgen.cli import main

SPEC = write_out("""\
<spec tray: Valet tray with a name that is rather long, version 1>

[shop]
name = "Alder bench"
link = "https://example.org/b"

<leather hide: 3 mm>

<rectangle base of hide: ["8 in", "6 in"]>
""")
PHONE_PX = 360
BROWSER = shutil.which("chromium") or shutil.which("chromium-browser")

# Two frames as wide as a phone; what each is really as wide as is written below them.
FRAMES = """\
<!doctype html><body><script>
for (const place of location.search.slice(1).split(",")) {
  const frame = document.createElement("iframe")
  frame.style = "width:360px;height:700px;border:0"
  frame.src = place
  frame.onload = () => {
    const wide = frame.contentDocument.documentElement.scrollWidth
    const fetched = frame.contentWindow.performance.getEntriesByType("resource").length
    document.body.append(`[${frame.contentWindow.location.pathname} is ${wide} wide, fetches ${fetched}]`)
  }
  document.body.append(frame)
}
</script>
"""


@pytest.fixture
def here(tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "tray.toml").write_text(SPEC, encoding="utf-8")
    assert main(["issue", "tray.toml", "--date", "2026-03-01"]) == 0
    wider = SPEC.replace('version = "1"', 'version = "2"').replace('"8 in"', '"9 in"')
    (tmp_path / "tray.toml").write_text(wider, encoding="utf-8")
    assert main(["issue", "tray.toml", "--date", "2026-04-01"]) == 0
    capsys.readouterr()
    return tmp_path


def test_the_command_says_what_it_wrote_and_where_it_belongs(here, capsys):
    assert main(["site", "B"]) == 0
    first = capsys.readouterr().out
    count = sum(1 for path in (here / "B").rglob("*") if path.is_file())
    where = "put this folder where https://example.org/B/ leads, capitals as they stand here\n"
    assert first == f"wrote B: {count} files, {count} of them new or changed\n{where}"
    assert main(["site", "B", "--from", "."]) == 0
    assert capsys.readouterr().out == f"wrote B: {count} files, none of them new or changed\n{where}"
    assert main(["site", "B", "--pdfs"]) == 0
    # The documents of both versions are new, and every page that now names one has changed.
    naming = sum(1 for path in (here / "B").rglob("index.html") if ".pdf" in path.read_text(encoding="utf-8"))
    assert naming > 8
    assert capsys.readouterr().out == f"wrote B: {count + 8} files, {naming + 8} of them new or changed\n{where}"


def test_a_wrong_folder_is_a_wrong_call(here, capsys):
    assert main(["site", "B", "--from", "nowhere"]) == 2
    assert capsys.readouterr().err == "docgen: there is no folder nowhere\n"
    assert not (here / "B").exists()


def test_a_file_in_the_way_is_told(here, capsys):
    (here / "B").mkdir()
    (here / "B" / "index.html").write_text("mine", encoding="utf-8")
    assert main(["site", "B"]) == 3
    assert capsys.readouterr().err == (
        "cannot write B/index.html: there is a file of that name that is not from docgen\n"
        "the folder holds what it held before\n"
    )


class Quiet(http.server.SimpleHTTPRequestHandler):
    def log_message(self, *words):
        pass


@pytest.fixture
def served(here):
    """The folder on a plain static server -> its address."""
    assert main(["site", "B"]) == 0
    (here / "frames.html").write_text(FRAMES, encoding="utf-8")
    server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), partial(Quiet, directory=str(here)))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_port}"
    server.shutdown()
    server.server_close()


def test_a_plain_server_answers_the_address_in_a_code(here, served):
    from urllib.request import urlopen

    (digest,) = (path.name for path in (here / "B" / "TRAY" / "1").iterdir())
    with urlopen(f"{served}/B/TRAY/1/{digest}/PATTERN/2") as answer:
        assert answer.headers["Content-Type"].startswith("text/html")
        assert "Replaced by version 2" in answer.read().decode("utf-8")


@pytest.mark.skipif(BROWSER is None, reason="no chromium on this machine")
def test_a_phone_shows_the_pages_without_scrolling_aside_and_fetches_nothing_else(here, served, tmp_path):
    (digest,) = (path.name for path in (here / "B" / "TRAY" / "1").iterdir())
    places = (f"/B/TRAY/1/{digest}/PATTERN/2", f"/B/TRAY/1/{digest}")
    run = subprocess.run(
        [
            BROWSER,
            "--headless",
            "--no-sandbox",
            "--disable-gpu",
            f"--user-data-dir={tmp_path / 'browser'}",
            "--virtual-time-budget=8000",
            "--dump-dom",
            f"{served}/frames.html?{','.join(places)}",
        ],
        capture_output=True,
        text=True,
        timeout=90,
    )
    told = re.findall(r"\[(\S+) is (\d+) wide, fetches (\d+)\]", run.stdout)
    assert {place.rstrip("/") for place, _, _ in told} == set(places)
    assert all(int(wide) <= PHONE_PX and fetched == "0" for _, wide, fetched in told)
