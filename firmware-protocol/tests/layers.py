#!/usr/bin/env python3
"""Holds the core's walls: each file may know only files of lower layers, by what it includes and, given objects, by the symbols it calls.

    layers.py CORE [NM OBJECT...]
"""
import pathlib
import re
import subprocess
import sys

# Bytes and figures; the tick; the line; what is measured, what moves, what is allowed; what is told; the whole.
LAYERS = [
    {"wire", "limits", "crc16", "port"},
    {"frame", "stepper"},
    {"traits", "line", "converter"},
    {"force", "motion", "events", "supervisor", "blocks", "channels"},
    {"commands", "measuring"},
    {"device"},
]
LAYER = {name: depth for depth, names in enumerate(LAYERS) for name in names}


def includes(core):
    for path in sorted(core.glob("*.[ch]")):
        for name in re.findall(r'^#include "(\w+)\.h"', path.read_text(), re.M):
            if name != path.stem:
                yield path.stem, name, f"{path.name} includes {name}.h"


def calls(nm, objects):
    defines, needs = {}, []
    for path in map(pathlib.Path, objects):
        for line in subprocess.run([nm, path], capture_output=True, text=True, check=True).stdout.splitlines():
            kind, symbol = line.split()[-2:]
            if kind == "U":
                needs.append((path.stem, symbol))
            elif kind.isupper():
                defines[symbol] = path.stem
    for user, symbol in needs:
        if symbol in defines:
            yield user, defines[symbol], f"{user}.c calls {symbol} of {defines[symbol]}.c"


def main():
    core, *rest = sys.argv[1:]
    edges = list(includes(pathlib.Path(core)))
    files = {p.stem for p in pathlib.Path(core).glob("*.[ch]")}
    faults = [f"{name} stands in no layer" for name in sorted(files - LAYER.keys())]
    if rest:
        edges += calls(rest[0], rest[1:])
    faults += [what for user, used, what in edges if LAYER.get(used, 99) >= LAYER.get(user, -1)]
    for fault in dict.fromkeys(faults):
        print(fault)
    if not faults:
        print(f"ok layers: {len(files)} files, {len(set((u, d) for u, d, _ in edges))} edges, all of them down")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
