"""`docgen new`"""

import os

from docgen.calls.asked import NewCall
from docgen.cli.telling import DONE, NOT_WRITTEN, say, tell, tell_call

ABOUT = """\
Write a new spec, with every line explained, to change into your own.

  docgen new market-bag --like bag
  docgen new market --like tote --set width="14 in" depth="5 in"
  docgen new --list
  docgen new clutch --from clutch.svg
"""
ASKED = NewCall


def run(asked: NewCall) -> int:
    """Write a first spec under the name of the new build."""
    from docgen.problems import CallRejected, shorten
    from docgen.read import is_name, make_name

    if asked.starters:
        return _list_starters()
    if asked.code is None:
        return tell_call('the short name of the build is missing; write it like "docgen new market-bag"')
    if not is_name(asked.code):
        plain = make_name(asked.code)
        mend = f'write "{plain}"' if is_name(plain) else 'write it like "market-bag"'
        return tell_call(f'"{shorten(asked.code)}" is no short name: small letters, digits and hyphens; {mend}')
    path = asked.out or f"{asked.code}.toml"
    try:
        text, told = _begin(asked, asked.code, path)
    except CallRejected as error:
        return tell_call(str(error))
    schema = _find_schema(path)
    if not _write_new(path, text, schema):
        return NOT_WRITTEN
    say(f"wrote {path}: {told}")
    for name in schema:
        say(f"wrote {os.path.join(os.path.dirname(path), name)}: by it an editor completes and checks as you type")
    say(f"change it into your own, then:\n  docgen check {path}\n  docgen make {path}")
    return DONE


def _begin(asked: NewCall, code: str, path: str) -> tuple[str, str]:
    """The text of the spec, and what it is in words. Raises CallRejected."""
    from docgen.problems import CallRejected, shorten, suggest_any
    from docgen.starters import STARTERS, fill_starter, read_sizes

    if asked.drawing is not None:
        if asked.like is not None or asked.sizes:
            raise CallRejected("a spec begins from a drawing or from a starter; leave out --from, or --like and --set")
        return _begin_from(asked.drawing, asked.scale, code, path)
    if asked.scale is not None:
        raise CallRejected("--scale is for a drawing; name it with --from")
    like = asked.like if asked.like is not None else "bag"
    if like not in STARTERS:
        raise CallRejected(f'there is no starter "{shorten(like)}"; {suggest_any(like, STARTERS)}')
    return fill_starter(like, code, read_sizes(asked.sizes)), STARTERS[like]


def _begin_from(drawing: str, scale: str | None, code: str, path: str) -> tuple[str, str]:
    from pathlib import Path

    from docgen.problems import CallRejected, count_words, show_plain
    from docgen.starters.from_drawing import begin_from

    folder = os.path.dirname(path)
    file = os.path.relpath(os.path.abspath(drawing), os.path.abspath(folder)).replace(os.sep, "/")
    if file.startswith("../"):
        where = folder or "this folder"
        raise CallRejected(f"{drawing} lies outside {where}, where the spec goes; copy it there")
    begun = begin_from(Path(folder), file, code, scale, f"docgen new {code} --from {drawing}")
    for words in begun.left_out:
        tell(f"not in the spec: {show_plain(words)}")
    return begun.text, f"{count_words(len(begun.pieces), 'piece')} from {drawing}: {', '.join(begun.pieces)}"


def _list_starters() -> int:
    """Every starter, with the measures that it hangs on."""
    from docgen.starters import STARTERS, list_measures

    for like, words in STARTERS.items():
        say(f"{like:10} {words}")
        for one in list_measures(like):
            say(f"           {one.name} = {one.value}: {one.words}, {one.least} to {one.most}")
    return DONE


def _find_schema(path: str) -> dict[str, bytes]:
    """The schema file that the first line of a spec names, where none of that name lies beside it; else nothing, and
    one that is not ours, or of another day, is told."""
    import json

    from docgen.read import json_schema, read_ordinary
    from docgen.starters import SCHEMA_FILE

    folder, name = os.path.split(path)
    beside = os.path.join(folder, SCHEMA_FILE)
    content = (json.dumps(json_schema(), indent=2) + "\n").encode("utf-8")
    if name == SCHEMA_FILE or not os.path.lexists(beside):
        return {} if name == SCHEMA_FILE else {SCHEMA_FILE: content}
    try:
        is_ours = read_ordinary(beside, len(content)) == content
    except OSError:
        is_ours = False
    if not is_ours:
        tell(f"{beside} is another file, and was left alone; the schema of today: docgen keys --schema")
    return {}


def _write_new(path: str, text: str, beside: dict[str, bytes]) -> bool:
    """Write a file that is not there yet and those beside it, all or none; what stands in the way is told."""
    from pathlib import Path

    from docgen.write import AlreadyThere, WriteFailed, write_new_files

    folder, name = os.path.split(path)
    if not os.path.isdir(folder or "."):
        is_file = os.path.lexists(folder)
        why = "a part of its path is a file, not a folder" if is_file else "there is no such folder"
        tell(f"cannot write {path}: {why}")
        return False
    try:
        write_new_files(Path(folder), {name: text.encode("utf-8"), **beside})
    except AlreadyThere as error:
        if error.path.name != name:  # another run was first with the schema
            return _write_new(path, text, {})
        tell(f"{path} is there already; nothing was written\nchoose another with --out FILE")
        return False
    except WriteFailed as error:
        tell("\n".join(filter(None, [f"cannot write {path}: {error.why}", error.left])))
        return False
    return True
