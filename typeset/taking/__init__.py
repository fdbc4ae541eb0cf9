"""Taking music from outside: a MIDI or MusicXML file in, a chapter's YAML out."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from ..problem import BookError, Mark, Problem, Weight

if TYPE_CHECKING:
    from .piece import Found

__all__ = ["Taken", "take"]

_MIDI, _PACKED = b"MThd", b"PK\x03\x04"


@dataclass(frozen=True)
class Taken:
    """A chapter's YAML, and what of the file could not be read, as warnings."""

    text: str
    left_out: tuple[Problem, ...]
    exercises: int


def take(path: Path) -> Taken:
    """Write the chapter that a MIDI file (.mid) or a MusicXML score (.musicxml, .mxl) holds.

    What kind of file it is, is seen from its content. Raises BookError for one that cannot be read.
    """
    from .piece import NotRead

    try:
        return _taken(_found(path), path)
    except NotRead as error:
        raise BookError([Problem(Mark(path, error.line), str(error))]) from None


def _found(path: Path) -> Found:
    """The pieces in a file. Raises NotRead."""
    from .piece import MOST_BYTES, NotRead
    from .words import plain

    name = plain(path.stem) or "Drums"
    with path.open("rb") as file:
        content = file.read(MOST_BYTES + 1)
    if len(content) > MOST_BYTES:
        raise NotRead(f"a file of more than {MOST_BYTES // 1024 // 1024} MB is not read; take a part of it")
    if content.startswith(_MIDI):
        from .bars import pieces_in
        from .midi import read_midi

        return pieces_in(read_midi(content, name))
    from .musicxml import read_musicxml
    from .tree import unpacked

    return read_musicxml(unpacked(content) if content.startswith(_PACKED) else content, name)


def _taken(found: Found, path: Path) -> Taken:
    """The chapter of what was found. Raises NotRead where that is nothing."""
    from ..manuscript.figures import standard_figures
    from .chapter import chapter_yaml
    from .cutting import cut
    from .entries import Entries
    from .limbs import with_limbs
    from .names import Names
    from .piece import NotRead, Remark
    from .words import plain

    figures, names = standard_figures(), Names()
    pieces = [part for piece in found.pieces for part in cut(piece)]
    if not pieces:
        raise NotRead("there is nothing in this file that a drummer could play")
    left_out, entries = [*found.remarks], []
    for piece in pieces:
        # Somebody plays the file at its tempo, so what cannot be done at all is measured by who can do most.
        limbed = with_limbs(piece, figures.players["advanced"], figures.kit)
        made = Entries(piece, limbed, names)
        entries += made.all()
        named = f"{piece.title}: " if len(pieces) > 1 else ""
        left_out += (Remark(f"{named}{what}") for what in (*limbed.left_out, *made.left_out))
    lines = {remark.what: Problem(Mark(path, remark.line), remark.what, Weight.WARNING) for remark in left_out}
    text = chapter_yaml(found.title, plain(path.name), list(lines), entries, names)
    return Taken(text, tuple(lines.values()), len(entries))
