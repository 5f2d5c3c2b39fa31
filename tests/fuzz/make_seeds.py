"""make_seeds.py - the first inputs of the fuzz targets, out of the samples and the test data
SPDX-License-Identifier: GPL-3.0-or-later

make_seeds.py FOLDER makes FOLDER/compare, FOLDER/csv, FOLDER/length, FOLDER/job, FOLDER/plan and FOLDER/sheet.  Needs
SPANWRIGHT, the program, for the plans that are read back.
"""
import os
import re
import subprocess
import sys
import tempfile

TOP = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
KINDS = (("spans", "s"), ("levels", "l"), ("stock", "t"), ("sections", "c"), ("extras", "x"), ("settings", "e"))
PLAN = (("order", "o"), ("cuts", "u"), ("fit", "f"), ("setout", "a"))
LARGEST = 16000  # longer inputs only slow a fuzzer down
# What the two manuals show of lengths, and what lies at the limits.
LENGTHS = ("2400", "2400mm", "2.4m", "240cm", "7' 10 1/2\"", "94.5in", "8ft", "8ft 6in", "3/4in", "-25", "4,8", ".5m",
           "100000m", "100000.000000001m", "9223372036854775807", "0.000000000000000001", "20.88", "1000000000",
           "1000000000.000001", "4.8,5.4", "2′ 3″", "“", "1e9", "0x10", "+3", "  7 mm", "19.75 %", "2.4 m")
# Before the files of a job that is compared: a choice a line.
CHOICES = (b"", b"4.8\n5.4\n4.8,5.4\n", b"4.8;90x45=5.4\n16ft\n", b"5.4m\n 3,4.8 \n9\n;\n")
# Small jobs that reach what the samples do not.
JOBS = (
    {"spans": "run,span\na,2400\na,2400\na,2400\n"},
    {"spans": "run;span;start;finish\na;2,4m;mitre 120;housed 20\n", "levels": "level;section;runs;gap\np;r;between;4\n"},
    {"spans": "run,span,rise,join,opening\na,2400,300,,\na,2400,300,never,\na,900,,,yes\na,2400,,always,\n",
     "stock": "section,length,price,per,limit,hand\nrail,4.8,6.1,metre,,2\nrail,5.4,7,metre,3,\n"},
    {"extras": "label,section,length,quantity\nbrace,a,700.001,3\nprop,a,1250.5,7\n", "stock": "section,length\na,3\n"},
    {"extras": "label,section,length\nbrace,a,700\n", "stock": "section,length,hand,limit\na,0.7,1,0\n"},
    {"spans": "run,span\na,2400\nb,2300\nb,2500\n", "stock": "section,length,price\nrail,4.8,20\nrail,5.4,23\n",
     "settings": "key,value\nstagger,require\nkerf,0\nend-trim,25\njoin-cost,2.5\ninches,yes\nmeasured,clear\nmax-piece,4.9m\ntax,10\njob,x\npicket,1800\n"},
    {"spans": "run,span,step,rise,opening,start,finish\na,2400,200,300,,mitre 60,\na,2400,-500,,,,\na,900,,,yes,,\n"
     "a,2400,,-200,,,mitre 270\nb,1200,,700,,mitre 270,\nb,1200,,-900,,,mitre 30\n",
     "levels": "level,section,runs,height,seat,only\np,r,between,0,,\nq,r,,250,let in 20,a\ns,r,,700,face,\n"
     "t,c,,1200,top,\n", "sections": "section,width,thickness\nr,75,38\nc,100,25\n"},
    {"spans": "run,span,step\na,2400,25\na,2400,25\nb,2400,\nc,2400,\nc,2400,-25\n",
     "levels": "level,section,height,only,seat\nq,r,1,a; b,top\ns,r,400,c;a,\n", "sections":
     "section,width,thickness\nr,75,38\n", "settings": "key,value\nround,0\nturn,off\npost-depth,30\ninches,yes\n"},
)


def read(path):
    with open(path, "rb") as file:
        return file.read()


def folders():
    """Every folder with inputs of a job: samples, and good and bad test data."""
    for place in ("samples", os.path.join("tests", "data")):
        for name in sorted(os.listdir(os.path.join(TOP, place))):
            path = os.path.join(TOP, place, name)
            if os.path.isdir(path):
                yield name, path


def joined(files, kinds):
    return b"".join(b"\x1e" + letter.encode() + files[name] for name, letter in kinds if name in files)


def write(folder, name, content):
    if len(content) > LARGEST:
        return
    os.makedirs(folder, exist_ok=True)
    with open(os.path.join(folder, name), "wb") as file:
        file.write(content)


def jobs():
    """Name and files of each job."""
    for name, path in folders():
        files = {kind: read(os.path.join(path, kind + ".csv")) for kind, _ in KINDS
                 if os.path.exists(os.path.join(path, kind + ".csv"))}
        if files:
            yield name, files
    for number, texts in enumerate(JOBS):
        yield f"small-{number}", {kind: text.encode() for kind, text in texts.items()}


def plan_of(files):
    """The plan's tables for a job, {} when there is no plan."""
    with tempfile.TemporaryDirectory() as folder:
        words = [os.environ["SPANWRIGHT"], "plan", "--time-limit", "1", "-o", os.path.join(folder, "plan")]
        for kind, content in files.items():
            path = os.path.join(folder, kind + ".csv")
            with open(path, "wb") as file:
                file.write(content)
            words += [path] if kind == "spans" else ["--" + kind, path]
        subprocess.run(words, check=False, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        tables = {kind: os.path.join(folder, "plan", kind + ".csv") for kind, _ in PLAN}
        return {kind: read(path) for kind, path in tables.items() if os.path.exists(path)}


def main(target):
    plans = 0
    for name, files in jobs():
        for kind in "job", "sheet":
            write(os.path.join(target, kind), name, joined(files, KINDS))
        for number, choices in enumerate(CHOICES):
            write(os.path.join(target, "compare"), f"{name}-{number}", choices + joined(files, KINDS))
        for kind, content in files.items():
            write(os.path.join(target, "csv"), f"{name}-{kind}", content)
        tables = plan_of(files)
        plans += bool(tables)
        write(os.path.join(target, "plan"), name, joined({**files, **tables}, KINDS + PLAN))
    for number, text in enumerate(LENGTHS):
        for mode in range(8):
            write(os.path.join(target, "length"), f"{number}-{mode}", bytes([mode + 48]) + text.encode())
    with open(os.path.join(TOP, "tests", "base", "check_length.c"), encoding="utf-8") as file:
        for number, text in enumerate(sorted(set(re.findall(r'"([-+0-9. /\'a-z]{2,20})"', file.read())))):
            write(os.path.join(target, "length"), f"check-{number}", b"0" + text.encode())
    return 0 if plans > 5 else f"only {plans} of the jobs could be planned"


if __name__ == "__main__":
    sys.exit(main(sys.argv[1]))
