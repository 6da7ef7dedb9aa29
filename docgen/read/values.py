"""Single values: words, numbers, true or false -> `Value`s; None, and a problem, when wrong."""

import re
from datetime import date, datetime, time
from typing import Any

from docgen.read import kinds
from docgen.read.findings import Findings
from docgen.read.kinds import Key
from docgen.read.letters import judge_letters, judge_size, judge_typeface
from docgen.read.locate import KeyPath
from docgen.read.words import list_words, name_key, quote_word
from docgen.read.written import Value

PLAIN_NUMBER_RE = r"\d{1,6}(\.\d{1,6})?"
# What stands in a message when a bare number was written: what is wrong, what would mend it, where {0} is the number,
# and the number that stands there when the one written is not plain.
UNIT_MENDS = {
    "length": ("has no unit", 'write "{0} in" or "{0} mm", quotes and all', "3.5"),
    "thickness": ("has no unit", 'write "{0} oz" or "{0} mm", quotes and all', "4.5"),
    "pitch": ("has no unit", 'write "{0} per inch" or "{0} mm", quotes and all', "6"),
    "percent": ("has no unit", 'write "{0} %", quotes and all', "25"),
    "load": ("has no unit", 'write "{0} kg" or "{0} lb", quotes and all', "6"),
    "run-weight": ("has no unit", 'write "{0} g per m" or "{0} oz per yd", quotes and all', "28"),
    "weight": ("has no unit", 'write "{0} g" or "{0} oz", quotes and all', "12"),
    "density": ("has no unit", 'write "{0} g/cm3", quotes and all', "0.9"),
    "area": ("has no unit", 'write "{0} sq ft" or "{0} m2", quotes and all', "24"),
    "price": ("does not say for how much", "write {1}, quotes and all", "11.50"),
    "thread": ("does not say what thread it is", 'write "Tex {0} bonded nylon", or what it is made of', "135"),
    "position": ("does not say from where", 'write "{0} in from top, {0} in from left", quotes and all', "1"),
}
# What a price may be for, by what its key says of it; {} is the number.
PRICE_MENDS = {
    "a number for an area, a length or each": '"{0} per sq ft", "{0} per m" or "{0} each"',
    "a number for a length or each spool": '"{0} per 100 m" or "{0} each"',
    "a number each, or per so many": '"{0} each" or "{0} per 100"',
    "a number per hour": '"{0} per hour"',
}
PRINTED_KINDS = frozenset({"text", "note", "thread"})


def read_words(findings: Findings, key: Key, raw: Any, at: KeyPath) -> Value[str] | None:
    """Any kind of value that is written as words in quotes."""
    if not isinstance(raw, str):
        return _read_other_than_words(findings, key, raw, at)
    text = " ".join(raw.split("\n")).replace("\t", " ").strip() if key.kind == "note" else raw.strip()
    if not text:
        if key.required or key.kind not in ("text", "note"):
            findings.error(at, f"{name_key(at)} is empty", f"write {describe_kind(key)}")
        return None
    name, most = name_key(at), kinds.NOTE_MOST if key.kind == "note" else kinds.WORDS_MOST
    fault = judge_letters(name, text) or judge_size(name, text, most)
    if fault is None and not _fits_kind(findings, key, text, at):
        return None
    if fault is None and key.kind in PRINTED_KINDS:
        fault = judge_typeface(name, text)
    if fault is not None:
        findings.error(at, *fault)
        return None
    return Value(value=text, place=findings.place(at))


def read_count(findings: Findings, key: Key, raw: Any, at: KeyPath) -> Value[int] | None:
    """A whole number from `key.least` to `key.most`."""
    name = name_key(at)
    written = findings.written(at)
    if isinstance(raw, bool) or not isinstance(raw, int):
        digits = raw.strip() if isinstance(raw, str) else ""
        is_quoted = re.fullmatch(r"\d{1,6}", digits)
        mend = f"write {name} = {digits}, without quotes" if is_quoted else f"write {describe_kind(key)}"
        findings.error(at, f"{name} must be a whole number: {written}", mend)
        return None
    if not key.least <= raw <= key.most:
        what = f"{name} must be from {key.least} to {key.most}: {written}"
        findings.error(at, what, f"write {describe_kind(key)}")
        return None
    return Value(value=raw, place=findings.place(at))


def read_flag(findings: Findings, key: Key, raw: Any, at: KeyPath) -> Value[bool] | None:
    """True or false."""
    if isinstance(raw, bool):
        return Value(value=raw, place=findings.place(at))
    name = name_key(at)
    is_no = raw.strip().lower() in ("false", "no", "off", "n") if isinstance(raw, str) else raw == 0
    mend = f"write {name} = {'false' if is_no else 'true'}, without quotes"
    findings.error(at, f"{name} must be true or false: {findings.written(at)}", mend)
    return None


def check_name(findings: Findings, what: str, name: str, at: KeyPath) -> bool:
    """Whether a name has the right letters and length; when not, it is noted. `what` says what is named."""
    if is_name(name):
        return True
    plain = make_name(name)
    mend = "use small letters, digits and hyphens, with a letter first"
    if len(name) > kinds.NAME_MOST:
        mend = f"use at most {kinds.NAME_MOST} letters; it has {len(name)}"
    elif plain != name and re.fullmatch(kinds.NAME_PATTERN, plain):
        mend = f"write {quote_word(plain)}: small letters, digits and hyphens"
    findings.error(at, f"{what} {quote_word(name)} is not a short name", mend)
    return False


