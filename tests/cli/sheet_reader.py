"""sheet_reader.py - a printed sheet read back: its text by Poppler, its shapes out of the SVG files
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
from terminal import HANGS, run



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


# ---- Text ----------------------------------------------------------------------------------------------------

# A part begins at the head of a page, or under the part before it.
HEADS = {"Runs": re.compile("^Runs +lengths 1 : ", re.M), "Boards": re.compile("^Boards +cut from left", re.M)}


def page_texts(out, *words):
    text = poppler("pdftotext", *words, os.path.join(out, "sheet.pdf"), "-").decode()
    return text.split("\f")[:-1]


def pages_of(out, part):
    """(number, text) of the pages that show PART."""
    return [(number, page) for number, page in enumerate(page_texts(out, "-layout"), 1) if HEADS[part].search(page)]


def letters(run):
    """A, B ... Z, AA ...: as columns of a spreadsheet are named."""
    text, number = "", run + 1
    while number > 0:
        number, rest = divmod(number - 1, 26)
        text = chr(ord("A") + rest) + text
    return text


def table(out, name):
    with open(os.path.join(out, name + ".csv"), newline="", encoding="utf-8") as file:
        return list(csv.DictReader(file))


def blocks(out):
    """Of each run its blocks: (number of the page, text), from its heading to the next."""
    found, open_blocks = {}, None
    for number, page in enumerate(page_texts(out, "-raw"), 1):
        for line in page.split("\n"):
            heading = re.match(r"([A-Z]+) Run (.*)", line)
            if heading:
                open_blocks = found.setdefault(heading.group(1), [])
                open_blocks.append([number, ""])
            elif re.match("Boards cut from left|Runs lengths 1|.*page \d+ of \d+$", line):
                open_blocks = None
            if open_blocks:
                open_blocks[-1][1] += line + " "
    return found


def runs_of(out):
    return list(dict.fromkeys(row["run"] for row in table(out, "setout")))


def order_text(out):
    """The pages before the runs, in one line."""
    text = "\n".join(page_texts(out, "-raw"))
    return re.sub(r"\s+", " ", text[:HEADS["Runs"].search(text).start()])


def numbered_levels(out):
    """Numbers of the levels, which the order's pages tell: {name: number}."""
    text = order_text(out)
    text = text[text.index("Levels: the number of the pencil mark"):]
    names = dict.fromkeys(row["level"] for row in table(out, "setout"))
    return {name: int(re.search(rf"(?<!\S)(\d+) {re.escape(name)} [^,]+, (?:let in|on|between) ?", text).group(1))
            for name in names}


def board_texts(out):
    """The lines of the boards' pages, in the order in which they are drawn."""
    text = "\n".join(page_texts(out, "-raw"))
    return text[re.search("^Boards cut from left", text, re.M).start():]


# ---- Drawings: shapes out of the SVG files ---------------------------------------------------------------------

SECTIONS = "section,width,thickness\n75x38,75,38\n150x25,150,25\n100x25,100,25\n"
RAIL = "level,section,height\nrail,75x38,250\n"
CAPPED = "level,section,height,seat\nrail,75x38,250,\ncapping,100x25,900,top\n"
# What the sheet draws with: see sheet_run.h, sheet_board.h.
BAND, BAR = 22.5, 18


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


def shapes(out, part):
    """Of all pages that show PART, in the order in which they are drawn: those that stand under its head."""
    found = []
    for number, page in pages_of(out, part):
        with open(os.path.join(out, f"sheet-{number}.svg"), encoding="utf-8") as file:
            drawing = re.sub(r"<defs>.*?</defs>", "", file.read(), flags=re.S)
        here = [Shape(path) for path in re.findall(r"<path[^>]*/>", drawing)
                if " C " not in path and re.search(r"[ML] -?[\d.]+ ", path)]
        # Each part has a rule from margin to margin under its head.
        rules = sorted(s.top for s in here if s.thick == 1.2 and s.right - s.left > 700) + [math.inf]
        parts = re.findall(r"^(Order and totals|Runs|Boards)(?:$| {3})", page, re.M)
        assert len(parts) == len(rules) - 1, (parts, rules)
        which = parts.index(part)
        found += [s for s in here if rules[which] < s.top < rules[which + 1]]
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


def skip_without_sheets():
    """Ends the program, as skipped, where no sheet can be read back."""
    if not all(map(shutil.which, ("pdftotext", "pdftoppm", "pdfinfo"))):
        print("SKIPPED: poppler-utils is not installed, so no sheet was looked at")
        sys.exit(77)
    with tempfile.TemporaryDirectory() as here:
        if b"built without it" in run(*sample("front-fence"), "-o", here).stderr:
            print("SKIPPED: this spanwright was built without the sheet")
            sys.exit(77)
