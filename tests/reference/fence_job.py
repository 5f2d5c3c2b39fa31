# fence_job.py - read a job's input files and work out its geometry, for the independent reference
# SPDX-License-Identifier: GPL-3.0-or-later
"""The job as the reference sees it.

Written from the description of the files and of the trade's rules, not from
the library: two readings of the same text that agree are worth more than one.
Lengths are whole nanometres, money is whole millionths, as Python integers.
Only well-formed input is read; what must be refused is tested elsewhere.
"""

import csv
import os
import re
from dataclasses import dataclass, field
from fractions import Fraction

import fence_geometry
from fence_geometry import on_slope, round_half_away

MM = 10**6
METRE = 10**9
INCH = 25_400_000
UNIT = 10**6

ENDS = ("flush", "centre", "face", "housed", "mitre", "reach")


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


@dataclass
class Bay:
    label: str
    span: int                 # centre to centre, level
    rise: int
    opening: bool
    start: tuple = None       # (kind, value), or None where timber runs on
    finish: tuple = None
    step: int = 0             # up at the far post


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

    def along(self):
        """Running distances of the posts' centres along the slope."""
        total, out = 0, [0]
        for bay in self.bays:
            total += on_slope(bay.span, bay.span, bay.rise)
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
    seat: tuple = ("let in", None)
    only: tuple = None        # names of the runs that have it; None: all

    def end(self, end):
        """An END as this level takes it: on top of the posts nothing stops at their faces."""
        if end is not None and self.seat[0] == "top" and end[0] in ("face", "housed"):
            return "flush", None
        return end


@dataclass(frozen=True)
class Piece:
    """One piece as it is cut."""
    cut: int                  # along its edge, to the long point
    take: int                 # of its board, without an ordinary kerf
    span: int                 # of its bays, level
    rise: int
    ends: tuple               # start and finish as its level takes them; None: joined, or between posts
    corners: tuple            # fence_geometry.Corner or None, of start and finish

    def long_point(self):
        """As cuts.csv says it: one word where both ends agree."""
        sides = [corner.long_point for corner in self.corners if corner is not None]
        return " ".join(dict.fromkeys(sides))


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
    "inches": "no", "round": "", "post-depth": "", "turn": "keep",
}
# These words of a command line are followed by no value.
FLAGS = ("inches",)


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
    turn: bool                # first pieces of neighbouring levels long and short in turn
    round: int                # what is cut is rounded to this; 0: not at all
    post_depth: int           # across the fence; None: each post's own width
    inches: bool              # printed so

    def levels_of(self, run):
        return [level for level in self.levels if level.only is None or run.name in level.only]

    def through(self, run):
        """The levels of RUN that run past its posts, bottom to top: each is its follower's neighbour."""
        return [level for level in self.levels_of(run) if level.through]

    def dimension(self, section, name):
        """Width or thickness of a section, None where it is not known."""
        text = self.sections.get(section, {}).get(name)
        return length(text) if text else None

    def describe(self, section):
        """The text for the order."""
        return self.sections.get(section, {}).get("description") or ""

    def stocks_of(self, section):
        return [stock for stock in self.stocks if stock.section == section]

    def usable(self, stock):
        """What of a board can be cut up."""
        return stock.length - 2 * self.trim

    def cost_of(self, stock):
        """One board from the yard: millionths, or nanometres where nothing has a price."""
        return stock.price if self.priced else stock.length

    def cost_of_join(self):
        """In the unit of cost_of; only a job with prices may have it."""
        return self.join_cost

    def straight(self, run, i, j):
        """Do the posts between I and J stand within the bow of the straight line?"""
        high, far = run.heights(), run.distances()
        for p in range(i + 1, j):
            on_line = high[i] + Fraction(high[j] - high[i]) * Fraction(far[p] - far[i], far[j] - far[i])
            if abs(high[p] - on_line) > self.bow:
                return False
        return True

    def corner(self, level, end, post):
        """The Corner that a mitred END of LEVEL makes at POST, or None."""
        if end is None or end[0] != "mitre":
            return None
        depth = post.width if self.post_depth is None else self.post_depth
        width, thickness = (self.dimension(level.section, name) for name in ("width", "thickness"))
        return fence_geometry.corner(end[1], *fence_geometry.faces(level.seat, depth, width, thickness))

    def reach(self, level, end, post):
        """How far timber goes past the post's centre, away from its own bay, level."""
        kind, value = level.end(end)
        if kind == "flush":
            return post.width // 2
        if kind == "centre":
            return 0
        if kind == "face":
            return -(post.width // 2)
        if kind == "housed":
            return -(post.width // 2) + housed_depth(value, post)
        if kind == "mitre":
            return self.corner(level, end, post).reach
        return value

    def piece(self, run, level, i, j):
        """The piece of LEVEL from post I to post J; between posts they are neighbours."""
        return self._through_piece(run, level, i, j) if level.through else self._between_piece(run, level, i)

    def _through_piece(self, run, level, i, j):
        along = run.along()
        near, far = run.bays[i], run.bays[j - 1]
        begin, end = along[i], along[j]
        if near.start is not None:
            begin -= on_slope(self.reach(level, near.start, run.posts[i]), near.span, near.rise)
        if far.finish is not None:
            end += on_slope(self.reach(level, far.finish, run.posts[j]), far.span, far.rise)
        cut = fence_geometry.round_position(end, self.round) - fence_geometry.round_position(begin, self.round)
        ends = level.end(near.start), level.end(far.finish)
        corners = self.corner(level, near.start, run.posts[i]), self.corner(level, far.finish, run.posts[j])
        return self._piece(level, cut, run.bays[i:j], ends, corners)

    def _between_piece(self, run, level, b):
        bay = run.bays[b]
        clear = bay.span - (run.posts[b].width + run.posts[b + 1].width) // 2
        cut = fence_geometry.round_down(on_slope(clear, bay.span, bay.rise) - level.gap, self.round)
        return self._piece(level, cut, [bay], (None, None), (None, None))

    def _piece(self, level, cut, bays, ends, corners):
        span, rise = sum(bay.span for bay in bays), sum(bay.rise for bay in bays)
        width = self.dimension(level.section, "width") or 0
        # A start's mitre takes no more: the next piece's long point begins where the kerf of the cut before it ended.
        take = cut + fence_geometry.triangle(width, span, rise)
        take += fence_geometry.kerf_more(self.kerf, span, rise, corners[1].saw if corners[1] else None)
        return Piece(cut, take, span, rise, ends, corners)


def housed_depth(value, post):
    """Of a stopped housing: a third of the post, rounded down to a millimetre, where it is not written."""
    return post.width // 3 // MM * MM if value is None else value


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
                            _end(row.get("start")), _end(row.get("finish")), length(row.get("step") or "0")))
    for run in runs:
        _resolve(run)
    return runs


