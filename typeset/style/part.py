"""What every part of a style is made of: lengths, sizes and inks within bounds, and a model that holds them.

Lengths are millimetres, type sizes points, greys percent of ink (100 is black).
"""

from __future__ import annotations

from typing import Annotated, Any, TypeVar

from pydantic import BaseModel, ConfigDict, Field

# The last of each says its unit in the reference.
Millimetres = Annotated[float, Field(ge=0, le=2000, allow_inf_nan=False), "mm"]
Length = Annotated[float, Field(gt=0, le=2000, allow_inf_nan=False), "mm"]
PageSide = Annotated[float, Field(ge=60, le=1000, allow_inf_nan=False), "mm"]
Points = Annotated[float, Field(ge=4, le=144, allow_inf_nan=False), "pt"]
Ink = Annotated[float, Field(ge=0, le=100, allow_inf_nan=False), "% ink"]


def _hyphened(attribute: str) -> str:
    return attribute.replace("_", "-")


class Part(BaseModel):
    """A part of a style: frozen, and nothing in it that is not declared.

    A key of a style's YAML is an attribute's name with hyphens for underscores.
    """

    # A part's own reader is made where it is read alone; a style's reads them all.
    model_config = ConfigDict(
        frozen=True,
        extra="forbid",
        alias_generator=_hyphened,
        populate_by_name=True,
        defer_build=True,
    )


P = TypeVar("P", bound=Part)


def as_usual(part: type[P]) -> Any:
    """A field whose part is as usual where a style says nothing of it."""
    return Field(default_factory=part.model_construct)
