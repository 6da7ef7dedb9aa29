"""Correct changes of correct builds, of which nothing may be said: measures within the range that stands beside them, and
what makers change by hand."""

import re
from collections.abc import Iterator

RANGE_RE = re.compile(r'(?m)^([a-z-]+)(\s*= )"([^"]+)"(\s*#.*?)(\d[\d /.]*) (in|mm) to (\d[\d /.]*) (in|mm)\s*$')

# Build, words that stand there, words in their place, and why that is as right. Of words that stand more than once the
# first are meant.
CHANGES: tuple[tuple[str, str, str, str], ...] = (
    ("field-bag", "makes   = 1", "makes   = 3", "a batch"),
    ("field-bag", "count  = 14", "count  = 17", "three rivets to spare"),
    ("field-bag", 'pitch   = "6 per inch"', 'pitch   = "7 per inch"', "a finer stitch"),
    ("field-bag", 'thickness = "0.6 mm"', 'thickness = "0.8 mm"', "a heavier cloth"),
    ("field-bag", 'tip = "3 1/2 in"', 'tip = "4 in"', "a longer tip"),
    ("field-bag", 'wears   = "44 in"', 'wears   = "48 in"', "a longer strap"),
    ("field-bag", 'note   = "Both rows lie in the skived overlap."\n', "", "a note less"),
    ("field-bag", "minutes = 45", "minutes = 60", "a slower hand"),
    ("field-bag", 'finish = "nickel-plated"', 'finish = "solid brass"', "another metal"),
    ("field-bag", 'count = 7, pitch = "1 in"', 'count = 5, pitch = "1 in"', "fewer holes"),
    ("field-bag", 'size    = ["8 in", "4 3/4 in"]', 'size    = ["7 1/2 in", "4 1/2 in"]', "a smaller pocket"),
    (
        "field-bag",
        '[[holds]]\nwhat = "field notebook"\nsize = ["5 in", "8 in", "5/8 in"]\n',
        "",
        "one thing less to hold",
    ),
    ("field-bag", 'title   = "Front panel"', 'title   = "Front"', "other words"),
    ("field-bag", "rows    = 2", "rows    = 3", "a row more in the joints"),
    ("field-bag", 'show    = "in"', 'show    = "mm"', "mm first"),
    ("notebook-sleeve", "makes", "# a sleeve\nmakes", "a remark"),
    ("bag", "makes   = 1", "makes   = 4", "a batch"),
    ("bag", "count  = 5", "count  = 6", "a rivet to spare"),
    ("bag", 'thickness = "4-5 oz"', 'thickness = "2 mm"', "leather named in mm"),
    ("bag", 'pitch   = "7 per inch"', 'pitch   = "6 per inch"', "a longer stitch"),
    ("bag", 'round = { bottom-left = "1/4 in", bottom-right = "1/4 in" }\n', "", "tabs with square corners"),
    ("bag", 'note   = "Let the cement dry until it is no longer wet to the touch."', "minutes = 20", "time for a note"),
    ("bag", 'wears   = "40 in"', 'wears   = "44 in"', "a longer strap"),
    ("bag", 'size    = ["depth", "7 in"]', 'size    = ["depth", "6 in"]', "the joints of the gusset higher up"),
    ("bag", 'waste     = "30 %"', 'waste     = "25 %"', "a better hide"),
    ("bag", 'finish = "solid brass"', 'finish = "nickel-plated"', "another metal"),
    ("bag", 'finished = "12 in"', 'finished = "10 in"', "a shorter buckle part"),
    ("satchel", '"button stud, 8 mm"', '"button stud, 9 mm"', "a larger stud"),
    ("satchel", 'thickness = "5 oz"', 'thickness = "6 oz"', "stouter leather"),
    ("satchel", "makes   = 1", "makes   = 2", "a batch"),
    (
        "satchel",
        'do    = "Sew the gusset to the front, then to the back."\nseams = ["front", "back"]',
        'do    = "Sew the gusset to the back, then to the front."\nseams = ["back", "front"]',
        "the back first",
    ),
    ("wallet", 'pitch   = "3 mm"', 'pitch   = "3.4 mm"', "a longer stitch"),
    ("wallet", 'round = "5 mm"', 'round = "4 mm"', "sharper corners"),
    ("wallet", 'tools  = ["edge beveller", "bone folder"]', 'tools  = ["edge beveller"]', "a tool less"),
    ("duffel", "count  = 4", "count  = 5", "a rivet to spare"),
    ("duffel", 'pitch   = "6 per inch"', 'pitch   = "7 per inch"', "a finer stitch"),
    (
        "duffel",
        'do    = "Sew one end into the body, then the other."\nseams = ["left", "right"]',
        'do    = "Sew one end into the body, then the other."\nseams = ["right", "left"]',
        "the right end first",
    ),
    ("tote", "count  = 4", "count  = 6", "two rivets to spare"),
    ("lead", "count  = 4", "count  = 5", "a rivet to spare"),
    ("belt", "makes   = 1", "makes   = 12", "a batch"),
    ("strap", "makes   = 1", "makes   = 5", "a batch"),
    ("sleeve", "makes   = 1", "makes   = 5", "a batch"),
)


def right_changes(build: str, text: str) -> Iterator[tuple[str, str]]:
    """What is changed, and the text with it: measures a third and two thirds of the way through their range, then the
    changes by hand whose words stand there."""
    for match in RANGE_RE.finditer(text):
        low, high, unit = _number(match[5]), _number(match[7]), match[6]
        step = 0.25 if unit == "in" else 1.0
        for share in (1 / 3, 2 / 3):
            value = f"{round((low + share * (high - low)) / step) * step:g} {unit}"
            if value != match[3]:
                new = text[: match.start(3)] + value + text[match.end(3) :]
                yield f"{match[1]}: {match[3]} -> {value}", new
    for name, was, now, why in CHANGES:
        if name == build and was in text:
            yield f"{why}: {was} -> {now}", text.replace(was, now, 1)


def _number(figure: str) -> float:
    parts = (part.partition("/") for part in figure.strip().split(" "))
    return sum(int(a) / int(b) if b else float(a) for a, _, b in parts)
