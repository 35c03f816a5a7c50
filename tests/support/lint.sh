#!/bin/sh
# Checks format and style of the sources that differ from the main branch, or of all of them when
# LINT_ALL is set:  sh tests/support/lint.sh BUILD_FOLDER
set -eu
build=$(cd "$1" && pwd)
cd "$(dirname "$0")/../.."

if [ -z "${LINT_ALL:-}" ] && base=$(git merge-base HEAD main 2>/dev/null); then
  files=$(git diff --name-only --diff-filter=d "$base" -- '*.cpp' '*.hpp'
          git ls-files --others --exclude-standard -- '*.cpp' '*.hpp')
else
  files=$(find lib rules cli tests -name '*.cpp' -o -name '*.hpp')
fi
[ -n "$files" ] || { echo "lint: nothing has changed"; exit 0; }

clean=yes
echo "$files" | xargs clang-format-19 --dry-run --Werror || clean=no

# Headers are checked with the sources that include them. Sources that this build doesn't know
# (fuzz targets, the package test) have no compile command.
sources=
for file in $(echo "$files" | grep '\.cpp$' || true); do
  if grep -q "\"file\": \"$PWD/$file\"" "$build/compile_commands.json"; then
    sources="$sources $file"
  fi
done
# The commands are g++'s: clang does not know all its warnings nor its precompiled headers. What it
# says beside the findings counts what it left out, and is shown only when something else is in it.
if ! echo "$sources" | tr ' ' '\n' | sed '/^$/d' |
  xargs -r -P "$(nproc)" -n 4 clang-tidy-19 --quiet -p "$build" \
    --extra-arg=-Wno-unknown-warning-option --extra-arg=-Wno-ignored-gch 2>"$build/lint.log"; then
  grep -v -e 'warnings generated' -e 'Processing file' "$build/lint.log" >&2 || true
  clean=no
fi
echo "lint: clean: $clean"
[ $clean = yes ]
