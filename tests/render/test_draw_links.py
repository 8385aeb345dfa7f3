"""Serial ranges and chains of supersession as drawings."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from tests.render.drawn import held_well, parsed
from xref.domain.machine import Applicability, Machine, MachineSerial
from xref.domain.serial_range import Serial, SerialRange, SerialSet
from xref.render.draw.chain import DEAD_END, OLD, SOLD, Arrow, Number, draw_chain
from xref.render.draw.ranges import Bar, Panel, draw_ranges, panels_of

WHIMBREL = Machine("QW 312", "Whimbrel", "Quillfeather", (), {"works": MachineSerial("QW312")})


def entry(low: int | None, high: int | None, fits: bool = True) -> Applicability:
    ends = (Serial("QW", n) if n is not None else None for n in (low, high))
    return Applicability(1, "Whimbrel", "works", SerialSet((SerialRange(*ends),)), fits)


def test_ranges_show_the_machines_own_serial_and_name_every_bar_in_the_cells() -> None:
    panels, unread = panels_of([("QF-1", entry(101, 400)), ("QF-2", entry(401, None))], WHIMBREL)
    drawing = draw_ranges("ranges", panels, unread)
    assert panels[0].own == 312
    assert drawing.cells[1:] == (
        ("1", "QF-1", "Whimbrel", "QW101", "QW400"),
        ("2", "QF-2", "Whimbrel", "QW401", "open"),
    )
    assert "QW 312: QW312" in [t.text for t in parsed(drawing.svg).iter()]
    held_well(drawing)


def test_a_range_that_was_not_understood_is_counted_and_not_drawn() -> None:
    unread = Applicability(1, "Whimbrel", "works", SerialSet((), unread="early ones"))
    panels, count = panels_of([("QF-1", unread)])
    assert (panels, count) == ((), 1)
    assert "1 more could not be read" in draw_ranges("ranges", panels, count).description


def test_a_bar_stands_where_its_serials_lie_on_the_axis() -> None:
    panel = Panel("Whimbrel", "QW", (Bar("a", 0, 100), Bar("b", 50, 100)))
    paths = [p.attrib["d"] for p in parsed(draw_ranges("r", [panel]).svg).iter() if "d" in p.attrib]
    a, b = ([float(x) for x in d[1:-1].split()[::2]] for d in paths[:2])
    assert (max(b) - min(b)) * 2 - (max(a) - min(a)) < 0.1
    assert max(a) == max(b)


PLACE = st.one_of(st.none(), st.integers(0, 999_999_999_999).map(float))
BARS = st.lists(st.builds(Bar, st.text(max_size=30), PLACE, PLACE, st.booleans(), st.booleans()))
PANELS = st.lists(
    st.builds(Panel, st.text(max_size=60), st.text(max_size=8), BARS.map(tuple), PLACE, st.text()),
    max_size=3,
)


@given(PANELS)
def test_whatever_the_ranges_their_drawing_is_well_formed_and_stays_on_its_sheet(
    panels: list[Panel],
) -> None:
    held_well(draw_ranges("ranges", panels))


def test_a_chain_shows_forks_sets_and_dead_ends_and_says_what_its_signs_mean() -> None:
    numbers = [
        Number("QF-1", OLD),
        Number("QF-2", SOLD, own=True),
        Number("QF-3", SOLD),
        Number("QF-4", DEAD_END),
    ]
    drawing = draw_chain("chain", numbers, [Arrow(0, (1, 2), "set"), Arrow(0, (3,))])
    texts = [t.text for t in parsed(drawing.svg).iter() if t.text]
    assert "+ QF-3" in texts
    assert "needed all together" in drawing.description
    assert "A cross is a dead end" in drawing.description
    assert drawing.cells[3] == ("+", "QF-3", "sold now")
    held_well(drawing)


@given(st.data())
def test_whatever_the_chain_circles_too_its_drawing_stays_on_its_sheet(data: st.DataObject) -> None:
    texts = data.draw(st.lists(st.text(max_size=60), min_size=1, max_size=70))
    place = st.integers(0, len(texts) - 1)
    arrows = data.draw(
        st.lists(
            st.builds(
                Arrow,
                place,
                st.lists(place, min_size=1, max_size=4).map(tuple),
                st.sampled_from(["one", "set", "choice"]),
            ),
            max_size=30,
        )
    )
    held_well(draw_chain("chain", [Number(t) for t in texts], arrows))
