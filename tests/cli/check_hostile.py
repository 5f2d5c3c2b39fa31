"""check_hostile.py - inputs that are far too large: refused, or planned, in bounded memory
SPDX-License-Identifier: GPL-3.0-or-later

Without HOSTILE=full in the environment ("make check-hostile") the same with less.  The files are written when it
runs, piece by piece.  That the program ends is asserted by terminal.HANGS alone.
"""
import os
import resource
import sys
import tempfile
import time

from terminal import run, run_tests

FULL = os.environ.get("HOSTILE") == "full"
MEMORY = (4 << 30) if FULL else (1 << 30)  # bytes of address space
PIECES = 2000000  # the most that a job may come to


def can_limit():
    """Sanitizers want all the address space there is."""
    return run("--version", preexec_fn=limit).returncode == 0


def limit():
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))


class Folder:
    """A folder of huge files."""

    def __enter__(self):
        self.holder = tempfile.TemporaryDirectory()
        self.path = self.holder.name
        return self

    def __exit__(self, *_):
        self.holder.cleanup()

    def write(self, name, *pieces):
        """Bytes, or (bytes, how often), or what yields text lines."""
        path = os.path.join(self.path, name)
        with open(path, "wb", buffering=1 << 20) as file:
            for piece in pieces:
                if isinstance(piece, bytes):
                    file.write(piece)
                elif isinstance(piece, tuple):
                    text, times = piece
                    block = text * max(1, min(times, (1 << 20) // len(text)))
                    for _ in range(times * len(text) // len(block)):
                        file.write(block)
                    file.write(text * (times - times * len(text) // len(block) * (len(block) // len(text))))
                else:
                    file.writelines(line.encode() + b"\n" for line in piece)
        return path


LIMITED = can_limit()


def plan(*words, status, says=None):
    began = time.monotonic()
    done = run("plan", *words, "--csv", "order", preexec_fn=limit if LIMITED else None)
    if FULL:
        spent = resource.getrusage(resource.RUSAGE_CHILDREN)
        print(f"  {time.monotonic() - began:.1f} s, status {done.returncode}, at most {spent.ru_maxrss >> 10} MiB so "
              f"far: {done.stderr[:150]}")
    wanted = status if isinstance(status, tuple) else (status,)
    assert done.returncode in wanted, (words, done.returncode, done.stderr[:500])
    assert len(done.stderr) < 20000, len(done.stderr)
    if says is not None:
        assert says.encode() in done.stderr, done.stderr[:500]
    assert done.returncode == 0 or done.stdout == b""
    return done


def planned_in_time(*words, full="10", light="1"):
    """With a limit of time: a plan, or on a busy machine none yet, but an end."""
    done = plan(*words, "--time-limit", full if FULL else light, status=(0, 4))
    assert done.returncode == 0 or b"the time limit came before any plan was found" in done.stderr, done.stderr[:500]


def refused(*words, says):
    assert plan(*words, status=1, says=says).stderr.startswith((b"error: ", b"warning: ", b"note: "))


STOCK = b"section,length\nrail,4.8\nrail,5.4\n"
SPANS = b"run,span\na,2400\na,2400\na,2400\na,2400\n"


def test_a_gigabyte():
    with Folder() as folder:
        path = os.path.join(folder.path, "sparse.csv")
        with open(path, "wb") as file:
            file.truncate(1 << 30)  # takes no room
        refused(path, says="a file of more than 256 MiB; expected a CSV file of at most that")
        if FULL:
            refused(folder.write("commas.csv", (b",", 1 << 30)), says="a file of more than 256 MiB")


def test_commas():
    count = 255 << 20 if FULL else 1 << 20
    with Folder() as folder:
        # Header cells that a spreadsheet left empty at the end are no columns; one that is named after them is.
        refused(folder.write("a.csv", b"x", (b",", count)), says="expected a column \"run\"")
        refused(folder.write("f.csv", b"x", (b",", count), b"y"), says=f"{count + 1} columns; expected at most 256")
        refused(folder.write("d.csv", (b",", count)), says="the file is empty; expected a header row")
        refused(folder.write("b.csv", b"run,span\n", (b",", count)), says=f"a row of {count + 1} cells; expected 2")
        refused(folder.write("c.csv", b"run,span\n", (b",,\n", count // 3)), says=" more faults" if not FULL else "")
        refused(folder.write("e.csv", b"run,span\n", (b",\n", count // 2)), says="expected at least one bay")


def test_blank_lines_and_nothing():
    count = 250 << 20 if FULL else 1 << 20
    with Folder() as folder:
        refused(folder.write("a.csv", (b"\n", count)), says="the file is empty; expected a header row")
        refused(folder.write("b.csv", (b"\0", count)), says="a cell of more than 65536 bytes")
        refused(folder.write("c.csv", (b" ", count)), says="the file is empty")
        plan(folder.write("d.csv", SPANS, (b"\r\n", count // 2)), status=0)


def test_a_long_cell():
    count = 100 << 20 if FULL else 300 << 10
    with Folder() as folder:
        for name, before, text, after in (("a", b"run,span\na,", b"9", b"\n"), ("b", b'run,span\na,"', b"x", b'"\n'),
                                          ("c", b'run,span\na,"', b'""', b'"\n'), ("d", b'run,span\na,"', b"x", b""),
                                          ("e", b'run,span\na,"', b"\n", b'"\n'), ("f", b"run,", b"x", b"\n"),
                                          ("h", b'"', b"x", b'"\n')):
            done = plan(folder.write(name + ".csv", before, (text, count), after), status=1)
            assert b"65536" in done.stderr or (after == b"" and b"never closed" in done.stderr), done.stderr


def test_a_long_line():
    # 10 MB in cells that are small enough each.
    cells = (10 << 20) // 60000 if FULL else 20
    columns = cells if FULL else 20
    with Folder() as folder:
        header = ",".join(["run", "span"] + [f"c{i}" for i in range(columns - 2)])
        row = ",".join(["a", "2400"] + ["x" * 60000] * (columns - 2))
        path = folder.write("a.csv", [header, row, row])
        assert plan(path, status=0).stderr.count(b"is not known and is ignored") == columns - 2
        refused(folder.write("b.csv", [header, row + ",x"]), says=f"a row of {columns + 1} cells")


def test_names_too_long():
    with Folder() as folder:
        name = "x" * 60000
        refused(folder.write("a.csv", ["run,span", f"{name},2400"]), says="of at most 255 bytes")
        refused(folder.write("b.csv", [f"run,{name}", "a,2400"]), says='expected a column "span"')
        refused(folder.write("c.csv", [f"run,span,{name},{name}", "a,2400,,"]), says="stands twice")


def test_many_faults():
    rows = 4000000 if FULL else 20000
    with Folder() as folder:
        done = plan(folder.write("a.csv", b"run,span\n", (b"a,wide\n", rows)), status=1)
        assert done.stderr.count(b"\n") == 21 and f"and {rows - 20} more faults".encode() in done.stderr, done.stderr
        done = plan(folder.write("b.csv", b"run,span\n", (b"a\n", rows)), status=1)
        assert done.stderr.count(b"\n") == 21, done.stderr


def test_too_many_rows():
    if not FULL:
        return
    with Folder() as folder:
        refused(folder.write("a.csv", b"run,span\n", (b"a,2400\n", (4 << 20) + 1)), says="too many rows; expected at most")


def test_runs():
    runs = 10**6 if FULL else 3000
    with Folder() as folder:
        path = folder.write("a.csv", ["run,span"], (f"r{i},{2300 + i % 100}" for i in range(runs)))
        planned_in_time(path)
        if FULL:
            path = folder.write("b.csv", ["run,span"], (f"r{i},2400" for i in range(1500000)))
            refused(path, says="expected a job of at most 2000000 pieces")


def test_spans_of_one_run():
    spans = 10**6 if FULL else 10**5
    with Folder() as folder:
        refused(folder.write("a.csv", b"run,span\n", (b"a,2400\n", spans)), says="expected a run of at most 100 km")
        spans = 40000 if FULL else 1000
        planned_in_time(folder.write("b.csv", b"run,span\n", (b"a,2400\n", spans)))
        # Bays so short that a piece may go nearly anywhere.
        short = b"run,span,post_width,near_post_width\na,50,10,10\n"
        spans = 900000 if FULL else 6000
        refused(folder.write("c.csv", short, (b"a,50,10,\n", spans)), "--stock-length", "12m",
                says="more than 2000000 possible pieces")


def test_levels():
    levels = 10**5 if FULL else 1001
    with Folder() as folder:
        spans = folder.write("spans.csv", SPANS)
        path = folder.write("a.csv", ["level,section"], (f"l{i},rail" for i in range(levels)))
        refused(spans, "--levels", path, says=f"a.csv:1002: level: expected at most 1000 levels, found {levels}")
        path = folder.write("b.csv", ["level,section"], (f"l{i},rail" for i in range(1000 if FULL else 100)))
        planned_in_time(spans, "--levels", path)


def test_quantities():
    with Folder() as folder:
        stock = folder.write("stock.csv", STOCK)
        for number, says in (("1000000000", "may come to 1000000000; plan it in parts"),
                             ("1000000001", "expected a whole number from 1 to 1000000000"),
                             ("9223372036854775807", "expected a whole number"), ("99999999999999999999999", "expected"),
                             ("0", "expected a whole number"), ("-1", "expected a whole number"), ("1e3", "expected")):
            path = folder.write("a.csv", [f"label,section,length,quantity", f"x,rail,700,{number}"])
            refused("--extras", path, "--stock", stock, says=says)
        path = folder.write("b.csv", ["label,section,length,quantity"],
                            (f"x{i},rail,{700 + i},1000000000" for i in range(9)))
        refused("--extras", path, "--stock", stock, says="may come to 9000000000")
        path = folder.write("c.csv", ["label,section,length,quantity", f"x,rail,700,{PIECES if FULL else 50000}"])
        planned_in_time("--extras", path, "--stock", stock)
        path = folder.write("d.csv", ["label,section,length"], (f"x{i},rail,700" for i in range(10**6 if FULL else 5000)))
        planned_in_time("--extras", path, "--stock", stock)
        spans = folder.write("spans.csv", SPANS)
        path = folder.write("e.csv", ["section,spare", "rail,1000000"])
        assert b",1000000," in plan(spans, "--sections", path, status=0).stdout
        path = folder.write("f.csv", ["level,section,blocks,block_length", "low,rail,1000,10", "top,rail,1001,10"])
        refused(spans, "--levels", path, says="f.csv:3: blocks: expected a whole number from 0 to 1000")


def planned(*words, full="10", light="1"):
    """With a limit of time, and a plan in any case."""
    plan(*words, "--time-limit", full if FULL else light, status=0)


def test_lengths_that_are_all_different():
    with Folder() as folder:
        stock = folder.write("stock.csv", STOCK)
        pieces = 10**5 if FULL else 5000
        path = folder.write("a.csv", ["label,section,length"],
                            (f"x{i},rail,{700 + i * 0.013:.3f}" for i in range(pieces)))
        planned("--extras", path, "--stock", stock)


def test_pieces_of_a_hair():
    # Millions of copies on a board: what is kept for each is out of the question.
    with Folder() as folder:
        stock = folder.write("stock.csv", STOCK)
        path = folder.write("a.csv", ["label,section,length,quantity", "x,rail,0.001,1000000", "y,rail,0.002,900000"])
        planned("--extras", path, "--stock", stock, "--kerf", "0")


def test_pieces_that_may_begin_nearly_anywhere():
    with Folder() as folder:
        bays = 10000 if FULL else 1500
        path = folder.write("a.csv", b"run,span,post_width,near_post_width\na,50,10,10\n", (b"a,50,10,\n", bays))
        planned(path, "--stock-length", "4.8")
        bays, rails = (1000, "64") if FULL else (100, "20")
        path = folder.write("b.csv", ["run,span"], (f"a,{590 + i % 37}" for i in range(bays)))
        planned(path, "--rails", rails, "--stock-length", "12m")


def test_runs_of_many_layouts():
    # Each run by itself takes a second to lay out exactly.
    with Folder() as folder:
        runs = 300 if FULL else 12
        path = folder.write("a.csv", ["run,span"],
                            (f"r{r},{560 + i * r % 40}" for r in range(runs) for i in range(80)))
        planned(path, "--rails", "4", "--stock-length", "5.4")


def test_stock_rows():
    rows = 10**6 if FULL else 5000
    with Folder() as folder:
        spans = folder.write("spans.csv", SPANS)
        path = folder.write("a.csv", ["section,length"], (f"rail,{4000 + i / 10:.1f}mm" for i in range(rows)))
        planned_in_time(spans, "--stock", path)
        path = folder.write("b.csv", ["section,length"], (f"rail {i},4.8" for i in range(rows)))
        refused(spans, "--stock", path, says='expected the section "rail"')
        path = folder.write("c.csv", ["section,length"], ("rail,4.8" for i in range(rows)))
        refused(spans, "--stock", path, says=f"and {rows - 21} more faults")


def test_choices():
    rows = 10**6 if FULL else 3000
    with Folder() as folder:
        spans = folder.write("spans.csv", SPANS)
        for count, sections in ((rows, 1), (40, rows // 40)):
            path = folder.write("a.csv", ["section,length"], (f"rail{i // count or ''},{4000 + i % count / 10:.1f}mm"
                                                               for i in range(count * sections)))
            done = run("compare", spans, "--stock", path, "--csv", "--time-limit", "5",
                       preexec_fn=limit if LIMITED else None)
            refused = (count + 1) * (count * sections + 1) > 1 << 20
            assert done.returncode in ((2,) if refused else (0, 4)), (count, done.returncode, done.stderr[:500])
            assert not refused or b"too many to put side by side" in done.stderr, done.stderr[:500]


# ---- As large as is allowed: nothing may overflow ------------------------------


def test_extremes():
    with Folder() as folder:
        spans = folder.write("spans.csv", SPANS)
        for stock, status, says in (("rail,100000m,1000000000", 0, None), ("rail,100000.000000001m,1", 1, "length"),
                                    ("rail,5,1000000000.000001", 1, "price"), ("rail,5,1000000000", 0, None),
                                    ("rail,9223372036854775807,1", 1, "length"), ("rail,5,0.000001", 0, None),
                                    ("rail,9.3e18,1", 1, "length"), ("rail,5,-1", 1, "price")):
            path = folder.write("a.csv", ["section,length,price", stock])
            plan(spans, "--stock", path, status=status, says=says)
        # Price by the metre times a length: over the limit.
        path = folder.write("b.csv", ["section,length,price,per", "rail,100000m,1000000000,metre"])
        refused(spans, "--stock", path, says="a price that makes one length cost at most 1000000000")
        # Quantity times price, quantity times length.
        stock = folder.write("c.csv", ["section,length,price", "rail,1m,1000000000"])
        for number, status in (("1000", 0), ("2000", 1), ("2000000", 1)):
            path = folder.write("d.csv", ["label,section,length,quantity", f"x,rail,600,{number}"])
            plan("--extras", path, "--stock", stock, status=status, says="prices can be added up" if status else None)
        stock = folder.write("e.csv", ["section,length", "rail,100000m"])
        for number, status in (("1000", 0), ("20000", 1), ("2000000", 1)):
            path = folder.write("f.csv", ["label,section,length,quantity", f"x,rail,100000m,{number}"])
            plan("--extras", path, "--stock", stock, status=status, says="lengths can be added up" if status else None)
        # Spare lengths count too.
        spare = folder.write("g.csv", ["section,spare", "rail,1000000"])
        refused(spans, "--stock", stock, "--sections", spare, says="lengths can be added up")


def test_extreme_heights():
    with Folder() as folder:
        # Gates need no timber, so that their heights alone could add up to anything.
        path = folder.write("a.csv", ["run,span,rise,opening", "a,2400,,"],
                            ("a,1000,100000m,yes" for _ in range(95000)))
        refused(path, says="a.csv:3: rise: expected a rise of at most 2000 mm")
        plan(folder.write("b.csv", ["run,span,rise,opening", "a,2400,,", "a,99999m,100000m,yes"]), status=1)
        plan(folder.write("c.csv", ["run,span,rise,opening", "a,2400,,", "a,49999m,99998m,yes"]), status=0)
        plan(folder.write("d.csv", ["run,span,rise", "a,49999m,99998m"]), status=3)
        for words in (["--kerf", "100000m"], ["--end-trim", "100000m"], ["--post-width", "100000m"],
                      ["--bow", "100000m"], ["--keep", "100000m"], ["--min-bearing", "100000m"],
                      ["--picket", "100000m"], ["--max-piece", "0.000000001m"], ["--join-cost", "1000000000"],
                      ["--tax", "100"], ["--time-limit", "9223372036854775807"], ["--rails", "64"]):
            plan(folder.write("spans.csv", SPANS), *words, status=(0, 1, 2, 3))


if __name__ == "__main__":
    if not LIMITED:
        print("not here: a limit of memory (sanitizers want all of it)")
    sys.exit(run_tests(globals()))
