#!/bin/sh
# Builds the fuzzers (tests/fuzz/targets.hpp) and lets them run, as many side by side as there are cores, each until it has computed
# for so long. Tells how many inputs each has read; what one finds lies in build/fuzz/found and ends this with 1.
#
#   sh tests/fuzz.sh MINUTES [NAME ...]       sh tests/fuzz.sh 60 stl obj
set -eu
cd "$(dirname "$0")/.."
minutes=$1
shift
sh third_party/install.sh tools
build=build/fuzz
# Without OpenCASCADE: hours would go into others' code, which is read apart for that reason.
cmake -B $build -G Ninja -DCMAKE_CXX_COMPILER=clang++ -DCMAKE_BUILD_TYPE=Debug -DCMAKE_CXX_FLAGS_DEBUG="-O1 -g1 -w" \
  -DEVENCLOSE_STEP=OFF -DEVENCLOSE_FUZZ=ON -DEVENCLOSE_SANITIZE=fuzzer-no-link,address,undefined >/dev/null
cmake --build $build --target fuzzers
[ $# -gt 0 ] || set -- length document tree outline parcel stl obj ply off sweep
mkdir -p $build/found

# In pieces, since libFuzzer counts hours by the wall, and on a busy machine these say little.
cat >$build/one.sh <<'END'
name=$1 seconds=$2
runs=0
mkdir -p corpus/$name
while :; do
  ASAN_OPTIONS=allocator_may_return_null=1 ./fuzz_$name -max_total_time=60 -timeout=20 -rss_limit_mb=3000 -print_final_stats=1 \
    -artifact_prefix=found/$name- corpus/$name ../../tests/fuzz/corpus/$name >$name.log 2>&1 || {
    echo "$name: FOUND, see $PWD/$name.log"
    exit 1
  }
  runs=$((runs + $(sed -n 's/^stat::number_of_executed_units: *//p' $name.log)))
  times >$name.times
  # The children's line, "1m2.5s 0m0.1s": minutes and seconds as user and as system.
  spent=$(sed -n '2s/m/ /g;2s/s//g;2p' $name.times | awk '{ print int(60 * $1 + $2 + 60 * $3 + $4) }')
  echo "$name: $runs inputs in $spent s of computing, $(ls corpus/$name | wc -l) kept, none a find" >$name.told
  [ "$spent" -lt "$seconds" ] || break
done
cat $name.told
END
cd $build
for name; do echo "$name"; done | xargs -P "$(nproc)" -I NAME sh one.sh NAME $((60 * minutes))
