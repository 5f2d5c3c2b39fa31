"""check_sheets.py - the printed sheets of the samples and of a job of 60 runs: what is written on them, and their pages
SPDX-License-Identifier: GPL-3.0-or-later
"""
import csv
import math
import os
import re
import subprocess
import sys
import tempfile

from check_manners import sample, sample_names
from sheet_reader import (blocks, board_texts, drawn, letters, numbered_levels, order_text, page_texts,
                          poppler, runs_of, sheets, skip_without_sheets, table)
from terminal import HANGS, run, run_tests

# Points, landscape: ISO 216 A4 and ANSI/ASME Y14.1 A (letter).
PAPERS = {"a4": (297 / 25.4 * 72, 210 / 25.4 * 72), "letter": (11 * 72, 8.5 * 72)}


def test_every_label_and_page_number():
    with tempfile.TemporaryDirectory() as folder:
        for name, out in sheets(folder):
            pages = poppler("pdftotext", "-layout", os.path.join(out, "sheet.pdf"), "-").decode().split("\f")[:-1]
            assert len(pages) >= 2, (name, len(pages))
            for number, page in enumerate(pages, 1):
                foot = page.rstrip().rsplit("\n", 1)[-1]
                assert foot.rstrip().endswith(f"page {number} of {len(pages)}"), (name, foot)
                if page.startswith("Runs"):
                    assert re.search(r"\bruns? ", foot), (name, foot)
            first = " ".join(re.split(r"^Runs +lengths", "\n".join(pages), flags=re.M)[0].split())
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
            assert len(pictures) >= 2, pictures
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


# ---- What is written, read in the order in which it is drawn ---------------------------------------------------


def test_every_piece_is_on_its_runs_page_with_length_and_board():
    with tempfile.TemporaryDirectory() as folder:
        for name, out in sheets(folder):
            if name == "inches":
                continue  # fractions: tested below
            there, count = blocks(out), 0
            for run, title in enumerate(runs_of(out)):
                text = " ".join(block for _, block in there[letters(run)])
                for piece in (row for row in table(out, "fit") if row["run"] == title):
                    posts = f"{piece['from_post']}-{piece['to_post']}"
                    length, board = re.escape(piece["cut_mm"]), piece["board"]
                    # On the piece itself, or in the list of those that are too short for that.
                    words = rf"(?<![\d-]){posts} {length} {board}(?!\S)"
                    words += rf"|{letters(run)}\d+ {posts}: {length}, board {board}(?!\d)"
                    assert re.search(words, text), (name, piece, text)
                    count += 1
            assert count == len(table(out, "fit")) > 5, name


def test_inches_are_written_as_fractions():
    with tempfile.TemporaryDirectory() as folder:
        out = os.path.join(folder, "plan")
        assert run(*sample("inches"), "-o", out).returncode == 0
        text = " ".join(block for _, block in blocks(out)["A"])
        for piece in table(out, "fit"):
            sixteenths = round(float(piece["cut_in"]) * 16)
            whole, rest = divmod(sixteenths, 16)
            shown = str(whole) + (f" {rest // math.gcd(rest, 16)}/{16 // math.gcd(rest, 16)}" if rest else "")
            assert f"{piece['from_post']}-{piece['to_post']} {shown} {piece['board']} " in text, (piece, shown, text)


def test_sixty_runs_take_at_most_forty_pages_and_none_is_nearly_empty():
    with tempfile.TemporaryDirectory() as folder:
        for name, out in sheets(folder):
            pages = page_texts(out, "-layout")
            if name == "sixty":
                assert len(table(out, "fit")) > 500
                assert len(pages) <= 40, len(pages)
            poppler("pdftoppm", "-r", "36", "-gray", os.path.join(out, "sheet.pdf"), os.path.join(out, "page"))
            for picture in sorted(n for n in os.listdir(out) if n.endswith(".pgm")):
                with open(os.path.join(out, picture), "rb") as file:
                    _, size, _, pixels = file.read().split(b"\n", 3)
                width, height = map(int, size.split())
                inked = [row for row in range(height) if min(pixels[row * width:(row + 1) * width]) < 160]
                # How far down something stands over the foot, which is the last inch.
                lowest = max(row for row in inked if row < height - 36)
                assert lowest > 0.45 * height, (name, picture, lowest, height)


