"""check_sheets.py - the printed sheets of the samples, read back and rendered by Poppler
SPDX-License-Identifier: GPL-3.0-or-later
"""
import csv
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


if __name__ == "__main__":
    if not all(map(shutil.which, ("pdftotext", "pdftoppm", "pdfinfo"))):
        print("SKIPPED: poppler-utils is not installed, so no sheet was looked at")
        sys.exit(77)
    with tempfile.TemporaryDirectory() as here:
        if b"built without it" in run(*sample("front-fence"), "-o", here).stderr:
            print("SKIPPED: this spanwright was built without the sheet")
            sys.exit(77)
    sys.exit(run_tests(globals()))
