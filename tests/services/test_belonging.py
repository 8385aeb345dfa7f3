"""What belongs on a machine by its serials, also as evidence, and where an odd assembly is from."""

from __future__ import annotations

from typing import Any

import pytest

from xref.domain.belongs import LISTED, Belongs, judge
from xref.domain.machine import WORKS, Applicability, Machine, MachineSerial
from xref.domain.serial import read_serials
from xref.errors import InputError, NotFoundError
from xref.render.links import donor_text
from xref.services.links import applies as applying
from xref.services.links import machine as machines
from xref.services.links.belongs import BITS, belongs, serial_evidence
from xref.services.links.donor import Item, donor, donor_of
from xref.services.links.supersede import supersede
from xref.services.open import OpenStore
from xref.services.parts import part as parts
from xref.store.read.links import find_machine
from xref.store.read.queries import resolve


def verdict(opened: OpenStore, number: str, machine: str = "QW 312") -> Belongs:
    with opened.store.reading() as conn:
        return belongs(conn, number, machine)[2]


def applies(opened: OpenStore, number: str, serials: str, **words: Any) -> None:
    with opened.store.writing("applies") as unit:
        applying.applies(unit, number, model="Whimbrel", serials=serials, **words)
        unit.commit()


def follow(opened: OpenStore, old: str, new: str, **words: Any) -> None:
    with opened.store.writing("supersede") as unit:
        supersede(unit, old, [new], **words)
        unit.commit()


def machine(opened: OpenStore, name: str, serial: str, **words: Any) -> None:
    with opened.store.writing("machine add") as unit:
        machines.add(unit, name, model="Whimbrel", serial=serial, **words)
        unit.commit()


@pytest.mark.parametrize(
    ("number", "said", "because"),
    [
        ("QF-2214", "listed", "listed for Whimbrel QW101-QW349, by Whimbrel Parts Book 1951"),
        (
            "QF-4471",
            "not listed",
            "listed only for Whimbrel QW350-up, by Whimbrel Service Letters 1958",
        ),
        ("QF-3306A", "service part", "takes the place of QF-3305; QF-3305 is listed for"),
        ("QF-0881", "unknown", "nothing on record says where QF-0881 is listed on a Whimbrel"),
    ],
)
def test_each_verdict_has_its_because(
    whimbrel: OpenStore, number: str, said: str, because: str
) -> None:
    told = verdict(whimbrel, number)
    assert told.verdict == said
    assert because in told.because


def test_evidence_names_the_entry_that_decided_and_not_one_written_like_it() -> None:
    held = Machine("QW 312", "Whimbrel", "Quillfeather", (), {WORKS: MachineSerial("QW312")})
    like, decides = (
        Applicability(1, "Whimbrel", WORKS, read_serials(serials))
        for serials in ("QW31", "QW310-up")
    )
    told = judge("QF-2214", [like, decides], held)
    assert told.decisive is decides
    found = serial_evidence(told, held)
    assert found is not None
    assert (found.seen, found.expected, found.bits) == ("QW312", "Whimbrel QW310-up", BITS[LISTED])
    assert serial_evidence(judge("QF-2214", [], held), held) is None


def test_what_takes_the_place_of_a_part_listed_for_others_is_no_service_part(
    whimbrel: OpenStore,
) -> None:
    told = verdict(whimbrel, "D 70-0142")
    assert told.verdict == "unknown"


def test_a_service_part_several_steps_on_is_one_still(whimbrel: OpenStore) -> None:
    follow(whimbrel, "QF-3306A", "QF-3306B")
    follow(whimbrel, "QF-3306B", "QF-3306C")
    assert verdict(whimbrel, "QF-3306C").verdict == "service part"


