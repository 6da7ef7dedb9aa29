"""Written values -> numbers, with every failure noted at its place and nothing raised."""

from collections.abc import Callable, Collection, Mapping
from typing import Any, TypeVar

from docgen.classes import dataclass
from docgen.problems import Place, Problem, is_misspelt, make_error, suggest_two
from docgen.read import Flag, Length, NamedLength, Names, Spec, Text
from docgen.resolve.figures import list_figures, resolve_all
from docgen.tables.defaults import SHOW
from docgen.tables.sizes import MOST_WASTE, Sizes
from docgen.written.measures import evaluate_length, find_names
from docgen.written.units.lengths import parse_percent, parse_pitch, parse_thickness
from docgen.written.units.numbers import WrittenError
from docgen.written.units.telling import Show, format_fine, format_mm

T = TypeVar("T")
OPEN = "solve"
OPEN_MEND = f'only one whole size of a rectangle or strip may be "{OPEN}"; write a length'
THICKEST_LAYER_MM = 50.0
TENTHS = 1  # places after the point that a gauge shows
TINY_MM = 1e-6


@dataclass(slots=True, eq=False)
class Reader:
    """Reads written values with the measures of one spec, and gathers what goes wrong."""

    measures: Mapping[str, float]
    problems: list[Problem]
    unreadable: frozenset[str] = frozenset()  # measures already noted as wrong: what uses them stays silent
    left_out: frozenset[str] = frozenset()  # names of entries already noted as wrong

    def error(self, place: Place, what: str, mend: str = "", check: str = "", at: str = "") -> None:
        """Note a problem that stops the build."""
        self.problems.append(make_error(place, what, mend, check, at))

    def is_noted(self, place: Place) -> bool:
        """True when an error at exactly this place has been noted already."""
        return any(problem.place == place and problem.severity == "error" for problem in self.problems)

    def read(self, value: Text, parse: Callable[[str], T]) -> T | None:
        """`parse` of the words; None when left out, or when they cannot be read (noted)."""
        try:
            return None if value is None else parse(value.value)
        except WrittenError as error:
            assert value is not None
            self.error(value.place, error.what, error.mend)
            return None

    def amount(self, value: Text, parse: Callable[[str], float]) -> float:
        """A figure; 0 where none is written, or none that can be read (noted)."""
        return self.read(value, parse) or 0.0

    def any_length(self, value: Length) -> float | None:
        """A length in mm, of either sign; None when left out or wrong."""
        return self.read(value, self._parse_length)

    def _parse_length(self, words: str) -> float | None:
        """The length; None, without a word, for one that hangs on a measure noted as wrong."""
        names = find_names(words)
        if not self.unreadable.isdisjoint(names):
            return None
        if OPEN in names:
            raise WrittenError(f'"{OPEN}" cannot stand here', OPEN_MEND)
        return evaluate_length(words, self.measures)

    def length(self, value: Length, *, zero: bool = False) -> float | None:
        """A length in mm that is more than nothing (or nothing, with `zero`)."""
        length_mm = self.any_length(value)
        if value is None or length_mm is None:
            return None
        if length_mm < 0 or (length_mm == 0 and not zero):
            self.error(value.place, f"this comes to {_signed(length_mm)}", "a size must be more than nothing")
            return None
        return length_mm

    def size(self, value: Length, sizes: Sizes) -> float | None:
        """A length in mm that can be meant for such a thing; None when left out or wrong (noted)."""
        return self._within(value, self.length(value), sizes)

    def thickness_within(self, value: Length, sizes: Sizes) -> float | None:
        """A thickness in mm that can be meant for such a thing; None when left out or wrong (noted)."""
        return self._within(value, self.thickness(value), sizes)

    def _within(self, value: Length, length_mm: float | None, sizes: Sizes) -> float | None:
        if value is None or length_mm is None:
            return None
        if length_mm < sizes.least_mm - TINY_MM:
            limit = f"{format_mm(sizes.least_mm)} or more"
        elif length_mm > sizes.most_mm + TINY_MM:
            limit = f"{format_mm(sizes.most_mm)} or less"
        else:
            return length_mm
        what = f"this comes to {_signed(length_mm)}, and {sizes.what} is {limit}"
        self.error(value.place, what, "look at the number and its unit")
        return None

    def thickness(self, value: Length, *, zero: bool = False) -> float | None:
        """A thickness in mm (or nothing, with `zero`); measures and arithmetic on them will do as well. One in ounces or
        inches counts in whole tenths of a mm, as a gauge reads it, so that layers on paper add up to their sum."""
        thickness_mm = self.read(value, self._parse_thickness)
        if value is None or thickness_mm is None:
            return None
        if not 0 <= thickness_mm <= THICKEST_LAYER_MM or (thickness_mm == 0 and not zero):
            what = f"a thickness of {_signed(thickness_mm)} cannot be"
            self.error(value.place, what, f"write a thickness up to {THICKEST_LAYER_MM:g} mm")
            return None
        return thickness_mm

    def _parse_thickness(self, words: str) -> float | None:
        try:
            thickness_mm = parse_thickness(words)
            return thickness_mm if words.endswith("mm") else round(thickness_mm, TENTHS) or thickness_mm
        except WrittenError:
            # Ounces are no length, so that only words with a measure in them are read as arithmetic.
            if self._has_measure(words):
                return self._parse_length(words)
            raise

    def _has_measure(self, words: str) -> bool:
        return any(name in self.measures or name in self.unreadable for name in _names_in(words))

    def pitch(self, value: Text) -> float | None:
        """Length of one stitch in mm."""
        return self.read(value, parse_pitch)

    def percent(self, value: Text, default: float) -> float:
        """A share from 0 to what may be lost of a hide or roll."""
        share = self.read(value, parse_percent)
        if value is not None and share is not None and share > MOST_WASTE:
            left = f"more than {MOST_WASTE:.0%} lost leaves hardly anything to cut"
            self.error(value.place, left.replace("%", " %"), 'write the share of the whole that is lost: "25 %"')
            return default
        return default if share is None else share


