"""Labels come out of the printer where the sheet has them, and their codes can be read."""

from __future__ import annotations

from collections.abc import Callable

import httpx
import pypdfium2
import pytest
import zxingcpp
from playwright.sync_api import Page

from xref.render.labels import Label, Printer, pages, sheets
from xref.web.page import House

DOTS = 300
MM = DOTS / 25.4
NEAR = 0.15
"""Millimetres that a place may be off: two dots of the picture it is measured in."""


def fill(client: httpx.Client, count: int) -> None:
    for number in range(count):
        client.post(
            "/bench", data={"place": f"rear axle, left, bearing {number} <of> the box & so"}
        )


def printed(page: Page, path: str) -> list[pypdfium2.PdfPage]:
    page.goto(path)
    data = page.pdf(
        format="A4",
        margin={"top": "0", "bottom": "0", "left": "0", "right": "0"},
        print_background=True,
    )
    return list(pypdfium2.PdfDocument(data))


def codes(sheet: pypdfium2.PdfPage) -> dict[str, tuple[float, float]]:
    """Each code's text with the place of its upper left corner in millimetres."""
    picture = sheet.render(scale=DOTS / 72).to_pil()
    return {
        found.text: (found.position.top_left.x / MM, found.position.top_left.y / MM)
        for found in zxingcpp.read_barcodes(picture)
    }


def every(count: int, **more: str) -> str:
    chosen = "&".join(f"label={n}" for n in range(1, count + 1))
    return f"/labels/sheet?{chosen}&" + "&".join(f"{k}={v}" for k, v in more.items())


def test_a_whole_sheet_is_read_back_and_lies_where_the_labels_are(
    page: Page, client: httpx.Client
) -> None:
    fill(client, 25)
    first, second = printed(page, every(25, address="http://192.168.1.20:8417"))
    assert (first.get_width() / 72 * 25.4, first.get_height() / 72 * 25.4) == pytest.approx(
        (210, 297), abs=0.5
    )
    found = codes(first)
    assert set(found) == {f"HTTP://192.168.1.20:8417/B/{n}" for n in range(1, 25)}
    assert len(codes(second)) == 1
    places = [found[f"HTTP://192.168.1.20:8417/B/{n}"] for n in range(1, 25)]
    for place, (x, y) in enumerate(places):
        row, column = divmod(place, 3)
        assert x - places[0][0] == pytest.approx(70 * column, abs=NEAR)
        assert y - places[0][1] == pytest.approx(36 * row, abs=NEAR)


def test_used_labels_are_left_out_and_the_printer_is_put_right(
    page: Page, client: httpx.Client
) -> None:
    fill(client, 2)
    ((_, plain),) = codes(printed(page, "/labels/sheet?label=1")[0]).items()
    ((_, moved),) = codes(
        printed(page, "/labels/sheet?label=1&first=5&right=2&down=-1.5&scale=100")[0]
    ).items()
    assert moved[0] - plain[0] == pytest.approx(70 + 2, abs=NEAR)
    assert moved[1] - plain[1] == pytest.approx(36 - 1.5, abs=NEAR)


def test_the_trial_page_has_a_line_of_a_hundred_millimetres(page: Page) -> None:
    (sheet,) = printed(page, "/labels/sheet?trial=1&scale=101")
    picture = sheet.render(scale=DOTS / 72).to_pil().convert("L")
    row = round((4.5 + 4.5 * 36) * 1.01 * MM)
    widths = []
    for y in range(row - 3, row + 4):
        longest = run = 0
        for x in range(picture.width):
            run = run + 1 if picture.getpixel((x, y)) < 128 else 0
            longest = max(longest, run)
        widths.append(longest / MM)
    assert max(widths) == pytest.approx(101, abs=0.4)


BAD = [
    "/labels/sheet",
    "/labels/sheet?label=999",
    "/labels/sheet?label=1&sheet=none",
    "/labels/sheet?label=1&scale=nan",
    "/labels/sheet?label=1&right=1e9",
    "/labels/sheet?label=1&first=0",
    "/labels/sheet?label=1&address=javascript:alert(1)",
    "/labels/sheet?label=%C2%B2",
]


@pytest.mark.parametrize("path", BAD)
def test_what_cannot_be_printed_is_told_in_plain_words(client: httpx.Client, path: str) -> None:
    fill(client, 1)
    assert client.get(path).status_code == 422


@pytest.mark.parametrize("sheet", sheets(), ids=lambda sheet: sheet.name)
def test_every_label_lies_on_its_paper_and_none_on_another(sheet: object) -> None:
    from xref.render.labels import Sheet

    assert isinstance(sheet, Sheet)
    corners = [sheet.corner(place) for place in range(sheet.count)]
    assert all(x >= 0 and x + sheet.width <= sheet.paper_width + 0.01 for x, _ in corners)
    assert all(y >= 0 and y + sheet.height <= sheet.paper_height + 0.01 for _, y in corners)
    assert sheet.step_across >= sheet.width - 0.01
    assert sheet.step_down >= sheet.height - 0.01


def test_no_text_of_a_label_is_taken_for_a_drawing() -> None:
    (drawn,) = pages(sheets()[0], [Label("1", "<script>&", "M0 0h1", 29)], 0, Printer())
    assert "<script>" not in drawn


def test_the_pages_of_labels_are_for_people(
    looked_over: Callable[[str], Page], client: httpx.Client, house: House
) -> None:
    fill(client, 3)
    looked_over("/labels")
    looked_over("/labels/sheet?label=1&label=2")
    assert house.addresses[0] in client.get("/labels").text
