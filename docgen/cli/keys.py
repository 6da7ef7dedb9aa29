"""`docgen keys`"""

from docgen.calls.asked import KeysCall
from docgen.cli.telling import DONE, print_json, say

ABOUT = """\
List every key that a spec can have, with what it means.

  docgen keys
  docgen keys --schema > spec-schema.json    for an editor that completes while you type
"""
ASKED = KeysCall


def run(asked: KeysCall) -> int:
    """List the keys of the language."""
    from docgen.read import json_schema, render_keys

    if asked.schema:
        print_json(json_schema())
    else:
        say(render_keys(), end="")
    return DONE
