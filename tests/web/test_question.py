"""The question page: with and without script it asks and answers as the terminal does."""

from __future__ import annotations

from collections.abc import Callable
from urllib.parse import parse_qs, urlsplit

import httpx
import pytest
from playwright.sync_api import Browser, Page, expect

from tests.web.conftest import faults_for_people, let_in
from xref.render.identify import odds_text
from xref.services.bench import bench
from xref.services.question import Asked
from xref.store.notes import bench as book
from xref.web.page import House

CASE = "/?mark=QF+447%3F&cast=QF+4470&words=chain+case&built=1952&machine=QW+312"
SEVERAL = "/?mark=6%3F04&bore=20mm"
ASKED = [
    CASE,
    SEVERAL,
    "/?kind=bush&bore=1.262in&outside=1.5in&width=1.74in&condition=worn",
    "/?kind=pin&diameter=1%2F2in&length=2-1%2F2in",
    "/?line=6%3F04+20x47x14+worn",
    "/?mark=%3F",
    "/?mark=ZZZZ9999ZZ",
    "/?seen=rolls%3Dcubes&mark=6204",
]


@pytest.mark.parametrize("path", ASKED)
def test_every_answer_is_for_people(path: str, looked_over: Callable[[str], Page]) -> None:
    looked_over(path)


def test_the_page_answers_with_the_odds_of_the_service(client: httpx.Client, house: House) -> None:
    text = client.get(SEVERAL).text
    told = house.opened.answer(Asked(marks=("6?04",), sizes={"bore": "20mm"}))
    for candidate in told.candidates[:5]:
        assert f'<span class="number">{candidate.part.number}</span>' in text
        assert f"<b>{odds_text(candidate.probability)}</b>" in text
    assert "None of these" in text
    assert f"<b>{odds_text(told.none_of_these)}</b>" in text
    for check in told.next_check:
        for outcome in check.outcomes[:3]:
            assert f'name="seen" value="{check.key}={outcome.answer}"' in text


def test_a_question_that_is_not_understood_is_told_and_keeps_what_was_typed(
    client: httpx.Client,
) -> None:
    answer = client.get("/", params={"mark": "6204", "bore": "20 cubits"})
    assert answer.status_code == 200
    assert "That was not understood" in answer.text
    assert 'value="20 cubits"' in answer.text
    assert 'value="6204"' in answer.text


@pytest.mark.parametrize(
    "hostile",
    ["<script>alert(1)</script>", '"><img src=x>', "{{ 1237*1237 }}", "\x00", "\ud800", "a" * 5000],
)
@pytest.mark.parametrize(
    "field", ["mark", "words", "bore", "line", "kind", "seen", "machine", "tool"]
)
def test_whatever_is_asked_stays_text(client: httpx.Client, field: str, hostile: str) -> None:
    params = {"mark": "6204", field: hostile.encode("utf-8", "surrogatepass").decode("latin-1")}
    for path in ("/", "/answer"):
        answer = client.get(path, params=params, headers={"X-Tab": "one"})
        assert answer.status_code in (200, 422)
        assert "<script>alert" not in answer.text
        assert "<img src=x" not in answer.text
        assert "1530169" not in answer.text


def test_a_blank_form_leads_to_a_plain_address(client: httpx.Client) -> None:
    answer = client.get("/?mark=6204&bore=&kind=&condition=used&tool=rule")
    assert answer.headers["location"] == "/?mark=6204&tool=rule"


def test_without_script_the_whole_question_is_asked_and_a_check_answered(
    browser: Browser, house: House
) -> None:
    context = browser.new_context(base_url=house.addresses[0], java_script_enabled=False)
    let_in(context, house)
    page = context.new_page()
    page.goto("/")
    page.get_by_label("What can be read on it").fill("6?04")
    page.locator("#s-bore").fill("20mm")
    page.get_by_role("button", name="Ask", exact=True).click()
    assert parse_qs(urlsplit(page.url).query) == {"mark": ["6?04"], "bore": ["20mm"]}
    expect(page.locator("#headline")).to_contain_text("Several could be it")
    page.get_by_role("button", name="47 mm").click()
    expect(page.locator("#answer .number").first).to_have_text("6204")
    expect(page.locator("#answer .odds").first).not_to_contain_text("16 %")
    page.get_by_label("outside: 47mm").uncheck()
    page.get_by_role("button", name="Ask", exact=True).click()
    expect(page.locator("#headline")).to_contain_text("Several could be it")
    context.close()


def test_the_answer_follows_what_is_typed_and_the_address_keeps_it(page: Page) -> None:
    page.goto("/")
    page.get_by_label("What can be read on it").press_sequentially("6?04")
    page.locator("#s-bore").press_sequentially("20mm")
    expect(page.locator("#headline")).to_contain_text("Several could be it")
    page.get_by_role("button", name="47 mm").click()
    expect(page.locator("#answer .number").first).to_have_text("6204")
    expect(page.locator("#answer .odds").first).not_to_contain_text("16 %")
    expect(page.locator("#now")).to_have_text("Several could be it:")
    assert "seen=outside%3D47mm" in page.url
    page.get_by_label("outside: 47mm").uncheck()
    expect(page.locator("#headline")).to_contain_text("Several could be it")
    page.get_by_role("button", name="cannot tell").first.click()
    expect(page.locator("fieldset.told")).to_contain_text("cannot tell")
    page.reload()
    expect(page.locator("fieldset.told")).to_contain_text("cannot tell")
    assert faults_for_people(page) == []


