# shellcheck shell=bash
# SPDX-License-Identifier: MIT
# How tests/run runs a tier and counts its cases. Sourced after demo/steps.sh.

cpp_tiers=(quantities numerics cell duty life stock review rounds access server reference faults)
passed=0 failed=0
declare -A counted # tiers whose cases are counted already

# Which parts tests/run does: those named, or all there are.
choose_parts() { # PART,PART or nothing
  local known="style,delivered,sanitized,fuzz,tidy" part
  [ -z "${CELLARER_LONG:-}" ] || known="style,delivered,release,sanitized,threads,fuzz,tidy"
  parts=${1:-$known}
  for part in ${parts//,/ }; do
    [[ ",$known," == *",$part,"* ]] || fail "there is no part '$part' here: --only takes some of $known"
  done
}
wants() { [[ ",$parts," == *",$1,"* ]]; } # PART

# Whatever ends the script, its last line says how many cases passed; a step that failed is one failure.
closing_line() { # EXIT-CODE
  end_running_step
  (($1 == 0 || failed > 0)) || failed=1
  say "$passed passed, $failed failed"
}

count_check() { passed=$((passed + 1)); }

# The counts of a Catch2 console report, of version 2 or 3: "PASSED FAILED".
catch_counts() { # LOG
  sed -nE -e 's/^All tests passed \(.* in ([0-9]+) test cases?\).*/\1 0/p' -e '/^test cases:/{
    h; s/.*\| *([0-9]+) passed.*/\1/; t keep; s/.*/0/; :keep
    x; s/.*\| *([0-9]+) failed.*/\1/; t both; s/.*/0/; :both
    x; G; s/\n/ /; p }' "$1" | tail -n 1
}

# The counts of node's TAP reports, one a file.
node_counts() { # LOG
  awk '/^# pass /{p+=$3} /^# fail /{f+=$3} /^# cancelled /{c+=$3} END{if (p != "") print p, f + c}' "$1"
}

# Adds a tier's counts and stops if a case failed or none ran; the log's end was shown by then.
take_counts() { # TITLE COUNTS COUNT-OR-AGAIN
  local tier_passed tier_failed
  read -r tier_passed tier_failed <<<"${2:-0 0}" || true
  if ((tier_failed > 0)); then
    failed=$((failed + tier_failed))
    [ "$3" = again ] || passed=$((passed + tier_passed))
    fail "$1: $tier_failed of its cases failed; the log is ${step_log#"$root"/}"
  fi
  ((tier_passed > 0)) || fail "$1: no test ran"
  [ "$3" = again ] || passed=$((passed + tier_passed))
  say "   $tier_passed passed"
}

# A step whose failures are counted: the exit code is taken from the log.
tier_step() { # COUNTER COUNT-OR-AGAIN TITLE COMMAND...
  local counter=$1 mode=$2 title=$3
  shift 3
  local exit_file=$logs/tier-exit
  keep_exit() { local code=0; "$@" || code=$?; echo "$code" >"$exit_file"; }
  step "$title" keep_exit "$@"
  local code counts
  code=$(cat "$exit_file")
  counts=$($counter "$step_log")
  if [ "$code" != 0 ]; then
    show_failure "$step_log"
    # It ended badly whatever it counted, and perhaps before it counted at all.
    [[ $counts =~ ^[0-9]+\ [1-9][0-9]*$ ]] || counts="$(cut -d' ' -f1 <<<"${counts:-0}") 1"
  fi
  take_counts "$title" "$counts" "$mode"
}

show_failure() { # LOG: the failing cases' own words, then the end
  { grep -n -m 3 -E '^ *not ok |FAILED:|Sanitizer|runtime error' "$1" || true; } | cut -c 1-300 | sed 's/^/   first: /'
  tail -n 60 "$1" | cut -c 1-400 | sed 's/^/   | /'
}

# A tier that waits for ever would hold up all; the last line of its log then names the case that ended last. None takes
# a third of this on two quiet cores.
cpp_tier_limit_s=1200

cpp_tier() { # NAME BUILD-FOLDER CASES
  local program=$2/tests/test_$1 mode=count where=
  case $2 in
    */sanitize) where=' under the sanitizers' ;;
    */thread) where=' under the thread sanitizer' ;;
  esac
  [ -x "$program" ] || fail "the tier $1 was not built: ${program#"$root"/}"
  [ -z "${counted[$1]:-}" ] || mode=again
  counted[$1]=yes
  tier_step catch_counts "$mode" "tests: $1$where" within_limit "$program" --durations yes "$3"
}

within_limit() { # PROGRAM ARGUMENT...
  local code=0 limit_s=$cpp_tier_limit_s
  [ -z "${CELLARER_LONG:-}" ] || limit_s=7200
  timeout --foreground -k 10 "$limit_s" "$@" || code=$?
  ((code != 124)) || printf 'FAILED: it did not end within %d s\n' "$limit_s"
  return "$code"
}

# What a tier printed beside its cases: the lines of its table.
show_table() { grep '^|' "$step_log" | sed 's/^/   /' || true; }

