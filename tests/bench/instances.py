# instances.py - published instances as jobs of extras alone
# SPDX-License-Identifier: GPL-3.0-or-later
"""instances.py FOLDER INSTANCE DIR: write that instance as a job, and print its command line and optimum.

Reads the folder that the user names; README.md describes its files.

A length is written as so many centimetres, whatever its unit was (stock under
50 mm is refused): that changes nothing in how the pieces pack.  No kerf, no trim.
"""

import csv
import glob
import os
import sys
from dataclasses import dataclass, field

MILLIONTHS = 10**6
NANOMETRES = 10**7      # in a centimetre

COLUMNS = "instance,capacity,optimum,length,quantity"
SEVERAL_COLUMNS = "class,instance,optimum,kind,length,cost,quantity"
SEVERAL = "several-lengths.csv"


@dataclass
class Instance:
    group: str              # class
    name: str
    optimum: int            # boards; with several stock lengths, cost
    stock: list = field(default_factory=list)     # (length, cost or None, limit or None)
    pieces: list = field(default_factory=list)    # (length, quantity)

    @property
    def exact(self):
        """The optimum in the exact unit of the library: nanometres bought, or millionths of money."""
        if self.stock[0][1] is None:
            return self.optimum * self.stock[0][0] * NANOMETRES
        return self.optimum * MILLIONTHS


class BadData(Exception):
    """A file is not as described."""


def _rows(path, columns):
    with open(path, newline="", encoding="utf-8-sig") as file:
        reader = csv.DictReader(file)
        if ",".join(reader.fieldnames or []) != columns:
            raise BadData("%s: expected the columns %s" % (path, columns))
        for row in reader:
            if None in row or None in row.values():
                raise BadData("%s:%d: expected a cell a column" % (path, reader.line_num))
            try:
                yield {key: value if key in ("class", "instance", "kind") else int(value) if value else None
                       for key, value in row.items()}
            except ValueError as error:
                raise BadData("%s:%d: %s" % (path, reader.line_num, error)) from error


def read(folder):
    """All instances in FOLDER, as {class: [Instance, ...]}, in the order of the files."""
    groups = {}
    for path in sorted(glob.glob(os.path.join(folder, "*.csv"))):
        name = os.path.basename(path)
        if name == SEVERAL:
            continue
        known = {}
        for row in _rows(path, COLUMNS):
            instance = known.setdefault(row["instance"], Instance(name[:-4], row["instance"], row["optimum"],
                                                                  [(row["capacity"], None, None)]))
            instance.pieces.append((row["length"], row["quantity"]))
        groups[name[:-4]] = list(known.values())
    path = os.path.join(folder, SEVERAL)
    if os.path.exists(path):
        for row in _rows(path, SEVERAL_COLUMNS):
            known = groups.setdefault(row["class"], {})
            instance = known.setdefault(row["instance"], Instance(row["class"], row["instance"], row["optimum"]))
            if row["kind"] == "stock":
                instance.stock.append((row["length"], row["cost"], row["quantity"]))
            else:
                instance.pieces.append((row["length"], row["quantity"]))
    return {group: list(known.values()) if isinstance(known, dict) else known for group, known in groups.items()}


def write(instance, folder):
    """The instance's stock.csv and extras.csv in FOLDER; the command line that goes with them."""
    taken = set()
    with open(os.path.join(folder, "stock.csv"), "w", newline="", encoding="utf-8") as file:
        writer = csv.writer(file)
        writer.writerow(["section", "length", "price", "limit"])
        for length, cost, limit in instance.stock:
            # A length stands but once in a stock file.  One that comes at several costs is told apart by a
            # millimetre, in which no more whole centimetres fit.
            millimetres = 10 * length
            while millimetres in taken:
                millimetres += 1
            taken.add(millimetres)
            writer.writerow(["bar", "%dmm" % millimetres, "" if cost is None else cost,
                             "" if limit is None else limit])
    with open(os.path.join(folder, "extras.csv"), "w", newline="", encoding="utf-8") as file:
        writer = csv.writer(file)
        writer.writerow(["label", "section", "length", "quantity"])
        for number, (length, quantity) in enumerate(instance.pieces, 1):
            writer.writerow(["piece %d" % number, "bar", "%dcm" % length, quantity])
    return ["--stock", "stock.csv", "--extras", "extras.csv", "--kerf", "0", "--end-trim", "0"]


def sample(instances, count):
    """COUNT of them, evenly out of the list; all where COUNT is 0."""
    if not count or count >= len(instances):
        return instances
    return [instances[(2 * k + 1) * len(instances) // (2 * count)] for k in range(count)]


def main():
    source, name, folder = sys.argv[1:]
    found = [instance for group in read(source).values() for instance in group if instance.name == name]
    if not found:
        raise SystemExit("instances.py: no instance is called \"%s\"" % name)
    os.makedirs(folder, exist_ok=True)
    print(" ".join(write(found[0], folder)))
    print("optimum: %d %s" % (found[0].optimum, "boards" if found[0].stock[0][1] is None else "of cost"))


if __name__ == "__main__":
    main()
