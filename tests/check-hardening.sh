#!/bin/sh
# check-hardening.sh - what was built holds the protections that configure put in
# SPDX-License-Identifier: GPL-3.0-or-later
#
# HARDENING in the environment: the flags.  Exit status 77: left out, so nothing to look for.
set -u
: "${HARDENING=}"
case $HARDENING in *-*) ;; *) echo 'built without hardening'; exit 77 ;; esac
command -v readelf >/dev/null || { echo 'readelf is missing'; exit 77; }
# Before installing, libtool keeps the real ones in .libs.
program=cli/.libs/spanwright
[ -f "$program" ] || program=cli/spanwright
library=$(find lib/.libs -name 'libspanwright.so.*.*.*' | head -n 1)
[ -n "$library" ] || { echo 'no library'; exit 1; }
passed=0
failed=0

# has WHAT FILE READELF'S-OPTION PATTERN, or has ! WHAT ... for what must not be there
has ()
{
  wanted=yes
  if [ "$1" = ! ]; then wanted=no; shift; fi
  found=no
  LC_ALL=C readelf -W "$3" "$2" | grep -qE -e "$4" && found=yes
  if [ "$found" = "$wanted" ]; then
    passed=$((passed + 1))
  else
    failed=$((failed + 1))
    echo "FAILED $2: $1: wanted $wanted, found $found"
  fi
}

for file in "$program" "$library"; do
  has 'position independent' "$file" -h 'Type: *DYN'
  has ! 'stack that can be executed' "$file" -l 'GNU_STACK.* RWE'
  has ! 'relocations in the code' "$file" -d 'TEXTREL'
  case $HARDENING in *-z,relro*) has 'relro' "$file" -l GNU_RELRO ;; esac
  case $HARDENING in *-z,now*) has 'immediate binding' "$file" -d 'BIND_NOW|FLAGS.*NOW' ;; esac
  case $HARDENING in *-fstack-protector*) has 'stack protector' "$file" -s __stack_chk_fail ;; esac
  # What the compiler cannot tell the size of it cannot check: one checked call shows that it looks.
  case "$HARDENING ${CFLAGS-}" in
    *SW_FORTIFY*-O[123s]*) has 'checked buffers' "$file" -s ' __(v?s?n?printf|v?fprintf|mem[a-z]*|str[a-z]*)_chk' ;;
  esac
done
echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ] && [ "$passed" -gt 0 ]
