"""A headless browser for the tests, where the machine has one: driven by its own protocol over two pipes.

Source of the calls: the DevTools Protocol's domains Target, Runtime and Input, as published with the browser.
"""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import time
from pathlib import Path
from typing import Any

NAMES = ("chromium", "chromium-browser", "google-chrome")
FOUND = next((found for name in NAMES if (found := shutil.which(name))), "")
QUIET = ("--no-first-run", "--disable-background-networking", "--disable-sync", "--disable-gpu")
PATIENCE_S = 30


class BrowserError(Exception):
    """What the browser says of a call that it did not take."""


class Browser:
    """One page of a browser with a window so many pixels wide and high."""

    def __init__(self, home: Path, address: str, wide: int = 820, high: int = 900) -> None:
        from_us, to_browser = os.pipe()
        from_browser, to_us = os.pipe()

        def take_pipes() -> None:
            held = os.dup(from_us), os.dup(to_us)  # neither is 3 or 4 then, whatever they were
            os.dup2(held[0], 3)
            os.dup2(held[1], 4)

        words = [FOUND, "--headless", "--no-sandbox", "--remote-debugging-pipe", *QUIET]
        words += [f"--user-data-dir={home}", f"--window-size={wide},{high}", "about:blank"]
        self._run = subprocess.Popen(words, close_fds=False, preexec_fn=take_pipes, stderr=subprocess.DEVNULL)
        os.close(from_us)
        os.close(to_us)
        self._out, self._in = os.fdopen(to_browser, "wb", 0), os.fdopen(from_browser, "rb", 0)
        self._held, self._count, self._session = b"", 0, ""
        target = self.call("Target.createTarget", url=address)["targetId"]
        self._session = self.call("Target.attachToTarget", targetId=target, flatten=True)["sessionId"]

    def call(self, method: str, **given: Any) -> dict[str, Any]:
        """The answer of one call; what else the browser tells is passed over."""
        self._count += 1
        said = {"id": self._count, "method": method, "params": given}
        if self._session:
            said["sessionId"] = self._session
        self._out.write(json.dumps(said).encode("utf-8") + b"\0")
        while True:
            while b"\0" not in self._held:
                more = self._in.read(65536)
                assert more, "the browser has ended"
                self._held += more
            line, _, self._held = self._held.partition(b"\0")
            answer: dict[str, Any] = json.loads(line)
            if answer.get("id") == self._count:
                if "error" in answer:
                    raise BrowserError(answer["error"]["message"])
                return dict(answer["result"])

    def ask(self, script: str) -> Any:
        """What a line of script gives; None while there is no page to run it in."""
        try:
            return self.call("Runtime.evaluate", expression=script, returnByValue=True)["result"].get("value")
        except BrowserError:
            return None

    def wait_for(self, script: str) -> None:
        """Until a line of script gives something true."""
        limit = time.monotonic() + PATIENCE_S
        while not self.ask(script):
            assert time.monotonic() < limit, f"it did not come: {script}"
            time.sleep(0.05)

    def press(self, key: str, text: str = "") -> None:
        """A key, down and up."""
        self.call(
            "Input.dispatchKeyEvent", type="keyDown", key=key, code=key, text=text, windowsVirtualKeyCode=KEYS[key]
        )
        self.call("Input.dispatchKeyEvent", type="keyUp", key=key, code=key, windowsVirtualKeyCode=KEYS[key])

    def end(self) -> None:
        self._run.kill()
        self._run.wait(PATIENCE_S)
        self._out.close()
        self._in.close()


KEYS = {"Tab": 9, "Enter": 13, "Escape": 27}
