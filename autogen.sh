#!/bin/sh
# Make ./configure out of configure.ac (needs autoconf, automake, libtool, pkg-config).
set -e
cd "$(dirname "$0")"
mkdir -p m4 build-aux
exec autoreconf --install --force "$@"
