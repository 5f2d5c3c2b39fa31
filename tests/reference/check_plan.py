# check_plan.py - hold a plan's CSV files against the job's input files
# SPDX-License-Identifier: GPL-3.0-or-later
"""check_plan.py DIR SPANS ... (the plan's folder, then its command line)

Prints a line a fault; status 1 where there is one.  Nothing here is taken from
the program's own text or from the full model: only the input files, the files
of the plan and the rules.
"""

import os
import sys
from collections import Counter, defaultdict
from dataclasses import dataclass
from fractions import Fraction

import fence_geometry
import fence_job
import fence_setout
from fence_job import MM

HEADERS = {
    "order": "section,description,length_mm,count,spare,metres,unit_price,price,yard,kind",
    "cuts": "board,section,source,board_mm,cut,piece,run,level,from_post,to_post,cut_mm,start_cut,finish_cut,left_mm,"
            "plumb,long_point,take_mm",
    "fit": "run,level,section,from_post,to_post,bays,piece,board,cut_mm,start_cut,finish_cut,start_join,finish_join,"
           "plumb,long_point,take_mm",
    "setout": "run,post,distance_mm,post_width_mm,level,mark_mm,top_mm,housing,depth_mm,join",
}
# Angles are told in thousandths of a degree. A last digit either way of a plumb cut spoils no timber.
ANGLE_DECIMALS = 3
SAW_FINE = Fraction(1, 2000)
PLUMB_FINE = Fraction(1, 1000)
# Lengths: a decimal of a millimetre, six of an inch.
DECIMALS = {False: 1, True: 6}
HALF_A_DIGIT = {False: Fraction(MM, 20), True: Fraction(fence_job.INCH, 2 * 10**6)}


def header(name, inches):
    """The first line of a table; lengths in inches stand in columns that say so."""
    return HEADERS[name].replace("_mm", "_in") if inches else HEADERS[name]


@dataclass
class Figures:
    """What the plan's files come to, in the units of fence_model.Optimum."""
    aligned: int
    cost: int
    joins: int
    boards: int


