"""JSON Schemas of what an author writes, so that an editor completes keys and underlines mistakes.

They are put together from the declarations: models and their readers, steps, sounds, grids. A schema says less
than `read` does: it cannot know whether a count is on a grid or an id in the book. What `read` accepts it accepts.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from pydantic import BaseModel
from pydantic.json_schema import GenerateJsonSchema, JsonSchemaValue
from pydantic_core import core_schema

from ..pattern import counts, meter, tempo
from ..pattern.grid import GRIDS
from ..pattern.sound import SOUNDS
from ..pattern.steps import STEPS, Step
from ..style.load import BASED_ON
from ..style.model import Style
from ..style.paper import PAPERS
from ..style.part import Part
from ..style.remarks import remarks
from .curriculum import CurriculumKeys, TermText
from .exercise import ExerciseText, Settings, TextBlock
from .figures import KitText, LevelsText, PlayersText
from .models import BookText, ChapterHead
from .reads import NAMED, NUMBER, TEXT, YES_NO, Schema, by_type, matching, named, or_several, words
from .series import SeriesText
from .shared import SequenceText
from .steps import schema_after
from .tasks import TaskText

DRAFT = "https://json-schema.org/draft/2020-12/schema"
"""The edition of JSON Schema that these are written in (json-schema.org, 2020-12)."""

_DEFINITIONS: dict[str, Schema] = {
    "sound": words(SOUNDS),
    "grid": words(GRIDS),
    "count": matching(counts.WRITTEN.pattern, "number"),
    "meter": matching(meter.WRITTEN.pattern),
    "tempo": matching(tempo.WRITTEN.pattern, "integer"),
    "order": matching(r"^[RLKHrlkh.!+()x×\d\s]+$", "number"),
}


class _Generate(GenerateJsonSchema):
    """Pydantic's schemas as an author's YAML has them: nothing is null, and text may look like a number."""

    def nullable_schema(self, schema: core_schema.NullableSchema) -> JsonSchemaValue:
        return self.generate_inner(schema["schema"])

    def default_schema(self, schema: core_schema.WithDefaultSchema) -> JsonSchemaValue:
        return self.generate_inner(schema["schema"])

    def str_schema(self, schema: core_schema.StringSchema) -> JsonSchemaValue:
        return {**super().str_schema(schema), **TEXT}

    def bool_schema(self, schema: core_schema.BoolSchema) -> JsonSchemaValue:
        return dict(YES_NO)

    def int_schema(self, schema: core_schema.IntSchema) -> JsonSchemaValue:
        return {**super().int_schema(schema), **NUMBER}

    def float_schema(self, schema: core_schema.FloatSchema) -> JsonSchemaValue:
        return {**super().float_schema(schema), **matching(r"^\s*[+-]?[\d.]+\s*$", "number")}

    def field_title_should_be_set(self, schema: Any) -> bool:
        return False


def kinds() -> tuple[str, ...]:
    """The kinds of files that there are schemas of."""
    return tuple(_MADE)


def schema_of(kind: str) -> dict[str, Any]:
    """The schema of a kind of file. Raises KeyError for a kind that there is not."""
    made = _MADE[kind]()
    definitions = made.pop("$defs", {})
    used: dict[str, Any] = {}
    body = _put_in(made, used)
    inner = {name: _put_in(one, used) for name, one in definitions.items()}
    shared = {**inner, **dict(sorted(used.items()))}
    return {"$schema": DRAFT, "title": f"Shedbook: {kind}", **body, **({"$defs": shared} if shared else {})}


def _put_in(schema: Any, used: dict[str, Any]) -> Any:
    """The schema with references where it names a definition; those it names are put into `used`."""
    if isinstance(schema, list):
        return [_put_in(one, used) for one in schema]
    if not isinstance(schema, dict):
        return schema
    if NAMED not in schema:
        return {key: _put_in(one, used) for key, one in schema.items()}
    name = schema[NAMED]
    if name not in used:
        used[name] = {}
        used[name] = _put_in(_definition(name), used)
    rest = {key: one for key, one in schema.items() if key != NAMED}
    return {**rest, "$ref": f"#/$defs/{name}"}


def _definition(name: str) -> Schema:
    if name == "step":
        return _step()
    _, is_step, key = name.partition("step-")
    return schema_after(STEPS[key]) if is_step else _DEFINITIONS[name]


def _step() -> Schema:
    """One entry of `steps`: a mapping with one key."""
    return {
        "type": "object",
        "minProperties": 1,
        "maxProperties": 1,
        "additionalProperties": False,
        "properties": {key: {**named(f"step-{key}"), "description": _about(step)} for key, step in STEPS.items()},
    }


def _about(step: type[Step]) -> str:
    return f"{step.about}\n\nFor example {step.key}: {step.example.value}"


def _model(model: type[BaseModel]) -> dict[str, Any]:
    """A model's own schema, with what each of its keys is for."""
    made = model.model_json_schema(schema_generator=_Generate)
    for one in (made, *made.get("$defs", {}).values()):
        one.pop("title", None)
        one.pop("description", None)
    _describe(model, made)
    return made


