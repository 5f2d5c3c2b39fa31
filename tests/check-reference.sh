#!/bin/sh
# check-reference.sh - whole jobs against the independent reference (tests/reference/README.md)
# SPDX-License-Identifier: GPL-3.0-or-later
#
# SPANWRIGHT: the program, default cli/spanwright here.  PYTHON3: an interpreter that has scipy.
# SW_REFERENCE_COUNT: random jobs of each profile, 20.  SW_REFERENCE_SEED: the first one's seed, 1.
set -u
here=$(cd "$(dirname "$0")" && pwd)/reference
program=${SPANWRIGHT:-$PWD/cli/spanwright}
python=${PYTHON3:-python3}
count=${SW_REFERENCE_COUNT:-20}
seed=${SW_REFERENCE_SEED:-1}
PYTHONDONTWRITEBYTECODE=1
export PYTHONDONTWRITEBYTECODE

if ! "$python" -c 'from scipy.optimize import milp' 2>/dev/null; then
  echo "SKIPPED: no plan was held against the independent reference: $python has no scipy with milp" >&2
  echo "(Debian: python3-scipy; or configure with PYTHON3=...)" >&2
  exit 77
fi

status=0
"$python" "$here/check_model.py" "$count" || status=1
"$python" "$here/check_checker.py" "$program" || status=1
"$python" "$here/check_tipping.py" "$program" "$count" "$seed" || status=1
"$python" "$here/check_yards.py" "$program" "$count" "$seed" || status=1
"$python" "$here/check_posts.py" "$program" "$count" "$seed" || status=1
for profile in basic whole ground; do
  "$python" "$here/run_reference.py" --program "$program" --count "$count" --seed "$seed" --profile "$profile" || status=1
  "$python" "$here/run_reference.py" --program "$program" --count "$count" --seed "$((seed + 100000))" \
    --profile "$profile" --hard-way || status=1
  "$python" "$here/run_site.py" --program "$program" --count "$count" --seed "$seed" --profile "$profile" || status=1
done
exit "$status"
