"""Mutations: a chapter that is nearly right, made from the seed corpus by chance.

Some are made on the tree of the YAML, so that what comes out is YAML and often music; some on the text, so
that it may be neither.
"""

from __future__ import annotations

import copy
import random
from collections.abc import Callable
from typing import Any

import yaml

from typeset.pattern.grid import GRIDS
from typeset.pattern.sound import SOUNDS
from typeset.pattern.steps import STEPS

from ..hostile.strings import STRINGS
from .seeds import Tree, seeds

_COUNTS = ("1", "2", "3e", "3&", "4a", "2trip", "2let", "2|4", "1.2", "4.3", "9", "0", "64|1", "5.5")
_METERS = (
    "4/4",
    "3/4",
    "2/4",
    "5/4",
    "7/4",
    "2/2",
    "3/8",
    "6/8",
    "7/8",
    "7/8 (3+2+2)",
    "8/8",
    "12/8",
    "15/8",
    "4/3",
)
_NUMBERS = ("-1", "0", "1", "2", "3", "8", "16", "64", "65", "99", "1000000", "1e999", "²", "٣", "60-100", "100-60")
_ORDERS = (
    "R L",
    "R L R K L",
    "r! L",
    "(R L K)x3",
    "R+K L",
    ". . .",
    "(R)x1024",
    "R++L",
    "RLKH",
    "R+R",
    "H",
    "R L . . K!",
)
_WORDS = (
    *(
        "yes",
        "no",
        "all",
        "beats",
        "8ths",
        "offbeats",
        "loop",
        "once",
        "trimming",
        "resting",
        "resolving",
        "exactly",
    ),
    *(
        "restarting",
        "R",
        "L",
        "K",
        "H",
        "flam",
        "drag",
        "buzz",
        "diddle",
        "plain",
        "accent",
        "ghost",
        "hands",
        "feet",
    ),
    *("order", "rotation", "reversal", "hand-swap", "easiest-first", "swing-8ths", "straight", "skip", ""),
)
_TOKENS = (*_COUNTS, *_METERS, *_NUMBERS, *_ORDERS, *_WORDS, *GRIDS, *SOUNDS)
SIGNS = (
    *" \n\t:#-[]{},&*!|>'\"%@?x1RLK.~",
    "\n  - ",
    "\n---\n",
    "<<: ",
    "*a ",
    "&a ",
    ": ",
    "- ",
    "[[[",
    "{{{",
    "é",
)
"""What an author's finger may put anywhere: letters, YAML's own signs, beginnings of something."""

_SIGNS = (*SIGNS, "\u202e")

_MOST_ITEMS = 7


def chapter(chance: random.Random) -> bytes:
    """The text of a mutated chapter."""
    tree = _shortened(copy.deepcopy(chance.choice(seeds())), chance)
    for _ in range(chance.choice((0, 1, 1, 1, 2, 2, 3, 5))):
        if tree:
            chance.choice(_ON_TREES)(tree, chance)
    text = yaml.safe_dump(tree, allow_unicode=chance.random() < 0.5, sort_keys=False, width=1000)
    if chance.random() < 0.25:
        for _ in range(chance.randint(1, 4)):
            text = _edited(text, chance)
    return text.encode("utf-8", "surrogatepass")


def _shortened(tree: Tree, chance: random.Random) -> Tree:
    """A chapter with its first entries alone, for what comes later leans on what is earlier."""
    items = tree["exercises"]
    del items[chance.randint(1, min(len(items), _MOST_ITEMS)) :]
    return tree


def _places(tree: Any) -> list[tuple[Any, Any]]:
    """Every place in a tree: a mapping or list, and the key or number in it."""
    found: list[tuple[Any, Any]] = []
    inside = (
        list(tree.items()) if isinstance(tree, dict) else list(enumerate(tree)) if isinstance(tree, list) else []
    )
    for key, value in inside:
        found.append((tree, key))
        found += _places(value)
    return found


