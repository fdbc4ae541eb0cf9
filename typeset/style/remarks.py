"""What stands under a field's declaration: a line that says what its key is for.

It is for the reference and for editors, who alone look for it.
"""

from __future__ import annotations

import ast
import inspect
import textwrap
from collections.abc import Iterator
from functools import cache

from pydantic import BaseModel


@cache
def remarks(model: type[BaseModel]) -> dict[str, str]:
    """The text under each field of a model and of those it is based on, by field."""
    found: dict[str, str] = {}
    for one in reversed(model.__mro__):
        if issubclass(one, BaseModel) and one is not BaseModel:
            found |= dict(_remarks_in(one))
    return found


def _remarks_in(model: type[BaseModel]) -> Iterator[tuple[str, str]]:
    (written,) = ast.parse(textwrap.dedent(inspect.getsource(model))).body
    assert isinstance(written, ast.ClassDef)
    for field, after in zip(written.body, written.body[1:], strict=False):
        if isinstance(field, ast.AnnAssign) and isinstance(after, ast.Expr) and isinstance(field.target, ast.Name):
            text = ast.literal_eval(after.value)
            yield field.target.id, " ".join(text.split())
