"""Pages as pictures: each drawn when it is asked for, by its key, and kept for a while."""

from __future__ import annotations

from collections import OrderedDict, deque
from functools import partial
from threading import Lock

from ..exchange.spoken import spoken
from ..page.single import SinglePages
from ..pdf import bind
from ..pdf.picture import quick_picture_of

DOTS = (72, 108, 144, 192, 288)
"""The dots an inch that pages are pictured with: enough of them for every screen, few enough to be found again."""

_MOST_BYTES = 64_000_000
_MOST_STATES = 4


class Pictures:
    """The pictures of a book's pages, of its last few states. Any thread may ask; one picture is made at a time."""

    def __init__(self) -> None:
        self._states: deque[SinglePages] = deque(maxlen=_MOST_STATES)
        self._made: OrderedDict[tuple[str, int], bytes] = OrderedDict()
        self._lock = Lock()  # never held while a page is drawn: a new state waits for it
        self._drawing = Lock()

    def add(self, pages: SinglePages) -> None:
        """From now on there are these pages too; those of the oldest states are forgotten."""
        with self._lock:
            self._states.append(pages)

    def get(self, key: str, dots: int) -> bytes | None:
        """A page by its key as a PNG, at one of DOTS; None where no state has it."""
        with self._drawing:
            made = self._made.get((key, dots)) or self._picture(key, dots)
            if made is not None:
                self._made[key, dots] = made
                self._made.move_to_end((key, dots))
                while sum(map(len, self._made.values())) > _MOST_BYTES:
                    self._made.popitem(last=False)
            return made

    def _picture(self, key: str, dots: int) -> bytes | None:
        with self._lock:
            states = tuple(reversed(self._states))
        for pages in states:
            if key in pages.keys:
                alone = pages.draw(pages.keys.index(key))
                pdf = bind(alone, pages.blocks, pages.style, partial(spoken, alone.language))
                return quick_picture_of(pdf, dots)
        return None
