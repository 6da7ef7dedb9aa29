"""The command line: arguments in, exit codes out; the only place that prints.

Exit codes: 0 done, 1 the spec is wrong, 2 the call is wrong, 3 could not write, 70 a fault of docgen itself,
130 stopped from the keyboard, 141 nobody reads what is printed. What a command needs is imported inside it,
so that help comes at once.
"""

from __future__ import annotations

import argparse
import contextlib
import os
import re
import sys
import time
import traceback
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Final

from docgen.arguments import CALL_WRONG, make_parser

if TYPE_CHECKING:
    from docgen.pages.marks.page import SheetCount
    from docgen.pipeline import Exported, Outcome
    from docgen.problems import Problem
    from docgen.resolve import Accepted, Printer

DONE: Final = 0
SPEC_WRONG: Final = 1
NOT_WRITTEN: Final = 3
OWN_FAULT: Final = 70
STOPPED: Final = 130
UNHEARD: Final = 141

STEERING: Final = re.compile(r"[\x00-\x08\x0b-\x1f\x7f-\x9f\u200e\u200f\u202a-\u202e\u2066-\u2069]")
"""Control characters but line end and tab, and those that turn the direction of writing."""

QUIET_S: Final = 1.0
"""A run shorter than this says nothing while it works."""


class UnheardError(Exception):
    """What was to be printed could not be; `why` says why."""

    def __init__(self, why: str) -> None:
        self.why = why
        super().__init__(why)


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; returns its exit code. `--help`, `--version` and wrong calls leave by SystemExit."""
    _print_any_letter()
    try:
        code = _run_and_flush(list(sys.argv[1:] if arguments is None else arguments))
    except KeyboardInterrupt:
        _tell("stopped")
        return STOPPED
    except BrokenPipeError:
        _drop_output()
        return UNHEARD
    except UnheardError as error:
        _drop_output()
        _tell(f"cannot print what was done: {error.why}")
        return NOT_WRITTEN
    except Exception as error:
        return _tell_error(error)
    return code


def _run_and_flush(arguments: list[str]) -> int:
    try:
        code = _run(arguments)
    except SystemExit:
        _flush()
        raise
    _flush()
    return code


def _say(words: str, end: str = "\n") -> None:
    """Print for a person or a program; nothing where there is no output at all. Raises UnheardError."""
    try:
        print(show_lines(words), end=end)
    except BrokenPipeError:
        raise
    except OSError as error:
        raise _unheard(error) from error


def show_lines(words: str) -> str:
    """Words with a question mark for every letter that would steer the terminal, whoever wrote it."""
    return STEERING.sub("?", words)


def _flush() -> None:
    """Be sure that all is printed. Raises UnheardError."""
    if sys.stdout is None:
        return
    try:
        sys.stdout.flush()
    except BrokenPipeError:
        raise
    except OSError as error:
        raise _unheard(error) from error


def _unheard(error: OSError) -> UnheardError:
    from docgen.write import explain

    return UnheardError(explain(error))


def _drop_output() -> None:
    """What is left in the buffer would fail again when Python ends."""
    if sys.stdout is not None:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _tell(words: str) -> None:
    """Tell what went wrong, or how far it is, where anyone can be told."""
    if sys.stderr is not None:
        with contextlib.suppress(OSError):
            print(show_lines(words), file=sys.stderr, flush=True)


def _print_any_letter() -> None:
    """A letter that the terminal cannot show becomes a question mark."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")


def _run(arguments: list[str]) -> int:
    parser = make_parser()
    commands: dict[str, Callable[[argparse.Namespace], int]] = {
        "make": run_make,
        "check": run_check,
        "export": run_export,
        "new": run_new,
        "keys": run_keys,
        "printer": run_printer,
        "issue": run_issue,
        "compare": run_compare,
        "trace": run_trace,
        "site": run_site,
        "layouts": run_layouts,
    }
    if not arguments:
        *most, last = commands
        parser.error(f"say what to do: {', '.join(most)} or {last}")
    if not arguments[0].startswith("-") and arguments[0] not in commands:
        parser.error(_guess_command(arguments[0], list(commands)))
    chosen = parser.parse_args(arguments)
    return commands[chosen.command](chosen)


def _guess_command(word: str, commands: list[str]) -> str:
    from docgen.problems import shorten, suggest

    if word.endswith(".toml"):
        return f'say what to do with the spec, like "docgen make {shorten(word)}"'
    mend = suggest(word, commands) or f"there are {', '.join(commands)}"
    return f'there is no command "{shorten(word)}"; {mend}'


