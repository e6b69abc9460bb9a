#!/usr/bin/env bash
# Checks that every room of engine/ includes only the rooms that stand below it, and that each library stays in the
# one room that knows it. Prints `file:line: ...` for every breach.
# Usage: include_order.sh SOURCE_DIR
set -eu

if [ $# -ne 1 ]; then
  echo "usage: $0 SOURCE_DIR" >&2
  exit 2
fi
cd "$1"

# room: rooms that it may use directly; what those may use is allowed as well.
order='
base:
quantity: base
input: quantity
facts: quantity
rules: facts input
structure: base
library: input structure
solute: input structure
phase: library
solubility: phase solute
systems: solubility facts
ranking: systems rules
plan: ranking
trials: ranking
teaching: ranking
report: plan trials teaching ranking
'

# include pattern (extended regular expression): where it may stand (extended regular expression on the path)
libraries='
yaml-cpp/ ^engine/input/[^/]*\.cpp$
(rdkit/|GraphMol/|RDGeneral/) ^engine/structure/[^/]*\.cpp$
CLI/ ^cli/[^/]*\.cpp$
nlohmann/ ^engine/report/[^/]*\.(cpp|hpp)$
Eigen/ ^(engine/solubility/([^/]*\.cpp|neighbourhood\.hpp)|tests/calibration/[^/]*\.(cpp|hpp))$
boost/ ^engine/[^/]*/[^/]*\.cpp$
'

breaches=0
report() {
  echo "$1: $2"
  breaches=$((breaches + 1))
}

declare -A allowed
rooms=()
while IFS=: read -r room uses; do
  [ -n "$room" ] || continue
  rooms+=("$room")
  closure=" $room "
  for used in $uses; do
    if [ -z "${allowed[$used]+set}" ]; then
      echo "the table names $used before it is described" >&2
      exit 2
    fi
    closure="$closure${allowed[$used]}"
  done
  allowed[$room]=$closure
done <<<"$order"

for folder in engine/*/; do
  room=$(basename "$folder")
  if [ -z "${allowed[$room]+set}" ]; then
    report "$folder" "this room does not stand in the table of include_order.sh"
  fi
done

seen=0
while IFS=: read -r file line text; do
  [ -n "$file" ] || continue
  seen=$((seen + 1))
  if [[ $text =~ ^[[:space:]]*#[[:space:]]*include[[:space:]]*[\"\<]([^\"\>]+)[\"\>] ]]; then
    header=${BASH_REMATCH[1]}
  else
    continue
  fi
  if [[ $file =~ ^engine/([^/]+)/ ]]; then
    room=${BASH_REMATCH[1]}
    target=${header%%/*}
    if [ "$target" != "$header" ] && [ -d "engine/$target" ]; then
      if [[ "${allowed[$room]-}" != *" $target "* ]]; then
        report "$file:$line" "the room $room may not include $header"
      fi
    elif [[ $header == cli/* || $header == ../* ]]; then
      report "$file:$line" "the room $room may not include $header"
    elif [[ $header == *.hpp && $header != */* ]]; then
      report "$file:$line" "write the room before the name of the header: $header"
    fi
  fi
  while read -r pattern place; do
    [ -n "$pattern" ] || continue
    if [[ $header =~ ^$pattern && ! $file =~ $place ]]; then
      report "$file:$line" "$header may not be included here"
    fi
  done <<<"$libraries"
done < <(grep -rnE '^[[:space:]]*#[[:space:]]*include' engine cli tests --include='*.cpp' --include='*.hpp')

if [ "$seen" -eq 0 ]; then
  echo "no include was found below $1" >&2
  exit 2
fi
echo "$seen includes in ${#rooms[@]} rooms and around them, $breaches breaches"
[ "$breaches" -eq 0 ]
