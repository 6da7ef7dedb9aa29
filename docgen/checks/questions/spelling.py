"""Words that may be written freely and look misspelt: a colour, the axis of a range, what is done with cut edges. Each
is held against what stands under the same key elsewhere, and against the usual words."""

import re
from collections.abc import Iterator, Sequence
from typing import Final

from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject
from docgen.problems import is_misspelt
from docgen.read import Value

LEAST_LETTERS: Final = 4  # shorter words are near to too many others: our choice
VOWELS: Final = frozenset("aeiou")
LEAST_OF_SIDE: Final = 3
SIDE_WORDS: Final = frozenset({"left", "right", "bottom", "front", "back"})  # "top" is near to too many others
MOST_WORDS: Final = 200
WORD_RE: Final = re.compile(r"[a-z]+(?:-[a-z]+)*")
# Words in everyday use for what leather and thread are coloured, what a range is a choice of, what is done with edges.
COLOURS: Final = frozenset(
    WORD_RE.findall(
        "amber beige black blue bottle brandy bright brown burgundy charcoal cherry chestnut chocolate cognac copper cream "
        "dark forest gold golden graphite gray green grey honey ivory khaki light mahogany maroon mustard natural navy "
        "neutral ochre olive orange pale pink plum purple russet rust sand scarlet silver slate stone tan teal turquoise "
        "umber undyed violet walnut white wine yellow"
    )
)
AXES: Final = frozenset(
    WORD_RE.findall("color colour fittings hand height leather length lining material metal size width")
)
EDGES: Final = frozenset(
    WORD_RE.findall(
        "beveled bevelled bound burnished creased folded greased molded moulded overcast painted polished rounded sanded "
        "sealed stitched turned waxed woven"
    )
)
SIDE_LEFT: Final = re.compile(r"\b(?:right|top|bottom) (?=as cut\b|raw\b)")


@question
def ask_spelling(subject: Subject) -> Iterator[Question]:
    """Words for colours, axes and edges that look misspelt, and sides where what is done with edges stands."""
    goods = [*subject.spec.materials, *(item for one in subject.spec.variants for item in one.materials)]
    threads = [*subject.spec.stitches, *(item for one in subject.spec.variants for item in one.stitches)]
    colours = [value for value in (*(item.colour for item in goods), *(item.colour for item in threads)) if value]
    yield from _ask(colours, COLOURS)
    yield from _ask([item.axis for item in subject.spec.variants if item.axis], AXES)
    edges = [item.edges for item in subject.spec.materials if item.edges]
    yield from _ask(edges, EDGES)
    for value in edges:
        found = SIDE_LEFT.search(value.value)
        if found:
            what = f'"{value.value}" stands here for what is done with cut edges: a side of a piece, or "left"'
            yield Question(place=value.place, what=what, answer=f'write "{SIDE_LEFT.sub("left ", value.value)}"')


@question
def ask_edge_names(subject: Subject) -> Iterator[Question]:
    """Names of edges with a word that is a side's but for a slip of the pen."""
    for own in subject.spec.pieces:
        for point in own.points[:MOST_WORDS]:
            for word in point.edge.value.split("-") if point.edge else ():
                near = sorted(side for side in SIDE_WORDS if word not in SIDE_WORDS and is_misspelt(word, side))
                if point.edge and near and len(word) >= LEAST_OF_SIDE:
                    what = f'"{point.edge.value}" stands here for an edge: "{word}" is nearly "{near[0]}"'
                    answer = f'write "{near[0]}"; where it is a word of its own there is nothing to do'
                    yield Question(place=point.edge.place, what=what, answer=answer)


def _ask(values: Sequence[Value[str]], usual: frozenset[str]) -> Iterator[Question]:
    """Words that are no usual one, and but for one slip of the pen such a one, or one that stands there more often."""
    words = [(word, value) for value in values for word in WORD_RE.findall(value.value.lower())]
    often: dict[str, int] = {}
    for word, _ in words[:MOST_WORDS]:
        often[word] = often.get(word, 0) + 1
    for word, value in words[:MOST_WORDS]:
        is_short = len(word) < LEAST_LETTERS and not VOWELS.isdisjoint(word)
        if word in usual or is_short or len(word) < LEAST_OF_SIDE or often[word] > 1:
            continue
        known = usual | {one for one, times in often.items() if times > 1}
        near = sorted(one for one in known if len(one) > min(LEAST_LETTERS, len(word)) and is_misspelt(word, one))
        if near:
            what = f'"{word}" stands here, and "{near[0]}" is what is usual, or stands elsewhere'
            answer = f'write "{near[0]}"; where it is a word of its own there is nothing to do'
            yield Question(place=value.place, what=what, answer=answer)
