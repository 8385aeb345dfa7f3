"""What is wanted, on the page: by supplier, sold as it is now, printed and got."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable

import httpx
import pytest
from playwright.sync_api import Page


def want(client: httpx.Client, need: str, **more: str) -> None:
    answer = client.post("/wanted", data={"need": need, **more})
    assert answer.status_code == 303, answer.text


def test_what_is_wanted_stands_under_its_supplier_with_what_to_ask_for(
    client: httpx.Client,
) -> None:
    want(client, "6204", quantity="2", supplier="Dunmarrow", price="12,50 EUR")
    want(client, "brake lining, riveted")
    text = client.get("/wanted").text
    assert text.index("From Dunmarrow") < text.index("2 × 6204") < text.index("No supplier yet")
    assert "12.50 EUR each" in text
    assert "Brake part" in text
    alone = client.get("/wanted", params={"supplier": "Dunmarrow"}).text
    assert "6204" in alone
    assert "brake lining" not in alone


def test_the_list_is_a_spreadsheet_in_which_nothing_runs(client: httpx.Client) -> None:
    want(client, '=HYPERLINK("x")')
    answer = client.get("/wanted/list.csv")
    rows = list(csv.reader(io.StringIO(answer.text.removeprefix("\ufeff"))))
    assert answer.headers["content-type"].startswith("text/csv")
    assert not rows[1][0].startswith("=")


def test_one_line_is_changed_got_and_taken_off(client: httpx.Client) -> None:
    want(client, "6204")
    want(client, "6304")
    client.post("/wanted/1/change", data={"quantity": "3", "supplier": "Dunmarrow"})
    assert "3 × 6204" in client.get("/wanted").text
    client.post("/wanted/1/got")
    client.post("/wanted/2/remove")
    assert "Nothing is wanted" in client.get("/wanted").text
    assert "6204" in client.get("/wanted?done=1").text


BAD = [
    ("/wanted", {"need": " "}),
    ("/wanted", {"need": "6204", "quantity": "many"}),
    ("/wanted", {"need": "6204", "quantity": "nan"}),
    ("/wanted", {"need": "6204", "price": "dear"}),
    ("/wanted/9/got", {}),
    ("/wanted/x/remove", {}),
]


@pytest.mark.parametrize(("path", "data"), BAD)
def test_what_cannot_be_written_down_is_told_in_plain_words(
    client: httpx.Client, path: str, data: dict[str, str]
) -> None:
    answer = client.post(path, data=data)
    assert answer.status_code in (404, 422)
    assert "Traceback" not in answer.text


def test_the_page_of_what_is_wanted_is_for_people(
    client: httpx.Client, looked_over: Callable[[str], Page]
) -> None:
    want(client, "6204", quantity="2", supplier="Dunmarrow", price="12.50 EUR", note="n" * 200)
    want(client, "a bush for the brake shaft, 20 × 24 × 18 mm, in bronze, flanged at one end")
    looked_over("/wanted")
