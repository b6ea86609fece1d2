#!/usr/bin/env python3
"""Beginning a book, entering many lines, names used twice: on the command line.   enter_test.py PROGRAM"""
import json
import os
import subprocess
import tempfile

from checks import check, finish, home_in, program

with tempfile.TemporaryDirectory() as folder:
    home = home_in(folder)

    def run(*words, text=""):
        done = subprocess.run([program, "--book", "own.sqlite", *words], capture_output=True, text=True, env=home, cwd=folder, input=text)
        return done.returncode, done.stdout.strip(), done.stderr.strip()

    def exists():
        return os.path.exists(os.path.join(folder, "own.sqlite"))

    state, _, said = run("enter", "block", "name=North")
    check("no book: told how to begin one", state == 2 and "enter farm name=" in said and not exists(), said)
    for wrong in (["name=Mill Bend", "zone=Nowhere/City"], ["name=Mill Bend"], ["zone=America/Denver", "name="], ["name=Mill Bend", "colour=red"]):
        who = [] if wrong == ["name=Mill Bend"] else ["--as", "Ana Leland"]
        state, _, said = run("enter", "farm", *wrong, *who)
        check(f"{wrong} makes no file", state == 2 and not exists(), said)
    state, farm, said = run("enter", "farm", "name=Mill Bend", "zone=America/Denver", "--as", "Ana Leland")
    check("a farm begins the book", state == 0 and len(farm) == 26 and "Ana Leland" in said, farm, said)
    check("its person is there", "Ana Leland" in run("list", "person")[1])
    check("a second farm of the name is asked about", run("enter", "farm", "name=mill bend")[0] == 2)
    check("and kept with a reason", run("enter", "farm", "name=Mill Bend", "--reason", "a second place, so called")[0] == 0)
    state, _, said = run("--farm", "Mill Bend", "enter", "block", "name=North")
    check("two of one name are told apart", state == 2 and farm[-6:] in said, said)
    mine = ("--farm", "Mill Bend " + farm[-6:])
    check("as the question says", run(*mine, "enter", "block", "name=North")[0] == 0)

    # What there is to enter.
    kinds = json.loads(run("--json", "fields")[1])
    check("kinds are listed", "dose" in kinds and "water-source" in kinds and all(run("fields", kind)[0] == 0 for kind in kinds), kinds)
    said = run("fields", "dose")[1]
    check("fields of one, what is typed, what is needed", "what.bed" in said and "done | part | skipped" in said and "like 100 ft" in said and "needed" in said, said)
    check("in Spanish", "hace falta" in run("--language", "es", "fields", "dose")[1])
    check("no such kind", run("fields", "tractor")[0] == 2)

    lines = '{"kind":"person","name":"Bo"}\n\n{"kind":"person","name":"Cy"}\n{"kind":"person","nome":"Di"}\n{"kind":"person","name":"Ed"}\n'
    state, _, said = run("enter", "-", "--as", "Ana Leland", text=lines)
    check("a line that cannot be taken is named", state == 2 and "Line 4 was not written" in said and "2 lines before" in said, said)
    names = run("list", "person")[1]
    check("what stands before it is written, what follows is not", "Cy" in names and "Ed" not in names, names)
    state, _, said = run("enter", "-", "--as", "Ana Leland", text='{"kind":"person","name":"Bo"}\n{"kind":"person","name":"Fay"}\n')
    check("a caution stops there too", state == 2 and "Line 1 was not written" in said and "Fay" not in run("list", "person")[1], said)

    check("struck", run("strike", "Bo", "--why", "left", "--as", "Ana Leland")[0] == 0)
    check("comes back by its name", run("strike", "Bo", "--restore", "--why", "is back", "--as", "Ana Leland")[0] == 0)
    check("found without the accent", run("enter", "person", "name=José", "--as", "Ana Leland")[0] == 0 and run("correct", "Jose", "role=driver", "--why", "asked", "--as", "Ana Leland")[0] == 0)

    state, _, said = run("--language", "es", "enter", "brew", "fill=1.500 L", "--as", "Ana Leland")
    check("in Spanish a point before three figures is asked about", state == 2 and "1500 L" in said, said)
    check("a day alone asks for its hour", "At what hour" in run("enter", "brew", "fill=5 gal", "air_on=28 nov", "--as", "Ana Leland")[2])

    def work(*words):
        return subprocess.run([program, "work", *words], capture_output=True, text=True, env=home, cwd=folder)

    said = work("ratio", "--ratio", "1 in 4", "--spray", "15 gal").stdout
    check("the parts make the sum", "3.75 gal" in said and "11.25 gal" in said and "15 gal" in said, said)
    said = work("calibrate", "--catch", "41 fl oz", "--catch", "43 fl oz", "--course", "136 ft", "--swath", "30 in").stdout
    check("catches are in fl oz", "mean catch: 42 fl oz" in said, said)
    said = work("water", "--volume", "50 gal", "--chlorine", "2", "--disinfectant", "free-chlorine").stdout
    check("grams are asked, grams are told", "oz" not in said and "mg\n" not in said.split("molar")[-1] and " g\n" in said, said)
    said = work("convert", "--amount", "2 cups", "--to", "lb").stderr
    check("a density is asked for", "--density" in said, said)
    said = work("due", "--interval", "farm; 14", "--tea", "14 may 2026", "--today", "29 mayo 2026").stdout
    check("days are days", "14 days" in said and "1 day overdue" in said, said)
    done = subprocess.run([program, "help", "enter"], capture_output=True, text=True, env=home, cwd=folder)
    check("help VERB", done.returncode == 0 and "steepbook enter harvest" in done.stdout, done.stderr)
    said = subprocess.run([program, "--book", "none.sqlite", "take", "nofile.steepbook"], capture_output=True, text=True, env=home, cwd=folder).stderr
    check("a missing file is named once", said.count("nofile.steepbook") == 1, said)
    said = work("oxygen").stderr
    check("what is missing is named with its option", "--temperature" in said and "(" in said, said)
    said = work("recipe", "--reference", "25 gal", "--vessel", "50 gal", "--line", "kelp; 1/2 cup", "--explain", "--language", "es").stdout
    check("explained in Spanish cups", "1 taza" in said and "cup" not in said, said)

    # Two starts of one business: who joins them stands on the line.
    def laptop(*words):
        return subprocess.run([program, "--book", "laptop.sqlite", *words], capture_output=True, text=True, env=home, cwd=folder).returncode
    check("another start", laptop("enter", "farm", "name=Quince Hollow", "zone=America/Denver", "--as", "Marek Dvorak") == 0)
    check("gives its file", laptop("give", "laptop.steepbook") == 0)
    state, _, said = run("take", "--join", "Quince Hollow", "laptop.steepbook")
    check("of several people one has to be named", state == 2 and "Ana Leland" in said, said)
    check("joined", run("take", "--join", "Quince Hollow", "laptop.steepbook", "--as", "Ana Leland")[0] == 0)
    check("joined already, nobody is asked", run("take", "--join", "Quince Hollow", "laptop.steepbook")[0] == 0)
    run("give", "--plain", "joined.txt")
    with open(os.path.join(folder, "joined.txt"), encoding="utf-8") as file:
        joins = [line for line in map(json.loads, file) if line.get("why") == "Quince Hollow"]
    ana = [one["id"] for one in json.loads(run("--json", "list", "person")[1]) if one["name"] == "Ana Leland"]
    check("by Ana", [line.get("u") for line in joins] == ana, joins, ana)
finish()
