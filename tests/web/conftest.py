"""The page over a real store, served as people get it, and a real browser to look at it with.

For a page's own tests: ``client`` asks over HTTP with a key, ``stranger`` without one; ``page`` is
a tab of chromium that is let in and fails on any error in its console; ``looked_over(path)`` opens
a path in it and checks it for people (axe in light and dark, nothing cut off at 320 to 768 px).
"""

from __future__ import annotations

import os
import shutil
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import httpx
import pytest
import uvicorn
from axe_core_python.sync_playwright import Axe
from playwright.sync_api import Browser, BrowserContext, Page, sync_playwright

from xref.services.open import open_store
from xref.web.keys import Keyring
from xref.web.page import House
from xref.web.serve import HOME, _door, config
from xref.web.worker import Worker

CHROMIUM = ("chromium", "chromium-browser")
INSTALL = "apt-get install -y chromium"
WIDTHS = (320, 390, 768)


@contextmanager
def serving(store: Path, port: int = 0) -> Iterator[House]:
    """The page over ``store`` on a port of its own, in a thread."""
    door = _door(HOME, port)
    at = f"http://{HOME}:{door.getsockname()[1]}"
    with open_store(store, patient=False) as opened:
        worker = Worker()
        house = House(opened, Keyring(store.with_name("devices.json")), worker, (at,))
        server = uvicorn.Server(config(house))
        thread = threading.Thread(target=server.run, kwargs={"sockets": [door]}, daemon=True)
        thread.start()
        while not server.started:
            time.sleep(0.005)
        try:
            yield house
        finally:
            server.should_exit = server.force_exit = True
            thread.join()
            door.close()
            worker.close()
            house.jobs.close()


@pytest.fixture
def store(scenario_path: Path, tmp_path: Path) -> Path:
    """A store of this test's own with the invented scenario in it."""
    return Path(shutil.copy(scenario_path, tmp_path / "page.xref"))


@pytest.fixture
def house(store: Path) -> Iterator[House]:
    """The page, served over the test's store."""
    with serving(store) as served:
        yield served


@pytest.fixture
def client(house: House) -> Iterator[httpx.Client]:
    """Asks as a paired device does, its own forms' Origin with it."""
    at = house.addresses[0]
    cookies = {house.cookie: house.keyring.let_in("test")}
    with httpx.Client(base_url=at, cookies=cookies, headers={"Origin": at}, timeout=60) as asking:
        yield asking


@pytest.fixture
def stranger(house: House) -> Iterator[httpx.Client]:
    """Asks without a key."""
    at = house.addresses[0]
    with httpx.Client(base_url=at, headers={"Origin": at}, timeout=60) as asking:
        yield asking


def _chromium() -> str:
    found = next(filter(None, map(shutil.which, CHROMIUM)), None)
    if found:
        return found
    if os.environ.get("CI"):
        pytest.fail(f"there is no chromium to look with: {INSTALL}")
    pytest.skip(f"no chromium here; to look at the pages: {INSTALL}")


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """One chromium for all tests of a process."""
    with sync_playwright() as playwright:
        root = hasattr(os, "geteuid") and os.geteuid() == 0
        chromium = playwright.chromium.launch(
            executable_path=_chromium(), args=["--no-sandbox"] if root else []
        )
        yield chromium
        chromium.close()


@pytest.fixture
def context(browser: Browser, house: House) -> Iterator[BrowserContext]:
    """A browser that is let in, as wide as a phone."""
    context = browser.new_context(
        base_url=house.addresses[0], viewport={"width": 390, "height": 844}, locale="en-GB"
    )
    let_in(context, house)
    yield context
    context.close()


def let_in(context: BrowserContext, house: House) -> None:
    """Give a browser a key, as if it had been paired."""
    key = house.keyring.let_in("browser")
    context.add_cookies([{"name": house.cookie, "value": key, "url": house.addresses[0]}])


@pytest.fixture
def page(context: BrowserContext) -> Iterator[Page]:
    """A tab; whatever its console complains of fails the test."""
    tab = context.new_page()
    # A busy machine may be slow; nothing here measures it.
    tab.set_default_timeout(180_000)
    complaints: list[str] = []
    # A line that a test has cut is no fault of the page.
    tab.on(
        "console",
        lambda said: (
            complaints.append(said.text)
            if said.type == "error" and "INTERNET_DISCONNECTED" not in said.text
            else None
        ),
    )
    tab.on("pageerror", lambda error: complaints.append(str(error)))
    yield tab
    # A test that cuts the connection itself is not told so by the console.
    assert [text for text in complaints if "ERR_INTERNET_DISCONNECTED" not in text] == []


CUT = """() => {
  const found = [];
  const wide = document.documentElement;
  if (wide.scrollWidth > wide.clientWidth) found.push(`the page is ${wide.scrollWidth} wide`);
  for (const one of document.body.querySelectorAll("*")) {
    const box = one.getBoundingClientRect(), how = getComputedStyle(one);
    if (!box.width || !box.height || one.closest(".skip, .sr, [hidden], svg, .wide")) continue;
    const name = `${one.tagName.toLowerCase()} "${(one.innerText || "").slice(0, 30)}"`;
    if (box.right > wide.clientWidth + 1 || box.left < -1) found.push(`${name} is cut off`);
    const text = [...one.childNodes].some(n => n.nodeType === 3 && n.data.trim());
    if (text && how.overflowX !== "auto" && one.scrollWidth > one.clientWidth + 1
        && how.display !== "inline") found.push(`${name} is cut`);
    if (one.matches("button, .button, select, summary, .top a, input:not([type=hidden])")) {
      const least = one.matches(".key, .main") ? 56 : 44;
      const at = one.matches("[type=checkbox], [type=radio]") ? one.closest("label") || one : one;
      const {width, height} = at.getBoundingClientRect();
      if (height < least - 0.5 || width < least - 0.5)
        found.push(`${name} is ${Math.round(width)} × ${Math.round(height)}, not ${least}`);
    }
  }
  return found;
}"""
"""What is cut off, or too small for a finger, in the page as it is now."""


def faults_for_people(page: Page) -> list[str]:
    """What hinders people in the page that is open, by axe and by our own look at its edges."""
    found = []
    before = page.viewport_size
    for scheme in ("light", "dark"):
        page.emulate_media(color_scheme=scheme)
        told = Axe().run(page, options={"resultTypes": ["violations"]})
        found += [
            f"{scheme}: {fault['id']}: {node['target']}: {node['failureSummary']}"
            for fault in told["violations"]
            for node in fault["nodes"]
        ]
    for width in WIDTHS:
        page.set_viewport_size({"width": width, "height": 844})
        found += [f"{width} px: {fault}" for fault in page.evaluate(CUT)]
    if before:
        page.set_viewport_size(before)
    return found


@pytest.fixture
def looked_over(page: Page) -> Callable[[str], Page]:
    """Opens a path in ``page``, and fails on what hinders people there."""

    def look(path: str) -> Page:
        page.goto(path)
        assert faults_for_people(page) == []
        return page

    return look
