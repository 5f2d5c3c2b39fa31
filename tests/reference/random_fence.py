# random_fence.py - small random jobs, the same for the same seed
# SPDX-License-Identifier: GPL-3.0-or-later
"""random_fence.py SEED [basic|whole|ground|tiny] DIR: write the input files of one job.

The command line that plans it, without the program's name, stands in
DIR/arguments, a word a line.  basic: straight runs of through rails.  whole:
also housed and mitred ends, ends inside a run, openings, slopes, steps, seats,
levels between posts or on some runs only, blocks, stock on hand, several
sections.  ground: whole, and nearly every job has corners of any angle, seats,
slopes and steps.  tiny: by turns like both, but small enough to try every plan.
"""

import csv
import os
import random
import sys

STOCKS = (2400, 2700, 3000, 3600, 4200, 4800, 5100, 5400, 6000)


class Maker:
    def __init__(self, seed, profile):
        self.random = random.Random("%s %s" % (profile, seed))
        self.whole = profile != "basic"
        self.tiny = profile == "tiny"
        self.ground = profile == "ground" or self.tiny and seed % 2 == 1
        self.settings = {}
        self.files = {}

    def chance(self, of_one):
        return self.random.random() < of_one

    def pick(self, *values):
        return self.random.choice(values)

    def often(self, whole, ground):
        """A chance for each profile; basic jobs have none of it."""
        return self.whole and self.chance(ground if self.ground else whole)

    # ---- the parts of a job ----

    def set_options(self):
        if self.chance(0.7):
            self.settings["kerf"] = self.pick("0", "2", "3", "3.2", "4", "1/8in")
        if self.chance(0.4):
            self.settings["end-trim"] = self.pick("5", "10", "25", "50")
        if self.chance(0.75):
            self.settings["stagger"] = self.pick("prefer", "prefer", "require", "off")
        self.width = self.pick(75, 90, 100, 100, 125)
        if self.width != 100 or self.chance(0.2):
            self.settings["post-width"] = str(self.width)
        self.clear = self.chance(0.3)
        if self.clear:
            self.settings["measured"] = "clear"
        if self.whole and self.chance(0.3):
            self.settings["bow"] = self.pick("0", "2", "10", "25")
        if self.often(0.3, 0.6):
            self.settings["round"] = self.pick("0", "0", "1", "5", "1/16in")
        if self.often(0.15, 0.4):
            self.settings["post-depth"] = str(self.pick(75, 90, 100, 120))
        if self.often(0.1, 0.25):
            self.settings["turn"] = self.pick("off", "off", "keep")
        if self.often(0.05, 0.12):
            self.settings["inches"] = "yes"

    def make_spans(self):
        bays = self.random.randint(*((1, 5) if self.tiny else (2, 8) if self.ground else (2, 9) if self.whole else (2, 12)))
        runs = min(bays, self.pick(1, 1, 2, 2, 3))
        starts = sorted(self.random.sample(range(1, bays), runs - 1))
        size = self.pick(1500, 1800, 2000, 2100, 2300, 2350, 2375, 2398, 2400, 2550, 2700)
        kind = self.pick("equal", "equal", "two", "two", "odd", "any")
        if self.clear:
            size -= self.width
        other = size - self.pick(150, 300, 600, 900)
        self.longest = 0
        sloping = self.often(0.4, 0.75)
        rows, self.runs = [], []
        for first, last in zip([0] + starts, starts + [bays]):
            name = "run " + "abc"[len(self.runs)]
            self.runs.append(name)
            for b in range(first, last):
                span = size
                if kind == "two":
                    span = self.pick(size, other)
                elif kind == "odd":
                    span = size + (self.random.randint(-40, 40) if self.chance(0.3) else 0)
                elif kind == "any":
                    span = size + self.random.randint(-30, 30)
                row = {"run": name, "span": self.write_length(span), "join": ""}
                if self.chance(0.12):
                    row["join"] = self.pick("may", "never", "never", "always", "always")
                if self.chance(0.15):
                    row["post_width"] = str(self.pick(90, 100, 125, 150))
                if b == first:
                    if self.chance(0.2):
                        row["near_post_width"] = str(self.pick(90, 100, 125, 150))
                    if self.chance(0.75 if self.ground else 0.5):
                        row["start"] = self.an_end()
                if b == last - 1 and self.chance(0.75 if self.ground else 0.5):
                    row["finish"] = self.an_end()
                if sloping and self.chance(0.7):
                    row["rise"] = self.a_rise(row, rows[first:])
                if self.often(0.05, 0.15):
                    # On a run's last bay it is left aside.
                    row["step"] = str(self.pick(150, -150, 200, 75, -320, 0))
                self.longest = max(self.longest, span + (400 if self.ground else 150))
                rows.append(row)
            if self.whole:
                self.break_up(rows[first:last])
        self.bays = bays
        columns = ["run", "bay", "span", "post_width", "near_post_width", "start", "finish", "join", "rise", "opening",
                   "step"]
        used = [c for c in columns if any(row.get(c) for row in rows)]
        self.files["spans"] = used, rows

    def a_rise(self, row, before):
        """Often the slope of the bay before, so that pieces can run on; else a new one."""
        if before and before[-1]["span"] == row["span"] and self.chance(0.7):
            return before[-1].get("rise", "0")
        return str(self.pick(0, 3, -3, 40, 250, -250, 500, self.random.randint(-600, 600)))

    def break_up(self, rows):
        """Openings, and ends written inside a run."""
        if len(rows) > 2 and self.chance(0.3):
            row = rows[self.random.randrange(len(rows))]
            row["opening"] = "yes"
            row.pop("start", None)
            row.pop("finish", None)
        for row, follower in zip(rows, rows[1:]):
            if self.chance(0.08):
                sides = self.pick("near", "far", "both")
                if sides != "far" and not row.get("opening"):
                    row["finish"] = self.an_end()
                if sides != "near" and not follower.get("opening"):
                    follower["start"] = self.an_end()

    def an_end(self):
        kinds = ["flush", "centre", "face", "reach 30", "reach -20"]
        if self.whole:
            kinds += ["housed", "housed 25", "mitre", "mitre 135", "mitre 270"] * 2
            kinds += ["mitre %s" % self.an_angle() for _ in range(12 if self.ground else 6)]
        return self.pick(*kinds)

    def an_angle(self):
        degrees = self.random.choice([degrees for degrees in range(30, 331) if degrees != 180])
        return "%d%s" % (degrees, ".5" if degrees < 330 and self.chance(0.1) else "")

    def write_length(self, mm):
        """A length in one of the ways people write it."""
        if self.chance(0.8):
            return str(mm)
        return self.pick("%dmm" % mm, "%sm" % (mm / 1000), "%scm" % (mm / 10), "%d mm" % mm)

    def make_levels(self):
        count = self.random.randint(1, 3 if self.tiny else 4)
        if not self.whole or self.chance(0.2):
            if self.chance(0.5):
                self.sections = ["rail"]
                if count != 2:
                    self.settings["rails"] = str(count)
                return
            self.sections = ["90x45 H3"] + (["75x38"] if self.chance(0.2) else [])
            rows = [{"level": "level %d" % (n + 1), "section": self.pick(*self.sections)} for n in range(count)]
            self.sections = sorted({row["section"] for row in rows})
            self.files["levels"] = ["level", "section"], rows
            return
        names = ["75x38", "90x45"] if self.chance(0.4) else ["90x45"]
        rows = []
        for n in range(count):
            row = {"level": "rail %d" % (n + 1), "section": self.pick(*names), "height": str(150 + 500 * n)}
            if self.chance(0.15):
                row.update(runs="between", gap=self.pick("", "2", "3"))
            elif self.often(0.25, 0.7):
                row["seat"] = self.pick("let in", "let in 20", "let in 33", "let in 12", "face", "face", "top", "top")
            if not self.tiny and self.chance(0.1):
                row.update(blocks="1", block_length="90")
            rows.append(row)
        if self.chance(0.6):
            plinth = {"level": "plinth", "section": self.pick("150x25", names[0]), "runs": "between",
                      "gap": self.pick("", "4", "6"), "height": "0"}
            if self.chance(0.6):
                plinth.update(blocks="1" if self.tiny else self.pick("1", "2"),
                              block_length=self.pick("120", "200", "350"),
                              block_section=self.pick("", names[0], "50x50"))
            rows.insert(0, plinth)
        self.on_some_runs(rows)
        if self.ground and self.chance(0.1):
            for row in rows:
                del row["height"]
        used = [row["section"] for row in rows] + [row.get("block_section") for row in rows if row.get("blocks")]
        self.sections = sorted({name for name in used if name})
        columns = ["level", "section", "runs", "gap", "height", "blocks", "block_length", "block_section", "seat",
                   "only"]
        self.files["levels"] = [c for c in columns if any(row.get(c) for row in rows)], rows

    def on_some_runs(self, rows):
        """Levels that some runs lack; every run keeps one."""
        for row in rows:
            if len(self.runs) > 1 and self.often(0.1, 0.3):
                mine = sorted(self.random.sample(self.runs, self.random.randint(1, len(self.runs) - 1)))
                row["only"] = self.pick(";", "; ").join(mine)
        bare = [run for run in self.runs
                if all("only" in row and run not in row["only"] for row in rows)]
        if bare:
            self.random.choice(rows).pop("only")

    def make_extras(self):
        if not self.chance(0.35):
            return
        rows = []
        for n in range(self.random.randint(1, 2 if self.tiny else 3)):
            rows.append({"label": "extra " + "abc"[n], "section": self.pick(*self.sections),
                         "length": str(self.pick(450, 600, 900, 1200, 1799, 2000)),
                         "quantity": str(self.pick(1, 1, 2) if self.tiny else self.pick(1, 2, 3, 5))})
        if all(row["quantity"] == "1" for row in rows):
            for row in rows:
                del row["quantity"]
        self.files["extras"] = [c for c in ("label", "section", "length", "quantity") if c in rows[0]], rows

    def stock_lengths(self):
        count = self.pick(1, 2, 2, 3, 4)
        lengths = set(self.random.sample(STOCKS, count))
        if self.chance(0.95) and max(lengths) < self.longest:
            lengths.discard(min(lengths))
            lengths.add(self.pick(*(s for s in STOCKS if s >= self.longest)))
        return sorted(lengths)

    def make_stock(self):
        if self.chance(0.1):
            if self.chance(0.7):
                self.settings["stock-length"] = ",".join(str(s / 1000) for s in self.stock_lengths())
            return
        priced = self.pick("no", "length", "metre", "metre")
        if priced != "no" and self.chance(0.5):
            self.settings["join-cost"] = self.pick("0.5", "1.25", "2", "7.5")
        limits = self.pick(0, 0, 0.4, 0.8)
        rows = []
        levels = len(self.files["levels"][1]) if "levels" in self.files else int(self.settings.get("rails", 2))
        for section in self.sections:
            rate = self.random.randint(200, 900)
            for mm in self.stock_lengths():
                row = {"section": section, "length": self.pick(str(mm / 1000), str(mm), "%dmm" % mm)}
                mine = rate * self.pick(90, 95, 100, 100, 105, 110, 115) // 100
                if priced == "metre":
                    row.update(price="%.2f" % (mine / 100), per="metre")
                elif priced == "length":
                    row["price"] = "%.2f" % (mine * mm // 1000 // self.pick(1, 5, 10) / 100 * 1.0)
                need = self.bays * levels * 2400 // mm + 1
                if self.chance(limits):
                    row["limit"] = str(self.random.randint(0, need))
                if self.whole and self.chance(0.25):
                    row["hand"] = str(self.random.randint(1, 3))
                rows.append(row)
        columns = ["section", "length", "price", "per", "limit", "hand"]
        self.files["stock"] = [c for c in columns if any(row.get(c) for row in rows)], rows

    def make_sections(self):
        if not self.whole:
            return
        rows = []
        for name in self.sections:
            width, thickness = name.split("x") if "x" in name else ("90", "45")
            row = {"section": name, "width": width, "thickness": thickness.split()[0],
                   "description": self.pick("", name + " H3 pine"), "density": self.pick("", "550"),
                   "spare": self.pick("", "", "1")}
            # Without its width a slope's plumb cuts take nothing more; where a corner or seat needs them they stay.
            if self.ground and self.chance(0.2):
                needed = self.needed(name)
                row.update((column, "") for column in ("width", "thickness") if column not in needed)
            rows.append(row)
        self.files["sections"] = ["section", "width", "thickness", "description", "density", "spare"], rows

    def needed(self, section):
        """What must be known of SECTION, taken a little too widely: whether a level is on a run is not looked at."""
        ends = [row.get(side, "") for row in self.files["spans"][1] for side in ("start", "finish")]
        angles = [float(end.split()[1]) if " " in end else 90 for end in ends if end.startswith("mitre")]
        out = set()
        rows = self.files["levels"][1] if "levels" in self.files else [{"section": section}]
        for row in rows:
            seat = row.get("seat", "")
            if row["section"] != section or row.get("runs") == "between":
                continue
            if seat == "top":
                out.update(("width", "thickness"))
            if any(angle > 180 for angle in angles) or angles and seat == "face" or seat[-1:].isdigit():
                out.add("thickness")
        return out

    def write(self, folder):
        self.set_options()
        self.make_spans()
        self.make_levels()
        self.make_extras()
        self.make_stock()
        self.make_sections()
        if self.chance(0.2):
            self.settings["max-piece"] = str(max(self.longest, self.pick(3600, 4200, 4900, 5000)))
        arguments = []
        if self.settings and self.chance(0.2):
            self.files["settings"] = ["key", "value"], [{"key": k, "value": v} for k, v in self.settings.items()]
            self.settings = {}
        for name, (columns, rows) in self.files.items():
            path = name + ".csv"
            with open(os.path.join(folder, path), "w", newline="", encoding="utf-8") as file:
                writer = csv.DictWriter(file, columns, restval="", extrasaction="ignore")
                writer.writeheader()
                writer.writerows(rows)
            arguments += [path] if name == "spans" else ["--" + name, path]
        for key, value in self.settings.items():
            arguments += ["--" + key] if key == "inches" else ["--" + key, value]
        with open(os.path.join(folder, "arguments"), "w", encoding="utf-8") as file:
            file.writelines(word + "\n" for word in arguments)
        return arguments


def make(seed, profile, folder):
    """Write a job's files into FOLDER; its command line, without the program."""
    return Maker(seed, profile).write(folder)


if __name__ == "__main__":
    os.makedirs(sys.argv[3], exist_ok=True)
    print(" ".join(make(int(sys.argv[1]), sys.argv[2], sys.argv[3])))
