"""`docgen new`"""

import os

from docgen.calls.asked import NewCall
from docgen.cli.telling import DONE, NOT_WRITTEN, say, tell, tell_call

ABOUT = """\
Write a new spec, with every line explained, to change into your own.

  docgen new market-bag --like bag
"""
ASKED = NewCall


def run(asked: NewCall) -> int:
    """Write a starter spec under the name of the new build."""
    from docgen.problems import shorten, suggest_any
    from docgen.read import is_name, make_name
    from docgen.starters import STARTERS, fill_starter

    if not is_name(asked.code):
        plain = make_name(asked.code)
        mend = f'write "{plain}"' if is_name(plain) else 'write it like "market-bag"'
        return tell_call(f'"{shorten(asked.code)}" is no short name: small letters, digits and hyphens; {mend}')
    if asked.like not in STARTERS:
        return tell_call(f'there is no starter "{shorten(asked.like)}"; {suggest_any(asked.like, STARTERS)}')
    path = asked.out or f"{asked.code}.toml"
    if not _write_new(path, fill_starter(asked.like, asked.code)):
        return NOT_WRITTEN
    say(f"wrote {path}: {STARTERS[asked.like]}")
    say(f"change it into your own, then:\n  docgen check {path}\n  docgen make {path}")
    return DONE


def _write_new(path: str, text: str) -> bool:
    """Write a file that is not there yet, whole or not at all; what stands in the way is told."""
    from pathlib import Path

    from docgen.write import WriteFailed, write_new_files

    folder, name = os.path.split(path)
    if os.path.lexists(path):
        tell(f"{path} is there already; nothing was written\nchoose another with --out FILE")
        return False
    if not os.path.isdir(folder or "."):
        is_file = os.path.lexists(folder)
        why = "a part of its path is a file, not a folder" if is_file else "there is no such folder"
        tell(f"cannot write {path}: {why}")
        return False
    try:
        write_new_files(Path(folder), {name: text.encode("utf-8")})
    except WriteFailed as error:
        tell(f"cannot write {path}: {error.why}")
        return False
    return True
