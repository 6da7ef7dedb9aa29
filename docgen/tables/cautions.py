"""Usual cautions for the tools and goods of a leather workshop, and the words that call for them.

Common practice, in our own words. They defer to the supplier's data sheet, the maker's manual, local codes
and licensed practice, and do not take their place. Where an authority stands behind one, it is named.
"""

import re
from functools import lru_cache

# id -> (title, sentences); in the order in which they are printed. The first sentence says what to do.
HAZARDS: dict[str, tuple[str, str]] = {
    "blade": (
        "Blade",
        "Cut away from the hand that holds the rule, on a mat, with a sharp blade. Close or sheathe it "
        "whenever you put it down; used blades go into a closed tin.",
    ),
    "punch": (
        "Punch",
        "Work on a solid block with a cutting board under the leather. Hold the punch low and look where "
        "the edge stands before you strike or squeeze.",
    ),
    "hammer": (
        "Striking",
        "Wear eye protection, and ear protection for long work. Use a mallet that suits the tool; do not "
        "strike hardened steel with a steel hammer.",
    ),
    # NIOSH 87-107, "Injuries and amputations resulting from work with mechanical power presses" (1987):
    # guard the point of operation, both hands on the controls.
    "press": (
        "Press",
        "Fingers stay clear of the ram; no hand goes in while it can move. Follow the maker's manual; "
        "guards and two-hand controls stay in use as your local code asks.",
    ),
    "needle": (
        "Sewing machine",
        "Keep fingers away from the needle and the moving parts. Switch off and wait for standstill before "
        "you thread, change the needle or clear a jam. Wear eye protection with heavy work.",
    ),
    "awl": (
        "Awl and hand needles",
        "Push the awl into cork or wood, never towards your hand. Count the needles before and after; "
        "cover points when you put them down.",
    ),
    # NIOSH Pocket Guide, n-hexane: flash point -22 C, and damage to nerves by breathing it over time.
    "solvent": (
        "Contact cement, solvents, dyes",
        "Work in moving fresh air, away from flames, sparks and heaters: vapours can harm and catch fire. "
        "Keep lids on. Gloves, breathing protection and waste: as the supplier's data sheet says.",
    ),
    "spray": (
        "Spray",
        "Spray outside or under an extractor made for it, away from any flame, spark or hot surface; do "
        "not breathe the mist. Follow the can and the supplier's data sheet.",
    ),
    "heat": (
        "Heat",
        "Hot tools burn long after they are switched off: keep them in their stand, away from whatever "
        "burns and from fresh cement or solvent. Melting thread gives off fumes; let fresh air in.",
    ),
    "dust": (
        "Dust and turning tools",
        "Wear eye protection and a dust mask, and draw the dust off. Tie back hair and sleeves, and wear "
        "no gloves near anything that turns.",
    ),
    # REACH, Annex XVII, entry 27: release of nickel from articles in long contact with the skin is limited.
    "nickel": (
        "Nickel",
        "Nickel can irritate skin: keep such parts away from places that lie against it for long. Ask the "
        "supplier for a statement of release.",
    ),
}

# What stands at a step, in one line: the hazard is named in front of it, and the whole stands on the first page.
AT_STEP: dict[str, str] = {
    "blade": "cut away from your hands",
    "punch": "solid block and board beneath",
    "hammer": "eye protection on",
    "press": "fingers clear of the ram",
    "needle": "fingers clear of the needle",
    "awl": "never push towards your hand",
    "solvent": "fresh air, no flame",
    "spray": "outside or under an extractor, no flame",
    "heat": "hot long after it is off; nothing that burns near it",
    "dust": "eye protection and dust mask on",
    "nickel": "not against bare skin",
}