def run_make(chosen: argparse.Namespace) -> int:
    """Write the documents, and tell which."""
    from docgen.pipeline import build_documents

    outcome = build_documents(
        chosen.spec,
        chosen.out,
        only=chosen.only,
        paper=chosen.paper,
        units=chosen.units,
        date=chosen.date,
        margin=chosen.margin,
        overlap=chosen.overlap,
        join=chosen.join,
        full_straps=chosen.full_straps,
        mirror=chosen.mirror,
        pieces=chosen.pieces,
        printer=chosen.printer,
        shop=chosen.shop,
        orders=chosen.orders,
        since=chosen.since,
        progress=_make_progress(),
        makes=chosen.makes,
        variants=chosen.variants,
        csv=chosen.csv,
        layouts=chosen.layouts,
    )
    _say(describe_outcome(outcome))
    return DONE


def _make_progress() -> Callable[[str], None]:
    """Tells each step that begins once a run has become long."""
    began = time.monotonic()

    def tell(words: str) -> None:
        if time.monotonic() - began >= QUIET_S:
            _tell(f"{words} ...")

    return tell


def describe_outcome(outcome: Outcome) -> str:
    """What was written, for a person: files with their pages, paper for the pattern, every caution."""
    from docgen.problems import count_words, render_problems

    names = [path.relative_to(outcome.folder).as_posix() for path in outcome.paths]
    wide = max((len(name) for name in names), default=0)
    lines = [f"wrote {outcome.folder}"] if names else []
    for name, pages in zip(names, outcome.pages, strict=True):
        lines.append(f"  {name.ljust(wide)}  {count_words(pages, 'page') if pages else 'table'}")
    if outcome.count is not None:
        lines.append(describe_count(outcome.count, outcome.paper))
    if outcome.printer is not None:
        lines.append(f"it is corrected for the printer {describe_printer(outcome.printer)}; print it on no other")
    if outcome.draft is not None:
        lines.append(f"{outcome.draft.what}; {outcome.draft.mend}")
    lines += [describe_worked_out(*item) for item in outcome.worked_out]
    lines += [describe_accepted(item) for item in outcome.accepted]
    if outcome.cautions:
        lines.append(render_problems(outcome.cautions))
    return "\n".join(lines)


def describe_worked_out(name: str, length: str) -> str:
    """One line: a measure that a seam gave."""
    return f"worked out: {name} = {length}"


def describe_accepted(accepted: Accepted) -> str:
    """One line: the check, the part it concerns, and the reason."""
    from docgen.problems import shorten

    at = f", at {shorten(accepted.problem.at)}" if accepted.problem.at else ""
    return f"accepted: {accepted.problem.check}{at}: {shorten(accepted.reason)}"


def describe_count(count: SheetCount, paper: str) -> str:
    """What the pattern takes, and the least that any placement takes."""
    from docgen.problems import count_words
    from docgen.tables.paper import paper_words

    kind = f"paper from the {paper}" if paper.lower().startswith("roll") else f"{paper_words(paper)} paper"
    joins = count_words(count.joins, "join") or "no joins"
    least = f" than {count_words(count.bound, 'sheet')}" if count.bound < count.sheets else ""
    return (
        f"the pattern takes {count_words(count.sheets, 'sheet')} of {kind} and {joins} "
        f"(no placement can take fewer{least}); print it at 100 %, not fitted to the page"
    )


def run_printer(chosen: argparse.Namespace) -> int:
    """Record a printer, or tell what is recorded."""
    from docgen.pipeline import pick_date
    from docgen.printing import find_printer, list_printers, record_printer

    if chosen.across is not None and chosen.down is not None and chosen.name:
        recorded = record_printer(chosen.name, chosen.across, chosen.down, date=pick_date(None), shop=chosen.shop)
        _say(f"{'added to' if recorded.is_new else 'replaced in'} {recorded.path}")
        _say(describe_printer(recorded.printer))
        return DONE
    if chosen.across is not None or chosen.down is not None:
        return _tell_call('to record a printer, give NAME, --across and --down, like --across "99.2 mm"')
    settings = list_printers(chosen.shop)
    shown = (find_printer(settings, chosen.name),) if chosen.name else settings.printers
    for printer in shown:
        _say(describe_printer(printer))
    if not shown:
        _say('no printer is recorded; docgen printer NAME --across "99.2 mm" --down "100.5 mm" records one')
    return DONE


def describe_printer(printer: Printer) -> str:
    """Its name and what its 100 mm square measured."""
    from docgen.written.units import format_mm

    across, down = format_mm(printer.across_mm, 2), format_mm(printer.down_mm, 2)
    when = f", {printer.date}" if printer.date else ""
    return f'"{printer.name}": its 100 mm square measured {across} across and {down} down{when}'


