"""check_sheets.py - the printed sheets of the samples, read back and rendered by Poppler
SPDX-License-Identifier: GPL-3.0-or-later
"""
import csv
import math
import os
import random
import re
import shutil
import subprocess
import sys
import tempfile

from check_manners import sample, sample_names
from terminal import HANGS, run, run_tests

# Points, landscape: ISO 216 A4 and ANSI/ASME Y14.1 A (letter).
PAPERS = {"a4": (297 / 25.4 * 72, 210 / 25.4 * 72), "letter": (11 * 72, 8.5 * 72)}


def poppler(*words):
    return subprocess.run(words, capture_output=True, timeout=HANGS, check=True).stdout


def sixty_runs(folder):
    file = os.path.join(folder, "sixty.csv")
    draw = random.Random(60)
    with open(file, "w", encoding="utf-8") as spans:
        spans.write("run,span,rise\n")
        for number in range(60):
            for _ in range(draw.randint(1, 12)):
                spans.write(f"side {number + 1},{draw.randint(2100, 2450)},{draw.choice((0, 0, 100))}\n")
    return ["plan", file, "--time-limit", "2"]


def sheets(folder, *more):
    """(name, folder of its plan) of every sample and of a job of 60 runs."""
    for name, words in [(n, sample(n)) for n in sample_names()] + [("sixty", sixty_runs(folder))]:
        out = os.path.join(folder, name)
        done = run(*words, *more, "-o", out)
        assert done.returncode == 0, (name, done.stderr)
        yield name, out


def test_every_label_and_page_number():
    with tempfile.TemporaryDirectory() as folder:
        for name, out in sheets(folder):
            pages = poppler("pdftotext", "-layout", os.path.join(out, "sheet.pdf"), "-").decode().split("\f")[:-1]
            assert len(pages) >= 3, (name, len(pages))
            for number, page in enumerate(pages, 1):
                foot = page.rstrip().rsplit("\n", 1)[-1]
                assert foot.rstrip().endswith(f"page {number} of {len(pages)}"), (name, foot)
                if page.startswith(("Runs", "Setting out")):
                    assert re.search(r"\bruns? ", foot), (name, foot)
            first = " ".join(" ".join(pages).split("Runs")[0].split())
            assert "CARE" in first and "not the design of a structure" in first, name
            # A label may be broken over lines where it is long.
            letters = re.sub(r"\s", "", poppler("pdftotext", "-raw", os.path.join(out, "sheet.pdf"), "-").decode())
            with open(os.path.join(out, "cuts.csv"), newline="", encoding="utf-8") as table:
                labels = [row["piece"] for row in csv.DictReader(table)]
            assert len(labels) > 5, name
            missing = [label for label in labels if re.sub(r"\s", "", label) not in letters]
            assert not missing, (name, missing[:5])


def test_no_colour_and_nothing_at_the_edge():
    """A printer without colours leaves nothing out, and none cuts anything off."""
    with tempfile.TemporaryDirectory() as folder:
        for name in sample_names():
            out = os.path.join(folder, name)
            assert run(*sample(name), "-o", out).returncode == 0
            poppler("pdftoppm", "-r", "36", os.path.join(out, "sheet.pdf"), os.path.join(out, "page"))
            pictures = sorted(n for n in os.listdir(out) if n.endswith(".ppm"))
            assert len(pictures) >= 4, pictures
            for picture in pictures:
                with open(os.path.join(out, picture), "rb") as file:
                    kind, size, most, pixels = file.read().split(b"\n", 3)
                assert kind == b"P6" and most == b"255", (kind, most)
                width, height = map(int, size.split())
                assert pixels[0::3] == pixels[1::3] == pixels[2::3], (name, picture)
                grey = pixels[0::3]
                assert grey.count(255) < len(grey), (name, picture)  # something is drawn
                edge = 12  # pixels: a third of an inch
                for row in range(height):
                    line = grey[row * width:(row + 1) * width]
                    margins = line if row < edge or row >= height - edge else line[:edge] + line[-edge:]
                    assert margins.count(255) == len(margins), (name, picture, row)


