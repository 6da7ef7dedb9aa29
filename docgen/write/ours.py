"""Files that stand where one of ours is to go: never another's."""

from pathlib import Path
from typing import Final

from docgen.write.files import WriteFailed, explain

GENERATOR: Final = b'<meta name="generator" content="docgen">'
"""By this a web page of ours is known."""

FILE_MOST: Final = 200 * 1024 * 1024


def read_ours(path: Path, mark: bytes, most_bytes: int = FILE_MOST) -> bytes | None:
    """The bytes of a file that bears our mark; None where there is none, or a folder, which is told when it is written.

    Raises WriteFailed for one that docgen has not written, or that cannot be read.
    """
    from docgen.read import NotOrdinary, read_ordinary

    try:
        held = read_ordinary(path, most_bytes)
    except (FileNotFoundError, NotADirectoryError):
        return None
    except NotOrdinary as error:
        if path.is_dir():
            return None
        raise WriteFailed(path, "it is not an ordinary file") from error
    except OSError as error:
        raise WriteFailed(path, explain(error)) from error
    if mark not in held:
        raise WriteFailed(path, "there is a file of that name that is not from docgen")
    return held
