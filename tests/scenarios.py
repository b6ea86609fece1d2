#!/usr/bin/env python3
"""The list of merge scenarios with pass or fail:   scenarios.py build/native/steepbook_unit

Each is one or several test cases 'scenario NN: …' that meet through real handover files. Some of what belongs
to scenarios 18, 19 and 23 happens in a browser and is tested there too (tests/browser/suites/3_storage.mjs)."""
import re
import subprocess
import sys
import xml.etree.ElementTree

SCENARIOS = 42
report = subprocess.run([sys.argv[1], "-tc=scenario*", "-r=xml"], capture_output=True, text=True)
found = {}
for case in xml.etree.ElementTree.fromstring(report.stdout).iter("TestCase"):
    named = re.match(r"scenario (\d+): (.*)", case.get("name"))
    if named is None or case.get("skipped") == "true":
        continue
    number, words = named.groups()
    right = case.find("OverallResultsAsserts").get("test_case_success") == "true"
    found.setdefault(int(number), []).append((right, words))
failed = 0
for number in range(1, SCENARIOS + 1):
    for right, words in found.get(number, [(False, "there is no test of it")]):
        failed += not right
        print(f"{'pass' if right else 'FAIL'}  {number:02}  {words}")
print(f"{sum(map(len, found.values())) - failed} passed, {failed} failed")
sys.exit(failed > 0)
