"""`docgen look`"""

from __future__ import annotations

from docgen.calls.asked import LookCall
from docgen.cli.telling import DONE, flush, say

ABOUT = """\
Show a spec as one page in the browser of this machine, and anew whenever it is saved: every piece
with the names of its edges and holes, what each seam joins, the figures, the sheets, and all problems.
A spec with mistakes keeps the last good picture beside them. Stop it from the keyboard, with Ctrl-C.

  docgen look field-bag.toml
  docgen look field-bag.toml --to field-bag.html
"""
ASKED = LookCall


def run(asked: LookCall) -> int:
    """Show the page until the run is stopped, or write it."""
    if asked.to is not None:
        from docgen.calls.look import write_look

        say(f"wrote {write_look(asked)}")
        return DONE
    from threading import Event

    from docgen.calls.looking import show_look

    def opened(address: str) -> None:
        _tell(f"{address}\nthe page is renewed whenever the spec is saved; Ctrl-C ends it")
        if not asked.no_browser:
            import webbrowser

            webbrowser.open(address)

    try:
        show_look(asked, opened, _tell, Event())
    except KeyboardInterrupt:
        _tell("ended")
    return DONE


def _tell(words: str) -> None:
    """At once, since the run goes on."""
    say(words)
    flush()
