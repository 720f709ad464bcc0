#!/usr/bin/env bash
# Kills `rigdaq serve` on a pseudo-terminal at moments that a seed picks and starts it again, 500 times by default (about an hour); counts runs published
# (Debian's mosquitto, a subscriber whose session stays), stored, interrupted, lost and doubled.
#
#     tools/load/kills.sh [COUNT] [SEED]
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/../.."
export RIGDAQ_KILLS=${1:-500} RIGDAQ_KILLS_SEED=${2:-1}
dotnet test --project tests/RigDaq.EndToEnd.Tests --filter-class '*KillsTest' --output Detailed
