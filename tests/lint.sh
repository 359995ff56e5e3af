#!/bin/sh
# clang-tidy and cppcheck over our files, as .clang-tidy asks; quiet where there is nothing to mend.
#
#   sh tests/lint.sh            every file: hours of computing
#   sh tests/lint.sh COMMIT     what changed since COMMIT; a changed header stands for the sources of its name and its folder's
#
# A compile database of its own: clang's, without precompiled headers, so that clang-tidy is not met with options of GCC's.
set -eu
cd "$(dirname "$0")/.."
sh third_party/install.sh tools
build=build/lint
cmake -B $build -G Ninja -DCMAKE_BUILD_TYPE=Debug -DCMAKE_CXX_COMPILER=clang++ -DCMAKE_DISABLE_PRECOMPILE_HEADERS=ON \
  -DEVENCLOSE_TESTS=ON >/dev/null
# Headers that are made from shaders and schemas.
ninja -C $build -t targets all | sed -n 's/^\([^:]*\.hpp\): CUSTOM_COMMAND$/\1/p' | xargs -r ninja -C $build >/dev/null

if [ $# -gt 0 ]; then
  files=$(git diff --name-only --diff-filter=d "$1" -- '*.cpp' '*.hpp' |
    while read -r file; do
      case $file in
      *.cpp) echo "$file" ;;
      *) git ls-files "${file%.hpp}.cpp" "${file%.hpp}_test.cpp" ;;
      esac
    done | sort -u)
else
  files=$(git ls-files '*.cpp')
fi
# Only what is built: the database knows no others.
known=$(echo "$files" | while read -r file; do
  [ -n "$file" ] && grep -q "\"file\": \"$PWD/$file\"" $build/compile_commands.json && echo "$file" || :
done)
[ -n "$known" ] || exit 0
echo "$known" | xargs -P "$(nproc)" -n 1 clang-tidy --quiet -p $build 2>/dev/null
echo "$known" | xargs cppcheck --quiet --std=c++20 --language=c++ --enable=warning,performance,portability \
  --inline-suppr \
  --suppressions-list=tests/cppcheck_passed_by.txt '-DTEST_CASE(name)=static void test_case()' --error-exitcode=1 -I .
