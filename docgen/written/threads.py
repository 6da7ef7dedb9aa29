"""Sizes of thread and needle as they are written: words in, Tex and metric numbers out."""

import re
from typing import Literal

from docgen.classes import dataclass
from docgen.tables.thread import TICKET_TO_V, V_TO_DENIER, find_label, thread_tex, ticket_tex
from docgen.written.units.numbers import WrittenError, check_text

THREAD = re.compile(
    r"(?P<by>tex|tkt\.?|ticket|v-?) *(?P<number>[0-9]{1,4}(?:\.[0-9]{1,3})?)(?![0-9.])[ ,;]*(?P<words>.*)", re.I
)
BY_THICKNESS = re.compile(r"(?P<mm>[0-9]{1,3}(?:\.[0-9]{1,2})?) *mm[ ,;]+(?P<words>\D.*)", re.I)
NEEDLE = re.compile(r"(?:nm *)?([0-9]{2,3})(?: */ *[0-9]{1,2})?", re.I)
LEAST_TEX, MOST_TEX = 5, 2000
LEAST_MM, MOST_MM = 0.2, 1.5  # hand threads are sold by their thickness, 0.35 to 1.2 mm

Fibre = Literal["nylon", "polyester", "linen", "cotton", ""]


@dataclass(frozen=True, slots=True, kw_only=True)
class Thread:
    """A thread: size in tex (grams per 1,000 m), the size as it is printed ("Tex 135", "V138 (Tex 135)"), the words
    after it, the fibre they name ("" for none)."""

    tex: float
    size: str
    words: str
    fibre: Fibre


def parse_thread(text: str) -> Thread:
    """A thread by Tex ("Tex 135 bonded nylon"), metric ticket ("Tkt 20 ...") or V number ("V138 ..."), Tex 5 to 2000; a
    hand thread also by its thickness ("0.8 mm waxed linen").

    Raises WrittenError.
    """
    like = 'write its Tex, ticket or V number first, like "Tex 135 bonded nylon" or "V138 bonded nylon"'
    clean = check_text(text, like)
    found = THREAD.fullmatch(clean)
    if by_mm := BY_THICKNESS.fullmatch(clean):
        return read_thickness(by_mm["mm"], by_mm["words"].strip())
    if found is None:
        raise WrittenError(f'"{clean}" does not say the size of the thread', like)
    words, number = found["words"].strip(), found["number"]
    if found["by"].lower() == "tex":
        tex, size = read_tex(number)
    elif found["by"].lower().startswith("v"):
        tex, size = read_v(number)
    else:
        tex, size = read_ticket(number, "bonded" in words.lower())
    return Thread(tex=tex, size=size, words=words, fibre=find_fibre(words))


def read_thickness(number: str, words: str) -> Thread:
    """A thread by the mm that it is thick, its Tex by estimate of a round one; raises outside 0.2 to 1.5 mm."""
    if not LEAST_MM <= float(number) <= MOST_MM:
        what = f"{number} mm is no thickness of sewing thread"
        raise WrittenError(what, f"write a thickness between {LEAST_MM} and {MOST_MM} mm")
    fibre = find_fibre(words)
    return Thread(tex=thread_tex(float(number), fibre), size=f"{number} mm", words=words, fibre=fibre)


def read_tex(number: str) -> tuple[float, str]:
    """Tex and printed size of a Tex number; raises outside 5 to 2000."""
    tex = float(number)
    if not LEAST_TEX <= tex <= MOST_TEX:
        what = f"Tex {number} is no size of sewing thread"
        raise WrittenError(what, f"write a Tex number between {LEAST_TEX} and {MOST_TEX}")
    return tex, f"Tex {tex:g}"


def read_ticket(number: str, is_bonded: bool) -> tuple[float, str]:
    """Tex and printed size of a metric ticket. Tickets of bonded thread are rounded: theirs stands in a table."""
    ticket = float(number)
    if not 3000 / MOST_TEX <= ticket <= 3000 / LEAST_TEX:
        raise WrittenError(f"Tkt {number} is no size of sewing thread", "write a ticket number between 2 and 600")
    tex = ticket_tex(ticket)
    if is_bonded and ticket in TICKET_TO_V:
        tex = V_TO_DENIER[TICKET_TO_V[int(ticket)]] / 9
    return tex, f"Tkt {ticket:g} (Tex {find_label(tex)})"


def read_v(number: str) -> tuple[float, str]:
    """Tex and printed size of a V number; raises for one that is not in the table."""
    denier = {str(v): denier for v, denier in V_TO_DENIER.items()}.get(number)
    if denier is None:
        listed = ", ".join(f"V{v}" for v in V_TO_DENIER)
        raise WrittenError(f"V{number} is not a V number known here", f"write its Tex number, or one of {listed}")
    return denier / 9, f"V{number} (Tex {find_label(denier / 9)})"


def find_fibre(words: str) -> Fibre:
    """The first fibre that the words name; "" when they name none. Polyamide is nylon."""
    fibres: tuple[Fibre, ...] = ("nylon", "polyester", "linen", "cotton")
    known: dict[str, Fibre] = {"polyamide": "nylon", **{fibre: fibre for fibre in fibres}}
    return next((known[word] for word in re.findall(r"[a-z]+", words.lower()) if word in known), "")


def parse_needle(text: str) -> int:
    """Metric size of a needle (blade in 1/100 mm) from "130/21" or "Nm 130". Raises WrittenError."""
    like = 'write the metric size, like "130/21" or "130"'
    clean = check_text(text, like)
    found = NEEDLE.fullmatch(clean)
    if found is None:
        raise WrittenError(f'"{clean}" cannot be read as a needle size', like)
    if not 60 <= int(found[1]) <= 300:
        raise WrittenError(f"{found[1]} is not a metric needle size (60 to 300)", like)
    return int(found[1])
