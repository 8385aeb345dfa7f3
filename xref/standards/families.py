"""The registry of families: one table, one small row reader, one line here."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import cache

from xref.domain.part import Part
from xref.standards import (
    chains,
    drives,
    fixings,
    gost_rubber,
    lead_screw,
    magneto,
    rings,
    rolling,
    seats,
    shapes,
    small_parts,
    soft,
    tapers,
    threads,
)
from xref.tables import Row, read_table

FAMILIES: dict[str, Callable[[Row], Part]] = {
    "deep_groove": rolling.deep_groove,
    "deep_groove_inch": rolling.deep_groove_inch,
    "double_row_deep_groove": rolling.double_row,
    "angular_contact": rolling.angular,
    "self_aligning": rolling.self_aligning,
    "cylindrical": rolling.cylindrical,
    "cylindrical_inch": rolling.cylindrical_inch,
    "spherical": rolling.spherical,
    "tapered_metric": rolling.tapered_metric,
    "tapered_inch": rolling.tapered_inch,
    "thrust": rolling.thrust,
    "thrust_roller": rolling.thrust_roller,
    "needle_drawn_cup": rolling.drawn_cup,
    "needle_drawn_cup_inch": rolling.drawn_cup_inch,
    "needle_machined": rolling.machined_needle,
    "needle_cage_k": rolling.needle_cage,
    "oring_as568": soft.oring_as568,
    "oring_iso3601": soft.oring_iso3601,
    "shaft_seal_iso6194": soft.shaft_seal,
    "plain_bush": soft.bush,
    "retaining_ring": fixings.retaining_ring,
    "washer": fixings.washer,
    "pin": fixings.pin_or_key,
    "taper_pin": fixings.taper_pin,
    "sealing_washer": fixings.sealing_washer,
    "disc_spring": fixings.disc_spring,
    "roller_chain": drives.roller_chain,
    "v_belt": drives.v_belt,
    "v_belt_inch_number": drives.v_belt_inch,
    "thread": threads.thread,
    "spanner_hex": threads.hexagon,
    "grease_nipple": threads.grease_nipple,
    "thrust_double": seats.thrust_double,
    "needle_roller": seats.needle_roller,
    "insert_bearing": seats.insert_bearing,
    "sleeve": seats.sleeve,
    "plummer_block": seats.plummer_block,
    "bush_sintered": seats.bush_sintered,
    "bush_wrapped_inch": seats.bush_wrapped_inch,
    "felt_ring": seats.felt_ring,
    "spline": shapes.spline,
    "morse_taper": shapes.tool_taper,
    "jacobs_taper": shapes.tool_taper,
    "rubber_cord": shapes.rubber_cord,
    "steel_ball": small_parts.steel_ball,
    "magneto_bearing": magneto.magneto,
    "retaining_ring_inch": rings.ring_inch,
    "e_clip": rings.e_clip,
    "spring_washer": rings.spring_washer,
    "oring_gost": gost_rubber.oring_gost,
    "motorcycle_chain": chains.motorcycle,
    "agricultural_chain": chains.agricultural,
    "taper_pin_inch": small_parts.taper_pin_inch,
    "key_bs46": small_parts.key_bs46,
    "cylindrical_more": rolling.cylindrical,
    "self_aligning_more": rolling.self_aligning,
    "spherical_plain": magneto.spherical_plain,
    "needle_roller_loose": small_parts.loose_roller,
    "lead_screw": lead_screw.lead_screw,
    "tool_taper": lead_screw.tool_taper,
}
"""Table name → reader of one row."""


GUARDS: dict[str, Callable[[Sequence[Row]], Sequence[Row]]] = {"tapered_inch": tapers.sound}
"""Table name → what leaves out of its rows whatever the other rows speak against."""


def rows_of(name: str) -> Sequence[Row]:
    """The rows of a family's table that its guard lets through."""
    rows = read_table(name)
    return GUARDS[name](rows) if name in GUARDS else rows


@cache
def standard_parts() -> tuple[Part, ...]:
    """Every row of every family as a Part, in the order of the registry."""
    return tuple(reader(row) for name, reader in FAMILIES.items() for row in rows_of(name))