def run_export(chosen: argparse.Namespace) -> int:
    """Write the pieces as vector files, and tell which."""
    from docgen.pipeline import export_pieces

    exported = export_pieces(
        chosen.spec, chosen.to, chosen.out, kerf=chosen.kerf, pieces=chosen.pieces, layouts=chosen.layouts
    )
    _say(describe_export(exported))
    return DONE


def describe_export(exported: Exported) -> str:
    """What was written, for a person: files, unit and kerf, every caution."""
    from docgen.problems import render_problems
    from docgen.written.units import format_mm

    lines = [f"wrote {exported.folder}"] if exported.paths else []
    lines += [f"  {path.relative_to(exported.folder).as_posix()}" for path in exported.paths]
    kerf = f"a kerf of {format_mm(exported.kerf_mm, 3)} is allowed for" if exported.kerf_mm else "no kerf"
    lines.append(f"all lengths in mm, at full size; {kerf}")
    if exported.cautions:
        lines.append(render_problems(exported.cautions))
    return "\n".join(lines)


def run_check(chosen: argparse.Namespace) -> int:
    """Tell the problems of a spec."""
    from docgen.pipeline import Checked, check_spec
    from docgen.problems import SpecRejected, render_problems

    if chosen.explain:
        from docgen.explaining import explain

        _say(explain(chosen.explain, chosen.spec))
        return DONE
    if chosen.spec is None:
        return _tell_call("check needs a spec, or --explain with the name of a check")
    if not chosen.json:
        checked = check_spec(chosen.spec, chosen.layouts)
        for name, length in checked.worked_out:
            print(describe_worked_out(name, length))
        for item in checked.accepted:
            _say(describe_accepted(item))
        if checked.cautions:
            _say(render_problems(checked.cautions))
            _say("no errors: it can be made")
        else:
            _say("no problems")
        return DONE
    try:
        checked, is_good = check_spec(chosen.spec, chosen.layouts), True
    except SpecRejected as error:
        checked, is_good = Checked(cautions=error.problems), False
    accepted = [_as_object(item.problem) | {"reason": item.reason} for item in checked.accepted]
    problems = [_as_object(problem) for problem in checked.cautions]
    _print_json({"ok": is_good, "problems": problems, "accepted": accepted})
    return DONE if is_good else SPEC_WRONG


def _as_object(problem: Problem) -> dict[str, str | int]:
    place = problem.place
    return {
        "severity": problem.severity,
        "file": place.path,
        "line": place.line,
        "column": place.column,
        "written": place.words,
        "what": problem.what,
        "mend": problem.mend,
        "check": problem.check,
        "at": problem.at,
    }


def _print_json(value: object) -> None:
    import json

    _say(json.dumps(value, indent=2))


def run_new(chosen: argparse.Namespace) -> int:
    """Write a starter spec under the name of the new build."""
    from docgen.problems import shorten, suggest
    from docgen.read import is_name, make_name
    from docgen.starters import STARTERS, fill_starter

    if not is_name(chosen.code):
        plain = make_name(chosen.code)
        mend = f'write "{plain}"' if is_name(plain) else 'write it like "market-bag"'
        return _tell_call(f'"{shorten(chosen.code)}" is no short name: small letters, digits and hyphens; {mend}')
    if chosen.like not in STARTERS:
        mend = suggest(chosen.like, STARTERS) or f"there are {', '.join(STARTERS)}"
        return _tell_call(f'there is no starter "{shorten(chosen.like)}"; {mend}')
    path = chosen.out or f"{chosen.code}.toml"
    if not _write_new(path, fill_starter(chosen.like, chosen.code)):
        return NOT_WRITTEN
    _say(f"wrote {path}: {STARTERS[chosen.like]}")
    _say(f"change it into your own, then:\n  docgen check {path}\n  docgen make {path}")
    return DONE


def _write_new(path: str, text: str) -> bool:
    """Write a file that is not there yet, whole or not at all; what stands in the way is told."""
    from docgen.write import WriteFailed, write_new_files

    folder, name = os.path.split(path)
    if os.path.lexists(path):
        _tell(f"{path} is there already; nothing was written\nchoose another with --out FILE")
        return False
    if not os.path.isdir(folder or "."):
        is_file = os.path.lexists(folder)
        why = "a part of its path is a file, not a folder" if is_file else "there is no such folder"
        _tell(f"cannot write {path}: {why}")
        return False
    try:
        write_new_files(Path(folder), {name: text.encode("utf-8")})
    except WriteFailed as error:
        _tell(f"cannot write {path}: {error.why}")
        return False
    return True


