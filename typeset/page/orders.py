"""An order of strokes in letters, as the index and the title page print it."""

from __future__ import annotations

from collections.abc import Sequence

from ..pattern.stroke import Slot
from ..style.music import Letters

_SILENCE = "–"


def letters_of(order: Sequence[Slot], letters: Letters) -> tuple[str, ...]:
    """An order in a style's letters: strokes that sound together are joined by a plus, a silence is a dash."""
    return tuple("+".join(letters.of(stroke.limb) for stroke in slot) or _SILENCE for slot in order)
