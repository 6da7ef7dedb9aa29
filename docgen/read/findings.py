"""What the checks gather while they walk a spec: problems at their places, and names that lead nowhere."""

import re
from collections.abc import Mapping
from dataclasses import field

from docgen.classes import dataclass
from docgen.problems import Place, Problem, is_misspelt, make_error, sort_problems, suggest
from docgen.read.locate import KeyPath, Location
from docgen.read.words import list_words, name_key, name_table, quote_word

PROBLEMS_LISTED = 200
PROBLEMS_KEPT = 2000
SUGGESTED_MOST = 60
COMPARED_MOST = 6_000  # pairs of words; more would take seconds


@dataclass(slots=True, eq=False)
class Findings:
    """The places of the keys, the names that may be referred to, and the problems found so far.

    `names` holds, per table, the names of its entries; a table that is missing although every spec needs it
    is left out, because its absence is a problem of its own. `left_out` holds table and name of the entries
    that are wrong in themselves: who refers to them makes no second mistake. `refused` counts what was not
    taken so far, whether it is a problem of its own or follows from one; `cut` names what was far too much to be read.
    """

    path: str
    locations: Mapping[KeyPath, Location]
    names: Mapping[str, tuple[str, ...]]
    left_out: frozenset[tuple[str, str]]
    problems: list[Problem] = field(default_factory=list)
    not_kept: int = 0
    compared: int = 0
    refused: int = 0
    cut: list[str] = field(default_factory=list)
    lost: dict[tuple[str, str], list[KeyPath]] = field(default_factory=dict)
    listed: set[str] = field(default_factory=set)  # names that are not there, where a list of them may stand
    others: dict[tuple[str, str], str] = field(default_factory=dict)  # tables that would have done as well

    def place(self, at: KeyPath) -> Place:
        """Where a key or item stands; the nearest table around it when it has no place of its own."""
        while at and at not in self.locations:
            at = at[:-1]
        here = self.locations.get(at)
        return here.place(self.path) if here else Place(path=self.path)

    def written(self, at: KeyPath) -> str:
        """The value as it stands in the file, on one line and capped."""
        here = self.locations.get(at)
        return "" if here is None else quote_word(here.words)[1:-1]

    def error(self, at: KeyPath, what: str, mend: str = "", check: str = "") -> None:
        self.refused += 1
        if len(self.problems) < PROBLEMS_KEPT:
            self.problems.append(make_error(self.place(at), what, mend, check))
        else:
            self.not_kept += 1

    def suggest(self, word: str, known: tuple[str, ...]) -> str:
        """`did you mean "x"?`, or nothing; nothing for very long words, and once very many were compared."""
        self.compared += len(known)
        if len(word) > SUGGESTED_MOST or self.compared > COMPARED_MOST:
            return ""
        return suggest(word, known)

    def is_known(self, table: str, name: str, at: KeyPath, other: str = "", *, is_one: bool = True) -> bool:
        """Whether the table, or the other, has such an entry; when not, it is noted. `is_one`: where one name stands."""
        if name in self.names.get(table, ()) or name in self.names.get(other, ()):
            return True
        self.refused += 1
        if table in self.names and {(table, name), (other, name)}.isdisjoint(self.left_out):
            self.lost.setdefault((table, name), []).append(at)
            self.others[table, name] = other
            self.listed |= set() if is_one else {name}
        return False

    def close(self) -> tuple[Problem, ...]:
        """All problems in the order of the file; after the first 200 one that counts the rest."""
        for (table, name), places in self.lost.items():
            self._report_lost(table, name, sorted(places, key=lambda at: self.place(at).line))
        problems = sort_problems(self.problems)
        rest = len(problems) - PROBLEMS_LISTED + self.not_kept
        if rest <= 1:
            return problems
        first = problems[PROBLEMS_LISTED].place
        place = Place(path=first.path, line=first.line, column=first.column)
        what = f"{rest} more problems, from this line on or elsewhere, are not listed"
        return (*problems[:PROBLEMS_LISTED], make_error(place, what, "mend those above and check again"))

    def _part_names(self, name: str, known: tuple[str, ...]) -> str:
        """What mends several names in one pair of quotes, where a list may stand; nothing for one name."""
        parts = [part for part in re.split(r"\s*,\s*|\s+and\s+|\s+", name) if part]
        if len(parts) < 2 or name not in self.listed or not any(part in known for part in parts):
            return ""
        return f"write each name in quotes of its own: [{', '.join(quote_word(part) for part in parts)}]"

    def _report_lost(self, table: str, name: str, places: list[KeyPath]) -> None:
        if len(self.problems) >= PROBLEMS_KEPT:
            self.not_kept += 1
            return
        other = self.others[table, name]
        names = (*self.names[table], *self.names.get(other, ()))
        several = self._part_names(name, names)
        mend = several or self.suggest(name, names)
        near = next((known for known in names if f'"{known}"' in mend), "")
        if near and not several and table != "steps" and not is_misspelt(name, near):
            mend = f"{mend} else add {name_table((table, name))}"
        if table == "steps":
            mend = mend or f"write name = {quote_word(name)} in the step that is meant"
        elif not names:
            mend = f"the spec has no {table}; add [{table}.NAME]"
        elif not mend:
            mend = f"{table} has {list_words((quote_word(known) for known in names), most=12)}"
        at = places[0]
        lines = [
            line for line in dict.fromkeys(self.place(each).line for each in places) if line != self.place(at).line
        ]
        here = name_key(at)
        there = "step of that name" if table == "steps" else name_table((table, name))
        there += f" or {name_table((other, name))}" if other else ""
        what = f"{here}{'' if here == name else f' = {quote_word(name)}'}, but there is no {there}"
        stands = next((word for word, held in self.names.items() if name in held), "")
        if stands and table != "steps":
            what += f': "{name}" is one of {stands}'
            mend = f"{table} has {list_words((quote_word(known) for known in names), most=12)}" if names else mend
        if lines:
            what += f" (the same on line{'s' if len(lines) > 1 else ''} {list_words(map(str, lines), most=8)})"
        self.error(at, what, mend, "name-not-there")
