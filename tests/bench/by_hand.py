# by_hand.py - what a carpenter does without a program: the longest pieces first
# SPDX-License-Identifier: GPL-3.0-or-later
"""A rule of ours that imitates practice; no one was watched doing it.

Joins: from the run's first post, each piece spans as many bays as the longest
stock allows.  On the first post of every second level up, the piece is shorter
than on the level below, if it can be; after that, a piece that would end over
a join of the level below ends somewhere else, if it can.

Cuts: the longest piece first, out of the first board begun that has room, else
out of a new one: of the shortest length it comes out of, or always of the
longest that is sold, whichever of the two is cheaper for the whole fence.
"""

import os
import sys
from dataclasses import dataclass

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "reference"))
import fence_model


@dataclass
class ByHand:
    cost: int
    aligned: int
    joins: int
    boards: int


def lay(layout):
    """{(stretch, level): [Arc, ...]} by the rule."""
    arcs = {}
    for arc in layout.arcs:
        arcs.setdefault((arc.stretch, arc.level), {}).setdefault(arc.start, []).append(arc)
    for starts in arcs.values():
        for choice in starts.values():
            choice.sort(key=lambda arc: -arc.stop)
    chosen = {}
    for stretch, (run, first, last) in enumerate(layout.stretches):
        for level in range(len(layout.job.through(run))):
            below = chosen.get((stretch, level - 1), [])
            joins = {arc.stop for arc in below} - {last}
            post, pieces = first, []
            while post < last:
                choice = arcs[stretch, level][post]
                wanted = [arc for arc in choice if arc.stop not in joins]
                if post == first and level % 2 == 1:
                    wanted = [arc for arc in wanted if arc.stop < below[0].stop]
                pieces.append((wanted or choice)[0])
                post = pieces[-1].stop
            chosen[stretch, level] = pieces
    return chosen


def cut(pieces, rooms, longest):
    """Boards out of ROOMS (ascending room with one kerf more), as indices; pieces with their kerf, longest first."""
    left, bought = [], []
    for piece in pieces:
        for board, room in enumerate(left):
            if room >= piece:
                left[board] -= piece
                break
        else:
            stock = len(rooms) - 1 if longest else next(k for k, room in enumerate(rooms) if room >= piece)
            bought.append(stock)
            left.append(rooms[stock] - piece)
    return bought


def plan(job):
    """The ByHand of a job of through rails alone out of stock without limits; KeyError where it has no plan."""
    layout = fence_model.Layout(job)
    chosen = lay(layout)
    cost = boards = joins = 0
    for section in {level.section for level in job.levels if level.through}:
        pieces = sorted((arc.item[1] + job.kerf for line in chosen.values() for arc in line if arc.item[0] == section),
                        reverse=True)
        stocks = sorted(job.stocks_of(section), key=lambda stock: stock.length)
        rooms = [job.usable(stock) + job.kerf for stock in stocks]
        ways = [cut(pieces, rooms, longest) for longest in (False, True)]
        best = min(ways, key=lambda bought: sum(job.cost_of(stocks[k]) for k in bought))
        cost += sum(job.cost_of(stocks[k]) for k in best)
        boards += len(best)
    aligned = 0
    for (stretch, level), line in chosen.items():
        run, _, last = layout.stretches[stretch]
        joins += len(line) - 1
        above = {arc.stop for arc in chosen.get((stretch, level + 1), [])}
        aligned += sum(1 for arc in line if arc.stop != last and arc.stop in above
                       and run.posts[arc.stop].join != "always")
    return ByHand(cost + joins * job.cost_of_join(), aligned, joins, boards)
