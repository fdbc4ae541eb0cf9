"""The command itself: how it begins and how it ends."""

from __future__ import annotations

import signal
import socket
import subprocess
import sys
import time
from pathlib import Path

from .small import serve, small_book


def test_ctrl_c_ends_it_quietly_though_somebody_looks_on(tmp_path: Path) -> None:
    served = serve(small_book(tmp_path / "stairs"))
    with socket.create_connection(("127.0.0.1", served.port)) as looking:
        looking.sendall(f"GET /news HTTP/1.1\r\nHost: 127.0.0.1:{served.port}\r\n\r\n".encode())
        assert looking.recv(100).startswith(b"HTTP/1.1 200")
        begun = time.monotonic()
        served.process.send_signal(signal.SIGINT)
        said = served.process.communicate(timeout=20)
    assert served.process.returncode == 0
    assert said == ("", "")
    assert time.monotonic() - begun < 10  # a second on a quiet machine; the tests run on busy ones


def test_a_port_that_is_taken_is_said_to_be(tmp_path: Path) -> None:
    with socket.create_server(("127.0.0.1", 0)) as taken:
        port = str(taken.getsockname()[1])
        done = subprocess.run(
            [
                sys.executable,
                "-m",
                "typeset",
                "watch",
                str(small_book(tmp_path / "stairs")),
                "--no-open",
                "--port",
                port,
            ],
            capture_output=True,
            text=True,
        )
    assert done.returncode == 3
    assert done.stderr.startswith(f"shedbook: port {port} on this machine cannot be listened on (")
    assert "Traceback" not in done.stderr


def test_a_book_with_errors_from_the_start_is_watched_until_it_is_mended(tmp_path: Path) -> None:
    book = small_book(tmp_path / "stairs")
    good = (book / "book.yaml").read_text()
    (book / "book.yaml").write_text(good.replace("front:", "fornt:"))
    served = serve(book)
    try:
        told = served.told()
        assert told["book"] is None
        assert [(one["file"], one["line"], one["source"]) for one in told["problems"]] == [
            ("book.yaml", 4, "fornt: [contents]")
        ]
        assert served.write("book.yaml", good)["book"] is not None
    finally:
        served.process.kill()
        served.process.communicate()
