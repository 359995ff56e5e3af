#!/bin/sh
# clang-tidy and cppcheck over our files, as .clang-tidy asks; quiet where there is nothing to mend.
#
#   sh tests/lint.sh            every file: hours of computing
#   sh tests/lint.sh COMMIT     what changed since COMMIT; a changed header stands for the source and the test of its name
#
# A compile database of its own: clang's, without precompiled headers, so that clang-tidy does not meet options of GCC's.
set -eu
cd "$(dirname "$0")/.."
sh third_party/install.sh tools
build=build/lint
cmake -B $build -G Ninja -DCMAKE_BUILD_TYPE=Debug -DCMAKE_CXX_COMPILER=clang++ -DCMAKE_DISABLE_PRECOMPILE_HEADERS=ON \
  -DEVENCLOSE_TESTS=ON -DEVENCLOSE_BENCH=ON >/dev/null

if [ $# -gt 0 ]; then
  files=$(git diff --name-only --diff-filter=d "$1" -- '*.cpp' '*.hpp' |
    while read -r file; do
      case $file in
      *.cpp) echo "$file" ;;
      *) git ls-files "${file%.hpp}.cpp" "tests/${file%.hpp}_test.cpp" ;;
      esac
    done | sort -u)
else
  files=$(git ls-files '*.cpp')
fi
# Only what is built: the database knows no others.
known=$(for file in $files; do
  ! grep -q "\"file\": \"$PWD/$file\"" $build/compile_commands.json || echo "$file"
done)
[ -n "$known" ] || exit 0
# clang-tidy 14 takes the zero in a defaulted <=> for a null pointer; and the window's state is there but once, so what lies
# between its members costs nothing.
not_asked=-modernize-use-nullptr,-clang-analyzer-optin.performance.Padding
wrong=0
echo "$known" | xargs -P "$(nproc)" -n 1 clang-tidy --quiet -p $build --checks=$not_asked 2>/dev/null || wrong=1
echo "$known" | xargs cppcheck --quiet --std=c++20 --language=c++ --enable=warning,performance,portability -I . \
  --inline-suppr --suppressions-list=tests/cppcheck_passed_by.txt '-DTEST_CASE(name)=static void test_case()' \
  --error-exitcode=1 || wrong=1
exit $wrong
