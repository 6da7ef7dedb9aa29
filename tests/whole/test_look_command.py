"""`docgen look`: the page in a file, the page that is renewed, and a browser that sees it renewed."""

import os
import re
import signal
import subprocess
import sys
import threading
import time
import urllib.request
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from browser import FOUND, Browser
from spec_text import write_out

from docgen.calls.asked import LookCall
from docgen.calls.looking import show_look
from docgen.cli import main

MAT = write_out("""\
<spec mat: Mat, version 1>
<leather body: 2 mm>
<rectangle top: ["200 mm", "100 mm"]>
""")
TWO = MAT + write_out("""\
[pieces.base]
like = "top"
<stitch main: by machine, Tex 70, 4 mm, 4 mm>
[seams.one]
stitch = "main"
meet = ["top: left", "base: left"]
[seams.two]
stitch = "main"
meet = ["top: right", "base: right"]
""")
PATIENCE_S = 30


@pytest.fixture
def spec(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    path = tmp_path / "mat.toml"
    path.write_text(MAT, encoding="utf-8")
    return path


def test_the_page_goes_into_a_file(spec: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["look", "mat.toml", "--to", "mat.html"]) == 0
    assert capsys.readouterr().out == "wrote mat.html\n"
    assert "<h1><bdi>Mat</bdi></h1>" in Path("mat.html").read_text(encoding="utf-8")
    assert main(["look", "mat.toml", "--to", "mat.html"]) == 0, "a page of ours is written anew"


def test_nothing_is_written_for_a_spec_with_mistakes(spec: Path, capsys: pytest.CaptureFixture[str]) -> None:
    spec.write_text(MAT.replace("200 mm", "200 nm"), encoding="utf-8")
    assert main(["look", "mat.toml", "--to", "mat.html"]) == 1
    assert "200 nm" in capsys.readouterr().err
    assert not Path("mat.html").exists()


@pytest.mark.parametrize("held", ["my notes", "<p>another page</p>"])
def test_a_file_that_is_not_ours_stays(spec: Path, held: str, capsys: pytest.CaptureFixture[str]) -> None:
    Path("mat.html").write_text(held, encoding="utf-8")
    assert main(["look", "mat.toml", "--to", "mat.html"]) == 3
    assert "not from docgen" in capsys.readouterr().err
    assert Path("mat.html").read_text(encoding="utf-8") == held


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["no.toml"], "no.toml"),
        (["mat.toml", "--variant", "red"], "no variant"),
        (["mat.toml", "--layouts", "none"], "no folder"),
    ],
)
def test_a_call_that_cannot_be_meant_ends(
    spec: Path, words: list[str], told: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["look", "--no-browser", *words]) == 2
    assert told in capsys.readouterr().err


class Look:
    """A look that is running: its address, and what it told."""

    def __init__(self, asked: LookCall) -> None:
        self.addresses: list[str] = []
        self.told: list[str] = []
        self._ended = threading.Event()
        work = (asked, self.addresses.append, self.told.append, self._ended)
        self._thread = threading.Thread(target=show_look, args=work, daemon=True)
        self._thread.start()

    def page(self) -> str:
        wait_until(lambda: bool(self.addresses))
        with urllib.request.urlopen(self.addresses[0], timeout=PATIENCE_S) as answer:
            return str(answer.read().decode("utf-8"))

    def wait_for(self, words: str) -> str:
        wait_until(lambda: words in self.page())
        return self.page()

    def end(self) -> None:
        self._ended.set()
        self._thread.join(PATIENCE_S)
        assert not self._thread.is_alive()


def wait_until(is_so: Callable[[], bool]) -> None:
    limit = time.monotonic() + PATIENCE_S
    while not is_so():
        assert time.monotonic() < limit, "it did not come"
        time.sleep(0.05)


@pytest.fixture
def look(spec: Path) -> Iterator[Look]:
    running = Look(LookCall(spec=spec))
    yield running
    running.end()


def test_the_page_follows_the_spec(spec: Path, look: Look) -> None:
    first = look.wait_for("<bdi>Mat</bdi>")
    spec.write_text(MAT.replace('"Mat"', '"Runner"'), encoding="utf-8")
    second = look.wait_for("<bdi>Runner</bdi>")
    numbers = [int(re.search(r'data-number="(\d+)"', page).group(1)) for page in (first, second)]
    assert numbers[1] > numbers[0]


def test_mistakes_stand_beside_the_last_picture_until_they_are_mended(spec: Path, look: Look) -> None:
    look.wait_for("<bdi>Mat</bdi>")
    spec.write_text(MAT.replace("200 mm", "200 nm"), encoding="utf-8")
    wrong = look.wait_for("1 error; below is the last one that could be drawn")
    assert "<bdi>Mat</bdi>" in wrong
    assert "200 nm" in wrong
    assert "<svg" in wrong
    spec.unlink()
    look.wait_for("below is the last one that could be drawn")
    spec.write_text(MAT.replace("200 mm", "210 mm"), encoding="utf-8")
    assert "210\u00a0mm" in look.wait_for("no problems")