def test_a_number_listed_for_others_leads_with_its_own_range_and_then_tells_the_chain(
    whimbrel: OpenStore,
) -> None:
    follow(whimbrel, "QF-2214", "QF-4471")
    told = verdict(whimbrel, "QF-4471")
    assert told.verdict == "not listed"
    own, chain = told.because.split("; yet ")
    assert own.startswith("QF-4471 is listed only for Whimbrel QW350-up")
    assert "QF-4471 takes the place of QF-2214; QF-2214 is listed for Whimbrel QW101-QW349" in chain
    with whimbrel.store.reading() as conn:
        rows = told.to_json(find_machine(conn, "QW 312"))["ranges"]
    assert [(row["of"], row["serials"], row["holds"]) for row in rows] == [
        (None, "QW350-up", "out"),
        ("QF-2214", "QW101-QW349", "in"),
    ]


def test_a_step_that_names_the_machines_serial_outranks_the_parts_own_range(
    whimbrel: OpenStore,
) -> None:
    follow(whimbrel, "QF-2214", "QF-4471", serials="QW300-QW349", model="Whimbrel")
    told = verdict(whimbrel, "QF-4471")
    assert told.verdict == "service part"
    assert told.because.startswith("QF-4471 is listed only for Whimbrel QW350-up")


def test_an_own_range_that_was_not_compared_stays_before_the_chain(whimbrel: OpenStore) -> None:
    applies(whimbrel, "QF-7777", "G1-up", component="gearbox")
    follow(whimbrel, "QF-2214", "QF-7777")
    told = verdict(whimbrel, "QF-7777")
    assert told.verdict == "service part"
    assert told.because.startswith("QF-7777 is listed by gearbox serial")
    assert [e.component for e in (*told.ranges, *told.before)] == ["gearbox", "works"]


def test_not_listed_with_a_chain_weighs_less_against_a_part(whimbrel: OpenStore) -> None:
    follow(whimbrel, "QF-2214", "QF-4471")
    with whimbrel.store.reading() as conn:
        held = find_machine(conn, "QW 312")
    found = serial_evidence(verdict(whimbrel, "QF-4471"), held)
    assert found is not None
    assert found.bits == BITS["not listed"] + BITS["service part"]


def test_a_step_for_other_serials_makes_no_service_part(whimbrel: OpenStore) -> None:
    follow(whimbrel, "QF-2214", "QF-4471", serials="350", model="Whimbrel")
    assert verdict(whimbrel, "QF-4471").verdict == "not listed"


def test_a_record_that_it_does_not_fit_here_outweighs_the_chain(whimbrel: OpenStore) -> None:
    follow(whimbrel, "QF-2214", "QF-4471")
    applies(whimbrel, "QF-4471", "QW101-QW349", fits=False)
    told = verdict(whimbrel, "QF-4471")
    assert told.verdict == "not listed"
    assert "as not fitting" in told.because


def test_a_record_that_it_does_not_fit_others_does_not_spoil_the_chain(whimbrel: OpenStore) -> None:
    follow(whimbrel, "QF-2214", "QF-4471")
    applies(whimbrel, "QF-4471", "QW1-QW50", fits=False)
    assert verdict(whimbrel, "QF-4471").earlier == "QF-2214"


def test_what_is_written_of_the_same_thing_under_another_number_counts(whimbrel: OpenStore) -> None:
    assert verdict(whimbrel, "D 70-0260").verdict == "listed"


def test_a_range_by_engine_serial_is_compared_with_the_engine_only(whimbrel: OpenStore) -> None:
    applies(whimbrel, "QF-0881", "E 1000-1200", component="engine")
    applies(whimbrel, "QF-2890", "1-9999", component="engine")
    applies(whimbrel, "QF-0910", "G1-up", component="gearbox")
    assert verdict(whimbrel, "QF-0881").verdict == "listed"
    assert verdict(whimbrel, "QF-2890").verdict == "unknown"
    told = verdict(whimbrel, "QF-0910")
    assert told.verdict == "unknown"
    assert "gearbox serial" in told.because


def test_a_bare_range_takes_the_models_only_prefix(whimbrel: OpenStore) -> None:
    applies(whimbrel, "QF-0881", "312")
    told = verdict(whimbrel, "QF-0881")
    assert told.verdict == "listed"
    assert told.ranges[0].serials == read_serials("QW312")


def test_a_bare_range_written_before_the_prefix_was_known_is_read_with_it(bare: OpenStore) -> None:
    applies(bare, "QF-1", "101-349")
    machine(bare, "QW 312", "312", prefixes=["QW"])
    assert verdict(bare, "QF-1").verdict == "listed"


