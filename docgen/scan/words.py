"""What a scan refuses, in words: each with what else can be done."""

from typing import Final

DRAW: Final = "or draw its outline: docgen lay --help says how"


class ScanRefused(ValueError):
    """What cannot be seen on a photo, in `what`, and what would mend it, in `mend`."""

    def __init__(self, what: str, mend: str) -> None:
        super().__init__(what, mend)
        self.what, self.mend = what, f"{mend}; {DRAW}"
