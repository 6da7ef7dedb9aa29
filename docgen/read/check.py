"""The values `tomllib` read -> `Spec`, by the keys that the classes of `spec` declare.

Every mistake is noted and the value left out, so that all problems come in one run.
"""

from collections.abc import Callable, Mapping
from dataclasses import fields, replace
from typing import Any

from docgen.problems import suggest
from docgen.read.findings import Findings
from docgen.read.kinds import KINDS, NUMBER_MOST, Key, KeyField, list_keys
from docgen.read.locate import KeyPath, Location
from docgen.read.spec import Spec
from docgen.read.values import (
    check_device,
    check_name,
    describe_kind,
    is_name,
    make_name,
    read_count,
    read_flag,
    read_words,
)
from docgen.read.words import list_words, name_key, name_path, name_table, quote_word
from docgen.read.written import NamedLength, NamedNumber, NamedPrice, Value

MoreNames = Mapping[str, tuple[str, ...]]
VALUES_MOST = 20_000
READ_OVER = 2  # times what is allowed
NAMED_EVERYWHERE = ("measures", "pieces")
CORNER = Key(kind="length", meaning="Radius of one corner.", unit="length")
PRICE = Key(kind="price", meaning="A price.")
NUMBER = Key(kind="count", meaning="A number.", most=NUMBER_MOST)
MEASURE = Key(kind="length", meaning="A named length.", unit="length")
ITEM_KINDS = {"lengths": "length", "densities": "density", "texts": "text", "sides": "text"}

NAMING_FILES = ("pieces", "variants")
"""Tables whose names are those of files or folders too."""


def check_document(
    path: str, document: Mapping[str, Any], locations: Mapping[KeyPath, Location], more: MoreNames | None = None
) -> Spec:
    """The spec as written, with `problems` filled; `source` and `digest` are left empty. `more` are the names that its
    parts bring into its tables."""
    values, findings = check_keys(Spec, path, document, locations, more)
    unread = [word for word in NAMED_EVERYWHERE if not isinstance(document.get(word, {}), dict)]
    return replace(
        Spec(**values),
        path=path,
        problems=findings.close(),
        unread=(*unread, *findings.cut),
        left_out=findings.left_out,
    )


def check_keys(
    owner: type[Any],
    path: str,
    document: Mapping[str, Any],
    locations: Mapping[KeyPath, Location],
    more: MoreNames | None = None,
) -> tuple[dict[str, Any], Findings]:
    """Field -> value for a whole file whose keys the class `owner` declares, and what was found in it; `more` are names
    known besides its own, by table."""
    names, left_out = _list_names(owner, document)
    names |= {table: (*names.get(table, ()), *known) for table, known in (more or {}).items()}
    findings = Findings(path, locations, names, left_out)
    if len(locations) > VALUES_MOST:
        what = f"the spec holds {len(locations):,} keys and values; at most {VALUES_MOST:,} are allowed"
        findings.error((), what, "split it into several specs")
        findings.cut.append("values")
    return _read_keys(findings, owner, document, ()), findings


def _list_names(
    owner: type[Any], document: Mapping[str, Any]
) -> tuple[dict[str, tuple[str, ...]], frozenset[tuple[str, str]]]:
    """Names of the entries per table, and the (table, name) pairs of those that will be left out."""
    names: dict[str, tuple[str, ...]] = {}
    left_out: set[tuple[str, str]] = set()
    for part in list_keys(owner):
        table = document.get(part.word)
        if part.key.kind == "tables" and any(entry.word == "name" for entry in list_keys(part.key.of)):
            names[part.word] = _list_given(table)
        if part.key.kind != "named tables" or (part.key.required and not table):
            continue
        if table is not None and not isinstance(table, dict):
            continue  # one problem of its own: any name may have been meant to stand there
        entries = table if isinstance(table, dict) else {}
        shown = list(entries)[: READ_OVER * part.key.most]
        good = tuple(name for name in shown if isinstance(entries[name], dict) and is_name(name))
        names[part.word] = good
        for name in entries.keys() - set(good):
            left_out |= {(part.word, name), (part.word, make_name(name)), (part.word, make_name(name.split(" ")[0]))}
    known = tuple(part.word for part in list_keys(owner))
    for word, entries in document.items():
        meant = suggest(word, known) if word not in known and isinstance(entries, dict) else ""
        left_out |= {(meant.split('"')[1], name) for name in entries} if meant else set()
    return names, frozenset(left_out)


