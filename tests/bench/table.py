#!/usr/bin/env python3
"""Prints figures as a table and keeps them:   table.py FIGURES.jsonl BENCH.json"""
import json
import sys


def main():
    source, target = sys.argv[1:]
    with open(source, encoding="utf-8") as file:
        rows = [json.loads(line) for line in file if line.strip()]
    with open(target, "w", encoding="utf-8") as file:
        json.dump(rows, file, indent=1, ensure_ascii=False)
        file.write("\n")
    if not rows:
        print("No figure was measured.")
        return 1
    width = max(len(row["name"]) for row in rows)
    for row in rows:
        ratio = "" if row.get("ratio") is None else f"{row['ratio']:8.3g} of {row['against']}"
        print(f"{row['name']:{width}}  {row['value']:>10} {row['unit']:<6} {ratio}")
    print(f"kept in {target}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
