"""Parts, machines, sources and history on the page: looked up, written down, taken back."""

from __future__ import annotations

from collections.abc import Callable

import httpx
import pytest
from playwright.sync_api import Page

from xref.web.page import House


def post(client: httpx.Client, path: str, **fields: str) -> httpx.Response:
    answer = client.post(path, data=fields)
    assert answer.status_code == 303, answer.text
    return client.get(answer.headers["location"])


def test_a_part_is_written_down_and_all_that_is_said_of_it_stands_on_its_page(
    client: httpx.Client,
) -> None:
    post(client, "/parts", number="QF-9001/2", maker="Quillfeather", words="bush, brake shaft")
    told = {"number": "QF-9001/2", "maker": "Quillfeather"}
    post(client, "/part/replaced", **told, new="QF-9002, QF-9003", kind="set")
    post(client, "/part/serves", **told, other="DM-77", grade="stated", source="Dunmarrow list")
    post(client, "/part/range", **told, model="Whimbrel", first="4512")
    text = post(client, "/part/mark", **told, text="QQ 11", role="casting").text
    for words in ("QF-9002", "DM-77", "4512", "QQ 11", "bush, brake shaft", "Brake part"):
        assert words in text


def test_a_number_leads_to_its_part_and_one_that_is_not_there_to_the_nearest(
    client: httpx.Client,
) -> None:
    answer = client.get("/parts", params={"number": "6204-2Z/C3"}, follow_redirects=True)
    assert answer.url.path == "/part"
    assert "deep groove" in answer.text
    assert "no-such" in client.get("/parts", params={"number": "no-such-number"}).text


def test_an_action_is_taken_back_and_one_that_others_rest_on_is_not(client: httpx.Client) -> None:
    post(client, "/parts", number="QF-9001")
    first = client.get("/history").text.split("/history/")[1].split("/")[0]
    post(client, "/part/change", number="QF-9001", words="a bush")
    refused = client.post(f"/history/{first}/back")
    assert refused.status_code == 422
    assert "cannot be taken back" in refused.text
    post(client, f"/history/{int(first) + 1}/back")
    post(client, f"/history/{first}/back")
    assert "QF-9001" not in client.get("/parts").text


def test_a_machine_is_written_down_and_asked_about(client: httpx.Client) -> None:
    text = post(
        client,
        "/machines",
        name="the quarry one",
        model="Dotterel",
        serial="2217",
        component0="gearbox",
        serial0="G-81",
    ).text
    assert "G-81" in text
    post(client, "/part/range", number="QF-9001", model="Dotterel", first="2000", last="2500")
    asked = {"number": "QF-9001", "machine": "the quarry one"}
    assert "listed" in client.get("/part", params=asked).text
    donor = client.get("/machines", params={"numbers": "QF-9001", "machine": "the quarry one"})
    assert "lies inside" in donor.text
    assert "the quarry one" not in post(client, "/machines/remove", name="the quarry one").text


def test_a_part_is_drawn_with_its_chain_and_its_ranges(page: Page) -> None:
    page.goto("/part?number=QF-4471&machine=QW+312")
    assert page.get_by_role("img").count() >= 3
    assert "QW312" in page.content()


def test_a_source_is_written_down_and_removed(client: httpx.Client) -> None:
    assert "Works book" in post(client, "/sources", title="Works book", edition="1931").text
    assert "Works book" not in post(client, "/sources/remove", name="Works book 1931").text


BAD = [
    ("/parts", {"number": ""}),
    ("/parts", {"number": "QF-1", "bore": "wide"}),
    ("/part/replaced", {"number": "QF-1", "new": " , "}),
    ("/part/serves", {"number": "6204", "other": "6204", "grade": "same"}),
    ("/part/range", {"number": "QF-1", "model": ""}),
    ("/part/mark", {"number": "QF-1", "text": "", "role": "number"}),
    ("/part/change", {"number": "6204", "words": "mine"}),
    ("/part/remove", {"number": "6204"}),
    ("/machines", {"name": "", "model": "", "serial": ""}),
    ("/machines/remove", {"name": "none such"}),
    ("/sources", {"title": ""}),
    ("/history/999/back", {}),
    ("/history/x/back", {}),
]


@pytest.mark.parametrize(("path", "data"), BAD)
def test_what_is_wrong_is_told_in_plain_words_and_nothing_is_changed(
    client: httpx.Client, house: House, path: str, data: dict[str, str]
) -> None:
    before = client.get("/history").text.count("card")
    answer = client.post(path, data=data)
    assert answer.status_code in (404, 422), house.port
    assert "Something went wrong" not in answer.text
    assert client.get("/history").text.count("card") == before


@pytest.mark.parametrize(
    "path",
    [
        "/part?number=6204",
        "/part?number=QF-4471&machine=QW+312",
        "/parts?number=nothing+like+it",
        "/machines?numbers=6204",
        "/sources",
    ],
)
def test_these_pages_are_for_people(
    path: str, looked_over: Callable[[str], Page], client: httpx.Client
) -> None:
    post(client, "/sources", title="Works book", edition="1931", kind="parts book", note="n" * 90)
    post(client, "/machines", name="m" * 60, model="Dotterel", serial="2217")
    looked_over(path)