def _list_given(table: Any) -> tuple[str, ...]:
    """The names that entries of a list of tables bear, where they bear any."""
    entries = [entry for entry in table if isinstance(entry, dict)] if isinstance(table, list) else []
    return tuple(name for name in (entry.get("name") for entry in entries) if isinstance(name, str))


def _read_keys(
    findings: Findings, owner: type[Any], table: Mapping[str, Any], at: KeyPath, *, is_whole: bool = True
) -> dict[str, Any]:
    """Field -> value for every key of the table; unknown keys are noted, and missing ones where it is a whole one."""
    known = {part.word: part for part in list_keys(owner)}
    meant = [_report_unknown(findings, word, tuple(known), (*at, word)) for word in table if word not in known]
    values: dict[str, Any] = {}
    wrong = []
    for word, part in known.items():
        if word in table:
            before = findings.refused
            values[part.field] = READERS[part.key.kind](findings, part.key, table[word], (*at, word))
            wrong += [part.field] if findings.refused > before else []
        elif is_whole and part.key.required and f'did you mean "{word}"?' not in meant:
            _report_missing(findings, part, at)
    if wrong and "wrong" in {field.name for field in fields(owner)}:
        values["wrong"] = tuple(wrong)
    return values


def _report_unknown(findings: Findings, word: str, known: tuple[str, ...], at: KeyPath) -> str:
    """Note a word that is no key; returns what would mend it."""
    mend = findings.suggest(word, known) or f"known here: {list_words(known)}"
    if len(at) == 1:
        findings.error(at, f"unknown table {quote_word(word)}", mend)
    else:
        findings.error(at, f"unknown key {quote_word(word)} in {name_table(at[:-1])}", mend)
    return mend


def _report_missing(findings: Findings, part: KeyField, at: KeyPath) -> None:
    if part.key.of is None:
        mend = f"add {part.word} = ..., {describe_kind(part.key)}"
        findings.error(at, f"{quote_word(part.word)} is missing in {name_table(at)}", mend)
    else:
        _report_no_table(findings, part.key, part.word, at)


def _report_no_table(findings: Findings, key: Key, word: str, at: KeyPath) -> None:
    table = f"[{word}.NAME]" if key.kind == "named tables" else f"[{word}]"
    needed = (entry.word for entry in list_keys(key.of) if entry.key.required)
    findings.error(at, f"there is no {table}", f"add {table} with {list_words(needed)}")


def _read_table(findings: Findings, key: Key, raw: Any, at: KeyPath) -> Any:
    """One table of the class `key.of`, or None."""
    if not isinstance(raw, dict):
        is_list_of_tables = isinstance(raw, list) and bool(raw) and isinstance(raw[0], dict)
        mend = f"write [{name_path(at)}]" + (" with single brackets" if is_list_of_tables else "")
        findings.error(at, f"{name_path(at)} must be one table of keys", mend)
        return None
    return key.of(**_read_keys(findings, key.of, raw, at), place=findings.place(at))


def _read_tables(findings: Findings, key: Key, raw: Any, at: KeyPath) -> tuple[Any, ...]:
    """A list of tables."""
    if not isinstance(raw, list):
        mend = f"write [[{name_path(at)}]] with double brackets, or {at[-1]} = [{{ ... }}]"
        findings.error(at, f"{name_key(at)} must be a list of tables", mend)
        return ()
    items = []
    for index, item in enumerate(_cap_list(findings, key, raw, at)):
        if isinstance(item, dict):
            items.append(_read_table(findings, key, item, (*at, index)))
        else:
            what = f"no. {index + 1} of {name_key(at)} must be a table, not {findings.written((*at, index))}"
            needed = ", ".join(f"{part.word} = ..." for part in list_keys(key.of) if part.key.required)
            findings.error((*at, index), what, f"write {{ {needed} }}")
    return tuple(items)


