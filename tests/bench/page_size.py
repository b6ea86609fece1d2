#!/usr/bin/env python3
"""What a first visit loads, compressed as servers send it (wasm/compress.mjs).   page_size.py FOLDER"""
import json
import os
import sys


def size(path, ending):
    return os.path.getsize(path + ending if os.path.exists(path + ending) else path)


def main():
    folder = sys.argv[1]
    names = [name for name in os.listdir(folder) if not name.endswith((".br", ".gz"))]
    for coding, ending in [("gzip", ".gz"), ("brotli", ".br")]:
        sizes = {name: size(os.path.join(folder, name), ending) for name in names}
        every = sum(sizes.values())
        first = every - sum(sizes.get(name, 0) for name in sizes if name.startswith("rescue."))
        program = sum(value for name, value in sizes.items() if name.endswith(".wasm"))
        for what, value, against, limit in [
            ("all files", every, "900 KB", 900),
            ("files of a first visit", first, "900 KB", 900),
            ("program alone", program, "an empty Dear ImGui + SQLite page, 386 KB by gzip", 386),
        ]:
            print(json.dumps({"name": f"page, {what}, {coding}", "value": round(value / 1000, 1), "unit": "KB",
                              "against": against, "ratio": round(value / 1000 / limit, 3)}))


if __name__ == "__main__":
    main()
