"""How long glues, dyes and finishes are left before the work goes on, by the words in a step's tools.

Ranges over what our sources say. Where those differ, or the figure is only practice, the sheet says "see the tin":
the maker's own figure comes first.
"""

from docgen.classes import dataclass
from docgen.tables.cautions import has_phrase


@dataclass(frozen=True, slots=True)
class Wait:
    """From `least_min` to `most_min` minutes; `until` tells what is waited for; `is_agreed` when sources agree."""

    least_min: float
    most_min: float
    until: str
    is_agreed: bool = False


TOUCH = "until dry to the touch"

# Words in the name of a tool or consumable, in lower case -> how long to wait; longer words come before shorter ones
# that are part of them.
#
# Contact cement. Solvent-borne 15 to 30: winenfood.com and perryspowerhouse.com, "How long does contact cement take to
# dry" (both secondary, and they agree). Waterborne: 30 to 40 in a technical bulletin for waterborne polychloroprene
# cement (studylib.net/doc/18538479), 30 to 45 on winenfood.com, 60 to 120 on perryspowerhouse.com: they differ. A
# cement whose kind is not named spans both.
# White glue: tack-free in 15 to 30, full strength in 18 to 24 h, gluesavior.com, "How long does PVA glue take to dry on
# cardboard" (for cardboard; one secondary source).
# Leather paint: 15 to 30 a coat, community.internationalleatherclub.com, thread 833 (one secondary source).
# Dye: 12 h or more on askvity.info, "How do you set dyed leather"; overnight in practice on bladeforums.com, thread
# 633561: both secondary. Spray adhesive: 10 seconds on art-design-glossary.musabi.ac.jp; minutes by trade practice: they
# differ. Rubber cement, edge paint, finish, hide glue: common practice, no published source.
ADHESIVE_TO_WAIT: dict[str, Wait] = {
    "water based contact cement": Wait(30, 120, TOUCH),
    "waterborne contact cement": Wait(30, 120, TOUCH),
    "solvent contact cement": Wait(15, 30, TOUCH, is_agreed=True),
    "solvent based contact cement": Wait(15, 30, TOUCH, is_agreed=True),
    "contact cement": Wait(15, 120, TOUCH),
    "contact adhesive": Wait(15, 120, TOUCH),
    "rubber cement": Wait(5, 15, TOUCH),
    "spray adhesive": Wait(10 / 60, 5, "until it is tacky, not wet"),
    "spray glue": Wait(10 / 60, 5, "until it is tacky, not wet"),
    "white glue": Wait(15, 30, "under weights, before you go on; at full strength after a day"),
    "pva glue": Wait(15, 30, "under weights, before you go on; at full strength after a day"),
    "hide glue": Wait(30, 720, "under weights, before you go on"),
    "leather paint": Wait(15, 30, "before the next coat"),
    "edge paint": Wait(30, 120, "before the next coat"),
    "edge dye": Wait(30, 720, "before you burnish or finish"),
    "dye": Wait(720, 1440, "before you finish or glue"),
    "finish": Wait(30, 1440, "before you go on"),
    "lacquer": Wait(30, 1440, "before you go on"),
}

# What ends in one of these only brings the glue or paint to the work. Common practice, no published source.
APPLICATORS = ("brush", "brushes", "spreader", "roller", "dauber", "daubers", "applicator", "pot", "scraper", "nozzle")

SEE_THE_TIN = "see the tin"
MINUTES_PER_HOUR = 60


def find_wait(words: str) -> Wait | None:
    """The wait that a tool or consumable asks for, None for others; the longest words that fit decide."""
    if words.lower().split()[-1:] and words.lower().split()[-1] in APPLICATORS:
        return None
    found = [phrase for phrase in ADHESIVE_TO_WAIT if has_phrase(words, phrase)]
    return ADHESIVE_TO_WAIT[max(found, key=len)] if found else None


def format_wait(wait: Wait) -> str:
    """`15 to 30 min, on both faces, until it is dry to the touch`; with "see the tin" where sources differ."""
    span = f"{_span_words(wait)}, {wait.until}"
    return span if wait.is_agreed else f"{span} ({SEE_THE_TIN})"


def _span_words(wait: Wait) -> str:
    if wait.least_min >= MINUTES_PER_HOUR:
        return f"{wait.least_min / MINUTES_PER_HOUR:g} to {wait.most_min / MINUTES_PER_HOUR:g} h"
    if wait.most_min > 2 * MINUTES_PER_HOUR:
        return f"{wait.least_min:g} min to {wait.most_min / MINUTES_PER_HOUR:g} h"
    if wait.least_min < 1:
        return f"{wait.least_min * 60:.0f} s to {wait.most_min:g} min"
    return f"{wait.least_min:g} to {wait.most_min:g} min"
