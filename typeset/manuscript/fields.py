"""How a value is read, by what its field is declared to be.

One table from the types of the music to readers: an author's text in, a value of the music out. The
chapter's models and every step's parameters are read through it.
"""

from __future__ import annotations

import re
import types
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from enum import Enum
from functools import cache
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from pydantic import AfterValidator, BeforeValidator, ConfigDict, TypeAdapter

from ..nearest import meant, near
from ..pattern.counts import Place
from ..pattern.grid import GRIDS, Grid
from ..pattern.meter import Meter
from ..pattern.order import Order, read_order
from ..pattern.sound import SOUNDS, Sound
from ..pattern.steps import Passage, Source
from ..pattern.tempo import Tempo
from .reads import NUMBER, TEXT, YES_NO, Listed, Reads, Schema, named, or_several, whole, words
from .written import Step, shown

_NUMBER = re.compile(r"[+-]?\d{1,9}")
_NAME = re.compile(r"[A-Za-z0-9][A-Za-z0-9_-]*")
LONGEST_LINE = 300
"""The most characters of a title, or of anything else that is one line in its file."""

LONGEST_TEXT = 20_000
"""The most characters of a text of paragraphs: some seven pages."""

LONGEST_NAME = 100
"""The most characters of an id, or of the name of a sequence or an edition."""

_YES, _NO = ("yes", "true", "on"), ("no", "false", "off")


class Wrong(ValueError):
    """A value that is wrong; `path` leads from what is being read to the part at fault."""

    def __init__(self, what: str, *path: Step) -> None:
        super().__init__(what)
        self.path = path


class Missing(Wrong):
    """Something that should be said and is not; no news where the YAML broke off."""


class Told(ValueError):
    """A value that cannot be read, about which a problem has been reported already."""


def read_text(value: Any) -> str:
    """Text as it stands."""
    text = _text(value)
    if len(text) > LONGEST_TEXT:
        raise Wrong(f"this has {len(text):,} characters, and a text has {LONGEST_TEXT:,} at most; divide it")
    return text


def _text(value: Any) -> str:
    if not isinstance(value, str):
        raise Wrong(f"text is expected here, not {shown(value)}; put it in quotes")
    return value


def read_line(value: Any, longest: int = LONGEST_LINE) -> str:
    """Text on one line, with something in it."""
    text = " ".join(_text(value).split())
    if len(text) > longest:
        raise Wrong(f"this has {len(text):,} characters; {longest:,} is the most that stands here")
    if not text:
        raise Wrong("this is empty; write something, or take the key out")
    return text


def read_music(value: Any) -> str:
    """The name of something to play, or an order written out, which may be long."""
    return read_line(value, LONGEST_TEXT)


def read_number(value: Any) -> int:
    """A whole number."""
    if not isinstance(value, str) or not _NUMBER.fullmatch(value.strip()):
        raise Wrong(f"{shown(value)} is no whole number")
    return int(value)


def read_from_one(value: Any) -> int:
    """A whole number from 1 on."""
    number = read_number(value)
    if number < 1:
        raise Wrong(f"{number} is too small; this is counted from 1")
    return number


def read_yes_no(value: Any) -> bool:
    """Yes or no."""
    word = value.strip().lower() if isinstance(value, str) else ""
    if word not in (*_YES, *_NO):
        raise Wrong(f"{shown(value)} is neither yes nor no")
    return word in _YES


def read_name(value: Any) -> str:
    """An id, or the name of a sequence or an edition."""
    if isinstance(value, str) and len(value) > LONGEST_NAME:
        raise Wrong(f"{shown(value)} has {len(value):,} characters; a name has {LONGEST_NAME} at most")
    if not isinstance(value, str) or not _NAME.fullmatch(value):
        raise Wrong(
            f"{shown(value)} is no name; a name is made of letters from a to z, digits, - and _, "
            "and begins with a letter or digit"
        )
    return value


