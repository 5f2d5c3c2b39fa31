# site_model.py - the whole joint model of a job that goes on from what is fixed, cut and left
# SPDX-License-Identifier: GPL-3.0-or-later
"""The full model of fence_model.py with fixed pieces, and boards, offcuts and pieces on hand.

Objective, one after the other: pairs of joins that line up (those apart that
are both fixed); what is bought; pieces past posts that differ from the plan
before; joins.
"""

import copy
from dataclasses import dataclass

import numpy as np

import fence_job
import fence_model
import site_state


class SiteJob(fence_job.Job):
    def usable(self, stock):
        return stock.length if isinstance(stock, SawnStock) else super().usable(stock)


@dataclass
class SawnStock(fence_job.Stock):
    stick: site_state.Stick = None


@dataclass(frozen=True)
class Optimum:
    aligned: int
    bought: int
    changes: int
    joins: int


def job_of(job, state):
    """JOB with the stock that STATE leaves."""
    now = copy.copy(job)
    now.__class__ = SiteJob
    now.stocks = []
    seen = set()
    for stock in job.stocks:
        key = stock.section, stock.length
        seen.add(key)
        limit = stock.limit if stock.limit is None else max(stock.limit - state.bought[key], 0)
        now.stocks.append(fence_job.Stock(stock.section, stock.length, stock.price, limit, state.whole[key]))
    for (section, size), n in state.whole.items():
        if n and (section, size) not in seen:
            now.stocks.append(fence_job.Stock(section, size, 0, 0, n))
    for stick, n in state.sticks.items():
        now.stocks.append(SawnStock(stick.section, stick.length, 0, 0, n, stick))
    return now


class SiteLayout(fence_model.Layout):
    def __init__(self, job, state):
        self.state = state
        # Pieces that a stick fits as it is, by section, ends and length: told apart from others that take as much.
        self.kept = {(s.section, s.ends, s.cut, s.take): s for s in state.sticks if s.ends is not None}
        super().__init__(job)
        for name, n in state.extras.items():
            extra = next(e for e in job.extras if e.label == name)
            self._take_off(extra.section, extra.length, n)

    def _take_off(self, section, size, n):
        self.fixed[section, size] -= n
        if not self.fixed[section, size]:
            del self.fixed[section, size]

    def item(self, level, piece):
        stick = self.kept.get((level.section, site_state.ends_of(piece), piece.cut, piece.take))
        return (level.section, piece.take) if stick is None else (level.section, piece.take, stick)

    def _longest_or_kept(self, item):
        return self._longest(item[0]) >= item[1] or len(item) == 3

    def _add_bays(self, run, level):
        placed = self.state.placed.get((run.name, level.name), {})
        blocks = -self.state.blocks[run.name, level.name]
        for b, bay in enumerate(run.bays):
            if bay.opening:
                continue
            blocks += level.blocks
            if not level.through and (b, b + 1) not in placed:
                item = self.item(level, self.job.piece(run, level, b, b + 1))
                self.fixed[item] = self.fixed.get(item, 0) + 1
                self.impossible = self.impossible or not self._longest_or_kept(item)
        self._demand(level.block_section, level.block_length, blocks)

    def _add_stretch(self, run, first, last):
        stretch = len(self.stretches)
        self.stretches.append((run, first, last))
        for t, level in enumerate(self.job.through(run)):
            placed = self.state.placed.get((run.name, level.name), {})
            inside = {p for i, j in placed for p in range(i + 1, j)}
            edges = {p for span in placed for p in span}

            def may(p):
                return p in edges or p in (first, last) or (p not in inside and run.posts[p].join != "never")

            for i, j in placed:
                if first <= i and j <= last:
                    self.arcs.append(fence_model.Arc(stretch, t, i, j, None))
            for i in range(first, last):
                for j in range(i + 1, last + 1):
                    if not may(i) or not may(j) or any(i < b and a < j for a, b in placed):
                        continue
                    if any(run.posts[p].join == "always" for p in range(i + 1, j)):
                        continue
                    piece = self.job.piece(run, level, i, j)
                    item = self.item(level, piece)
                    if piece.cut <= 0 or not self._longest_or_kept(item):
                        continue
                    if self.job.max_piece is not None and piece.cut > self.job.max_piece:
                        continue
                    if self.job.straight(run, i, j):
                        self.arcs.append(fence_model.Arc(stretch, t, i, j, item))

    def most_of_each(self):
        whole = self.arcs
        self.arcs = [arc for arc in whole if arc.item is not None]
        most = super().most_of_each()
        self.arcs = whole
        return most


