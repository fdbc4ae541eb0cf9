"""How a value is read, by what its field is declared to be.

One table from the types of the music to readers: an author's text in, a value of the music out. The
chapter's models and every step's parameters are read through it.
"""

from __future__ import annotations

import types
from collections.abc import Callable
from dataclasses import dataclass, replace
from enum import Enum
from functools import cache
from typing import Any, Literal, Union, get_args, get_origin

from pydantic import ValidationError
from pydantic_core import CoreSchema, SchemaValidator, core_schema

from ..nearest import meant, near
from ..pattern.counts import Place
from ..pattern.grid import GRIDS, Grid
from ..pattern.meter import Meter
from ..pattern.order import Order, read_order
from ..pattern.sound import SOUNDS, Sound
from ..pattern.steps import Passage, Source
from ..pattern.tempo import Tempo
from .plain import (
    LONGEST_NAME,
    LONGEST_TEXT,
    Told,
    Wrong,
    as_list,
    one_of,
    read_from_one,
    read_music,
    read_number,
    read_text,
    read_yes_no,
)
from .reads import NUMBER, TEXT, YES_NO, Reads, Schema, named, or_several, plainly, whole, words
from .written import shown


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


@dataclass(frozen=True)
class Kind:
    """A kind of value: in words, one and many, and what pydantic reads it by."""

    one: str
    many: str
    core: CoreSchema
    schema: Schema
    maps: bool = False
    """written as a mapping of its own"""
    words: tuple[str, ...] = ()
    """all that may be written, where that is a few words"""


def _kind(one: str, many: str, read: Callable[[Any], Any], schema: Schema) -> Kind:
    return Kind(one, many, plainly(read), schema)


def _listed(each: CoreSchema, made: Callable[[tuple[Any, ...]], Any]) -> CoreSchema:
    """A list, in which one value may stand alone, and what is made of it."""
    several = core_schema.tuple_schema([each], variadic_item_index=0)
    return core_schema.no_info_after_validator_function(
        made, core_schema.no_info_before_validator_function(as_list, several)
    )


_GRID = _listed(plainly(one_of(GRIDS, "grid")), lambda names: Grid.of(*names))


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
    return Reads(SchemaValidator(kind.core).validate_python, kind.schema)


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
    return Kind(each.many, each.many, _listed(each.core, _filled), or_several(each.schema))


def _filled(values: tuple[Any, ...]) -> tuple[Any, ...]:
    if not values:
        raise Wrong("this list is empty; write a value, or take the key out")
    return values


def _pairs(left: Any, right: Any) -> Kind:
    """A mapping, kept as pairs in the order in which they were written."""
    key, value = kind_of(left), kind_of(right)
    mapping = core_schema.no_info_before_validator_function(
        _mapping(f"pairs in braces: {key.one} before the colon, {value.one} after it"),
        core_schema.dict_schema(key.core, value.core),
    )
    pairs = core_schema.no_info_after_validator_function(lambda found: tuple(found.items()), mapping)
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
    *others, last = (SchemaValidator(kind.core) for kind in kinds)
    known = [word for kind in kinds for word in kind.words]

    def read(value: Any) -> Any:
        for reader in others:
            try:
                return reader.validate_python(value)
            except ValidationError:
                continue
        if isinstance(value, str) and near(value, known):
            raise Wrong(f"{shown(value)} cannot stand here{meant(value, known)}")
        return last.validate_python(value)

    schema = {"anyOf": [kind.schema for kind in kinds]}
    return _kind(" or ".join(kind.one for kind in kinds), " or ".join(kind.many for kind in kinds), read, schema)
