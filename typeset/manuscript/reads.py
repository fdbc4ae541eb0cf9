"""How a field is read, and what an editor is told of it: both said in one place.

What an editor is told is JSON Schema (the draft of 2020-12). An editor sees YAML's own types, so a field whose
text may look like a number takes numbers too. A definition that several fields use is named once, with
`named`, and `schema.py` puts it in.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import CoreSchema, core_schema

Schema = Mapping[str, Any]

NAMED = "x-named"
"""The key under which a schema names a definition that is put in later."""

TEXT: Schema = {"type": ["string", "number", "boolean"]}
NAME: Schema = {"type": ["string", "integer"], "pattern": "^[A-Za-z0-9][A-Za-z0-9_-]*$"}
NUMBER: Schema = {"type": ["integer", "string"], "pattern": r"^\s*[+-]?\d{1,9}\s*$"}
YES_NO: Schema = {"anyOf": [{"type": "boolean"}, {"enum": ["yes", "no", "on", "off"]}]}


def words(known: Iterable[str]) -> Schema:
    """One of these words."""
    return {"enum": list(known)}


def matching(pattern: str, *types: str) -> Schema:
    """Text of this form; `types` are the further types that YAML may take it for."""
    return {"type": ["string", *types] if types else "string", "pattern": pattern}


def whole(least: int, most: int | None = None) -> Schema:
    """A whole number within bounds."""
    bounds = {"minimum": least} | ({} if most is None else {"maximum": most})
    return {**NUMBER, **bounds}


def named(definition: str) -> Schema:
    """A definition that stands once in a schema, by its name."""
    return {NAMED: definition}


def or_several(each: Schema) -> Schema:
    """A value, or a list of them."""
    return by_type("array", {"items": each, "minItems": 1}, each)


def by_type(kind: str, then: Schema, otherwise: Schema) -> Schema:
    """One schema for what is of a type, another for the rest, so that an editor underlines the very mistake."""
    return {"if": {"type": kind}, "then": then, "else": otherwise}


def plainly(read: Callable[[Any], Any]) -> CoreSchema:
    """What pydantic reads by where a function does all the reading."""
    return core_schema.no_info_plain_validator_function(read)


@dataclass(frozen=True, eq=False)
class Reads:
    """Marks a field that `read` reads, and of which `schema` tells an editor."""

    read: Callable[[Any], Any]
    schema: Schema

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return plainly(self.read)

    def __get_pydantic_json_schema__(self, core: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        return dict(self.schema)


@dataclass(frozen=True, eq=False)
class Listed:
    """Marks a list in which one value may stand alone; `listed` makes the list of what was written."""

    listed: Callable[[Any], Any]
    alone: Schema | None = None
    """what may stand for a mapping of the list"""

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_before_validator_function(self.listed, handler(source))

    def __get_pydantic_json_schema__(self, core: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        each = handler(core["schema"])["items"]
        if self.alone is not None:
            each = by_type("object", each, self.alone)
        return dict(by_type("array", {"items": each}, each))
