#!/usr/bin/env bash
# Installs what building and testing need and this machine lacks, from Debian's packages only.
set -eu

packages="cmake ninja-build g++ libyaml-cpp-dev libboost-dev libboost-graph-dev libcli11-dev doctest-dev librdkit-dev
  libeigen3-dev libfmt-dev nlohmann-json3-dev yamllint"

missing=""
for package in $packages; do
  status=$(dpkg-query -W -f '${Status}' "$package" 2>/dev/null || true)
  [ "$status" = "install ok installed" ] || missing="$missing $package"
done
[ -n "$missing" ] || exit 0

echo "Installing from Debian:$missing"
as_root=""
if [ "$(id -u)" -ne 0 ]; then
  command -v sudo >/dev/null || { echo "Install these packages first, as root:$missing" >&2; exit 3; }
  as_root="sudo"
fi
$as_root apt-get update -qq
# shellcheck disable=SC2086
DEBIAN_FRONTEND=noninteractive $as_root apt-get install -y -qq --no-install-recommends $missing >/dev/null
