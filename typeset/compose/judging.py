"""How hard works are and how fast they can be played, by a player's figures."""

from __future__ import annotations

from ..judge import Judgement, judge
from ..judge.ceiling import Ceiling, ceiling
from ..judge.level import Level, level
from ..manuscript.figures import Figures
from ..pattern.draft import Draft
from ..pattern.swing import swing_of
from .ground import Work


class Judge:
    """Judges works by a player's figures; in full each only once.

    A series looks at the levels or the ceilings of far more works than it prints, and asks for those alone.
    """

    def __init__(self, figures: Figures) -> None:
        self.figures = figures
        self._known: dict[tuple[int, str], tuple[Draft, Judgement]] = {}

    def __call__(self, work: Work) -> Judgement:
        """Everything there is to say of a work."""
        # Known by identity: hashing all of a draft's music costs more than judging it. Keeping the draft
        # keeps its identity its own.
        draft, feel = work.draft, work.ground.feel
        known = (id(draft), feel)
        if known not in self._known:
            figures, swing = self.figures, swing_of(feel)
            judgement = judge(
                draft.finished, draft.loops, figures.player, figures.kit, figures.weights, swing=swing
            )
            self._known[known] = (draft, judgement)
        return self._known[known][1]

    def level(self, work: Work) -> Level:
        """How hard a work is."""
        return level(work.draft.finished, work.draft.loops, self.figures.kit, self.figures.weights)

    def ceiling(self, work: Work) -> Ceiling:
        """How fast a work can be played."""
        draft, swing = work.draft, swing_of(work.ground.feel)
        return ceiling(draft.finished, draft.loops, self.figures.player, self.figures.kit, swing)
