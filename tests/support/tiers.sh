# shellcheck shell=bash
# SPDX-License-Identifier: MIT
# How tests/run runs a tier and counts its cases. Sourced after demo/steps.sh.

cpp_tiers=(quantities numerics cell duty life stock review rounds access server faults)
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

# The counts of Catch2's console reports, of version 2 or 3, added up: "PASSED FAILED".
catch_counts() { # LOG
  sed -nE -e 's/^All tests passed \(.* in ([0-9]+) test cases?\).*/\1 0/p' -e '/^test cases:/{
    h; s/.*\| *([0-9]+) passed.*/\1/; t keep; s/.*/0/; :keep
    x; s/.*\| *([0-9]+) failed.*/\1/; t both; s/.*/0/; :both
    x; G; s/\n/ /; p }' "$1" | awk '{p += $1; f += $2} END{if (NR > 0) print p, f}'
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
  judge "$title" "$($counter "$step_log")" "$mode" "$(cat "$exit_file")"
}

# What ended badly failed whatever it counted, and perhaps before it counted at all; `step_log` is its log.
judge() { # TITLE COUNTS COUNT-OR-AGAIN EXIT-CODE
  local counts=$2
  if [ "$4" != 0 ]; then
    show_failure "$step_log"
    [[ $counts =~ ^[0-9]+\ [1-9][0-9]*$ ]] || counts="$(cut -d' ' -f1 <<<"${counts:-0}") 1"
  fi
  take_counts "$1" "$counts" "$3"
}

show_failure() { # LOG: the failing cases' own words, then the end
  { grep -n -m 3 -E '^ *not ok |FAILED:|Sanitizer|runtime error' "$1" || true; } | cut -c 1-300 | sed 's/^/   first: /'
  tail -n 60 "$1" | cut -c 1-400 | sed 's/^/   | /'
}

# A tier that waits for ever would hold up all; the last line of its log then names the case that ended last. None takes
# a third of this on two quiet cores.
cpp_tier_limit_s=1200

# Tiers of one build, some at a time. A tier's program has one thread, and HTTP's waits for services most of the time: it
# is run in pieces, one a file of its tests, that fill the gaps of the others. Cases tagged [alone], which are about how
# quickly something answers, come first and have nothing beside them.
cpp_tiers_run() { # AT-A-TIME BUILD-FOLDER CASES TIER...
  local at_a_time=$1 folder=$2 cases=$3 where='' tier state
  shift 3
  case $folder in
    */sanitize) where=' under the sanitizers' ;;
    */thread) where=' under the thread sanitizer' ;;
  esac
  for tier in "$@"; do
    [ -x "$folder/tests/test_$tier" ] || fail "the tier $tier was not built: ${folder#"$root"/}/tests/test_$tier"
  done
  step "tests$where: $*" run_pieces "$at_a_time" "$folder" "$cases" "$@"
  # After a failure others may not have come to their end: what did is counted, then the failure is told.
  for state in ended failed begun; do
    for tier in "$@"; do
      [ "$(cat "$pieces/$tier.state")" != "$state" ] || judge_tier "$tier" "tests: $tier$where" "$state"
    done
  done
}

pieces=$logs/pieces
tier_log() { echo "$logs/tier-$1.log"; } # TIER

judge_tier() { # TIER TITLE STATE
  local mode=count listed counts code=0
  [ -z "${counted[$1]:-}" ] || mode=again
  counted[$1]=yes
  step_log=$(tier_log "$1")
  listed=$(cat "$pieces/$1.listed")
  counts=$(catch_counts "$step_log")
  [ "$3" = ended ] || code=1
  if ((code == 0 && listed > 0)) && [ "$counts" != "$listed 0" ]; then
    echo "FAILED: of its $listed cases these passed and failed: ${counts:-none}" >>"$step_log"
    code=1
  fi
  say "-- $2"
  judge "$2" "$counts" "$mode" "$code"
}

