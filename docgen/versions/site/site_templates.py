"""Values -> the text of a web page of the site."""

from typing import Any

from docgen.web_templates import render_page


def render_html(name: str, /, **values: Any) -> str:
    """The web page of site/NAME.j2 with values put in, all of them escaped for text and attributes."""
    return render_page("site", name, **values)
