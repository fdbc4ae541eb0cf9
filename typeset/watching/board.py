"""The board: what is seen now, and who has to be told when that changes. It lives in the server's own thread."""

from __future__ import annotations

import asyncio
import json
import secrets
from collections.abc import AsyncIterator
from dataclasses import dataclass, field

from .pictures import Pictures
from .state import State


@dataclass
class Board:
    """The newest state of a book. A `session` tells this run from an earlier one at the same address."""

    state: State = field(default_factory=State)
    pictures: Pictures = field(default_factory=Pictures)
    session: str = field(default_factory=lambda: secrets.token_hex(8))
    _progress: tuple[int, int] | None = None
    _changed: asyncio.Condition = field(default_factory=asyncio.Condition)

    async def show(self, state: State) -> None:
        """From now on the book is in this state."""
        self.state, self._progress = state, None
        if state.good and not state.is_earlier:
            self.pictures.add(state.good.pages)
        await self._call()

    async def tell_progress(self, done: int, total: int) -> None:
        """So many of so many engravings are done."""
        self._progress = (done, total) if done < total else None
        await self._call()

    async def _call(self) -> None:
        async with self._changed:
            self._changed.notify_all()

    async def news(self) -> AsyncIterator[str]:
        """What is new, as JSON, at once and then whenever something is; what nobody has time for is left out."""
        told = ""

        def is_new() -> bool:
            return self._news() != told

        while True:
            async with self._changed:
                await self._changed.wait_for(is_new)
            told = self._news()
            yield told

    def _news(self) -> str:
        return json.dumps({"session": self.session, "number": self.state.number, "progress": self._progress})
