"""A look that stays: served to the browser of this machine, and made anew whenever one of the spec's files changes."""

from collections.abc import Callable, Iterator
from pathlib import Path
from threading import Event, Thread
from typing import Final

from docgen.calls.asked import LookCall
from docgen.calls.look import see_spec
from docgen.layout_files import FOLDER_NAME
from docgen.look.page import make_page, tell_standing
from docgen.look.serving import Held, LookServer
from docgen.look.sight import Shown, Sight
from docgen.problems import CallRejected, shorten
from docgen.read import SHOP_FILE

GLANCE_S: Final = 0.1
"""How often the files are looked at; they are read once they have stood still for so long."""

Stamps = dict[Path, tuple[int, ...]]


def show_look(asked: LookCall, opened: Callable[[str], None], told: Callable[[str], None], ended: Event) -> None:
    """Serve the page until `ended` is set, or the run is stopped; `opened` gets its address once it is there, `told` a
    word for each time that it is made anew.

    Raises CallRejected for a spec or a variant that is not there; a spec with mistakes is shown with them.
    """
    if not Path(asked.spec).is_file():
        raise CallRejected(f"there is no spec {shorten(str(asked.spec))}")
    held = Held()
    with LookServer(held) as server:
        watch = _Watch(asked, held, server.news)
        watch.renew()
        Thread(target=server.serve_forever, daemon=True).start()
        try:
            opened(server.address)
            while not ended.wait(GLANCE_S):
                if watch.has_changed():
                    told(watch.renew())
        finally:
            server.shutdown()
            held.end()


class _Watch:
    """The last build that could be drawn, and how the files stood when they were read."""

    def __init__(self, asked: LookCall, held: Held, news: str) -> None:
        self._asked, self._held, self._news = asked, held, news
        self._read: Stamps = {}
        self._glanced: Stamps = {}
        self._last: Shown | None = None

    def has_changed(self) -> bool:
        """Whether a file is other than it was read, and has stood still since the last glance."""
        before, self._glanced = self._glanced, {path: _stamp(path) for path in self._read}
        return self._glanced == before != self._read

    def renew(self) -> str:
        """Read, draw, hand out the page; what was found, in words."""
        before = {path: _stamp(path) for path in {*self._read, *_list_files(self._asked)}}
        sight, files = self._see()
        # stamps of before it was read, so that what is saved meanwhile is seen; a file that is new here was read just now
        self._read = self._glanced = before | {path: _stamp(path) for path in files if path not in before}
        number = self._held.number + 1
        self._held.put(make_page(sight, self._last, number=number, news=self._news), number)
        self._last = sight.shown or self._last
        return tell_standing(sight)

    def _see(self) -> tuple[Sight, tuple[Path, ...]]:
        """The sight, and what else is read for it; once there is a page, nothing ends the look."""
        try:
            return see_spec(self._asked)
        except CallRejected as error:
            if not self._held.number:
                raise
            return Sight(name=Path(self._asked.spec).name, call=str(error)), ()


def _stamp(path: Path) -> tuple[int, ...]:
    """What tells a file from what it was before; empty where there is none."""
    try:
        found = path.stat()
    except OSError:
        return ()
    return found.st_mtime_ns, found.st_size, found.st_ino


def _list_files(asked: LookCall) -> Iterator[Path]:
    """Where the spec, the shop's file and the layouts are, whether they are there or not; folders tell of what comes and
    goes in them."""
    spec = Path(asked.spec)
    layouts = Path(asked.layouts) if asked.layouts else spec.parent / FOLDER_NAME
    yield from (spec, spec.parent, spec.parent / SHOP_FILE, Path(SHOP_FILE), layouts)
    yield from sorted(layouts.glob("*.toml"))[:100]
    yield from sorted(layouts.glob("*/*.toml"))[:100]