def run_layouts(chosen: argparse.Namespace) -> int:
    """Copy the shipped layout files into a folder, and tell how they are used."""
    from docgen.layout_files import FOLDER_NAME, share_layouts
    from docgen.write import WriteFailed, write_new_files

    missing, kept = share_layouts(chosen.folder)
    if missing:
        try:
            write_new_files(Path(chosen.folder), missing)
        except WriteFailed as error:
            _tell(f"cannot write {chosen.folder}: {error.why}")
            return NOT_WRITTEN
        _say(f"copied into {chosen.folder}:\n  " + "\n  ".join(missing))
        is_found = os.path.basename(os.path.abspath(chosen.folder)) == FOLDER_NAME
        _say(
            "change what you like and delete the rest: what is not there is taken as shipped\n"
            + ("beside a spec it is used by itself; else: " if is_found else "")
            + f"docgen make SPEC --layouts {chosen.folder}"
        )
    if kept:
        _tell(f"there already in {chosen.folder}, and left as they are: {', '.join(kept)}")
    return NOT_WRITTEN if kept else DONE


def run_keys(chosen: argparse.Namespace) -> int:
    """List the keys of the language."""
    from docgen.read import json_schema, render_keys

    if chosen.schema:
        _print_json(json_schema())
    else:
        _say(render_keys(), end="")
    return DONE


def run_issue(chosen: argparse.Namespace) -> int:
    """Record a version, and tell where."""
    from docgen.issuing import issue_spec
    from docgen.pipeline import pick_date
    from docgen.versions import describe_issue

    _say(describe_issue(issue_spec(chosen.spec, pick_date(chosen.date))))
    return DONE


def run_compare(chosen: argparse.Namespace) -> int:
    """Tell what changed."""
    from docgen.issuing import compare_versions
    from docgen.pipeline import pick_date
    from docgen.versions import describe_comparison

    comparisons = compare_versions(chosen.before, chosen.after, Path(), pick_date(None))
    _say("\n\n".join(map(describe_comparison, comparisons)))
    return DONE


def run_trace(chosen: argparse.Namespace) -> int:
    """Tell where a page comes from."""
    from docgen.issuing import trace_page
    from docgen.versions import describe_trace

    traced = trace_page(chosen.what, Path(chosen.folder), chosen.save)
    _say(describe_trace(traced.found))
    for path in traced.saved:
        _say(f"saved {path}")
    return DONE


def run_site(chosen: argparse.Namespace) -> int:
    """Write the web pages, and tell where they belong."""
    from docgen.versions import describe_site, write_site

    outcome = write_site(Path(chosen.folder), Path(chosen.source), has_pdfs=chosen.pdfs, progress=_make_progress())
    _say(describe_site(outcome))
    return DONE


def _tell_call(words: str) -> int:
    _tell(f"docgen: {words}")
    return CALL_WRONG


def _tell_error(error: Exception) -> int:
    """What stopped the run, for a person; returns the exit code."""
    from docgen.problems import SpecRejected, render_problems

    if isinstance(error, SpecRejected):
        _tell(render_problems(error.problems))
        return SPEC_WRONG
    try:
        from docgen.pipeline import CallRejected, WriteFailed
        from docgen.versions import NotOurs, NotReadable, ScanMissing, VersionRefused, describe_refusal
    except ImportError:
        return _tell_own_fault(error)
    if isinstance(error, VersionRefused):
        _tell(describe_refusal(error))
        return SPEC_WRONG
    if isinstance(error, CallRejected | NotOurs | NotReadable | ScanMissing):
        return _tell_call(str(error))
    if isinstance(error, WriteFailed):
        _tell(f"{error}\nthe folder holds what it held before")
        return NOT_WRITTEN
    return _tell_own_fault(error)


def _tell_own_fault(error: Exception) -> int:
    """A fault of the program, never of the spec: its kind and where, the whole trace only when asked for."""
    from docgen.problems import shorten

    if os.environ.get("DOCGEN_DEBUG"):
        traceback.print_exception(error)
    frames = traceback.extract_tb(error.__traceback__)
    where = f" ({os.path.basename(frames[-1].filename)}, line {frames[-1].lineno})" if frames else ""
    _tell(
        f"this is a fault of docgen, not of your spec: {type(error).__name__}: {shorten(str(error))}{where}\n"
        "nothing is lost; set DOCGEN_DEBUG=1 to see the whole trace"
    )
    return OWN_FAULT
