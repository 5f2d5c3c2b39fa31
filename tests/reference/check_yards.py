"""check_yards.py - whole orders against the reference: yards, packs, prices that fall, fittings
SPDX-License-Identifier: GPL-3.0-or-later

    python3 check_yards.py PROGRAM [COUNT [SEED [NAME]]]

Random fences whose timber comes from one to four yards, with delivery charges, least orders, prices that are lower
from a number on, packs and limits. The full model (fence_model.py) gets a whole number of packs for each price of each
yard, and a binary for each price and each yard: what a plan costs must be its optimum. The order that was written is
read anew: packs, prices, limits, least orders, deliveries, spare lengths, and every fitting counted out of the plan.
NAME: only the job of that seed, which is left in the folder NAME.
"""
import csv
import math
import os
import random
import subprocess
import sys
import tempfile
from collections import Counter, defaultdict
from dataclasses import dataclass
from fractions import Fraction

import numpy as np

import check_plan
import fence_job
import fence_model

HANG_SECONDS = 300
LENGTHS = ("2.4", "3.0", "3.6", "4.2", "4.8", "5.4", "6.0")
PER = ("post", "end post", "bay", "opening", "metre", "piece", "join", "crossing", "board", "run", "job")


@dataclass
class Offer:
    section: str
    length: int
    yard: str
    pack: int
    limit: int                # None: any number
    prices: list              # (from so many on, price of one), the least number first


# ---- a job ----


