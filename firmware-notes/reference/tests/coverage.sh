#!/bin/sh
# Runs the host tests with line counting and fails when less than 95 in 100 lines of the core were run.
core=$(cd ../core && pwd)
here=$(pwd)
rm -rf build/coverage
mkdir -p build/coverage
cd build/coverage || exit 1

${CC:-cc} -std=c99 -O0 --coverage -I.. -I"$core" -I"$here/../facts/${FACTS:-bench-01}" -o host "$here"/*.c "$core"/*.c || exit 1
./host > host.log || { cat host.log; exit 1; }

gcov -n -- *.gcda 2> /dev/null | awk '
  /^File .*\/core\// { file = $2; gsub(/\x27/, "", file); sub(/.*\/core\//, "", file); next }
  /^File / { file = ""; next }
  /^Lines executed:/ && file != "" {
    split($2, part, /[:%]/); share = part[2]; count = $4
    printf "%-12s %6.2f %% of %d lines\n", file, share, count
    total += count; run += share * count / 100; files++; file = ""
  }
  END {
    if (files == 0) { print "coverage: no core file was measured"; exit 1 }
    printf "core         %6.2f %% of %d lines in %d files\n", 100 * run / total, total, files
    if (run < 0.95 * total) { print "coverage: below 95 %"; exit 1 }
  }'