def test_the_index_tells_where_each_run_is():
    with tempfile.TemporaryDirectory() as folder:
        for name, out in sheets(folder):
            there = blocks(out)
            text = order_text(out)
            for number, title in enumerate(runs_of(out)):
                entry = rf"(?<!\S){letters(number)} {re.escape(title)} \d+ bays?, [\d /]+ page (\d+)"
                page = int(re.search(entry, text).group(1))
                assert page == there[letters(number)][0][0], (name, title, page)
                assert re.search(rf"\b{letters(number)} Run {re.escape(title)}", page_texts(out, "-raw")[page - 1])


def test_tape_marks_are_sums():
    """Where the tape is at each cut: the trim, all pieces before with their saw cuts, and what the piece itself takes;
    the saw cut of an angled finish is kerf / cos of the steeper angle, of which the piece's take has what is over the
    kerf."""
    spans = ("run,span,rise,start,finish\nup,2400,600,,\nup,2390,590,,\ndown,2380,-300,,mitre 90\n"
             "back,1400,,mitre 90,mitre 300\nlow,1500,-400,mitre 300,\nlevel,1210,,,\nlevel,1190,,,\nlevel,1235,,,\n")
    levels = "level,section,runs,height,seat\nplinth,150x25,between,0,\nrail,75x38,,250,\ncapping,100x25,,900,top\n"
    with tempfile.TemporaryDirectory() as folder:
        out = drawn(folder, spans, levels, "--end-trim", "20", "--kerf", "5")
        text, looked_at, at = board_texts(out), 0, 0
        for cut in table(out, "cuts"):
            if cut["cut"] == "1":
                at = 20
            angle = max(float(cut["plumb"] or 0), float(cut["finish_cut"].replace("square", "0")))
            wider = 5 / math.cos(math.radians(angle)) - 5
            mark, at = at + float(cut["take_mm"]) - wider, at + float(cut["take_mm"]) + 5
            if mark > float(cut["board_mm"]) - 20 - 0.05:
                continue  # it ends with the board
            shown = f"{mark:.1f}".removesuffix(".0")
            near = {f"{mark + off:.1f}".removesuffix(".0") for off in (-0.1, 0, 0.1)}  # take_mm is rounded itself
            assert any(re.search(rf"(?<!\S){re.escape(words)}(?!\S)", text) for words in near), (cut, shown)
            looked_at += 1
        assert looked_at > 12, looked_at


def test_pencil_marks_and_their_key():
    """Every piece has a mark of its own, beside its whole label and its run's page, and the key tells its parts."""
    with tempfile.TemporaryDirectory() as folder:
        for name, out in sheets(folder):
            text = re.sub(r"\s+", " ", board_texts(out))
            there, runs, numbers = blocks(out), runs_of(out), numbered_levels(out)
            marks = set()
            for cut in table(out, "cuts"):
                if not cut["run"]:
                    continue
                run_letters = letters(runs.index(cut["run"]))
                last = (f"{cut['from_post']}-{cut['to_post']}" if cut["from_post"]
                        else "b" + re.search(r"block (\d+)$", cut["piece"]).group(1))
                mark = f"{run_letters}{numbers[cut['level']]} {last}"
                assert mark not in marks, (name, mark)
                marks.add(mark)
                page = there[run_letters][0][0]
                assert re.search(rf"(?<!\S){mark}(?![\d-])", text), (name, mark)
                assert f"p{page} {cut['piece']}" in text, (name, cut["piece"], page)
            assert len(marks) > 5, name


# ---- Setting out ----------------------------------------------------------------------------------------------


def row_of(text, label, count):
    """The last COUNT figures before LABEL: a row stands as figures, then its name."""
    found = re.search(rf"((?:\S+ ){{{count}}}){label}(?= |$)", text)
    assert found, (label, text)
    return found.group(1).split()


