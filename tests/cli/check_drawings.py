"""check_drawings.py - what the printed sheet draws: shapes of its SVG files, measured
SPDX-License-Identifier: GPL-3.0-or-later
"""
import csv
import math
import os
import re
import sys
import tempfile

from sheet_reader import (BAND, BAR, CAPPED, RAIL, bands, blocks, close, drawn, pages_of, points_a_mm, posts, shapes,
                          skip_without_sheets, table)
from terminal import run_tests


def test_a_mitre_leans_as_the_saw_is_set():
    """The dashed line behind a long point on the outer face: 30 degrees, 45 and 60 lie apart as their tangents."""
    back = {}
    for angle, saw in ((120, 30), (90, 45), (60, 60)):
        with tempfile.TemporaryDirectory() as folder:
            out = drawn(folder, f"run,span,finish\na,2400,mitre {angle}\n", RAIL)
            found = shapes(out, "Runs")
            rail, = bands(found)
            dashed = [s for s in found if s.dashed]
            assert len(dashed) == 1 and not [s for s in found if s.fill == 50], (angle, len(dashed))
            assert close(dashed[0].foot - dashed[0].top, BAND), angle
            back[saw] = rail.right - dashed[0].left
            # The long point is on this face: the piece is drawn to it.
            reach = {120: 28.9, 90: 50, 60: 86.6}[angle]
            assert close(rail.right - posts(found)[1].right, (reach - 50) * points_a_mm(out)), angle
    for saw, distance in back.items():
        assert close(distance / back[45], math.tan(math.radians(saw)), 0.03), back


def test_a_long_point_on_the_inner_face_is_behind():
    with tempfile.TemporaryDirectory() as folder:
        out = drawn(folder, "run,span,finish\na,2400,mitre 270\n", RAIL)
        found = shapes(out, "Runs")
        rail, = bands(found)
        slope, = [s for s in found if s.fill == 50]
        assert not [s for s in found if s.dashed]
        # 12 short of the post's centre; from there back to the outer face.
        assert close(rail.right, slope.right) and slope.left < slope.right - 5
        post = posts(found)[1]
        assert close(rail.right, (post.left + post.right) / 2 - 12 * points_a_mm(out))


def test_timber_laid_flat_passes_over_gate_posts():
    with tempfile.TemporaryDirectory() as folder:
        found = shapes(drawn(folder, "run,span,opening\na,2400,\na,900,yes\na,2400,\n", CAPPED), "Runs")
        rails = [s for s in bands(found) if close(s.foot - s.top, BAND)]
        flat = [s for s in bands(found) if s not in rails]
        assert len(rails) == len(flat) == 2, (len(rails), len(flat))
        post = posts(found)
        assert len(post) == 4
        # 25 of 100: as thin as it is.
        assert all(close(s.foot - s.top, BAND / 4) for s in flat)
        assert close(flat[0].right, post[1].right) and close(flat[1].left, post[2].left)
        assert close(rails[0].right, post[1].left) and close(rails[1].left, post[2].right)
        for capping in flat:
            assert all(close(capping.foot, p.top) for p in post), (capping.foot, [p.top for p in post])


def test_stretches_go_on_higher_or_lower_at_a_step():
    with tempfile.TemporaryDirectory() as folder:
        out = drawn(folder, "run,span,step\na,2400,300\na,2400,-500\na,2400,\n", RAIL)
        rails = sorted(bands(shapes(out, "Runs")), key=lambda s: s.left)
        assert len(rails) == 3
        for rail in rails:
            assert close(rail.foot - rail.top, BAND)  # level: its corners are at two heights only
        scale = points_a_mm(out)
        assert close(rails[0].top - rails[1].top, 300 * scale) and close(rails[1].top - rails[2].top, -500 * scale)
        assert close(rails[0].right, rails[1].left) and close(rails[1].right, rails[2].left)


