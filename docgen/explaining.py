"""What a check goes by: its rule with the figure in force, in a spec, in the shop's file, or by the tables."""

from __future__ import annotations

from pathlib import Path

from docgen.printing import read_for_shop
from docgen.read import find_shop_file, read_shop_file
from docgen.resolve import explain_check


def explain(name: str, spec: str | None) -> str:
    """What is known of a check, for a person; figures as in the spec and the shop's file, as far as there are any.

    Raises CallRejected for a check that does not exist, SpecRejected for a spec or a shop's file that cannot be read.
    """
    if spec is not None:
        return explain_check(name, read_for_shop(spec).limits)
    found = find_shop_file(Path("spec.toml"))
    return explain_check(name, read_shop_file(found).limits if found else None)
