#!/usr/bin/env python3
"""Verifies every chain of a handover file, written from DEVELOPERS.md alone:  verify.py FILE…"""
import gzip, hashlib, json, sys

def verify(path):
    with open(path, "rb") as file:
        data = file.read()
    data = gzip.decompress(data) if data[:2] == b"\x1f\x8b" else data
    *lines, trailer = data.rstrip(b"\n").split(b"\n")
    changes, last = 0, None
    for line in lines:
        if line.startswith(b'{"lane":'):
            last, start = bytes.fromhex(json.loads(line)["prev"]), json.loads(line)
            assert start["from"] > 1 or last == hashlib.sha256(b"steepbook/1" + start["lane"].encode()).digest(), "first line of a lane"
        elif line.startswith(b'{"v":'):
            last, changes = hashlib.sha256(last + line).digest(), changes + 1
        elif line.startswith(b'{"end":'):
            assert json.loads(line)["hash"] == last.hex(), "chain of " + json.loads(line)["end"]
    assert json.loads(trailer)["changes"] == changes, "number of changes"
    assert json.loads(trailer)["sha256"] == hashlib.sha256(b"".join(line + b"\n" for line in lines)).hexdigest(), "sum of the file"
    return changes

for path in sys.argv[1:]:
    print(path, verify(path), "changes, every chain holds")
