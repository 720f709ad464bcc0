#!/usr/bin/env python3
"""Prints the notices of everything of others that a published folder holds.

notices.py FOLDER: reads FOLDER/rigdaq.deps.json (what is in the program) and the packages' own .nuspec and licence files in the
packages folder (NUGET_PACKAGES, or ~/.nuget/packages). A package without a licence that can be named ends it with 1.
"""
import json
import os
import pathlib
import sys
import xml.etree.ElementTree as tree

folder = pathlib.Path(sys.argv[1])
cache = pathlib.Path(os.environ.get("NUGET_PACKAGES") or pathlib.Path.home() / ".nuget/packages")
libraries = json.loads((folder / "rigdaq.deps.json").read_text())["libraries"]
unknown = []
print("RigDaq holds the following works of others, each under its own licence.\n")
for name, library in sorted(libraries.items()):
    if library["type"] == "project":
        continue
    identity, version = name.removeprefix("runtimepack.").split("/")
    place = cache / identity.lower() / version.lower()
    spec = next(place.glob("*.nuspec"), None)
    if spec is None:
        unknown.append(name)
        continue
    values = {e.tag.split("}")[1]: e for e in tree.parse(spec).getroot().iter()}
    licence = values.get("license")
    text = (lambda key: (values[key].text or "").strip() if key in values else "")
    files = [f for f in place.iterdir() if f.is_file() and f.name.lower().startswith(("license", "third", "notice", "copying"))]
    if licence is not None and licence.get("type") == "file":
        files.append(place / (licence.text or "").replace("\\", "/"))
    words = licence.text if licence is not None and licence.get("type") == "expression" else text("licenseUrl")
    if not words and not files:
        unknown.append(name)
    print(f"{'-' * 72}\n{identity} {version}\n{text('copyright') or text('authors')}\n{text('projectUrl')}\nLicence: {words or 'below'}\n")
    for file in sorted({f.resolve() for f in files if f.exists()}):
        print(file.read_text(encoding="utf-8-sig", errors="replace"), "\n")
if unknown:
    sys.exit(f"No licence is known of: {', '.join(unknown)}")
