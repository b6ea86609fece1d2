#!/usr/bin/env python3
"""steepbook paper and list on the demo farm: farms and days kept to, words and units of the reader.   paper_test.py PROGRAM"""
import csv
import io
import json
import os
import subprocess
import tempfile

from checks import check, finish, home_in, program

with tempfile.TemporaryDirectory() as folder:
    book = os.path.join(folder, "book.sqlite")
    home = home_in(folder)

    def run(*words):
        done = subprocess.run([program, "--book", book, "--as", "Ana Leland", *words], capture_output=True, text=True, env=home)
        return done.returncode, done.stdout, done.stderr

    def rows(*words):
        return list(csv.DictReader(io.StringIO(run(*words)[1])))

    code, _, said = run("demo", book, "--now", "2026-05-14 18:39")
    check("the demo is made", code == 0, said)

    # Rows of a paper are those of the list: of the days, of the farm.
    check("the days hold for papers", 0 < len(rows("paper", "dose", "--from", "2026-05-10", "-o", "-"))
          == len(rows("list", "dose", "--from", "2026-05-10", "--csv")) < len(rows("paper", "dose", "-o", "-")))
    code, farm, said = run("enter", "farm", "name=Mesa")
    check("a client's farm", code == 0, said)
    code, block, said = run("--farm", "Mesa", "enter", "block", "farm=Mesa", "name=East")
    check("its block", code == 0, said)
    code, _, said = run("--farm", "Mesa", "enter", "bed", "block=" + block.strip(), "name=E1", "length=100 ft 6 in", "width=30 in")
    check("its bed", code == 0, said)
    check("one farm's paper has no other's rows", [row["name"] for row in rows("--farm", "Mesa", "paper", "bed", "-o", "-")] == ["E1"])
    check("nor has the history", run("--farm", "Mesa", "history", "--kind", "pass", "--json")[1].strip() == "[]")
    for words in (["--farm", "Mesa", "paper", "inspection"], ["paper", "dose"], ["list", "dose"], ["history"]):
        code, out, said = run(*words, "--from", "2026-05-10", "--to", "2026-05-01")
        check(f"{words[-2:]}: the first day after the last is refused", code == 2 and "is after the last" in said, code, said)

    # Text for people: their words and units. CSV as stored.
    text = run("--farm", "Mesa", "list", "bed")[1]
    check("feet and inches as they are said", "100 ft 6 in" in text and "1206 in" not in text, text)
    spanish = run("--farm", "Mesa", "--language", "es", "--units", "metric", "list", "bed")[1]
    check("Spanish headings, meters", "nombre" in spanish and "largo" in spanish and "30.6 m" in spanish, spanish)
    check("CSV as stored", rows("--farm", "Mesa", "list", "bed", "--csv")[0]["length"] == "1206 in")
    # A farm's own units, in every sentence; its clock, in a history too.
    luz = os.path.join(folder, "luz.sqlite")

    def of_luz(*words):
        done = subprocess.run([program, "--book", luz, "--language", "es", *words], capture_output=True, text=True, env=home)
        return done.stdout + done.stderr

    of_luz("enter", "farm", "name=Finca Luz", "zone=America/New_York", "units=metric", "--as", "Luz Cruz")
    of_luz("enter", "block", "farm=Finca Luz", "name=Norte")
    of_luz("enter", "bed", "block=Norte", "name=N1", "length=30.5 m", "width=75 cm")
    of_luz("enter", "rig", "name=Mochila", "kind=backpack")
    of_luz("enter", "brew", "fill=40 L", "met_water=2026-05-13 06:00")
    of_luz("enter", "pass", "rig=Mochila", "aim=leaf", "people=Luz", "start=2026-05-14 06:30", "tea=150 L/ha", "spray=400 L/ha", "area=bed-top", "beds=N1")
    of_luz("enter", "load", "pass=1", "number=1", "brew=1", "tea=0.7 L", "water=1.2 L", "filled=2026-05-14 06:25", "held=nothing", "cleaned=yes")
    of_luz("enter", "dose", "load=1 / 1", "bed=N1", "how=done", "finish=2026-05-14 06:35")
    said = of_luz("enter", "dose", "load=1 / 1", "bed=N1", "from=0 m", "to=100 m", "how=done", "finish=2026-05-14 06:38")
    check("what is refused is told in the farm's units", "100 m" in said and "30.5 m" in said and "pies" not in said, said)
    said = of_luz("trace", "brew 1")
    check("so is what a brew touched", "0 m – 30.5 m" in said, said)
    said = of_luz("list", "dose")
    check("the volumes that a bed got, '~' while they are rate × area", "mezcla" in said and "~915 mL" in said and "~337 mL" in said, said)
    check("others where asked for", "0 pies – 100 pies" in of_luz("--units", "us", "trace", "brew 1"))
    written = json.loads(subprocess.run([program, "--book", luz, "--json", "list", "dose"], capture_output=True, text=True, env=home).stdout)[0]["made"]
    history = json.loads(subprocess.run([program, "--book", luz, "--json", "history", "--kind", "dose"], capture_output=True, text=True, env=home).stdout)
    check("a history on the farm's clock", {row["when"][:19] for row in history} == {written[:19]}, written, history[:1])
    said = of_luz("list", "load")
    check("a load's columns by what they are", "lo que llevaba antes el tanque" in said and "limpiado después" in said, said)

    spanish = run("--language", "es", "list", "reading")[1]
    check("readings in Spanish", "Temperatura" in spanish and "a tierra" in spanish and "earthy" not in spanish, spanish[:300])
    spanish = run("--language", "es", "list", "wash")[1]
    check("what was held", "Té 1" in spanish and "brew" not in spanish and " sí" in spanish, spanish[:300])
    history = run("--language", "es", "history", "--kind", "reading")[1]
    check("a history too", history.startswith("cuándo") and "Temperatura" in history, history[:300])

    # By its id a record without a name can be named.
    listed = run("list", "plan", "--ids")[1].splitlines()
    ids = [row["id"] for row in json.loads(run("list", "plan", "--json")[1])]
    check("ids where asked for", ids and [line.split()[0] for line in listed[1:]] == ids, listed)
    check("else none", not any(id in run("list", "plan")[1] for id in ids))
    run("plan", "--beds", "N1", "--at", "2026-06-04 18:40")
    check("plans of a pass are told without ids", not any(row["id"] in run("list", "plan")[1]
                                                          for row in json.loads(run("list", "plan", "--json")[1])))

    # A question of two records names both.
    for name in ("Kelp A", "Kelp A"):
        run("enter", "material", "name=" + name, "kind=microbe-food")
    kelps = [row["id"] for row in json.loads(run("list", "material", "--json")[1]) if row["name"] == "Kelp A"]
    question = next((line for line in run("settle")[1].splitlines() if "Kelp A" in line), "")
    check("both ids of a question", len(kelps) == 2 and all(id in question for id in kelps), question)

    # The report of a single client.
    code, page, said = run("--farm", "Mesa", "paper", "inspection", "-o", "-")
    check("a client's report without passes", code == 0 and "Mesa" in page, said)
    # One brew of the demo was poured out and went on no farm at all.
    check("it has no brews that went on another farm, nor washes of its rigs", "<b>1 brew</b>" in page and "Backpack 1" not in page)

finish()