def test_ends_of_raked_timber_stand_plumb():
    with tempfile.TemporaryDirectory() as folder:
        out = drawn(folder, "run,span,rise\na,2400,600\n", RAIL)
        rail, = bands(shapes(out, "Runs"))
        assert len({round(x, 2) for x, _ in rail.corners}) == 2
        height = {x: [y for other, y in rail.corners if other == x] for x, _ in rail.corners}
        # Flush with the outer faces: 2500 from end to end, a quarter of it up.
        assert close(max(height[rail.left]) - max(height[rail.right]), 2500 / 4 * points_a_mm(out))
        assert close(rail.right - rail.left, 2500 * points_a_mm(out))


def test_boards_show_what_each_piece_takes():
    """Each piece begins where all before it, with their triangles and saw cuts, have ended, and leans as it is cut."""
    spans = ("run,span,rise,start,finish\nup,2400,600,,\nup,2390,590,,\ndown,2380,-300,,mitre 90\n"
             "back,1400,,mitre 90,mitre 300\nlow,1500,-400,mitre 300,\n")
    levels = "level,section,runs,height,seat\nplinth,150x25,between,0,\nrail,75x38,,250,\ncapping,100x25,,900,top\n"
    with tempfile.TemporaryDirectory() as folder:
        out = drawn(folder, spans, levels, "--end-trim", "20", "--kerf", "5")
        found = shapes(out, "Boards")
        pieces = [s for s in found if s.fill == 100 and s.thick == 1 and close(s.foot - s.top, BAR)]
        bars = [s for s in found if s.fill is None and s.thick == 1 and close(s.foot - s.top, BAR)]
        with open(os.path.join(out, "cuts.csv"), newline="", encoding="utf-8") as table:
            cuts = list(csv.DictReader(table))
        assert len(pieces) == len(cuts) > 10, (len(pieces), len(cuts))
        assert len({cut["board"] for cut in cuts}) == len(bars)
        longest = max(float(cut["board_mm"]) for cut in cuts)
        scale = max(s.right - s.left for s in bars) / longest
        leaning = 0
        for piece, cut in zip(pieces, cuts):
            bar = bars[int(cut["board"]) - 1]
            if cut["cut"] == "1":
                at = 20
            assert close(piece.left, bar.left + at * scale), cut
            at += float(cut["take_mm"]) + 5
            if cut["plumb"] and cut["level"] != "capping":
                slant = BAR * math.tan(math.radians(float(cut["plumb"]))) * (1 if cut["run"] == "up" else -1)
                for back, front in zip(piece.edge_x(piece.top), piece.edge_x(piece.foot)):
                    assert close(back - front, slant, 0.2), cut
                leaning += 1
            elif cut["level"] == "capping" and cut["finish_cut"] != "square":
                # Across the width: the outer edge is at the front.
                out_of_square = piece.edge_x(piece.foot)[1] - piece.edge_x(piece.top)[1]
                assert (out_of_square > 5) == (cut["long_point"].split()[-1] == "outer"), cut
                assert (out_of_square < -5) == (cut["long_point"].split()[-1] == "inner"), cut
                leaning += 1
        assert leaning > 8, leaning
        text = " ".join(page for _, page in pages_of(out, "Boards"))
        for cut in {cut["board"]: cut for cut in cuts}.values():  # a board's last
            left = "nothing" if cut["left_mm"] == "0" else re.escape(cut["left_mm"])
            assert re.search(rf"(?<![\d.]){left}(?!\S)", text), cut


def test_cuts_that_lean_through_a_board():
    """Dashed where the cut comes out on the side that lies down, dark where its slope is seen: mitres of timber on edge,
    whose outer face is up, and plumb cuts of timber laid flat."""
    for spans, levels, dashed, dark in (
            ("run,span,finish\na,2400,mitre 90\n", RAIL, [1], []),
            ("run,span,finish\na,2400,mitre 270\n", RAIL, [], [1]),
            ("run,span,start\na,2400,mitre 90\n", RAIL, [0], []),
            ("run,span,rise\na,2400,600\n", CAPPED.replace("rail,75x38,250,\n", ""), [1], [0]),
            ("run,span,rise\na,2400,-600\n", CAPPED.replace("rail,75x38,250,\n", ""), [0], [1])):
        with tempfile.TemporaryDirectory() as folder:
            found = shapes(drawn(folder, spans, levels), "Boards")
            piece, = [s for s in found if s.fill == 100 and s.thick == 1 and close(s.foot - s.top, BAR)]
            near = {True: lambda s: s.right < piece.left + 30, False: lambda s: s.left > piece.right - 30}
            for kind, wanted in (([s for s in found if s.dashed], dashed), ([s for s in found if s.fill == 50], dark)):
                assert len(kind) == len(wanted), (spans, len(kind))
                assert all(near[end == 0](shape) for shape, end in zip(kind, wanted)), (spans, wanted)