def test_paper():
    for paper, size in PAPERS.items():
        with tempfile.TemporaryDirectory() as folder:
            for name, out in sheets(folder, "--paper", paper):
                said = poppler("pdfinfo", os.path.join(out, "sheet.pdf")).decode()
                width, height = map(float, re.search(r"Page size: +([\d.]+) x ([\d.]+) pts", said).groups())
                assert abs(width - size[0]) < 0.1 and abs(height - size[1]) < 0.1, (name, paper, width, height)


# ---- Drawings: shapes out of the SVG files -----------------------------------------------------------

SECTIONS = "section,width,thickness\n75x38,75,38\n150x25,150,25\n100x25,100,25\n"
RAIL = "level,section,height\nrail,75x38,250\n"
CAPPED = "level,section,height,seat\nrail,75x38,250,\ncapping,100x25,900,top\n"
# What the sheet draws with: see sheet_run.h, sheet_board.h.
BAND, BAR = 18, 22


class Shape:
    """A polygon or line: its corners, fill in per cent of white (None: none), dashed or not, how thick its line is."""

    def __init__(self, path):
        self.corners = [tuple(map(float, pair)) for pair in re.findall(r"[ML] (-?[\d.]+) (-?[\d.]+)", path)]
        fill = re.search(r'\bfill[:=]"?rgb\(([\d.]+)%', path)
        self.fill = round(float(fill.group(1))) if fill else None
        self.dashed = "stroke-dasharray" in path
        thick = re.search(r'stroke-width[:=]"?([\d.]+)', path)
        self.thick = float(thick.group(1)) if thick else 0
        self.left = min(x for x, _ in self.corners)
        self.right = max(x for x, _ in self.corners)
        self.top = min(y for _, y in self.corners)
        self.foot = max(y for _, y in self.corners)

    def edge_x(self, y):
        """Least and greatest x of the corners at height Y."""
        here = [x for x, other in self.corners if abs(other - y) < 0.01]
        return min(here), max(here)


def drawn(folder, spans, levels, *more):
    """Folder of the plan and its sheet, page by page, of a job of these files."""
    words = ["plan", os.path.join(folder, "spans.csv")]
    for name, content in (("spans", spans), ("levels", levels), ("sections", SECTIONS)):
        with open(os.path.join(folder, name + ".csv"), "w", encoding="utf-8") as file:
            file.write(content)
        if name != "spans":
            words += ["--" + name, os.path.join(folder, name + ".csv")]
    out = os.path.join(folder, "plan")
    done = run(*words, *more, "--svg", "-o", out)
    assert done.returncode == 0, done.stderr
    return out


def pages_of(out, part):
    """(number, text) of the pages that show PART."""
    pages = poppler("pdftotext", "-layout", os.path.join(out, "sheet.pdf"), "-").decode().split("\f")[:-1]
    return [(number, page) for number, page in enumerate(pages, 1) if page.startswith(part)]


def shapes(out, part):
    """Of all pages that show PART, in the order in which they are drawn."""
    found = []
    for number, _ in pages_of(out, part):
        with open(os.path.join(out, f"sheet-{number}.svg"), encoding="utf-8") as file:
            drawing = re.sub(r"<defs>.*?</defs>", "", file.read(), flags=re.S)
        for path in re.findall(r"<path[^>]*/>", drawing):
            if " C " not in path and re.search(r"[ML] -?[\d.]+ ", path):
                found.append(Shape(path))
    return found


def bands(found):
    """Pieces of an elevation."""
    return [s for s in found if s.thick == 0.9 and s.fill in (84, 100)]


def posts(found):
    return [s for s in found if s.thick == 0.6 and s.fill == 100]


def points_a_mm(out):
    scale = int(re.search(r"lengths 1 : (\d+)", pages_of(out, "Runs")[0][1]).group(1))
    return 72 / 25.4 / scale


