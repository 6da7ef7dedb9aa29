"""`docgen printer`"""

from docgen.calls.asked import PrinterCall
from docgen.cli.describing import describe_printer
from docgen.cli.telling import DONE, say, tell_call

ABOUT = """\
Record what the 100 mm square on page 1 of a pattern measured from a printer, so that a pattern can
be corrected for it. Print that page without --printer, at 100 %, and measure with a steel rule.
Without --across and --down it tells what is recorded.

  docgen printer office --across "99.2 mm" --down "100.5 mm"
  docgen make field-bag.toml --printer office
"""
ASKED = PrinterCall


def run(asked: PrinterCall) -> int:
    """Record a printer, or tell what is recorded."""
    from docgen.calls.printer import find_printer, list_printers, record_printer

    if asked.across is not None and asked.down is not None and asked.name:
        recorded = record_printer(asked.name, asked.across, asked.down, asked.shop)
        say(f"{'added to' if recorded.is_new else 'replaced in'} {recorded.path}")
        say(describe_printer(recorded.printer))
        return DONE
    if asked.across is not None or asked.down is not None:
        return tell_call('to record a printer, give NAME, --across and --down, like --across "99.2 mm"')
    settings = list_printers(asked.shop)
    shown = (find_printer(settings, asked.name),) if asked.name else settings.printers
    for printer in shown:
        say(describe_printer(printer))
    if not shown:
        say('no printer is recorded; docgen printer NAME --across "99.2 mm" --down "100.5 mm" records one')
    return DONE
