"""`docgen new`"""

import os

from docgen.calls.asked import NewCall
from docgen.cli.telling import DONE, NOT_WRITTEN, say, tell, tell_call

ABOUT = """\
Write a new spec, with every line explained, to change into your own.

  docgen new market-bag --like bag
  docgen new market --like tote --set width="14 in" depth="5 in"
  docgen new --list
"""
ASKED = NewCall


def run(asked: NewCall) -> int:
    """Write a starter spec under the name of the new build."""
    from docgen.problems import CallRejected, shorten, suggest_any
    from docgen.read import is_name, make_name
    from docgen.starters import STARTERS, fill_starter, read_sizes

    if asked.starters:
        return _list_starters()
    if asked.code is None:
        return tell_call('the short name of the build is missing; write it like "docgen new market-bag"')
    if not is_name(asked.code):
        plain = make_name(asked.code)
        mend = f'write "{plain}"' if is_name(plain) else 'write it like "market-bag"'
        return tell_call(f'"{shorten(asked.code)}" is no short name: small letters, digits and hyphens; {mend}')
    if asked.like not in STARTERS:
        return tell_call(f'there is no starter "{shorten(asked.like)}"; {suggest_any(asked.like, STARTERS)}')
    path = asked.out or f"{asked.code}.toml"
    try:
        text = fill_starter(asked.like, asked.code, read_sizes(asked.sizes))
    except CallRejected as error:
        return tell_call(str(error))
    if not _write_new(path, text):
        return NOT_WRITTEN
    say(f"wrote {path}: {STARTERS[asked.like]}")
    say(f"change it into your own, then:\n  docgen check {path}\n  docgen make {path}")
    return DONE


def _list_starters() -> int:
    """Every starter, with the measures that it hangs on."""
    from docgen.starters import STARTERS, list_measures

    for like, words in STARTERS.items():
        say(f"{like:10} {words}")
        for one in list_measures(like):
            say(f"           {one.name} = {one.value}: {one.words}, {one.least} to {one.most}")
    return DONE


def _write_new(path: str, text: str) -> bool:
    """Write a file that is not there yet, whole or not at all; what stands in the way is told."""
    from pathlib import Path

    from docgen.write import AlreadyThere, WriteFailed, write_new_files

    folder, name = os.path.split(path)
    if not os.path.isdir(folder or "."):
        is_file = os.path.lexists(folder)
        why = "a part of its path is a file, not a folder" if is_file else "there is no such folder"
        tell(f"cannot write {path}: {why}")
        return False
    try:
        write_new_files(Path(folder), {name: text.encode("utf-8")})
    except AlreadyThere:
        tell(f"{path} is there already; nothing was written\nchoose another with --out FILE")
        return False
    except WriteFailed as error:
        tell("\n".join(filter(None, [f"cannot write {path}: {error.why}", error.left])))
        return False
    return True
