"""Codes let in once and not for long; keys are kept as hashes and can be taken away."""

from __future__ import annotations

import json
import os
from pathlib import Path

import httpx
import pytest

from xref.web.keys import CODE_SECONDS, MOST_TRIES, Keyring
from xref.web.page import House


class Clock:
    """A clock that is set by hand."""

    now = 1_000_000.0

    def __call__(self) -> float:
        return self.now


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def ring(tmp_path: Path, clock: Clock) -> Keyring:
    return Keyring(tmp_path / "deep" / "devices.json", clock)


def test_a_code_has_128_bits_and_none_comes_twice(ring: Keyring) -> None:
    codes = {ring.new_code() for _ in range(500)}
    assert len(codes) == 500
    assert {len(code) for code in codes} == {26}  # 26 × 5 bits hold 128


def test_a_code_lets_in_once(ring: Keyring) -> None:
    code = ring.new_code()
    assert ring.holds(code.lower())
    assert not ring.holds(code)


def test_a_code_is_void_after_five_minutes(ring: Keyring, clock: Clock) -> None:
    early, late = ring.new_code(), ring.new_code()
    clock.now += CODE_SECONDS - 1
    assert ring.holds(early)
    clock.now += 1
    assert not ring.holds(late)


def test_five_wrong_tries_void_every_code(ring: Keyring) -> None:
    code = ring.new_code()
    for _ in range(MOST_TRIES - 1):
        assert not ring.holds("A" * 26)
    assert ring.holds(code)
    code = ring.new_code()
    for _ in range(MOST_TRIES):
        assert not ring.holds("A" * 26)
    assert not ring.holds(code)


def test_only_hashes_are_kept_in_a_file_for_its_owner_alone(ring: Keyring, tmp_path: Path) -> None:
    code, key = ring.new_code(), ring.let_in("phone")
    file = tmp_path / "deep" / "devices.json"
    text = file.read_text()
    assert key not in text
    assert code not in text
    assert [row["name"] for row in json.loads(text)] == ["phone"]
    if os.name == "posix":
        assert file.stat().st_mode & 0o777 == 0o600


def test_a_device_is_known_to_the_next_run_until_it_is_sent_away(
    ring: Keyring, tmp_path: Path
) -> None:
    key = ring.let_in("phone")
    again = Keyring(tmp_path / "deep" / "devices.json")
    device = again.device(key)
    assert device is not None
    assert device.name == "phone"
    ring.send_away(device.ident)
    assert again.device(key) is None


def test_a_file_of_devices_that_is_damaged_lets_nobody_in(ring: Keyring, tmp_path: Path) -> None:
    key = ring.let_in("phone")
    for text in ("", "{", '[{"ident": 1}]', "[1]", "null"):
        (tmp_path / "deep" / "devices.json").write_text(text)
        assert ring.device(key) is None
    assert ring.device(ring.let_in("phone")) is not None


def test_the_code_of_the_address_pairs_and_sets_a_key_that_no_script_can_read(
    stranger: httpx.Client, house: House
) -> None:
    answer = stranger.post("/pair", data={"code": house.keyring.new_code()})
    assert answer.status_code == 303
    cookie = answer.headers["set-cookie"].lower()
    assert cookie.startswith(f"xref-key-{house.port}=")
    assert "httponly" in cookie
    assert "samesite=lax" in cookie
    assert "path=/" in cookie
    assert stranger.get("/devices").status_code == 200


def test_a_wrong_code_pairs_nobody_and_is_told(stranger: httpx.Client, house: House) -> None:
    answer = stranger.post("/pair", data={"code": "WRONG"})
    assert answer.status_code == 403
    assert "set-cookie" not in answer.headers
    assert house.keyring.devices() == []


def test_a_device_that_is_in_keeps_its_key_when_it_pairs_again(
    client: httpx.Client, house: House
) -> None:
    answer = client.post("/pair", data={"code": house.keyring.new_code()})
    assert answer.status_code == 303
    assert len(house.keyring.devices()) == 1


def test_a_device_that_is_sent_away_is_out_at_once(client: httpx.Client, house: House) -> None:
    (device,) = house.keyring.devices()
    assert client.post(f"/devices/{device.ident}/name", data={"name": "shed"}).status_code == 303
    assert "shed" in client.get("/devices").text
    assert client.post(f"/devices/{device.ident}/away").status_code == 303
    assert client.get("/devices").status_code == 403
