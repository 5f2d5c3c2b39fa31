# fence_job.py - read a job's input files and work out its geometry, for the independent reference
# SPDX-License-Identifier: GPL-3.0-or-later
"""The job as the reference sees it.

Written from the description of the files and of the trade's rules, not from
the library: two readings of the same text that agree are worth more than one.
Lengths are whole nanometres, money is whole millionths, as Python integers.
Only well-formed input is read; what must be refused is tested elsewhere.
"""

import csv
import math
import os
import re
from dataclasses import dataclass, field
from fractions import Fraction

MM = 10**6
METRE = 10**9
INCH = 25_400_000
UNIT = 10**6

ENDS = ("flush", "centre", "face", "housed", "mitre", "reach")


def round_half_away(value):
    """A Fraction to the nearest integer, halves away from zero."""
    sign = -1 if value < 0 else 1
    return sign * math.floor(abs(value) + Fraction(1, 2))


_NUMBER = r"[0-9]+(?:\.[0-9]*)?|\.[0-9]+"
_FEET = re.compile(r"(?:([0-9.]+)\s*(?:'|ft))?\s*(?:([0-9.]+)?\s*(?:([0-9]+)/([0-9]+))?\s*(?:\"|in))?$")


def length(text, stock=False):
    """Nanometres of a length as a user writes it."""
    text = text.strip()
    sign = 1
    if text[:1] in "+-":
        sign = -1 if text[0] == "-" else 1
        text = text[1:].strip()
    match = re.match("(" + _NUMBER + r")\s*(mm|cm|m|)$", text)
    if match:
        number, unit = Fraction(match.group(1)), match.group(2)
        if not unit:
            unit = "m" if stock and number <= 30 else "mm"
        return sign * round_half_away(number * {"mm": MM, "cm": 10 * MM, "m": METRE}[unit])
    match = _FEET.match(text)
    if not text or not match:
        raise ValueError("not a length: " + text)
    feet, whole, over, under = match.groups()
    inches = Fraction(feet or 0) * 12 + Fraction(whole or 0)
    if over:
        inches += Fraction(int(over), int(under))
    return sign * round_half_away(inches * INCH)


def money(text):
    """Millionths of an amount."""
    return round_half_away(Fraction(text) * UNIT)


def on_slope(level, span, rise):
    """A level measure in a bay of SPAN that rises by RISE, along the slope, to the nearest nanometre."""
    if rise == 0:
        return level
    # floor ((sqrt (4 q) + span) / (2 span)) with q = level^2 (span^2 + rise^2): the integer root changes nothing.
    root = math.isqrt(4 * level * level * (span * span + rise * rise))
    size = (root + span) // (2 * span)
    return size if level >= 0 else -size


@dataclass
class Bay:
    label: str
    span: int                 # centre to centre, level
    rise: int
    opening: bool
    start: tuple = None       # (kind, value), or None where timber runs on
    finish: tuple = None


@dataclass
class Post:
    width: int
    join: str = "may"


@dataclass
class Run:
    name: str
    bays: list = field(default_factory=list)
    posts: list = field(default_factory=list)

    def heights(self):
        total, out = 0, [0]
        for bay in self.bays:
            total += bay.rise
            out.append(total)
        return out

    def distances(self):
        total, out = 0, [0]
        for bay in self.bays:
            total += bay.span
            out.append(total)
        return out

    def stretches(self):
        """(first post, last post) of each unbroken line of posts that carries timber."""
        out, first = [], None
        for b, bay in enumerate(self.bays):
            if bay.opening:
                continue
            if bay.start is not None:
                first = b
            if bay.finish is not None:
                out.append((first, b + 1))
        return out


@dataclass
class Level:
    name: str
    section: str
    through: bool = True
    gap: int = 0
    height: int = None
    blocks: int = 0
    block_length: int = 0
    block_section: str = None


@dataclass
class Stock:
    section: str
    length: int
    price: int                # of one length; None: no prices in this job
    limit: int                # None: any number
    hand: int


@dataclass
class Extra:
    label: str
    section: str
    length: int
    quantity: int


DEFAULTS = {
    "kerf": "3", "end-trim": "0", "post-width": "100", "measured": "centres", "rails": "2",
    "stock-length": "4.8,5.4", "keep": "600", "join-cost": "0", "stagger": "prefer", "bow": "5", "max-piece": "",
}


