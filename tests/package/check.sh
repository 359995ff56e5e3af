#!/bin/sh
# What stands on a system after installing: the program with its demo, papers that say what the program says, and the
# library, built with by somebody else.
#
#   check.sh installs|papers|library|hardened SOURCE_FOLDER BUILD_FOLDER CXX
set -eu
what=$1 source=$2 build=$3 compiler=$4
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
fail() {
  echo "$*" >&2
  exit 1
}
install_there() { cmake --install "$build" --prefix "$work/usr" --component "$1" >/dev/null; }

case $what in
installs)
  install_there program
  cd / # nothing is found by standing in the right folder
  "$work/usr/bin/evenclose" --version | grep -q '^evenclose [0-9]' || fail "no version"
  "$work/usr/bin/evenclose" check "$work/usr/share/evenclose/demo/crescent.set-up.json" --only daylight,stroke,mesh ||
    fail "the installed demo is not what the installed program can check"
  for file in man/man1/evenclose.1 applications/evenclose.desktop mime/packages/evenclose.xml doc/evenclose/copyright \
    doc/evenclose/changelog.gz icons/hicolor/scalable/apps/evenclose.svg bash-completion/completions/evenclose \
    evenclose/schemas/press.schema.json; do
    [ -s "$work/usr/share/$file" ] || fail "$file is not installed"
  done
  grep -rl "$source" "$work/usr/share" && fail "a path of the build stands in what is installed"
  desktop-file-validate "$work/usr/share/applications/evenclose.desktop"
  mkdir -p "$work/share" && cp -r "$work/usr/share/mime" "$work/share/"
  update-mime-database "$work/share/mime" 2>/dev/null
  for kind in set-up press mold; do
    grep -q "vnd.evenclose.$kind+json:\*.$kind.json" "$work/share/mime/globs2" || fail "*.$kind.json has no type"
  done
  ;;
papers)
  # Every option of every command stands in the manual and in each completion, and they name no other.
  program=$build/evenclose
  papers="$source/assets/package"
  commands=$("$program" --help | sed -n '/^Subcommands:/,$s/^  \([a-z]\{1,\}\) .*/\1/p')
  [ "$(echo "$commands" | wc -w)" -ge 5 ] || fail "the help lists too few commands: $commands"
  for command in $commands; do
    grep -q "^\.Cm $command\|^\.It Cm $command" "$papers/evenclose.1" || fail "the manual lacks $command"
    for paper in evenclose.bash _evenclose evenclose.fish; do
      grep -qw -- "$command" "$papers/$paper" || fail "$paper lacks $command"
    done
    for option in $("$program" "$command" --help | grep -o '\-\-[a-z][a-z-]*' | sort -u); do
      [ "$option" != --help ] || continue
      word=${option#--}
      grep -q "\\\\-$word" "$papers/evenclose.1" || [ "$word" = output ] || fail "the manual lacks $command $option"
      grep -q -- "$option" "$papers/evenclose.bash" || fail "evenclose.bash lacks $command $option"
      grep -q -- "$option" "$papers/_evenclose" || fail "_evenclose lacks $command $option"
      grep -q -- "-l $word\b" "$papers/evenclose.fish" || fail "evenclose.fish lacks $command $option"
    done
  done
  for id in $("$program" check "$build/demo/crescent.set-up.json" --only nothing 2>&1 | sed -n 's/.*there are \(.*\) (.*/\1/p' | tr -d ,); do
    for paper in evenclose.bash _evenclose evenclose.fish; do
      grep -qw -- "$id" "$papers/$paper" || fail "$paper lacks the check $id"
    done
  done
  bash -n "$papers/evenclose.bash"
  mandoc -Tlint -Wwarning "$papers/evenclose.1"
  ;;
library)
  install_there library
  cmake -G Ninja -S "$source/tests/library" -B "$work/example" -DCMAKE_PREFIX_PATH="$work/usr" -DCMAKE_CXX_COMPILER="$compiler" \
    -DCMAKE_BUILD_TYPE=Release >/dev/null
  cmake --build "$work/example" >/dev/null
  "$work/example/clearance"
  ;;
hardened)
  # Only as a shop runs it: sanitizers bring guards of their own.
  grep -q '^CMAKE_BUILD_TYPE:STRING=Release$' "$build/CMakeCache.txt" || exit 0
  program=$build/evenclose
  readelf -hlWd "$program" >"$work/elf"
  readelf -sW --dyn-syms "$program" >"$work/symbols"
  grep -q 'Type:.*DYN' "$work/elf" || fail "it is loaded at the same address always"
  grep -q GNU_RELRO "$work/elf" || fail "tables of addresses stay writable"
  grep -q 'BIND_NOW\|Flags:.*NOW' "$work/elf" || fail "addresses are bound late, in writable tables"
  grep 'GNU_STACK' "$work/elf" | grep -q 'RW ' || fail "what lies on the stack can be run"
  grep -q __stack_chk_fail "$work/symbols" || fail "the stack is not guarded"
  grep -q '__[a-z]*_chk@' "$work/symbols" || fail "copies are not checked"
  ;;
*) fail "installs, papers, library or hardened?" ;;
esac
