#!/bin/sh
# check-manuals.sh - the manuals are of the date of the newest version in NEWS, and mandoc finds nothing wrong with them
# SPDX-License-Identifier: GPL-3.0-or-later
#
# VERSION in the environment: configure's.  Exit status 77: no mandoc here, and nothing else wrong.
set -u
: "${srcdir:=.}" "${VERSION=}"
passed=0
failed=0
tell () { if "$@"; then passed=$((passed + 1)); else failed=$((failed + 1)); echo "FAILED: $*"; fi; }
same () { [ "$2" = "$3" ]; }
silent () { [ -z "$2" ]; }

newest=$(sed -n 's/^\([0-9][0-9.]* ([0-9-]*)\)$/\1/p' "$srcdir/cli/NEWS" | head -n 1)
date=${newest#*\(}
date=${date%\)}
tell same 'version of the newest entry in NEWS' "${newest% (*}" "$VERSION"
tell same 'its date' "$(date -u -d "$date" +%Y-%m-%d)" "$date"
for page in "$srcdir/cli/spanwright.1" "$srcdir/cli/spanwright-csv.5" "$srcdir/lib/libspanwright.3"; do
  tell same "date of $page" "$(sed -n 's/^\.TH [A-Z-]* [0-9] "\([^"]*\)".*/\1/p' "$page")" "$date"
  # Lines as long as in the other sources are meant.
  if command -v mandoc >/dev/null 2>&1; then
    tell silent "mandoc -T lint $page" "$(mandoc -T lint "$page" 2>&1 | grep -v ': STYLE: input text line longer than 80 bytes')"
  fi
done
echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ] || exit 1
command -v mandoc >/dev/null 2>&1 || { echo 'SKIPPED: mandoc, which is not here (Debian: mandoc)'; exit 77; }
