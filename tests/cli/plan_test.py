#!/usr/bin/env python3
"""steepbook plan on the demo farm: what it says, what it writes, what it refuses.   plan_test.py PROGRAM"""
import json
import os
import subprocess
import tempfile

from checks import check, finish, home_in, program

ACRE = 43560.0
GALLON = 3.785411784  # L, exact


def near(a, b, within=1e-6):
    return abs(a - b) <= within * max(1.0, abs(b))


with tempfile.TemporaryDirectory() as folder:
    book = os.path.join(folder, "book.sqlite")
    home = home_in(folder)

    def run(*words):
        done = subprocess.run([program, *words], capture_output=True, text=True, env=home)
        return done.returncode, done.stdout, done.stderr

    def on_book(*words):
        # Years ahead, where this machine's clock never comes: that is asked about, so there is a reason.
        reason = ["--reason", "tried years ahead"] if words[0] == "plan" else []
        return run("--book", book, "--as", "Ana Leland", *words, *reason)

    def listed(kind):
        return json.loads(on_book("list", kind, "--json")[1])

    code, _, said = run("demo", book)
    check("the demo is made", code == 0, said)
    plans_before = len(listed("plan"))

    # 24 beds of North, four of them 70 ft long, 30 in wide; 20 gal tea in 45 gal spray an acre of bed top.
    area = (20 * 100 + 4 * 70) * 2.5
    tea = (area / ACRE * 20 + 0.15 * 20 / 45) * 1.05
    code, out, said = on_book("plan", "--block", "North", "--at", "2030-06-04 18:40", "--temperature", "68 F", "--dry", "--json")
    check("a dry plan", code == 0, said)
    code, _, said = run("--book", book, "--as", "Ana Leland", "plan", "--block", "North", "--at", "2030-06-04 18:40", "--dry")
    check("years ahead are asked about", code == 2 and "2030" in said, code, said)
    plan = json.loads(out)
    check("nothing was written", plan["id"] is None and len(listed("plan")) == plans_before)
    (round_,) = plan["rounds"]
    check("tea to brew, in liters", near(round_["tea"], tea * GALLON), round_["tea"], tea * GALLON)
    check("spray with what stays in the tank", near(round_["spray"], (area / ACRE * 45 + 0.15) * GALLON))
    check("two loads, the last to the end of the walk", [load["last-bed"] for load in round_["loads"]] == ["N16", "N24"])
    check("loads sum to the whole", near(sum(load["add-tea"] + load["add-water"] for load in round_["loads"]), round_["spray"]))
    check("a range stays a range", [line["high"] / line["low"] for line in round_["lines"] if line["material"] == "Liquid kelp"] == [2.0])
    check("the first bed at the time asked for", round_["spray-from"] == "2030-06-04T18:40:00-07:00", round_["spray-from"])
    check("a vessel with something in it is a doubt", any(d["word"] == "plan.doubt-vessel-held" for d in plan["doubts"]))

    # What is written, and where: the brew in the house, the pass on the farm.
    code, out, said = on_book("plan", "--beds", "N1,n2", "--beds", "N03", "--at", "2030-06-04 18:40", "--volume", "5 gal",
                              "--amount", "Worm compost=1.2 lb", "--air-on", "2030-06-03 18:00")
    check("a plan is written", code == 0, said)
    for text in ("3 beds, North", "to brew: 5.00 gal of tea", "Worm compost: 1.2 lb", "common practice, no source", "(Ana Leland)"):
        check(f"it says '{text}'", text in out, out)
    new = [row for row in listed("plan") if row["at"] and row["at"].startswith("2030")]
    check("one brew, one pass", sorted(row["what"] for row in new) == ["brew", "pass"], new)
    brew = next(row for row in new if row["what"] == "brew")
    sprayed = next(row for row in new if row["what"] == "pass")
    check("the brew is of the house", not brew["farm"] and brew["at"].startswith("2030-06-03T18:00") and brew["volume"] == "5 gal", brew)
    check("the pass is the farm's", sprayed["farm"] == "Alder Reach" and sprayed["beds"] == "N1, N2, N3" and sprayed["tea"] == "20 gal/acre", sprayed)
    check("the last line is the pass's plan", out.strip().splitlines()[-1] == sprayed["id"])

    # A season; over the clock change the hour stays.
    code, out, said = on_book("plan", "--block", "Creek", "--at", "2031-10-20 18:40", "--every", "14", "--until", "2031-12-01", "--json")
    check("a season is written", code == 0, said)
    rounds = json.loads(out)["rounds"]
    check("four rounds", [r["spray-from"] for r in rounds] == ["2031-10-20T18:40:00-07:00", "2031-11-03T18:40:00-08:00",
                                                            "2031-11-17T18:40:00-08:00", "2031-12-01T18:40:00-08:00"], rounds)
    check("each with its brew and pass", len([r for r in listed("plan") if r["at"] and r["at"].startswith("2031")]) == 8)

    # A brew across the spring clock change: 24 real hours before 19:00 are 18:00 of the day before.
    code, out, said = on_book("plan", "--beds", "N1", "--at", "2031-03-09 19:30", "--air-on", "2031-03-08 18:00", "--temperature", "68 F", "--dry", "--json")
    check("a brew over the night of the change", code == 0, said)
    plan = json.loads(out)
    check("it says that the clock changes", any(d["word"] == "plan.doubt-clock" for d in plan["doubts"]))

    # Not done, with a reason, and only once.
    code, _, said = on_book("plan", "--not-done", sprayed["id"], "--why", "rain")
    check("not done", code == 0, said)
    check("the reason is kept", any(r["not_done"] == "rain" for r in listed("plan")))
    code, _, said = on_book("plan", "--not-done", sprayed["id"], "--why", "rain")
    check("not twice", code == 2 and "not open" in said, said)

    # A vessel too small: what is brewed is said, and nothing beyond it is spare.
    said = on_book("plan", "--beds", "N1", "--volume", "500 gal", "--at", "2031-05-09 18:30", "--dry")[1]
    check("no spare that nobody brews", "1 bed, North" in said and "499" not in said, said)
    for words in (["--units", "furlongs"], ["--language", "xx"]):
        code, out, said = run("work", "oxygen", "--temperature", "68 F", *words)
        check(f"work refuses {words}", code == 2 and not out and words[1] in said, code, out, said)

    # What cannot be read is refused with a sentence.
    for words, text in ((["--beds", "Q99"], "Q99"), (["--at", "2031-03-09 02:30", "--beds", "N1"], "02:30"), (["--every", "14"], "--until"),
                        (["--tea-rate", "15 gal"], "15 gal"), (["--reserve", "140 %", "--beds", "N1"], "reserve"),
                        (["--tea-rate", "50 gal/acre", "--beds", "N1"], "spray")):
        code, out, said = on_book("plan", *words)
        check(f"refused: {words}", code == 2 and text in said and not out, code, said)
    code, _, said = run("--book", os.path.join(folder, "none.sqlite"), "plan")
    check("no book", code == 2 and said, said)
    check("in Spanish", "1 cama" in on_book("plan", "--beds", "N1", "--at", "2031-05-09 18:30", "--dry", "--language", "es")[1])

finish()
