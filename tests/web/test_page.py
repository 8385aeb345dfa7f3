"""What all pages share: case, languages, plain words for what went wrong, and how they look."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from pathlib import Path

import httpx
import pytest
from playwright.sync_api import BrowserContext, Page
from starlette.responses import Response

from tests.web.conftest import _chromium
from xref.web.app import STATIC, all_pages
from xref.web.page import Ask, House
from xref.web.page import Page as WebPage

WITH_A_QUESTION = {"/part", "/labels/sheet", "/wanted/list.csv"}
"""Addresses that say nothing without a question, or are no page: their own tests look at them."""
LOOKS = sorted(
    {a.path for p in all_pages() for a in p.addresses if a.method == "GET" and "{" not in a.path}
    - WITH_A_QUESTION
)


@pytest.mark.parametrize("path", ["/DEVICES", "/Devices/", "/STATIC/PAGE.CSS", "/PAIR"])
def test_addresses_do_not_mind_upper_and_lower_case(client: httpx.Client, path: str) -> None:
    assert client.get(path, follow_redirects=True).status_code == 200


def test_an_address_of_no_page_is_told_in_plain_words(client: httpx.Client) -> None:
    answer = client.get("/no/such/page")
    assert answer.status_code == 404
    assert "There is no such page" in answer.text


def test_the_language_is_chosen_and_kept(client: httpx.Client) -> None:
    assert '<html lang="en">' in client.get("/devices").text
    answer = client.post("/language", data={"language": "de", "back": "/devices"})
    assert answer.headers["location"] == "/devices"
    assert '<html lang="de">' in client.get("/devices").text
    assert "Geräte" in client.get("/devices").text


@pytest.mark.parametrize("back", ["//evil.example", "/\\evil.example", "https://evil.example", ""])
def test_choosing_a_language_leads_nowhere_else(client: httpx.Client, back: str) -> None:
    answer = client.post("/language", data={"language": "de", "back": back})
    assert answer.headers["location"] == "/"


@pytest.mark.parametrize("path", LOOKS)
def test_every_page_is_for_people(
    path: str, looked_over: Callable[[str], Page], client: httpx.Client
) -> None:
    answer = client.get(path, follow_redirects=True)
    if answer.status_code != 200 or "text/html" not in answer.headers["content-type"]:
        pytest.skip("nothing to look at without more in its address")
    looked_over(path)


def test_the_address_that_is_printed_lets_the_browser_in(
    context: BrowserContext, house: House, page: Page
) -> None:
    context.clear_cookies()
    page.goto(f"/pair#{house.keyring.new_code()}")
    page.wait_for_url("**/")
    assert page.get_by_role("navigation").is_visible()
    assert "#" not in page.url


def test_the_code_may_be_typed_where_no_script_runs(
    context: BrowserContext, house: House, page: Page
) -> None:
    context.clear_cookies()
    page.goto("/pair")
    page.get_by_label("Code").fill(house.keyring.new_code())
    page.get_by_role("button", name="Let in").click()
    page.wait_for_url("**/")


@pytest.fixture
def trial() -> WebPage:
    """A page of the tests' own."""
    return WebPage("question", "/trial")


@pytest.fixture
def house_with_trial(
    trial: WebPage, monkeypatch: pytest.MonkeyPatch, request: pytest.FixtureRequest
) -> House:
    @trial.post("/trial")
    def write(ask: Ask) -> Response:
        ask.opened.source.add("Whimbrel letters", "", "", "")
        return ask.to("/devices")

    @trial.post("/trial/broken")
    def broken(_ask: Ask) -> Response:
        raise ZeroDivisionError("secret words")

    found = (*all_pages(), trial)
    monkeypatch.setattr("xref.web.app.all_pages", lambda: found)
    house: House = request.getfixturevalue("house")
    return house


def test_who_writes_while_another_does_is_told_so_and_keeps_the_form(
    house_with_trial: House, client: httpx.Client, store: Path
) -> None:
    other = sqlite3.connect(store, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    try:
        answer = client.post("/trial", data={"place": 'jack<shaft "left"'})
    finally:
        other.close()
    assert house_with_trial.port
    assert answer.status_code == 409
    assert "Somebody else is writing" in answer.text
    assert 'name="place" value="jack&lt;shaft &#34;left&#34;"' in answer.text
    assert client.post("/trial", data={"place": "x"}).status_code == 303


def test_a_fault_of_our_own_is_told_without_its_insides(
    house_with_trial: House, client: httpx.Client
) -> None:
    answer = client.post("/trial/broken")
    assert house_with_trial.port
    assert answer.status_code == 500
    assert "Something went wrong inside xref" in answer.text
    assert "secret words" not in answer.text
    assert "Traceback" not in answer.text
    assert client.get("/devices").status_code == 200


def test_a_store_that_is_gone_is_told_in_plain_words(client: httpx.Client, store: Path) -> None:
    assert client.get("/").status_code == 200
    store.write_bytes(b"no store at all" * 1000)
    answer = client.get("/", params={"line": "6204"})
    assert answer.status_code == 503
    assert "That did not work" in answer.text


def test_all_scripts_together_stay_small() -> None:
    scripts = {file.name: len(file.read_bytes()) for file in STATIC.glob("*.js")}
    assert sum(scripts.values()) <= 8192, scripts


@pytest.mark.parametrize(
    ("ci", "told"), [("1", pytest.fail.Exception), ("", pytest.skip.Exception)]
)
def test_without_a_browser_the_looks_are_left_out_but_never_in_the_continuous_check(
    ci: str, told: type[BaseException], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("CI", ci)
    monkeypatch.setenv("PATH", "")
    with pytest.raises(told, match="apt-get install -y chromium"):
        _chromium()
