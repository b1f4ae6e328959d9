# shellcheck shell=bash
# SPDX-License-Identifier: MIT
# What demo/run and tests/run share: each long step says what it does and how long it took,
# writes its output to a log under build/logs, and stops the script with the log's end if it fails.
# Sourced, after `root` is set to the project's folder.

logs=$root/build/logs
mkdir -p "$logs"
running_step=

say() { printf '%s\n' "$*"; }
fail() { printf '\nstopped: %s\n' "$*" >&2; exit 1; }

# What a step printed last, as a sign of life: on a terminal in place, elsewhere every 30 seconds.
show_progress() {
  local log=$1 seconds=$2 line
  line=$(tail -c 400 "$log" 2>/dev/null | tr '\r' '\n' | sed 's/[^[:print:]]//g' | grep -a -v '^ *$' | tail -n 1 | cut -c 1-90) || return 0
  if [ -t 1 ]; then
    printf '\r\033[K   %4d s  %s' "$seconds" "$line"
  elif ((seconds > 0 && seconds % 30 == 0)); then
    printf '   %4d s  %s\n' "$seconds" "$line"
  fi
}

# step TITLE COMMAND...: the command runs in a group of its own, so that ending the script ends all of it.
step() {
  local title=$1 log code=0 start=$SECONDS last=0
  shift
  log=$logs/$(printf '%s' "$title" | tr -c 'A-Za-z0-9\n' '-' | tr -s '-' | cut -c 1-60).log
  printf '== %s\n' "$title"
  set -m
  "$@" >"$log" 2>&1 </dev/null &
  running_step=$!
  set +m
  while kill -0 "$running_step" 2>/dev/null; do
    sleep 0.2
    ((SECONDS == last)) || { last=$SECONDS; show_progress "$log" $((SECONDS - start)); }
  done
  wait "$running_step" || code=$?
  running_step=
  [ ! -t 1 ] || printf '\r\033[K'
  step_log=$log
  step_seconds=$((SECONDS - start))
  if ((code != 0)); then
    step_failed "$title" "$log" "$code"
  fi
  ((step_seconds < 2)) || printf '   done in %d s\n' "$step_seconds"
}

# The reason, as far as the log tells it: its first error lines, then its end.
step_failed() {
  local title=$1 log=$2 code=$3
  printf '   failed (exit %d); the whole log is %s\n' "$code" "${log#"$root"/}"
  grep -n -m 6 -iE '(^|[^a-z])(error|fatal|E):' "$log" | cut -c 1-300 | sed 's/^/   first errors: /' || true
  tail -n 40 "$log" | cut -c 1-400 | sed 's/^/   | /'
  fail "$title"
}

# Ends what a step started; scripts call it from their traps.
end_running_step() {
  [ -z "$running_step" ] || kill -TERM -- "-$running_step" 2>/dev/null || true
  running_step=
}
trap end_running_step EXIT
trap 'exit 130' INT
trap 'exit 143' TERM

# A name for the state of files: whether what was built from them is still current.
state_of() { # FILE-OR-FOLDER...
  find "$@" -type f ! -path '*/node_modules/*' ! -path '*/dist/*' -print0 2>/dev/null | LC_ALL=C sort -z | xargs -0 sha256sum | sha256sum | cut -d' ' -f1
}

# CMake's first call for a build folder, and again only where its options change.
configure() { # FOLDER OPTION...
  local folder=$1 launcher=()
  shift
  if grep -qs '^CMAKE_HOME_DIRECTORY' "$folder/CMakeCache.txt" && ! grep -qsxF "CMAKE_HOME_DIRECTORY:INTERNAL=$root" "$folder/CMakeCache.txt"; then
    rm -rf "$folder/CMakeCache.txt" "$folder/CMakeFiles" # the project was moved or copied
  fi
  command -v ccache >/dev/null && launcher=(-DCMAKE_CXX_COMPILER_LAUNCHER=ccache)
  cmake -G Ninja -S "$root" -B "$folder" "${launcher[@]}" "$@"
}

# The pages, where their sources are newer than what was built.
build_pages() {
  local stamp=$root/build/pages.state state
  [ -f "$root/web/package.json" ] || { echo "no pages yet: web/package.json is missing"; return 1; }
  state=$(state_of "$root/web")
  if [ -d "$root/web/dist" ] && [ "$(cat "$stamp" 2>/dev/null)" = "$state" ]; then
    echo "the pages are up to date"
    return 0
  fi
  (cd "$root/web" && npm run build) && echo "$state" >"$stamp"
}