def _resolve(run):
    """Fill in the ends that are left blank."""
    written = [(bay.start is not None, bay.finish is not None) for bay in run.bays]
    last = len(run.bays) - 1
    # Beyond the last post there is nothing that could be higher.
    run.bays[last].step = 0
    for b, bay in enumerate(run.bays):
        if bay.start is None:
            if b == 0:
                bay.start = ("flush", None)
            elif run.bays[b - 1].opening:
                bay.start = ("face", None)
            elif written[b - 1][1] or run.bays[b - 1].step:
                bay.start = ("centre", None)
        if bay.finish is None:
            if b == last:
                bay.finish = ("flush", None)
            elif run.bays[b + 1].opening:
                bay.finish = ("face", None)
            elif written[b + 1][0] or bay.step:
                bay.finish = ("centre", None)


def _seat(text):
    """("let in", depth or None), ("face", None) or ("top", None)."""
    if text in ("", "let in"):
        return "let in", None
    if text in ("face", "top"):
        return text, None
    if text.startswith("let in "):
        return "let in", length(text[len("let in "):])
    raise ValueError("not a seat: " + text)


def _only(text):
    return tuple(name.strip() for name in text.split(";")) if text else None


def _levels(path, settings):
    if path is None:
        return [Level("rail %d" % (i + 1), "rail") for i in range(int(settings["rails"]))]
    out = []
    for row in rows(path):
        height = row.get("height")
        out.append(Level(row["level"], row["section"], (row.get("runs") or "through") == "through",
                         length(row.get("gap") or "0"), length(height) if height else None,
                         int(row.get("blocks") or 0), length(row.get("block_length") or "0"),
                         row.get("block_section") or row["section"],
                         _seat(row.get("seat") or ""), _only(row.get("only"))))
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
        elif word[2:] in FLAGS:
            given[word[2:]] = "yes"
        else:
            given[word[2:]] = next(words)
    files = {name: os.path.join(folder, path) for name, path in files.items()}
    settings = dict(DEFAULTS)
    if "settings" in files:
        settings.update((row["key"], row["value"]) for row in rows(files["settings"]))
    settings.update(given)
    settings["round"] = settings["round"] or ("1/16in" if settings["inches"] == "yes" else "1")

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
               any(stock.price is not None for stock in stocks), settings["turn"] == "keep",
               length(settings["round"]), length(settings["post-depth"]) if settings["post-depth"] else None,
               settings["inches"] == "yes")
