#!/bin/sh
# Builds and runs the clearance engine and the cavity map against their peers, twelve openings against one, and fit on two
# threads against one; a line a case: name ours_s peer_s ratio.
#   sh tests/bench.sh [--quick] [triangles a half ...]
set -eu
cd "$(dirname "$0")/.."
sh third_party/install.sh tests >&2
{
  cmake --preset release -DEVENCLOSE_BENCH=ON
  cmake --build --preset release --target clearance_bench cavity_bench stack_bench fit_bench demo
} >&2
build/release/clearance_bench "$@"
case " $* " in
*" --quick "*)
  build/release/stack_bench 40000
  build/release/fit_bench 40
  exec build/release/cavity_bench 200000 200000
  ;;
*)
  build/release/stack_bench
  build/release/fit_bench
  exec build/release/cavity_bench
  ;;
esac
