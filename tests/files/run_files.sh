#!/usr/bin/env bash
# Runs `firstcrop check` on example files: those of ok/ must pass without a finding, those of bad/ must end with exit
# code 2 and say exactly what stands beside them in NAME.expected.
# Usage: run_files.sh PROGRAM SOURCE_DIR ok|bad [--write]
# --write makes the .expected files of bad/ anew; read every change before it is committed.
set -eu

if [ $# -lt 3 ]; then
  echo "usage: $0 PROGRAM SOURCE_DIR ok|bad [--write]" >&2
  exit 2
fi
program=$1
source_dir=$2
kind=$3
write=${4:-}

cd "$source_dir"
export FIRSTCROP_DATA=$source_dir NO_COLOR=1
answer=$(mktemp)
complaint=$(mktemp)
trap 'rm -f "$answer" "$complaint"' EXIT

# How many cases the rules of the program have is not the business of these files.
without_counts() {
  sed -E 's/; [0-9]+ cases? of rules passed, /; some cases of rules passed, /' "$1"
}

seen=0
failed=0
fail() {
  echo "FAILED $1: $2"
  failed=$((failed + 1))
}

for file in tests/files/"$kind"/*.yaml; do
  [ -e "$file" ] || continue
  seen=$((seen + 1))
  status=0
  timeout 120 "$program" check "$file" >"$answer" 2>"$complaint" || status=$?
  if [ -s "$complaint" ]; then
    fail "$file" "standard error is not empty"
    cat "$complaint"
  fi
  if [ "$kind" = ok ]; then
    [ "$status" -eq 0 ] || fail "$file" "exit code $status, not 0"
    if grep -q -E '(error|warning): ' "$answer"; then
      fail "$file" "there are findings"
      cat "$answer"
    fi
    continue
  fi
  [ "$status" -eq 2 ] || fail "$file" "exit code $status, not 2"
  expected=${file%.yaml}.expected
  if [ "$write" = --write ]; then
    without_counts "$answer" >"$expected"
  elif [ ! -e "$expected" ]; then
    fail "$file" "$expected is missing"
  elif ! without_counts "$answer" | diff -u "$expected" -; then
    fail "$file" "the answer differs from $expected"
  fi
done

for expected in tests/files/"$kind"/*.expected; do
  [ -e "$expected" ] || continue
  [ -e "${expected%.expected}.yaml" ] || fail "$expected" "no such file to check"
done

if [ "$seen" -eq 0 ]; then
  echo "no files in tests/files/$kind"
  exit 1
fi
echo "$seen files, $failed failures"
[ "$failed" -eq 0 ]
