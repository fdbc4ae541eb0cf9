"""The page in a real browser: what a teacher sees of a book that is being written."""

from __future__ import annotations

import io
from pathlib import Path

import pdfplumber
import pytest
from playwright.sync_api import Browser, Page, Response, expect

from .small import LANDINGS, STAIRS, Served, serve, small_book


def in_view(page: Page, served: Served, number: int) -> str:
    """The address of a page's picture, once the one that is due is there."""
    key = served.told()["book"]["pages"][number]
    expect(page.locator(".page").nth(number)).to_have_attribute("data-key", key)
    return page.locator(".page img").nth(number).get_attribute("src") or ""


def scrolled(page: Page) -> float:
    return page.evaluate("document.getElementById('pages').scrollTop")  # type: ignore[no-any-return]


def test_it_opens_with_the_pages_beside_the_list(page: Page, served: Served) -> None:
    told = served.told()["book"]
    exercises = [one for chapter in told["chapters"] for one in chapter["exercises"]]
    assert page.title() == "Stairs & <i>Landings</i> · Shedbook"
    assert page.locator(".page").count() == len(told["pages"])
    assert page.locator(".row .number").all_inner_texts() == [one["number"] for one in exercises]
    figures = page.locator(".row .figure").all_inner_texts()
    levels, ceilings = ([int(words.split()[-1]) for words in figures[part::2]] for part in (0, 1))
    assert levels == [one["level"] for one in exercises]
    assert ceilings == [one["ceiling"] for one in exercises]
    assert in_view(page, served, 0).startswith(f"pictures/{told['pages'][0]}/")
    assert page.locator("#state").inner_text().startswith(f"{len(told['pages'])} pages, as saved at ")


def test_what_an_author_writes_is_never_markup(page: Page) -> None:
    page.locator(".row[data-id=once] .go").click()
    assert page.locator("#title").inner_text() == "Stairs & <i>Landings</i>"
    assert page.locator("#chosen-title").inner_text() == "1.4 <img src=x onerror=alert(1)>"
    assert page.locator("img:not(.paper img), i").count() == 0


def test_an_exercise_is_found_and_shown(page: Page) -> None:
    found = page.locator(".row:not([hidden]) .number")
    page.fill("#search", "a GROOVE")
    assert found.all_inner_texts() == ["1.2"]
    expect(page.locator("#found")).to_have_text("1 exercise")
    page.fill("#search", "2.")
    assert found.all_inner_texts() == ["2.1", "2.2", "2.3"]
    page.fill("#search", "landings grace")
    assert found.all_inner_texts() == ["2.2"]
    page.press("#search", "Enter")
    box = page.locator(".page", has=page.locator("[data-id=flams]")).bounding_box()
    assert box and 0 < box["y"] < 300
    assert page.locator("#chosen-title").inner_text() == "2.2 With a grace note"
    page.fill("#search", "nothing of the kind")
    expect(page.locator("#found")).to_have_text("no exercises")


def test_what_is_saved_is_seen_and_the_place_kept(page: Page, served: Served) -> None:
    page.locator(".row[data-id=long] .go").click()
    number = served.told()["book"]["chapters"][0]["exercises"][2]["page"]
    before, place = in_view(page, served, number), scrolled(page)
    others = [page.locator(".page").nth(n).get_attribute("data-key") for n in range(page.locator(".page").count())]
    served.write("01-stairs.yaml", STAIRS.replace("Four bars down", "Four bars up"))
    expect(page.locator("#chosen-title")).to_have_text("1.3  Four bars up")
    assert in_view(page, served, number) != before
    assert abs(scrolled(page) - place) < 1
    assert page.locator(".page").nth(number + 1).get_attribute("data-key") == others[number + 1]
    expect(page.locator("#state")).to_contain_text("pages changed, the first is")


