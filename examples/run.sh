#!/usr/bin/env bash
# Installs what is missing, builds the program and ranks solvents for an example solid.
set -eu
cd "$(dirname "$0")/.."

bash tests/install.sh
cmake --preset release -DBUILD_TESTING=OFF -DFIRSTCROP_BENCHMARKS=OFF >/dev/null
cmake --build --preset release --target firstcrop
exec build/release/firstcrop rank "${1:-examples/flask-3.yaml}" --top 5