class SiteModel(fence_model.Model):
    def __init__(self, job, state, most_patterns):
        self.state = state
        now = job_of(job, state)
        super().__init__(now, most_patterns, SiteLayout(now, state))

    def _placed(self, run, t):
        return self.state.placed.get((run.name, self.job.through(run)[t].name), {})

    def _stays(self, run, t, p):
        return any(p in span for span in self._placed(run, t))

    def _stagger(self):
        for s, (run, first, last) in enumerate(self.layout.stretches):
            for t in range(len(self.job.through(run)) - 1):
                for p in range(first + 1, last):
                    if run.posts[p].join == "always" or self._stays(run, t, p) and self._stays(run, t + 1, p):
                        continue
                    terms = [(y, 1) for level in (t, t + 1) for arc, y in self._of(s, level) if arc.stop == p]
                    if self.job.stagger == "prefer":
                        self.aligned.append(self._column(1))
                        terms.append((self.aligned[-1], -1))
                    self._row(terms, -np.inf, 1)

    def _first_stays(self, run, t, first):
        return any(i == first for i, _ in self._placed(run, t))

    def _in_turn(self):
        for s, (run, first, last) in enumerate(self.layout.stretches):
            levels = len(self.job.through(run))
            if levels < 2:
                continue
            turn = self._column(1)
            big = last - first
            for t in range(levels - 1):
                if self._first_stays(run, t, first) and self._first_stays(run, t + 1, first):
                    continue
                sign = 1 if t % 2 == 0 else -1
                terms, whole = [], []
                for level, times in ((t, 1), (t + 1, -1)):
                    for arc, y in self._of(s, level):
                        if arc.start == first:
                            terms.append((y, times * sign * (arc.stop - first)))
                            if arc.stop == last:
                                whole.append((y, big))
                self._row(fence_model._sum(terms + whole + [(turn, big)]), 0, np.inf)
                self._row(fence_model._sum([(c, -v) for c, v in terms] + whole + [(turn, -big)]), -big, np.inf)

    def _cover(self):
        most = self.layout.most_of_each()
        by_section = {}
        for item, n in most.items():
            by_section.setdefault(item[0], []).append((item[1], n, item))
        self.items = {}
        for section, items in by_section.items():
            items.sort(key=lambda of: (-of[0], len(of[2])))
            covering = [[] for _ in items]
            for stock in self.job.stocks_of(section):
                self._boards_of(stock, items, covering)
            for k, (_, _, item) in enumerate(items):
                terms = covering[k] + [(y, -1) for arc, y in zip(self.layout.arcs, self.y) if arc.item == item]
                self._row(terms, self.layout.fixed.get(item, 0), np.inf)

    def _boards_of(self, stock, items, covering):
        usable = self.job.usable(stock)
        plain = [(take, n) for take, n, _ in items]
        patterns = []
        if usable > 0:
            patterns = fence_model.maximal_patterns(plain, usable, self.job.kerf, self.most_patterns - len(self.x))
        if isinstance(stock, SawnStock) and stock.stick.ends is not None:
            patterns += [((k, 1),) for k, (_, _, item) in enumerate(items) if len(item) == 3 and item[2] == stock.stick]
        for hand, bound in ((False, stock.limit), (True, stock.hand)):
            if bound == 0:
                continue
            columns = []
            for pattern in patterns:
                upper = max(-(-items[q][1] // n) for q, n in pattern)
                column = self._column(upper if bound is None else min(upper, bound))
                columns.append(column)
                self.x.append((column, stock, hand, pattern))
                for q, n in pattern:
                    covering[q].append((column, n))
            if bound is not None and columns:
                self._row([(column, 1) for column in columns], -np.inf, bound)

    def changes_terms(self):
        terms = []
        for arc, y in zip(self.layout.arcs, self.y):
            run, _, _ = self.layout.stretches[arc.stretch]
            level = self.job.through(run)[arc.level]
            if arc.item is None:
                continue
            cut = self.job.piece(run, level, arc.start, arc.stop).cut
            if (run.name, level.name, arc.start, arc.stop, cut) not in self.state.old:
                terms.append((y, 1))
        return terms

    def best(self):
        if self.layout.impossible:
            return None
        cost = [(column, self.job.cost_of(stock)) for column, stock, hand, _ in self.x if not hand]
        joins, constant = self.join_terms()
        changes = self.changes_terms()
        caps, values = [], []
        for terms in ([(column, 1) for column in self.aligned], cost, changes, joins):
            unit = np.gcd.reduce([v for _, v in terms]) if terms else 1
            scaled = [(c, v // max(unit, 1)) for c, v in terms]
            point = self.solve(scaled, caps)
            if point is None:
                if caps:
                    raise fence_model.Wrong("milp: the cap of the stage before is infeasible")
                return None
            least = fence_model._value(scaled, point)
            caps = caps + [(scaled, least)]
            values.append(least * max(unit, 1))
        values[3] += constant
        return Optimum(*(int(v) for v in values))


def optimum(job, state):
    return SiteModel(job, state, fence_model.JUDGED_PATTERNS).best()
