# worked_values.py - lengths, angles and plans that follow by hand from the rules of the trade
# SPDX-License-Identifier: GPL-3.0-or-later
"""faults(): the reference's readings that differ from values worked by hand.

The lengths in tenths of a millimetre are those that the description of the
job gives beside its rules.
"""

import os
import tempfile
from fractions import Fraction

import fence_geometry
import fence_job
import fence_model
import fence_setout
import write_plan
from fence_job import INCH, MM

ONE_RAIL = ("--rails", "1", "--stock-length")
# Rails 90 x 38 and a capping 100 x 25 for the corners, a plinth 150 x 25 for the slope.
SECTIONS = "section,width,thickness\nrail,90,38\ncap,100,25\nplinth,150,25\n"


class Faults(list):
    def expect(self, what, found, right):
        if found != right:
            self.append("%s: %s, by hand %s" % (what, found, right))

    def tenths(self, what, found, right):
        """FOUND nanometres are RIGHT millimetres to the tenth."""
        if abs(Fraction(found, MM) - Fraction(right)) > Fraction(1, 20):
            self.append("%s: %.4f, by hand %s" % (what, found / MM, right))


def job_of(spans, *arguments, levels="", sections=SECTIONS, stock=""):
    """The job of files that are given as text."""
    with tempfile.TemporaryDirectory() as folder:
        words = list(arguments)
        for name, text in (("spans", spans), ("levels", levels), ("sections", sections), ("stock", stock)):
            if text:
                with open(os.path.join(folder, name + ".csv"), "w", encoding="utf-8") as file:
                    file.write(text)
                words += [name + ".csv"] if name == "spans" else ["--" + name, name + ".csv"]
        return fence_job.read_job(words, folder)


def plan_of(spans, *arguments, **files):
    return fence_model.optimum(job_of(spans, *arguments, **files))


def cuts_of(spans, *arguments, **files):
    """Rows of cuts.csv of its plan."""
    with tempfile.TemporaryDirectory() as folder:
        write_plan.write(job_of(spans, *arguments, **files), folder)
        return fence_job.rows(os.path.join(folder, "cuts.csv"))


def first_piece(spans, *arguments, levels="", last=1):
    """The piece of the first level from the first post to post LAST, counted from 0."""
    job = job_of(spans, *arguments, levels=levels)
    return job.piece(job.runs[0], job.levels[0], 0, last)


