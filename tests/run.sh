#!/bin/sh
# Installs what is missing, builds, runs every test. Needs nothing but a Debian 12.
set -eu
cd "$(dirname "$0")/.."
sh third_party/install.sh tests
cmake --preset release -DEVENCLOSE_TESTS=ON
cmake --build --preset release
sh tests/open_data.sh build/open-data
ctest --preset release -j "$(nproc)" --no-tests=error
