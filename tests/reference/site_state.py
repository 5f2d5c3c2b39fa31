# site_state.py - what is fixed, cut and left after site.csv, for the independent reference
# SPDX-License-Identifier: GPL-3.0-or-later
"""Where a job stands on site, worked out from the plan's tables and what was written in site.csv.

Written from the description of site.csv alone.  Lengths are whole nanometres.
"""

import copy
import os
from collections import Counter
from dataclasses import dataclass, field
from fractions import Fraction

import fence_geometry
import fence_job
from fence_job import MM


@dataclass(frozen=True)
class Stick:
    """An offcut or a piece: its ends are sawn."""
    section: str
    length: int              # that can be cut, with square ends
    ends: tuple = None       # how its ends are sawn where they are not square
    cut: int = 0             # then its length to the long point
    take: int = 0


@dataclass
class State:
    placed: dict = field(default_factory=dict)     # (run, level): {(i, j): cut}
    blocks: Counter = field(default_factory=Counter)   # (run, level): how many are in their places
    extras: Counter = field(default_factory=Counter)   # label of the extra: the same
    whole: Counter = field(default_factory=Counter)    # (section, length): boards on hand
    bought: Counter = field(default_factory=Counter)   # the same: so many in all
    sticks: Counter = field(default_factory=Counter)
    old: set = field(default_factory=set)          # (run, level, i, j, cut) of the plan before


def first(job):
    """Before anything was bought: what stock.csv has on hand."""
    state = State()
    for stock in job.stocks:
        state.whole[stock.section, stock.length] += stock.hand
    return state


def ends_of(piece):
    """How the ends of a Piece are sawn; None: square."""
    corners = tuple(None if c is None else (c.saw, c.long_point) for c in piece.corners)
    if corners == (None, None) and not piece.rise:
        return None
    slope = Fraction(piece.rise, piece.span) if piece.rise else 0
    return corners + (slope,)


