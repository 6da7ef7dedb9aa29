"""Records of issued versions as tests change them: sealed again, as if docgen had written them so, or of older docgens."""

import re
import tomllib
from pathlib import Path

from docgen.versions.kept.record import find_seal


def reseal(path: Path) -> None:
    """The seal of what the record says now."""
    text = path.read_text(encoding="utf-8")
    seal = find_seal(tomllib.loads(text))
    path.write_text(re.sub('(?m)^seal = ".*"$', f'seal = "{seal}"', text), encoding="utf-8")


def unseal(path: Path) -> None:
    """As an older docgen wrote it: without a seal, and with nothing of the versions before."""
    text = re.sub(r'(?m)^seal = ".*"\n', "", path.read_text(encoding="utf-8"))
    path.write_text(re.sub(r"(?s)\[before\]\n.*?(?=\[sha256\])", "", text), encoding="utf-8")