# Plans the pieces of these tiers, runs them, and leaves of each tier its log and how it ended. None is begun after one
# that failed.
run_pieces() { # AT-A-TIME BUILD-FOLDER CASES TIER...
  local at_a_time=$1 folder=$2 cases=$3 tier
  shift 3
  export pieces folder cpp_tier_limit_s
  export -f within_limit run_piece
  rm -rf "$pieces"
  mkdir -p "$pieces"
  touch "$pieces/alone" "$pieces/beside"
  for tier in "$@"; do plan_pieces "$tier" "$cases" || return 1; done
  pieces_of 1 "$pieces/alone" && pieces_of "$at_a_time" "$pieces/beside" || true
  for tier in "$@"; do end_tier "$tier"; done
}
pieces_of() { xargs -r -n 3 -P "$1" bash -c 'run_piece "$@"' run_piece <"$2"; } # AT-A-TIME PLAN

# A line a piece: TIER NAME CASES. Catch's option -# tags each case with the file that it stands in.
plan_pieces() { # TIER CASES
  local file name not_alone='~[alone]' rest
  rest="${2//,/"$not_alone",}$not_alone"
  cases_of "$1" "$2" >"$pieces/$1.listed"
  plan_piece "$1" alone "${2//,/[alone],}[alone]" >>"$pieces/alone"
  if [ "$1" != http ]; then
    plan_piece "$1" all "$rest" >>"$pieces/beside"
    return
  fi
  for file in "$root"/tests/http/*.cpp; do
    name=$(basename "$file" .cpp)
    plan_piece "$1" "$name" "${rest//,/[#$name],}[#$name]" >>"$pieces/beside"
  done
}
plan_piece() { [ "$(cases_of "$1" "$3")" = 0 ] || echo "$@"; } # TIER NAME CASES

# How many there are. Version 2 of Catch ends with their number, as if it had failed.
cases_of() { # TIER CASES
  local listed
  listed=$("$folder/tests/test_$1" -# --list-tests "$2" | sed -nE 's/^([0-9]+) matching test cases?$/\1/p') || true
  echo "${listed:-0}"
}

run_piece() { # TIER NAME CASES
  local log=$pieces/$1.$2.log code=0 began=$SECONDS
  within_limit "$folder/tests/test_$1" -# --durations yes "$3" >"$log" 2>&1 || code=$?
  echo "$1, $2: exit $code after $((SECONDS - began)) s"
  if ((code != 0)); then mv "$log" "$log.failed"; exit 255; fi
  mv "$log" "$log.ended"
}

# What failed stands at the end of the tier's log.
end_tier() { # TIER
  local planned state=ended
  planned=$(cat "$pieces/alone" "$pieces/beside" | grep -c "^$1 ") || true
  [ "$(compgen -G "$pieces/$1.*.log.ended" | wc -l)" = "$planned" ] || state=begun
  ! compgen -G "$pieces/$1.*.log.failed" >/dev/null || state=failed
  echo "$state" >"$pieces/$1.state"
  find "$pieces" -name "$1.*.log.ended" | LC_ALL=C sort | xargs -r cat >"$(tier_log "$1")"
  find "$pieces" -name "$1.*.log.failed" | LC_ALL=C sort | xargs -r cat >>"$(tier_log "$1")"
}

within_limit() { # PROGRAM ARGUMENT...
  local code=0 limit_s=$cpp_tier_limit_s
  [ -z "${CELLARER_LONG:-}" ] || limit_s=7200
  timeout --foreground -k 10 "$limit_s" "$@" || code=$?
  ((code != 124)) || printf 'FAILED: it did not end within %d s\n' "$limit_s"
  return "$code"
}

# What the faults' tier printed beside its cases: the lines of its table (faults, acknowledged, lost, doubled).
show_table() { grep '^|' "$(tier_log faults)" | sed 's/^/   /' || true; }

# The same for DEVELOPERS.md, with the day and the commit that it is of.
keep_table() { # FILE
  local commit
  commit=$(git -C "$root" describe --always --dirty --exclude='*' 2>/dev/null) || commit=unknown
  { printf 'On %s, commit %s:\n\n' "$(LC_ALL=C date '+%-d %B %Y')" "$commit"; grep '^|' "$(tier_log faults)" || true; } >"$1"
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
tidy_budget_s=90
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
