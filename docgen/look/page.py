"""A sight -> its web page, whole in one file: style and script stand in it, and nothing comes from elsewhere."""

from base64 import b64encode
from hashlib import sha256
from typing import Final

from docgen.layout_files import layouts_folder
from docgen.look.page_values import draw_sheets, draw_views, tell_pieces, tell_problems, tell_seams, tell_tables
from docgen.look.sight import Shown, Sight
from docgen.problems import count_words
from docgen.web_templates import render_page

ROOM: Final = "look"


def make_page(sight: Sight, last: Shown | None = None, *, number: int = 0, news: str = "") -> bytes:
    """The page of a sight; where it shows nothing, `last` is shown with the mistakes beside it. `news` is the address that
    tells a browser of page `number` of the next one, "" for a page that stays as it is."""
    shown = sight.shown or last
    script = _read("look.js")
    text = render_page(
        ROOM,
        "look",
        sight=sight,
        standing=tell_standing(sight),
        problems=tell_problems(sight.problems),
        shown=shown,
        is_old=sight.shown is None,
        pieces=tell_pieces(shown.plan.build) if shown else (),
        seams=tell_seams(shown.plan.build) if shown else (),
        views=tuple(draw_views(shown.finished)) if shown else (),
        sheets=tuple(draw_sheets(shown.sheets)) if shown else (),
        tables=tell_tables(shown.plan) if shown else (),
        number=number,
        news=news,
        style=_read("look.css"),
        script=script,
        policy=policy(script),
    )
    return text.encode("utf-8")


def tell_standing(sight: Sight) -> str:
    """`2 errors and 1 caution`, `no problems`, `no problems; 1 question`."""
    if sight.call or sight.fault:
        return sight.call or f"this is a fault of docgen, not of your spec: {sight.fault}"
    errors = sum(one.severity == "error" for one in sight.problems)
    counts = [count_words(errors, "error"), count_words(len(sight.problems) - errors, "caution")]
    standing = " and ".join(words for words in counts if words) or "no problems"
    return f"{standing}; {count_words(len(sight.asked), 'question')}" if sight.asked else standing


def policy(script: str) -> str:
    """What the page may load: the script and the style that stand in it, pictures that stand in it, and its own address
    (W3C, Content Security Policy Level 3)."""
    held = b64encode(sha256(script.encode("utf-8")).digest()).decode("ascii")
    return (
        f"default-src 'none'; script-src 'sha256-{held}'; style-src 'unsafe-inline'; img-src data:; "
        "connect-src 'self'; base-uri 'none'; form-action 'none'"
    )


def own_policy() -> str:
    """The same for the header, where it also keeps the page out of frames."""
    return f"{policy(_read('look.js'))}; frame-ancestors 'none'"


def _read(name: str) -> str:
    return (layouts_folder() / ROOM / name).read_text(encoding="utf-8")