class Maker:
    def __init__(self, chance, folder):
        self.chance, self.folder = chance, folder
        self.words = []

    def maybe(self, of_one):
        return self.chance.random() < of_one

    def file(self, name, columns, rows):
        with open(os.path.join(self.folder, name + ".csv"), "w", newline="", encoding="utf-8") as out:
            writer = csv.DictWriter(out, columns, restval="")
            writer.writeheader()
            writer.writerows(rows)
        self.words += [name + ".csv"] if name == "spans" else ["--" + name, name + ".csv"]

    def spans(self):
        usual = self.chance.randrange(1600, 2500, 10)
        self.runs = self.chance.choice((["a"], ["a"], ["a", "b"], ["a", "b", "c"]))
        rows = []
        for run in self.runs:
            bays = self.chance.randint(2, 7 if len(self.runs) == 1 else 4)
            for bay in range(bays):
                row = {"run": run, "span": str(usual + self.chance.choice((0, 0, -10, 15, -320)))}
                if 0 < bay < bays - 1 and self.maybe(0.15):
                    row["opening"] = "yes"
                rows.append(row)
        for before, after in zip(rows, rows[1:]):
            if before["run"] != after["run"] and self.maybe(0.5):
                before["finish"] = after["start"] = "mitre 90"
        self.file("spans", ["run", "span", "start", "finish", "opening"], rows)

    def timber(self):
        self.sections = self.chance.choice((["rail"], ["rail"], ["rail", "top"]))
        rows = [{"level": "l%d" % n, "section": self.chance.choice(self.sections)}
                for n in range(self.chance.randint(1, 3))]
        self.sections = sorted({row["section"] for row in rows})
        self.file("levels", ["level", "section"], rows)
        if self.maybe(0.3):
            self.file("extras", ["label", "section", "length", "quantity"],
                      [{"label": "x", "section": self.sections[0], "length": "1400",
                        "quantity": str(self.chance.randint(1, 4))}])
        self.spare = {}
        rows = []
        for name in self.sections:
            row = {"section": name, "width": "90", "thickness": "45"}
            if not self.least and self.maybe(0.3):
                row["spare"] = self.spare[name] = self.chance.choice(("1", "2", "5%", "10%", "12.5%"))
            rows.append(row)
        self.file("sections", ["section", "width", "thickness", "spare"], rows)

    def yards(self):
        self.yards_of = ["north", "south", "east", "west"][:self.chance.choice((1, 2, 2, 3, 3, 4))]
        if self.maybe(0.08):
            self.yards_of = []
        rows = []
        self.least = False
        for yard in self.yards_of:
            row = {"yard": yard, "delivery": "%d" % self.chance.choice((0, 5, 15, 30, 60))}
            if self.maybe(0.15):
                row["minimum"] = "%d" % self.chance.choice((40, 90, 150))
                self.least = True
            rows.append(row)
        if rows:
            self.file("yards", ["yard", "delivery", "minimum"], rows)

    def stock(self):
        rows = []
        for section in self.sections:
            lengths = sorted(self.chance.sample(LENGTHS[:4], self.chance.randint(0, 1))
                             + self.chance.sample(LENGTHS[4:], self.chance.randint(1, 3)))
            for size in lengths:
                rows += self.rows_of(section, size)
            if not any(row["section"] == section and not row.get("limit") and float(row["length"]) >= 4.8 for row in rows):
                rows.append({"section": section, "length": "6.6", "price": "60", "yard": (self.yards_of or [""])[0]})
        self.file("stock", ["section", "length", "price", "per", "limit", "hand", "yard", "from", "pack"], rows)

    def rows_of(self, section, size):
        out = []
        everywhere = not self.yards_of or self.maybe(0.15)
        for yard in [""] if everywhere else self.yards_of:
            if yard and self.maybe(0.25):
                continue
            metre = self.chance.randint(380, 560) / 100
            base = {"section": section, "length": size, "yard": yard}
            price = metre if self.maybe(0.3) else round(metre * float(size), 2)
            if price == metre:
                base["per"] = "metre"
            first = dict(base, price="%.2f" % price)
            if self.maybe(0.2):
                first["limit"] = str(self.chance.randint(1, 8))
            if self.maybe(0.1):
                first["hand"] = str(self.chance.randint(1, 2))
            if self.maybe(0.25):
                first["pack"] = str(self.chance.choice((2, 3, 4, 5)))
            out.append(first)
            least = 1
            while self.maybe(0.3) and least < 8:
                least += self.chance.randint(2, 5)
                price = round(price * self.chance.choice((0.8, 0.9, 0.95)), 2)
                out.append(dict(base, price="%.2f" % price, **{"from": str(least)}))
        self.chance.shuffle(out)
        return out

    def fittings(self):
        rows = []
        for n in range(self.chance.randint(0, 4)):
            per = self.chance.choice(PER)
            row = {"item": self.chance.choice(("cap", "nail, long", "concrete")) + " %d" % (n // 2), "per": per,
                   "each": self.chance.choice(("", "2", "0.5", "1.3", "0.333333"))}
            if per not in ("board", "job") and self.maybe(0.3):
                row["only"] = "; ".join(self.chance.sample(self.runs, self.chance.randint(1, len(self.runs))))
            if not any(other["item"] == row["item"] for other in rows):
                row["pack"] = self.chance.choice(("", "", "10", "3"))
                row["price"] = self.chance.choice(("", "2.5", "11"))
            rows.append(row)
        if rows:
            self.file("fittings", ["item", "per", "each", "pack", "price", "only"], rows)

    def write(self):
        self.yards()
        self.spans()
        self.timber()
        self.stock()
        self.fittings()
        if self.maybe(0.3):
            self.words += ["--join-cost", "%.2f" % (self.chance.randrange(1, 400) / 100)]
        if self.maybe(0.2):
            self.words += ["--stagger", "off"]
        return self.words


# ---- reading it ----


class Order:
    """What can be bought where, read from the files."""

    def __init__(self, folder):
        path = os.path.join(folder, "yards.csv")
        self.yards = {row["yard"]: row for row in fence_job.rows(path)} if os.path.exists(path) else {}
        raw = defaultdict(list)
        self.hand = Counter()
        for row in fence_job.rows(os.path.join(folder, "stock.csv")):
            size = fence_job.length(row["length"], stock=True)
            price = fence_job.money(row["price"])
            if row["per"] == "metre":
                price = fence_job.round_half_away(Fraction(price * size, fence_job.METRE))
            self.hand[row["section"], size] += int(row["hand"] or 0)
            raw[row["section"], size, row["yard"]].append((int(row["from"] or 1), price, row))
        self.offers = []
        for (section, size, yard), rows in raw.items():
            rows.sort(key=lambda row: row[:2])
            first = rows[0][2]
            for name in [yard] if yard or not self.yards else self.yards:
                self.offers.append(Offer(section, size, name, int(first["pack"] or 1),
                                         int(first["limit"]) if first["limit"] else None,
                                         [(least, price) for least, price, _ in rows]))
        path = os.path.join(folder, "fittings.csv")
        self.fittings = fence_job.rows(path) if os.path.exists(path) else []

    def delivery(self, yard):
        return fence_job.money(self.yards[yard]["delivery"] or "0") if yard in self.yards else 0

    def least(self, yard):
        return fence_job.money(self.yards[yard]["minimum"] or "0") if yard in self.yards else 0

    def stocks(self):
        """A row a length, wherever it is bought: boards are alike."""
        return [fence_job.Stock(section, size, 0, None, hand) for (section, size), hand in sorted(self.hand.items())]


# ---- the full model with fixed charges ----


class Model(fence_model.Model):
    def __init__(self, job, order):
        self.order = order
        self.charges = []          # (column, millionths)
        super().__init__(job, fence_model.JUDGED_PATTERNS)
        self._buy()

    def _buy(self):
        used = {yard: self._column(1) for yard in self.order.yards}
        value = defaultdict(list)
        bought = defaultdict(list)
        most = sum(self.layout.most_of_each().values())
        for offer in self.order.offers:
            most_here = most + offer.prices[-1][0] + offer.pack + 100
            if offer.limit is not None:
                most_here = min(most_here, offer.limit)
            holds = []
            for k, (least, price) in enumerate(offer.prices):
                # Whoever buys more pays the price of more, also where an order is to be worth something.
                most_so = min([most_here] + [start - 1 for start, _ in offer.prices[k + 1:k + 2]])
                packs, binary = self._column(max(0, most_so) // offer.pack), self._column(1)
                holds.append((binary, 1))
                self._row([(packs, offer.pack), (binary, -least)], 0, np.inf)
                self._row([(packs, offer.pack), (binary, -most_so)], -np.inf, 0)
                self.charges.append((packs, price * offer.pack))
                value[offer.yard].append((packs, price * offer.pack))
                bought[offer.section, offer.length].append((packs, offer.pack))
                if offer.yard in used:
                    self._row([(packs, offer.pack), (used[offer.yard], -most_here)], -np.inf, 0)
            self._row(holds, -np.inf, 1)
        for (section, size), terms in bought.items():
            mine = [(column, -1) for column, stock, hand, _ in self.x
                    if not hand and (stock.section, stock.length) == (section, size)]
            self._row(terms + mine, 0, np.inf)
        for yard, column in used.items():
            self.charges.append((column, self.order.delivery(yard)))
            least = self.order.least(yard)
            if least:
                unit = math.gcd(least, *(cost for _, cost in value[yard]))
                self._row([(packs, cost // unit) for packs, cost in value[yard]] + [(column, -(least // unit))], 0, np.inf)
        for column, stock, hand, _ in self.x:
            # Boards of a length that nobody sells.
            if not hand and not bought[stock.section, stock.length]:
                self._row([(column, 1)], 0, 0)

    def cost_terms(self):
        join = self.job.cost_of_join()
        raw = self.charges + [(y, join) for y in self.y]
        granule = math.gcd(*(value for _, value in raw)) or 1
        return [(column, value // granule) for column, value in raw], -self.paths() * join // granule, granule

    def least(self):
        """(aligned pairs, cost), or None."""
        if self.layout.impossible:
            return None
        cost, constant, granule = self.cost_terms()
        point, aligned, caps = self.solve(cost, fixed_zero=self.aligned), 0, []
        if point is None and self.aligned:
            pairs = [(column, 1) for column in self.aligned]
            point = self.solve(pairs)
            if point is not None:
                aligned = fence_model._value(pairs, point)
                caps = [(pairs, aligned)]
                point = self.solve(cost, caps)
        return None if point is None else (aligned, (fence_model._value(cost, point) + constant) * granule)


# ---- the plan's files ----


class Checker(check_plan.Checker):
    def __init__(self, job, order, folder, spare):
        super().__init__(job, folder)
        self.order, self.spare = order, spare

    def check_limits(self):
        for (section, size), hand in self.order.hand.items():
            mine = sum(1 for stock, from_hand in self.boards.values()
                       if from_hand and (stock.section, stock.length) == (section, size))
            if mine > hand:
                self.fault("cuts: %d of %s %d from hand, there are %d", mine, section, size, hand)

    def check_order(self):
        rows = self.table("order")
        timber = [row for row in rows if row["kind"] == "timber"]
        self.cost = 0
        needed, worth = Counter(), Counter()
        for row in timber:
            self.check_timber(row, needed, worth)
        for (stock, hand) in self.boards.values():
            if not hand:
                needed[stock.section, stock.length] -= 1
        for key, left in needed.items():
            if left:
                self.fault("order: %s of %s %d too many", left, *key)
        self.check_deliveries([row for row in rows if row["kind"] == "delivery"], worth)
        self.check_spares(timber)
        self.check_fittings([row for row in rows if row["kind"] == "fitting"])
        if len(rows) != sum(row["kind"] in ("timber", "fitting", "delivery") for row in rows):
            self.fault("order: a kind that is none")

    def check_timber(self, row, needed, worth):
        mine = [offer for offer in self.order.offers if offer.section == row["section"] and offer.yard == row["yard"]
                and self.is_length(row["length_mm"], offer.length)]
        if len(mine) != 1:
            self.fault("order: %s offers no %s %s", row["yard"], row["section"], row["length_mm"])
            return
        offer = mine[0]
        count, number = int(row["count"]), int(row["count"]) + int(row["spare"])
        needed[offer.section, offer.length] += count
        if number % offer.pack or number < offer.prices[0][0] or offer.limit is not None and count > offer.limit:
            self.fault("order: %d of %s cannot be bought", number, offer)
        price = [price for least, price in offer.prices if least <= number][-1:]
        if not price or fence_job.money(row["unit_price"]) != price[0] or fence_job.money(row["price"]) != price[0] * number:
            self.fault("order: price of %s", row)
            return
        worth[offer.yard] += price[0] * number
        # Without its spare lengths, where it has some: least orders and spare lengths do not come together here.
        if row["section"] in self.spare:
            numbers = {-(-max(least, count) // offer.pack) * offer.pack for least, _ in offer.prices} if count else {0}
            self.cost += min(number * [price for least, price in offer.prices if least <= number][-1]
                             for number in numbers) if count else 0
        else:
            self.cost += price[0] * number

    def check_deliveries(self, rows, worth):
        used = {yard for yard in worth if yard}
        for row in rows:
            if row["yard"] not in used or fence_job.money(row["price"]) != self.order.delivery(row["yard"]):
                self.fault("order: delivery of %s", row["yard"])
        if {row["yard"] for row in rows} != {yard for yard in used if self.order.delivery(yard)}:
            self.fault("order: deliveries")
        for yard in used:
            self.cost += self.order.delivery(yard)
            if worth[yard] < self.order.least(yard):
                self.fault("order: %s gets less than its least order", yard)

    def check_spares(self, rows):
        for section, text in self.spare.items():
            mine = [row for row in rows if row["section"] == section and int(row["count"])]
            count = sum(int(row["count"]) for row in mine)
            wanted = math.ceil(Fraction(text[:-1]) * count / 100) if text.endswith("%") else int(text)
            most = max((int(row["count"]) for row in mine), default=0)
            if mine and not any(int(row["count"]) == most and int(row["spare"]) >= wanted for row in mine):
                self.fault("order: spare of %s", section)

    # ---- fittings ----

    def units(self, row):
        runs = [run for run in self.job.runs
                if not row["only"] or run.name in [name.strip() for name in row["only"].split(";")]]
        names = {run.name for run in runs}
        per = row["per"]
        shared = sum(1 for before, after in self.corners() if before.name in names and after.name in names)
        if per == "post":
            return sum(len(run.posts) for run in runs) - shared
        if per == "end post":
            return 2 * len(runs) - shared
        if per in ("bay", "opening"):
            return sum(bay.opening == (per == "opening") for run in runs for bay in run.bays)
        if per == "metre":
            return Fraction(sum(bay.span for run in runs for bay in run.bays if not bay.opening), fence_job.METRE)
        if per == "crossing":
            return sum(len(self.job.levels_of(run)) * sum(
                any(0 <= b < len(run.bays) and not run.bays[b].opening for b in (p - 1, p)) for p in range(len(run.posts)))
                for run in runs)
        if per == "join":
            return sum(run in names for run, _, _ in self.joined())
        if per == "piece":
            return sum(not row["only"] or piece["run"] in names for piece in self.table("cuts"))
        return {"board": len(self.boards), "run": len(runs), "job": 1}[per]

    def corners(self):
        """Two runs that follow each other and meet in mitres; three or more may close."""
        runs = self.job.runs
        pairs = list(zip(runs, runs[1:])) + ([(runs[-1], runs[0])] if len(runs) > 2 else [])
        return [(a, b) for a, b in pairs if a.bays[-1].finish[0] == "mitre" and b.bays[0].start[0] == "mitre"]

    def check_fittings(self, rows):
        amount, first = defaultdict(Fraction), {}
        for row in self.order.fittings:
            first.setdefault(row["item"], row)
            amount[row["item"]] += self.units(row) * Fraction(row["each"] or 1)
        found = {row["description"]: row for row in rows}
        for item, row in first.items():
            count = math.ceil(amount[item])
            pack = int(row["pack"] or 1)
            packs = -(-count // pack)
            price = row["price"] and fence_job.money(row["price"]) * packs
            line = found.pop(item, None)
            if line is None:
                if count:
                    self.fault("order: no %s, %d are needed", item, count)
            elif [int(line["count"]), int(line["spare"])] != [count, packs * pack - count] or (
                    (fence_job.money(line["price"]) if line["price"] else "") != price):
                self.fault("order: %s is %s, needed are %d", item, line, count)
        if found:
            self.fault("order: fittings that are none: %s", sorted(found))

    def run(self):
        cuts = self.check_cuts()
        aligned, joins = self.check_places()
        self.check_fit(cuts)
        self.check_order()
        self.check_setout()
        return aligned, self.cost + joins * self.job.cost_of_join()


def one_job(program, seed, folder):
    """(verdict, what is wrong)"""
    maker = Maker(random.Random("yards %s" % seed), folder)
    words = maker.write()
    with open(os.path.join(folder, "arguments"), "w", encoding="utf-8") as file:
        file.writelines(word + "\n" for word in words)
    order = Order(folder)
    plain = [word for k, word in enumerate(words)
             if not {"--yards", "--fittings", "--stock"} & set(words[max(0, k - 1):k + 1])]
    job = fence_job.read_job(plain, folder)
    job.stocks, job.priced = order.stocks(), True
    done = subprocess.run([program, "plan", *words, "-o", "plan"], cwd=folder, stdout=subprocess.PIPE,
                          stderr=subprocess.PIPE, timeout=HANG_SECONDS, check=False)
    try:
        best = Model(job, order).least()
    except fence_model.TooLarge:
        return "undecided", []
    if done.returncode == 3 and best is None:
        return "none", []
    if done.returncode or best is None:
        return "wrong", ["exit status %d, the reference has %s: %s" % (done.returncode, best, done.stderr.decode())]
    checker = Checker(job, order, os.path.join(folder, "plan"), maker.spare)
    figures = checker.run()
    faults = checker.faults
    if figures != best:
        faults.append("aligned and cost are %s, the reference has %s" % (figures, best))
    if b"No plan can be cheaper" not in done.stdout:
        faults.append("not proved")
    done = subprocess.run([program, "verify", *words, "--plan", "plan", "--rules-only"], cwd=folder,
                          stdout=subprocess.PIPE, stderr=subprocess.PIPE, timeout=HANG_SECONDS, check=False)
    if done.returncode:
        faults.append("verify: " + done.stderr.decode())
    elif b"The plan costs %s." % told(figures[1]) not in done.stdout:
        faults.append("verify tells another cost than %s: %s" % (figures[1], done.stdout.decode()))
    return ("wrong" if faults else "plan"), faults


def told(money):
    """To a hundredth, half away from zero."""
    cents = fence_job.round_half_away(Fraction(money, fence_job.UNIT // 100))
    return b"%d.%02d" % divmod(cents, 100)


def main():
    program = os.path.abspath(sys.argv[1])
    count = int(sys.argv[2]) if len(sys.argv) > 2 else 40
    first = int(sys.argv[3]) if len(sys.argv) > 3 else 1
    verdicts = Counter()
    if len(sys.argv) > 4:
        os.makedirs(sys.argv[4], exist_ok=True)
        print(*one_job(program, first, sys.argv[4]))
        return
    for seed in range(first, first + count):
        with tempfile.TemporaryDirectory(prefix="yards-") as folder:
            verdict, faults = one_job(program, seed, folder)
        verdicts[verdict] += 1
        for fault in faults:
            print("seed %d: %s" % (seed, fault), flush=True)
    print("orders: %d plans equal to the optimum with fixed charges, %d jobs rightly without a plan, %d without verdict, "
          "%d failed" % (verdicts["plan"], verdicts["none"], verdicts["undecided"], verdicts["wrong"]))
    # A comparison that hardly compares must not pass.
    if verdicts["wrong"] or verdicts["plan"] * 2 < count:
        sys.exit(1)


if __name__ == "__main__":
    main()