def corners(faults):
    """100 mm post, 38 thick, let in flush; cappings 100 wide on top; nailed on the face; let in 12 of 38."""
    values = (
        # seat, section, angle, long point past the centre, back to the short point, saw, face of the long point
        ("let in", "rail", 60, 86.6, 65.8, 60, "outer"),
        ("let in", "rail", 90, 50, 38, 45, "outer"),
        ("let in", "rail", 120, 28.9, 21.9, 30, "outer"),
        ("let in", "rail", 135, 20.7, 15.7, 22.5, "outer"),
        ("let in", "rail", 270, -12, 38, 45, "inner"),
        ("top", "cap", 90, 50, 100, 45, "outer"),
        ("top", "cap", 135, 20.7, 41.4, 22.5, "outer"),
        # By the same rule: flat timber meets on an inside corner as far out; 50 + 38 and 50; 50 + 38 - 12 and 50 - 12.
        ("top", "cap", 270, 50, 100, 45, "inner"),
        ("face", "rail", 90, 88, 38, 45, "outer"),
        ("face", "rail", 270, -50, 38, 45, "inner"),
        ("let in 12", "rail", 90, 76, 38, 45, "outer"),
        ("let in 12", "rail", 270, -38, 38, 45, "inner"),
    )
    for seat, section, angle, reach, back, saw, side in values:
        what = "mitre %d, %s" % (angle, seat)
        job = job_of("run,span,start\na,2000,mitre %d\n" % angle, "--round", "0",
                     levels="level,section,seat\nlow,%s,%s\n" % (section, seat))
        run, level = job.runs[0], job.levels[0]
        corner = job.corner(level, run.bays[0].start, run.posts[0])
        faults.tenths(what + ": long point", corner.reach, reach)
        faults.tenths(what + ": short point", corner.back, back)
        faults.expect(what + ": saw", (corner.saw, corner.long_point), (Fraction(saw), side))
        faults.tenths(what + ": piece", job.piece(run, level, 0, 1).cut, 2000 + 50 + reach)
    # A post deeper than it is wide moves the corner, not the flush end: 60 and 60 - 38.
    for angle, reach in ((90, 60), (270, -22)):
        cut = first_piece("run,span,start\na,2000,mitre %d\n" % angle, "--post-depth", "120").cut
        faults.tenths("mitre %d, post 120 deep" % angle, cut, 2000 + 50 + reach)
    for start, finish, words in (("mitre 90", "mitre 120", "outer"), ("mitre 270", "flush", "inner"),
                                 ("mitre 90", "mitre 270", "outer inner"), ("flush", "face", "")):
        piece = first_piece("run,span,start,finish\na,2000,%s,%s\n" % (start, finish))
        faults.expect("long points of %s, %s" % (start, finish), piece.long_point(), words)
    # On top of the posts neither a face nor a housing stops timber.
    for end in ("face", "housed 25", "flush"):
        piece = first_piece("run,span,start,finish\na,2000,%s,%s\n" % (end, end),
                            levels="level,section,seat\ncap,cap,top\n")
        faults.expect("%s on top" % end, (piece.cut, piece.ends), (2100 * MM, (("flush", None), ("flush", None))))


def slopes(faults):
    for span, rise, tenths in ((2400, 500, 2451.5), (2400, 250, 2413.0), (3000, 600, 3059.4)):
        for sign in (1, -1):
            piece = first_piece("run,span,start,finish,rise\na,%d,centre,centre,%d\n" % (span, sign * rise), "--round",
                                "0")
            faults.tenths("slope %d in %d" % (rise, span), piece.cut, tenths)
    # 150 wide at 600 in 2400 (14.0 degrees): 37.5 more.
    faults.tenths("triangle", fence_geometry.triangle(150 * MM, 2400 * MM, -600 * MM), 37.5)
    faults.expect("plumb", round(fence_geometry.plumb_degrees(2400 * MM, 600 * MM), 3), 14.036)
    faults.expect("plumb of a level piece", fence_geometry.plumb_degrees(2400 * MM, 0), None)
    # A plinth between posts, 2300 clear at that slope: 2370.8 along the edge, 2408.3 of board.
    plinth = "level,section,runs,gap\nlow,plinth,between,%s\n"
    spans = "run,span,rise\na,2400,600\n"
    piece = first_piece(spans, "--round", "0", "--kerf", "0", levels=plinth % 0)
    faults.tenths("plinth: cut", piece.cut, 2370.8)
    faults.tenths("plinth: take", piece.take, 2408.3)
    # Between posts down: 2370.8 - 4 is 2366.8, in whole millimetres 2366, and 37.5 and 3 / cos 14.04 - 3 more.
    piece = first_piece(spans, levels=plinth % 4)
    faults.expect("plinth with a gap, whole", piece.cut, 2366 * MM)
    faults.tenths("plinth with a gap, take", piece.take, 2366 + 37.5 + 0.0923)
    # Two bays of which only one rises: tan = 600 / 4800, half the triangle.
    two = first_piece("run,span,rise\na,2400,600\na,2400,0\n", "--round", "0", "--kerf", "0", last=2)
    faults.tenths("triangle over two bays", two.take - two.cut, 90 * 600 / 4800)
    there_and_back = first_piece("run,span,rise\na,2400,3\na,2400,-3\n", last=2)
    faults.expect("up and down again", there_and_back.take, there_and_back.cut)


