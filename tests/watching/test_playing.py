"""Playing along in a real browser: what sounds when, and the mark over the notes at the same times."""

from __future__ import annotations

import json
from statistics import median
from typing import Any
from urllib.parse import urlencode

import pytest
from playwright.sync_api import Page, expect

from .small import STAIRS, Served

NEAR = 0.002
"""Seconds: the page is told times to a hundred thousandth."""

LATE = 0.2
"""Seconds."""

FRAMES = 0.1
"""Seconds that the screen of a busy machine may lag behind its sound; a quiet one's lags by one picture of sixty."""

WATCH = """(seconds) => new Promise((done) => {
    const seen = [];
    const ends = performance.now() + 1000 * seconds;
    const look = () => {
        const mark = document.querySelector(".mark");
        if (mark && !mark.hidden) {
            const box = mark.getBoundingClientRect();
            const page = mark.closest(".page");
            const paper = page.getBoundingClientRect();
            seen.push({
                ...mark.dataset,
                waits: mark.classList.contains("waits"),
                clock: soundClock.currentTime - (soundClock.outputLatency || 0) - (soundClock.baseLatency || 0),
                page: Number(page.dataset.page) - 1,
                middle: (box.left + box.width / 2 - paper.left) / paper.width,
                top: (box.top - paper.top) / paper.height,
                bottom: (box.bottom - paper.top) / paper.height,
            });
        }
        if (performance.now() < ends) requestAnimationFrame(look);
        else done(seen);
    };
    look();
})"""


def plan(served: Served, exercise: str, tempo: int) -> dict[str, Any]:
    return json.loads(served.ask("/play.json?" + urlencode({"exercise": exercise, "tempo": tempo}))[2])  # type: ignore[no-any-return]


def start(page: Page, exercise: str, tempo: int, **boxes: bool) -> None:
    """Choose an exercise and play it; boxes are `click`, `loop`, `count_in`."""
    page.locator(f".row[data-id={exercise}] .go").click()
    page.fill("#tempo", str(tempo))
    page.locator("#tempo").dispatch_event("change")
    for name, is_on in boxes.items():
        page.locator(f"#{name.replace('_', '-')}").set_checked(is_on)
    page.locator("#play").click()


def heard(page: Page) -> list[float]:
    """The times at which anything sounded, from the first on."""
    times = sorted(set(page.evaluate("heard")))
    return [time - times[0] for time in times]


def nearest(time: float, times: list[float]) -> float:
    """How far the nearest of these times is."""
    return min(abs(time - other) for other in times)


def x_at(plan: dict[str, Any], time: float) -> float:
    """Where the mark belongs at a time of the round: between two notes of a system at their share of the way.

    After the last note of a system it goes on as it came.
    """
    places = [(index, x) for index, system in enumerate(plan["systems"]) for x in system["slots"]]
    reached = [*plan["round"]["reached"], (plan["round"]["lasts"], None)]
    index = max(n for n, (when, _) in enumerate(reached) if when <= time)
    (when, slot), (after, following) = reached[index : index + 2]
    system, x = places[slot]
    goes_on = following is not None and places[following][0] == system
    way = places[following][1] - x if goes_on else x - places[slot - 1][1]
    return x + way * (time - when) / (after - when)  # type: ignore[no-any-return]


@pytest.mark.parametrize("exercise", ["groove", "flams"])
def test_everything_sounds_when_it_is_written(page: Page, served: Served, exercise: str) -> None:
    wanted = plan(served, exercise, 240)
    start(page, exercise, 240)
    page.wait_for_timeout(2100)
    page.locator("#play").click()
    lead, around = wanted["countIn"], wanted["round"]
    expected = {time for time, *_ in lead["clicks"]}
    for turn in range(4):
        begins = lead["lasts"] + turn * around["lasts"]
        expected |= {begins + time for time, *_ in around["drums"] + around["clicks"]}
    times = heard(page)
    due = sorted(time for time in expected if time <= times[-1] + NEAR)
    assert len(due) > 12
    # A browser that is kept from its work sounds what is overdue at once: on a busy machine one in ten may be late.
    on_time = [time for time in times if nearest(time, due) < NEAR]
    assert len(on_time) >= 0.9 * len(times)
    assert all(nearest(time, times) < LATE for time in due)


@pytest.mark.parametrize("exercise", ["groove", "long"])
def test_the_mark_is_over_the_note_that_sounds(page: Page, served: Served, exercise: str) -> None:
    wanted, book = plan(served, exercise, 160), served.told()["book"]
    start(page, exercise, 160, count_in=False)
    seen = page.evaluate(WATCH, 2.2)
    first = min(page.evaluate("heard"))
    playing = [one for one in seen if not one["waits"]]
    assert len(playing) > 15 and len({one["slot"] for one in playing}) > 6
    lags: list[float] = []
    tops = {system["first"]: system["top"] / book["height"] for system in wanted["systems"]}
    for one in playing:
        time, turn = float(one["time"]), int(one["round"])
        assert float(one["x"]) == pytest.approx(x_at(wanted, time), abs=0.1)
        # On the screen it stands where it says that it is, within a pixel of a page of some 800.
        assert one["middle"] * book["width"] == pytest.approx(float(one["x"]), abs=1)
        system = max(start for start in tops if start <= int(one["slot"]))
        assert one["top"] < tops[system] < one["bottom"]
        # The time that it shows is that of the sound, as it was when the screen was last drawn.
        lags.append(one["clock"] - (first + turn * wanted["round"]["lasts"] + time))
    assert min(lags) > -NEAR and median(lags) < FRAMES


