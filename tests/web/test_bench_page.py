"""The bench book on the page: kept, photographed, decided and tried, with one hand and offline."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import httpx
import pytest
from playwright.sync_api import Browser, BrowserContext, Page

from tests.web.conftest import let_in
from tests.web.test_photos import photo
from xref.store.notes import bench as book
from xref.web.page import House


def put(client: httpx.Client, **fields: str) -> str:
    """Put a part on the bench; where its own page is."""
    answer = client.post("/bench", data={"place": "jackshaft, left", **fields})
    assert answer.status_code == 303, answer.text
    return answer.headers["location"]


def labels(house: House) -> list[int]:
    with house.opened.store.reading() as conn:
        return [item.id for item in book.items(conn)]


def item(house: House, path: str) -> book.BenchItem:
    with house.opened.store.reading() as conn:
        return book.item(conn, int(path.rpartition("/")[2]))


def test_a_part_goes_from_the_bench_to_its_decision_and_its_outcome(
    client: httpx.Client, house: House
) -> None:
    at = put(client, line="6?04 20x47x14", side="left", note="greasy")
    assert "6204" in client.get(at).text
    assert client.post(f"{at}/decide", data={"number": "6204"}).status_code == 303
    answer = client.post(f"{at}/outcome", data={"result": "fitted", "why": "ran cool"})
    assert answer.status_code == 303
    kept = item(house, at)
    assert (kept.outcome, kept.why, kept.found["side"]) == ("fitted", "ran cool", "left")
    assert "It was fitted" in client.get(at).text
    assert client.post(f"{at}/undecide").status_code == 303
    assert item(house, at).part_id is None


def test_a_code_in_capitals_opens_the_item(client: httpx.Client) -> None:
    assert client.get(put(client).upper()).status_code == 200


@pytest.mark.parametrize("label", ["0", "999", "x", "-1", "1" * 30, "１"])
def test_a_label_that_is_none_is_told_in_plain_words(client: httpx.Client, label: str) -> None:
    answer = client.get(f"/b/{label}")
    assert answer.status_code == 404
    assert "Traceback" not in answer.text


def test_a_place_that_is_missing_is_asked_for_and_nothing_is_kept(
    client: httpx.Client, house: House
) -> None:
    before = labels(house)
    assert client.post("/bench", data={"place": " "}).status_code == 422
    assert labels(house) == before


def test_what_is_sent_twice_is_done_once(client: httpx.Client, house: House) -> None:
    before = len(labels(house))
    first, again = (put(client, once="a-b-c"), put(client, once="a-b-c"))
    assert first == again
    assert len(labels(house)) == before + 1


def test_a_photo_is_kept_shown_and_taken_off(client: httpx.Client, house: House) -> None:
    at = put(client)
    for place in range(2):
        sent = {"photo": ("image.jpg", photo(size=(60 + place, 40)), "image/jpeg")}
        assert client.post(f"{at}/photo", files=sent).status_code == 303
    kept = item(house, at).photos
    assert len(kept) == 2
    shown = client.get(f"/photo/{kept[0][0]}?small")
    assert shown.headers["content-type"] == "image/jpeg"
    assert shown.content[:2] == b"\xff\xd8"
    client.post(f"{at}/photo/away", data={"name": kept[0][1]})
    assert item(house, at).photos == kept[1:]


def test_a_photo_that_is_none_is_refused_and_the_item_stays_as_it_was(
    client: httpx.Client, house: House
) -> None:
    at = put(client)
    bad = {"photo": ("a.jpg", b"<svg/>", "image/jpeg")}
    assert client.post(f"{at}/photo", files=bad).status_code == 422
    assert client.post(f"{at}/photo", data={"photo": "text"}).status_code == 422
    assert (
        client.post(f"{at}/photo", files={"photo": ("a.jpg", bytes(27_000_000))}).status_code == 413
    )
    assert item(house, at).photos == ()


@pytest.mark.parametrize("name", ["0" * 64, "..%2f..%2fetc%2fpasswd", "x"])
def test_no_other_file_is_shown_as_a_photo(client: httpx.Client, name: str) -> None:
    assert client.get(f"/photo/{name}").status_code == 404


def test_a_check_is_answered_by_its_button(page: Page, client: httpx.Client, house: House) -> None:
    at = put(client, line="20x47x14")
    page.goto(at)
    form = page.locator("form.card").first
    with page.expect_navigation():
        form.get_by_role("button").first.click()
    assert item(house, at).asked.get("seen") or item(house, at).asked.get("cannot")


def test_the_whole_job_is_done_without_script(browser: Browser, house: House) -> None:
    context = browser.new_context(base_url=house.addresses[0], java_script_enabled=False)
    let_in(context, house)
    page = context.new_page()
    page.goto("/bench/new")
    page.get_by_label("Where it came off").fill("rear axle, left")
    page.get_by_label("What is on it").fill("6?04 20x47x14")
    page.get_by_role("button", name="Keep it").click()
    assert re.search(r"/b/\d+$", page.url)
    page.get_by_role("button", name="It is this one 6204", exact=True).click()
    assert "It is 6204" in page.content()
    context.close()


def test_the_pages_of_the_bench_are_for_people(
    looked_over: Callable[[str], Page], client: httpx.Client
) -> None:
    at = put(client, line="6?04 20x47x14", note="x" * 300)
    client.post(f"{at}/photo", files={"photo": ("image.jpg", photo(size=(900, 300)), "image/jpeg")})
    looked_over("/bench")
    looked_over("/bench/new")
    looked_over(at)
    client.post(f"{at}/decide", data={"number": "6204"})
    looked_over(at)


def test_what_is_written_without_a_connection_is_sent_when_there_is_one(
    context: BrowserContext, page: Page, house: House
) -> None:
    before = labels(house)
    page.goto("/bench/new")
    page.get_by_label("Where it came off").fill("tender, left buffer")
    context.set_offline(True)
    page.get_by_role("button", name="Keep it").click()
    page.get_by_text("No connection").wait_for()
    assert labels(house) == before
    context.set_offline(False)
    page.get_by_text("has been sent").wait_for(timeout=15_000)
    page.reload()
    assert len(labels(house)) == len(before) + 1


def test_two_devices_on_one_item_do_not_undo_each_other(
    browser: Browser, page: Page, client: httpx.Client, house: House, tmp_path: Path
) -> None:
    at = put(client, line="20x47x14")
    other_context = browser.new_context(base_url=house.addresses[0])
    let_in(other_context, house)
    other = other_context.new_page()
    for tab in (page, other):
        tab.goto(at)
    file = tmp_path / "p.jpg"
    file.write_bytes(photo())
    other.get_by_label("Take or choose a photo").set_input_files(file)
    other.get_by_role("button", name="Add the photo").click()
    other.wait_for_selector("img")
    page.get_by_label("Seen or measured since").fill("6?04")
    page.get_by_role("button", name="Add", exact=True).click()
    page.wait_for_selector("img")
    kept = item(house, at)
    assert kept.asked["marks"] == ["6?04"]
    assert len(kept.photos) == 1
    other_context.close()