@dataclass
class Job:
    runs: list
    levels: list
    stocks: list
    extras: list
    sections: dict            # name: row of sections.csv as a dictionary
    kerf: int
    trim: int
    join_cost: int
    stagger: str
    bow: int
    max_piece: int            # None: no limit
    priced: bool

    def through(self):
        return [level for level in self.levels if level.through]

    def stocks_of(self, section):
        return [stock for stock in self.stocks if stock.section == section]

    def usable(self, stock):
        """What of a board can be cut up."""
        return stock.length - 2 * self.trim

    def cost_of(self, stock):
        """One board from the yard: millionths, or nanometres where nothing has a price."""
        return stock.price if self.priced else stock.length

    def cost_of_join(self):
        """In the unit of cost_of; without prices a join weighs as many metres as it costs money."""
        return self.join_cost if self.priced else self.join_cost * (METRE // UNIT)

    def straight(self, run, i, j):
        """Do the posts between I and J stand within the bow of the straight line?"""
        high, far = run.heights(), run.distances()
        for p in range(i + 1, j):
            on_line = high[i] + Fraction(high[j] - high[i]) * Fraction(far[p] - far[i], far[j] - far[i])
            if abs(high[p] - on_line) > self.bow:
                return False
        return True

    def cut(self, run, i, j):
        """Length of a through piece from post I to post J, to the long point."""
        total = 0
        for bay in run.bays[i:j]:
            total += on_slope(bay.span, bay.span, bay.rise)
        near, far = run.bays[i], run.bays[j - 1]
        if near.start is not None:
            total += on_slope(reach(near.start, run.posts[i].width), near.span, near.rise)
        if far.finish is not None:
            total += on_slope(reach(far.finish, run.posts[j].width), far.span, far.rise)
        return total

    def between_cut(self, run, b, level):
        bay = run.bays[b]
        clear = bay.span - (run.posts[b].width + run.posts[b + 1].width) // 2
        return on_slope(clear, bay.span, bay.rise) - level.gap


def reach(end, width):
    """How far timber goes past the post's centre, away from its own bay."""
    kind, value = end
    if kind in ("flush", "mitre"):
        return width // 2
    if kind == "centre":
        return 0
    if kind == "face":
        return -(width // 2)
    if kind == "housed":
        depth = width // 3 // MM * MM if value is None else value
        return -(width // 2) + depth
    return value


def _end(text):
    if not text:
        return None
    kind, _, value = text.partition(" ")
    if kind not in ENDS:
        raise ValueError("not an end: " + text)
    if kind == "mitre":
        return kind, Fraction(value) if value else Fraction(90)
    return kind, length(value) if value else None


def rows(path):
    with open(path, newline="", encoding="utf-8-sig") as file:
        reader = csv.DictReader(file)
        reader.fieldnames = [name.strip().lower() for name in reader.fieldnames]
        return [{name: (cell or "").strip() for name, cell in row.items()} for row in reader]


def _runs(path, settings):
    runs = []
    width = length(settings["post-width"])
    for row in rows(path):
        if not runs or runs[-1].name != row["run"]:
            near = row.get("near_post_width")
            runs.append(Run(row["run"], [], [Post(length(near) if near else width)]))
        run = runs[-1]
        far = row.get("post_width")
        run.posts.append(Post(length(far) if far else width, row.get("join") or "may"))
        span = length(row["span"])
        if settings["measured"] == "clear":
            span += (run.posts[-2].width + run.posts[-1].width) // 2
        run.bays.append(Bay(row.get("bay") or str(len(run.bays) + 1), span, length(row.get("rise") or "0"),
                            (row.get("opening") or "").lower() == "yes",
                            _end(row.get("start")), _end(row.get("finish"))))
    for run in runs:
        _resolve(run)
    return runs


def _resolve(run):
    """Fill in the ends that are left blank."""
    written = [(bay.start is not None, bay.finish is not None) for bay in run.bays]
    last = len(run.bays) - 1
    for b, bay in enumerate(run.bays):
        if bay.start is None:
            if b == 0:
                bay.start = ("flush", None)
            elif run.bays[b - 1].opening:
                bay.start = ("face", None)
            elif written[b - 1][1]:
                bay.start = ("centre", None)
        if bay.finish is None:
            if b == last:
                bay.finish = ("flush", None)
            elif run.bays[b + 1].opening:
                bay.finish = ("face", None)
            elif written[b + 1][0]:
                bay.finish = ("centre", None)


def _levels(path, settings):
    if path is None:
        return [Level("rail %d" % (i + 1), "rail") for i in range(int(settings["rails"]))]
    out = []
    for row in rows(path):
        height = row.get("height")
        out.append(Level(row["level"], row["section"], (row.get("runs") or "through") == "through",
                         length(row.get("gap") or "0"), length(height) if height else None,
                         int(row.get("blocks") or 0), length(row.get("block_length") or "0"),
                         row.get("block_section") or row["section"]))
    return out


def _stocks(path, settings, sections):
    if path is None:
        lengths = [length(text, stock=True) for text in settings["stock-length"].split(",")]
        return [Stock(section, size, None, None, 0) for section in sections for size in lengths]
    out = []
    for row in rows(path):
        size = length(row["length"], stock=True)
        price = money(row["price"]) if row.get("price") else None
        if price is not None and row.get("per") == "metre":
            price = round_half_away(Fraction(price * size, METRE))
        limit = row.get("limit")
        out.append(Stock(row["section"], size, price, int(limit) if limit else None, int(row.get("hand") or 0)))
    return out


def read_job(arguments, folder="."):
    """The job of a command line: [SPANS] --levels F --kerf 3 ..., files relative to FOLDER."""
    files, given = {}, {}
    words = iter(arguments)
    for word in words:
        if not word.startswith("--"):
            files["spans"] = word
        elif word[2:] in ("levels", "stock", "sections", "extras", "settings"):
            files[word[2:]] = next(words)
        else:
            given[word[2:]] = next(words)
    files = {name: os.path.join(folder, path) for name, path in files.items()}
    settings = dict(DEFAULTS)
    if "settings" in files:
        settings.update((row["key"], row["value"]) for row in rows(files["settings"]))
    settings.update(given)

    extras = []
    if "extras" in files:
        extras = [Extra(row["label"], row["section"], length(row["length"]), int(row.get("quantity") or 1))
                  for row in rows(files["extras"])]
    runs, levels = [], []
    if "spans" in files:
        runs = _runs(files["spans"], settings)
        levels = _levels(files.get("levels"), settings)
    used = [level.section for level in levels] + [level.block_section for level in levels if level.blocks]
    used = list(dict.fromkeys(used + [extra.section for extra in extras]))
    sections = {row["section"]: row for row in rows(files["sections"])} if "sections" in files else {}
    stocks = _stocks(files.get("stock"), settings, used)
    return Job(runs, levels, stocks, extras, sections, length(settings["kerf"]), length(settings["end-trim"]),
               money(settings["join-cost"]), settings["stagger"], length(settings["bow"]),
               length(settings["max-piece"]) if settings["max-piece"] else None,
               any(stock.price is not None for stock in stocks))
