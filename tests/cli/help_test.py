#!/usr/bin/env python3
"""Every example of the help is tried on the demo farm: its words are understood, what it names is found.   help_test.py PROGRAM

An example may still be refused for a reason of the farm (nothing differs, the pass has ended): that is an answer.
"""
import os
import re
import shlex
import shutil
import subprocess
import tempfile

from checks import check, finish, home_in, program

ENDLESS = {"watch", "serve"}
NOT_UNDERSTOOD = ("Run with --help", "is called '", "is missing", "There is no ", "cannot be read")


with tempfile.TemporaryDirectory() as folder:
    home = home_in(folder)

    def run(*words, text=""):
        return subprocess.run([program, *words], capture_output=True, text=True, env=home, cwd=folder, input=text)

    def path(name):
        return os.path.join(folder, name)

    # The first frame of a JPEG is all that is looked at when it is entered.
    with open(path("foam.jpg"), "wb") as out:
        out.write(b"\xff\xd8\xff\xe0\x00\x10JFIF\x00\x01\x01\x00\x00\x01\x00\x01\x00\x00\xff\xd9")
    run("demo", "farm.sqlite", "--phone", "marek.steepbook", "--now", "2026-05-14 14:02")
    os.makedirs(path("usb"))
    for name in ("anas-phone.steepbook", "mareks-phone.steepbook", "usb/marek.steepbook"):
        shutil.copy(path("marek.steepbook"), path(name))
    verbs = re.findall(r"^  ([a-z]+)  ", run("--help").stdout.split("Subcommands:")[1], re.M)
    check("verbs are listed", len(verbs) > 15, verbs)
    tried = 0
    for verb in verbs:
        examples = re.findall(r"^ +steepbook (.+)$", run(verb, "--help").stdout.split("Usage:")[0], re.M)
        if verb in ENDLESS:
            continue
        for example in examples:
            if "…" in example:  # An id stands for any.
                continue
            tried += 1
            words = shlex.split(re.sub(r" > \S+$", "", example))
            shutil.copy(path("farm.sqlite"), path("tried.sqlite"))
            done = run("--book", "tried.sqlite", *words, text="a passphrase\na passphrase\n")
            said = done.stdout + done.stderr
            check(example, done.returncode >= 0 and not any(sign in done.stderr for sign in NOT_UNDERSTOOD), done.returncode, said[:300])
    check("examples are there", tried > 20, tried)

finish()