def close(a, b, within=0.1):
    return abs(a - b) <= within


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
            slot, = [s for s in found if s.fill == 0 and s.thick == 0]
            bar, = [s for s in found if s.fill is None and s.thick == 1]
            wide[angle] = (slot.right - slot.left) / (bar.right - bar.left)
    # 20 at 45 and at 75 degrees
    assert close(wide[30] / wide[90], math.cos(math.radians(45)) / math.cos(math.radians(75)), 0.05), wide


# ---- Setting out ----------------------------------------------------------------------------------------------


def table_rows(out):
    """The rows of posts on the pages of setting out: (run, post, side, the rest of the line)."""
    rows, name = [], None
    for _, page in pages_of(out, "Setting out"):
        for line in page.split("\n"):
            if line.startswith("Run "):
                name = re.split(r"  +|$", line[4:])[0]
            row = re.match(r" *(\d+)( near| far)?  +(.*)", line)
            if name and row:
                rows.append((name, row.group(1), (row.group(2) or "").strip(), row.group(3).split()))
    return rows


def test_setting_out_is_that_of_the_table():
    spans = ("run,span,step,opening,start,finish,rise\nbank,2400,,,,,\nbank,2400,200,,,,\nbank,2390,-350,,,housed 30,\n"
             "bank,900,25,yes,,,\nbank,2400,,,,,\nflat,2400,,,,,300\nflat,2300,,,,mitre 135,300\n")
    levels = ("level,section,runs,height,seat,only\nplinth,150x25,between,0,,bank\nlow,75x38,,250,let in 20,\n"
              "high,75x38,,900,face,flat\ncapping,100x25,,1200,top,bank\n")
    with tempfile.TemporaryDirectory() as folder:
        out = drawn(folder, spans, levels)
        with open(os.path.join(out, "setout.csv"), newline="", encoding="utf-8") as table:
            wanted = list(csv.DictReader(table))
        rows = table_rows(out)
        # A row a post, two at the posts where the fence steps with timber on both sides.
        assert [(name, post, side) for name, post, side, _ in rows] == \
            [("bank", "1", ""), ("bank", "2", ""), ("bank", "3", "near"), ("bank", "3", "far"), ("bank", "4", ""),
             ("bank", "5", ""), ("bank", "6", ""), ("flat", "1", ""), ("flat", "2", ""), ("flat", "3", "")], rows
        for name, post, side, words in rows:
            here = [row for row in wanted if row["run"] == name and row["post"] == post]
            levels_here = list(dict.fromkeys(row["level"] for row in here))
            assert words[:2] == [here[0]["distance_mm"], here[0]["post_width_mm"]], (name, post, words)
            words = words[3:]  # how much higher the ground or the stick is
            for level in levels_here:
                cells = [row for row in here if row["level"] == level]
                cell = cells[-1] if side == "far" else cells[0]
                assert len(cells) == (2 if side else 1), (name, post, level, cells)
                if name == "bank":
                    assert words.pop(0) == cell["mark_mm"], (name, post, level, cell)
                if cell["housing"]:
                    assert words[:1] == [cell["housing"]], (name, post, level, words)
                    words = words[1:]
                    if cell["depth_mm"]:
                        assert words.pop(0) == cell["depth_mm"], (name, post, level)
                else:
                    assert words[0] in ("on", "no"), (name, post, level, words)
                    assert (words[:2] == ["on", "top"]) == (level == "capping"), (name, post, level, words)
                    words = words[3:] if words[:3] == ["on", "the", "face"] else words[2:]
                if cell["join"]:
                    assert words.pop(0) == "join", (name, post, level)
            assert not words, (name, post, words)


if __name__ == "__main__":
    if not all(map(shutil.which, ("pdftotext", "pdftoppm", "pdfinfo"))):
        print("SKIPPED: poppler-utils is not installed, so no sheet was looked at")
        sys.exit(77)
    with tempfile.TemporaryDirectory() as here:
        if b"built without it" in run(*sample("front-fence"), "-o", here).stderr:
            print("SKIPPED: this spanwright was built without the sheet")
            sys.exit(77)
    sys.exit(run_tests(globals()))