class Checker:
    def __init__(self, job, folder):
        self.job = job
        self.folder = folder
        self.faults = []
        self.runs = {run.name: run for run in job.runs}
        self.levels = {level.name: level for level in job.levels}
        self.placed = defaultdict(list)      # (run, level): (from, to) posts from 0
        self.boards = {}                     # number: (stock, from hand)

    def fault(self, text, *values):
        self.faults.append(text % values if values else text)

    def table(self, name):
        path = os.path.join(self.folder, name + ".csv")
        try:
            with open(path, "rb") as file:
                data = file.read()
        except OSError as error:
            self.fault("%s.csv: %s", name, error.strerror)
            return []
        expected = header(name, self.job.inches).encode() + b"\r\n"
        if not data.startswith(expected) or b"\n" in data.replace(b"\r\n", b""):
            self.fault("%s.csv: header or line ends are not those of the description", name)
            return []
        return [{column[:-3] + "_mm" if column.endswith("_in") else column: cell for column, cell in row.items()}
                for row in fence_job.rows(path)]

    def nanometres(self, text):
        """What a length in the file stands for, unrounded."""
        return Fraction(text) * (fence_job.INCH if self.job.inches else MM)

    def is_length(self, text, exact):
        return abs(self.nanometres(text) - exact) <= HALF_A_DIGIT[self.job.inches]

    def same(self, text, exact, what):
        """A length in the file, with at most so many decimals, stands for EXACT nanometres; None: it is blank."""
        if exact is None or not text:
            if exact is not None or text:
                self.fault("%s is %r, not %s", what, text, exact if exact is None else float(Fraction(exact, MM)))
            return
        _, _, decimals = text.partition(".")
        if len(decimals) > DECIMALS[self.job.inches] or not self.is_length(text, exact):
            self.fault("%s is %s, not %s", what, text, float(Fraction(exact, MM)))

    def stock(self, section, text):
        """The one stock of SECTION whose length prints as TEXT, or None."""
        found = [s for s in self.job.stocks_of(section) if self.is_length(text, s.length)]
        return found[0] if len(found) == 1 else None

    # ---- cuts ----

    def check_cuts(self):
        rows = self.table("cuts")
        by_board = defaultdict(list)
        for row in rows:
            by_board[int(row["board"])].append(row)
        if sorted(by_board) != list(range(1, len(by_board) + 1)):
            self.fault("cuts: boards are not numbered 1 to %d", len(by_board))
        for name, n in Counter(row["piece"] for row in rows).items():
            if n > 1:
                self.fault("cuts: label %s stands %d times", name, n)
        demand = Counter()
        for row in rows:
            row["exact"], row["take"] = self.exact_cut(row, demand)
        self.check_demand(demand)
        for number, pieces in sorted(by_board.items()):
            self.check_board(number, pieces)
        self.check_limits()
        return rows

    def exact_cut(self, row, demand):
        """What the piece must measure and take by the input; DEMAND counts blocks and extras."""
        label = row["piece"]
        try:
            if row["run"] and row["from_post"]:
                return self.exact_piece(row, label)
            if row["run"]:
                return self.exact_block(row, label, demand)
            if any(row[name] for name in ("level", "from_post", "to_post")):
                self.fault("cuts: %s has a level or posts and no run", label)
            return self.exact_extra(row, label, demand)
        except (KeyError, IndexError, ValueError):
            self.fault("cuts: %s is none of the job's pieces", label)
            return self.nanometres(row["cut_mm"]), self.nanometres(row["take_mm"] or row["cut_mm"])

    def exact_piece(self, row, label):
        run, level = self.runs[row["run"]], self.levels[row["level"]]
        i, j = int(row["from_post"]) - 1, int(row["to_post"]) - 1
        if not 0 <= i < j < len(run.posts):
            raise ValueError
        if label != "%s/%s/%d-%d" % (run.name, level.name, i + 1, j + 1):
            self.fault("cuts: label %s is not made of its run, level and posts", label)
        if row["section"] != level.section:
            self.fault("cuts: %s is of section %s", label, row["section"])
        self.placed[run.name, level.name].append((i, j))
        if level not in self.job.levels_of(run):
            self.fault("cuts: %s: its run has no such level", label)
        piece = self.job.piece(run, level, i, j)
        if level.through and self.job.max_piece is not None and piece.cut > self.job.max_piece:
            self.fault("cuts: %s is longer than --max-piece", label)
        self.same(row["cut_mm"], piece.cut, "cuts: cut_mm of " + label)
        self.same(row["take_mm"], piece.take, "cuts: take_mm of " + label)
        for column, corner in zip(("start_cut", "finish_cut"), piece.corners):
            self.check_saw(row, column, corner)
        self.check_plumb(row, piece)
        if row["long_point"] != piece.long_point():
            self.fault("cuts: long_point of %s is %r, not %r", label, row["long_point"], piece.long_point())
        return piece.cut, piece.take

    def angle(self, text, right, fine):
        """Is TEXT an angle within FINE degrees of RIGHT, in thousandths?"""
        _, _, decimals = text.partition(".")
        return len(decimals) <= ANGLE_DECIMALS and abs(Fraction(text) - right) <= fine

    def check_saw(self, row, column, corner):
        found = row[column]
        right = "square" if corner is None else corner.saw
        if found != right and ("square" in (found, right) or not self.angle(found, right, SAW_FINE)):
            self.fault("cuts: %s of %s is %s, not %s", column, row["piece"], found, right)

    def check_plumb(self, row, piece):
        found = row["plumb"]
        right = fence_geometry.plumb_degrees(piece.span, piece.rise)
        good = not found if right is None else found and self.angle(found, Fraction(right), PLUMB_FINE)
        if not good:
            self.fault("cuts: plumb of %s is %r, not %s", row["piece"], found, right)

    def exact_block(self, row, label, demand):
        run, level = self.runs[row["run"]], self.levels[row["level"]]
        name = "%s/%s/block" % (run.name, level.name)
        if not level.blocks or level not in self.job.levels_of(run) or not label.startswith(name + " "):
            raise ValueError
        demand[name, int(label[len(name) + 1:])] += 1
        self.check_plain(row, label, level.block_section, level.block_length)
        return level.block_length, level.block_length

    def exact_extra(self, row, label, demand):
        for extra in self.job.extras:
            number = 1 if label == extra.label and extra.quantity == 1 else None
            if extra.quantity > 1 and label.startswith(extra.label + " "):
                number = int(label[len(extra.label) + 1:])
            if number is not None:
                demand[extra.label, number] += 1
                self.check_plain(row, label, extra.section, extra.length)
                return extra.length, extra.length
        raise ValueError

    def check_plain(self, row, label, section, exact):
        if row["section"] != section:
            self.fault("cuts: %s is of section %s", label, row["section"])
        if row["start_cut"] != "square" or row["finish_cut"] != "square":
            self.fault("cuts: %s is not cut square", label)
        if row["plumb"] or row["long_point"]:
            self.fault("cuts: %s has a plumb cut or a long point", label)
        self.same(row["cut_mm"], exact, "cuts: cut_mm of " + label)
        self.same(row["take_mm"], exact, "cuts: take_mm of " + label)

    def check_demand(self, demand):
        wanted = Counter()
        for run in self.job.runs:
            for level in self.job.levels_of(run):
                bays = sum(not bay.opening for bay in run.bays)
                for n in range(bays * level.blocks):
                    wanted["%s/%s/block" % (run.name, level.name), n + 1] += 1
        for extra in self.job.extras:
            for n in range(extra.quantity):
                wanted[extra.label, n + 1] += 1
        for name, n in (wanted - demand).items():
            self.fault("cuts: %s %d is not cut", *name)
        for name, n in (demand - wanted).items():
            self.fault("cuts: %s %d is cut %d times too often", *name, n)

    def check_board(self, number, rows):
        head = [rows[0][name] for name in ("section", "source", "board_mm")]
        if any([row[name] for name in ("section", "source", "board_mm")] != head for row in rows):
            self.fault("cuts: board %d is not the same board in all its rows", number)
        stock = self.stock(head[0], head[2])
        if stock is None or head[1] not in ("yard", "hand"):
            self.fault("cuts: board %d is no stock of the job: %s", number, " ".join(head))
            return
        self.boards[number] = stock, head[1] == "hand"
        if [row["cut"] for row in rows] != [str(n + 1) for n in range(len(rows))]:
            self.fault("cuts: cuts of board %d are not numbered 1 to %d", number, len(rows))
        cuts = [row["exact"] for row in rows]
        if any(a < b for a, b in zip(cuts, cuts[1:])):
            self.fault("cuts: board %d is not cut longest first", number)
        if sum(row["take"] for row in rows) + (len(cuts) - 1) * self.job.kerf > self.job.usable(stock):
            self.fault("cuts: board %d is too short for its pieces", number)
        left = self.job.usable(stock)
        for row in rows:
            # A last piece that ends within a kerf of the board's end leaves nothing, not less.
            left = max(left - row["take"] - self.job.kerf, 0)
            self.same(row["left_mm"], left, "cuts: left_mm of " + row["piece"])

    def check_limits(self):
        taken = Counter((id(stock), hand) for stock, hand in self.boards.values())
        for stock in self.job.stocks:
            where = stock.section, stock.length // MM
            if stock.limit is not None and taken[id(stock), False] > stock.limit:
                self.fault("cuts: %s of %d mm: more than the limit is bought", *where)
            if taken[id(stock), True] > stock.hand:
                self.fault("cuts: %s of %d mm: more than are on hand", *where)

    # ---- where pieces lie ----

    def check_places(self):
        """Coverage, joins, stagger, turn; returns aligned pairs and joins."""
        aligned = joins = 0
        for run in self.job.runs:
            for level in self.job.levels:
                self.check_cover(run, level)
            for first, last in run.stretches():
                inside = []
                for level in self.job.through(run):
                    pieces = sorted(p for p in self.placed[run.name, level.name] if first <= p[0] and p[1] <= last)
                    inside.append([j for _, j in pieces[:-1]])
                joins += sum(len(level) for level in inside)
                aligned += self.check_stretch(run, first, last, inside)
        return aligned, joins

    def check_cover(self, run, level):
        where = "%s, %s" % (run.name, level.name)
        has = level in self.job.levels_of(run)
        over = Counter()
        for i, j in self.placed[run.name, level.name]:
            over.update(range(i, j))
            if not level.through and j != i + 1:
                self.fault("%s: a piece between posts spans more than a bay", where)
            if level.through:
                self.check_span(run, i, j, where)
        for b, bay in enumerate(run.bays):
            if over[b] != (0 if bay.opening or not has else 1):
                self.fault("%s: bay %d is covered %d times", where, b + 1, over[b])

    def check_span(self, run, i, j, where):
        for p in range(i, j + 1):
            near = p > 0 and run.bays[p - 1].finish is not None
            ended = near or (p < len(run.bays) and run.bays[p].start is not None)
            rule = run.posts[p].join
            if i < p < j and (ended or rule == "always"):
                self.fault("%s: a piece runs on at post %d", where, p + 1)
            if p in (i, j) and not ended and rule == "never":
                self.fault("%s: a join on post %d", where, p + 1)
        if not self.job.straight(run, i, j):
            self.fault("%s: piece from post %d to %d is not straight", where, i + 1, j + 1)

    def check_stretch(self, run, first, last, inside):
        if self.job.stagger == "off":
            return 0
        where = "%s, posts %d to %d" % (run.name, first + 1, last + 1)
        aligned = sum(run.posts[p].join != "always"
                      for lower, upper in zip(inside, inside[1:]) for p in set(lower) & set(upper))
        if aligned and self.job.stagger == "require":
            self.fault("%s: joins line up", where)
        if not self.job.turn:
            return aligned
        # Longer and shorter in turn; a pair with a level that has no join says nothing.
        ways = {"lower longer", "upper longer"}
        for t, (lower, upper) in enumerate(zip(inside, inside[1:])):
            if lower and upper and lower[0] != upper[0]:
                longer = (lower[0] > upper[0]) == (t % 2 == 0)
                ways.discard("upper longer" if longer else "lower longer")
        if not ways:
            self.fault("%s: first pieces are not longer and shorter in turn", where)
        return aligned

    # ---- fit, order, set-out ----

    def check_fit(self, cuts):
        rows = self.table("fit")
        fitted = {row["piece"]: row for row in rows}
        placed = {row["piece"]: row for row in cuts if row["from_post"]}
        if len(fitted) != len(rows) or set(fitted) != set(placed):
            self.fault("fit: not the pieces of cuts.csv, once each")
        for label, row in fitted.items():
            twin = placed.get(label)
            if twin is None:
                continue
            for name in set(row) & set(twin):
                if row[name] != twin[name]:
                    self.fault("fit: %s of %s differs from cuts.csv", name, label)
            i, j = int(row["from_post"]) - 1, int(row["to_post"]) - 1
            if row["bays"] != str(j - i):
                self.fault("fit: bays of %s", label)
            run, level = self.runs.get(row["run"]), self.levels.get(row["level"])
            if run is None or level is None:
                continue
            ends = ("post", "post")
            if level.through:
                ends = [level.end(end)[0] if end else "join" for end in (run.bays[i].start, run.bays[j - 1].finish)]
            if [row["start_join"], row["finish_join"]] != list(ends):
                self.fault("fit: ends of %s are %s and %s", label, row["start_join"], row["finish_join"])

    def check_order(self):
        rows = self.table("order")
        bought = Counter()
        by_id = {}
        for stock, hand in self.boards.values():
            by_id[id(stock)] = stock
            bought[id(stock)] += not hand
        for row in rows:
            stock = self.stock(row["section"], row["length_mm"])
            count, spare = int(row["count"]), int(row["spare"] or 0)
            if stock is None:
                self.fault("order: %s of %s mm is no stock of the job", row["section"], row["length_mm"])
                continue
            where = "%s %s mm" % (stock.section, row["length_mm"])
            if count != bought[id(stock)]:
                self.fault("order: %d of %s, cuts.csv has %d", count, where, bought[id(stock)])
            bought[id(stock)] = 0
            if row["description"] != self.job.describe(stock.section):
                self.fault("order: description of %s", where)
            metres = Fraction(stock.length * (count + spare), fence_job.METRE)
            if abs(Fraction(row["metres"]) - metres) > Fraction(1, 1000):
                self.fault("order: metres of %s", where)
            if self.job.priced:
                price = Fraction(stock.price * (count + spare), fence_job.UNIT)
                if abs(Fraction(row["price"]) - price) > Fraction(1, 200):
                    self.fault("order: price of %s is %s, not %s", where, row["price"], float(price))
            elif row["price"]:
                self.fault("order: a price where nothing has one")
        for key, n in bought.items():
            if n:
                self.fault("order: %d of %s %d mm are missing", n, by_id[key].section, by_id[key].length // MM)
        self.check_spare(rows)

    def check_spare(self, rows):
        for name in {row["section"] for row in rows}:
            mine = [row for row in rows if row["section"] == name]
            wanted = int(self.job.sections.get(name, {}).get("spare") or 0)
            most = max(int(row["count"]) for row in mine)
            spare = [(int(row["spare"] or 0), int(row["count"])) for row in mine if int(row["spare"] or 0)]
            if spare != ([(wanted, most)] if wanted else []):
                self.fault("order: spare of %s", name)

    def check_setout(self):
        found = defaultdict(list)
        for row in self.table("setout"):
            found[row["run"], row["post"], row["level"]].append(row)
        wanted = defaultdict(list)
        for row in fence_setout.rows(self.job, self.joined()):
            wanted[row.run, str(row.post + 1), row.level].append(row)
        for key in found.keys() - wanted.keys():
            self.fault("setout: a row too many: %s, post %s, %s", *key)
        for key, rights in wanted.items():
            where = "%s, post %s, %s" % key
            if len(found[key]) != len(rights):
                self.fault("setout: %d rows and not %d of %s", len(found[key]), len(rights), where)
            for row, right in zip(found[key], rights):
                self.check_post(row, right, where)

    def check_post(self, row, right, where):
        self.same(row["distance_mm"], right.distance, "setout: distance of " + where)
        self.same(row["post_width_mm"], right.width, "setout: width of " + where)
        self.same(row["mark_mm"], right.mark, "setout: mark of " + where)
        self.same(row["top_mm"], right.top, "setout: top of " + where)
        self.same(row["depth_mm"], right.depth, "setout: depth of " + where)
        if row["housing"] != right.housing:
            self.fault("setout: housing of %s is %r, not %r", where, row["housing"], right.housing)
        if row["join"] != ("join" if right.join else ""):
            self.fault("setout: join of %s is %r", where, row["join"])

    def joined(self):
        """(run, level, post) wherever two pieces of cuts.csv meet and none of them ends."""
        out = set()
        for (run, level), pieces in self.placed.items():
            if self.levels[level].through:
                bays = self.runs[run].bays
                out.update((run, level, j) for _, j in pieces if bays[j - 1].finish is None)
        return out

    def run(self):
        cuts = self.check_cuts()
        aligned, joins = self.check_places()
        self.check_fit(cuts)
        self.check_order()
        if self.job.runs:
            self.check_setout()
        cost = sum(0 if hand else self.job.cost_of(stock) for stock, hand in self.boards.values())
        return Figures(aligned, cost + joins * self.job.cost_of_join(), joins, len(self.boards))


def check(job, folder):
    """(faults, Figures) of the plan in FOLDER."""
    checker = Checker(job, folder)
    try:
        figures = checker.run()
    except (ValueError, KeyError, ArithmeticError) as error:
        # A file too broken to read on is a fault like others.
        checker.fault("unreadable: %r", error)
        figures = None
    return checker.faults, figures


if __name__ == "__main__":
    found, _ = check(fence_job.read_job(sys.argv[2:]), sys.argv[1])
    for line in found:
        print(line)
    sys.exit(1 if found else 0)
