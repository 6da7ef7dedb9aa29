"""Figures for hardware: kinds, the words they are known by, posts and holes."""

import re
from typing import Literal

# By how much the flange of an eyelet is wider than its hole, in mm, where it is drawn: an estimate, for eyelets differ.
# Common practice, no published source.
EYELET_OVER_MM = 5.0

HARDWARE_KINDS = ("rivet", "tubular-rivet", "copper-rivet", "screw-post", "snap", "ring", "buckle", "eyelet", "other")

# Words in what an item is called -> its kind; the first that is found decides.
WORDS_TO_KIND = {
    "tubular rivet": "tubular-rivet",
    "single cap rivet": "tubular-rivet",
    "single-cap rivet": "tubular-rivet",
    "copper rivet": "copper-rivet",
    "rivet": "rivet",
    "screw post": "screw-post",
    "binding screw": "screw-post",
    "chicago screw": "screw-post",
    "snap hook": "other",  # a hook with a spring, for a ring
    "snap": "snap",
    "press stud": "snap",
    "eyelet": "eyelet",
    "grommet": "eyelet",
    "buckle": "buckle",
    "ring": "ring",
}

# Kind -> by how much the post is longer than the stack it goes through, from and to, in mm. All are common practice, no
# published source; the snap is from memory. A copper rivet is cut off above its burr, so that any longer one will do.
POST_OVER_STACK_MM: dict[str, tuple[float, float | None]] = {
    "rivet": (2.0, 3.0),
    "tubular-rivet": (3.0, 4.0),
    "copper-rivet": (2.5, None),
    "screw-post": (-0.5, 0.0),
    "snap": (2.0, 3.0),
}
# How far a post may miss these: leather gives under the setter. Common practice, no published source. A screw post is
# turned home by hand and has no setter: its half millimetre less is all it may miss.
POST_SLACK_MM = 0.5
# Of a copper rivet, what is left of its post over the burr, from and to, in mm: it is nipped there, and peened down. Its
# head is in sight. Common practice, no published source.
BURR_KIND = "copper-rivet"
OVER_BURR_MM = (1.5, 2.0)
# What is set on an anvil, which must lie behind it; and how far in a hand and an anvil on a block reach. Common practice,
# no published source.
KINDS_WITH_ANVIL = frozenset({"rivet", "tubular-rivet", "copper-rivet", "snap", "eyelet"})
SETTER_REACH_MM = 250.0
KINDS_WITHOUT_SETTER = frozenset({"screw-post"})
# Posts are named to a tenth of a mm: half of that is no difference.
SAME_POST_MM = 0.05

# Kind -> usual punch, from and to, in mm, where the spec does not say what hole the item needs. Common practice, no
# published source; sizes of posts differ with the maker. A range ends at punches that makers have: 3/16 in for the shank of
# a copper rivet no. 9, 5/32 in for a 4 mm screw post.
HOLE_BY_KIND_MM = {
    "rivet": (2.5, 4.8),
    "tubular-rivet": (3.0, 5.0),
    "copper-rivet": (2.5, 4.8),
    "screw-post": (3.9, 6.5),
    "snap": (3.0, 5.5),
}
# How far a punch may differ from the hole that the spec says an item needs. Common practice, no published source.
HOLE_SLACK_MM = 0.5

# Spares that may be counted with what the places take, of what can be spoiled when it is set. Our choice.
KINDS_THAT_SPOIL = frozenset({"rivet", "tubular-rivet", "copper-rivet", "snap", "eyelet"})
FEW_SPARES = 3
SPARES_PER_PLACE = 0.25


def count_spares(kind: str, places: int) -> int:
    """How many of a kind may be counted beyond those that so many places take."""
    if kind not in KINDS_THAT_SPOIL:
        return 0
    return max(FEW_SPARES, int(SPARES_PER_PLACE * places))


def count_wanted(kind: str, places: int) -> int:
    """How many more of a kind to have at hand than so many places take: one in ten, at least two. Common practice, no
    published source."""
    return max(2, -(-places // 10)) if kind in KINDS_THAT_SPOIL else 0


def find_kind(what: str) -> str:
    """The kind of hardware that its words name; "other" when they name none."""
    spaced = " ".join(re.findall(r"[a-z-]+", what.lower()))
    found = (kind for words, kind in WORDS_TO_KIND.items() if re.search(rf"\b{words}s?\b", spaced))
    return next(found, "other")


def find_post_mm(
    kind: str, stack_mm: float, own_over: tuple[float, float | None] | None = None
) -> tuple[float, float | None] | None:
    """The shortest and longest post for a stack, in mm, by the table or by a shop's own figures of what is added to it;
    no longest (None) where it is cut off; None for kinds without a post."""
    over = own_over or POST_OVER_STACK_MM.get(kind)
    if over is None:
        return None
    least, most = over
    return stack_mm + least, None if most is None else stack_mm + most


def find_slack_mm(kind: str) -> float:
    """How much shorter or longer than wanted a post of this kind may be, in mm."""
    return 0.0 if kind in KINDS_WITHOUT_SETTER else POST_SLACK_MM


def miss_post(wanted: tuple[float, float | None], post_mm: float, slack_mm: float = POST_SLACK_MM) -> int:
    """-1 for a post that is too short, 1 for one that is too long, 0 for one that will do: the one rule by which a post
    is chosen, and by which a drawer is told to lack one."""
    least, most = wanted
    if post_mm < least - slack_mm - SAME_POST_MM - 1e-9:
        return -1
    return int(most is not None and post_mm > most + slack_mm + SAME_POST_MM + 1e-9)


def choose_post(
    wanted: tuple[float, float | None], posts_mm: tuple[float, ...], slack_mm: float = POST_SLACK_MM
) -> float | None:
    """The post from the drawer that comes nearest to the middle of what is wanted, within the slack; None when none
    will do. Of posts that are cut off, the shortest that is long enough, and one that is hardly too short only where
    there is no other."""
    least, most = wanted
    good = [post for post in posts_mm if not miss_post(wanted, post, slack_mm)]
    if most is None:
        return min(good, key=lambda post: (post < least, post), default=None)
    return min(good, key=lambda post: (abs(post - (least + most) / 2), post), default=None)


# Words in what a half of a snap is called, that is bought by itself.
CAP_RE = re.compile(r"\b(cap|socket|female|top|upper)\b", re.I)
STUD_RE = re.compile(r"\b(stud|male|lower)\b", re.I)


def half_of_snap(what: str) -> Literal["cap", "stud", ""]:
    """`cap` or `stud` where what a snap is called says which half it is; "" for a whole one."""
    is_cap, is_stud = (bool(words.search(what)) for words in (CAP_RE, STUD_RE))
    return "" if is_cap == is_stud else "cap" if is_cap else "stud"
