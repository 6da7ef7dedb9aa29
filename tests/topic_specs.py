"""The examples of the topics as specs of their own, with the files that they name."""

from pathlib import Path

from docgen.topics import WHOLE, read_topic

DRAWING = """\
<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="60mm" viewBox="0 0 100 60">
<g id="flap"><path d="M0 0h60v40h-60z"/><circle id="stud" cx="30" cy="20" r="2"/></g></svg>"""

PART = "".join(f"{line[6:]}\n" for line in read_topic("parts").splitlines() if line.startswith("#     "))


def write_topic(name: str) -> str:
    """The example of a topic, with the one that it adds to; its step goes, so that an order is proposed."""
    return read_topic(WHOLE) if name == WHOLE else read_topic(WHOLE).partition("[[steps]]")[0] + read_topic(name)


def lay_out_files(folder: Path) -> None:
    """The drawing and the part that examples name."""
    (folder / "flap.svg").write_text(DRAWING, encoding="utf-8")
    (folder / "parts").mkdir()
    (folder / "parts" / "ring-tab.toml").write_text(PART, encoding="utf-8")
