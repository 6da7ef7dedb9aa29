"""A PDF of ours -> what it carries beside its pages: the spec with its drawings, page labels, and the words on it.

Also what makes a reader of it see something else than docgen wrote: actions, and files with two contents.
"""

import time
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any, Final

from docgen.bounded import TooMuch, run_within
from docgen.classes import dataclass
from docgen.write.files import explain

BYTES_MOST: Final = 200 * 1024 * 1024
PAGES_MOST: Final = 2000
FILES_MOST: Final = 1000
ATTACHED_MOST: Final = 60 * 1024 * 1024
"""Bytes of all that is attached, together."""
TEXT_S: Final = 5
"""Processor seconds after which no further page is read."""

OBJECTS_MOST: Final = 200_000

ACTIONS: Final = {
    "/JavaScript": "runs JavaScript",
    "/Launch": "starts a program",
    "/URI": "opens a web address",
    "/GoToR": "opens another file",
    "/GoToE": "opens an attached file",
    "/SubmitForm": "sends a form",
    "/ImportData": "reads a file in",
    "/Rendition": "plays a recording",
    "/Sound": "plays a recording",
    "/Movie": "plays a recording",
    "/RichMediaExecute": "plays a recording",
    "/Hide": "hides or shows parts of a page",
    "/SetOCGState": "hides or shows parts of a page",
    "/Named": "calls on the program that shows it",
}
"""Kinds of actions (PDF 32000-1:2008, table 198; /RichMediaExecute: its extension level 3) -> what they do."""

TRIGGERS: Final = {"/OpenAction": "acts when it is opened", "/AA": "acts when a page or field is looked at"}


