"""The schemas of what an author writes, as files that an editor can be pointed to."""

from __future__ import annotations

import json
from pathlib import Path

from .whole import put_whole

FOLDER = "schemas"
"""Where they stand in a new book: its files name them by this path."""


def kinds() -> tuple[str, ...]:
    """The kinds of files that there are schemas of."""
    from .manuscript import schema

    return schema.kinds()


def schema_text(kind: str) -> str:
    """The schema of a kind of file as JSON. Raises KeyError for a kind that there is not."""
    from .manuscript import schema

    return json.dumps(schema.schema_of(kind), indent=1, ensure_ascii=False) + "\n"


def write_schemas(folder: Path) -> tuple[Path, ...]:
    """Write the schemas of all kinds into a folder; gives the files. Raises OSError where that cannot be."""
    files = {folder / f"{kind}.json": schema_text(kind) for kind in kinds()}
    for file, text in files.items():
        put_whole(file, text.encode())
    return tuple(files)