def read_measures(spec: Spec, problems: list[Problem]) -> Reader:
    """A reader that knows the spec's measures, and the figures of what it names ("hide.thickness"); wrong measures are
    noted."""
    values, failures = resolve_all(spec)
    lengths, figures = {item.name: item.length for item in spec.measures}, list_figures(spec)
    unreadable = frozenset(name for name in (*lengths, *figures) if name not in values)
    noted = {problem.place for problem in problems}
    for name, error in failures:
        value = lengths.get(name) or figures[name]
        if name in figures and unreadable.isdisjoint(_names_in(value.value)):
            continue  # told where it is read
        if value.place in noted and not value.value:
            continue  # wrong already as it was read
        if value.value.strip() != OPEN:  # an open measure is judged by the seams
            problems.append(make_error(value.place, error.what, error.mend))
    return Reader(values, problems, unreadable, frozenset(name for _, name in spec.left_out))


def _names_in(text: str) -> tuple[str, ...]:
    try:
        return find_names(text)
    except WrittenError:
        return ()


def find_open_measures(spec: Spec) -> tuple[NamedLength, ...]:
    """The measures that a seam has to give."""
    return tuple(item for item in spec.measures if item.length.value.strip() == OPEN)


def list_part_names(spec: Spec) -> tuple[str, ...]:
    """All that can be sewn or gone through, by the one word that names it."""
    return tuple(entry.name for entries in (spec.pieces, spec.joins, spec.straps) for entry in entries)


def refuse_part(reader: Reader, place: Place, name: str, known: Collection[str]) -> None:
    """Note a part that is not there; not one that is noted where it stands."""
    if name in reader.left_out:
        return
    mend = suggest_two(name.lower(), known) or "name a piece, a join or a strap"
    part, _, number = name.rpartition(" ")
    if part in known and number.isdigit():
        mend = f'write "{part}": which copy of it is told by a seam alone, elsewhere they follow in their order'
    elif mend.startswith("did") and not any(is_misspelt(name.lower(), one) for one in known):
        mend += f" else add what is called so, as [pieces.{name}]"
    reader.error(place, f'there is no piece, join or strap "{name}"', mend)


def words(value: Text, default: str = "") -> str:
    """The words, or a default where nothing was written."""
    return default if value is None else value.value


def flag(value: Flag, default: bool) -> bool:
    """What is said, or a default where nothing was."""
    return default if value is None else value.value


def names(values: Names) -> tuple[str, ...]:
    """The words of a list."""
    return tuple(value.value for value in values)


def where(written: Any) -> Place | None:
    """Where a key is written, a list by its first item; None where it is left out."""
    first = written[0] if isinstance(written, tuple) and written else written
    if isinstance(first, NamedLength):
        return first.length.place
    return first.place if first else None


def read_show(spec: Spec) -> Show:
    """The unit that stands first."""
    return "mm" if words(spec.spec.show if spec.spec else None, SHOW) == "mm" else "in"


def _signed(length_mm: float) -> str:
    return f"{format_fine(length_mm, 2)} mm"
