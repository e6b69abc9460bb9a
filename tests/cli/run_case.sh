#!/usr/bin/env bash
# Runs one case of tests/cli/cases; README.md beside this file says what a case is made of.
# Usage: run_case.sh PROGRAM SOURCE_DIR CASE_DIR [--write]
# --write makes the golden files that the case already has anew; read every change before it is committed.
set -eu

if [ $# -lt 3 ]; then
  echo "usage: $0 PROGRAM SOURCE_DIR CASE_DIR [--write]" >&2
  exit 2
fi
program=$1
source_dir=$2
case_dir=$(cd "$3" && pwd)
write=${4:-}

cd "$source_dir"
export FIRSTCROP_DATA=${FIRSTCROP_DATA:-$source_dir} NO_COLOR=1
wanted=$(cat "$case_dir/exit_code")
answer=$(mktemp)
complaint=$(mktemp)
trap 'rm -f "$answer" "$complaint"' EXIT

# Arguments are parted as a shell would, quotes included; only files of the project come this way.
eval "set -- $(cat "$case_dir/command")"
status=0
timeout 120 "$program" "$@" >"$answer" 2>"$complaint" || status=$?

failed=0
if [ "$status" != "$wanted" ]; then
  echo "exit code $status, not $wanted"
  failed=1
fi

# check NAME FILE EMPTY: a golden file is compared byte for byte; without one, EMPTY demands silence.
check() {
  if [ -e "$case_dir/$1" ]; then
    if [ "$write" = --write ]; then
      cp "$2" "$case_dir/$1"
    elif ! diff -u "$case_dir/$1" "$2"; then
      echo "$1 differs"
      failed=1
    fi
  elif [ "$3" = yes ] && [ -s "$2" ]; then
    echo "$1 should be empty, but holds:"
    cat "$2"
    failed=1
  fi
}
refused=no
if [ "$wanted" -ge 2 ]; then refused=yes; fi
silent=yes
if [ "$refused" = yes ]; then silent=no; fi
check stdout "$answer" "$refused"
check stderr "$complaint" "$silent"

# Each line of `contains` must stand somewhere on standard output.
if [ -e "$case_dir/contains" ]; then
  while IFS= read -r line; do
    if ! grep -qF -- "$line" "$answer"; then
      echo "standard output lacks: $line"
      failed=1
    fi
  done <"$case_dir/contains"
fi
if [ "$refused" = yes ] && [ ! -e "$case_dir/stdout" ] && [ ! -s "$complaint" ]; then
  echo "refused without a word on standard error"
  failed=1
fi
if [ "$failed" -ne 0 ] && [ -s "$complaint" ]; then cat "$complaint"; fi
exit "$failed"
