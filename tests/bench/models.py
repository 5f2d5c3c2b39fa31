# models.py - what a general-purpose solver would be given
# SPDX-License-Identifier: GPL-3.0-or-later
"""models.py FORM LIMIT ALIGNED BOARDS DIR WORD...: solve the job of WORDs in DIR with HiGHS.

Forms: "patterns", the whole joint model of tests/reference, with every way to
cut a board; "assignment", the textbook's, in which each piece is assigned to a
board; "joins", layouts alone, the fewest joins.  All of them are given the
fewest pairs of joins that line up (ALIGNED), a help that the program does not
get, and for the textbook's a number of boards (BOARDS) that is enough.
"""

import os
import sys
import time

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import csr_array

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "reference"))
import fence_job
import fence_model


class Assignment(fence_model.Model):
    """Boards b = 1, 2 ...: which stock each is, how many of each length come out of it."""

    def __init__(self, job, boards):
        self.boards = boards
        super().__init__(job)

    def _cover(self):
        by_section = {}
        for (section, cut), most in self.layout.most_of_each().items():
            by_section.setdefault(section, []).append((cut, most))
        for section, items in by_section.items():
            self._assign(section, sorted(items, reverse=True), self.job.stocks_of(section))

    def _assign(self, section, items, stocks):
        kerf = self.job.kerf
        room = {id(stock): self.job.usable(stock) + kerf for stock in stocks}
        largest = max(room.values())
        taken = [[] for _ in items]
        before = None
        for _ in range(self.boards):
            board = [(self._column(1), stock) for stock in stocks]
            self.x += [(column, stock, False, ()) for column, stock in board]
            self._row([(column, 1) for column, _ in board], -np.inf, 1)
            contents = [(column, -room[id(stock)]) for column, stock in board]
            for k, (cut, most) in enumerate(items):
                column = self._column(min(most, largest // (cut + kerf)))
                taken[k].append((column, 1))
                contents.append((column, cut + kerf))
            self._row(contents, -np.inf, 0)
            # Boards are alike: the longest first, so that fewer orders of the same boards are searched.
            sizes = [(column, stock.length) for column, stock in board]
            if before:
                self._row([*before, *((column, -size) for column, size in sizes)], 0, np.inf)
            before = sizes
        for (cut, _), terms in zip(items, taken):
            wanted = [(y, -1) for arc, y in zip(self.layout.arcs, self.y) if arc.item == (section, cut)]
            self._row(terms + wanted, self.layout.fixed.get((section, cut), 0), np.inf)


class Joins(fence_model.Model):
    """Where the joins are, no boards."""

    def _cover(self):
        pass

    def cost_terms(self):
        terms, constant = self.join_terms()
        return terms, constant, 1


def build(form, job, aligned, boards):
    """The model with at most ALIGNED pairs."""
    if form == "assignment":
        model = Assignment(job, boards)
    else:
        model = {"patterns": fence_model.Model, "joins": Joins}[form](job)
    if not aligned:
        for column in model.aligned:
            model.upper[column] = 0
    else:
        model._row([(column, 1) for column in model.aligned], -np.inf, aligned)
    return model


def scaled(model):
    """The model's rows as (terms, low, high), each by row; lengths over their greatest common divisor."""
    rows = [[] for _ in model.low]
    for row, column, value in zip(model.rows, model.columns, model.values):
        rows[row].append((column, value))
    out = []
    for terms, low, high in zip(rows, model.low, model.high):
        finite = [int(abs(side)) for side in (low, high) if np.isfinite(side)]
        divisor = int(np.gcd.reduce([abs(int(value)) for _, value in terms] + finite)) or 1
        out.append(([(column, int(value) // divisor) for column, value in terms], low / divisor, high / divisor))
    return out


def write_mps(model, path):
    """The model in fixed MPS, which cbc and glpsol both read."""
    objective, _, _ = model.cost_terms()
    columns = [[] for _ in model.upper]
    for column, value in objective:
        if value:
            columns[column].append(("COST", value))
    kinds, sides = [], []
    for row, (terms, low, high) in enumerate(scaled(model)):
        kind, side = ("E", low) if low == high else ("G", low) if np.isfinite(low) else ("L", high)
        kinds.append(kind)
        sides.append(int(side))
        for column, value in terms:
            columns[column].append(("R%d" % row, value))
    with open(path, "w", encoding="ascii") as file:
        file.write("NAME          FENCE\nROWS\n N  COST\n")
        file.writelines(" %s  R%d\n" % (kind, row) for row, kind in enumerate(kinds))
        file.write("COLUMNS\n    MARK      'MARKER'                 'INTORG'\n")
        for column, entries in enumerate(columns):
            file.writelines("    %-8s  %-8s  %12d\n" % ("C%d" % column, row, value) for row, value in entries)
            if not entries:
                file.write("    %-8s  %-8s  %12d\n" % ("C%d" % column, "COST", 0))
        file.write("    MARK      'MARKER'                 'INTEND'\nRHS\n")
        file.writelines("    %-8s  %-8s  %12d\n" % ("RHS", "R%d" % row, side) for row, side in enumerate(sides) if side)
        file.write("BOUNDS\n")
        file.writelines(" UP %-8s  %-8s  %12d\n" % ("BND", "C%d" % column, upper)
                        for column, upper in enumerate(model.upper))
        file.write("ENDATA\n")


def exact_cost(model, value):
    """The cost that an objective value of the solver stands for, an exact integer."""
    _, constant, granule = model.cost_terms()
    return (round(value) + constant) * granule


def solve_with_highs(model, limit):
    """(status, objective or None, bound or None, point or None) of scipy's HiGHS."""
    n = len(model.upper)
    objective, _, _ = model.cost_terms()
    cost = np.zeros(n)
    for column, value in objective:
        cost[column] += value
    rows = scaled(model)
    entries = [(row, column, value) for row, (terms, _, _) in enumerate(rows) for column, value in terms]
    at, to, values = zip(*entries)
    matrix = csr_array((np.array(values, dtype=float), (at, to)), shape=(len(rows), n))
    found = milp(cost, integrality=np.ones(n), bounds=Bounds(np.zeros(n), np.array(model.upper, dtype=float)),
                 constraints=LinearConstraint(matrix, [low for _, low, _ in rows], [high for _, _, high in rows]),
                 options={"mip_rel_gap": 0, "time_limit": limit})
    status = {0: "proved", 1: "stopped", 2: "none"}.get(found.status, "failed")
    bound = getattr(found, "mip_dual_bound", None)
    return status, None if found.x is None else found.fun, bound, found.x


def main():
    form, limit, aligned, boards, folder, *words = sys.argv[1:]
    model = build(form, fence_job.read_job(words, folder), int(aligned), int(boards))
    # Without the time that Python needs to write the model down: that is not the solver's.
    wall, cpu = time.monotonic(), time.process_time()
    status, value, _, point = solve_with_highs(model, float(limit))
    print("end %.4f %.4f" % (time.monotonic() - wall, time.process_time() - cpu))
    print("status %s" % status)
    if value is not None:
        print("cost %d" % exact_cost(model, value))
    if form == "joins" and point is not None:
        for arc, y in zip(model.layout.arcs, model.y):
            if point[y] > 0.5:
                print("piece %d" % arc.item[1])


if __name__ == "__main__":
    main()
