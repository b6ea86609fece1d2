# Shared by native/setup, native/run, wasm/run, tests/run: steps with their times, and building.
# Sourced, not run. Expects the caller to be in the project's folder.

export CCACHE_BASEDIR=$PWD CCACHE_NOHASHDIR=1   # one cache for every build folder
export NODE_PATH=${NODE_PATH:-/usr/share/nodejs}  # emscripten needs Debian's modules with any Node.js
unset EM_CACHE                                    # Debian's cache of emscripten is complete and frozen
EMSCRIPTEN_FILE=/usr/share/emscripten/cmake/Modules/Platform/Emscripten.cmake
started_all=$SECONDS

say() { printf '%s\n' "$*"; }
stop() { printf '%s\n' "$*" >&2; exit 1; }

minutes() { printf '%d:%02d' $(($1 / 60)) $(($1 % 60)); }

step_log() { printf 'build/logs/%s.log' "$(printf '%s' "$1" | tr -cs 'A-Za-z0-9' '-' | cut -c1-60)"; }

# step 'what happens' command…: says it, runs the command with its output in a log, shows that it is
# alive every ten seconds, and says how long it took. On failure prints what the log says of it;
# with `quiet` before the command only where the log is, for the caller has a better sentence.
step() {
  local what=$1 begun=$SECONDS log quiet=; shift
  [ "$1" = quiet ] && { quiet=yes; shift; }
  mkdir -p build/logs
  log=$(step_log "$what")
  printf '· %s' "$what"
  "$@" >"$log" 2>&1 &
  local worker=$! next=$((SECONDS + 10)) state=0
  trap 'kill '"$worker"' 2>/dev/null; printf "\n"; exit 130' INT TERM
  while kill -0 "$worker" 2>/dev/null; do
    sleep 0.2
    if [ $SECONDS -ge $next ]; then
      next=$((SECONDS + 10))
      printf '\n    %s  %s' "$(minutes $((SECONDS - begun)))" "$(tail -c 2000 "$log" | tr '\r' '\n' | grep . | tail -n 1 | cut -c1-100)"
    fi
  done
  wait "$worker" || state=$?
  trap - INT TERM
  if [ $state -eq 0 ]; then
    printf '  (%s)\n' "$(minutes $((SECONDS - begun)))"
  elif [ "$quiet" ]; then
    printf '  FAILED after %s, see %s\n' "$(minutes $((SECONDS - begun)))" "$log"
  else
    printf '  FAILED after %s\n' "$(minutes $((SECONDS - begun)))"
    { grep -E -A3 'error:|undefined reference|Error' "$log" || tail -n 20 "$log"; } |
      grep -v -e '^/usr/bin/ccache' -e '^em++: error' | cut -c1-240 | head -n 40 | sed 's/^/    | /'
    printf '    the whole of it: %s\n' "$log"
  fi
  return $state
}

# configure FOLDER cmake-arguments…: once, and again when the arguments are others.
configure() {
  local folder=$1; shift
  local arguments=("$@") place
  for place in STEEPBOOK_IMGUI_DIR STEEPBOOK_SQLITE_DIR STEEPBOOK_ZLIB_DIR STEEPBOOK_SODIUM_DIR; do
    [ -z "${!place:-}" ] || arguments+=("-D$place=${!place}")
  done
  if [ -f "$folder/build.ninja" ] && [ "$(cat "$folder/arguments" 2>/dev/null)" = "${arguments[*]}" ]; then
    return 0
  fi
  cmake -S . -B "$folder" -G Ninja "${arguments[@]}" && printf '%s\n' "${arguments[*]}" >"$folder/arguments"
}

# build 'what' FOLDER targets…
build() {
  local what=$1 folder=$2; shift 2
  NINJA_STATUS='[%f of %t] ' step "$what" ninja -C "$folder" "$@"
}
