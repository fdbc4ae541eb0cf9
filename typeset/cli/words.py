"""The words of a command line, read without pydantic where they are text or a path.

Typer hands all that an option can hold to pydantic, and importing that takes as long as all else of a build that
is found again. But most options are left out, and most others are text. A number is still read by Typer, and so is
whatever there is a complaint about.
"""

from __future__ import annotations

import os
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import Any

from typer.core import TyperCommand, TyperGroup

_NOT_PLAIN = object()


class Command(TyperCommand):
    """A command whose words are taken as they stand wherever that is all there is to reading them."""

    def get_params(self, ctx: Any) -> list[Any]:
        """What it can be told; each reads its own words."""
        return _reading_plainly(super().get_params(ctx))


class Commands(TyperGroup):
    """The commands together; what stands before a command's name is taken in the same way."""

    def get_params(self, ctx: Any) -> list[Any]:
        """What can be said before a command's name; each reads its own words."""
        return _reading_plainly(super().get_params(ctx))


def _reading_plainly(params: list[Any]) -> list[Any]:
    for param in params:
        if "process_value" not in vars(param):
            param.process_value = partial(_value, param, param.process_value)
    return params


def _value(param: Any, read: Callable[[Any, Any], Any], context: Any, word: Any) -> Any:
    """What a parameter is given: the word as it stands, else as Typer would `read` it."""
    value = _plainly(param, word)
    if value is _NOT_PLAIN:
        return read(context, word)
    return param.callback(context, param, value) if param.callback else value


def _plainly(param: Any, word: Any) -> Any:
    """What a word stands for, or _NOT_PLAIN; None is a word that was not said."""
    # An older Typer tells no annotation here, and reads everything without pydantic.
    kind = getattr(getattr(param, "type_descriptor", None), "annotation", None)
    if word is None and kind and not param.required:
        return () if param.nargs == -1 else None
    if kind in (str, int) and isinstance(word, kind):
        return word
    if kind == list[str] and isinstance(word, tuple):
        return list(word)
    if kind is Path and word is not None and _may_be_read(word):
        return Path(word)
    return _NOT_PLAIN


def _may_be_read(path: str | Path) -> bool:
    """True also where there is nothing: what comes of that is for the command to say."""
    return os.access(path, os.R_OK) or not Path(path).exists()