def kerfs(faults):
    """3 mm at 45 degrees is 4.24, at 22.5 it is 3.25."""
    for angle, hundredths in ((90, 424), (135, 325)):
        for start, finish, more in (("flush", "mitre %d" % angle, hundredths - 300), ("mitre %d" % angle, "flush", 0)):
            piece = first_piece("run,span,start,finish\na,2000,%s,%s\n" % (start, finish))
            took = fence_geometry.round_half_away(Fraction((piece.take - piece.cut) * 100, MM))
            faults.expect("kerf of %s to %s" % (start, finish), took, more)
    # The steeper of mitre and slope: 36.9 degrees (3 / 0.8) of 900 in 1200 against 22.5, and against 45.
    for angle, size in ((135, 3 / 0.8), (90, 3 * 2**0.5)):
        piece = first_piece("run,span,finish,rise\na,1200,mitre %d,900\n" % angle, "--round", "0")
        faults.tenths("kerf of mitre %d on a slope" % angle, piece.take - piece.cut, 90 * 0.75 + size - 3)
    # A mitre at both ends: 2400 + 2 x 50, and 2 x 1.24 more for two such pieces: 5 x 1.24 decide over a board.
    both = "run,span,start,finish\n" + "".join("%s,900,mitre,mitre\n" % name for name in "abc")
    # 3 x 1000 + 2 x 3 + 3 x 1.243 are 3009.7.
    for board, boards in (("3010mm", 1), ("3009mm", 2)):
        faults.expect("three mitred pieces of %s" % board, plan_of(both, *ONE_RAIL, board).boards, boards)
    faults.expect("left beside three", [row["left_mm"] for row in cuts_of(both, *ONE_RAIL, "3100mm")],
                  ["2095.8", "1091.5", "87.3"])


