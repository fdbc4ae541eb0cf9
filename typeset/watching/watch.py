"""Watching a book: the server, what follows the files, and their end."""

from __future__ import annotations

import asyncio
import signal
import socket
import webbrowser
from collections.abc import Callable, Coroutine
from contextlib import suppress
from pathlib import Path
from threading import Thread
from typing import Any

from aiohttp import web

from ..book_files import book_file
from ..problem import OutsideError
from .board import Board
from .following import Follower
from .guard import hosts_of
from .server import Server

LOOPBACK = "127.0.0.1"
"""The one address that is listened on: no other machine reaches it."""

_SHUTDOWN = 0.2
"""Seconds that open answers are given at the end."""


def watch(path: Path, port: int, *, opens: bool, say: Callable[[str], None]) -> None:
    """Serve a book's pages until Ctrl-C; port 0 is any free one. `say` is told where they are.

    Raises OutsideError where the port is taken.
    """
    with suppress(KeyboardInterrupt), _listening(port) as listening:
        asyncio.run(_serve(path, listening, opens, say))


def _listening(port: int) -> socket.socket:
    try:
        return socket.create_server((LOOPBACK, port))
    except OSError as error:
        raise OutsideError(
            f"port {port} on this machine cannot be listened on ({error.strerror}); "
            "leave --port out, and a free one is found"
        ) from error


async def _serve(path: Path, listening: socket.socket, opens: bool, say: Callable[[str], None]) -> None:
    board, ended = Board(), _ended()
    port = listening.getsockname()[1]
    server = Server(board, book_file(path).parent)
    runner = web.AppRunner(server.app(hosts_of(port)), access_log=None, shutdown_timeout=_SHUTDOWN)
    await runner.setup()
    await web.SockSite(runner, listening).start()
    loop = asyncio.get_running_loop()

    def pass_on(news: Coroutine[Any, Any, None]) -> None:
        with suppress(RuntimeError):
            asyncio.run_coroutine_threadsafe(news, loop)

    follower = Follower(
        path,
        tell=lambda state: pass_on(board.show(state)),
        progress=lambda done, total: pass_on(board.tell_progress(done, total)),
    )
    follower.start()
    address = f"http://{LOOPBACK}:{port}/"
    say(f"{path}: watched at {address} until Ctrl-C")
    if opens:
        # A browser in the terminal does not come back; a daemon keeps nobody waiting.
        Thread(target=webbrowser.open, args=(address,), daemon=True).start()
    try:
        await ended.wait()
    finally:
        follower.stop()
        server.drawing.shutdown(wait=False, cancel_futures=True)
        await runner.cleanup()


def _ended() -> asyncio.Event:
    """What is set when somebody ends the watching; where the system cannot tell, Ctrl-C breaks everything off."""
    ended = asyncio.Event()
    for one in (signal.SIGINT, signal.SIGTERM):
        with suppress(NotImplementedError):
            asyncio.get_running_loop().add_signal_handler(one, ended.set)
    return ended