def test_a_drawing_and_the_shops_file_are_watched(spec: Path, look: Look) -> None:
    look.wait_for("<bdi>Mat</bdi>")
    drawn = '[pieces.flap]\nof = "body"\nshape = "drawing"\nfile = "flap.svg"\nelement = "f"\n'
    svg = '<svg xmlns="http://www.w3.org/2000/svg" width="{0}mm" height="50mm" viewBox="0 0 {0} 50">'
    shape = '<rect id="f" width="{0}" height="50"/></svg>'
    spec.write_text(MAT + drawn, encoding="utf-8")
    look.wait_for("1 error")
    Path("flap.svg").write_text((svg + shape).format(80), encoding="utf-8")
    assert "80\u00a0mm" in look.wait_for("no problems")
    Path("flap.svg").write_text((svg + shape).format(90), encoding="utf-8")
    look.wait_for("90\u00a0mm")
    Path("shop.toml").write_text("[pattern]\npaper = 5\n", encoding="utf-8")
    look.wait_for("shop.toml, line 2")


def test_the_keyboard_ends_it(spec: Path) -> None:
    run = subprocess.Popen(
        [sys.executable, "-m", "docgen", "look", "mat.toml", "--no-browser"],
        stdout=subprocess.PIPE,
        text=True,
        env={**os.environ, "PYTHONPATH": os.pathsep.join(path for path in sys.path if path)},
    )
    assert run.stdout is not None
    assert run.stdout.readline().startswith("http://127.0.0.1:")
    run.stdout.readline()
    run.send_signal(signal.SIGINT)
    assert run.communicate(timeout=PATIENCE_S)[0].endswith("ended\n")
    assert run.returncode == 0


needs_browser = pytest.mark.skipif(not FOUND, reason="no chromium on this machine")


@pytest.fixture
def browser(look: Look, tmp_path: Path) -> Iterator[Browser]:
    look.page()
    opened = Browser(tmp_path / "browser", look.addresses[0])
    opened.wait_for("document.querySelector('h1') && document.readyState === 'complete'")
    yield opened
    opened.end()


@needs_browser
def test_a_browser_shows_what_was_saved_without_being_asked(spec: Path, browser: Browser, look: Look) -> None:
    assert browser.ask("document.querySelector('h1').textContent") == "Mat"
    spec.write_text(MAT.replace('"Mat"', '"Runner"'), encoding="utf-8")
    browser.wait_for("document.querySelector('h1').textContent === 'Runner'")
    spec.write_text(MAT.replace("200 mm", "200 nm"), encoding="utf-8")
    browser.wait_for("document.querySelectorAll('.error').length === 1")
    assert browser.ask("document.querySelector('h1').textContent") == "Runner"
    look.end()
    browser.wait_for("!document.getElementById('lost').hidden")


@needs_browser
def test_a_seam_is_picked_out_by_the_keyboard_and_stays_so(spec: Path, browser: Browser) -> None:
    spec.write_text(TWO, encoding="utf-8")
    browser.wait_for("document.querySelectorAll('button[data-seam]').length === 2")
    for _ in range(20):
        browser.press("Tab")
        if browser.ask("document.activeElement.dataset.seam") == "2":
            break
    browser.press("Enter", "\r")
    lit = "[...document.querySelectorAll('path.seam.on')].map(one => one.dataset.seam).join()"
    assert browser.ask(lit) == "2,2"
    assert browser.ask("document.querySelector('button[data-seam=\"2\"]').getAttribute('aria-pressed')") == "true"
    spec.write_text(TWO.replace('"Mat"', '"Runner"'), encoding="utf-8")
    browser.wait_for("document.querySelector('h1').textContent === 'Runner'")
    assert browser.ask(lit) == "2,2"
    assert browser.ask("document.activeElement.dataset.seam") == "2", "the keyboard is where it was"
    browser.press("Escape")
    assert browser.ask(lit) == ""


@needs_browser
def test_nothing_is_wider_than_a_phone(spec: Path, look: Look, tmp_path: Path) -> None:
    spec.write_text(TWO.replace('"200 mm", "100 mm"', '"900 mm", "40 mm"'), encoding="utf-8")
    look.wait_for("900\u00a0mm")
    phone = Browser(tmp_path / "phone", look.addresses[0], wide=500)
    phone.call("Emulation.setDeviceMetricsOverride", width=360, height=740, deviceScaleFactor=3, mobile=True)
    phone.wait_for("document.querySelector('h1') && document.readyState === 'complete'")
    assert phone.ask("innerWidth") == 360
    assert phone.ask("document.documentElement.scrollWidth") <= 360
    small = "[...document.querySelectorAll('nav a, button, summary')].filter(one => one.offsetHeight < 44).length"
    assert phone.ask(small) == 0, "44 px is the least to touch (WCAG 2.1, 2.5.5)"
    phone.end()
