#!/usr/bin/env python3
"""What a first visit loads: every file of the page, gzipped as servers send it.   page_size.py FOLDER"""
import gzip
import json
import os
import sys

# Kept by the browser but not fetched on a first visit's way to the first screen: the page for trouble.
LATER = {"rescue.html", "rescue.css", "rescue.js"}


def size(path):
    with open(path, "rb") as file:
        return len(gzip.compress(file.read(), 9, mtime=0))


def main():
    folder = sys.argv[1]
    first = every = program = 0
    for place, _, names in os.walk(folder):
        for name in names:
            bytes_sent = size(os.path.join(place, name))
            every += bytes_sent
            first += 0 if name in LATER else bytes_sent
            program += bytes_sent if name.endswith(".wasm") else 0
    kb = 1000
    for name, value, against, limit in [
        ("page, all files, gzip", every, "900 KB", 900),
        ("page, files of a first visit, gzip", first, "900 KB", 900),
        ("page, program alone, gzip", program, "an empty Dear ImGui + SQLite page, 386 KB", 386),
    ]:
        print(json.dumps({"name": name, "value": round(value / kb, 1), "unit": "KB", "against": against,
                          "ratio": round(value / kb / limit, 3)}))


if __name__ == "__main__":
    main()