def test_saw_cuts_at_an_angle_are_wider():
    wide = {}
    for angle in 90, 30:
        with tempfile.TemporaryDirectory() as folder:
            spans = f"run,span,start,finish\na,2000,reach 0,mitre {angle}\n"
            found = shapes(drawn(folder, spans, RAIL, "--kerf", "20"), "Boards")
            slot, = [s for s in found if s.fill == 0 and s.thick == 0 and close(s.foot - s.top, BAR)]
            bar, = [s for s in found if s.fill is None and s.thick == 1]
            wide[angle] = (slot.right - slot.left) / (bar.right - bar.left)
    # 20 at 45 and at 75 degrees
    assert close(wide[30] / wide[90], math.cos(math.radians(45)) / math.cos(math.radians(75)), 0.05), wide


def test_kerf_is_drawn_and_marked():
    """A black slot as wide as the kerf at the end of each piece, a sign of the tape's mark over it."""
    with tempfile.TemporaryDirectory() as folder:
        out = drawn(folder, "run,span\na,2300\na,2250\na,2310\n", RAIL, "--kerf", "12", "--stock-length", "5.4")
        found = shapes(out, "Boards")
        slots = [s for s in found if s.fill == 0 and s.thick == 0 and close(s.foot - s.top, BAR)]
        signs = [s for s in found if s.fill == 0 and s.thick == 0 and s not in slots]
        bars = [s for s in found if s.fill is None and s.thick == 1 and close(s.foot - s.top, BAR)]
        assert len(slots) == len(table(out, "cuts")) == len(signs), (len(slots), len(signs))
        for slot in slots:
            assert close(slot.right - slot.left, 12 * (bars[0].right - bars[0].left) / 5400), slot
            sign, = [s for s in signs if close(s.foot, slot.top) and close((s.left + s.right) / 2, slot.left)]
            assert sign.right - sign.left > 4


def test_fixing_blocks_are_drawn_and_named():
    """A box with one diagonal behind each end of a plinth; their boards stand under the run."""
    spans = "run,span,opening\na,2400,\na,2300,\na,1000,yes\na,2350,\n"
    levels = ("level,section,runs,height,blocks,block_length\nplinth,150x25,between,0,2,120\nrail,75x38,,250,,\n")
    with tempfile.TemporaryDirectory() as folder:
        out = drawn(folder, spans, levels)
        found = shapes(out, "Runs")
        boxes = [s for s in found if s.fill == 100 and s.thick == 0.7]
        # Three bays carry timber; two blocks a bay, each within the foot of its own piece's ends.
        assert len(boxes) == 6, len(boxes)
        plinths = [s for s in bands(found) if any(close(b.left, s.left) and close(b.top, s.top) for b in boxes)]
        assert len(plinths) == 3
        for plinth in plinths:
            assert any(close(b.right, plinth.right) and close(b.top, plinth.top) for b in boxes)
        text = " ".join(block for _, block in blocks(out)["A"])
        assert "Fixing blocks A1, 2 a bay, 150x25, 120 long:" in text, text
        board = {}
        for cut in table(out, "cuts"):
            if "/block " in cut["piece"]:
                board.setdefault(cut["board"], []).append(int(cut["piece"].rsplit(" ", 1)[1]))
        assert board and sum(map(len, board.values())) == 6
        said = re.findall(r"b(\d+)(?:-b(\d+))? board (\d+)", text)
        told = {}
        for first, last, where in said:
            told.setdefault(where, []).extend(range(int(first), int(last or first) + 1))
        assert {k: sorted(v) for k, v in told.items()} == {k: sorted(v) for k, v in board.items()}, (told, board)


if __name__ == "__main__":
    skip_without_sheets()
    sys.exit(run_tests(globals()))
