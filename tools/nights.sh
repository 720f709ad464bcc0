#!/usr/bin/env bash
# Simulated nights by the seed: sequencer, recorder, archive and outbox under faults of link, device, person, disk, broker and clock,
# the process killed at any step and started again. 200,000 of them by default; the first argument says how many.
# A failing night is repeated by RIGDAQ_NIGHT_SEED=N.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
export RIGDAQ_NIGHTS=${1:-200000}
dotnet test --project tests/RigDaq.Daemon.Tests --filter-class '*NightTest' --output Detailed
