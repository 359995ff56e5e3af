#!/bin/sh
# Suites once more under the address, undefined-behaviour and leak sanitizers.
#
#   sh tests/sanitized.sh               scene, apart and checks: all that reads and computes; part of .ci/run, 9 minutes on two cores
#   sh tests/sanitized.sh viewer        the window, the commands and what they write
#   sh tests/sanitized.sh thread apart  under the thread sanitizer, see tests/tsan
set -eu
cd "$(dirname "$0")/.."
preset=sanitized
if [ "${1:-}" = thread ]; then
  preset=tsan
  shift
fi
[ $# -gt 0 ] || set -- scene apart checks
sh third_party/install.sh tests
cmake --preset $preset -DEVENCLOSE_TESTS=ON
# shellcheck disable=SC2046  # words on purpose
cmake --build --preset $preset --target $(printf '%s_tests ' "$@")
export LSAN_OPTIONS="suppressions=$PWD/tests/leaks_of_others.txt" TSAN_OPTIONS="suppressions=$PWD/tests/races_of_others.txt"
ctest --test-dir build/$preset -R "^($(echo "$@" | tr ' ' '|'))_tests:" -j "$(nproc)" --no-tests=error --output-on-failure
