"""What is answered to the page: itself, the book as data, pages as pictures, news, how to play, handouts."""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from functools import partial
from importlib import resources
from pathlib import Path
from typing import TypeVar
from urllib.parse import quote

from aiohttp import web

from ..built import Built, Run, SheetOrder
from ..compose.book import Exercise
from ..engrave import LocalThreads
from ..handouts import file_name, make_sheet_at
from ..page.families import font_file
from ..problem import BookError, NotThere, OutsideError
from .board import Board
from .guard import HEADERS, guard
from .pictures import DOTS
from .state import Good
from .telling import played, told

Value = TypeVar("Value")

_TYPES = {".html": "text/html", ".css": "text/css", ".js": "text/javascript", ".svg": "image/svg+xml"}
_FONTS = ("SourceSerifPro-Regular", "SourceSerifPro-Semibold", "SourceSansPro-Regular", "SourceSansPro-Semibold")

_FOREVER = {"Cache-Control": "private, max-age=31536000, immutable"}
"""What is named by what is in it never changes."""

_LARGEST_QUESTION = 16_384
_HEARTBEAT = 15
"""Seconds after which a silent line says that it still stands."""

TEMPOS = range(20, 401)
"""Beats a minute that an exercise can be played at."""


@dataclass(frozen=True)
class Server:
    """Answers for the book on a board. `folder` is the book's."""

    board: Board
    folder: Path
    # Drawing and picturing take turns: their libraries are not made for several threads.
    drawing: ThreadPoolExecutor = field(default_factory=lambda: ThreadPoolExecutor(1))

    def app(self, hosts: frozenset[str]) -> web.Application:
        """The application that answers when it is asked by one of these names."""
        app = web.Application(middlewares=[guard(hosts)], client_max_size=_LARGEST_QUESTION)
        app.add_routes([web.get(f"/{path}", partial(_file, content, kind)) for path, content, kind in _own_files()])
        app.add_routes(
            [
                web.get("/book.json", self.book),
                web.get("/news", self.news),
                web.get("/play.json", self.play),
                web.get("/pictures/{key:[0-9a-f]+}/{dots:[0-9]+}.png", self.picture),
                web.post("/handout", self.handout),
            ]
        )
        return app

    async def book(self, _: web.Request) -> web.Response:
        """The list, the problems, the pages by their keys."""
        return web.json_response({"session": self.board.session, **told(self.board.state, self.folder)})

    async def news(self, request: web.Request) -> web.StreamResponse:
        """A stream of server-sent events (WHATWG HTML, 9.2), one for each new state."""
        stream = web.StreamResponse(headers={**HEADERS, "Content-Type": "text/event-stream"})
        await stream.prepare(request)
        news = self.board.news()
        waiting = asyncio.ensure_future(anext(news))
        try:
            while True:
                done, _ = await asyncio.wait({waiting}, timeout=_HEARTBEAT)
                await stream.write(f"data: {waiting.result()}\n\n".encode() if done else b": still here\n\n")
                if done:
                    waiting = asyncio.ensure_future(anext(news))
        except ConnectionResetError:
            return stream
        finally:
            waiting.cancel()

    async def picture(self, request: web.Request) -> web.Response:
        """A page by its key."""
        dots = int(request.match_info["dots"])
        if dots not in DOTS:
            raise web.HTTPNotFound
        made = await self._drawn(lambda: self.board.pictures.get(request.match_info["key"], dots))
        if made is None:
            raise web.HTTPNotFound
        return web.Response(body=made, content_type="image/png", headers=_FOREVER)

    async def play(self, request: web.Request) -> web.Response:
        """How an exercise sounds at a tempo, and where its notes stand."""
        good, exercise = self._asked_for(request.query.get("exercise", ""))
        asked = request.query.get("tempo")
        if asked is not None and not (asked.isascii() and asked.isdecimal() and int(asked) in TEMPOS):
            raise web.HTTPBadRequest(text=f"a tempo is a number from {TEMPOS[0]} to {TEMPOS[-1]}\n")
        return web.json_response(played(good, exercise, int(asked) if asked else None))

    async def handout(self, request: web.Request) -> web.Response:
        """One exercise of the last good state as a handout, to be looked at or printed."""
        form = await request.post()
        good, exercise = self._asked_for(str(form.get("exercise", "")))
        try:
            built = await self._drawn(lambda: _handout(good, exercise))
        except (BookError, NotThere, OutsideError) as error:
            return web.Response(status=500, text=f"{error}\n")
        name = quote(f"{exercise.number}-{file_name(exercise.title)}.pdf")
        disposition = f"inline; filename*=UTF-8''{name}"
        return web.Response(
            body=built.pdf, content_type="application/pdf", headers={"Content-Disposition": disposition}
        )

    def _asked_for(self, name: str) -> tuple[Good, Exercise]:
        good = self.board.state.good
        exercise = good.book.find(name) if good else None
        if good is None or exercise is None:
            raise web.HTTPNotFound(text="there is no such exercise\n")
        return good, exercise

    async def _drawn(self, make: Callable[[], Value]) -> Value:
        return await asyncio.get_running_loop().run_in_executor(self.drawing, make)


def _handout(good: Good, exercise: Exercise) -> Built:
    """An exercise as a handout. Raises as `make_sheet_at` does, and BookError where the style has errors."""
    if isinstance(good.handouts, BookError):
        raise BookError(good.handouts.problems)
    return make_sheet_at(good.handouts, SheetOrder((exercise.id,), title=exercise.title), Run(), LocalThreads(1))


async def _file(content: bytes, kind: str, _: web.Request) -> web.Response:
    return web.Response(body=content, headers={"Content-Type": kind})


def _own_files() -> list[tuple[str, bytes, str]]:
    """Every file that the page is made of: its path, its content, its type. There are no others to be had."""
    files = []
    for file in sorted(resources.files(__package__).joinpath("page").iterdir(), key=lambda file: file.name):
        ending = Path(file.name).suffix
        if ending in _TYPES:
            path = "" if file.name == "index.html" else file.name
            files.append((path, file.read_bytes(), f"{_TYPES[ending]}; charset=utf-8"))
    files += [(f"{font}.ttf", font_file(font).read_bytes(), "font/ttf") for font in _FONTS]
    return files
