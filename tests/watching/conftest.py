from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, sync_playwright

from .small import LANDINGS, STAIRS, Served, serve, small_book

CHROMIUM = next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))), None)
ARGUMENTS = ["--no-sandbox", "--autoplay-policy=no-user-gesture-required"]


@pytest.fixture(scope="session")
def running(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """The small book, served to all tests that do not stop it."""
    served = serve(small_book(tmp_path_factory.mktemp("watched") / "stairs"))
    yield served
    served.process.kill()
    served.process.wait()


@pytest.fixture
def served(running: Served) -> Iterator[Served]:
    """The same; afterwards its files are as they were."""
    yield running
    for name, text in (("01-stairs.yaml", STAIRS), ("02-landings.yaml", LANDINGS)):
        if (running.book / name).read_text() != text:
            running.write(name, text)


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """A real Chromium."""
    if CHROMIUM is None:
        pytest.skip("there is no Chromium on this machine; .ci/run installs one")
    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=CHROMIUM, args=ARGUMENTS)
        yield browser
        browser.close()


@pytest.fixture
def page(browser: Browser, served: Served) -> Iterator[Page]:
    """The book's page, opened; whatever it complains of fails the test."""
    context = browser.new_context(viewport={"width": 1300, "height": 850})
    page = context.new_page()
    complaints: list[str] = []
    page.on("console", lambda message: complaints.append(message.text) if message.type == "error" else None)
    page.on("pageerror", lambda error: complaints.append(str(error)))
    page.add_init_script(path=str(Path(__file__).with_name("listen.js")))
    page.goto(served.address)
    page.wait_for_selector(".row")
    yield page
    context.close()
    assert not complaints
