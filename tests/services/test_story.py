"""The story of the chain case: four odd numbers, one donor range, what to ask for, one refusal."""

from __future__ import annotations

from xref.services.links.belongs import belongs
from xref.services.open import OpenStore

OFF_THE_CASE = ("QF-4471", "QF-4477", "QF-3311", "QF-1421")
"""Case, cover, sprocket and bearing, as they came off the jackshaft of QW 312."""


def test_four_odd_numbers_lead_to_donor_order_bearing_and_refusal(whimbrel: OpenStore) -> None:
    # The parts book of QW 312 lists none of them: somebody fitted a later assembly.
    with whimbrel.store.reading() as conn:
        verdicts = {n: belongs(conn, n, "QW 312")[2].verdict for n in OFF_THE_CASE}
    assert verdicts == dict.fromkeys(OFF_THE_CASE, "not listed")

    # All four left the works together on QW360 to QW420 only, and QW 312 is not among them.
    found = whimbrel.donor(OFF_THE_CASE, machine="QW 312")
    told = found.to_json()
    best = told["ranges"][0]
    assert (best["model"], best["from"], best["to"]) == ("Whimbrel", "QW360", "QW420")
    assert best["supported_by"] == list(OFF_THE_CASE)
    assert best["against"] == []
    assert told["machine_inside"] is False
    assert told["outliers"] == []

    # A sprocket of the old pattern among them is the outlier, and moves nothing.
    mixed = whimbrel.donor([*OFF_THE_CASE, "QF-3305"], machine="QW 312").to_json()
    assert mixed["ranges"][0]["from"] == "QW360"
    assert mixed["outliers"] == ["QF-3305"]

    # Case and sprocket are sold under the spares house's numbers; cover and bearing as they are.
    sold = {n: [end.part.number for end in whimbrel.trace(n).current] for n in OFF_THE_CASE}
    assert sold == {
        "QF-4471": ["D 70-0142"],
        "QF-4477": ["QF-4477"],
        "QF-3311": ["D 70-0311"],
        "QF-1421": ["QF-1421"],
    }
    assert whimbrel.trace("QF-4471").to_json()["later"][0]["with"] == ["QF-4490"]

    # The bearing is one off the shelf, whatever its stamp is called in the maker's book.
    same = [e for e in whimbrel.equivalents("QF-1421").found if e.grade == "same designation"]
    assert [e.number for e in same if e.origin == "standard"] == ["206", "6206"]
    assert any("load rating" in text for e in same for text in e.cautions)

    # The shear pin beside it is refused on size alone, and found by its number.
    size = {"diameter": "1/2in", "length": "2-1/2in"}
    by_size = whimbrel.identify(size=size, kind="pin")
    assert by_size.withheld_probability > 0
    assert all(c.part.number != "QF-0902" for c in by_size.candidates)
    assert whimbrel.equivalents("QF-0902").found == ()
    assert whimbrel.identify(mark=["QF-0902"]).candidates[0].part.number == "QF-0902"
