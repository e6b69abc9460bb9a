#!/usr/bin/env bash
# Installs what is missing, builds everything and runs all tests. `bash tests/run.sh asan-ubsan` does the same under
# address and undefined-behaviour sanitizers.
set -eu
cd "$(dirname "$0")/.."
preset=${1:-dev}

bash tests/install.sh
cmake --preset "$preset" >/dev/null
cmake --build --preset "$preset"
yamllint -s rules solvents examples
ctest --preset "$preset" -j "$(nproc)"