def rounding(faults):
    """Positions, halves up, so that nothing adds up."""
    # Posts 75 wide reach 37.5 at both ends: the overall stays 7200 + 75.
    spans = "run,span,post_width,near_post_width\na,2400,,75\na,2400,,\na,2400,75,\n"
    job = job_of(spans)
    run, level = job.runs[0], job.levels[0]
    faults.expect("37.5 at both ends", job.piece(run, level, 0, 3).cut, 7275 * MM)
    faults.expect("cut in three", [job.piece(run, level, p, p + 1).cut // MM for p in range(3)], [2437, 2400, 2438])
    # Bays of 1000.4: 1000, 2000.8, 3001.2 are 1000, 2001, 3001.
    job = job_of("run,span,start,finish\na,1000.4,centre,\na,1000.4,,\na,1000.4,,centre\n")
    run, level = job.runs[0], job.levels[0]
    faults.expect("bays of 1000.4", [job.piece(run, level, p, p + 1).cut // MM for p in range(3)], [1000, 1001, 1000])
    for words, cut in ((("--round", "5"), 1000 * MM), (("--round", "0"), 1_000_400_000),
                       (("--inches",), 630 * INCH // 16), (("--inches", "--round", "1"), 1000 * MM)):
        piece = first_piece("run,span,start,finish\na,1000.4,centre,centre\n", *words)
        faults.expect("1000.4 with %s" % " ".join(words), piece.cut, cut)
    clear = first_piece("run,span\na,2400.9\n", levels="level,section,runs\nlow,plinth,between\n")
    faults.expect("2300.9 between posts", clear.cut, 2300 * MM)


def steps_and_levels(faults):
    """A step breaks every level; a level that a run lacks is nobody's neighbour there."""
    job = job_of("run,span,step\na,2000,150\na,2000,\na,2000,-90\n",
                 levels="level,section,height,seat\nlow,rail,300,\ncap,cap,1000,top\n")
    bays = job.runs[0].bays
    faults.expect("ends at a step", [(bay.start, bay.finish) for bay in bays],
                  [(("flush", None), ("centre", None)), (("centre", None), None), (None, ("flush", None))])
    rows = [row for row in fence_setout.rows(job, set()) if row.level == "low"]
    faults.expect("marks at a step", [(row.post + 1, row.mark // MM, row.top // MM) for row in rows],
                  [(1, 300, 390), (2, 300, 390), (2, 450, 540), (3, 450, 540), (4, 450, 540)])
    rows = [row for row in fence_setout.rows(job, set()) if row.level == "cap"]
    faults.expect("a capping is as high as it is thick", {(row.top - row.mark, row.housing, row.depth) for row in rows},
                  {(25 * MM, "", None)})
    housings(faults)
    beside_gate = job_of("run,span,step,opening\na,2000,150,\na,1000,200,yes\na,2000,,\n").runs[0].bays
    faults.expect("a step beside a gate", (beside_gate[0].finish, beside_gate[2].start), (("face", None),) * 2)
    # Two bays and two joins a run: the middle level is on b only, so low and high are neighbours on a.
    spans = "run,span,join\na,2000,always\na,2000,\nb,2000,\nb,2000,\n"
    levels = "level,section,only\nlow,rail,\nmiddle,rail,b\nhigh,rail,a; b\n"
    # Posts that are always joined are not counted: the two joins of a line up, those of b are none at all.
    found = plan_of(spans, "--stock-length", "4.8", levels=levels)
    faults.expect("a level on one run only", (found.aligned, found.joins), (0, 2))
    spans = spans.replace("always", "")
    found = plan_of(spans, "--stock-length", "2.4", levels=levels)
    faults.expect("neighbours across a level that is lacking", (found.aligned, found.joins), (1 + 2, 5))


def housings(faults):
    """Post by post: through, as deep as the timber is let in; stopped where a housed end is written; or none."""
    levels = "level,section,runs,height,seat\nlow,plinth,between,0,\n" + "".join(
        "%s,rail,through,500,%s\n" % (seat or "usual", seat) for seat in ("", "let in 12", "face", "top"))
    ends = "start,finish,opening\na,2000,%s,,\na,2000,,%s,\na,1000,,,yes\na,1000,,,yes\na,1500,,centre,\n"
    there, none = ("through", 38), ("", None)
    for start, finish, usual, shallow, face, top in (
            ("flush", "housed 25", (there, ("stopped", 25)), (("through", 12), ("stopped", 25)),
             (none, ("stopped", 25)), (none, none)),
            # A third of 100 is 33; 310 turns by -65: 38 - 2.14 x 12 past the centre is on the post, 2.14 x 38 is not.
            ("housed", "mitre 310", (("stopped", 33), there), (("stopped", 33), none), (("stopped", 33), none),
             (none, none)),
            ("reach -50", "reach -49", (none, there), (none, ("through", 12)), (none, none), (none, none))):
        rows = fence_setout.rows(job_of("run,span," + ends % (start, finish), levels=levels), set())
        for name, right in (("low", (none, none)), ("usual", usual), ("let in 12", shallow), ("face", face),
                            ("top", top)):
            found = [(row.housing, row.depth and row.depth // MM) for row in rows if row.level == name]
            faults.expect("housings of %s from %s to %s" % (name, start, finish), (found[0], found[2]), right)
            marks = [row.mark is None for row in rows if row.level == name]
            faults.expect("no mark between two gates", marks, [False, False, False, True, False, False])


def turns(faults):
    """A stair of joins: it takes a join more to keep the turn, and --turn off frees it."""
    # Every level has two boards that are used up, so that rail 1 must be joined on post 2, rail 2 on post 3, rail 3 on
    # post 4.  None lines up only if rail 2 has no other join: 1, 2, 3 bays first.  In turn are 1, 2, 1: one join more.
    spans = "run,span,start,finish\na,1000,centre,\na,1010,,\na,1020,,\na,1030,,centre\n"
    levels = "level,section\nlow,s1\nmiddle,s2\nhigh,s3\n"
    stock = "section,length,limit\n" + "".join(
        "s%d,%dmm,1\n" % pair for pair in ((1, 1000), (1, 3060), (2, 2010), (2, 2050), (3, 3030), (3, 1030)))
    for words, joins in ((("--turn", "keep"), 4), ((), 4), (("--turn", "off"), 3)):
        found = plan_of(spans, "--kerf", "0", "--stagger", "require", *words, levels=levels, stock=stock)
        faults.expect("a stair %s" % " ".join(words), found, fence_model.Optimum(0, 3 * 4060 * MM, joins, 6))
    found = plan_of(spans, "--kerf", "0", "--stagger", "off", "--turn", "keep", levels=levels, stock=stock)
    faults.expect("neither is kept", found.joins, 3)


def boards(faults):
    """The model's plans of fences that are worked out by hand."""
    # Six bays, three rails, pieces of at most two bays: doubles 3 + 2 + 3 with singles at both ends of the middle
    # rail.  2300 mm bays ending on centres: eight boards for the doubles, one more for both singles.  Joins 2 + 3 + 2.
    six = "run,span,start,finish\n" + "a,2300,centre,\n" + "a,2300,,\n" * 4 + "a,2300,,centre\n"
    faults.expect("A-B-A", plan_of(six, "--rails", "3", "--stock-length", "4.8"),
                  fence_model.Optimum(0, 9 * 4800 * MM, 7, 9))
    # The end-bay trap: a two-bay piece that is flush with the outer face of an end post.
    two = "run,span,finish\na,%s,\na,%s,centre\n"
    for span, width, cut, board, fits in (("2350", "100", 4750 * MM, "4.8", True),
                                          ("2400", "100", 4850 * MM, "4.8", False),
                                          ("2700", "125", 5_462_500_000, "5.4", False),
                                          ("96in", "3.5in", INCH * 775 // 4, "16ft", False),
                                          ("94in", "3.5in", INCH * 759 // 4, "16ft", True)):
        words = ("--post-width", width, "--round", "0")
        faults.expect("two bays of " + span, first_piece(two % (span, span), *words, last=2).cut, cut)
        faults.expect("%s of %s" % (span, board), plan_of(two % (span, span), *words, *ONE_RAIL, board).boards,
                      1 if fits else 2)
    # 2 x 2400 out of 4800: not with a kerf of 3 mm, and just without one.
    twice = "run,span,start,finish\na,2400,centre,centre\nb,2400,centre,centre\n"
    for kerf, count in (("0", 1), ("3", 2)):
        faults.expect("kerf " + kerf, plan_of(twice, *ONE_RAIL, "4.8", "--kerf", kerf).boards, count)
    # 2 x 2398 come out of 4800; 2 x 2395 leave 4: the second cut takes its kerf too.
    faults.expect("2 x 2398", plan_of(twice.replace("2400", "2398"), *ONE_RAIL, "4.8").boards, 1)
    faults.expect("2 x 2395", cuts_of(twice.replace("2400", "2395"), *ONE_RAIL, "4.8")[-1]["left_mm"], "4")
    # Three clear bays of 2300 between four 100 mm posts are 7300 overall.
    clear = "run,span,join\n" + "a,2300,never\n" * 3
    for size, plan in (("7300mm", fence_model.Optimum(0, 7300 * MM, 0, 1)), ("7299mm", None)):
        faults.expect("overall in " + size, plan_of(clear, *ONE_RAIL, size, "--measured", "clear"), plan)
    # Two rails whose bays are too long for two: every join lines up, and is counted.
    long = "run,span\n" + "a,3000\n" * 3
    faults.expect("long bays", plan_of(long, "--stock-length", "4.8").aligned, 2)
    faults.expect("long bays, required", plan_of(long, "--stock-length", "4.8", "--stagger", "require"), None)


def faults():
    found = Faults()
    for group in (corners, slopes, kerfs, rounding, steps_and_levels, turns, boards):
        group(found)
    return found


if __name__ == "__main__":
    print("\n".join(faults()))
