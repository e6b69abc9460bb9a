#!/usr/bin/env bash
# Runs every `$ firstcrop ...` of the README and compares its output, line by line, with what the README shows.
# usage: run_readme.sh PROGRAM SOURCE_DIR     (`--write` as third argument puts the real output into the README)
set -eu
program=$1
source_dir=$2
write=${3:-}
cd "$source_dir"

actual=$(mktemp)
trap 'rm -f "$actual"' EXIT
inside=no
while IFS= read -r line || [ -n "$line" ]; do
  if [ "$inside" = no ]; then
    printf '%s\n' "$line"
    [ "$line" = '```console' ] && inside=yes
    continue
  fi
  case "$line" in
    '$ firstcrop '*)
      printf '%s\n' "$line"
      # A command that ends with bad input is worth showing too.
      eval "\"$program\" ${line#\$ firstcrop }" 2>&1 || true
      ;;
    '```')
      printf '%s\n' "$line"
      inside=no
      ;;
  esac
done < README.md > "$actual"

if [ "$write" = --write ]; then
  cp "$actual" README.md
  exit 0
fi
if [ "$(grep -c '^\$ firstcrop ' README.md)" -lt 3 ]; then
  echo "the README shows fewer than three commands" >&2
  exit 1
fi
diff -u README.md "$actual" && echo "the README shows what the program prints"
