"""Wire and sheet gauges as sizes."""

from __future__ import annotations

import pytest

from xref.services.decode.decode import decode
from xref.services.question import read_size
from xref.standards.gauge import gauge_size, gauges
from xref.tables import read_table

INCH = 25_400_000


@pytest.mark.parametrize(
    ("text", "thousandths"),
    [
        # BS 3737, memory: 16 SWG is 0.064 in, 10 SWG 0.128, 4/0 0.400.
        ("16 SWG", 64),
        ("SWG 10", 128),
        ("no. 4/0 swg", 400),
        ("0000 SWG", 400),
        ("16 BWG", 65),  # memory
        ("10 AWG", 101.9),  # memory
    ],
)
def test_a_gauge_number_is_a_size(text: str, thousandths: float) -> None:
    assert gauge_size(text) == pytest.approx(thousandths * INCH / 1000, abs=3000)


@pytest.mark.parametrize("text", ["16 gauge", "99 SWG", "16", "SWG", "16.5 SWG", "16 SWGX", ""])
def test_a_number_without_its_system_or_out_of_the_table_is_no_size(text: str) -> None:
    assert gauge_size(text) is None


def test_a_bare_gauge_is_shown_in_every_system_it_may_be() -> None:
    assert {gauge.name for gauge in gauges("16 gauge")} == {
        *("16 SWG", "16 BWG", "16 AWG", "16 US steel wire")
    }
    assert "they differ" in decode("16 gauge").readings[0].note


def test_in_every_gauge_but_music_wire_a_higher_number_is_thinner() -> None:
    for system in ("SWG", "BWG", "AWG", "US steel wire", "Stubs steel wire"):
        sizes = [float(r["inch"]) for r in read_table("wire_gauge") if r["gauge"] == system]
        assert len(sizes) > 30
        assert sizes == sorted(sizes, reverse=True)


def test_a_gauge_and_turns_to_the_inch_may_stand_for_a_size() -> None:
    thick = read_size("thickness", "16 SWG", "caliper", "mm")
    assert (thick.value, thick.text) == (1_625_600, "16 SWG")
    assert read_size("pitch", "20tpi", "caliper", "mm").value == INCH // 20
