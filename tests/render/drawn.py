"""Reads a drawing back: texts, dimensions, and how far everything reaches."""

from __future__ import annotations

import re
from xml.etree import ElementTree

from xref.render.draw.figure import Drawing
from xref.render.draw.ink import FONT, text_width

SVG = "{http://www.w3.org/2000/svg}"
Box = tuple[float, float, float, float]


def parsed(svg: str) -> ElementTree.Element:
    return ElementTree.fromstring(svg)


def view_box(root: ElementTree.Element) -> Box:
    x, y, w, h = (float(n) for n in root.attrib["viewBox"].split())
    return x, y, x + w, y + h


def reaches(root: ElementTree.Element) -> list[Box]:
    """The box of every line, circle and text."""
    found = []
    for element in root.iter():
        if element.tag == f"{SVG}path":
            numbers = [float(n) for n in re.findall(r"-?\d+(?:\.\d+)?", element.attrib["d"])]
            xs, ys = numbers[::2], numbers[1::2]
            found.append((min(xs), min(ys), max(xs), max(ys)))
        elif element.tag == f"{SVG}circle":
            x, y, r = (float(element.attrib[n]) for n in ("cx", "cy", "r"))
            found.append((x - r, y - r, x + r, y + r))
    return [*found, *text_boxes(root)]


def text_boxes(root: ElementTree.Element) -> list[Box]:
    found = []
    for element in root.iter(f"{SVG}text"):
        x, y = float(element.attrib["x"]), float(element.attrib["y"])
        wide = text_width(element.text or "")
        left = x - {"start": 0.0, "middle": wide / 2, "end": wide}[element.attrib["text-anchor"]]
        found.append((left, y - 0.75 * FONT, left + wide, y + 0.2 * FONT))
    return found


def overlapping(boxes: list[Box]) -> list[tuple[Box, Box]]:
    return [
        (a, b)
        for i, a in enumerate(boxes)
        for b in boxes[i + 1 :]
        if a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]
    ]


def dimensions(root: ElementTree.Element) -> dict[str, float]:
    """How long each dimension is on the sheet, but those that are shortened by a break."""
    return {
        g.attrib["data-size"]: float(g.attrib["data-to"]) - float(g.attrib["data-from"])
        for g in root.iter(f"{SVG}g")
        if g.attrib.get("class") == "xd-dim" and "data-broken" not in g.attrib
    }


def held_well(drawing: Drawing) -> None:
    root = parsed(drawing.svg)
    x0, y0, x1, y1 = view_box(root)
    for box in reaches(root):
        assert x0 <= box[0] <= box[2] <= x1, drawing.title
        assert y0 <= box[1] <= box[3] <= y1, drawing.title
    assert not overlapping(text_boxes(root)), drawing.title
