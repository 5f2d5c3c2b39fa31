# fence_model.py - the whole joint model of a job, unfiltered, for a general-purpose solver
# SPDX-License-Identifier: GPL-3.0-or-later
"""Joins, stock lengths and cutting patterns in one integer program.

Every piece that the rules allow and every maximal way of cutting a board is
there, nothing is left out by reduced cost or otherwise, and HiGHS (through
scipy.optimize.milp) solves it.  Objective, one after the other: pairs of joins
that line up; timber and joins; joins; boards.
"""

import sys
from dataclasses import dataclass
from math import gcd

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import csr_array

import fence_job


# HiGHS gives up after so many branches: a count, not a time, so that every machine judges the same jobs.
NODE_LIMIT = 3000
# Patterns: as many as fit in memory, and as many as HiGHS comes back from in time, where it is to judge.
PATTERN_LIMIT = 400_000
JUDGED_PATTERNS = 50_000


class TooLarge(Exception):
    """More patterns or branches than the full model is given: no verdict on this job."""


class Wrong(Exception):
    """The general-purpose solver returned what its own model forbids, or nothing."""


@dataclass(frozen=True)
class Optimum:
    aligned: int
    cost: int        # millionths of money, or nanometres bought where nothing has a price
    joins: int
    boards: int


@dataclass
class Arc:
    stretch: int
    level: int       # among the run's through levels
    start: int       # posts
    stop: int
    item: tuple      # (section, what it takes of a board): pieces that take the same are alike


class Layout:
    """All pieces that could be cut, and those that must."""

    def __init__(self, job):
        self.job = job
        self.stretches = []        # (run, first post, last post)
        self.arcs = []
        self.fixed = {}            # item: how many
        self.impossible = False
        for run in job.runs:
            for first, last in run.stretches():
                self._add_stretch(run, first, last)
            for level in job.levels_of(run):
                self._add_bays(run, level)
        for extra in job.extras:
            self._demand(extra.section, extra.length, extra.quantity)

    def _longest(self, section):
        return max((self.job.usable(stock) for stock in self.job.stocks_of(section)), default=0)

    def _demand(self, section, size, quantity):
        if quantity:
            self.fixed[section, size] = self.fixed.get((section, size), 0) + quantity
            if size > self._longest(section):
                self.impossible = True

    def _add_bays(self, run, level):
        for b, bay in enumerate(run.bays):
            if bay.opening:
                continue
            if not level.through:
                self._demand(level.section, self.job.piece(run, level, b, b + 1).take, 1)
            self._demand(level.block_section, level.block_length, level.blocks)

    def _add_stretch(self, run, first, last):
        stretch = len(self.stretches)
        self.stretches.append((run, first, last))
        for t, level in enumerate(self.job.through(run)):
            most = self._longest(level.section)
            for i in range(first, last):
                if i > first and run.posts[i].join == "never":
                    continue
                for j in range(i + 1, last + 1):
                    if j < last and run.posts[j].join == "never":
                        continue
                    if any(run.posts[p].join == "always" for p in range(i + 1, j)):
                        break
                    piece = self.job.piece(run, level, i, j)
                    if not 0 < piece.cut or piece.take > most:
                        continue
                    # What one can carry is the piece, whatever the saw leaves of the board beside it.
                    if self.job.max_piece is not None and piece.cut > self.job.max_piece:
                        continue
                    if self.job.straight(run, i, j):
                        self.arcs.append(Arc(stretch, t, i, j, (level.section, piece.take)))

    def most_of_each(self):
        """For each item, a number of pieces that no plan exceeds."""
        most = dict(self.fixed)
        reached = {}
        # By far end: taking the piece that ends first gives the most that do not overlap.
        for arc in sorted(self.arcs, key=lambda a: a.stop):
            key = arc.stretch, arc.level, arc.item
            if arc.start >= reached.get(key, 0):
                reached[key] = arc.stop
                most[arc.item] = most.get(arc.item, 0) + 1
        return most


