"""Written lengths with arithmetic on named measures: text in, millimetres out.

Our own reader throughout; nothing is ever evaluated as Python. A value carries its dimension (0 plain number,
1 length, 2 area), so that "width * 2 in" is found out.
"""

import math
import re
from collections.abc import Mapping, Sequence
from typing import Literal

from docgen.classes import dataclass
from docgen.problems import shorten, suggest
from docgen.written.units.finding import list_names, make_unit_error
from docgen.written.units.lengths import LONGEST_MM, USE_A_UNIT, WORD, match_length
from docgen.written.units.numbers import WrittenError, check_comma, match_number

LONGEST_TEXT = 200
MOST_TOKENS = 60
DEEPEST = 20
MOST_IN_CIRCLE = 6

NAME = re.compile(r"[a-z][a-z0-9]*(?:-[a-z0-9]+)*(?:\.[a-z]+)?")
"""A measure, or a figure of something with a name, like "hide.thickness"."""
PI = "pi"
"""The number of that name, which no measure can have."""
OPERATORS = {"+": "+", "-": "-", "−": "-", "*": "*", "×": "*", "/": "/", "÷": "/", "(": "(", ")": ")"}
LIKE = 'write it like "3 1/2 in", "width" or "width - 2 * edge"'


@dataclass(frozen=True, slots=True, kw_only=True)
class Token:
    """One part of an expression: its kind, the words as written, and the value of a length (mm) or number."""

    kind: Literal["length", "number", "name", "operator"]
    words: str
    value: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Value:
    """A worked-out part: `mm ** power`."""

    number: float
    power: int


def evaluate_length(text: str, measures: Mapping[str, float]) -> float:
    """The length in mm that a written length, a measure, or arithmetic on them comes to.

    Raises WrittenError.
    """
    return evaluate_tokens(find_tokens(text), measures)


def find_names(text: str) -> tuple[str, ...]:
    """The measures that an expression names, each once, in order.

    Raises WrittenError when it cannot be read.
    """
    return tuple(dict.fromkeys(token.words for token in find_tokens(text) if token.kind == "name"))


def find_tokens(text: str) -> tuple[Token, ...]:
    """The parts of an expression; raises on one that is empty, too long, or has a part nobody can read."""
    if len(text) > LONGEST_TEXT:
        raise WrittenError(f"this is longer than {LONGEST_TEXT} letters", "give a part of it a name among the measures")
    clean = shorten(text, LONGEST_TEXT)
    if not clean:
        raise WrittenError("nothing is written here", LIKE)
    check_comma(clean)
    tokens: list[Token] = []
    position = 0
    while position < len(clean):
        if clean[position] == " ":
            position += 1
            continue
        token, position = read_token(clean, position)
        tokens.append(token)
        if len(tokens) > MOST_TOKENS:
            mend = "give a part of it a name among the measures"
            raise WrittenError(f"this has more than {MOST_TOKENS} parts", mend)
    return tuple(tokens)


def read_token(text: str, start: int) -> tuple[Token, int]:
    """The part that stands at `start`, and where it ends. A number with a unit comes before anything else."""
    length = match_length(text, start)
    if length:
        return Token(kind="length", words=text[start : length[1]], value=length[0]), length[1]
    number = match_number(text, start)
    if number:
        check_word_behind(text, start, number[1])
        return Token(kind="number", words=text[start : number[1]], value=float(number[0])), number[1]
    name = NAME.match(text, start)
    if name and name[0] == PI:
        return Token(kind="number", words=PI, value=math.pi), name.end()
    if name:
        return Token(kind="name", words=name[0]), name.end()
    if text[start] in OPERATORS:
        return Token(kind="operator", words=OPERATORS[text[start]]), start + 1
    raise make_unread_error(text, start)


def check_word_behind(text: str, start: int, end: int) -> None:
    """Raises when a word follows a number: a unit nobody knows, or a measure without its times sign."""
    word = WORD.match(text, end)
    if word:
        number = text[start:end].strip()
        raise make_measure_error(number, word[1])


def make_measure_error(number: str, word: str) -> WrittenError:
    """The error for a word behind a number that may be meant for a measure."""
    error = make_unit_error("length", word, USE_A_UNIT)
    if error.mend != USE_A_UNIT or not NAME.fullmatch(word) or "measures" in error.what:
        return error
    return WrittenError(error.what, f'{USE_A_UNIT}; for a measure write "{number} * {word}"')


def make_unread_error(text: str, start: int) -> WrittenError:
    """The error for a letter that begins nothing: a capital in a name, or a sign that is not arithmetic."""
    word = re.compile(r"\w[\w-]*").match(text, start)
    if word and NAME.fullmatch(word[0].lower()):
        return WrittenError(f'"{word[0]}" is not a measure\'s name', f'write it in small letters: "{word[0].lower()}"')
    return WrittenError(f'"{text[start]}" has no meaning in a length', LIKE)


