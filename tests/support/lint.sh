#!/bin/sh
# Checks format and style of the sources that differ from the main branch, or of all of them when
# LINT_ALL is set:  sh tests/support/lint.sh BUILD_FOLDER
# The build must be up to date. A source that was found clean is not looked at again until it, a
# header of ours that it includes, or the settings change.
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

# Of each source the build knows: its path, then itself and the headers of ours that it includes.
# Headers are so checked with the sources; fuzz targets and the package test are not in this build.
mkdir -p "$build/lint"
ninja -C "$build" -t deps | awk -v top="$PWD/" -v build="$build/" '
  function flush() { if (source != "") print source, all }
  /^[^ ]/ { flush(); source = ""; all = ""; next }
  NF == 1 {
    path = $1
    if (path !~ /^\//) path = build path
    while (sub(/[^\/]+\/\.\.\//, "", path)) {}
    if (index(path, top) != 1 || index(path, build) == 1) next
    path = substr(path, length(top) + 1)
    if (source == "" && path ~ /\.cpp$/) source = path
    all = all " " path
  }
  END { flush() }' | sort -u >"$build/lint/sources"

settings=$(cat .clang-tidy tests/.clang-tidy lib/diagram/.clang-tidy | sha256sum | cut -c 1-16)
: >"$build/lint/todo"
while read -r source parts; do
  echo "$files" | grep -qx "$source" || continue
  # The list of parts is split into words on purpose.
  # shellcheck disable=SC2086
  stamp=$build/lint/$settings-$(cat $parts | sha256sum | cut -c 1-32)
  [ -e "$stamp" ] || echo "$source $stamp" >>"$build/lint/todo"
done <"$build/lint/sources"

# The compile commands are g++'s: clang does not know all its warnings nor its precompiled headers,
# which are left out so that each source is looked at with just what it includes itself.
# What it says beside its findings only counts what it left out.
sed -E 's/-include [^ ]*linewright_common_headers[^ ]*//' "$build/compile_commands.json" \
  >"$build/lint/compile_commands.json"
tidy='clang-tidy-19 --quiet -p "$0/lint" --extra-arg=-Wno-unknown-warning-option \
  --extra-arg=-Wno-ignored-gch "$1" 2>"$2.log" && mv "$2.log" "$2" || { cat "$2.log" >&2; exit 1; }'
xargs -r -P "$(nproc)" -n 2 sh -c "$tidy" "$build" <"$build/lint/todo" || clean=no

echo "lint: $(wc -l <"$build/lint/todo") sources looked at, clean: $clean"
[ $clean = yes ]
