"""The server of a look: asked as a browser asks, and as others must not.

Names that lead to 127.0.0.1 carry their own Host (RFC 9110, 7.2); what another site asks is said by Sec-Fetch-Site
(W3C, Fetch Metadata Request Headers).
"""

import http.client
import socket
import threading
import time
from collections.abc import Iterator

import pytest

from docgen.look.serving import Held, LookServer


@pytest.fixture
def server() -> Iterator[LookServer]:
    held = Held()
    held.put(b"<p>first</p>", 1)
    with LookServer(held) as made:
        thread = threading.Thread(target=made.serve_forever, kwargs={"poll_interval": 0.02}, daemon=True)
        thread.start()
        yield made
        made.shutdown()


def ask(server: LookServer, path: str, method: str = "GET", **headers: str) -> tuple[int, bytes, dict[str, str]]:
    call = http.client.HTTPConnection("127.0.0.1", server.server_port, timeout=10)
    call.request(method, path, headers={name.replace("_", "-"): value for name, value in headers.items()})
    answer = call.getresponse()
    return answer.status, answer.read(), dict(answer.getheaders())


def home(server: LookServer) -> str:
    return f"/{server.secret}/"


def test_it_listens_on_this_machine_alone(server: LookServer) -> None:
    assert server.server_address[0] == "127.0.0.1"
    assert server.address == f"http://127.0.0.1:{server.server_port}/{server.secret}/"


def test_it_gives_the_page_to_its_own_address(server: LookServer) -> None:
    status, content, headers = ask(server, home(server), Sec_Fetch_Site="none")
    assert (status, content) == (200, b"<p>first</p>")
    assert "frame-ancestors 'none'" in headers["Content-Security-Policy"]
    assert headers["Cache-Control"] == "no-store"
    assert headers["Cross-Origin-Resource-Policy"] == "same-origin"
    assert "Access-Control-Allow-Origin" not in headers


@pytest.mark.parametrize(
    "headers",
    [
        {"Host": "bags.example"},
        {"Host": "bags.example:80"},
        {"Host": "localhost"},
        {"Sec_Fetch_Site": "cross-site"},
        {"Sec_Fetch_Site": "same-site"},
    ],
)
def test_it_refuses_other_names_and_other_sites(server: LookServer, headers: dict[str, str]) -> None:
    for path in (home(server), f"{server.news}0"):
        status, content, _ = ask(server, path, **headers)
        assert status == 403
        assert b"first" not in content


@pytest.mark.parametrize("path", ["/", "/x/", "/../etc/passwd", "//", "/news/1"])
def test_it_gives_nothing_without_its_secret(server: LookServer, path: str) -> None:
    assert ask(server, path)[0] == 404


@pytest.mark.parametrize("seen", ["", "-1", "1.0", "x", "9" * 40, "1/../2", "%31", "%D9%A3"])
def test_a_number_is_a_number(server: LookServer, seen: str) -> None:
    assert ask(server, f"{server.news}{seen}")[0] == 404


@pytest.mark.parametrize("method", ["POST", "PUT", "DELETE", "OPTIONS"])
def test_it_only_gives(server: LookServer, method: str) -> None:
    assert ask(server, home(server), method)[0] == 501


def test_two_hosts_are_one_too_many(server: LookServer) -> None:
    with socket.create_connection(("127.0.0.1", server.server_port), timeout=10) as call:
        lines = f"GET {home(server)} HTTP/1.1\r\nHost: {server.host}\r\nHost: bags.example\r\n\r\n"
        call.sendall(lines.encode("ascii"))
        assert call.recv(4096).split(b"\r\n")[0].split()[1] == b"403"


def test_news_comes_at_once_when_it_is_there_and_waits_when_not(server: LookServer) -> None:
    assert ask(server, f"{server.news}0")[:2] == (200, b"<p>first</p>")
    answers: list[tuple[int, bytes, dict[str, str]]] = []
    waiting = threading.Thread(target=lambda: answers.append(ask(server, f"{server.news}1")))
    waiting.start()
    time.sleep(0.1)
    assert not answers
    server.held.put(b"<p>second</p>", 2)
    waiting.join(10)
    assert answers[0][:2] == (200, b"<p>second</p>")


def test_no_news_says_so(server: LookServer, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("docgen.look.serving.PATIENCE_S", 0.05)
    assert ask(server, f"{server.news}1")[:2] == (204, b"")


def test_a_browser_that_leaves_is_no_fault(server: LookServer, capfd: pytest.CaptureFixture[str]) -> None:
    with socket.create_connection(("127.0.0.1", server.server_port), timeout=10) as call:
        call.sendall(b"GET / HT")
    assert ask(server, home(server))[0] == 200
    assert capfd.readouterr() == ("", "")
