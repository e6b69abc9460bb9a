#!/usr/bin/env bash
# Checks rules/heuristics.txt against the rules, and the table of heuristics in rules/README.md against that file.
# usage: heuristics.sh PROGRAM SOURCE_DIR     (`--write` as third argument writes the table into rules/README.md)
set -eu
program=$1
cd "$2"
write=${3:-}
list=rules/heuristics.txt
page=rules/README.md
begin='<!-- heuristics: written by tests/rules/heuristics.sh from heuristics.txt -->'
end='<!-- end of heuristics -->'

ids=$(mktemp)
table=$(mktemp)
actual=$(mktemp)
trap 'rm -f "$ids" "$table" "$actual"' EXIT
"$program" rules --json | sed -n 's/^ *"id": "\(.*\)",$/\1/p' > "$ids"
[ -s "$ids" ] || { echo "no rules were listed" >&2; exit 1; }

# One pass both checks and writes.
awk -F' [|] ' -v ids="$ids" -v file="$list" '
  function fault(text) { printf "%s:%d: %s\n", file, FNR, text > "/dev/stderr"; faults = 1 }
  BEGIN {
    while ((getline id < ids) > 0) known[id] = 1
    homes["rule"] = homes["teaching"] = homes["plan"] = homes["trials"] = homes["crop"] = homes["model"] = homes["none"] = 1
  }
  /^#/ || /^$/ { next }
  /^= / { letter = $1; sub(/^= /, "", letter); title = letter; sub(/ .*/, "", letter); sub(/^[A-Z] /, "", title)
          number = 0; printf "\n**%s. %s**\n\n| | heuristic | where | source |\n|---|---|---|---|\n", letter, title; next }
  NF != 4 { fault("four fields are expected, " NF " were found"); next }
  !($2 in homes) { fault("`" $2 "` is no home") }
  {
    ++number; ++count[$2]; ++total
    where = $3
    if ($2 == "rule" || $2 == "teaching") {
      named = split($3, names, ", "); where = ""
      for (i = 1; i <= named; ++i) {
        if (!(names[i] in known)) fault("there is no rule `" names[i] "`")
        where = where (i > 1 ? ", " : "") "`" names[i] "`"
      }
    }
    word = $2 == "none" ? "not computable: " : $2 == "rule" ? "" : $2 ": "
    printf "| %s%d | %s | %s%s | %s |\n", letter, number, $1, word, where, $4
  }
  END {
    printf "\n%d heuristics: %d in rules, %d in what rules teach, %d in the plan, %d in trials, %d in judging the crop, %d in the model, %d not computable.\n",
      total, count["rule"], count["teaching"], count["plan"], count["trials"], count["crop"], count["model"], count["none"]
    exit faults
  }' "$list" > "$table"

awk -v table="$table" -v begin="$begin" -v end="$end" '
  $0 == begin { print; while ((getline line < table) > 0) print line; skipping = 1 }
  $0 == end { skipping = 0; found = 1 }
  !skipping { print }
  END { exit !found }' "$page" > "$actual" || { echo "$page holds no place for the table" >&2; exit 1; }

if [ "$write" = --write ]; then
  cp "$actual" "$page"
  exit 0
fi
if ! diff -u "$page" "$actual"; then
  echo "the table in $page is stale: run $0 PROGRAM SOURCE_DIR --write" >&2
  exit 1
fi
tail -n 1 "$table"
