#!/bin/sh
# Installs what is missing, builds, runs every test. Needs nothing but a Debian 12.
set -eu
cd "$(dirname "$0")/.."
sh third_party/install.sh tests
cmake --preset release
cmake --build --preset release
ctest --preset release -j "$(nproc)"
