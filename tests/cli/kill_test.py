#!/usr/bin/env python3
"""kill -9 at any moment of a real import: before or after, never between (I13).   kill_test.py PROGRAM [KILLS]

When the kill comes decides only which of the two; that the file's own writes are each survived is shown
without a clock by tests/unit/merge_scenarios_kill_test.cpp."""
import json
import os
import random
import shutil
import subprocess
import sys
import tempfile
import time

from checks import check, finish, home_in, program

kills = int(sys.argv[2]) if len(sys.argv) > 2 else 30
before_count = after_count = 0


with tempfile.TemporaryDirectory() as folder:
    home = home_in(folder)

    def path(name):
        return os.path.join(folder, name)

    def run(book, *words):
        return subprocess.run([program, "--book", path(book), *words], capture_output=True, text=True, env=home)

    def state(book):
        done = run(book, "check", "--json")
        return done.returncode, json.loads(done.stdout)

    run("giver", "demo", path("giver"))
    beds = json.loads(run("giver", "list", "bed", "--json").stdout)
    for number in range(20):
        with open(path("photo.jpg"), "wb") as out:
            out.write(b"\xff\xd8\xff\xe0" + random.Random(number).randbytes(60_000))
        run("giver", "--as", "Ana Leland", "enter", "photo", "of=" + beds[number % len(beds)]["id"], "file=" + path("photo.jpg"))
    run("giver", "give", path("house.steepbook"), "--part", "house/base")
    run("giver", "give", path("all.steepbook"))
    run("taker", "take", path("house.steepbook"))
    _, before = state("taker")
    for ending in ("", "-wal", "-shm"):
        if os.path.exists(path("taker" + ending)):
            shutil.copy(path("taker" + ending), path("kept" + ending))

    def fresh():
        shutil.rmtree(path("taker-photos"), ignore_errors=True)
        for ending in ("", "-wal", "-shm"):
            if os.path.exists(path("taker" + ending)):
                os.remove(path("taker" + ending))
            if os.path.exists(path("kept" + ending)):
                shutil.copy(path("kept" + ending), path("taker" + ending))

    begun = time.monotonic()
    run("taker", "take", path("all.steepbook"))
    whole = time.monotonic() - begun
    _, after = state("taker")
    check("the import brings something", before["changes"] < after["changes"], before, after)

    chance = random.Random(1)
    for number in range(kills):
        fresh()
        child = subprocess.Popen([program, "--book", path("taker"), "take", path("all.steepbook")],
                                 stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, env=home)
        time.sleep(chance.random() * whole * 1.1)
        child.kill()
        child.wait()
        status, found = state("taker")
        is_before, is_after = found["changes"] == before["changes"], found["changes"] == after["changes"]
        before_count, after_count = before_count + is_before, after_count + is_after
        check(f"kill {number}: before or after, and whole", status == 0 and (is_before or is_after), status, found)
        # A record is never there before its photo; a photo that no record came to name is harmless.
        check(f"kill {number}: no photo of a record is missing or torn", not found["photos-missing"] and not found["photos-damaged"], found)
        check(f"kill {number}: all photos after it", is_before or found["photos"] == 20, found)
        if is_before:
            check(f"kill {number}: the same digest as before", found["digest"] == before["digest"], found)
        again = run("taker", "take", path("all.steepbook"))
        _, found = state("taker")
        check(f"kill {number}: taken again, it is all there", found["digest"] == after["digest"], again.stderr, found)

print(f"{kills} kills: {before_count} untouched, {after_count} complete")
finish()
