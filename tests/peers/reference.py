"""The reference sheet measured in what Poppler makes of it. Any difference ends the run.

A length is as exact as Cairo's grid of 1/256 pt, .0014 mm."""

import re
import sys
import xml.etree.ElementTree as tree

# Paper and distance between the marks' outer edges, mm. Papers: ISO 216; ANSI/ASME Y14.1.
SIZES = {"a4": ((210.0, 297.0), (180.0, 260.0)), "letter": ((215.9, 279.4), (180.0, 240.0))}
MM = 25.4 / 72
NEAR = 0.003

name, drawing, words = sys.argv[1:]
(width, height), outer = SIZES[name]


def near(a, b):
    return abs(a - b) < NEAR


def local(tag):
    return tag.rsplit("}", 1)[-1]


def boxes(node):
    """Left, top, width and height, mm, of every filled path that is no letter."""
    for child in node:
        if local(child.tag) in ("defs", "symbol"):
            continue
        if local(child.tag) == "path":
            assert "fill:rgb(0%,0%,0%)" in child.get("style").replace(" ", "").replace(".0", ""), child.attrib
            assert "transform" not in child.attrib, child.attrib
            numbers = [float(number) * MM for number in re.findall(r"-?\d+\.?\d*", child.get("d"))]
            xs, ys = numbers[::2], numbers[1::2]
            yield min(xs), min(ys), max(xs) - min(xs), max(ys) - min(ys)
        else:
            yield from boxes(child)


found = list(boxes(tree.parse(drawing).getroot()))
marks = [box for box in found if near(box[2], 20) and near(box[3], 20)]
left, top = (width - outer[0]) / 2, (height - outer[1]) / 2
columns = [left, (width - 20) / 2, left + outer[0] - 20]
rows = [top, (height - 20) / 2, top + outer[1] - 20]
places = [(x, y) for x in columns for y in rows if (x, y) != (columns[1], rows[1])]
assert len(marks) == 8
for place in places:
    assert any(near(mark[0], place[0]) and near(mark[1], place[1]) for mark in marks), place

(ruler,) = [box for box in found if near(box[2], 100)]
ticks = sorted(box[0] + box[2] / 2 for box in found if near(box[2], 0.12))
assert len(ticks) == 101
assert all(near(tick, ruler[0] + mm) for mm, tick in enumerate(ticks)), ticks
cross = [box for box in found if near(max(box[2:]), 9) and near(min(box[2:]), 0.5)]
assert len(cross) == 4 and len(found) == 8 + 1 + 101 + 4, len(found)

page = tree.parse(words).getroot()
said = [node for node in page.iter() if local(node.tag) == "word"]
lines = {}
for word in said:
    edges = {edge: float(word.get(edge)) * MM for edge in ("xMin", "yMin", "xMax", "yMax")}
    assert left + 20 < edges["xMin"] and edges["xMax"] < left + outer[0] - 20, word.text
    assert edges["yMax"] < top + outer[1] - 20, word.text
    lines.setdefault(round(edges["yMin"], 1), []).append((edges["xMin"], edges["xMax"], word.text))
text = [" ".join(word[2] for word in line) for _, line in sorted(lines.items())]
assert text[0] == "Reference sheet" and text[3].endswith(f"{outer[0]:.0f} x {outer[1]:.0f} mm"), text
assert text[-1] == "0 50 100", text
*sentences, numerals = [lines[at] for at in sorted(lines)]
for line in sentences:
    assert abs((line[0][0] + line[-1][1]) / 2 - width / 2) < 0.1, line
for numeral in numerals:
    assert abs((numeral[0] + numeral[1]) / 2 - ticks[int(numeral[2])]) < 0.1, numeral

span = max(mark[0] + mark[2] for mark in marks) - min(mark[0] for mark in marks)
print(
    f"qpdf, Poppler: the reference sheet on {name}, ruler {ruler[2]:.2f} mm, 101 ticks, "
    f"8 marks in their places, {span:.2f} mm from edge to edge, {len(sentences)} lines in the middle"
)