def test_an_engines_bare_range_does_not_take_the_models_prefix(whimbrel: OpenStore) -> None:
    applies(whimbrel, "QF-0881", "1000-1200", component="engine")
    assert verdict(whimbrel, "QF-0881").ranges[0].serials == read_serials("1000-1200")


def test_a_standard_part_does_not_give_a_model_its_maker(bare: OpenStore) -> None:
    applies(bare, "6204", "all")
    machine(bare, "QW 312", "QW312", maker="Quillfeather")
    with bare.store.reading() as conn:
        assert find_machine(conn, "QW 312").maker == "Quillfeather"
    assert verdict(bare, "6204").verdict == "listed"


def test_two_sources_that_disagree_are_both_shown(whimbrel: OpenStore) -> None:
    applies(whimbrel, "QF-2214", "QW101-QW300", source="Whimbrel Service Letters")
    told = verdict(whimbrel, "QF-2214")
    assert told.verdict == "listed"
    assert len(told.ranges) == 2
    assert any("sources disagree" in remark for remark in told.remarks)


def test_near_a_break_old_stock_is_named(whimbrel: OpenStore) -> None:
    machine(whimbrel, "QW 352", "QW352")
    told = verdict(whimbrel, "QF-2214", "QW 352")
    assert told.verdict == "not listed"
    assert any("old stock" in remark for remark in told.remarks)


def test_a_machine_is_found_by_its_serial_and_else_named_nearest(whimbrel: OpenStore) -> None:
    with whimbrel.store.reading() as conn:
        assert find_machine(conn, "qw-312").name == "QW 312"
        assert find_machine(conn, "E 1187").name == "QW 312"
        with pytest.raises(NotFoundError) as missing:
            find_machine(conn, "QW 321")
    assert "QW 312" in missing.value.hint


def test_where_each_serial_is_stamped_is_kept(whimbrel: OpenStore) -> None:
    with whimbrel.store.reading() as conn:
        held = find_machine(conn, "QW 312").to_json()["serials"]
    assert held == {
        "works": {"serial": "QW312", "stamped": "frame, left front"},
        "engine": {"serial": "E 1187", "stamped": "crankcase"},
    }


# -- as evidence --------------------------------------------------------------------------------


def test_a_retrofit_with_a_clear_stamp_comes_out_first_as_not_listed(whimbrel: OpenStore) -> None:
    answer = whimbrel.identify(mark=["QF-4471"], machine="QW 312")
    first = answer.candidates[0]
    assert first.part.number == "QF-4471"
    assert first.probability > 0.9
    assert first.belongs is not None
    assert first.belongs.verdict == "not listed"
    (item,) = (e for e in first.scored.evidence if e.about == "serial")
    assert item.bits < 0
    assert (item.seen, item.expected) == ("QW312", "Whimbrel QW350-up")


def test_the_serial_decides_between_marks_that_fit_alike(whimbrel: OpenStore) -> None:
    with whimbrel.store.writing("part add") as unit:
        for number in ("QF-7001", "QF-7002"):
            parts.add(unit, number, maker="Quillfeather")
        unit.commit()
    applies(whimbrel, "QF-7001", "QW101-QW349")
    applies(whimbrel, "QF-7002", "QW350-up")
    for name, serial, first in (("QW 312", "QW312", "QF-7001"), ("QW 400", "QW400", "QF-7002")):
        if name != "QW 312":
            machine(whimbrel, name, serial)
        answer = whimbrel.identify(mark=["QF-700?"], machine=name)
        assert answer.candidates[0].part.number == first


def test_a_part_the_books_are_silent_on_has_no_serial_item(whimbrel: OpenStore) -> None:
    first = whimbrel.identify(mark=["QF-0881"], machine="QW 312").candidates[0]
    assert first.belongs is not None
    assert first.belongs.verdict == "unknown"
    assert "serial" not in {e.about for e in first.scored.evidence}
    assert "serial" in first.scored.not_compared


# -- donors -------------------------------------------------------------------------------------


