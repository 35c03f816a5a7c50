#!/bin/sh
# Installs what is missing, builds, and runs every test:  sh tests/run.sh
set -eu
cd "$(dirname "$0")/.."
sh tests/support/install.sh build test

jobs=$(nproc)
cmake --preset release
cmake --build --preset release -j "$jobs"
ctest --preset release -j "$jobs"