def _read_named_tables(findings: Findings, key: Key, raw: Any, at: KeyPath) -> tuple[Any, ...]:
    """One table per name; entries with a wrong name are left out."""
    table = at[-1]
    if not isinstance(raw, dict):
        findings.error(at, f"{table} must be one table per name", f"write [{table}.NAME] with single brackets")
        return ()
    if key.required and not raw:
        _report_no_table(findings, key, str(table), at)
    items = []
    for name, item in _cap_table(findings, key, raw, at).items():
        here = (*at, name)
        if not isinstance(item, dict):
            what = f"{quote_word(name)} stands in [{table}] without the name of its table"
            findings.error(here, what, f"write [{table}.NAME] above it")
            continue
        values = _read_keys(findings, key.of, item, here)
        if check_name(findings, f"in [{table}],", name, here) and (
            table not in NAMING_FILES or check_device(findings, f"a name in [{table}]", name, here)
        ):
            items.append(key.of(**values, name=name, place=findings.place(here)))
    return tuple(items)


def _read_changes(findings: Findings, key: Key, raw: Any, at: KeyPath) -> tuple[Any, ...]:
    """One table for each entry of another table that is changed."""
    if not isinstance(raw, dict):
        findings.error(
            at, f"{name_key(at)} must be {KINDS[key.kind]}", f"write {name_key(at)} = {{ NAME = {{ ... }} }}"
        )
        return ()
    items = []
    for name, item in _cap_table(findings, key, raw, at).items():
        here = (*at, name)
        if not isinstance(item, dict):
            what = f"{quote_word(name)} in {name_table(at)} must be a table of what is other"
            findings.error(here, what, f'write {name} = {{ title = "..." }}')
        elif findings.is_known(key.to, name, here):
            values = _read_keys(findings, key.of, item, here, is_whole=False)
            items.append(key.of(**values, name=name, place=findings.place(here)))
    return tuple(items)


def _read_list(findings: Findings, key: Key, raw: Any, at: KeyPath) -> tuple[Value[str], ...]:
    """A list of words; where names or texts are wanted, one may stand alone."""
    item_key = replace(key, kind=ITEM_KINDS.get(key.kind, key.kind), required=True)
    if isinstance(raw, str) and key.kind in ("names", "texts"):
        alone = read_words(findings, item_key, raw, at)
        return () if alone is None else (alone,)
    name = name_key(at)
    if not isinstance(raw, list):
        mend = f"write {name} = [ ... ], {describe_kind(key)}"
        findings.error(at, f"{name} must be a list, not {findings.written(at)}", mend)
        return ()
    if key.required and not raw:
        findings.error(at, f"{name} is an empty list", f"write {describe_kind(key)}")
        return ()
    capped = _cap_list(findings, key, raw, at)
    values = [read_words(findings, item_key, item, (*at, index)) for index, item in enumerate(capped)]
    good = tuple(value for value in values if value is not None)
    # In a list of fixed size the order has a meaning, so that a gap spoils the whole.
    return () if key.size and len(good) < key.size else good


def _read_corners(findings: Findings, key: Key, raw: Any, at: KeyPath) -> tuple[NamedLength, ...]:
    """One radius for every corner (name ""), or a table of corner = radius."""
    if isinstance(raw, dict):
        return _read_lengths_by_name(findings, CORNER, "the corner", raw, at)
    if isinstance(raw, list):
        mend = 'write round = "1/2 in", or round = { bottom-left = "1/2 in" }'
        findings.error(at, "round cannot be a list", mend)
        return ()
    value = read_words(findings, CORNER, raw, at)
    return () if value is None else (NamedLength(name="", length=value),)