def test_readings_in_doubt_weigh_what_they_are_worth(whimbrel: OpenStore) -> None:
    with whimbrel.store.reading() as conn:
        case, early, seal = (resolve(conn, n) for n in ("QF-4471", "QF-2214", "QF-1420"))
        doubtful = Item("case", ((case, 0.3), (early, 0.7)))
        alone = donor_of(conn, [doubtful], None)
        both = donor_of(conn, [doubtful, Item("seal", ((seal, 1.0),))], None)
    assert (alone.ranges[0].low, alone.ranges[0].high) == (101, 349)
    assert both.ranges[0].low == 350
    assert both.ranges[0].supported_by == ("seal",)
    assert both.outliers == ("case",)


def test_a_machine_that_cannot_be_compared_is_neither_inside_nor_outside(
    whimbrel: OpenStore,
) -> None:
    machine(whimbrel, "odd", "ZZ5")
    numbers = ["QF-4471", "QF-4477"]
    assert whimbrel.donor(numbers, machine="odd").machine_inside is None
    assert whimbrel.donor(numbers).machine_inside is None
    assert whimbrel.donor(numbers, machine="QW 312").machine_inside is False
    assert whimbrel.donor(["QF-2214"], machine="QW 312").machine_inside is True


def test_what_has_no_range_is_silent_and_no_outlier(whimbrel: OpenStore) -> None:
    found = whimbrel.donor(["QF-4471", "QF-0881"])
    assert found.silent == ("QF-0881",)
    assert found.outliers == ()


def test_a_thousand_numbers_are_answered_and_one_more_is_refused(bare: OpenStore) -> None:
    with bare.store.writing("fill") as unit:
        for n in range(1000):
            parts.add(unit, f"K{n}")
            low = 100 + n % 200
            applying.applies(unit, f"K{n}", model="Whimbrel", serials=f"QW{low}-QW{low + 300}")
        unit.commit()
    numbers = [f"K{n}" for n in range(1000)]
    best = bare.donor(numbers).ranges[0]
    assert (best.low, best.high) == (299, 400)
    assert len(best.supported_by) == 1000
    with pytest.raises(InputError, match="the most is 1000"):
        bare.donor([*numbers, "K1000"])


def test_a_later_spare_is_no_outlier_of_the_assembly_its_forerunner_belongs_to(
    bare: OpenStore,
) -> None:
    with bare.store.writing("applies") as unit:
        for number, serials in (
            ("GN-1001", "1-2599"),
            ("GN-1002", "1-2599"),
            ("GN-1003", "1-2599"),
        ):
            applying.applies(unit, number, model="Garganey", serials=serials)
        applying.applies(unit, "GN-1001A", model="Garganey", serials="2600-up")
        applying.applies(unit, "GN-1009", model="Garganey", serials="3000-up")
        supersede(unit, "GN-1001", ["GN-1001A"])
        unit.commit()
    with bare.store.reading() as conn:
        told = donor(conn, ["GN-1001A", "GN-1002", "GN-1003", "GN-1009"])
    assert told.replacing == (("GN-1001A", "GN-1001"),)
    assert told.outliers == ("GN-1009",)


def test_spares_for_my_machine_are_not_said_to_be_from_another(bare: OpenStore) -> None:
    with bare.store.writing("applies") as unit:
        for old, new in (("GN-1001", "GN-1001A"), ("GN-1002", "GN-1002A")):
            applying.applies(unit, old, model="Garganey", serials="1-2599")
            applying.applies(unit, new, model="Garganey", serials="2600-up")
        supersede(unit, "GN-1001", ["GN-1001A"])
        machines.add(unit, "Mine", model="Garganey", serial="2217")
        unit.commit()
    with bare.store.reading() as conn:
        one = donor(conn, ["GN-1001A"], "Mine")
        two = donor(conn, ["GN-1001A", "GN-1002A"], "Mine")
    assert (one.machine_inside, one.machine_reached) == (False, True)
    assert (two.machine_inside, two.machine_reached) == (False, False)
    assert "may be later spares" in " ".join(donor_text(one, 100).split())
    assert "from another machine" in donor_text(two, 100)
