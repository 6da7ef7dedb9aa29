"""A check in words: what must hold by the figures in force, and where they come from."""

from __future__ import annotations

from docgen.checks.trade import CHECKS, EARLIER_CHECKS
from docgen.checks.trade.check import Check, EarlierCheck
from docgen.problems import CallRejected, suggest
from docgen.read import LimitsSpec
from docgen.resolve import settle_limits
from docgen.tables.limits import limit_words


def explain_check(name: str, written: LimitsSpec | None) -> str:
    """What a person should know of a check, by the limits that are written, else by the tables.

    Raises CallRejected for one that is not there, SpecRejected when a limit cannot be read.
    """
    limits = settle_limits(written)
    told = {check.id: check.says for check in EARLIER_CHECKS} | {check.id: check.sentence(limits) for check in CHECKS}
    every: tuple[Check | EarlierCheck, ...] = (*CHECKS, *EARLIER_CHECKS)
    check = next((check for check in every if check.id == name), None)
    if check is None:
        mend = suggest(name, told) or "docgen check tells the name of each caution it finds"
        raise CallRejected(f'there is no check "{name}"; {mend}')
    figures = limit_words(limits)
    keys = check.limits if isinstance(check, Check) else ()
    stops = check.stops if isinstance(check, Check) else True
    accept = f'[[accept]] with check = "{name}" and a reason, where it is all right'
    return "\n".join(
        [
            f"{name}: {'an error, which stops the build' if stops else 'a caution'}",
            f"  rule:    {told[name]}",
            f"  source:  {check.source}",
            *(f"  figure:  {key.replace('_', '-')} = {figures[key]}, {_source(written, key)}" for key in keys),
            *([] if stops else [f"  accept:  {accept}"]),
        ]
    )


def _source(written: LimitsSpec | None, key: str) -> str:
    value = getattr(written, key) if written else None
    if not value:
        return "from the tables; [limits] may say another"
    place = (value[0] if isinstance(value, tuple) else value).place
    return f"from line {place.line} of {place.path}"
