# set-up.sh - install what is missing and build; read by the scripts that are run
# SPDX-License-Identifier: GPL-3.0-or-later
#
# The reader sets $top, the project's top folder, and stands in it.  Nothing
# here writes to stdout: that belongs to the plan, or to the test results.

build_packages='autoconf automake libtool pkg-config gcc make libc6-dev libglpk-dev libcsv-dev libpango1.0-dev'
check_packages="$build_packages check g++ mandoc poppler-utils python3 python3-scipy"

say () { printf '%s\n' "$*" >&2; }

as_root ()
{
  if [ "$(id -u)" = 0 ]; then "$@"; else sudo "$@"; fi
}

apt_install ()
{
  # shellcheck disable=SC2086 # a list of words
  as_root env DEBIAN_FRONTEND=noninteractive apt-get install -y -q --no-install-recommends $missing </dev/null >&2
}

# need PACKAGE...: install those that are not there; do nothing when all are.
need ()
{
  if ! command -v dpkg-query >/dev/null 2>&1 || ! command -v apt-get >/dev/null 2>&1; then
    say "No apt here: nothing is installed.  Debian's names of what is needed: $*"
    return 0
  fi
  missing=
  for package in "$@"; do
    # shellcheck disable=SC2016 # dpkg's own variable
    case $(dpkg-query -W -f='${db:Status-Status}' "$package" 2>/dev/null) in
      installed) ;;
      *) missing="$missing $package" ;;
    esac
  done
  [ -n "$missing" ] || return 0
  if [ "$(id -u)" != 0 ] && ! command -v sudo >/dev/null 2>&1; then
    say "Missing:$missing"
    say 'Neither root nor sudo to install them with: have them installed, then run this again.'
    return 1
  fi
  say "Installing:$missing"
  # The package lists are fetched only where the ones at hand do not do.
  apt_install || { as_root apt-get update -q >&2 && apt_install; }
}

# One more than there are processors: tests wait for the disk and for each other, too.
jobs ()
{
  echo $(($(nproc 2>/dev/null || echo 1) + 1))
}

# configured FOLDER [CONFIGURE'S OPTIONS]: make FOLDER ready for make.
configured ()
{
  folder=$1
  shift
  [ -x "$top/configure" ] || "$top/autogen.sh" || return 1
  mkdir -p "$folder" || return 1
  [ -f "$folder/Makefile" ] || ( cd "$folder" && "$top/configure" --quiet "$@" )
}

# logged LOG COMMAND...: run it, keep what it says in LOG, show the end of that when it fails.
logged ()
{
  log=$1
  shift
  if "$@" >"$log" 2>&1 </dev/null; then
    return 0
  fi
  tail -n 60 "$log" >&2
  say "Failed: $*  (all of it: $log)"
  return 1
}
