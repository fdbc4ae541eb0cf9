"""Which files of a book another one may name."""

from __future__ import annotations

from pathlib import Path, PurePosixPath

from ..problem import Mark
from ..text_file import FileTrouble, leads_out, short


def inside(folder: Path, name: str, asked_at: Mark) -> Path:
    """The path of a chapter that a book names; raises FileTrouble where it leaves the book's folder."""
    parts, said = PurePosixPath(name).parts, f"'{short(name)}'"
    if not name.strip() or "\\" in name or ":" in name or name.startswith("/") or ".." in parts:
        raise FileTrouble(asked_at, f"{said} is no name of a file in the book's folder; chapters stand there")
    path = folder / name
    if leads_out(path, folder):
        raise FileTrouble(asked_at, f"{said} leads out of the book's folder; chapters stand inside it")
    return path
