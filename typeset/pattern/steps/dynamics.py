"""Steps on how loud strokes are."""

from __future__ import annotations

from dataclasses import dataclass, replace

from ..draft import Draft
from ..selection import Selection
from ..stroke import Dynamic
from .step import DraftStep, Example, step


def _play(draft: Draft, chosen: Selection, dynamic: Dynamic) -> Draft:
    return draft.with_strokes(draft.choose(chosen), lambda stroke, _: replace(stroke, dynamic=dynamic))


@step
@dataclass(frozen=True)
class Accent(DraftStep):
    """Accent the chosen strokes."""

    key = "accent"
    about = "accent the chosen strokes"
    says = {"plain": "Accent {chosen}."}
    example = Example("R L R L", "[1, 3&]", "R! L R L R L R L R L R! L R L R L", first="fit: {bars: 1}")

    chosen: Selection

    def change(self, draft: Draft) -> Draft:
        return _play(draft, self.chosen, Dynamic.ACCENT)


@step
@dataclass(frozen=True)
class Ghost(DraftStep):
    """Play the chosen strokes as ghost strokes."""

    key = "ghost"
    about = "play the chosen strokes as ghost strokes"
    says = {"plain": "Ghost {chosen}."}
    example = Example("R L R L", "{limb: L}", "R l R l R l R l R l R l R l R l", first="fit: {bars: 1}")

    chosen: Selection

    def change(self, draft: Draft) -> Draft:
        return _play(draft, self.chosen, Dynamic.GHOST)


@step
@dataclass(frozen=True)
class Plain(DraftStep):
    """Take accents and ghosts off the chosen strokes."""

    key = "plain"
    about = "take accents and ghosts off the chosen strokes"
    says = {"plain": "Play {chosen} plain, neither accented nor ghosted."}
    example = Example(
        "R! L r L", "{limb: R, dynamic: ghost}", "R! L R L R! L R L R! L R L R! L R L", first="fit: {bars: 1}"
    )

    chosen: Selection

    def change(self, draft: Draft) -> Draft:
        return _play(draft, self.chosen, Dynamic.PLAIN)
