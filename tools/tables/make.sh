#!/usr/bin/env bash
# Writes the foreign tables of tests/RigDaq.Tables.Tests/Foreign anew; README.md says with what.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")"
foreign=../../tests/RigDaq.Tables.Tests/Foreign
Rscript write.R "$foreign"
/usr/bin/python3 write.py "$foreign"
plain=$(mktemp -d)
trap 'rm -rf "$plain"' EXIT
sed -e '/^#/d' -e '1,/time_s/s/time_s,force_N,position_mm/Time (s),Load (N),Crosshead (mm)/' "$foreign/source-puncture.csv" > "$plain/puncture.csv"
ssconvert "$plain/puncture.csv" "$foreign/gnumeric.xlsx"
ssconvert --export-type=Gnumeric_Excel:excel_biff8 "$plain/puncture.csv" "$foreign/gnumeric.xls"
ssconvert --export-type=Gnumeric_stf:stf_assistant -O 'separator=| quoting-mode=never' "$plain/puncture.csv" "$foreign/gnumeric-pipe.txt"
