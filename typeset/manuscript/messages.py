"""What pydantic found, as problems in a teacher's words, at the author's line and column."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from pydantic import ValidationError

from ..problem import Mark, Problem
from .fields import Told
from .written import KEY, UNREADABLE, Step, Written, WrittenMap, find, mark_of, meant, shown


def problems_in(error: ValidationError, root: Written, way: tuple[Step, ...] = ()) -> Iterator[Problem]:
    """One problem for each error that has not been reported already.

    `way` leads from `root` to what was validated.
    """
    for line in error.errors(include_url=False):
        cause = line.get("ctx", {}).get("error")
        if line["input"] is UNREADABLE or isinstance(cause, Told):
            continue
        path: list[Step] = [*way, *line["loc"], *getattr(cause, "path", ())]
        if line["type"] == "extra_forbidden":
            yield _unknown_key(root, path)
        elif line["type"] == "missing":
            yield from _missing_key(root, path)
        else:
            offset = getattr(cause, "offset", 0)
            what = str(cause) if cause else _plainly(line)
            yield Problem(_mark(root, path, offset), what)


def _mark(root: Written, path: list[Step], offset: int = 0) -> Mark:
    return mark_of(root.file, find(root, path).event, offset)


def _unknown_key(root: Written, path: list[Step]) -> Problem:
    found = find(root, path)
    key = str(path[-1])
    known = found.inside.readers if found.inside is not None else ()
    remedy = meant(key, known) or f"; the keys here are {', '.join(known)}"
    return Problem(_mark(root, [*path, KEY]), f"there is no key '{key}' here{remedy}")


def _missing_key(root: Written, path: list[Step]) -> Iterator[Problem]:
    found = find(root, path)
    if not (isinstance(found.inside, WrittenMap) and found.inside.cut):
        yield Problem(_mark(root, path), f"the key '{path[-1]}' is missing here")


def _plainly(line: Any) -> str:
    """For the few checks that are pydantic's own."""
    if line["type"] == "string_type":
        return f"text is expected here, not {shown(line['input'])}; put it in quotes"
    if line["type"] in ("tuple_type", "list_type"):
        return f"a list is expected here, not {shown(line['input'])}"
    return str(line["msg"])
