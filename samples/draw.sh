#!/bin/sh
# Installs what is missing, builds, checks every sample and draws it into out/:  sh samples/draw.sh
set -eu
cd "$(dirname "$0")/.."
sh tests/support/install.sh build

cmake --preset release -D LINEWRIGHT_TESTS=OFF -B build/draw
cmake --build build/draw -j "$(nproc)"

failed=
drawn=
for file in samples/*/*.yaml; do
  case $file in samples/faulty/*) continue ;; esac
  name=$(basename "$(dirname "$file")")
  echo
  echo "== $name"
  build/draw/linewright check --quiet "$file" || failed="$failed $file"
  if build/draw/linewright draw "$file" -o "out/$name"; then
    drawn="$drawn out/$name"
  else
    failed="$failed $file"
  fi
done

echo
if [ -n "$failed" ]; then
  echo "not clean or not drawn:$failed" >&2
  exit 1
fi
echo "All samples are clean. Their drawings:"
for folder in $drawn; do
  for file in "$folder"/*; do
    echo "  $file"
  done
done
