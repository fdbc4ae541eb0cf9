"""Steps, read by their declarations: no step has code of its own here."""

from __future__ import annotations

from dataclasses import MISSING, dataclass, fields
from functools import cache
from typing import Any, get_type_hints

from pydantic_core import SchemaValidator, core_schema

from ..nearest import meant
from ..pattern.selection import Selection, SelectionError
from ..pattern.steps import STEPS, Phase, Step, StepError
from ..problem import Mark
from .fields import FromOne, Kind, kind_of
from .marked import hyphened
from .plain import Told, Wrong
from .reads import Schema, by_type, plainly
from .written import KEY, UNREADABLE, WrittenMap, mark_in, shown

_NO_CHOICE = ("all", "where_missing")
_NEED_TIME = ("at", "in_bars", "sound", "where_missing")


@dataclass(frozen=True)
class Parameter:
    """A parameter of a step as an author writes it.

    `kind` says in words what it takes; `alone` that a lone value after the step's key means this
    parameter; `selects` that it is one of the keys that choose strokes.
    """

    name: str
    kind: str
    required: bool
    alone: bool = False
    selects: bool = False


@dataclass(frozen=True)
class StepLine:
    """A step as it stands in an exercise, and where."""

    step: Step
    written: WrittenMap

    @property
    def mark(self) -> Mark:
        """Where the step's key stands."""
        return mark_in(self.written, [self.step.key, KEY])

    def mark_of(self, key: str | None = None, index: int | str | None = None) -> Mark:
        """Where a parameter stands, or the value in it; the step's own place where it was not written.

        `key` is the parameter's name as written or as declared, `index` as in StepError.
        """
        if key is None:
            return self.mark
        path = [self.step.key, hyphened(key), *([] if index is None else [index])]
        return mark_in(self.written, path)


def parameters_of(step: type[Step]) -> tuple[Parameter, ...]:
    """The parameters of a step, in the order of its declaration."""
    found: list[Parameter] = []
    for declared in _declared(step):
        if declared.selects:
            found += [
                Parameter(hyphened(name), kind.one, False, name == "at", True)
                for name, kind in _selection_kinds(step).items()
            ]
        else:
            found.append(Parameter(declared.name, declared.kind.one, declared.required, declared.alone))
    return tuple(found)


@dataclass(frozen=True)
class _Declared:
    """A field of a step's class."""

    field: str
    hint: Any
    required: bool
    alone: bool

    @property
    def name(self) -> str:
        return hyphened(self.field)

    @property
    def selects(self) -> bool:
        return self.hint in (Selection, Selection | None)

    @property
    def kind(self) -> Kind:
        return kind_of(self.hint)


def _declared(cls: type[Any]) -> tuple[_Declared, ...]:
    hints = get_type_hints(cls)
    return tuple(
        _Declared(
            declared.name,
            hints[declared.name],
            declared.default is MISSING and declared.default_factory is MISSING,
            bool(declared.metadata.get("alone")),
        )
        for declared in fields(cls)
    )


_CHOOSING: dict[Any, Any] = {
    int | None: FromOne | None,
    tuple[int, ...]: tuple[FromOne, ...],
}
"""In a selection bars, runs and strokes are counted from 1."""


def _selection_kinds(step: type[Step]) -> dict[str, Kind]:
    """The keys that choose strokes for this step, by field: before time there are no counts."""
    return {
        declared.field: kind_of(_CHOOSING.get(declared.hint, declared.hint))
        for declared in _declared(Selection)
        if step.phase is not Phase.ORDER or declared.field not in _NEED_TIME
    }


def read_step(entry: Any) -> StepLine:
    """Read one entry of `steps`: a mapping with one key. Raises Wrong or pydantic's ValidationError."""
    if entry is UNREADABLE:
        raise Told
    if not isinstance(entry, WrittenMap):
        raise Wrong(_no_step(entry))
    if len(entry) != 1:
        if entry.broken:
            raise Told
        raise Wrong(
            f"a step has one key, and here are {len(entry)}: {', '.join(entry)}; "
            "begin each step with its own -, and indent further what belongs to it"
        )
    ((key, value),) = entry.items()
    if key not in STEPS:
        remedy = meant(key, STEPS) or f"; the steps are {', '.join(STEPS)}"
        raise Wrong(f"there is no step '{key}'{remedy}", key, KEY)
    try:
        step = _reader_of(key).read(value)
    except ValueError:
        # Read once more by what says where in the entry it is wrong.
        step = _reader(key).validate_python(entry)[key]
    return StepLine(step, entry)


def _no_step(entry: Any) -> str:
    if isinstance(entry, str) and entry in STEPS:
        return f"a step is a key and a value: write {entry}: {STEPS[entry].example.value}"
    if isinstance(entry, str) and entry.partition(":")[0] in STEPS:
        key, _, value = entry.partition(":")
        return f"a space is missing after the colon: write {key}: {value.strip()}"
    if isinstance(entry, str):
        return f"a step is a key and a value, as in rotate: 2; {shown(entry)} is none{meant(entry, STEPS)}"
    return f"a step is a key and a value, as in rotate: 2, not {shown(entry)}"


