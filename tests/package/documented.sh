#!/bin/sh
# Every command that the README and the guide show is run as it stands there, in a folder of its own: it must do its work
# (exit 0) or find a no-go (1). A file that a command names and that is not there is a fault of the page. The guide's
# documents are those it tells to save; what it quotes of the first check must be what that says.
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

guide=$source/assets/guide/guide.md
mkdir "$work/guide"
ln -s "$work/build" "$work/guide/build"
cd "$work/guide"
awk '/^```json/ { writing = 1; next } /^```/ { writing = 0 }
  writing { print >name; next }
  match($0, /`heron[a-z.-]*json`/) { name = substr($0, RSTART + 1, RLENGTH - 2) }' "$guide"
[ -s heron.press.json ] && [ -s heron.mold.json ] && [ -s heron.set-up.json ] || { echo "the guide's documents are missing" >&2; exit 1; }
sed -n 's/^    \(\(build\/release\/evenclose\|sed\) .*\)/\1/p' "$guide" >commands
expected=1 # the first check finds the no-go, and after its cure none is left
count=0
while IFS= read -r command; do
  code=0
  sh -c "$command" >out 2>&1 </dev/null || code=$?
  if [ "$code" -ne "$expected" ]; then
    echo "the guide's command ends with $code, not $expected: $command" >&2
    cat out >&2
    exit 1
  fi
  if [ "$count" -eq 0 ]; then
    quoted=$(sed -n 's/^    \(NO-GO .*\)/\1/p' "$guide")
    grep -qF "$quoted" out || { echo "the first check does not say: $quoted" >&2; exit 1; }
  fi
  expected=0
  count=$((count + 1))
done <commands
[ "$count" -ge 5 ] || { echo "only $count commands were found in the guide" >&2; exit 1; }
echo "$count commands of the guide were run"