def test_setting_out_is_that_of_the_table():
    """Under the posts: running distance, width, the ground, how far the stick is lifted, depths."""
    spans = ("run,span,step,opening,start,finish,rise\nbank,2400,,,,,\nbank,2400,200,,,,\nbank,2390,-350,,,housed 30,\n"
             "bank,900,25,yes,,,\nbank,2400,,,,,\nflat,2400,,,,,300\nflat,2300,,,,mitre 135,300\n")
    levels = ("level,section,runs,height,seat,only\nplinth,150x25,between,0,,bank\nlow,75x38,,250,let in 20,\n"
              "high,75x38,,900,face,flat\ncapping,100x25,,1200,top,bank\n")
    ground = {"flat": ["0", "300", "600"]}
    with tempfile.TemporaryDirectory() as folder:
        out = drawn(folder, spans, levels)
        there, rows = blocks(out), table(out, "setout")
        for number, name in enumerate(("bank", "flat")):
            (_, text), = there[letters(number)]
            here = [row for row in rows if row["run"] == name]
            posts = list(dict.fromkeys(row["post"] for row in here))
            first = {post: next(row for row in here if row["post"] == post) for post in posts}
            assert row_of(text, "running distance", len(posts)) == [first[p]["distance_mm"] for p in posts], text
            assert row_of(text, "post width", len(posts)) == [first[p]["post_width_mm"] for p in posts], text
            if name in ground:
                assert row_of(text, "ground over post 1", len(posts)) == ground[name], text
            low = [[row for row in here if row["post"] == post and row["level"] == "low"] for post in posts]
            # A row of the table for either side of a step: the stick is lifted by what the marks differ.
            if name == "bank":
                lifts = ["|".join(dict.fromkeys(str(int(row["mark_mm"]) - 250) for row in sides)) for sides in low]
                assert row_of(text, "stick lifted by", len(posts)) == lifts, (text, lifts)
            depths = []
            for sides in low:
                cells = [{"through": "", "stopped": "st ", "": "\u2013"}[row["housing"]] + row["depth_mm"] for row in sides]
                cells = list(dict.fromkeys(cells))
                depths += [] if cells == ["\u2013"] else "|".join(cells).split()
            assert row_of(text, f"depth {letters(number)}2", len(depths)) == depths, (text, depths)
        assert "1200\u20131225" in there["A"][0][1]


def test_a_fence_is_seen_from_the_outside_and_says_so():
    with tempfile.TemporaryDirectory() as folder:
        for name, out in sheets(folder):
            for run_letters, parts in blocks(out).items():
                for _, text in parts:
                    assert re.search("seen from the outside, post 1 (on|to) the left", text), (name, run_letters)


# ---- Names and stamps -----------------------------------------------------------------------------------------


def fonts_for(letter):
    """Is there a font here that has LETTER?"""
    said = subprocess.run(["fc-list", f":charset={ord(letter):x}"], capture_output=True, check=False, timeout=HANGS)
    return bool(said.stdout.strip())


def test_names_in_any_script():
    """Either a font has the letters, and the label stands there in its order, or a warning names the run."""
    hebrew = ("\u05d7\u05d6\u05d9\u05ea", "\u05de\u05e2\u05e7\u05d4")
    chinese = ("\u5317\u56f4\u680f", "\u6a2a\u6746")
    for name, level in (hebrew, chinese):
        with tempfile.TemporaryDirectory() as folder:
            file = os.path.join(folder, "spans.csv")
            with open(file, "w", encoding="utf-8") as spans:
                spans.write(f"run,span\n{name},2400\n{name},2380\n")
            with open(os.path.join(folder, "levels.csv"), "w", encoding="utf-8") as levels:
                levels.write(f"level,section\n{level},rail\n")
            out = os.path.join(folder, "plan")
            done = run("plan", file, "--levels", os.path.join(folder, "levels.csv"), "-o", out)
            assert done.returncode == 0, done.stderr
            warned = b"the sheet shows boxes for letters of run " + name.encode() in done.stderr
            assert warned == (not fonts_for(name[0])), (name, done.stderr)
            text = "\n".join(page_texts(out))
            if not warned:
                label = re.sub("[\u200e\u202a-\u202e]", "", text)
                assert f"{name}/{level}/1-3" in label, label
            # What is pencilled on timber is the same letters and figures everywhere.
            assert re.search(r"^A1 1-3$", text, re.M), text


def test_every_page_says_which_plan_it_is_of():
    with tempfile.TemporaryDirectory() as folder:
        for name, out in sheets(folder, "--date", "3 March"):
            with open(os.path.join(out, "order.txt"), encoding="utf-8") as file:
                stamp = re.search("^Plan ([0-9A-Z]{4}-[0-9A-Z]{3}), 3 March$", file.read(), re.M)
            assert stamp, name
            for page in page_texts(out, "-layout"):
                assert re.search(rf"{stamp.group(0)} +page \d+ of \d+\s*$", page), (name, page[-200:])


if __name__ == "__main__":
    skip_without_sheets()
    sys.exit(run_tests(globals()))
