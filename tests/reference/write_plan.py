# write_plan.py - a plan's CSV files out of the full model's solution
# SPDX-License-Identifier: GPL-3.0-or-later
"""write_plan.py DIR SPANS ... (a folder for the plan, then its command line)

A second maker of plans, beside the program: check_plan.py can be tried on its
plans, good and broken, whatever the program does.
"""

import csv
import os
import sys
from collections import defaultdict
from fractions import Fraction

import check_plan
import fence_geometry
import fence_job
import fence_model
import fence_setout


class Writer:
    def __init__(self, job, folder):
        self.job = job
        self.folder = folder
        self.cuts = []             # rows of cuts.csv
        self.joined = set()
        self.waiting = defaultdict(list)     # (section, take): pieces that are on no board yet

    # ---- cells ----

    def length(self, exact):
        if exact is None:
            return ""
        if self.job.inches:
            return _decimal(Fraction(exact, fence_job.INCH), 6)
        return _decimal(Fraction(exact, fence_job.MM), 1)

    @staticmethod
    def angle(degrees, missing):
        return missing if degrees is None else _decimal(Fraction(degrees), 3)

    # ---- pieces ----

    def add(self, label, section, cut, take, **cells):
        row = {"piece": label, "section": section, "cut_mm": self.length(cut), "take_mm": self.length(take),
               "start_cut": "square", "finish_cut": "square", "exact": cut, "take": take, **cells}
        self.waiting[section, take].append(row)

    def place(self, run, level, i, j):
        piece = self.job.piece(run, level, i, j)
        start, finish = (self.angle(corner and corner.saw, "square") for corner in piece.corners)
        joins = [end[0] if end else "join" for end in piece.ends] if level.through else ["post", "post"]
        if level.through and run.bays[j - 1].finish is None:
            self.joined.add((run.name, level.name, j))
        self.add("%s/%s/%d-%d" % (run.name, level.name, i + 1, j + 1), level.section, piece.cut, piece.take,
                 run=run.name, level=level.name, from_post=i + 1, to_post=j + 1, bays=j - i,
                 start_cut=start, finish_cut=finish, start_join=joins[0], finish_join=joins[1],
                 plumb=self.angle(fence_geometry.plumb_degrees(piece.span, piece.rise), ""),
                 long_point=piece.long_point())

    def all_pieces(self, model, arcs):
        for arc in arcs:
            run = model.layout.stretches[arc.stretch][0]
            self.place(run, self.job.through(run)[arc.level], arc.start, arc.stop)
        for run in self.job.runs:
            for level in self.job.levels_of(run):
                self.all_bays(run, level)
        for extra in self.job.extras:
            for n in range(extra.quantity):
                label = extra.label if extra.quantity == 1 else "%s %d" % (extra.label, n + 1)
                self.add(label, extra.section, extra.length, extra.length)

    def all_bays(self, run, level):
        block = 0
        for b, bay in enumerate(run.bays):
            if bay.opening:
                continue
            if not level.through:
                self.place(run, level, b, b + 1)
            for _ in range(level.blocks):
                block += 1
                self.add("%s/%s/block %d" % (run.name, level.name, block), level.block_section,
                         level.block_length, level.block_length, run=run.name, level=level.name)

    def all_boards(self, boards):
        for number, (stock, hand, pattern) in enumerate(boards, 1):
            rows = []
            for item, n in pattern:
                # A pattern may have room for more than is wanted.
                waiting = self.waiting[item]
                rows += waiting[:n]
                del waiting[:n]
            rows.sort(key=lambda row: -row["exact"])
            left = self.job.usable(stock)
            for cut, row in enumerate(rows, 1):
                left = max(left - row["take"] - self.job.kerf, 0)
                row.update(board=number, source="hand" if hand else "yard", board_mm=self.length(stock.length), cut=cut,
                           left_mm=self.length(left))
            self.cuts += rows

    # ---- tables ----

    def order(self, boards):
        rows = []
        for stock in self.job.stocks:
            count = sum(other is stock and not hand for other, hand, _ in boards)
            if count:
                rows.append([stock, count, 0])
        for name in {row[0].section for row in rows}:
            mine = [row for row in rows if row[0].section == name]
            most = max(mine, key=lambda row: (row[1], row[0].length))
            most[2] = int(self.job.sections.get(name, {}).get("spare") or 0)
        for stock, count, spare in rows:
            one = price = ""
            if self.job.priced:
                one = _decimal(Fraction(stock.price, fence_job.UNIT), 6)
                price = _decimal(Fraction(stock.price * (count + spare), fence_job.UNIT), 2)
            yield {"section": stock.section, "description": self.job.describe(stock.section),
                   "length_mm": self.length(stock.length), "count": count,
                   "spare": spare, "metres": _decimal(Fraction(stock.length * (count + spare), fence_job.METRE), 6),
                   "unit_price": one, "price": price}

    def setout(self):
        for row in fence_setout.rows(self.job, self.joined):
            yield {"run": row.run, "post": row.post + 1, "distance_mm": self.length(row.distance),
                   "post_width_mm": self.length(row.width), "level": row.level, "mark_mm": self.length(row.mark),
                   "top_mm": self.length(row.top), "housing": row.housing, "depth_mm": self.length(row.depth),
                   "join": "join" if row.join else ""}

    def write(self, name, rows):
        columns = check_plan.HEADERS[name].split(",")
        with open(os.path.join(self.folder, name + ".csv"), "w", newline="", encoding="utf-8") as file:
            writer = csv.writer(file)
            writer.writerow(check_plan.header(name, self.job.inches).split(","))
            writer.writerows([row.get(column, "") for column in columns] for row in rows)


def _decimal(value, places):
    """A Fraction with at most so many decimals, halves away from zero."""
    units = fence_geometry.round_half_away(value * 10**places)
    text = "%s%d.%0*d" % ("-" if units < 0 else "", abs(units) // 10**places, places, abs(units) % 10**places)
    return text.rstrip("0").rstrip(".")


def write(job, folder):
    """Write the best plan of JOB into FOLDER; its Optimum, or None where there is no plan and nothing was written."""
    model = fence_model.Model(job, fence_model.JUDGED_PATTERNS)
    best, point = model.best()
    if best is None:
        return None
    arcs, boards = model.chosen(point)
    writer = Writer(job, folder)
    writer.all_pieces(model, arcs)
    writer.all_boards(boards)
    os.makedirs(folder, exist_ok=True)
    writer.write("cuts", writer.cuts)
    writer.write("fit", [row for row in writer.cuts if "from_post" in row])
    writer.write("order", writer.order(boards))
    writer.write("setout", writer.setout())
    return best


if __name__ == "__main__":
    print(write(fence_job.read_job(sys.argv[2:]), sys.argv[1]))
