# table.py - Markdown tables
# SPDX-License-Identifier: GPL-3.0-or-later


def seconds(value):
    """Three digits that mean something; a dash for nothing."""
    if value is None:
        return "–"
    if value < 0.001:
        return "<0.001"
    if value < 1:
        return "%.3f" % value if value < 0.1 else "%.2f" % value
    return "%.1f" % value if value < 100 else "%.0f" % value


def times(value):
    """A ratio."""
    if value is None:
        return "–"
    return "%.2f" % value if value < 10 else "%.0f" % value


def per_cent(value, places=2):
    return "–" if value is None else "%.*f" % (places, value * 100)


def mean(values):
    values = [value for value in values if value is not None]
    return sum(values) / len(values) if values else None


def median(values):
    values = sorted(value for value in values if value is not None)
    if not values:
        return None
    half = len(values) // 2
    return values[half] if len(values) % 2 else (values[half - 1] + values[half]) / 2


def table(header, rows, left=1):
    """A table whose first LEFT columns are text, the others figures."""
    cells = [[str(cell) for cell in row] for row in [header, *rows]]
    width = [max(len(row[c]) for row in cells) for c in range(len(header))]
    lines = ["| " + " | ".join(cell.ljust(width[c]) if c < left else cell.rjust(width[c])
                               for c, cell in enumerate(row)) + " |" for row in cells]
    rule = "|" + "|".join("-" * (width[c] + 2) if c < left else "-" * (width[c] + 1) + ":"
                          for c in range(len(header))) + "|"
    return "\n".join([lines[0], rule, *lines[1:]])