def test_fast_typing_sends_one_request(page: Page) -> None:
    page.goto("/")
    sent: list[str] = []
    page.on("request", lambda request: sent.append(request.url))
    page.evaluate(
        """() => { const box = document.getElementById("mark");
        for (const char of "6204-2RS") {
          box.value += char; box.dispatchEvent(new Event("input", {bubbles: true})); } }"""
    )
    expect(page.locator("#answer .number").first).to_have_text("6204")
    assert [url for url in sent if "/answer" in url] == [f"{page.url.replace('/?', '/answer?')}"]


def test_a_lost_line_keeps_what_was_typed_and_asks_again(page: Page) -> None:
    page.goto("/")
    page.context.set_offline(True)
    page.get_by_label("What can be read on it").fill("6204")
    expect(page.locator("#now")).to_contain_text("is lost")
    page.context.set_offline(False)
    expect(page.locator("#answer .number").first).to_have_text("6204")
    assert page.get_by_label("What can be read on it").input_value() == "6204"


@pytest.mark.parametrize(
    ("keys", "mark"),
    [
        (["6", "?", "0", "4"], "6?04"),
        (["6", "[ ]", "3", "8", "[ ]", "0"], "6[38]0"),
        (["6", "2", "*"], "62*"),
        (["6", "0", "turn over"], "09"),
        (["6", "2", "take away", "3"], "63"),
        (["6", "2", "#0", "9"], "92"),
        (["6", "8", "#1", "[ ]", "3", "[ ]", "0"], "6[83]0"),
        (["6", "2", "turn over"], "?9"),
    ],
)
def test_the_pad_writes_the_mark(page: Page, keys: list[str], mark: str) -> None:
    page.goto("/")
    for key in keys:
        if key.startswith("#"):
            page.locator("#signs button").nth(int(key[1:])).click()
        elif len(key) == 1:
            page.locator(f'.pad [data-key="{key}"]').first.click()
        else:
            page.locator("#pad .pad button", has_text=key).first.click()
    assert page.get_by_label("What can be read on it").input_value() == mark


def test_the_keys_for_sizes_write_where_one_was_writing(page: Page) -> None:
    page.goto("/")
    page.locator("#s-outside").fill("1")
    for key in ("-", "3/8"):
        if key == "-":
            page.get_by_role("button", name="-", exact=True).last.click()
        else:
            page.keyboard.type("3")
            page.get_by_role("button", name="/", exact=True).last.click()
            page.keyboard.type("8")
    page.get_by_role("button", name="inch").click()
    assert page.locator("#s-outside").input_value() == "1-3/8 in"


def test_a_kind_by_its_picture_brings_its_sizes(page: Page) -> None:
    page.goto("/?mark=QF")
    page.get_by_text("Choose by its picture").click()
    page.locator(".tile", has_text="o-ring").click()
    page.wait_for_url("**kind=o-ring**")
    expect(page.locator("#s-section")).to_be_visible()
    assert page.get_by_label("What can be read on it").input_value() == "QF"


def test_the_question_goes_to_the_bench_as_it_was_asked(page: Page, house: House) -> None:
    page.goto(CASE)
    page.get_by_role("link", name="Keep it in the bench book").click()
    page.locator("#place").fill("jackshaft, left")
    assert faults_for_people(page) == []
    page.locator("main form button.main").click()
    page.wait_for_url("**/b/*")
    with house.opened.store.reading() as conn:
        (item,) = book.items(conn)
    asked = bench.question(item)
    assert (*asked.marks, *asked.casts, asked.machine) == ("QF 447?", "QF 4470", "QW 312")
    assert (asked.words, asked.built) == ("chain case", "1952")


def test_the_first_candidates_are_drawn_with_what_was_measured_beside(page: Page) -> None:
    page.goto("/?mark=6%3F04&bore=19.9mm&outside=47mm")
    drawing = page.locator("#answer li", has_text="6204").first
    expect(drawing.locator("svg.xd[role=img]")).to_be_visible()
    row = drawing.locator("table.figures tr", has_text="bore")
    expect(row).to_contain_text("20 mm")
    expect(row).to_contain_text("19.9 mm")
    assert faults_for_people(page) == []


def test_on_paper_the_question_stands_above_its_answer(page: Page) -> None:
    page.goto(CASE)
    asked = page.locator("dl.paper")
    expect(asked).to_be_hidden()
    page.emulate_media(media="print")
    expect(asked).to_be_visible()
    expect(asked).to_contain_text("QF 447?")
    expect(page.locator("form#question")).to_be_hidden()
    expect(page.locator("#answer .number").first).to_be_visible()


def test_only_the_newest_question_of_a_tab_is_answered(house: House) -> None:
    import threading

    gate, begun = threading.Event(), threading.Event()
    answered: list[object] = []

    def slow() -> str:
        begun.set()
        gate.wait(20)
        return "first"

    def ask(job: Callable[[], str], tab: str) -> threading.Thread:
        thread = threading.Thread(target=lambda: answered.append(house.worker.run(job, tab)))
        thread.start()
        return thread

    threads = [ask(slow, "other")]
    assert begun.wait(20)
    for number in range(5):
        threads.append(ask(lambda number=number: f"asked {number}", "tab"))  # type: ignore[misc]
        while house.worker._count < number + 2:
            pass
    gate.set()
    for thread in threads:
        thread.join()
    assert {said for said in answered if said} == {"first", "asked 4"}


def test_the_question_speaks_german_too(client: httpx.Client) -> None:
    text = client.get(SEVERAL, headers={"Accept-Language": "de"}).text
    assert "Was ist es?" in text
    assert "Keines davon" in text