# Words in the name of a tool or consumable, in lower case, with commas between; a plural is found by its singular.
HAZARD_WORDS = {
    "blade": (
        "knife, knives, blade, rotary cutter, cutter, skiver, splitter, scissors, shears, snips, scalpel, "
        "edge beveller, edge beveler, beveller, beveler, plough gauge, plow gauge, strap cutter, french edger, "
        "groover, seam ripper, draw gauge"
    ),
    "punch": (
        "punch, hole punch, strap end punch, rotary punch, pricking iron, stitching chisel, diamond chisel, chisel"
    ),
    "hammer": "hammer, mallet, maul, rivet setter, snap setter, eyelet setter, setter, anvil",
    "press": "press, arbor press, clicker, clicking press, hand press, hydraulic press, clicker die, cutting die",
    "needle": (
        "sewing machine, stitcher, stitching machine, machine needle, cylinder arm machine, flat bed machine, "
        "post bed machine, walking foot machine"
    ),
    "awl": "awl, needle, hand needle, harness needle, saddler's needle, glover's needle",
    "solvent": (
        "contact cement, contact adhesive, rubber cement, cement, solvent, thinner, acetone, deglazer, spirit dye, "
        "leather dye, dye, lacquer, mineral spirits, white spirit, alcohol"
    ),
    "spray": (
        "spray adhesive, spray glue, aerosol, spray can, airbrush, spray finish, spray lacquer, waterproofing spray"
    ),
    "heat": (
        "hot creaser, electric creaser, lighter, heat gun, torch, thread burner, thread melter, soldering iron, "
        "branding iron, glue gun, hot glue, hot air gun, hot foil, edge iron, wax pot, flat iron, steam iron, "
        "alcohol lamp, candle, hot knife"
    ),
    "dust": (
        "electric burnisher, sander, belt sander, drum sander, sandpaper, sanding block, grinder, bell skiver, "
        "skiving machine, rotary tool, burnishing machine, drill"
    ),
    "nickel": "nickel, nickel plated",
}

# "Press its edges under" is done by hand: what follows a word that is no press. Common practice, no published source.
PRESSED_RE = (
    r"(?i)(?<!\bthe )(?<!\ba )(?<!arbor )(?<!hand )(?<!hydraulic )(?<!clicking )\bpress\b"
    r"(?=,? (?:a|all|along|and|both|down|each|every|firmly|flat|hard|in|it|its|on|open|out|over|that|the|them|to|together|"
    r"under|well)\b)"
)

# Kinds of hardware that are set by striking -> the word for their setter: the last of the kind's own.
_STRUCK = ("rivet", "tubular-rivet", "copper-rivet", "snap", "eyelet")
STRUCK_TO_SETTER = {kind: kind.split("-")[-1] for kind in _STRUCK}

WORDS_TO_HAZARDS = {phrase: hazard for hazard, words in HAZARD_WORDS.items() for phrase in words.split(", ")}


def find_hazards(words: str) -> tuple[str, ...]:
    """Ids of the hazards that the words call for, each once, in the order of `HAZARDS`; whole words only."""
    spaced = _space_words(words)
    found = {hazard for phrase, hazard in WORDS_TO_HAZARDS.items() if phrase in spaced and _is_whole(spaced, phrase)}
    return tuple(hazard for hazard in HAZARDS if hazard in found)


def find_said_hazards(words: str) -> tuple[str, ...]:
    """Ids of the hazards that a sentence calls for, in which what is pressed by hand is no press."""
    return find_hazards(re.sub(PRESSED_RE, "", words))


def has_phrase(words: str, phrase: str) -> bool:
    """True when the phrase, or its plural, stands in the words; a hyphen counts as a space."""
    spaced = _space_words(words)
    return phrase in spaced and _is_whole(spaced, phrase)


def _is_whole(spaced: str, phrase: str) -> bool:
    return any(f" {phrase}{ending} " in spaced for ending in ("", "s", "es"))


@lru_cache(maxsize=256)
def _space_words(words: str) -> str:
    return " " + " ".join(re.findall(r"[a-z']+", words.lower())) + " "
