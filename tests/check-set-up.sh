#!/bin/sh
# check-set-up.sh - what the two commands say when packages are missing, and that it stays on a screen
# SPDX-License-Identifier: GPL-3.0-or-later
#
# They run with commands of ours in place of id, sudo, dpkg-query and apt-get, so that nothing is installed.
set -u
top=$(cd "${srcdir:-.}" && pwd)
work=$(mktemp -d) || exit 1
trap 'rm -rf "$work"' EXIT
passed=0
failed=0
mkdir "$work/bin" "$work/tree" "$work/tree/samples" "$work/tree/tests" || exit 1
cp "$top/tests/set-up.sh" "$top/tests/run-all" "$work/tree/tests" && cp "$top/samples/first-plan" "$work/tree/samples" || exit 1
# Nothing else is on the path, sudo least of all.
for tool in sh cat chmod date dirname env false find grep head kill mkdir nproc printf rm sed sleep sort tail tr true wc; do
  # Where the shell has it itself, command -v does not say where it is.
  for folder in $(printf '%s' "$PATH" | tr : ' '); do
    [ ! -x "$folder/$tool" ] || { ln -s "$folder/$tool" "$work/bin/$tool"; break; }
  done
done

# command_of_ours NAME <SCRIPT
command_of_ours ()
{
  { echo "#!/bin/sh"; cat; } >"$work/bin/$1" && chmod +x "$work/bin/$1"
}

# run SCRIPT: its words in $work/said, its exit status in $status
run ()
{
  status=0
  (cd "$work/tree" && CI='' PATH="$work/bin" sh "$1") >"$work/said" 2>&1 </dev/null || status=$?
}

# says WHAT LINE...: the script failed and said these lines, and no more than a screen
says ()
{
  what=$1
  shift
  good=yes
  [ "$status" = 1 ] && [ "$(wc -l <"$work/said")" -le 24 ] || good=no
  for wanted in "$@"; do grep -q -x -F -e "$wanted" "$work/said" || good=no; done
  if [ "$good" = yes ]; then
    passed=$((passed + 1))
  else
    failed=$((failed + 1))
    echo "FAILED: $what: exit status $status, and it said:"
    cat "$work/said"
  fi
}

# glpk and make are there, whatever else is asked for is not.
command_of_ours dpkg-query <<'END'
for last in "$@"; do :; done
case $last in libglpk-dev | make) printf installed ;; *) exit 1 ;; esac
END
missing='autoconf automake libtool pkg-config gcc libc6-dev libcsv-dev libpango1.0-dev libxlsxwriter-dev zlib1g-dev'
to_test="$missing check g++ mandoc poppler-utils python3 python3-scipy"
by_hand='apt-get update && apt-get install -y --no-install-recommends'
# Words enough for some screens.
command_of_ours apt-get <<END
echo "\$*" >>"$work/asked"
for i in 1 2 3 4 5 6 7 8 9 10 11 12 13 14 15 16 17 18 19 20 21 22 23 24 25; do echo "Unpacking \$i"; done
case "\$*" in
  *--assume-no*) [ ! -e "$work/lists" ] || printf '%s\n' '0 upgraded, 193 newly installed, 0 to remove.' \
    'Need to get 12.5 MB/128 MB of archives.'; exit 1 ;;
  update*) : >"$work/lists" ;;
  *) echo 'E: No space left on the disk'; exit 100 ;;
esac
END

echo 'echo 1000' | command_of_ours id
run samples/first-plan
says 'neither root nor sudo' "$by_hand $missing"
run tests/run-all
says 'neither root nor sudo, tests' "$by_hand $to_test"
[ ! -e "$work/asked" ] || { failed=$((failed + 1)); echo 'FAILED: apt-get was called without root'; }

echo 'exit 1' | command_of_ours sudo
run samples/first-plan
says 'sudo refuses' 'Packages are missing; sudo may ask for your password to install them.' "$by_hand $missing"
# shellcheck disable=SC2016 # its own words
echo 'exec "$@"' | command_of_ours sudo
run samples/first-plan
says 'sudo, but no room' 'Fetching the lists of packages.' \
  "Installing 193 packages (12.5 MB to fetch), a minute or two (log: build/apt.log): $missing" \
  'E: No space left on the disk' "sudo apt-get update && sudo apt-get install -y --no-install-recommends $missing"

echo 'echo 0' | command_of_ours id
run samples/first-plan
says 'root, but no room' \
  "Installing 193 packages (12.5 MB to fetch), a minute or two (log: build/apt.log): $missing" \
  'E: No space left on the disk' "$by_hand $missing"

# All is there, and the build fails with more words than a screen has.
echo 'printf installed' | command_of_ours dpkg-query
cat >"$work/tree/configure" <<'END'
#!/bin/sh
i=0
while [ $i -lt 40 ]; do echo "checking $i"; i=$((i + 1)); done
echo 'configure: error: not here'
exit 1
END
chmod +x "$work/tree/configure"
run samples/first-plan
says 'configure fails' 'Preparing the build, half a minute (log: build/configure.log).' 'configure: error: not here'
run tests/run-all
says 'configure fails, tests' 'configure: error: not here' '0 passed, 1 failed'

echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ] && [ "$passed" -gt 0 ]
