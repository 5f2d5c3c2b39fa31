#!/bin/sh
# check-configure.sh - configure refuses, in words, where there is no 128-bit integer
# SPDX-License-Identifier: GPL-3.0-or-later
#
# Exit status 77: it cannot run beside a build in the source folder.
set -u
configure=$(cd "${srcdir:-.}" && pwd)/configure
[ ! -f "${configure%/*}/config.status" ] || { echo 'the source folder is configured'; exit 77; }
work=$(mktemp -d) || exit 1
trap 'rm -rf "$work"' EXIT
cd "$work" || exit 1
wanted='has no 128-bit integer (__int128) here: build for a 64-bit system, with gcc or clang'
# A compiler for 32 bits does not know the word.
"$configure" --quiet CPPFLAGS=-D__int128=unknown_word >said 2>&1 && { echo 'configure takes it'; exit 1; }
grep -q -F "error: ${CC:-cc} $wanted" said || { cat said; exit 1; }
[ ! -e Makefile ] || { echo 'there is a Makefile'; exit 1; }
