#!/bin/sh
# Every command that the README shows is run as it stands there, in a folder of its own: it must do its work (exit 0) or
# find a no-go (1). A file that a command names and that is not there is a fault of the README.
#
#   documented.sh SOURCE_FOLDER BUILD_FOLDER
set -eu
source=$1 build=$2
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
mkdir -p "$work/build"
ln -s "$build" "$work/build/release"
cd "$work"
count=0
sed -n 's/^    \(build\/release\/evenclose .*\)/\1/p' "$source/README.md" >commands
while IFS= read -r command; do
  code=0
  sh -c "$command" >out 2>&1 </dev/null || code=$?
  if [ "$code" -gt 1 ]; then
    echo "the README's command ends with $code: $command" >&2
    cat out >&2
    exit 1
  fi
  count=$((count + 1))
done <commands
[ "$count" -ge 6 ] || { echo "only $count commands were found in the README" >&2; exit 1; }
echo "$count commands of the README were run"