def _place(tree: Tree, chance: random.Random) -> tuple[Any, Any]:
    return chance.choice(_places(tree))


def _replace_scalar(tree: Tree, chance: random.Random) -> None:
    """Another word in the place of one."""
    scalars = [(holder, key) for holder, key in _places(tree) if isinstance(holder[key], str)]
    if scalars:
        holder, key = chance.choice(scalars)
        holder[key] = chance.choice(_TOKENS)


def _replace_hostile(tree: Tree, chance: random.Random) -> None:
    """A text that means harm in the place of one."""
    scalars = [(holder, key) for holder, key in _places(tree) if isinstance(holder[key], str)]
    if scalars:
        holder, key = chance.choice(scalars)
        holder[key] = chance.choice(STRINGS)


def _exchange(tree: Tree, chance: random.Random) -> None:
    """Two values change places, as copies, so that nothing comes to stand in itself."""
    (one, first), (other, second) = _place(tree, chance), _place(tree, chance)
    there, here = copy.deepcopy(other[second]), copy.deepcopy(one[first])
    one[first] = there
    if second in (other if isinstance(other, dict) else range(len(other))):
        other[second] = here


def _delete(tree: Tree, chance: random.Random) -> None:
    holder, key = _place(tree, chance)
    del holder[key]


def _repeat(tree: Tree, chance: random.Random) -> None:
    """An entry of a list once more."""
    lists = [holder[key] for holder, key in _places(tree) if isinstance(holder[key], list) and holder[key]]
    if lists:
        listed = chance.choice(lists)
        listed.insert(chance.randint(0, len(listed)), copy.deepcopy(chance.choice(listed)))


def _shuffle(tree: Tree, chance: random.Random) -> None:
    """A list in another order."""
    lists = [holder[key] for holder, key in _places(tree) if isinstance(holder[key], list)]
    if lists:
        chance.shuffle(chance.choice(lists))


def _wrap(tree: Tree, chance: random.Random) -> None:
    """A value in a list, or under a key."""
    holder, key = _place(tree, chance)
    holder[key] = [holder[key]] if chance.random() < 0.5 else {chance.choice(_TOKENS): holder[key]}


def _add_step(tree: Tree, chance: random.Random) -> None:
    """A step out of the reference, somewhere among an exercise's steps."""
    key = chance.choice(tuple(STEPS))
    value = yaml.load(STEPS[key].example.value, Loader=yaml.BaseLoader)
    items = [item for item in tree.get("exercises", ()) if isinstance(item, dict)]
    if items:
        steps = chance.choice(items).setdefault("steps", [])
        if isinstance(steps, list):
            steps.insert(chance.randint(0, len(steps)), {key: value})


def _add_key(tree: Tree, chance: random.Random) -> None:
    """A key that stands elsewhere in the corpus."""
    keys = [(key, holder[key]) for holder, key in _places(chance.choice(seeds())) if isinstance(key, str)]
    maps = [holder[key] for holder, key in _places(tree) if isinstance(holder[key], dict)]
    if keys and maps:
        key, value = chance.choice(keys)
        chance.choice(maps)[key] = copy.deepcopy(value)


_ON_TREES: tuple[Callable[[Tree, random.Random], None], ...] = (
    *(_replace_scalar, _replace_scalar, _replace_scalar, _replace_hostile, _exchange, _delete),
    *(_repeat, _shuffle, _wrap, _add_step, _add_step, _add_step, _add_key),
)


def _edited(text: str, chance: random.Random) -> str:
    """A text with one edit: some characters out, a sign in, or a line somewhere else."""
    if chance.random() < 0.3:
        lines = text.split("\n")
        lines.insert(chance.randint(0, len(lines)), lines.pop(chance.randrange(len(lines))))
        return "\n".join(lines)
    at, cut = chance.randint(0, len(text)), chance.randint(0, 12)
    return text[:at] + chance.choice(("", *_SIGNS)) + text[at + cut :]
