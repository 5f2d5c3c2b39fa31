# set-up.sh - install what is missing and build; read by the scripts that are run
# SPDX-License-Identifier: GPL-3.0-or-later
#
# The reader sets $top, the project's top folder, and stands in it.  Nothing
# here writes to stdout: that belongs to the plan, or to the test results.
# What takes long is said before it begins; what the tools say goes into a log.

build_packages='autoconf automake libtool pkg-config gcc make libc6-dev libglpk-dev libcsv-dev libpango1.0-dev libxlsxwriter-dev zlib1g-dev'
check_packages="$build_packages check g++ mandoc poppler-utils python3 python3-scipy"

say () { printf '%s\n' "$*" >&2; }

as_root ()
{
  if [ "$(id -u)" = 0 ]; then "$@"; else sudo "$@"; fi
}

apt_get ()
{
  as_root env DEBIAN_FRONTEND=noninteractive LC_ALL=C apt-get "$@" </dev/null >>build/apt.log 2>&1
}

apt_install ()
{
  # shellcheck disable=SC2086 # a list of words
  apt_get install -y -q --no-install-recommends $missing
}

# How many packages that is with all that they need, and how much to fetch; nothing when apt-get does not know them.
apt_count ()
{
  # shellcheck disable=SC2086 # a list of words
  as_root env LC_ALL=C apt-get install --assume-no --no-install-recommends $missing </dev/null 2>>build/apt.log \
    | sed -n -e 's/.* \([0-9]*\) newly installed.*/\1 packages/p' -e 's,^Need to get \([^ /]* [A-Za-z]*\).*,(\1 to fetch),p' \
    | tr '\n' ' ' | sed 's/ $//'
}

# to_paste [sudo]: the line that does by hand what cannot be done from here
to_paste ()
{
  say ''
  say "${1+$1 }apt-get update && ${1+$1 }apt-get install -y --no-install-recommends$missing"
  say ''
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
  install_missing
}

install_missing ()
{
  sudo=
  if [ "$(id -u)" != 0 ]; then
    sudo=sudo
    if ! command -v sudo >/dev/null 2>&1; then
      say 'Packages are missing, and there is neither root nor sudo to install them with. Paste this as root, then'
      say 'run this again:'
      to_paste
      return 1
    fi
    say 'Packages are missing; sudo may ask for your password to install them.'
    sudo true || { say 'Without it: have somebody paste this, then run this again:'; to_paste; return 1; }
  fi
  mkdir -p build && : >build/apt.log || return 1
  count=$(apt_count)
  if [ -z "$count" ]; then
    say 'Fetching the lists of packages.'
    apt_get update -q || :
    count=$(apt_count)
  fi
  say "Installing ${count:-packages}, a minute or two (log: build/apt.log):$missing"
  # Lists that are too old name what can no longer be fetched.
  apt_install || { apt_get update -q && apt_install; } || {
    tail -n 8 build/apt.log >&2
    say 'They are not installed. When that is mended, run this again, or paste this:'
    to_paste $sudo
    return 1
  }
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

# On a terminal: how far the command has come that writes LOG, on one line that is written over.
show_progress ()
{
  # What runs in the background hears no Ctrl-C: it looks whether the script is still there.
  while sleep 2 && kill -0 $$ 2>/dev/null; do
    printf '\r  %s files compiled, %s tests run \r' "$(grep -c '^  CC  ' "$1")" \
      "$(grep -c -E '^(PASS|FAIL|SKIP|ERROR): ' "$1")" >&2
  done
}

# logged LOG COMMAND...: run it, keep what it says in LOG, show the end of that when it fails: little of it, so that
# what was said before stays on the screen; more where nobody can look into LOG later.
logged ()
{
  log=$1
  shift
  watcher=
  if [ -t 2 ]; then
    : >"$log"
    show_progress "$log" &
    watcher=$!
  fi
  status=0
  "$@" >"$log" 2>&1 </dev/null || status=$?
  if [ -n "$watcher" ]; then
    kill "$watcher" 2>/dev/null || :
    wait "$watcher" 2>/dev/null || :
    printf '%60s\r' '' >&2
  fi
  [ "$status" -ne 0 ] || return 0
  if [ -n "${CI-}" ]; then
    tail -n 60 "$log" >&2
  else
    grep -E '( error|^(FAIL|ERROR)): ' "$log" | head -n 6 >&2
    tail -n 6 "$log" >&2
  fi
  say "Failed: $*  (all of it: $log)"
  return 1
}
