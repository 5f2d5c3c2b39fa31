"""check_tipping.py - the tipping prices that compare tells, against the reference on either side of each
SPDX-License-Identifier: GPL-3.0-or-later

    python3 check_tipping.py PROGRAM [COUNT [SEED]]

Random fences of one section, prices by the metre. A price is told to four decimals; a thousandth below it the first
choice must be the cheaper by the general-purpose solver's optima, a thousandth above it must not.
"""
import csv
import io
import os
import random
import re
import subprocess
import sys
import tempfile

import fence_job
import fence_model

LENGTHS = ("3.6", "4.8", "5.4", "6.0")
HAIR = 0.001
HANG_SECONDS = 300
TOLD = re.compile(r"(\S+) (?:is|would be) cheaper than (\S+) (?:until|if) ([0-9.]+) m cost(?:s| less than) ([0-9.]+) "
                  r"a metre")


def write_stock(folder, prices):
    with open(os.path.join(folder, "stock.csv"), "w", encoding="utf-8") as file:
        file.write("section,length,price,per\n")
        file.writelines("rail,%s,%.6f,metre\n" % (length, price) for length, price in prices.items())


def make(chance, folder):
    """A fence and the prices of its stock; the words of its command line."""
    usual = chance.randrange(1600, 2500, 10)
    with open(os.path.join(folder, "spans.csv"), "w", encoding="utf-8") as file:
        file.write("run,span\n")
        file.writelines("a,%d\n" % (usual + chance.choice((0, 0, -10, 15, -320))) for _ in range(chance.randint(3, 9)))
    lengths = sorted(chance.sample(LENGTHS[1:], 2) + ([LENGTHS[0]] if chance.random() < 0.3 else []))
    prices = {length: chance.randrange(480, 600) / 100 for length in lengths}
    write_stock(folder, prices)
    words = ["spans.csv", "--stock", "stock.csv", "--rails", str(chance.randint(1, 3))]
    if chance.random() < 0.3:
        words += ["--join-cost", "%.2f" % (chance.randrange(1, 400) / 100)]
    if chance.random() < 0.3:
        words += ["--stagger", "off"]
    return words, prices


def least(words, folder, prices, choice):
    """The reference's least cost of CHOICE; the reference reads its own copy of the stock."""
    write_stock(folder, {length: prices[length] for length in choice.split(",")})
    return fence_model.optimum(fence_job.read_job(words, folder)).cost


def one_fence(program, chance, folder):
    """(tipping prices that hold, what is wrong)"""
    words, prices = make(chance, folder)
    done = subprocess.run([program, "compare", *words, "--csv"], cwd=folder, stdout=subprocess.PIPE,
                          stderr=subprocess.PIPE, timeout=HANG_SECONDS, check=False)
    if done.returncode == 3:
        return 0, []
    if done.returncode != 0:
        return 0, ["exit status %d: %s" % (done.returncode, done.stderr.decode(errors="replace"))]
    held, faults = 0, []
    for row in csv.DictReader(io.StringIO(done.stdout.decode(), newline="")):
        if row["possible"] == "yes" and round(float(row["price"]) * 1e6) != least(words, folder, prices, row["choice"]):
            faults.append("%s costs %s, not what the reference has" % (row["choice"], row["price"]))
        for first, second, length, price in TOLD.findall(row["note"]):
            other = least(words, folder, prices, second)
            below = least(words, folder, {**prices, length: float(price) - HAIR}, first)
            above = least(words, folder, {**prices, length: float(price) + HAIR}, first)
            if below < other <= above:
                held += 1
            else:
                faults.append("%s against %s at %s: %d below, %d above, %d the other"
                              % (first, second, price, below, above, other))
    return held, faults


def main():
    program = os.path.abspath(sys.argv[1])
    count = int(sys.argv[2]) if len(sys.argv) > 2 else 20
    chance = random.Random(int(sys.argv[3]) if len(sys.argv) > 3 else 1)
    held = failed = 0
    for fence in range(count):
        with tempfile.TemporaryDirectory() as folder:
            try:
                good, faults = one_fence(program, chance, folder)
            except fence_model.TooLarge:
                continue
        held += good
        failed += len(faults)
        for fault in faults:
            print("fence %d: %s" % (fence, fault), flush=True)
    print("%d tipping prices hold, %d faults" % (held, failed))
    # A comparison that hardly compares must not pass.
    sys.exit(1 if failed or held * 2 < count else 0)


if __name__ == "__main__":
    main()