def evaluate_tokens(tokens: Sequence[Token], measures: Mapping[str, float]) -> float:
    """The length in mm; raises when it is no length, or longer than 10 m either way."""
    if len(tokens) == 1 and tokens[0].kind == "number":
        return accept_bare_nought(tokens[0])
    for token in tokens:
        check_no_measure(token, measures)
    reader = Reader(tokens, measures)
    value = reader.read_sum(0)
    if reader.position < len(tokens):
        raise make_leftover_error(tokens[reader.position])
    if value.power != 1:
        words = describe_power(value.power)
        raise WrittenError(f"this comes to {words}, not a length", "check which parts have a unit")
    if abs(value.number) > LONGEST_MM:
        raise WrittenError("this comes to more than 10 m", "check the numbers and their units")
    return value.number


def check_no_measure(token: Token, measures: Mapping[str, float]) -> None:
    """Raises for "2 hand" where "hand" is a measure as well as a unit."""
    number, _, unit = token.words.strip().rpartition(" ")
    if token.kind == "length" and unit in measures:
        what = f'"{unit}" is a unit, and a measure too'
        raise WrittenError(what, f'for the measure write "{number} * {unit}", or give it another name')


def accept_bare_nought(token: Token) -> float:
    """0.0 for a nought; any other number alone lacks its unit."""
    if token.value == 0:
        return 0.0
    raise WrittenError(f"{token.words} has no unit", f'write "{token.words} in" or "{token.words} mm"')


def make_leftover_error(token: Token) -> WrittenError:
    """The error for a part where the expression should have ended."""
    if token.words == ")":
        return WrittenError("a bracket is closed that was never opened", 'take the ")" away, or open it with "("')
    return WrittenError(f'a sign is missing before "{token.words}"', "write + - * or / between the parts")


def describe_power(power: int) -> str:
    """Shop words for a dimension."""
    return {0: "a plain number", 1: "a length", 2: "an area", 3: "a volume"}.get(power, "something that is no measure")


@dataclass(slots=True, eq=False)
class Reader:
    """Reads the tokens from left to right, one method per rule: sum, product, part with sign, part."""

    tokens: Sequence[Token]
    measures: Mapping[str, float]
    position: int = 0

    def take(self, signs: str) -> str:
        """The sign that stands here, when it is one of these, and steps over it; else ""."""
        if self.position < len(self.tokens):
            token = self.tokens[self.position]
            if token.kind == "operator" and token.words in signs:
                self.position += 1
                return token.words
        return ""

    def read_sum(self, depth: int) -> Value:
        """Products, added and taken away."""
        value = self.read_product(depth)
        while sign := self.take("+-"):
            value = add_values(value, self.read_product(depth), sign)
        return value

    def read_product(self, depth: int) -> Value:
        """Parts, multiplied and divided."""
        value = self.read_signed(depth)
        while sign := self.take("*/"):
            value = multiply_values(value, self.read_signed(depth), sign)
        return value

    def read_signed(self, depth: int) -> Value:
        """A part with any number of minus signs before it."""
        factor = 1
        while self.take("-"):
            factor = -factor
        value = self.read_part(depth)
        return value if factor == 1 else Value(number=-value.number, power=value.power)

    def read_part(self, depth: int) -> Value:
        """A length, a number, a measure, or a sum in brackets."""
        if self.take("("):
            return self.read_brackets(depth + 1)
        if self.position == len(self.tokens):
            raise WrittenError("this ends where a length should follow", LIKE)
        token = self.tokens[self.position]
        if token.kind == "operator":
            raise WrittenError(f'a length is missing before "{token.words}"', LIKE)
        self.position += 1
        if token.kind == "name":
            if token.words not in self.measures:
                raise make_unknown_error(token.words, self.measures)
            return Value(number=self.measures[token.words], power=1)
        return Value(number=token.value, power=1 if token.kind == "length" else 0)

    def read_brackets(self, depth: int) -> Value:
        """A sum up to its closing bracket."""
        if depth > DEEPEST:
            mend = "give a part of it a name among the measures"
            raise WrittenError(f"more than {DEEPEST} brackets stand inside each other", mend)
        value = self.read_sum(depth)
        if self.take(")"):
            return value
        if self.position < len(self.tokens):
            raise make_leftover_error(self.tokens[self.position])
        raise WrittenError("a bracket is opened and never closed", 'close it with ")"')


def add_values(left: Value, right: Value, sign: str) -> Value:
    """Sum or difference of like with like."""
    if left.power != right.power:
        verb = "be added to" if sign == "+" else "be taken from"
        what = f"{describe_power(right.power)} cannot {verb} {describe_power(left.power)}"
        raise WrittenError(what, 'give every part its unit, like "width + 2 in"')
    return check_value(left.number + right.number * (1 if sign == "+" else -1), left.power)


def multiply_values(left: Value, right: Value, sign: str) -> Value:
    """Product or quotient, with its dimension."""
    if sign == "*":
        return check_value(left.number * right.number, left.power + right.power)
    if right.number == 0:
        raise WrittenError("this divides by nothing", "check what stands after the /")
    return check_value(left.number / right.number, left.power - right.power)


