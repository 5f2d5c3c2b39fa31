#!/bin/sh
# check-published.sh - the program on worked examples whose optimum is published (README.md beside this names each)
# SPDX-License-Identifier: GPL-3.0-or-later
#
# SPANWRIGHT: the program, default cli/spanwright here.
set -u
here=$(cd "$(dirname "$0")" && pwd)
program=${SPANWRIGHT:-$PWD/cli/spanwright}
work=$(mktemp -d) || exit 99
trap 'rm -rf "$work"' EXIT
LC_ALL=C
export LC_ALL
good=0
bad=0

# What the boards in cuts.csv come to: boards, millimetres from the yard, and price by stock.csv; and each rule broken.
add_up='
  FNR == 1 { file++; sub(/\r$/, ""); n = split($0, name, ","); for (i = 1; i <= n; i++) column[file, name[i]] = i; next }
  { sub(/\r$/, "") }
  file == 1 { size = $column[1, "length"] + 0; if (column[1, "price"]) price[size] = $column[1, "price"]
              limit[size] = column[1, "limit"] ? $column[1, "limit"] : -1; next }
  file == 2 { wanted[$column[2, "length"] + 0] += $column[2, "quantity"]; next }
  {
    board = $column[3, "board"]; size = $column[3, "board_mm"]
    if (!(size in limit)) print "no such stock: " size
    if (!(board in used)) { boards++; mm += size; money += price[size]; taken[size]++ }
    used[board] += $column[3, "cut_mm"]
    if (used[board] > size) print "board " board " is too short for its pieces"
    wanted[$column[3, "cut_mm"]]--
  }
  END {
    for (size in wanted) if (wanted[size]) print wanted[size] " of " size " mm too few"
    for (size in taken) if (limit[size] >= 0 && taken[size] > limit[size]) print "more boards of " size " mm than there are"
    print boards " " mm " " money
  }'

while IFS=, read -r example measure optimum; do
  [ "$measure" != measure ] || continue
  job=$here/$example
  if ! "$program" plan --stock "$job/stock.csv" --extras "$job/extras.csv" --kerf 0 --end-trim 0 -o "$work/$example" \
       >"$work/out" 2>&1; then
    echo "$example: no plan"
    cat "$work/out"
    bad=$((bad + 1))
    continue
  fi
  found=$(awk -F, "$add_up" "$job/stock.csv" "$job/extras.csv" "$work/$example/cuts.csv")
  # Sums alone are one line; a broken rule stands on a line before them.
  case $measure in
    boards) right="$optimum * *" ;;
    mm) right="* $optimum *" ;;
    price) right="* * $optimum" ;;
  esac
  # shellcheck disable=SC2254 # a pattern
  case $found in
    *"
"*) verdict=wrong ;;
    $right) verdict=right ;;
    *) verdict=wrong ;;
  esac
  if [ "$verdict" = right ]; then
    good=$((good + 1))
  else
    echo "$example: published are $optimum ($measure); the plan's boards, mm and price: $found"
    bad=$((bad + 1))
  fi
done <"$here/optima.csv"

echo "$good passed, $bad failed"
[ "$bad" -eq 0 ] && [ "$good" -gt 0 ]
