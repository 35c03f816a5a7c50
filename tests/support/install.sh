#!/bin/sh
# Installs the packages of the named kinds that are missing; does nothing, and needs no network,
# when none is.   sh tests/support/install.sh build test lint
set -eu
list=$(dirname "$0")/../packages.txt

missing=
for kind in "$@"; do
  for package in $(sed -n "s/^$kind //p" "$list"); do
    status=$(dpkg-query -W -f '${db:Status-Status}' "$package" 2>/dev/null || true)
    [ "$status" = installed ] || missing="$missing $package"
  done
done
[ -n "$missing" ] || exit 0

echo "installing:$missing"
if [ "$(id -u)" = 0 ]; then
  as_root=
elif command -v sudo >/dev/null; then
  as_root=sudo
else
  echo "these packages are missing and installing them needs root:$missing" >&2
  exit 1
fi
$as_root apt-get update -q
# The list is split into words on purpose.
# shellcheck disable=SC2086
$as_root env DEBIAN_FRONTEND=noninteractive \
  apt-get install -q -y --no-install-recommends $missing
