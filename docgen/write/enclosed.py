"""A PDF of ours -> what it carries beside its pages: the spec with its drawings, page labels, and the words on it."""

from pathlib import Path
from typing import Final

from docgen.classes import dataclass
from docgen.write.files import explain

BYTES_MOST: Final = 200 * 1024 * 1024
PAGES_MOST: Final = 2000


class NotReadable(ValueError):
    """The file is no PDF that can be read; the message says why."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Enclosed:
    """`files` are name and bytes of all that is attached, as attached; `labels` and `texts` one for each page."""

    creator: str
    files: tuple[tuple[str, bytes], ...]
    labels: tuple[str, ...]
    texts: tuple[str, ...]


def read_enclosed(path: Path) -> Enclosed:
    """What a PDF carries. Raises NotReadable."""
    import logging

    from pypdf import PdfReader
    from pypdf.errors import DependencyError, FileNotDecryptedError, WrongPasswordError

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
        files = tuple((_whole(name), held[0]) for name, held in sorted(reader.attachments.items()) if held)
        labels = tuple(reader.page_labels)
        texts = tuple(page.extract_text() for page in reader.pages)
    except NotReadable:
        raise
    except (DependencyError, FileNotDecryptedError, WrongPasswordError) as error:
        raise NotReadable(f"{path} is encrypted; save it without a password") from error
    except OSError as error:
        raise NotReadable(f"{path} cannot be read: {explain(error)}") from error
    except Exception as error:  # a damaged file makes pypdf raise nearly anything
        raise NotReadable(f"{path} is damaged, or no PDF") from error
    return Enclosed(creator=creator, files=files, labels=labels, texts=texts)


def _whole(name: str) -> str:
    """A name without halves of characters, which nothing can write."""
    return name.encode("utf-8", errors="replace").decode("utf-8")
