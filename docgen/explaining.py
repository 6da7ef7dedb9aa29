"""What a check goes by: its rule with the figure in force, where that comes from, and how to live with it."""

from __future__ import annotations

from pathlib import Path

from docgen.printing import read_for_shop
from docgen.problems import CallRejected, suggest
from docgen.read import find_shop_file, read_shop_file
from docgen.resolve import Explained, explain_check, list_checks


def explain(name: str, spec: str | None, shop: str | None = None) -> str:
    """What is known of a check, for a person; figures as in the spec and the shop's file, as far as there are any.

    Raises CallRejected for a check that does not exist, SpecRejected for a spec or a shop's file that cannot be read.
    """
    if name not in list_checks():
        mend = suggest(name, list_checks()) or "docgen check tells the name of each caution it finds"
        raise CallRejected(f'there is no check "{name}"; {mend}')
    if spec is not None:
        limits = read_for_shop(spec, shop).limits
    else:
        found = shop or find_shop_file(Path("spec.toml"))
        limits = read_shop_file(found).limits if found else None
    return _render(explain_check(name, limits))


def _render(told: Explained) -> str:
    lines = [
        f"{told.name}: {'an error, which stops the build' if told.stops else 'a caution'}",
        f"  rule:    {told.sentence}",
        f"  source:  {told.source}",
        *(f"  figure:  {key} = {words}, {where}" for key, words, where in told.figures),
    ]
    if not told.stops:
        lines.append(f'  accept:  [[accept]] with check = "{told.name}" and a reason, where it is all right')
    return "\n".join(lines)
