#!/usr/bin/env bash
# Every test of the project. Installs the Debian packages that the real parts of the tests need (a browser, a broker, the
# firmware's compiler and simulator) where they are missing, builds with warnings as errors, runs all tests, and ends with
# one line: N passed, N failed, N skipped. Arguments are handed on to `dotnet test`.
#
# `--quick` as the first argument runs what needs neither a browser nor a broker nor a simulated board nor a running daemon, in
# under three minutes: the measurement, the tables, the wire's text, the archive, the rig's logic, the reports. It installs nothing.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
quick=; if [ "${1:-}" = --quick ]; then quick=1; shift; fi

# package:the file that shows that it is there
needs=(
  chromium:/usr/bin/chromium
  mosquitto:/usr/sbin/mosquitto
  mosquitto-clients:/usr/bin/mosquitto_sub
  gcc:/usr/bin/gcc
  make:/usr/bin/make
  python3:/usr/bin/python3
  fish:/usr/bin/fish
  zsh:/usr/bin/zsh
  python3-matplotlib:/usr/lib/python3/dist-packages/matplotlib/__init__.py
  tidy:/usr/bin/tidy
  gcc-avr:/usr/bin/avr-gcc
  avr-libc:/usr/lib/avr/include/avr/io.h
  simavr:/usr/bin/simavr
  libsimavr-dev:/usr/include/simavr/sim_avr.h
  libelf-dev:/usr/include/libelf.h
  gcc-arm-none-eabi:/usr/bin/arm-none-eabi-gcc
  libnewlib-arm-none-eabi:/usr/lib/arm-none-eabi/newlib/nano.specs
  qemu-system-arm:/usr/bin/qemu-system-arm
)
[ -z "$quick" ] || needs=()
missing=()
for need in "${needs[@]}"; do [ -e "${need#*:}" ] || missing+=("${need%%:*}"); done
if [ "${#missing[@]}" -gt 0 ]; then
  if command -v apt-get >/dev/null; then
    as_root=(); [ "$(id -u)" = 0 ] || as_root=(sudo)
    echo "Installing for the tests: ${missing[*]}"
    "${as_root[@]}" apt-get update -q
    "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get install -y -q --no-install-recommends "${missing[@]}"
  else
    echo "Not here, and not to be had without apt-get: ${missing[*]}. The tests that need them are skipped by name." >&2
  fi
fi

# The Nu Html Checker, as npm carries it; where npm or Java is missing, its one test is skipped by name (Tidy's are not).
checker=${XDG_CACHE_HOME:-$HOME/.cache}/rigdaq-tests
if [ -z "$quick" ] && [ -z "${RIGDAQ_VNU:-}" ] && command -v npm >/dev/null && command -v java >/dev/null; then
  jar=$checker/node_modules/vnu-jar/build/dist/vnu.jar
  [ -e "$jar" ] || npm install --silent --no-save --no-audit --no-fund --prefix "$checker" vnu-jar@26.9.27 || true
  [ ! -e "$jar" ] || export RIGDAQ_VNU=$jar
fi

# The checkers of the pages' scripts; where npm is missing, their tests are skipped by name.
if [ -z "$quick" ] && command -v npm >/dev/null && [ ! -d tools/page/node_modules ]; then
  npm ci --silent --no-audit --no-fund --prefix tools/page || true
fi

# The programs that tests start, too, are over before this has paid (see Directory.Build.props).
export DOTNET_TieredPGO=0
results=$(mktemp -d)
trap 'rm -rf "$results"' EXIT
dotnet build RigDaq.sln --nologo -v q -clp:ErrorsOnly -warnaserror
status=0
more=("$@")
run() { # AT-ONCE "ROOM…" FILTER…
  local at_once=$1 rooms=$2 modules; shift 2
  modules=$(printf 'tests/RigDaq.%s.Tests/bin/Debug/net10.0/RigDaq.%s.Tests.dll;' $(for room in $rooms; do echo "$room" "$room"; done))
  dotnet test --test-modules "${modules%;}" --max-parallel-test-modules "$at_once" --report-trx \
    --results-directory "$(mktemp -d "$results/XXXXXX")" "$@" "${more[@]}"
}
# None of these runs anything in wall time: they need processors, and nothing else.
pure="Core Tables Archive Reports"
simulated_night=RigDaq.Daemon.Tests.Night simulated_board=RigDaq.Firmware.Tests.LockStep
reckoning() {
  local beside failed=0
  # Each is run, whatever became of the other.
  (
    run 1 Firmware --filter-namespace "$simulated_board" || failed=1
    run 1 Daemon --filter-namespace "$simulated_night" || failed=1
    exit "$failed"
  ) > "$results/beside.log" 2>&1 &
  beside=$!
  run 2 "$pure" || failed=1
  wait "$beside" || failed=1
  cat "$results/beside.log"
  return "$failed"
}
# The others run rigs, a daemon, a browser or a simulated board in wall time, where a control loop that gets no processor for half a
# second stops, as it should: they go one at a time, with nothing beside them. (What reckons beside them in the idle scheduling class
# was tried: three tests failed, and two cores may be one.)
waiting() {
  local failed=0 others= project room
  for project in tests/*.Tests; do
    room=${project#tests/RigDaq.}; room=${room%.Tests}
    [[ " $pure Firmware Daemon " == *" $room "* ]] || others+=" $room"
  done
  run 1 Firmware --filter-not-namespace "$simulated_board" || failed=1
  run 1 Daemon --filter-not-namespace "$simulated_night" || failed=1
  run 1 "$others" || failed=1
  return "$failed"
}
if [ -n "$quick" ]; then
  # Its virtual rigs run in wall time: beside another project one in some runs comes too late. Between two edits that is borne.
  run 2 "$pure Rig" || status=$?
else
  reckoning || status=$?
  waiting || status=$?
fi

# Counted from the result files, one a test project and part, not from what was printed.
count() { find "$results" -name '*.trx' -exec grep -ohE '<UnitTestResult [^>]*' {} + | grep -cE "outcome=\"$1\"" || true; }
passed=$(count Passed)
skipped=$(count NotExecuted)
failed=$(count '(Failed|Error|Timeout|Aborted)')
# A runner that died without a result has failed, whatever was counted.
if [ "$status" -ne 0 ] && [ "$failed" -eq 0 ]; then failed=1; fi
if [ "$passed" -eq 0 ]; then echo "No test was run." >&2; status=1; fi
echo "$passed passed, $failed failed, $skipped skipped"
exit "$status"
