"""`docgen layouts`"""

import os

from docgen.calls.asked import LayoutsCall
from docgen.cli.telling import DONE, NOT_WRITTEN, say, tell

ABOUT = """\
Copy every layout file into a folder, to change words, type sizes, margins and the order of blocks.
Words are lines in quotes; a {name} in braces is put in by the program and stays where it is.
A folder "layouts" beside a spec is used by itself, file by file; what it lacks is taken as shipped.
No file that is there already is overwritten.

  docgen layouts layouts
  docgen make field-bag.toml --layouts my-layouts
"""
ASKED = LayoutsCall


def run(asked: LayoutsCall) -> int:
    """Copy the shipped layout files into a folder, and tell how they are used."""
    from pathlib import Path

    from docgen.layout_files import FOLDER_NAME, share_layouts
    from docgen.write import WriteFailed, tidy, write_new_files

    tidy(Path(asked.folder))
    missing, kept = share_layouts(asked.folder)
    if missing:
        try:
            write_new_files(Path(asked.folder), missing)
        except WriteFailed as error:
            tell("\n".join(filter(None, [f"cannot write {asked.folder}: {error.why}", error.left])))
            return NOT_WRITTEN
        say(f"copied into {asked.folder}:\n  " + "\n  ".join(missing))
        is_found = os.path.basename(os.path.abspath(asked.folder)) == FOLDER_NAME
        say(
            "change what you like and delete the rest: what is not there is taken as shipped\n"
            + ("beside a spec it is used by itself; else: " if is_found else "")
            + f"docgen make SPEC --layouts {asked.folder}"
        )
    if kept:
        tell(f"there already in {asked.folder}, and left as they are: {', '.join(kept)}")
    return NOT_WRITTEN if kept else DONE
