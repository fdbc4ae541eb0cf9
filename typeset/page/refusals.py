"""What a page cannot hold or print."""

from __future__ import annotations


class DoesNotFit(Exception):
    """Something is wider or taller than the room its style gives it. The message says what and why."""


class MissingCharacters(DoesNotFit):
    """A text has `characters` that its faces have no glyph for. The message names them and the text's place."""

    def __init__(self, message: str, text: str, characters: tuple[str, ...]) -> None:
        super().__init__(message)
        self.text = text
        self.characters = characters