def one_of(choices: Iterable[str], what: str = "") -> Callable[[Any], str]:
    """A reader for one of these words; `what` says what they are, where there is a word for it."""
    known = tuple(choices)
    refusal = f"is no {what}" if what else "cannot stand here"
    listed = f"{', '.join(known[:-1])} or {known[-1]}" if len(known) > 1 else known[0]

    def read(value: Any) -> str:
        if isinstance(value, str) and value in known:
            return value
        found = meant(value, known) if isinstance(value, str) else ""
        raise Wrong(f"{shown(value)} {refusal}{found or f'; write {listed}'}")

    return read


def _read_sound(value: Any) -> Sound:
    return SOUNDS[_sound_name(value)]


_sound_name = one_of(SOUNDS, "sound")


def _parsed(parse: Callable[[str], Any], what: str, longest: int = LONGEST_NAME) -> Callable[[Any], Any]:
    """A reader for text that the music itself can read; it raises ValueError with its own message."""

    def read(value: Any) -> Any:
        if not isinstance(value, str):
            raise Wrong(f"{what} is expected here, not {shown(value)}")
        if len(value) > longest:
            raise Wrong(f"this has {len(value):,} characters, and {what} has {longest:,} at most")
        return parse(value)

    return read


def as_list(value: Any) -> Any:
    """One value may stand where a list is expected."""
    return value if isinstance(value, list) else [value]


def checked(base: Any, *checks: Any) -> Any:
    """A type that is made while the program runs, with pydantic's checks on it."""
    return Annotated[(base, *checks)] if checks else base


@dataclass(frozen=True)
class Kind:
    """A kind of value: in words, one and many, and the type that pydantic reads it by."""

    one: str
    many: str
    type: Any
    schema: Schema
    maps: bool = False
    """written as a mapping of its own"""
    words: tuple[str, ...] = ()
    """all that may be written, where that is a few words"""


def _kind(one: str, many: str, read: Callable[[Any], Any], schema: Schema) -> Kind:
    return Kind(one, many, Annotated[Any, Reads(read, schema)], schema)


_GRID_NAME = Annotated[str, Reads(one_of(GRIDS, "grid"), named("grid"))]
_GRID = Annotated[tuple[_GRID_NAME, ...], Listed(as_list), AfterValidator(lambda names: Grid.of(*names))]


class FromOne(int):
    """Marks a number that is counted from 1."""


KINDS: dict[Any, Kind] = {
    str: _kind("text", "texts", read_text, TEXT),
    int: _kind("a number", "numbers", read_number, NUMBER),
    FromOne: _kind("a number from 1", "numbers from 1", read_from_one, whole(1)),
    bool: _kind("yes or no", "yes or no", read_yes_no, YES_NO),
    Place: _kind("a count", "counts", _parsed(Place.parse, "a count"), named("count")),
    Sound: _kind("a sound", "sounds", _read_sound, named("sound")),
    Meter: _kind("a meter", "meters", _parsed(Meter.parse, "a meter"), named("meter")),
    Tempo: _kind("a tempo", "tempos", _parsed(Tempo.parse, "a tempo"), named("tempo")),
    Grid: Kind("a grid", "grids", _GRID, or_several(named("grid"))),
    Order: _kind("a sequence", "sequences", _parsed(read_order, "a sequence", LONGEST_TEXT), named("order")),
    Source: _kind("a name or a sequence", "names or sequences", lambda v: Source(read_music(v)), TEXT),
    Passage: _kind("a name or a sequence", "names or sequences", lambda v: Passage(read_music(v)), TEXT),
}


@cache
def kind_of(hint: Any) -> Kind:
    """How a value of this declared type is read. Raises TypeError for a type that no reader is known for."""
    if hint in KINDS:
        return KINDS[hint]
    origin, inner = get_origin(hint), get_args(hint)
    if origin in (Union, types.UnionType):
        return _either(tuple(kind_of(part) for part in inner if part is not types.NoneType))
    if origin is Literal:
        return _choice(inner)
    if isinstance(hint, type) and issubclass(hint, Enum):
        return _enum(hint)
    if origin is tuple and len(inner) == 2 and inner[1] is Ellipsis:
        return _pairs(*get_args(inner[0])) if get_origin(inner[0]) is tuple else _several(kind_of(inner[0]))
    raise TypeError(f"nobody knows how to read {hint!r} from YAML")


