# shellcheck shell=bash
# SPDX-License-Identifier: MIT
# Fuzzing: each reader of what strangers send (tests/fuzz), for a while. Sourced after demo/steps.sh.
#   step "building the fuzz targets" build_fuzz
#   step "fuzzing" fuzz_targets SECONDS-A-TARGET
# A finding stays in build/fuzz/findings: `build/fuzz/tests/fuzz/NAME_fuzz FILE` shows it again. What reached new code
# stays in build/fuzz/corpus, from which the next run begins; tests/fuzz/corpus holds the few files to begin with.

fuzz_folder=$root/build/fuzz

build_fuzz() {
  configure "$fuzz_folder" -DCELLARER_FUZZ=ON -DCMAKE_CXX_COMPILER=clang++ -DCMAKE_BUILD_TYPE=RelWithDebInfo \
    "-DCMAKE_CXX_FLAGS_RELWITHDEBINFO=-O1 -g1 -D_GLIBCXX_ASSERTIONS" && ninja -C "$fuzz_folder" fuzz
}

# One input may take 10 s and 1 GiB, far over what any should; 4 KiB reach every branch of these readers.
fuzz_one() { # NAME SECONDS
  local name=$1 seconds=$2 grown=$fuzz_folder/corpus/$1 log=$fuzz_folder/$1.log
  mkdir -p "$grown" "$fuzz_folder/findings"
  if "$fuzz_folder/tests/fuzz/${name}_fuzz" -max_total_time="$seconds" -max_len=4096 -timeout=10 -rss_limit_mb=1024 \
    -print_final_stats=1 -artifact_prefix="$fuzz_folder/findings/$name-" "$grown" "$root/tests/fuzz/corpus/$name" >"$log" 2>&1; then
    printf '%s: %d inputs, no finding\n' "$name" "$(sed -n 's/^stat::number_of_executed_units: *//p' "$log")"
  else
    printf '%s: error: a finding, kept in build/fuzz/findings\n' "$name"
    tail -n 40 "$log"
    return 1
  fi
}

fuzz_targets() { # SECONDS
  local source
  export root fuzz_folder
  export -f fuzz_one
  for source in "$root"/tests/fuzz/*_fuzz.cpp; do basename "$source" _fuzz.cpp; done |
    xargs -n 1 -P 2 bash -c 'fuzz_one "$1" "$0"' "$1"
}
