"""Serving the page on this machine alone, to a browser that was given its address.

Any site that a browser shows can ask an address of this machine. So this server listens on 127.0.0.1, answers only where
the request names that very address as its host (against names that are made to lead here), refuses what the browser says
another site asks, has a secret in its path, and reads nothing itself: it gives out the page that was made.
"""

from __future__ import annotations

import secrets
import threading
from http import HTTPStatus
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from typing import Any, Final

from docgen.look.page import own_policy

HOME: Final = "127.0.0.1"
PATIENCE_S: Final = 20.0
"""How long a browser waits for news before it asks again."""

CALL_S: Final = 30.0
OWN_SITES: Final = ("", "same-origin", "none")
"""What Sec-Fetch-Site says of a call from the page itself, or from the address line (W3C, Fetch Metadata)."""


class Held:
    """The page as it is now, and its number; whoever waits is told when a new one is put here."""

    def __init__(self) -> None:
        self._changed = threading.Condition()
        self._page, self._number, self._is_over = b"", 0, False

    @property
    def page(self) -> bytes:
        with self._changed:
            return self._page

    @property
    def number(self) -> int:
        with self._changed:
            return self._number

    def put(self, page: bytes, number: int) -> None:
        with self._changed:
            self._page, self._number = page, number
            self._changed.notify_all()

    def wait(self, seen: int, patience_s: float) -> bytes | None:
        """The page once it is another than the one that was seen; None when nothing came."""
        with self._changed:
            self._changed.wait_for(lambda: self._number != seen or self._is_over, patience_s)
            return self._page if self._number != seen else None

    def end(self) -> None:
        """Whoever waits has waited long enough."""
        with self._changed:
            self._is_over = True
            self._changed.notify_all()


class LookServer(ThreadingHTTPServer):
    """Answers under one secret path; `address` is what a browser opens."""

    daemon_threads = True
    allow_reuse_address = False

    def __init__(self, held: Held) -> None:
        self.held, self.secret, self.policy = held, secrets.token_urlsafe(16), own_policy()
        super().__init__((HOME, 0), _Handler)

    @property
    def news(self) -> str:
        return f"/{self.secret}/news/"

    @property
    def host(self) -> str:
        return f"{HOME}:{self.server_port}"

    @property
    def address(self) -> str:
        return f"http://{self.host}/{self.secret}/"

    def handle_error(self, request: Any, client_address: Any) -> None:
        """A browser that leaves in the middle of an answer is no fault."""


class _Handler(BaseHTTPRequestHandler):
    server: LookServer
    server_version = "docgen"
    sys_version = ""
    timeout = CALL_S

    def do_GET(self) -> None:
        """The page, or news of it."""
        if not self._is_own_call():
            self._answer(HTTPStatus.FORBIDDEN, b"only for the page itself")
        elif self.path == f"/{self.server.secret}/":
            self._answer(HTTPStatus.OK, self.server.held.page, "text/html")
        elif self.path.startswith(self.server.news):
            self._tell_news(self.path.removeprefix(self.server.news))
        else:
            self._answer(HTTPStatus.NOT_FOUND, b"there is nothing here")

    def _is_own_call(self) -> bool:
        hosts = self.headers.get_all("Host") or []
        return hosts == [self.server.host] and self.headers.get("Sec-Fetch-Site", "") in OWN_SITES

    def _tell_news(self, seen: str) -> None:
        if not (seen.isascii() and seen.isdigit() and len(seen) < 10):
            self._answer(HTTPStatus.NOT_FOUND, b"there is nothing here")
            return
        page = self.server.held.wait(int(seen), PATIENCE_S)
        if page is None:
            self._answer(HTTPStatus.NO_CONTENT, b"")
        else:
            self._answer(HTTPStatus.OK, page, "text/html")

    def _answer(self, status: HTTPStatus, content: bytes, kind: str = "text/plain") -> None:
        self.send_response(status)
        for name, value in (
            ("Content-Type", f"{kind}; charset=utf-8"),
            ("Content-Length", str(len(content))),
            ("Cache-Control", "no-store"),
            ("Content-Security-Policy", self.server.policy),
            ("Cross-Origin-Resource-Policy", "same-origin"),
            ("Cross-Origin-Opener-Policy", "same-origin"),
            ("Referrer-Policy", "no-referrer"),
            ("X-Content-Type-Options", "nosniff"),
        ):
            self.send_header(name, value)
        self.end_headers()
        self.wfile.write(content)

    def log_message(self, format: str, *args: Any) -> None:
        """Nothing is printed of what a browser asks."""