def read_as(hint: Any) -> Reads:
    """A model's field of this type, read as a step's parameter of the type would be."""
    kind = kind_of(hint)
    return Reads(_alone(kind), kind.schema)


def _alone(kind: Kind) -> Callable[[Any], Any]:
    """What reads a value of this kind by itself; where pydantic has a part in it, made when it is first asked."""
    plain = next((mark for mark in getattr(kind.type, "__metadata__", ()) if isinstance(mark, Reads)), None)
    return plain.read if plain else TypeAdapter(kind.type, config=ConfigDict(defer_build=True)).validate_python


def _choice(choices: tuple[str, ...]) -> Kind:
    listed = ", ".join(choices)
    one = f"one of {listed}" if len(choices) > 1 else listed
    return replace(_kind(one, f"any of {listed}", one_of(choices), words(choices)), words=choices)


def _enum(cls: type[Enum]) -> Kind:
    choices = [member.value for member in cls]
    what, listed = cls.__name__.lower(), ", ".join(choices)
    name = one_of(choices, what)
    return _kind(f"a {what} ({listed})", f"{what}s ({listed})", lambda value: cls(name(value)), words(choices))


def _several(each: Kind) -> Kind:
    """A list, in which one value may stand alone."""
    several = types.GenericAlias(tuple, (each.type, ...))
    made = checked(several, BeforeValidator(as_list), AfterValidator(_filled))
    return Kind(each.many, each.many, made, or_several(each.schema))


def _filled(values: tuple[Any, ...]) -> tuple[Any, ...]:
    if not values:
        raise Wrong("this list is empty; write a value, or take the key out")
    return values


def _pairs(left: Any, right: Any) -> Kind:
    """A mapping, kept as pairs in the order in which they were written."""
    key, value = kind_of(left), kind_of(right)
    pairs = checked(
        types.GenericAlias(dict, (key.type, value.type)),
        BeforeValidator(_mapping(f"pairs in braces: {key.one} before the colon, {value.one} after it")),
        AfterValidator(lambda found: tuple(found.items())),
    )
    written = f"{key.one}: {value.one}, ..."
    return Kind(written, written, pairs, _object(key.schema, value.schema), maps=True)


def _object(key: Schema, value: Schema) -> Schema:
    """A mapping; where its keys are a few words, an editor can offer them."""
    few = key.get("enum")
    keys = {"properties": dict.fromkeys(few, value)} if few else {"propertyNames": key}
    return {"type": "object", "minProperties": 1, **keys, "additionalProperties": False if few else value}


def _mapping(words: str) -> Callable[[Any], Any]:
    def check(value: Any) -> Any:
        if not isinstance(value, dict):
            raise Wrong(f"write {words}; not {shown(value)}")
        if not value:
            raise Told if getattr(value, "cut", False) else Wrong(f"this is empty; write {words}")
        return value

    return check


def _either(kinds: tuple[Kind, ...]) -> Kind:
    """The first of several kinds that can read the value; where none can, the last one's complaint.

    But a word that is near one that may be written was most likely meant to be that.
    """
    if len(kinds) == 1:
        return kinds[0]
    *others, last = map(_alone, kinds)
    known = [word for kind in kinds for word in kind.words]

    def read(value: Any) -> Any:
        for reader in others:
            try:
                return reader(value)
            except ValueError:  # as pydantic's own errors are too
                continue
        if isinstance(value, str) and near(value, known):
            raise Wrong(f"{shown(value)} cannot stand here{meant(value, known)}")
        return last(value)

    schema = {"anyOf": [kind.schema for kind in kinds]}
    return _kind(" or ".join(kind.one for kind in kinds), " or ".join(kind.many for kind in kinds), read, schema)
