"""Chapters that were drawn before, found again by all that they depend on.

Neither a chapter's pages nor what is drawn on them depend on where they stand in the book or on the paper, so a
change in one chapter, or of the margins, draws no other chapter again.
"""

from __future__ import annotations

import hashlib
import json
import pickle
from contextlib import suppress
from dataclasses import dataclass
from fractions import Fraction
from functools import partial
from typing import Any

from ..compose.book import Chapter
from ..compose.engraving import Engraving, NoteSpecimen
from ..kept import Shelf, read_with
from .leaf import Leaf, Pageful, as_drawn
from .marks import Anchor, Begins, Drawn, Entry, Link, Music, Role
from .setting import Setting


@dataclass(frozen=True)
class Keep:
    """Finds chapters on a shelf, and keeps there what is drawn. `program` tells its versions from one another.

    A `fresh` one passes over what is there.
    """

    shelf: Shelf
    program: str
    fresh: bool = False

    def get(self, chapter: Chapter, setting: Setting) -> Pageful | None:
        """A chapter's pages as they were drawn in such a setting; None where they were not."""
        body = None if self.fresh else self.shelf.get(self._key(chapter, setting))
        return read_with(partial(_unpacked, chapter), body)

    def put(self, chapter: Chapter, setting: Setting, pageful: Pageful) -> Pageful:
        """Draw a chapter's pages and keep them; where they cannot be kept, they are drawn again the next time."""
        ready = Pageful(tuple(map(as_drawn, pageful.leaves)), pageful.on_right)
        with suppress(OSError):
            self.shelf.put(self._key(chapter, setting), _packed(ready, chapter))
        return ready

    def _key(self, chapter: Chapter, setting: Setting) -> str:
        """A hash of all that its pages depend on. Blocks follow from the music, the staff and the program."""
        depends = (
            self.program,
            setting.style.model_dump_json(),
            setting.words.language,
            setting.mirrored,
            setting.for_teacher,
        )
        return hashlib.sha256(repr(depends).encode() + pickle.dumps(chapter, protocol=5)).hexdigest()


def _packed(pageful: Pageful, chapter: Chapter) -> bytes:
    """A line of facts, then what is drawn on each page. Music is told by its place among the chapter's."""
    places = {engraving: place for place, engraving in enumerate(chapter.engravings)}
    about = [_about(leaf, places) for leaf in pageful.leaves]
    facts = json.dumps({"right": pageful.on_right, "leaves": about})
    return "".join([facts, "\n", *(leaf.drawn.content for leaf in pageful.leaves)]).encode("ascii")


def _about(leaf: Leaf, places: dict[Engraving, int]) -> dict[str, Any]:
    one = leaf.drawn
    return {
        "size": len(one.content),
        "leaf": [leaf.heading, leaf.opens, leaf.bare, leaf.names],
        "sections": [[begins.role.value, begins.withheld, begins.says] for begins in one.sections],
        "music": [[at.x, at.y, _name(at.engraving, places), at.scale, section] for at, section in one.music],
        "links": [[*(link.x0, link.y0, link.x1, link.y1, link.to, link.outside), of] for link, of in one.links],
        "places": one.places,
        "glyphs": one.glyphs,
    }


def _unpacked(chapter: Chapter, body: bytes) -> Pageful:
    """What was packed. Of anything else it raises what `read_with` passes over."""
    line, _, contents = body.decode("ascii").partition("\n")
    facts = json.loads(line)
    leaves: list[Leaf] = []
    start = 0
    for about in facts["leaves"]:
        end = start + about["size"]
        heading, opens, bare, names = about["leaf"]
        leaves.append(Leaf((), heading, opens, bare, tuple(names), _told(about, contents[start:end], chapter)))
        start = end
    if not leaves or start != len(contents):
        raise ValueError("what is drawn is not what the facts say")
    return Pageful(tuple(leaves), facts["right"])


def _told(about: dict[str, Any], content: str, chapter: Chapter) -> Drawn:
    return Drawn(
        content,
        tuple(Begins(Role(role), withheld, says) for role, withheld, says in about["sections"]),
        tuple(
            (Music(x, y, _engraving(name, chapter), scale), section)
            for x, y, name, scale, section in about["music"]
        ),
        tuple((Link(*facts), section) for *facts, section in about["links"]),
        tuple(_place(*facts) for facts in about["places"]),
        tuple((font, characters) for font, characters in about["glyphs"]),
    )


def _place(y: float, *facts: Any) -> Anchor | Entry:
    return Anchor(y, *facts) if len(facts) == 1 else Entry(y, *facts)


def _name(engraving: Engraving, places: dict[Engraving, int]) -> int | str:
    """What music is told by: its place among the chapter's, or its length where it is the note of a tempo."""
    return str(engraving.length) if isinstance(engraving, NoteSpecimen) else places[engraving]


def _engraving(name: int | str, chapter: Chapter) -> Engraving:
    return NoteSpecimen(Fraction(name)) if isinstance(name, str) else chapter.engravings[name]
