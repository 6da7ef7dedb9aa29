"""Values -> the text of a web page, by the templates in a room of layouts, which no shop changes."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING, Any

from docgen.layout_files import layouts_folder

if TYPE_CHECKING:
    from jinja2.sandbox import SandboxedEnvironment


def render_page(room: str, name: str, /, **values: Any) -> str:
    """The web page of ROOM/NAME.j2 with values put in, all of them escaped for text and attributes."""
    return _environment(room).get_template(f"{name}.j2").render(values)


@lru_cache(maxsize=2)
def _environment(room: str) -> SandboxedEnvironment:
    import jinja2
    from jinja2.sandbox import SandboxedEnvironment

    return SandboxedEnvironment(
        loader=jinja2.FileSystemLoader(layouts_folder() / room),
        undefined=jinja2.StrictUndefined,
        autoescape=True,
        trim_blocks=True,
        lstrip_blocks=True,
    )
