#!/usr/bin/env python3
"""Writes zone_table.cpp: IANA zone name -> POSIX rule string.

The rule is the footer of each compiled zone file (RFC 8536, 3.3), read from the system's zone
files (Debian package tzdata).   make_zones.py OUTPUT [FOLDER]
"""
import os
import re
import sys

# Not places: other builds of the same tree, and files that only mean 'this machine'.
SKIPPED = {"posix", "right", "Factory", "localtime", "posixrules"}
NAME = re.compile(r"[A-Za-z][A-Za-z0-9_+\-]*(/[A-Za-z0-9_+\-]+)*\Z")
RULE = re.compile(r"[A-Za-z0-9<>+\-,./:]+\Z")


def footer(path):
    with open(path, "rb") as file:
        data = file.read()
    if not data.startswith(b"TZif") or data[4:5] < b"2":
        return None
    text = data.rstrip(b"\n").rsplit(b"\n", 1)[-1].decode("ascii", "replace")
    return text if data.endswith(b"\n") and RULE.match(text) else None


def zones(folder):
    found = {}
    for where, folders, files in os.walk(folder, followlinks=True):
        if where == folder:
            folders[:] = [f for f in folders if f not in SKIPPED]
        for file in files:
            path = os.path.join(where, file)
            name = os.path.relpath(path, folder).replace(os.sep, "/")
            if name in SKIPPED or not NAME.match(name):
                continue
            rule = footer(path)
            if rule:
                found[name] = rule
    return found


def main():
    output = sys.argv[1]
    folder = sys.argv[2] if len(sys.argv) > 2 else "/usr/share/zoneinfo"
    found = zones(folder)
    if len(found) < 300:
        sys.exit(f"make_zones.py: {folder} holds {len(found)} zones; install the package tzdata.")
    rows = "".join(f'    {{"{name}", "{rule}"}},\n' for name, rule in sorted(found.items()))
    text = (
        "// Made by core/base/make_zones.py from the system's zone files.\n"
        '#include "base/zone_table.h"\n\n'
        "namespace steep {\nnamespace {\n"
        f"constexpr ZoneRow kRows[] = {{\n{rows}}};\n"
        "}  // namespace\n\n"
        "std::span<const ZoneRow> zone_table() { return kRows; }\n\n"
        "}  // namespace steep\n")
    os.makedirs(os.path.dirname(os.path.abspath(output)), exist_ok=True)
    with open(output, "w", encoding="utf-8") as file:
        file.write(text)


if __name__ == "__main__":
    main()