def check_value(number: float, power: int) -> Value:
    """The value; raises when it grows out of all proportion, which also keeps infinity out."""
    if not math.isfinite(number) or abs(number) > 1e15:
        raise WrittenError("the numbers in this grow beyond all bounds", "check what is multiplied and divided")
    return Value(number=number, power=power)


def make_unknown_error(name: str, known: Mapping[str, object]) -> WrittenError:
    """The error for a name that is no measure."""
    what = f'unknown measure "{name}"'
    spaced = find_minus(name, known)
    if spaced:
        return WrittenError(what, f'write spaces round the minus: "{spaced}"')
    near, own = suggest(name, known), f'{name} = "..." under [measures]'
    if near and "." in name:  # a figure of something that has a name, which no measure can be
        return WrittenError(what, near)
    return WrittenError(what, f"{near} Else add it: {own}" if near else f"add it: {own}")


def find_minus(name: str, known: Mapping[str, object]) -> str:
    """The name parted at a hyphen into a measure and another, or a number: "a - b"; "" when it cannot be."""
    parts = name.split("-")
    for cut in range(1, len(parts)):
        left, right = "-".join(parts[:cut]), "-".join(parts[cut:])
        if left in known and (right in known or right.isdigit()):
            return f"{left} - {right}"
    return ""


Failures = tuple[tuple[str, WrittenError], ...]


def resolve_measures(written: Sequence[tuple[str, str]]) -> tuple[dict[str, float], Failures]:
    """All measures in mm, whatever their order, and the ones that failed, each with its error.

    A measure that only rests on a failed one is in neither: it has no fault of its own.
    """
    failures: dict[str, WrittenError] = {}
    tokens: dict[str, tuple[Token, ...]] = {}
    for name, text in written:
        try:
            check_name(name)
            tokens[name] = find_tokens(text)
        except WrittenError as error:
            failures[name] = error
    needs = {name: needed_names(parts) for name, parts in tokens.items()}
    known = dict.fromkeys(name for name, _ in written)
    for name, names in needs.items():
        unknown = next((other for other in names if other not in known), None)
        if unknown is not None:
            failures[name] = make_unknown_error(unknown, known)
    order, circles = find_order(needs)
    failures.update((circle[0], make_circle_error(circle)) for circle in circles)
    values = evaluate_in_order(order, tokens, needs, failures)
    return values, tuple((name, failures[name]) for name in known if name in failures)


def needed_names(tokens: Sequence[Token]) -> tuple[str, ...]:
    """The measures that the tokens name, each once."""
    return tuple(dict.fromkeys(token.words for token in tokens if token.kind == "name"))


def evaluate_in_order(
    order: Sequence[str],
    tokens: Mapping[str, Sequence[Token]],
    needs: Mapping[str, Sequence[str]],
    failures: dict[str, WrittenError],
) -> dict[str, float]:
    """The measures whose every need is met, in mm; adds to `failures` those that fail in working out."""
    resolved: dict[str, float] = {}
    for name in order:
        if name in failures or any(other not in resolved for other in needs[name]):
            continue
        try:
            resolved[name] = evaluate_tokens(tokens[name], resolved)
        except WrittenError as error:
            failures[name] = error
    return resolved


def check_name(name: str) -> None:
    """Raises for a name that no expression could use, or that means a unit or an open length."""
    if name in list_names("length") or name in ("solve", PI):
        raise WrittenError(f'"{name}" already means something else', "give this measure another name")
    if not NAME.fullmatch(name):
        what = f'"{shorten(name, 40)}" cannot be a measure\'s name'
        raise WrittenError(what, "use small letters, digits and single hyphens, a letter first")


def find_order(needs: Mapping[str, Sequence[str]]) -> tuple[list[str], list[tuple[str, ...]]]:
    """An order in which every name comes after those it needs, and the circles found, as (a, b, a).

    Walks with its own stack, so that a long chain cannot overflow Python's.
    """
    order: list[str] = []
    circles: list[tuple[str, ...]] = []
    done: set[str] = set()
    for first in needs:
        path: dict[str, int] = {} if first in done else {first: 0}
        while path:
            name, step = path.popitem()
            names = needs.get(name, ())
            if step == len(names):
                done.add(name)
                order.append(name)
                continue
            path[name] = step + 1
            other = names[step]
            if other in path:
                walked = list(path)
                circles.append((*walked[walked.index(other) :], other))
            elif other in needs and other not in done:
                path[other] = 0
    return order, circles


def make_circle_error(circle: Sequence[str]) -> WrittenError:
    """The error for measures that wait for each other."""
    names = list(circle)
    if len(names) > MOST_IN_CIRCLE:
        names = [*names[: MOST_IN_CIRCLE - 2], "...", names[-1]]
    what = f"goes round in a circle: {' -> '.join(names)}"
    return WrittenError(what, "give one of them a length of its own")