class _Reader:
    """Reads what stands after one step's key."""

    def __init__(self, step: type[Step]) -> None:
        self.step = step
        declared = _declared(step)
        self.plain = [one for one in declared if not one.selects]
        self.chosen = next((one for one in declared if one.selects), None)
        self.alone = next((one for one in declared if one.alone), None)
        choosing = _selection_kinds(step) if self.chosen else {}
        self.choosing = tuple(choosing)
        required = {one.name: one.required for one in self.plain}
        kinds = {one.name: one.kind for one in self.plain}
        kinds |= {hyphened(field): kind for field, kind in choosing.items()}
        self.keys = tuple(kinds)
        given = {
            key: core_schema.typed_dict_field(kind.core, required=required.get(key, False))
            for key, kind in kinds.items()
        }
        self.values = SchemaValidator(core_schema.typed_dict_schema(given, extra_behavior="forbid"))

    def read(self, value: Any) -> Step:
        """The step with these parameters. Raises Wrong or pydantic's ValidationError."""
        given = self._given(value)
        if isinstance(given, WrittenMap):
            given.known = self.keys
        said = self.values.validate_python(given)
        parameters = {one.field: said[one.name] for one in self.plain if one.name in said}
        if self.chosen is not None:
            chosen = {field: hyphened(field) for field in self.choosing}
            selection = Selection(**{field: said[key] for field, key in chosen.items() if key in said})
            if selection.says_something:
                parameters[self.chosen.field] = selection
            elif getattr(given, "cut", False):
                raise Told
            elif self.chosen.required:
                keys = ", ".join(hyphened(field) for field in self.choosing if field not in _NO_CHOICE)
                raise Wrong(f"this does not say which strokes; choose them by {keys} or say all: yes")
        try:
            return self.step(**parameters)
        except (StepError, SelectionError) as error:
            key = [] if error.key is None else [hyphened(error.key)]
            index = [] if error.index is None else [error.index]
            raise Wrong(str(error), *key, *index) from None

    def _given(self, value: Any) -> dict[str, Any]:
        """The parameters by name, where a lone value may stand for one of them."""
        if value is UNREADABLE:
            raise Told
        order = self.chosen is not None and self.step.phase is Phase.ORDER
        if isinstance(value, dict):
            if self.alone and self.alone.kind.maps and not any(one.name in value for one in self.plain):
                return {self.alone.name: value}
            early = next((key for key in map(hyphened, _NEED_TIME) if key in value), None) if order else None
            if early:
                raise Wrong(
                    f"'{early}' needs time, and this step comes before it; say limb, every, run or strokes",
                    early,
                    KEY,
                )
            return value
        if self.alone:
            return {self.alone.name: value}
        if order:
            raise Wrong("before time there are no counts; choose by limb, every, run or strokes: [1, 3]")
        if self.chosen:
            return {"at": value}
        names = ", ".join(f"{one.name}: {one.kind.one}" for one in self.plain)
        raise Wrong(f"write {self.step.key}: {{{names}}}")


def read_parameters(step: type[Step], value: Any) -> Step:
    """A step by what stands after its key. Raises Wrong or pydantic's ValidationError."""
    return _reader_of(step.key).read(value)


def schema_after(step: type[Step]) -> Schema:
    """What an editor is told of what stands after a step's key: its parameters, or a value that stands alone."""
    reader = _reader_of(step.key)
    choosing = _selection_kinds(step) if reader.chosen else {}
    mapping: dict[str, Any] = {
        "type": "object",
        "additionalProperties": False,
        "minProperties": 1,
        "properties": {one.name: _told(one.kind) for one in reader.plain}
        | {hyphened(field): _told(kind) for field, kind in choosing.items()},
        "required": [one.name for one in reader.plain if one.required],
    }
    if reader.chosen and reader.chosen.required:
        mapping["anyOf"] = [{"required": [hyphened(field)]} for field in choosing if field != "where_missing"]
    if reader.alone is None:
        return by_type("object", mapping, choosing["at"].schema) if "at" in choosing else mapping
    if not reader.alone.kind.maps:
        return by_type("object", mapping, reader.alone.kind.schema)
    says_more = {"anyOf": [{"required": [one.name]} for one in reader.plain]}
    return {"if": says_more, "then": mapping, "else": reader.alone.kind.schema}


def _told(kind: Kind) -> Schema:
    return {**kind.schema, "description": kind.one}


@cache
def _reader_of(key: str) -> _Reader:
    return _Reader(STEPS[key])


@cache
def _reader(key: str) -> SchemaValidator:
    """Reads an entry that holds the step of this key: the key, and what stands after it."""
    return SchemaValidator(core_schema.dict_schema(core_schema.str_schema(), plainly(_reader_of(key).read)))
