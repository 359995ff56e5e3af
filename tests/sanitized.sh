#!/bin/sh
# What reads files of others, once more under address, undefined-behaviour and leak sanitizers. Seven minutes on two cores,
# so not part of run.sh.
set -eu
cd "$(dirname "$0")/.."
sh third_party/install.sh tests
cmake --preset sanitized
cmake --build --preset sanitized --target scene_tests
LSAN_OPTIONS=suppressions=tests/leaks_of_others.txt build/sanitized/scene_tests