def check_device(findings: Findings, what: str, name: str, at: KeyPath) -> bool:
    """Whether files and folders can be called so on every system; when not, it is noted."""
    if not kinds.is_device(name):
        return True
    mend = "take another: files and folders are called by it"
    findings.error(at, f"{what} cannot be {quote_word(name)}: Windows keeps that name for itself", mend)
    return False


def is_name(name: str) -> bool:
    """Whether the word can be the name of an entry."""
    return len(name) <= kinds.NAME_MOST and re.fullmatch(kinds.NAME_PATTERN, name) is not None


def make_name(words: str) -> str:
    """Words as small letters, digits and hyphens: `Big Piece` -> `big-piece`."""
    return re.sub(r"[^a-z0-9]+", "-", words.lower()[: kinds.WORDS_MOST]).strip("-")


def describe_kind(key: Key) -> str:
    """What may be written for a key, in words."""
    if key.kind == "choice":
        return list_words((quote_word(choice) for choice in key.choices), last="or")
    if key.kind == "count":
        return f"a whole number from {key.least} to {key.most}"
    if key.kind == "name":
        return f"the name of one of the {key.to}"
    if key.kind == "names":
        return f"a list of names of {key.to}" + (f" or {key.or_to}" if key.or_to else "")
    if key.kind in ("lengths", "densities") and key.size:
        return f"a list of {key.size} {key.kind}"
    return kinds.KINDS[key.kind]


def _read_other_than_words(findings: Findings, key: Key, raw: Any, at: KeyPath) -> Value[str] | None:
    """A number, date, list or table where words are needed: noted, save for a bare 0 as a length."""
    name = name_key(at)
    written = findings.written(at)
    if isinstance(raw, (list, dict)):
        what = f"{name} takes one value, not a {'list' if isinstance(raw, list) else 'table'}"
        findings.error(at, what, f"write {describe_kind(key)}")
    elif isinstance(raw, bool):
        findings.error(at, f"{name} cannot be true or false", f"write {describe_kind(key)}")
    elif isinstance(raw, (date, time, datetime)):
        findings.error(at, f"{name} needs quotes: {written}", f'write {name} = "{written}"')
    elif key.kind == "length" and raw == 0:
        return Value(value="0", place=findings.place(at))
    else:
        _report_number(findings, key, at)
    return None


def _report_number(findings: Findings, key: Key, at: KeyPath) -> None:
    name = name_key(at)
    written = findings.written(at)
    if key.kind in UNIT_MENDS:
        what, mend, plain = UNIT_MENDS[key.kind]
        number = written if re.fullmatch(PLAIN_NUMBER_RE, written) else plain
        price = PRICE_MENDS[key.unit].format(number) if key.kind == "price" else ""
        findings.error(at, f"{name} {what}: {written}", mend.format(number, price))
    elif key.kind in ("text", "note", "version", "needle") or written in key.choices:
        mend = f'write {name} = "{written}"' if len(written) <= 20 else f"write {describe_kind(key)}"
        findings.error(at, f"{name} needs quotes: {written}", mend)
    else:
        findings.error(at, f"{name} cannot be a number: {written}", f"write {describe_kind(key)}")


def _fits_kind(findings: Findings, key: Key, text: str, at: KeyPath) -> bool:
    """The checks of the kinds that are more than words."""
    name = name_key(at)
    if key.kind == "choice" and text not in key.choices:
        mend = f"{findings.suggest(text, key.choices)} it takes {describe_kind(key)}".strip()
        findings.error(at, f"{name} cannot be {quote_word(text)}", mend)
        return False
    if key.kind == "code":
        return check_name(findings, name, text, at) and check_device(findings, name, text, at)
    if key.kind in ("name", "names"):
        return findings.is_known(key.to, text, at, key.or_to, is_one=key.kind == "name")
    if key.kind == "version":
        return _is_version(findings, text, at) and check_device(findings, name, text, at)
    if key.kind == "link":
        return _is_link(findings, text, at)
    return True


def _is_version(findings: Findings, text: str, at: KeyPath) -> bool:
    if re.fullmatch(kinds.DRAFT_PATTERN, text):
        what = f"{name_key(at)} cannot be {quote_word(text)}: the pages say draft of what is not issued"
        findings.error(at, what, 'write the number alone, like "3" or "2.1"')
    elif not re.fullmatch(kinds.VERSION_PATTERN, text):
        is_plain = len(text) <= kinds.VERSION_MOST and re.fullmatch("[A-Za-z0-9.-]+", text)
        mend = "begin and end it with a letter or digit" if is_plain else f"use {kinds.KINDS['version']}"
        findings.error(at, f"{name_key(at)} cannot be {quote_word(text)}", mend)
    else:
        return True
    return False


def _is_link(findings: Findings, text: str, at: KeyPath) -> bool:
    name = name_key(at)
    if not text.startswith("https://"):
        findings.error(at, f"{name} does not start with https://", 'write "https://...", small letters')
    elif len(text) > kinds.LINK_MOST:
        what = f"{name} has {len(text)} letters; at most {kinds.LINK_MOST} are allowed"
        findings.error(at, what, "use a shorter address")
    elif not re.fullmatch(kinds.LINK_PATTERN, text):
        odd = next((c for c in text if not re.fullmatch(r"[A-Za-z0-9$%*+./:-]", c)), "")
        what = (
            f"{name} holds {quote_word(odd)}, which the code on the pages cannot carry"
            if odd
            else f"{name} ends too soon"
        )
        findings.error(at, what, "use only letters A to Z, digits and $ % * + - . / : in the address")
    elif not re.match(kinds.HOST_PATTERN, text):
        what = f"{name} names no site: {quote_word(text)}"
        findings.error(at, what, 'write the name of the site after https://, like "https://example.org/bag"')
    else:
        return True
    return False
