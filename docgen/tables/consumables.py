"""Which words in a step's tools name something that is used up."""

import re

# Words for goods that are used up, in lower case, as they end the name of a tool or consumable. Common practice; "glue
# brush" and "cement spreader" are tools, since the last word decides.
CONSUMABLE_WORDS = (
    *("adhesive", "cement", "glue", "tape", "dye", "stain", "paint", "finish"),
    *("wax", "beeswax", "oil", "balm", "conditioner", "gum", "burnisher liquid"),
    *("primer", "solvent", "thinner", "sandpaper", "paste", "spray", "blades", "thread lock", "threadlock"),
)
GLUE_WORDS = ("adhesive", "cement", "glue", "tape")  # of these, what holds parts until they are sewn
WORD = re.compile(r"[a-z]+")
SIZE_RE = r"[\s,(]*\d[\d./ ]*(mm|cm|m|in|g|ml)?( wide)?\)?$"  # behind the name, as in "tape 6 mm"


def is_consumable(words: str) -> bool:
    """Whether a tool named in a step is used up: its name ends in one of `CONSUMABLE_WORDS`."""
    name = " ".join(WORD.findall(re.sub(SIZE_RE, "", words.lower())))
    return any(name == word or name.endswith(f" {word}") for word in CONSUMABLE_WORDS)


def is_glue(words: str) -> bool:
    """Whether a tool named in a step holds parts together: its name ends in one of `GLUE_WORDS`."""
    name = WORD.findall(re.sub(SIZE_RE, "", words.lower()))
    return bool(name) and name[-1] in GLUE_WORDS
