"""What the server answers, and to whom: asked in plain HTTP, as no browser would."""

from __future__ import annotations

import json
from pathlib import Path
from urllib.parse import urlencode

import pytest

from typeset.watching.guard import hosts_of, is_welcome

from .small import Served

HOSTS = hosts_of(8000)
OWN = {"Host": "127.0.0.1:8000"}
TABLE = Path("/proc/net/tcp")


@pytest.mark.parametrize(
    ("method", "headers", "welcome"),
    [
        ("GET", OWN, True),
        ("GET", {"Host": "localhost:8000"}, True),
        ("GET", {"Host": "LOCALHOST:8000"}, True),
        ("GET", {**OWN, "Origin": "http://127.0.0.1:8000", "Sec-Fetch-Site": "same-origin"}, True),
        ("GET", {**OWN, "Sec-Fetch-Site": "none"}, True),
        ("POST", {**OWN, "Origin": "http://127.0.0.1:8000"}, True),
        ("GET", {}, False),
        ("GET", {"Host": "attacker.example"}, False),
        ("GET", {"Host": "attacker.example:8000"}, False),
        ("GET", {"Host": "127.0.0.1"}, False),
        ("GET", {"Host": "127.0.0.1:8001"}, False),
        ("GET", {"Host": "127.0.0.1:8000.attacker.example"}, False),
        ("GET", {**OWN, "Origin": "http://attacker.example"}, False),
        ("GET", {**OWN, "Origin": "http://localhost:8000"}, False),
        ("GET", {**OWN, "Origin": "null"}, False),
        ("GET", {**OWN, "Sec-Fetch-Site": "cross-site"}, False),
        ("GET", {**OWN, "Sec-Fetch-Site": "same-site"}, False),
        ("POST", OWN, False),
        ("POST", {**OWN, "Origin": "https://127.0.0.1:8000"}, False),
        ("POST", {**OWN, "Origin": "null"}, False),
        ("DELETE", OWN, False),
    ],
)
def test_only_the_page_itself_is_welcome(method: str, headers: dict[str, str], welcome: bool) -> None:
    assert is_welcome(method, headers, HOSTS) is welcome


def test_who_asks_by_another_name_is_refused_everything(served: Served) -> None:
    for path in ("/", "/book.json", "/news", "/play.json?exercise=plain", "/main.js"):
        status, headers, body = served.ask(path, Host="rebound.example")
        assert (status, b"title" in body) == (403, False)
        assert "Access-Control-Allow-Origin" not in headers


def test_a_page_from_elsewhere_is_refused(served: Served) -> None:
    assert served.ask("/book.json", Origin="http://attacker.example")[0] == 403
    assert served.ask("/book.json", Sec_Fetch_Site="cross-site")[0] == 403


def test_a_handout_is_made_for_the_own_page_alone(served: Served) -> None:
    body = urlencode({"exercise": "plain"}).encode()
    assert served.ask("/handout", "POST", body)[0] == 403
    assert served.ask("/handout", "POST", body, Origin="http://attacker.example")[0] == 403
    status, headers, pdf = served.ask("/handout", "POST", body, Origin=served.address.rstrip("/"))
    assert (status, headers["Content-Type"], pdf[:5]) == (200, "application/pdf", b"%PDF-")
    assert headers["Content-Disposition"] == "inline; filename*=UTF-8''1.1-on-one-surface.pdf"
    assert served.ask("/handout")[0] == 405


@pytest.mark.parametrize(
    "path",
    [
        "/../small.py",
        "/..%2f..%2fetc/passwd",
        "/%2e%2e/%2e%2e/etc/passwd",
        "//etc/passwd",
        "/book.yaml",
        "/01-stairs.yaml",
        "/page/index.html",
        "/main.js/../../server.py",
        "/server.py",
        "/pictures/../../book.yaml/144.png",
        "/pictures/%2e%2e%2fbook/144.png",
        f"/pictures/{'0' * 32}/144.png",
        "/SourceSerifPro-Light.ttf",
        "/file:///etc/passwd",
        "http://attacker.example/book.yaml",
    ],
)
def test_no_file_is_had_that_the_page_is_not_made_of(served: Served, path: str) -> None:
    status, _, body = served.ask(path)
    assert status in (400, 403, 404)
    assert b"root:" not in body and b"chapter" not in body


