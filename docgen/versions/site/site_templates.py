"""Values -> the text of a web page, by the templates of layouts/site, which no shop changes."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING, Any

from docgen.layout_files import layouts_folder

if TYPE_CHECKING:
    from jinja2.sandbox import SandboxedEnvironment


def render_html(name: str, /, **values: Any) -> str:
    """The web page of site/NAME.j2 with values put in, all of them escaped for text and attributes."""
    return _environment().get_template(f"{name}.j2").render(values)


@lru_cache(maxsize=1)
def _environment() -> SandboxedEnvironment:
    import jinja2
    from jinja2.sandbox import SandboxedEnvironment

    return SandboxedEnvironment(
        loader=jinja2.FileSystemLoader(layouts_folder() / "site"),
        undefined=jinja2.StrictUndefined,
        autoescape=True,
        trim_blocks=True,
        lstrip_blocks=True,
    )
