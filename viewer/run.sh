#!/bin/sh
# Installs what is missing, builds, and opens the demo in the window. With no display it checks the demo instead, prints
# the findings and writes pictures. Arguments go to the program: sh viewer/run.sh check my.set-up.json
set -eu
here=$(pwd)
cd "$(dirname "$0")/.."
top=$(pwd)
sh third_party/install.sh
{
  cmake --preset release
  cmake --build --preset release --target evenclose demo
} >&2
cd "$here"
program="$top/build/release/evenclose"
demo="$top/build/release/demo"

if [ "$#" -gt 0 ]; then
  exec "$program" "$@"
fi
if [ -n "${DISPLAY:-}${WAYLAND_DISPLAY:-}" ]; then
  exec "$program" "$demo/crescent.set-up.json"
fi

echo "No display here: checking the demo instead of opening the window." >&2
for name in crescent curlew; do
  code=0
  "$program" check "$demo/$name.set-up.json" || code=$?
  [ "$code" -le 1 ] || exit "$code" # a no-go of the demo is what it is there to show
  for travel in open closed; do
    "$program" picture "$demo/$name.set-up.json" -o "$demo/$name-$travel.png" --travel "$travel"
  done
  echo
done
echo "Pictures: $demo/*.png. The program: $program" >&2
