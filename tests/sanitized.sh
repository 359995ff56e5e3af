#!/bin/sh
# The suites of scene/ and checks/ once more under the address, undefined-behaviour and leak sanitizers: what reads files of others,
# and what computes with what they hold. With a word, under the thread sanitizer: `sh tests/sanitized.sh thread`.
set -eu
cd "$(dirname "$0")/.."
sh third_party/install.sh tests
preset=sanitized
[ "${1:-}" != thread ] || preset=tsan
cmake --preset $preset -DEVENCLOSE_TESTS=ON
cmake --build --preset $preset --target scene_tests checks_tests apart_tests
export LSAN_OPTIONS=suppressions=tests/leaks_of_others.txt TSAN_OPTIONS=suppressions=tests/races_of_others.txt
for suite in scene checks apart; do echo $suite; done | xargs -P "$(nproc)" -I SUITE sh -c "build/$preset/SUITE_tests"