def test_the_place_is_kept_where_pages_come_before_it(page: Page, served: Served) -> None:
    page.locator(".row[data-id=flams] .go").click()
    head = page.locator(".rail [data-id=flams]")
    before = head.bounding_box()
    served.write("01-stairs.yaml", STAIRS.replace("- id: groove\n", "- id: groove\n    new-page: yes\n"))
    expect(page.locator(".page")).to_have_count(7)
    after = head.bounding_box()
    assert before and after and abs(before["y"] - after["y"]) < 2


def test_a_problem_is_told_with_its_place_and_the_last_good_pages_stay(page: Page, served: Served) -> None:
    page.locator(".row[data-id=groove] .go").click()
    picture = in_view(page, served, 1)
    served.write("01-stairs.yaml", STAIRS.replace("- accent: [2]", "- accent: [9]"))
    expect(page.locator("#problems li")).to_have_count(1)
    assert page.locator("#problems .place").inner_text() == "01-stairs.yaml:12:18"
    assert "9" in page.locator("#problems li").inner_text()
    assert page.locator("#problems .source").inner_text() == "- accent: [9]"
    expect(page.locator("#state")).to_contain_text("Not as saved: what was written since cannot be set.")
    page.locator("#list-button").click()
    page.locator("#state").get_by_role("button", name="01-stairs.yaml:12").click()
    assert page.evaluate("document.activeElement.id") == "problems"
    expect(page.locator("#earlier")).to_contain_text("As it was at ")
    assert page.locator("#pages.earlier .page img").nth(1).get_attribute("src") == picture
    served.write("01-stairs.yaml", STAIRS)
    expect(page.locator("#problems")).to_be_hidden()
    expect(page.locator("#earlier")).to_be_hidden()
    assert page.locator("#pages.earlier").count() == 0


def test_a_handout_of_the_exercise_is_handed_out(page: Page) -> None:
    page.locator(".row[data-id=turning] .go").click()

    def is_handout(answer: Response) -> bool:
        return answer.url.endswith("/handout")

    with page.expect_popup() as opened, page.context.expect_event("response", is_handout) as answered:
        page.locator("#print").click()
    answer = answered.value
    assert answer.status == 200 and answer.headers["content-type"] == "application/pdf"
    opened.value.close()


def test_the_handout_is_one_of_that_exercise(page: Page, served: Served) -> None:
    answer = page.evaluate_handle(
        """async () => {
            const answer = await fetch("handout", { method: "POST", body: new URLSearchParams({ exercise: "turning" }) });
            return Array.from(new Uint8Array(await answer.arrayBuffer()));
        }"""
    ).json_value()
    with pdfplumber.open(io.BytesIO(bytes(answer))) as pdf:
        words = pdf.pages[0].extract_text()
        assert len(pdf.pages) == 1
    assert "Turning in threes" in words and "The door is open" not in words


def test_everything_can_be_done_with_the_keyboard(page: Page, served: Served) -> None:
    keys = page.keyboard
    keys.press("/")
    keys.type("grace")
    keys.press("Enter")
    assert page.locator("#chosen-title").inner_text() == "2.2 With a grace note"
    assert page.evaluate("document.activeElement.closest('.row').dataset.id") == "flams"
    keys.press("Escape")
    keys.press("/")
    keys.press("Escape")
    keys.press("ArrowDown")
    keys.press("ArrowDown")
    keys.press("ArrowUp")
    keys.press("End")
    assert page.locator(".row.chosen").get_attribute("data-id") == "open"
    keys.press("g")
    assert page.evaluate("document.activeElement.id") == "pages"
    for key in "kkj":
        keys.press(key)
    assert page.locator(".row.chosen").get_attribute("data-id") == "flams"
    keys.press(" ")
    expect(page.locator("#play-word")).to_have_text("Stop")
    for key in "++-":
        keys.press(key)
    assert page.locator("#tempo").input_value() == "92"
    for key, box in (("c", "click"), ("l", "loop"), ("i", "count-in")):
        was = page.locator(f"#{box}").is_checked()
        keys.press(key)
        assert page.locator(f"#{box}").is_checked() is not was
    keys.press("Escape")
    expect(page.locator("#play-word")).to_have_text("Play")
    before = page.locator(".page").first.bounding_box()
    keys.press("]")
    larger = page.locator(".page").first.bounding_box()
    assert before and larger and larger["width"] > before["width"]
    keys.press("e")
    assert page.locator("#list").is_hidden()
    keys.press("p")
    assert page.locator("#list").is_visible()
    with page.expect_popup() as opened:
        keys.press("h")
    opened.value.close()
    keys.press("?")
    listed = page.locator("#keys kbd").all_inner_texts()
    assert {"Space", "/", "j", "h", "?", "Esc"} <= set(listed)
    keys.press("Escape")
    assert not page.locator("#keys").is_visible()


