#!/bin/sh
# check-fuzz.sh - every fuzz target over its first inputs and over what fuzzing has found
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
here=$(cd "$(dirname "$0")" && pwd)
: "${SPANWRIGHT:?name the program}"
: "${PYTHON3:?name a Python 3}"
programs=${FUZZ_PROGRAMS:-./tests/fuzz}
work=$(mktemp -d) || exit 1
trap 'rm -rf "$work"' EXIT
"$PYTHON3" "$here/make_seeds.py" "$work" || exit 1
passed=0
failed=0
for target in compare csv length job plan sheet; do
  cp "$here/found/$target"-* "$work/$target" 2>/dev/null
  count=$(find "$work/$target" -type f | wc -l)
  # Both libFuzzer and the program that replays take a list of files; each one named before it is run.
  if find "$work/$target" -type f -exec "$programs/fuzz_$target" {} + >"$work/log" 2>&1 && [ "$count" -gt 20 ]; then
    passed=$((passed + count))
  else
    failed=$((failed + 1))
    echo "FAILED fuzz_$target, $count inputs:"
    tail -n 40 "$work/log"
  fi
done
echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ]