def _describe(model: type[BaseModel], made: dict[str, Any]) -> None:
    """Put what stands under a field's declaration into the schema of its key."""
    about = remarks(model)
    for name, field in model.model_fields.items():
        said = about.get(name)
        if said and (field.alias or name) in made.get("properties", {}):
            made["properties"][field.alias or name]["description"] = said


def _book() -> dict[str, Any]:
    return _model(BookText)


def _chapter() -> dict[str, Any]:
    """A chapter: its head, and under `exercises` what an entry's first key says that it is."""
    head = _model(ChapterHead)
    entries = {
        "exercise": _model(ExerciseText),
        "series": _model(SeriesText),
        "task": _model(TaskText),
        "text": _model(TextBlock),
        "set": _model(Settings),
    }
    defined: dict[str, Any] = {}
    for name, made in entries.items():
        defined |= made.pop("$defs", {})
        defined[name] = made
    entry: dict[str, Any] = {"$ref": "#/$defs/exercise"}
    for name in ("text", "task", "series"):
        entry = {"if": {"required": [name]}, "then": {"$ref": f"#/$defs/{name}"}, "else": entry}
    head["properties"]["sequences"] |= {"type": "object", "additionalProperties": named("order")}
    head["properties"]["set"] |= {"$ref": "#/$defs/set"}
    head["properties"]["exercises"] |= or_several({"$ref": "#/$defs/entry"})
    return {**head, "$defs": {**head.get("$defs", {}), **defined, "entry": {"type": "object", **entry}}}


def _curriculum() -> dict[str, Any]:
    made = _model(CurriculumKeys)
    term = _model(TermText)
    made["properties"]["books"] |= or_several(TEXT)
    made["properties"]["terms"] |= or_several(term)
    return made


def _sequences() -> dict[str, Any]:
    each = by_type("object", _model(SequenceText), named("order"))
    return {"type": "object", "additionalProperties": each}


def _style() -> dict[str, Any]:
    made = _model(Style)
    for part in _parts(Style):
        told = made["$defs"][part.__name__]
        _describe(part, told)
        told["properties"] = {key: dict(sorted(one.items())) for key, one in told["properties"].items()}
    del made["properties"]["name"], made["required"]  # the name is its file's
    papers = words(sorted({*PAPERS, *(name.upper() for name in PAPERS)}))
    made["properties"]["paper"] = by_type("object", made["properties"]["paper"], papers)
    made["properties"][BASED_ON] = {**TEXT, "description": "the style from which comes what this one does not say"}
    return made


def _parts(whole: type[Part]) -> Iterator[type[Part]]:
    """The parts that a style, or a part of it, is made of."""
    for field in whole.model_fields.values():
        part = field.annotation
        if isinstance(part, type) and issubclass(part, Part):
            yield part
            yield from _parts(part)


_MADE: dict[str, Callable[[], dict[str, Any]]] = {
    "book": _book,
    "chapter": _chapter,
    "curriculum": _curriculum,
    "sequences": _sequences,
    "style": _style,
    "kit": lambda: _model(KitText),
    "players": lambda: _model(PlayersText),
    "levels": lambda: _model(LevelsText),
}