def square_length(job, level, piece):
    """What is left when both ends are sawn square; 0: not known."""
    through = job.dimension(level.section, "width" if level.seat[0] == "top" else "thickness")
    length = piece.cut
    for corner in piece.corners:
        if corner is not None:
            if through is None:
                return 0
            # To the next tenth of a millimetre, and a millimetre to be sure of it.
            back = fence_geometry.times_tangent(through, corner.saw)
            length -= (2 * back + MM // 10) // (2 * (MM // 10)) * (MM // 10) + MM
    if piece.rise:
        length -= fence_geometry.triangle(job.dimension(level.section, "width") or 0, piece.span, piece.rise)
    return max(length, 0)


@dataclass
class Cut:
    """A row of cuts.csv."""
    label: str
    section: str
    run: str
    level: str
    i: int
    j: int
    take: int
    stick: Stick


@dataclass
class Board:
    number: int
    section: str
    length: int
    hand: bool
    stick: Stick             # None: a whole board
    cuts: list = field(default_factory=list)


def on_hand(folder, sections):
    """{name: (section, length)} of timber with a name in a plan's on-hand.csv, and its boards as a Counter."""
    path = os.path.join(folder, "job", "on-hand.csv")
    if not os.path.exists(path):
        return {}, None
    named, boards = {}, Counter()
    for row in fence_job.rows(path):
        key = row["section"], fence_job.length(row["length"])
        if row["kind"] == "board":
            boards[key] += int(row["count"])
        else:
            named[row["timber"]] = key + (fence_job.length(row["cut"]) if row["cut"] else 0,)
    return named, boards


def boards_of(job, folder, state):
    """The boards of a plan's cuts.csv, by number."""
    runs = {run.name: run for run in job.runs}
    levels = {level.name: level for level in job.levels}
    named, _ = on_hand(folder, job.sections)
    boards = {}
    unit = "_in" if job.inches else "_mm"
    for row in fence_job.rows(os.path.join(folder, "cuts.csv")):
        number = int(row["board"])
        if number not in boards:
            stick = None
            if row.get("timber"):
                key = named[row["timber"]]
                stick = next(s for s in state.sticks if (s.section, s.length, s.cut) == key and state.sticks[s] > 0)
                length = stick.length
            else:
                printed = Fraction(row["board" + unit]) * (fence_job.INCH if job.inches else MM)
                sizes = {size for section, size in list(state.whole) + [(s.section, s.length) for s in job.stocks]
                         if section == row["section"]}
                length = min(sizes, key=lambda size: abs(size - printed))
            boards[number] = Board(number, row["section"], length, row["source"] == "hand", stick)
        board = boards[number]
        if row["run"] and row["from_post"]:
            run, level = runs[row["run"]], levels[row["level"]]
            i, j = int(row["from_post"]) - 1, int(row["to_post"]) - 1
            piece = job.piece(run, level, i, j)
            stick = Stick(level.section, piece.cut)
            if ends_of(piece) is not None:
                stick = Stick(level.section, max(square_length(job, level, piece), 1), ends_of(piece), piece.cut,
                              piece.take)
            board.cuts.append(Cut(row["piece"], row["section"], row["run"], row["level"], i, j, piece.take, stick))
            continue
        if row["run"]:
            size = levels[row["level"]].block_length
        else:
            size = next(e.length for e in job.extras
                        if row["piece"] == e.label or (e.quantity > 1 and row["piece"].rsplit(" ", 1)[0] == e.label))
        board.cuts.append(Cut(row["piece"], row["section"], row["run"], row["level"], None, None, size,
                              Stick(row["section"], size)))
    return boards


def spare_of(job, folder):
    """Spare boards of a plan's order."""
    spare = Counter()
    unit = "_in" if job.inches else "_mm"
    for row in fence_job.rows(os.path.join(folder, "order.csv")):
        if row["spare"] and int(row["spare"]):
            printed = Fraction(row["length" + unit]) * (fence_job.INCH if job.inches else MM)
            size = min((s.length for s in job.stocks_of(row["section"])), key=lambda n: abs(n - printed))
            spare[row["section"], size] += int(row["spare"])
    return spare


def usable(job, board):
    return board.length if board.stick is not None else board.length - 2 * job.trim


def after(job, folder, state, site):
    """The State when SITE has happened to the plan in FOLDER, which was made of JOB in STATE.

    SITE: {"pieces": {label: (state, left)}, "boards": {number: (state, left)}}.
    """
    boards = boards_of(job, folder, state)
    new = copy.deepcopy(state)
    new.old = set()
    for (run, level), pieces in state.placed.items():
        new.old |= {(run, level, i, j, cut) for (i, j), cut in pieces.items()}
    for key, n in spare_of(job, folder).items():
        new.whole[key] += n
        new.bought[key] += n
    for board in boards.values():
        new.old |= {(c.run, c.level, c.i, c.j, job.piece(_run(job, c.run), _level(job, c.level), c.i, c.j).cut)
                    for c in board.cuts if c.i is not None}
        key = board.section, board.length
        if board.stick is None and not board.hand:
            new.bought[key] += 1
            new.whole[key] += 1
        said, left = site["boards"].get(board.number, (None, None))
        touched = [c for c in board.cuts if c.label in site["pieces"] or said == "cut up"]
        if said is None and not touched:
            continue
        if board.stick is None:
            new.whole[key] -= 1
        else:
            new.sticks[board.stick] -= 1
        if said == "bad":
            rest = left or 0
        elif left is not None:
            rest = left
        else:
            rest = usable(job, board) - sum(c.take + job.kerf for c in touched)
        if rest > 0:
            new.sticks[Stick(board.section, rest)] += 1
        for cut in touched:
            _take(new, cut, *site["pieces"].get(cut.label, ("cut", None)), job)
    for sticks in list(new.sticks):
        if new.sticks[sticks] == 0:
            del new.sticks[sticks]
    return new


def _run(job, name):
    return next(run for run in job.runs if run.name == name)


def _level(job, name):
    return next(level for level in job.levels if level.name == name)


def _take(state, cut, said, left, job):
    if said == "cut":
        state.sticks[cut.stick] += 1
    elif said == "spoiled":
        if left:
            state.sticks[Stick(cut.section, left)] += 1
    elif cut.i is not None:
        piece = job.piece(_run(job, cut.run), _level(job, cut.level), cut.i, cut.j)
        state.placed.setdefault((cut.run, cut.level), {})[cut.i, cut.j] = piece.cut
    elif cut.run:
        state.blocks[cut.run, cut.level] += 1
    else:
        label = next(e.label for e in job.extras
                     if cut.label == e.label or (e.quantity > 1 and cut.label.rsplit(" ", 1)[0] == e.label))
        state.extras[label] += 1