def test_every_control_is_reached_by_tab_and_the_list_is_one_stop(page: Page) -> None:
    page.locator(".row[data-id=plain] .go").click()
    page.locator("#list-button").focus()
    reached = []
    for _ in range(30):
        reached.append(page.evaluate("document.activeElement.id || document.activeElement.className"))
        page.keyboard.press("Tab")
    wanted = ["look", "keys-button", "search", "go", "play-here", "pages", "play", "slower", "tempo", "faster"]
    wanted += ["tempo-range", "click", "loop", "count-in", "volume", "print"]
    assert [name for name in reached if name in wanted][: len(wanted)] == wanted


def test_single_keys_can_be_turned_off(page: Page) -> None:
    page.keyboard.press("?")
    page.locator("#single-keys").uncheck()
    page.keyboard.press("Escape")
    page.keyboard.press("e")
    assert page.locator("#list").is_visible()


def test_the_look_follows_the_system_until_it_is_chosen(page: Page) -> None:
    look = page.locator("html")
    expect(look).to_have_attribute("data-look", "light")
    page.emulate_media(color_scheme="dark")
    expect(look).to_have_attribute("data-look", "dark")
    page.keyboard.press("d")
    expect(look).to_have_attribute("data-look", "light")
    page.reload()
    expect(look).to_have_attribute("data-look", "light")


def test_it_says_when_nobody_answers_any_more(browser: Browser, tmp_path: Path) -> None:
    served = serve(small_book(tmp_path / "stairs"))
    page = browser.new_page()
    page.goto(served.address)
    page.wait_for_selector(".row")
    served.process.kill()
    served.process.communicate()
    expect(page.locator("#state")).to_contain_text("shedbook watch is not running")
    assert page.locator(".page").count() > 0
    page.close()


@pytest.mark.parametrize(
    ("shown", "look"),
    [
        ("book", "light"),
        ("problems", "light"),
        ("problems", "dark"),
        ("keys", "dark"),
        ("narrow", "light"),
        ("playing", "dark"),
    ],
)
def test_nothing_keeps_anybody_out(page: Page, served: Served, shown: str, look: str) -> None:
    """By axe-core (Deque), which checks what a machine can of WCAG 2.2 A and AA, contrast among it."""
    from axe_playwright_python.sync_playwright import Axe

    page.emulate_media(color_scheme=look)  # type: ignore[arg-type]
    expect(page.locator("html")).to_have_attribute("data-look", look)
    page.locator(".row[data-id=groove] .go").click()
    if shown == "problems":
        served.write("02-landings.yaml", LANDINGS.replace("as: flam", "as: flamm"))
        page.wait_for_selector("#problems li")
    elif shown == "keys":
        page.keyboard.press("?")
    elif shown == "playing":
        page.keyboard.press(" ")
    elif shown == "narrow":
        page.set_viewport_size({"width": 420, "height": 760})
    tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
    results = Axe().run(page, options={"runOnly": {"type": "tag", "values": tags}})
    found = [
        (one["id"], node["target"], node["failureSummary"])
        for one in results.response["violations"]
        for node in one["nodes"]
    ]
    assert not found