def maximal_patterns(items, usable, kerf, limit):
    """Every way to fill USABLE that has no room for one more piece.  ITEMS: (take, most), longest first."""
    out, counts = [], [0] * len(items)
    room = usable + kerf

    def extend(k, left):
        if k == len(items):
            if any(counts[q] < items[q][1] and items[q][0] + kerf <= left for q in range(len(items))):
                return
            if any(counts):
                out.append(tuple((q, n) for q, n in enumerate(counts) if n))
                if len(out) > limit:
                    raise TooLarge
            return
        size = items[k][0] + kerf
        for n in range(min(items[k][1], left // size), -1, -1):
            counts[k] = n
            extend(k + 1, left - n * size)
        counts[k] = 0

    # Recursion one deep an item; a job's distinct lengths stay far below this.
    sys.setrecursionlimit(max(sys.getrecursionlimit(), len(items) + 1000))
    extend(0, room)
    return out


class Model:
    """Rows and columns, kept as triplets."""

    def __init__(self, job, most_patterns=PATTERN_LIMIT, layout=None):
        self.job = job
        self.most_patterns = most_patterns
        self.layout = layout or Layout(job)
        self.upper = []
        self.rows, self.columns, self.values = [], [], []
        self.low, self.high = [], []
        self.y = [self._column(1) for _ in self.layout.arcs]
        self.aligned = []
        self.x = []                # (column, stock, from hand, pattern as (item, count))
        self._arcs_at = {}
        for arc, y in zip(self.layout.arcs, self.y):
            self._arcs_at.setdefault((arc.stretch, arc.level), []).append((arc, y))
        self._flow()
        if job.stagger != "off":
            self._stagger()
            if job.turn:
                self._in_turn()
        self._cover()

    def _column(self, upper):
        self.upper.append(upper)
        return len(self.upper) - 1

    def _row(self, terms, low, high):
        row = len(self.low)
        for column, value in terms:
            if value:
                self.rows.append(row)
                self.columns.append(column)
                self.values.append(value)
        self.low.append(low)
        self.high.append(high)

    def _of(self, stretch, level):
        return self._arcs_at.get((stretch, level), [])

    def _flow(self):
        for s, (run, first, last) in enumerate(self.layout.stretches):
            for t in range(len(self.job.through(run))):
                for p in range(first, last + 1):
                    terms = [(y, 1) for arc, y in self._of(s, t) if arc.start == p]
                    terms += [(y, -1) for arc, y in self._of(s, t) if arc.stop == p]
                    net = (p == first) - (p == last)
                    self._row(terms, net, net)

    def _stagger(self):
        for s, (run, first, last) in enumerate(self.layout.stretches):
            for t in range(len(self.job.through(run)) - 1):
                for p in range(first + 1, last):
                    if run.posts[p].join == "always":
                        continue
                    terms = [(y, 1) for level in (t, t + 1) for arc, y in self._of(s, level) if arc.stop == p]
                    if self.job.stagger == "prefer":
                        self.aligned.append(self._column(1))
                        terms.append((self.aligned[-1], -1))
                    self._row(terms, -np.inf, 1)

    def _in_turn(self):
        """b of a stretch's first pieces: longer, shorter, longer ... or the other way round."""
        for s, (run, first, last) in enumerate(self.layout.stretches):
            levels = len(self.job.through(run))
            if levels < 2:
                continue
            turn = self._column(1)
            big = last - first
            for t in range(levels - 1):
                # turn 0 asks for b_0 >= b_1 <= b_2 ..., turn 1 for b_0 <= b_1 >= b_2 ...
                sign = 1 if t % 2 == 0 else -1
                terms, whole = [], []
                for level, times in ((t, 1), (t + 1, -1)):
                    for arc, y in self._of(s, level):
                        if arc.start == first:
                            terms.append((y, times * sign * (arc.stop - first)))
                            if arc.stop == last:
                                # One piece from end to end: a level without a join leaves its pairs free.
                                whole.append((y, big))
                self._row(_sum(terms + whole + [(turn, big)]), 0, np.inf)
                self._row(_sum([(c, -v) for c, v in terms] + whole + [(turn, -big)]), -big, np.inf)

    def _cover(self):
        most = self.layout.most_of_each()
        by_section = {}
        for (section, take), n in most.items():
            by_section.setdefault(section, []).append((take, n))
        self.items = {}
        for section, items in by_section.items():
            items.sort(reverse=True)
            covering = [[] for _ in items]
            for stock in self.job.stocks_of(section):
                self._boards(stock, section, items, covering)
            for k, (take, _) in enumerate(items):
                item = section, take
                self.items[item] = covering[k]
                terms = covering[k] + [(y, -1) for arc, y in zip(self.layout.arcs, self.y) if arc.item == item]
                self._row(terms, self.layout.fixed.get(item, 0), np.inf)

    def _boards(self, stock, section, items, covering):
        usable = self.job.usable(stock)
        if usable <= 0:
            return
        patterns = maximal_patterns(items, usable, self.job.kerf, self.most_patterns - len(self.x))
        for hand, bound in ((False, stock.limit), (True, stock.hand)):
            if bound == 0:
                continue
            columns = []
            for pattern in patterns:
                upper = max(-(-items[q][1] // n) for q, n in pattern)
                column = self._column(upper if bound is None else min(upper, bound))
                columns.append(column)
                self.x.append((column, stock, hand, tuple(((section, items[q][0]), n) for q, n in pattern)))
                for q, n in pattern:
                    covering[q].append((column, n))
            if bound is not None and columns:
                self._row([(column, 1) for column in columns], -np.inf, bound)

    # ---- objectives, as exact integers ----

    def paths(self):
        """Lines of pieces from end to end: each has a join fewer than pieces."""
        return sum(len(self.job.through(run)) for run, _, _ in self.layout.stretches)

    def cost_terms(self):
        """(column, coefficient), constant, granule: cost = granule * (sum + constant)."""
        join = self.job.cost_of_join()
        paths = self.paths()
        raw = [(column, 0 if hand else self.job.cost_of(stock)) for column, stock, hand, _ in self.x]
        raw += [(y, join) for y in self.y]
        granule = gcd(*(value for _, value in raw)) or 1
        return [(column, value // granule) for column, value in raw], -paths * join // granule, granule

    def join_terms(self):
        return [(y, 1) for y in self.y], -self.paths()

    # ---- solving ----

    def solve(self, objective, extra=(), fixed_zero=()):
        """The least OBJECTIVE as a vector of integers, or None where nothing is feasible."""
        n = len(self.upper)
        if n == 0:
            return np.zeros(0, dtype=int) if all(low <= 0 <= high for low, high in zip(self.low, self.high)) else None
        upper = np.array(self.upper, dtype=float)
        upper[list(fixed_zero)] = 0
        cost = np.zeros(n)
        for column, value in objective:
            cost[column] += value
        rows, columns, values = list(self.rows), list(self.columns), list(self.values)
        low, high = list(self.low), list(self.high)
        for terms, bound in extra:
            for column, value in _sum(terms):
                rows.append(len(low))
                columns.append(column)
                values.append(value)
            low.append(-np.inf)
            high.append(bound)
        matrix = csr_array((values, (rows, columns)), shape=(len(low), n), dtype=float)
        found = milp(cost, integrality=np.ones(n), bounds=Bounds(np.zeros(n), upper),
                     constraints=LinearConstraint(matrix, low, high),
                     options={"mip_rel_gap": 0, "node_limit": NODE_LIMIT})
        if found.status == 2:
            return None
        if found.status == 1:
            raise TooLarge
        if found.status != 0:
            raise Wrong("milp: %s" % found.message)
        point = np.rint(found.x).astype(int)
        self._check(point, matrix, low, high, upper)
        return point

    @staticmethod
    def _check(point, matrix, low, high, upper):
        """In integers: the coefficients and the point are whole numbers well inside int64."""
        value = matrix.astype(np.int64) @ point.astype(np.int64)
        inside = (value >= np.array(low)).all() and (value <= np.array(high)).all()
        if not inside or (point < 0).any() or (point > upper).any():
            raise Wrong("milp: the rounded solution breaks a row")

    def optimum(self):
        """The lexicographic optimum, or None where no plan exists."""
        best, _ = self.best()
        return best

    def best(self):
        """(Optimum, point that has it), or two times None."""
        if self.layout.impossible:
            return None, None
        cost, cost_constant, granule = self.cost_terms()
        joins, join_constant = self.join_terms()
        boards = [(column, 1) for column, _, _, _ in self.x]
        caps, aligned = [], 0
        # No aligned pair at all is the usual case, and a smaller program.
        point = self.solve(cost, fixed_zero=self.aligned)
        if point is None and self.aligned:
            pairs = [(column, 1) for column in self.aligned]
            point = self.solve(pairs)
            if point is not None:
                aligned = _value(pairs, point)
                caps = [(pairs, aligned)]
                point = self.solve(cost, caps)
        if point is None:
            return None, None
        zero = () if caps else self.aligned
        least = _value(cost, point)
        caps = caps + [(cost, least)]
        # Fewest joins, then boards: one weight each, no plan has as many boards as the weight.
        weight = _value(boards, point) + sum(self.layout.most_of_each().values()) + 1
        point = self.solve([(c, v * weight) for c, v in joins] + boards, caps, zero)
        if point is None:
            raise Wrong("milp: the cap of the stage before is infeasible")
        best = Optimum(aligned, (least + cost_constant) * granule, _value(joins, point) + join_constant,
                       _value(boards, point))
        return best, point

    def chosen(self, point):
        """(arcs, boards) of a POINT; a board is (stock, from hand, pattern)."""
        arcs = [arc for arc, y in zip(self.layout.arcs, self.y) if point[y]]
        boards = [(stock, hand, pattern) for column, stock, hand, pattern in self.x for _ in range(point[column])]
        return arcs, boards


def _sum(terms):
    total = {}
    for column, value in terms:
        total[column] = total.get(column, 0) + value
    return list(total.items())


def _value(terms, point):
    return sum(value * int(point[column]) for column, value in terms)


def optimum(job):
    """The Optimum of a job, or None where it has no plan."""
    return Model(job, JUDGED_PATTERNS).optimum()


if __name__ == "__main__":
    print(optimum(fence_job.read_job(sys.argv[1:])))
