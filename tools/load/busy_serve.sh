#!/usr/bin/env bash
# Counts the holds of ten minutes with every core kept busy by loops of usual priority: one `rigdaq serve` that may raise itself, one beside it that may not (user nobody).
# As root, because only root can start both. Without root: tools/load/busy_machine.py, with a demo.
#
#     tools/load/busy_serve.sh [MINUTES] [LOOPS]
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/../.."
export RIGDAQ_BUSY_MINUTES=${1:-10} RIGDAQ_BUSY_LOOPS=${2:-$(nproc)}
dotnet test --project tests/RigDaq.EndToEnd.Tests --filter-class '*BusyMachineMeasurement' --output Detailed
