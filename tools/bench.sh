#!/usr/bin/env bash
# The table of docs/performance.md, in under ten minutes on two quiet cores: what the program takes, side by side in one run with what a
# person would use instead. Installs the Debian packages that the rivals need where they are missing. Says which ratio fell by a third since
# the landed table; no test hangs on it.
#
#     tools/bench.sh                 the table, to the terminal and into docs/performance.md, its pictures, docs/performance.json
#     tools/bench.sh --only idle     one part, to the terminal (and its picture): samples stop trace reread archive study mixed idle growth
#     tools/bench.sh --whole         the full sizes, which take longer than ten minutes
#     tools/bench.sh --look          the table, to the terminal; of the rest only the pictures are drawn anew
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
only=; look=; pass=()
while [ $# -gt 0 ]; do
  case $1 in
    --only) only=$2; pass+=(--only "$2"); shift ;;
    --whole) pass+=(--whole) ;;
    --look) look=1 ;;
    *) sed -n '2,9p' "$0" >&2; exit 2 ;;
  esac
  shift
done
[ -n "$only" ] || [ -n "$look" ] || pass+=(--write)

# package:the file that shows that it is there
needs=(
  gcc:/usr/bin/gcc
  python3-numpy:/usr/lib/python3/dist-packages/numpy/__init__.py
  python3-scipy:/usr/lib/python3/dist-packages/scipy/__init__.py
  python3-serial:/usr/lib/python3/dist-packages/serial/__init__.py
  r-base-core:/usr/bin/Rscript
  r-cran-lme4:/usr/lib/R/site-library/lme4/DESCRIPTION
  r-cran-pbkrtest:/usr/lib/R/site-library/pbkrtest/DESCRIPTION
)
missing=()
for need in "${needs[@]}"; do [ -e "${need#*:}" ] || missing+=("${need%%:*}"); done
if [ "${#missing[@]}" -gt 0 ]; then
  if command -v apt-get >/dev/null; then
    as_root=(); [ "$(id -u)" = 0 ] || as_root=(sudo)
    echo "Installing for the rivals: ${missing[*]}" >&2
    "${as_root[@]}" apt-get update -q >&2
    "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get install -y -q --no-install-recommends "${missing[@]}" >&2
  else
    echo "Not here, and not to be had without apt-get: ${missing[*]}. Their columns stay empty." >&2
  fi
fi

export DOTNET_CLI_TELEMETRY_OPTOUT=1 DOTNET_NOLOGO=1 PYTHONDONTWRITEBYTECODE=1
dotnet build tests/RigDaq.Benchmarks -c Release --nologo -v q -clp:ErrorsOnly -p:RunAnalyzers=false >&2
if [ -z "$only" ] || [ "$only" = idle ]; then
  # Compiled beforehand as a release is (DEVELOPERS.md), without the runtime in it, which takes minutes more to publish. With a lock file of
  # its own: a publication for one system would write that system into those that are committed.
  dotnet publish src/RigDaq.Daemon -c Release -r linux-x64 --no-self-contained -p:PublishReadyToRun=true \
    -p:NuGetLockFilePath=obj/bench.lock.json -p:RunAnalyzers=false --nologo -v q -clp:ErrorsOnly -o artifacts/bench >&2
  export RIGDAQ_PUBLISHED=$PWD/artifacts/bench/rigdaq
fi
exec tests/RigDaq.Benchmarks/bin/Release/net10.0/RigDaq.Benchmarks "$PWD" "${pass[@]}"
