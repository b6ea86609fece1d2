#!/usr/bin/env python3
"""Do the native program and WebAssembly answer alike?   compare.py NATIVE.txt WASM.txt

Both hold the output of steepbook_same. Words must be the same letter for letter. Numbers must be the same
bit for bit, or agree in 13 digits: the two C libraries round the last bit of sin, exp and pow differently, and
a fit adds up many of them. Prints each calculation that differs and 'N passed, M failed'; one check a line.
"""
import re
import sys

AGREE = 1e-13
NUMBER = re.compile(r"-?\d+(?:\.\d+)?(?:e[-+]?\d+)?")


def main():
    sides = []
    for path in sys.argv[1:3]:
        with open(path, encoding="utf-8") as file:
            sides.append(file.read().splitlines())
    native, wasm = sides
    passed = failed = identical = 0
    farthest, at, asked = 0.0, "", ""
    if len(native) != len(wasm):
        print(f"{len(native)} lines natively, {len(wasm)} as WebAssembly")
        failed += 1
    for ours, theirs in zip(native, wasm):
        if ours.startswith("> "):
            asked = ours
        if ours == theirs:
            identical += 1
            passed += 1
            continue
        apart = 0.0
        same_words = NUMBER.sub("#", ours) == NUMBER.sub("#", theirs)
        if same_words:
            for one, other in zip(NUMBER.findall(ours), NUMBER.findall(theirs)):
                size = max(abs(float(one)), abs(float(other)))
                apart = max(apart, abs(float(one) - float(other)) / size if size else 0.0)
        if apart > farthest:
            farthest, at = apart, asked
        if same_words and apart <= AGREE:
            passed += 1
        else:
            failed += 1
            print(f"{asked}\n  native: {ours}\n  wasm:   {theirs}")
    calculations = len({line.split()[1] for line in native if line.startswith("> ")})
    if calculations < 20:
        print(f"only {calculations} calculations were asked")
        failed += 1
    print(f"{calculations} calculations, {sum(line.startswith('> ') for line in native)} questions: "
          f"{identical} lines bit for bit, the others within {farthest:.1e} of the number{' (' + at + ')' if at else ''}")
    print(f"{passed} passed, {failed} failed")
    return 1 if failed else 0


sys.exit(main())
