"""What pydantic found, as problems in a teacher's words, at the author's line and column."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from pydantic import ValidationError

from ..nearest import near
from ..problem import Mark, Problem
from .plain import Missing, Told
from .written import KEY, UNREADABLE, Step, Written, find, mark_of, shown

Path = tuple[Step, ...]


def problems_in(error: ValidationError, root: Written, way: Path = ()) -> Iterator[Problem]:
    """One problem for each error that has not been reported already.

    `way` leads from `root` to what was validated.
    """
    lines = [line for line in error.errors(include_url=False) if line["input"] is not UNREADABLE]
    unknown = [(*way, *line["loc"]) for line in lines if line["type"] == "extra_forbidden"]
    misspelt = {(*path[:-1], _meant_key(root, path)) for path in unknown}
    for line in lines:
        cause = line.get("ctx", {}).get("error")
        path: Path = (*way, *line["loc"], *getattr(cause, "path", ()))
        if line["type"] == "extra_forbidden":
            yield _unknown_key(root, path)
        elif line["type"] == "missing":
            if path not in misspelt and not _is_cut(root, path):
                yield Problem(_mark(root, path), f"the key '{path[-1]}' is missing here")
        elif isinstance(cause, Missing):
            if not _is_cut(root, path):
                yield Problem(_mark(root, path), str(cause))
        elif not isinstance(cause, Told):
            what = str(cause) if cause else _plainly(line)
            yield Problem(_mark(root, path, getattr(cause, "offset", 0)), what)


def _mark(root: Written, path: Path, offset: int = 0) -> Mark:
    return mark_of(root.file, find(root, path).event, offset)


def _known(root: Written, path: Path) -> tuple[str, ...]:
    inside = find(root, path).inside
    return inside.known if inside is not None else ()


def _is_cut(root: Written, path: Path) -> bool:
    """True where the YAML broke off, so that what is missing may have been written."""
    inside = find(root, path).inside
    return inside is not None and inside.cut


def _meant_key(root: Written, path: Path) -> str | None:
    return near(str(path[-1]), _known(root, path))


def _unknown_key(root: Written, path: Path) -> Problem:
    meant = _meant_key(root, path)
    remedy = f"did you mean '{meant}'?" if meant else f"the keys here are {', '.join(_known(root, path))}"
    return Problem(_mark(root, (*path, KEY)), f"there is no key '{path[-1]}' here; {remedy}")


def _plainly(line: Any) -> str:
    """For the few checks that are pydantic's own."""
    if line["type"] == "tuple_type":
        return f"a list is expected here, not {shown(line['input'])}"
    if line["type"] == "dict_type":
        return f"keys with values are expected here, not {shown(line['input'])}"
    return str(line["msg"])