def test_during_the_count_in_it_waits_at_the_first_note(page: Page, served: Served) -> None:
    wanted = plan(served, "plain", 100)
    start(page, "plain", 100)
    seen = page.evaluate(WATCH, 0.8)
    assert seen and all(one["waits"] for one in seen)
    assert all(float(one["x"]) == pytest.approx(wanted["systems"][0]["slots"][0], abs=0.01) for one in seen)


def test_without_a_click_the_drums_alone_are_heard(page: Page, served: Served) -> None:
    wanted = plan(served, "once", 240)["round"]
    start(page, "once", 240, click=False, count_in=False)
    page.wait_for_timeout(900)
    first = wanted["drums"][0][0]
    strokes = sorted({time - first for time, *_ in wanted["drums"]})
    assert heard(page) == pytest.approx(strokes[: len(heard(page))], abs=NEAR)


def test_without_a_count_in_a_pickup_is_heard_before_the_first_round(page: Page, served: Served) -> None:
    served.write("01-stairs.yaml", STAIRS.replace("- id: groove\n", "- id: groove\n    pickup: R L\n"))
    wanted = plan(served, "groove", 240)
    alone, around = wanted["pickup"], wanted["round"]
    start(page, "groove", 240, click=False, count_in=False)
    seen = page.evaluate(WATCH, 0.9)
    strokes = {time for time, *_ in alone["drums"]} | {alone["lasts"] + time for time, *_ in around["drums"]}
    assert alone["lasts"] == 0.25 and len(alone["drums"]) == 2
    assert heard(page) == pytest.approx(sorted(strokes)[: len(heard(page))], abs=NEAR)
    assert {"0", "1"} <= {one["slot"] for one in seen}


def test_what_is_played_once_ends_by_itself_and_goes_round_where_it_is_asked_to(page: Page) -> None:
    start(page, "once", 240, count_in=False)
    expect(page.locator("#play-word")).to_have_text("Stop")
    expect(page.locator("#play-word")).to_have_text("Play", timeout=6000)
    page.evaluate("heard.length = 0")
    start(page, "once", 240, count_in=False, loop=True)
    page.wait_for_timeout(1600)
    assert page.locator("#play-word").inner_text() == "Stop"
    assert heard(page)[-1] > 1.2


def test_a_new_tempo_is_taken_up_in_the_middle_of_the_music(page: Page, served: Served) -> None:
    start(page, "groove", 60, count_in=False)
    page.wait_for_timeout(600)
    page.locator("#faster").click()
    page.fill("#tempo", "240")
    page.locator("#tempo").dispatch_event("change")
    seen = page.evaluate(WATCH, 1.3)
    assert page.locator("#play-word").inner_text() == "Stop"
    page.locator("#play").click()
    late = [one for one in seen[-12:] if not one["waits"]]
    wanted = plan(served, "groove", 240)
    for one in late:
        assert 0 <= float(one["time"]) <= wanted["round"]["lasts"] + 0.05
    gaps = [after - before for before, after in zip(heard(page), heard(page)[1:], strict=False)][-6:]
    assert all(gap == pytest.approx(0.125, abs=0.02) for gap in gaps)


def test_the_chosen_exercise_alone_plays(page: Page) -> None:
    page.locator(".row[data-id=plain] .play-here").click()
    assert page.locator(".row .playing").count() == 1
    page.locator(".row[data-id=groove] .play-here").click()
    assert page.locator("#chosen-title").inner_text() == "1.2 As a groove"
    assert page.locator(".row[data-id=groove] .playing").count() == 1
    page.locator(".rail [data-id=groove]").click()
    expect(page.locator("#play-word")).to_have_text("Play")
    assert page.locator(".playing").count() == 0


def test_what_is_saved_is_heard_without_starting_again(page: Page, served: Served) -> None:
    start(page, "groove", 200, count_in=False)
    page.wait_for_timeout(300)
    served.write("01-stairs.yaml", STAIRS.replace("id: groove\n", "id: groove\n    note: Listen.\n"))
    page.wait_for_timeout(700)
    assert page.locator("#play-word").inner_text() == "Stop"
    seen = page.evaluate(WATCH, 0.4)
    assert seen
    served.write("01-stairs.yaml", STAIRS.replace("id: groove\n", "id: ditch\n"))
    expect(page.locator("#play-word")).to_have_text("Play")