def _read_measures(findings: Findings, key: Key, raw: Any, at: KeyPath) -> tuple[NamedLength, ...]:
    if not isinstance(raw, dict):
        findings.error(at, f"{name_key(at)} must be {KINDS[key.kind]}", 'write [measures] with width = "12 in" below')
        return ()
    shown = _cap_table(findings, key, raw, at)
    good = _read_lengths_by_name(findings, MEASURE, "the measure", shown, at)
    # One that is noted as wrong stays known by its name: what uses it has no fault of its own.
    found = {item.name: item for item in good}
    wrong = {name: Value(value="", place=findings.place((*at, name))) for name in shown if name not in found}
    return tuple(found.get(name) or NamedLength(name=name, length=wrong[name]) for name in shown)


def _read_numbers(findings: Findings, key: Key, raw: Any, at: KeyPath) -> tuple[NamedNumber, ...]:
    if not isinstance(raw, dict):
        findings.error(at, f"{name_key(at)} must be {KINDS[key.kind]}", f"write {name_key(at)} = {{ NAME = 4 }}")
        return ()
    shown = _cap_table(findings, key, raw, at)
    read = [(name, read_count(findings, NUMBER, item, (*at, name))) for name, item in shown.items()]
    return tuple(NamedNumber(name=name, number=number) for name, number in read if number is not None)


def _read_prices(findings: Findings, key: Key, raw: Any, at: KeyPath) -> tuple[NamedPrice, ...]:
    """Prices by what they are for, in any words."""
    if not isinstance(raw, dict):
        mend = f'write [{name_path(at)}] with a line like "name" = "11.50 per sq ft" for each below'
        findings.error(at, f"{name_key(at)} must be {KINDS[key.kind]}", mend)
        return ()
    shown = _cap_table(findings, key, raw, at)
    read = [(name, read_words(findings, PRICE, item, (*at, name))) for name, item in shown.items()]
    return tuple(NamedPrice(name=name, price=price) for name, price in read if price is not None)


def _read_lengths_by_name(
    findings: Findings, key: Key, what: str, raw: Mapping[str, Any], at: KeyPath
) -> tuple[NamedLength, ...]:
    pairs = []
    for name, item in raw.items():
        value = read_words(findings, key, item, (*at, name))
        if check_name(findings, what, name, (*at, name)) and value is not None:
            pairs.append(NamedLength(name=name, length=value))
    return tuple(pairs)


def _cap_list(findings: Findings, key: Key, raw: list[Any], at: KeyPath) -> list[Any]:
    """The list, cut to what is allowed; too many entries or a wrong number of them is noted."""
    if key.size and len(raw) != key.size:
        what = f"{name_key(at)} needs {key.size} entries, and has {len(raw):,}"
        findings.error(at, what, f"write {key.size} of them")
        return raw[: key.size]
    if key.most and len(raw) > key.most:
        return raw[: _report_too_many(findings, key, len(raw), at)]
    return raw


def _cap_table(findings: Findings, key: Key, raw: dict[str, Any], at: KeyPath) -> dict[str, Any]:
    """The table; too many entries are noted."""
    if not key.most or len(raw) <= key.most:
        return raw
    return dict(list(raw.items())[: _report_too_many(findings, key, len(raw), at)])


def _report_too_many(findings: Findings, key: Key, count: int, at: KeyPath) -> int:
    """How many are read all the same: what names them has no fault of its own. Far more than those are cut off."""
    what = f"{name_key(at)} has {count:,} entries; at most {key.most} are allowed"
    findings.error(at, what, "leave some out, or split the spec")
    if count > READ_OVER * key.most:
        findings.cut.append(name_key(at))
    return READ_OVER * key.most


READERS: dict[str, Callable[[Findings, Key, Any, KeyPath], Any]] = {
    **dict.fromkeys(KINDS, read_words),
    "count": read_count,
    "flag": read_flag,
    "names": _read_list,
    "texts": _read_list,
    "lengths": _read_list,
    "densities": _read_list,
    "sides": _read_list,
    "corners": _read_corners,
    "measures": _read_measures,
    "numbers": _read_numbers,
    "prices": _read_prices,
    "table": _read_table,
    "change": _read_table,
    "tables": _read_tables,
    "named tables": _read_named_tables,
    "changes": _read_changes,
}
