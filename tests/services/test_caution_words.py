"""Which descriptions call for which caution: over 150 of our own, half of them harmless.

What is dangerous and what is not is common practice, no published source.
"""

from __future__ import annotations

import pytest

from xref.services.parts.cautions import dangers, never_by_size
from xref.tables import read_table

DANGEROUS = """
handbrake lever: brake | brake shoe, rear: brake asbestos | wheel cylinder cup: brake
bush, brake shaft: brake | brake lever and lamp bracket: brake | Bremswelle: brake
Feststellbremse, Hebel: brake | frein à main: brake | plaquette de frein: brake asbestos
remtrommel achter: brake | leva del freno: brake | bromsskiva: brake | linka hamulca: brake
pitman arm: steering | drop arm: steering | track control arm, left: steering
ball joint: steering | king pin bush: steering | Lenkhebel: steering | styrled: steering
rotule de direction: steering | tirante sterzo: steering | drążek kierowniczy: steering
spoorstangkogel: steering | towing eye: lifting | hitch: lifting | drawhook: lifting
drawbar pin: lifting | crane hook: lifting | eye bolt, lifting: lifting | wire rope: lifting
Anhängerkupplung: lifting | crochet de levage: lifting | hijshaak: lifting
golfare M20: lifting | lyftkrok: lifting | hak holowniczy: lifting | gauge glass: pressure
boiler tube: pressure | hydraulic hose, 1/2 in: pressure | accumulator bladder: pressure
Druckkessel: pressure | Dampfventil: pressure | Überdruckventil: shear pressure
chaudière, bouchon: pressure | stoomketel: pressure | valvola vapore: pressure
tryckluftsventil: pressure | kocioł parowy: pressure | safety valve: shear pressure
relief valve spring: shear pressure | spring, relief valve: shear pressure
fusible plug: shear pressure | shear bolt, auger: shear | Scherstift: shear
goupille de cisaillement: shear | propane hose: gas | acetylene regulator: gas
gas regulator: gas | Sauerstoffschlauch: gas | petcock: pressure fuel
carburettor float: fuel | injection pump, diesel: fuel | Vergaserdüse: fuel
gaźnik: fuel | grinding wheel: speed | propeller shaft: speed | fan blade: speed
Gelenkwelle: speed | vliegwiel: speed | rope seal, rear main: asbestos
gasket, cylinder head: asbestos | Zylinderkopfdichtung: asbestos | clutch lining: asbestos
wheel stud: wheel | split rim: wheel | tyre 6.00-16: wheel | seat belt: guard
ROPS frame bolt: guard | belt guard: guard | recoil spring: stored | gas strut: stored
Blattfeder: stored | mains lead, 240 V: mains
"""
HARMLESS = """
rope, starter | starter rope | brake light bulb | lamp, brake | brake van window
coat hook | hook, cab, for coats | fan belt | universal joint | valve spring, inlet
clutch release bearing | cable tie | door handle | jackshaft sprocket | jack shaft key
nameplate, steam locomotive | piston ring, diesel engine | wrench, adjustable | Gelenk
Stoßdämpfer | Druckfeder | Druckplatte | Gewindestange | Hebel | dźwignia zmiany biegów
mudguard | gasket, rubber | thermostat housing | bolt, M10 x 40 | washer, plain
spring washer | bush, gear lever | oil filter element | dynamo brush | air cleaner bowl
water pump seal | speedometer cable | seat cushion | packing case | cab roof lining
wing nut | sprocket, 17 teeth | chain link, connecting | oil pressure gauge
key, woodruff | hose clip | elbow, 1/2 in gas thread | window regulator | horn button
brass bush | guard's van lamp | lifter, valve | Bremsleuchte | track roller | Hubzapfen
Schenkel | gudgeon pin | tappet | dipstick | rondelle frein | ressort de soupape
kullager | remote control | molla valvola | veer, klep | łożysko | Kupplung
bush, coupling rod | buffer beam bolt | spring, throttle return | Wellendichtung
water tank, side | joint spi | fuse box | rim lock, door
"""


def rows(text: str) -> list[str]:
    return [cell.strip() for cell in text.replace("\n", " | ").split("|") if cell.strip()]


def test_over_150_descriptions_are_tried_and_half_are_harmless() -> None:
    assert len(rows(DANGEROUS)) + len(rows(HARMLESS)) >= 150
    assert len(rows(HARMLESS)) >= 75


@pytest.mark.parametrize("row", rows(DANGEROUS))
def test_a_dangerous_part_calls_for_its_cautions_and_no_others(row: str) -> None:
    words, names = row.split(": ")
    assert set(dangers(words)) == set(names.split())


@pytest.mark.parametrize("words", rows(HARMLESS))
def test_a_harmless_part_calls_for_no_caution(words: str) -> None:
    assert dangers(words) == ()


@pytest.mark.parametrize(
    "words",
    [
        "Shear-pin, auger", "bolt, shear", "fusible plug", "relief valve spring", "hitch pin",
        "Scherstift 8x40", "bouchon fusible", "breekpen", "tappo fusibile", "brytpinne",
        "kołek ścinany", "crane hook", "fuse, 10 A", "bursting disc", "Schäkel", "shear pins",
    ],
)  # fmt: skip
def test_what_gives_way_or_lifts_is_never_chosen_by_size(words: str) -> None:
    assert never_by_size(words)


@pytest.mark.parametrize(
    "words",
    ["clevis pin", "fuse box", "pin, coupling rod", "spring, seat", "strain relief", "plug, drain"],
)
def test_what_does_neither_may_be_chosen_by_size(words: str) -> None:
    assert not never_by_size(words)


def test_every_row_of_words_names_a_caution_a_language_and_a_basis() -> None:
    names = {row["name"] for row in read_table("caution")}
    held = read_table("caution_word")
    assert {row["name"] for row in held} <= names
    assert {row["language"] for row in held} == {"en", "de", "fr", "nl", "it", "sv", "pl"}
    assert all(row["words"] and row["basis"] for row in held)
