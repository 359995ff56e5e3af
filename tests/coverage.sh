#!/bin/sh
# How much of scene/ and checks/ the tests go through, lines in percent; not content below 90. Half an hour on two cores.
set -eu
cd "$(dirname "$0")/.."
sh third_party/install.sh tools
build=build/coverage
cmake -B $build -G Ninja -DCMAKE_BUILD_TYPE=Debug -DCMAKE_CXX_FLAGS_DEBUG="-O1 -g1 --coverage -fprofile-update=atomic" -DEVENCLOSE_TESTS=ON
cmake --build $build --target scene_tests checks_tests apart_tests
find $build -name '*.gcda' -delete
# Whether they pass is asked elsewhere; some that stop a clock do not, slow as it all is.
ctest --test-dir $build -R '^(scene|apart|checks)_tests:' -j "$(nproc)" --output-on-failure || true
gcovr --root . --object-directory $build $build/scene $build/checks --filter scene/ --filter checks/ --sort-uncovered --print-summary \
  --fail-under-line 90
