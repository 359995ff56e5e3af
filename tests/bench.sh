#!/bin/sh
# Builds and runs the clearance engine and the cavity map against their peers, and twelve openings against one, one line a case: name ours_s peer_s ratio.
#   sh tests/bench.sh [--quick] [triangles a half ...]
set -eu
cd "$(dirname "$0")/.."
sh third_party/install.sh tests >&2
{
  cmake --preset release -DEVENCLOSE_BENCH=ON
  cmake --build --preset release --target clearance_bench cavity_bench stack_bench
} >&2
build/release/clearance_bench "$@"
case " $* " in
*" --quick "*)
  build/release/stack_bench 40000
  exec build/release/cavity_bench 200000 200000
  ;;
*)
  build/release/stack_bench
  exec build/release/cavity_bench
  ;;
esac