def test_every_answer_says_what_the_page_may_do(served: Served) -> None:
    for path in ("/", "/main.js", "/book.json", "/nothing", "/play.json?exercise=nobody"):
        _, headers, _ = served.ask(path)
        policy = headers["Content-Security-Policy"]
        assert "default-src 'none'" in policy and "unsafe" not in policy and "frame-ancestors 'none'" in policy
        assert headers["X-Content-Type-Options"] == "nosniff"
        assert headers["Cross-Origin-Resource-Policy"] == "same-origin"


@pytest.mark.skipif(not TABLE.exists(), reason="this system does not tell who listens in /proc")
def test_only_the_loopback_address_is_listened_on(served: Served) -> None:
    # Addresses and ports in hexadecimal, state 0A is listening (proc(5)).
    rows = [line.split()[1:4] for line in TABLE.read_text().splitlines()[1:]]
    listening = [local for local, _, state in rows if state == "0A" and local.endswith(f":{served.port:04X}")]
    assert listening == [f"0100007F:{served.port:04X}"]


def test_a_handout_is_one_of_the_last_good_state_whatever_has_been_broken_since(served: Served) -> None:
    body, own = urlencode({"exercise": "plain"}).encode(), served.address.rstrip("/")
    (served.book / "players.yaml").write_text("usual: nobody\n")
    served.until(lambda told: told["earlier"])
    assert served.ask("/handout", "POST", body, Origin=own)[0] == 200
    (served.book / "players.yaml").unlink()
    served.until(lambda told: not told["earlier"])


def test_an_error_in_the_style_of_handouts_is_told_where_one_is_asked_for(served: Served) -> None:
    style = served.book / "a4-handout.yaml"
    before = served.told()["number"]
    style.write_text("based-on: a4-workbook\nsize: large\n")
    assert not served.until(lambda told: told["number"] > before)["problems"]
    status, _, said = served.ask(
        "/handout", "POST", urlencode({"exercise": "plain"}).encode(), Origin=served.address.rstrip("/")
    )
    style.unlink()
    served.until(lambda told: told["number"] > before + 1)
    assert status == 500 and b"a4-handout.yaml:2:1: 'size' is no key here" in said


def test_a_page_is_a_png_of_one_of_a_few_sizes(served: Served) -> None:
    key = served.told()["book"]["pages"][0]
    status, headers, body = served.ask(f"/pictures/{key}/108.png")
    assert (status, headers["Content-Type"], body[:8]) == (200, "image/png", b"\x89PNG\r\n\x1a\n")
    assert served.ask(f"/pictures/{key}/109.png")[0] == 404
    assert served.ask(f"/pictures/{key}/999999.png")[0] == 404


@pytest.mark.parametrize("tempo", ["0", "19", "401", "-60", "6e1", "sixty", "٦٠", "60.5", ""])
def test_a_tempo_that_nobody_can_play_is_refused(served: Served, tempo: str) -> None:
    status, _, body = served.ask("/play.json?" + urlencode({"exercise": "plain", "tempo": tempo}))
    assert (status, body) == (400, b"a tempo is a number from 20 to 400\n")


def test_how_an_exercise_is_played_follows_its_tempo(served: Served) -> None:
    slow, fast = (
        json.loads(served.ask(f"/play.json?exercise=plain&tempo={tempo}")[2])["round"] for tempo in (60, 120)
    )
    assert (slow["lasts"], fast["lasts"]) == (4.0, 2.0)
    assert [slot for _, slot in slow["reached"]] == list(range(8))


def test_the_list_is_what_the_command_lists(served: Served) -> None:
    told = served.told()["book"]
    assert told["title"] == "Stairs & <i>Landings</i>"
    listed = [
        (one["number"], one["id"], one["loops"]) for chapter in told["chapters"] for one in chapter["exercises"]
    ]
    assert listed[:4] == [
        ("1.1", "plain", True),
        ("1.2", "groove", True),
        ("1.3", "long", True),
        ("1.4", "once", False),
    ]
