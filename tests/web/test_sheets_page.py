"""A spreadsheet on the page: looked at, put right, brought in beside other work, taken back."""

from __future__ import annotations

import io
import time
from collections.abc import Callable

import httpx
import pytest
from openpyxl import Workbook
from playwright.sync_api import Page

from xref.web.page import House

TEXT = "Part No.,Description,Bore,Superseded by\nQF-901,bush,20,QF-999\nQF-902,ring,25,\n"


def send(client: httpx.Client, text: str | bytes, name: str = "list.csv") -> str:
    data = text.encode() if isinstance(text, str) else text
    answer = client.post("/sheets", files={"sheet": (name, data, "application/octet-stream")})
    assert answer.status_code == 303, answer.text
    return answer.headers["location"]


def waited(client: httpx.Client, at: str) -> str:
    for _ in range(600):
        text = client.get(at).text
        if 'http-equiv="refresh"' not in text:
            return text
        time.sleep(0.05)
    raise AssertionError("the sheet never came in")


def test_a_sheet_is_seen_before_anything_is_stored_then_brought_in_and_taken_back(
    client: httpx.Client,
) -> None:
    at = send(client, TEXT)
    seen = client.get(at).text
    for words in ("QF-901 | QF-902", "It would add 2", "QF-999", "list.csv"):
        assert words in seen
    assert "QF-901" not in client.get("/parts").text
    client.post(f"{at}/in")
    assert "Added 2" in waited(client, at)
    assert "QF-901" in client.get("/parts").text
    number = client.get(at).text.split("/history/")[1].split("/")[0]
    assert client.post(f"/history/{number}/back").status_code == 303
    assert "QF-901" not in client.get("/parts").text


def test_a_column_is_put_right_by_its_select(client: httpx.Client) -> None:
    at = send(client, TEXT)
    client.post(f"{at}/columns", data={"c1": "note", "units": "inch"})
    seen = client.get(at).text
    assert "You said so." in seen
    client.post(f"{at}/in")
    waited(client, at)
    shown = client.get("/part", params={"number": "QF-901"}).text
    assert "508 mm" in shown or "20 in" in shown


def test_a_sheet_whose_numbers_are_not_known_is_asked_about(client: httpx.Client) -> None:
    at = send(client, "Thing,Description,Supplier\nQF-901,bush,A\nQF-902,pin,B\nQF-903,ring,A\n")
    assert "Say below which column" in client.get(at).text
    client.post(f"{at}/columns", data={"c0": "number"})
    assert "It would add 3" in client.get(at).text


def test_rows_without_a_number_are_put_aside_and_can_be_had(client: httpx.Client) -> None:
    at = send(client, TEXT + ",nameless,30,QF-7\n")
    client.post(f"{at}/in")
    assert "put 1 aside" in waited(client, at)
    answer = client.get(f"{at}/rejects/0")
    assert "nameless" in answer.text
    assert answer.headers["content-type"].startswith("text/csv")
    assert client.get(f"{at}/rejects/1").status_code == 404


def test_a_workbook_comes_in_as_well(client: httpx.Client) -> None:
    book, out = Workbook(), io.BytesIO()
    sheet = book.active
    assert sheet is not None
    for row in (("Part No.", "Description"), ("QF-901", "bush")):
        sheet.append(row)
    book.save(out)
    assert "It would add 1" in client.get(send(client, out.getvalue(), "list.xlsx")).text


def test_another_device_searches_while_a_sheet_comes_in(client: httpx.Client) -> None:
    rows = "".join(f"QF-{n},bush {n},{n % 90 + 1}.5\n" for n in range(20_000))
    at = send(client, f"Part No.,Description,Bore\n{rows}")
    client.post(f"{at}/in")
    asked = 0
    while 'http-equiv="refresh"' in client.get(at).text:
        assert client.get("/", params={"line": "6?04 20x47x14"}).status_code == 200
        asked += 1
    assert asked
    assert "Added 20000" in client.get(at).text


BAD = {
    "empty.csv": b"",
    "picture.xlsx": b"\x89PNG\r\n\x1a\n" + bytes(100),
    "damaged.xlsx": b"PK\x03\x04" + bytes(200),
    "../../etc/passwd": b"\0\1\2\3" * 50,
    "words.csv": b"nothing but words\nin two lines\n",
}


@pytest.mark.parametrize(("name", "data"), BAD.items(), ids=BAD)
def test_what_is_no_list_is_told_in_plain_words(
    client: httpx.Client, house: House, name: str, data: bytes
) -> None:
    text = client.get(send(client, data, name)).text
    assert 'class="caution"' in text
    assert "Traceback" not in text
    folders = {job.file.parent.parent for job in house.jobs.every()}
    assert len(folders) == 1
    assert all(job.file.resolve().is_relative_to(*folders) for job in house.jobs.every())


def test_what_was_not_chosen_or_is_gone_is_told(client: httpx.Client) -> None:
    assert client.post("/sheets", data={"sheet": "x"}).status_code == 422
    assert client.get("/sheets/0123456789abcdef").status_code == 404


def test_the_pages_of_a_sheet_are_for_people(
    client: httpx.Client, looked_over: Callable[[str], Page]
) -> None:
    at = send(client, TEXT.replace("Description", "D" * 60))
    page = looked_over(at)
    page.get_by_role("button", name="Bring it in").click()
    page.get_by_text("Added 2").wait_for()
    looked_over(at)
    looked_over("/sheets")