# The same for DEVELOPERS.md, with the day and the commit that it is of.
keep_table() { # FILE
  local commit
  commit=$(git -C "$root" describe --always --dirty --exclude='*' 2>/dev/null) || commit=unknown
  { printf 'On %s, commit %s:\n\n' "$(LC_ALL=C date '+%-d %B %Y')" "$commit"; grep '^|' "$step_log" || true; } >"$1"
  say "   kept as ${1#"$root"/}"
}

node_tier() { # NAME AT-A-TIME FILE...
  local name=$1 at_a_time=$2
  shift 2
  [ -e "$1" ] || fail "the tier $name has no tests"
  tier_step node_counts count "tests: $name" node_files "$at_a_time" "$@"
}

# Node's runner has no limit of time: one page that waits for ever would hold up all. No file takes a third of this on
# two quiet cores.
node_file_limit_s=600

# Each file's report comes whole, when it has ended; that of one that failed comes last, and no other file is begun.
node_files() { # AT-A-TIME FILE...
  local at_a_time=$1 reports=$logs/reports
  shift
  rm -rf "$reports"
  mkdir -p "$reports"
  export node_file_limit_s reports
  printf '%s\0' "$@" | xargs -0 -n 1 -P "$at_a_time" bash -c '
      name=$(basename "$1") began=$SECONDS code=0
      timeout --foreground -k 10 "$node_file_limit_s" node --test --test-reporter=tap "$1" >"$reports/$name" 2>&1 || code=$?
      ((code != 124)) || printf "not ok %s did not end within %d s\n# pass 0\n# fail 1\n" "$name" "$node_file_limit_s" >>"$reports/$name"
      if ((code != 0)); then mv "$reports/$name" "$reports/failed-$name"; exit 255; fi
      flock "$reports" cat "$reports/$name"
      printf "# %s took %d s\n" "$name" "$((SECONDS - began))"' node_file || true
  ! compgen -G "$reports/failed-*" >/dev/null || { cat "$reports"/failed-*; return 1; }
}

cpp_files() { find "$root/model" "$root/server" "$root/tests" \( -name '*.cpp' -o -name '*.hpp' \) | LC_ALL=C sort; }

# Versions of clang-format lay out a few things differently; Debian 12's is the one that counts.
check_layout() {
  if [[ $(clang-format --version) != *" 14."* ]]; then
    echo "left to clang-format 14; this is $(clang-format --version)"
    return 0
  fi
  cpp_files | xargs clang-format --dry-run --Werror
}

# What clang-tidy looks at: with --long everything, otherwise what the commits of the newest three days touched, the
# newest first, for as long as `tidy_budget_s` lets it begin with another file. The whole takes a machine of two cores a
# quarter of an hour and more.
tidy_budget_s=180
tidied_files() {
  local newest
  if [ "${CELLARER_LONG:-}" ] || ! newest=$(git -C "$root" log -1 --format=%ct 2>/dev/null); then
    find "$root/model" "$root/server" -name '*.cpp'
  else
    { git -C "$root" diff --name-only HEAD -- model server; git -C "$root" log --since=$((newest - 259200)) --name-only --format= -- model server; } |
      grep '\.cpp$' | sed "s|^|$root/|"
  fi | awk '!seen[$0]++' | while read -r file; do [ ! -f "$file" ] || printf '%s\0' "$file"; done
}

# One file at a time on each core, as compiled without GCC's precompiled headers, which clang cannot read. A file is not
# looked at again while it, every header and the checks stay as they are.
check_tidy() {
  if [[ $(clang-tidy --version) != *"version 14."* ]]; then
    echo "left to clang-tidy 14, whose checks are the ones that count; this is $(clang-tidy --version | grep version)"
    return 0
  fi
  local headers clean=$root/build/tidy
  mkdir -p "$clean"
  configure "$clean/build" -DCMAKE_BUILD_TYPE=Release -DCELLARER_TESTS=OFF -DCELLARER_TOGETHER=OFF -DCMAKE_DISABLE_PRECOMPILE_HEADERS=ON >/dev/null || return 1
  headers=$({ cat "$root/.clang-tidy"; clang-tidy --version; find "$root/model" "$root/server" "$root/tests" -name '*.hpp' -print0 | LC_ALL=C sort -z | xargs -0 cat; } | sha256sum | cut -c 1-20)
  local deadline=$((EPOCHSECONDS + tidy_budget_s))
  [ -z "${CELLARER_LONG:-}" ] || deadline=$((EPOCHSECONDS + 86400))
  : >"$clean/left"
  export root clean headers deadline
  tidied_files | xargs -0 -r -n 1 -P "$(nproc)" bash -c '
      state=$headers-$(sha256sum "$1" | cut -c 1-40)
      [ ! -f "$clean/$state" ] || exit 0
      ((EPOCHSECONDS < deadline)) || { echo "${1#"$root"/}" >>"$clean/left"; exit 0; }
      echo "${1#"$root"/}"
      report=$(clang-tidy -p "$clean/build" --quiet --warnings-as-errors="*" "$1" 2>&1) || { printf "%s\n" "$report"; exit 255; }
      touch "$clean/$state"' tidy || return 1
  [ ! -s "$clean/left" ] || echo "left for tests/run --long, for want of time: $(wc -l <"$clean/left") files"
}
