"""Models that know where they stand in the author's files."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from typing import Annotated, Any, ClassVar, Self

from pydantic import (
    BaseModel,
    ConfigDict,
    ModelWrapValidatorHandler,
    PrivateAttr,
    TypeAdapter,
    model_validator,
)

from ..problem import Mark
from .plain import Wrong
from .written import Step, WrittenMap, mark_in, shown


def hyphened(name: str) -> str:
    """A field's name as an author writes it."""
    return name.rstrip("_").replace("_", "-")


def _checked(base: Any, checks: Sequence[Any]) -> Any:
    """A field's type, with pydantic's checks on it."""
    return Annotated[(base, *checks)] if checks else base


class Marked(BaseModel):
    """A part of a manuscript: frozen, nothing in it that is not declared, each value with its place."""

    # A model's reader is made when something is first read with it: a book has few kinds of parts.
    model_config = ConfigDict(frozen=True, extra="forbid", alias_generator=hyphened, defer_build=True)

    named_by: ClassVar[str] = ""
    """the key under which its author names it, where there is one"""

    _written: WrittenMap | None = PrivateAttr(default=None)
    _broken: bool = PrivateAttr(default=False)

    @model_validator(mode="wrap")
    @classmethod
    def _keep_place(cls, value: Any, handler: ModelWrapValidatorHandler[Self]) -> Self:
        if not isinstance(value, dict):
            raise Wrong(f"keys with values are expected here, not {shown(value)}")
        if not isinstance(value, WrittenMap):
            return handler(value)
        value.known = cls.keys()
        return handler(value).placed(value)

    @classmethod
    @cache
    def keys(cls) -> tuple[str, ...]:
        """The keys that an author may write, the one that names it before the others."""
        fields = sorted(cls.model_fields.items(), key=lambda entry: entry[0] != cls.named_by)
        return tuple(field.alias or name for name, field in fields)

    @classmethod
    @cache
    def required_keys(cls) -> frozenset[str]:
        """The keys that an author has to write."""
        return frozenset(field.alias or name for name, field in cls.model_fields.items() if field.is_required())

    @classmethod
    @cache
    def readers(cls) -> dict[str, tuple[str, TypeAdapter[Any]]]:
        """For each key its field and what reads it alone, for parts in which another key is wrong."""
        return {
            field.alias or name: (name, TypeAdapter(_checked(field.annotation, field.metadata)))
            for name, field in cls.model_fields.items()
        }

    def placed(self, written: WrittenMap, broken: bool = False) -> Self:
        """The same part, standing where this was written; `broken` where it says less than was meant."""
        self._written = written
        self._broken = broken
        return self

    @property
    def written(self) -> WrittenMap:
        """What the author wrote. Raises ValueError for a part that stands in no file."""
        if self._written is None:
            raise ValueError(f"this {type(self).__name__} stands in no file")
        return self._written

    @property
    def is_placed(self) -> bool:
        """True when it is known where it stands."""
        return self._written is not None

    @property
    def mark(self) -> Mark:
        """Where it begins."""
        return self.written.mark

    @property
    def broken(self) -> bool:
        """True when it has problems because of which it says less than its author meant."""
        return self._broken

    def marks(self, *path: Step) -> Mark:
        """Where a value stands: its key (as written, or as named here), then what leads on into it.

        The nearest place around it where it was not written.
        """
        return mark_in(self.written, [hyphened(step) if isinstance(step, str) else step for step in path])

    def mark_where_said(self, key: str) -> Mark | None:
        """Where the value of a key stands, None where the author did not write it."""
        return self.marks(key) if self._written is not None and hyphened(key) in self._written else None