class NotReadable(ValueError):
    """The file is no PDF that can be read; the message says why."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Enclosed:
    """`files` are name and bytes of all that is attached, as attached; `labels` one for each page, and `texts` for as
    many of them as there was time for. `doubles` names files with other contents under their second name, `actions` says
    what the file does when it is looked at. `seconds` of the processor were spent."""

    creator: str
    files: tuple[tuple[str, bytes], ...]
    labels: tuple[str, ...]
    texts: tuple[str, ...]
    doubles: tuple[str, ...] = ()
    actions: tuple[str, ...] = ()
    seconds: float = 0.0


def read_enclosed(path: Path) -> Enclosed:
    """What a PDF carries, within what is given for one file. Raises NotReadable."""
    try:
        return run_within(read_here, path)
    except TooMuch as error:
        raise NotReadable(
            f"{path} takes more {error} to read than docgen gives to one file; "
            "save one page of it as a PDF, or type what is printed beside its code"
        ) from error
    except OSError as error:
        raise NotReadable(f"no process can be had to read {path}: {explain(error)}; try again") from error


def read_here(path: Path) -> Enclosed:
    """The same in this process, however long it takes."""
    import logging

    from pypdf import PdfReader
    from pypdf.errors import DependencyError, FileNotDecryptedError, WrongPasswordError

    began = time.process_time()
    try:
        if not path.is_file():
            raise NotReadable(f"{path} is not an ordinary file")
        if path.stat().st_size > BYTES_MOST:
            raise NotReadable(f"{path} is larger than {BYTES_MOST // 1024 // 1024} MiB")
        logging.getLogger("pypdf").setLevel(logging.CRITICAL)
        reader = PdfReader(path)
        count = len(reader.pages)
        if count > PAGES_MOST:
            raise NotReadable(f"{path} has {count} pages; docgen reads {PAGES_MOST}")
        creator = (reader.metadata.creator if reader.metadata else "") or ""
        files, doubles = _read_files(reader.trailer["/Root"], path)
        actions = _find_actions(reader.trailer["/Root"], path)
        labels = tuple(reader.page_labels)
        texts = tuple(_read_texts(reader.pages, began + TEXT_S))
    except (NotReadable, MemoryError):
        raise
    except (DependencyError, FileNotDecryptedError, WrongPasswordError) as error:
        raise NotReadable(f"{path} is encrypted; save it without a password") from error
    except OSError as error:
        raise NotReadable(f"{path} cannot be read: {explain(error)}") from error
    except Exception as error:  # a damaged file makes pypdf raise nearly anything
        raise NotReadable(f"{path} is damaged, or no PDF") from error
    spent = time.process_time() - began
    return Enclosed(
        creator=str(creator), files=files, labels=labels, texts=texts, doubles=doubles, actions=actions, seconds=spent
    )


def _read_texts(pages: Sequence[Any], until: float) -> Iterator[str]:
    """The words of each page, of the first in any case, then while there is time."""
    for number, page in enumerate(pages):
        if number and time.process_time() > until:
            return
        yield page.extract_text()


def _read_files(root: Any, path: Path) -> tuple[tuple[tuple[str, bytes], ...], tuple[str, ...]]:
    """Name and bytes of all that is attached, by name, and the names of those with two contents."""
    files: dict[str, bytes] = {}
    doubles: dict[str, None] = {}
    left = ATTACHED_MOST
    names = _plain(_plain(root).get("/Names"))
    for name, contents in _list_files(_plain(names).get("/EmbeddedFiles"), path):
        for content in contents:
            left -= len(content)
            if left < 0:
                raise NotReadable(f"more than {ATTACHED_MOST // 1024 // 1024} MiB are attached to {path}")
            if files.setdefault(name, content) != content:
                doubles[name] = None
    return tuple(sorted(files.items())), tuple(doubles)


def _list_files(tree: Any, path: Path) -> Iterator[tuple[str, tuple[bytes, ...]]]:
    """The files of a name tree, each with its contents under every name it has (PDF 32000-1:2008, 7.11.3, 7.9.6)."""
    nodes, seen = [_plain(tree)], 0
    while nodes:
        node = _plain(nodes.pop())
        pairs = list(_list(node.get("/Names")))
        for key, held in zip(pairs[::2], pairs[1::2], strict=False):
            seen += 1
            if seen > FILES_MOST:
                raise NotReadable(f"more than {FILES_MOST} files are attached to {path}")
            about = _plain(held)
            name = _whole(str(about.get("/UF") or about.get("/F") or key.get_object()))
            streams = [each.get_object() for each in _plain(about.get("/EF")).values()]
            kept = {id(stream): stream for stream in streams if hasattr(stream, "get_data")}
            yield name, tuple(stream.get_data() for stream in kept.values())
        nodes += list(_list(node.get("/Kids")))[: FILES_MOST - seen]
        seen += 1


def _find_actions(root: Any, path: Path) -> tuple[str, ...]:
    """What any part of the file does when it is opened, looked at or touched; docgen writes no such thing."""
    found: dict[str, None] = {}
    waiting, seen = [root], set()
    while waiting:
        item = waiting.pop()
        number = getattr(item, "idnum", None)
        if number is not None:
            if number in seen:
                continue
            seen.add(number)
            item = item.get_object()
        if len(seen) > OBJECTS_MOST:
            raise NotReadable(f"{path} has more parts than docgen looks through")
        if isinstance(item, dict):
            told = [ACTIONS.get(str(item.get("/S"))), *(words for key, words in TRIGGERS.items() if key in item)]
            found |= dict.fromkeys(words for words in told if words)
            waiting += item.values()
        elif isinstance(item, list):
            waiting += item
    return tuple(sorted(found))


def _plain(item: Any) -> Any:
    """What an object of the file is, an empty dictionary where none is there."""
    found = item.get_object() if hasattr(item, "get_object") else item
    return found if isinstance(found, dict) else {}


def _list(item: Any) -> list[Any]:
    found = item.get_object() if hasattr(item, "get_object") else item
    return found if isinstance(found, list) else []


def _whole(name: str) -> str:
    """A name without halves of characters, which nothing can write."""
    return name.encode("utf-8", errors="replace").decode("utf-8")
