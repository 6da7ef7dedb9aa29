"""A check in words: what must hold by the figures in force, and where they come from."""

from docgen.checks.trade import CHECKS, EARLIER_CHECKS
from docgen.problems import CallRejected, suggest
from docgen.read import LimitsSpec
from docgen.resolve import settle_limits
from docgen.tables.limits import limit_words


def explain_check(name: str, written: LimitsSpec | None) -> str:
    """What a person should know of a check, by the limits that are written, else by the tables.

    Raises CallRejected for one that is not there, SpecRejected when a limit cannot be read.
    """
    from docgen.checks.reasons import REASONS

    limits = settle_limits(written)
    checks = {check.id: check for check in (*EARLIER_CHECKS, *CHECKS)}
    if name not in checks:
        mend = suggest(name, checks) or "docgen check tells the name of each caution it finds"
        raise CallRejected(f'there is no check "{name}"; {mend}')
    check, figures = checks[name], limit_words(limits)
    accept = f'[[accept]] with check = "{name}", at, figures and a reason, where it is all right'
    return "\n".join(
        [
            f"{name}: {'an error, which stops the build' if check.stops else 'a caution'}",
            f"  rule:    {check.sentence(limits)}",
            f"  why:     {REASONS[check.id]}",
            f"  source:  {check.source}",
            *(f"  figure:  {key.replace('_', '-')} = {figures[key]}, {_source(written, key)}" for key in check.limits),
            *([] if check.stops else [f"  accept:  {accept}"]),
        ]
    )


def _source(written: LimitsSpec | None, key: str) -> str:
    value = getattr(written, key) if written else None
    if not value:
        return "from the tables; [limits] may say another"
    place = (value[0] if isinstance(value, tuple) else value).place
    return f"from line {place.line} of {place.path}"
