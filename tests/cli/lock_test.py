#!/usr/bin/env python3
"""Locked handover files on the command line: given, taken, asked for on a terminal, refused.   lock_test.py PROGRAM

What the program locks it opens; what locked.py locks, written from the description of the format alone, it opens too."""
import json
import os
import pty
import subprocess
import tempfile

import locked
from checks import check, finish, home_in, program

letters = set(b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/=")
FITS, PHRASE = "The passphrase does not fit", "nine wet boots, and Ana's"


for piece, right in locked.published():
    check(f"the other writer: {piece}", right)

with tempfile.TemporaryDirectory() as folder:
    home = home_in(folder)

    def path(name):
        return os.path.join(folder, name)

    def write(name, text):
        with open(path(name), "wb") as out:
            out.write(text if isinstance(text, bytes) else text.encode())
        return path(name)

    def read(name):
        with open(path(name), "rb") as file:
            return file.read()

    def run(book, *words):
        done = subprocess.run([program, "--book", path(book), *words], capture_output=True, text=True, env=home, cwd=folder,
                              stdin=subprocess.DEVNULL)
        return done.returncode, done.stdout, done.stderr

    def on_terminal(book, *words, typed):
        """The program with its input on a terminal: status, what it said, what the terminal showed of the typing."""
        ours, theirs = pty.openpty()
        process = subprocess.Popen([program, "--book", path(book), *words], stdin=theirs, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
                                   env=home, cwd=folder, start_new_session=True)
        os.close(theirs)
        said = b""
        for line in typed:
            while not said.endswith(b": "):  # Typed once it asks.
                byte = process.stderr.read(1)
                if not byte:
                    break
                said += byte
            os.write(ours, line.encode())
            said += b"\n"
        out, rest = process.communicate(timeout=120)
        os.set_blocking(ours, False)
        try:
            shown = os.read(ours, 10_000)
        except OSError:
            shown = b""
        os.close(ours)
        return process.returncode, out.decode() + (said + rest).decode(), shown.decode()

    def changes(book):
        return json.loads(run(book, "check", "--json")[1])["changes"]

    run("giver", "demo", path("giver"))
    phrase = write("phrase.txt", PHRASE + "\n")
    code, _, said = run("giver", "give", path("plain.steepbook"))
    check("a plain file is given as ever", code == 0 and read("plain.steepbook")[:2] == b"\x1f\x8b", said)
    code, out, said = run("giver", "give", path("locked.steepbook"), "--passphrase-file", phrase)
    check("a locked one is given, and says what a lost passphrase means", code == 0 and "cannot be recovered" in out, code, out, said)
    header = json.loads(read("locked.steepbook").split(b"\n")[0])
    check("its header says what is documented, and no more",
          list(header) == ["format", "major", "passes", "memory", "salt", "stream"] and header["memory"] <= 65536, header)
    code, out, said = run("giver", "--json", "give", folder, "--passphrase-file", phrase)
    given = json.loads(out)
    check("its own name says nothing of the book", os.path.basename(given["file"]).startswith("locked-20") and given["locked"], given)
    # Short words come about in base64 by chance: these hold a sign that it has not.
    check("nor do its bytes", all(word not in read("locked.steepbook") for word in (b"Alder Reach", b"Ana Leland", b'"lane"', b'"book"')))
    check("which are base64 after the header", set(b"".join(read("locked.steepbook").split(b"\n")[1:])) <= letters)

    # Taken: without, with the wrong and with the right passphrase.
    code, _, said = run("taker", "take", path("locked.steepbook"))
    check("nobody to ask: the option is named", code == 2 and "--passphrase-file" in said, code, said)
    for wrong in (PHRASE + " ", PHRASE.lower(), "x"):
        code, _, said = run("taker", "take", path("locked.steepbook"), "--passphrase-file", write("wrong.txt", wrong + "\n"))
        check(f"'{wrong}' does not fit", code == 2 and FITS in said, code, said)
    check("and no book begins", not os.path.exists(path("taker")))
    code, _, said = run("taker", "take", path("locked.steepbook"), "--passphrase-file", write("wrong.txt", "\n" + PHRASE))
    check("an empty first line is no passphrase", code == 2 and "empty" in said, code, said)
    code, _, said = run("taker", "take", path("locked.steepbook"), "--passphrase-file", path("none.txt"))
    check("a file that is not there is named", code == 2 and "none.txt" in said, code, said)
    code, out, said = run("taker", "take", "--look", path("locked.steepbook"), "--passphrase-file", phrase)
    check("a look inside", code == 0 and "Records by kind" in out, code, out, said)
    code, out, said = run("taker", "take", path("locked.steepbook"), "--passphrase-file", write("dos.txt", PHRASE + "\r\n"))
    check("it opens", code == 0 and "changes came in" in out, code, out, said)
    check("with all that is in it", changes("taker") == changes("giver"))
    code, out, said = run("taker", "take", path("plain.steepbook"), path("locked.steepbook"), "--passphrase-file", phrase)
    check("among plain ones", code == 0 and out.count("nothing new") == 2, code, out, said)

    # Damaged on the way, each refused; the passphrase fits, so that is what is said.
    whole = read("locked.steepbook")
    lines = whole.split(b"\n")
    for what, bad, sentence in (("cut", b"\n".join(lines[:-2]) + b"\n", "stops early"), ("a letter changed", whole[:-40] + (b"A" if whole[-40:-39] != b"A" else b"B") + whole[-39:], "damaged"),
                                ("text after its end", whole + b"more\n", "damaged"), ("header asks for a gigabyte", whole.replace(b'"memory":65536', b'"memory":1048576'), "asks for more memory")):
        code, _, said = run("taker", "take", write("bad.steepbook", bad), "--passphrase-file", phrase)
        check(f"{what}: refused", code == 2 and sentence in said, code, said)

    # Another program's lock, written from the description.
    write("other.steepbook", locked.lock(read("plain.steepbook"), PHRASE.encode()))
    code, out, said = run("other", "take", path("other.steepbook"), "--passphrase-file", phrase)
    check("a file that another program locked is taken", code == 0 and changes("other") == changes("giver"), code, out, said)

    # On a terminal: asked for, not shown.
    code, said, shown = on_terminal("third", "take", path("other.steepbook"), typed=["wrong\n", PHRASE + "\n"])
    check("asked for; a wrong one may be tried again", code == 0 and FITS in said and "changes came in" in said, code, said)
    check("nothing of it shows", PHRASE not in shown and PHRASE not in said and "wrong" not in shown, shown)
    code, said, _ = on_terminal("third", "take", path("other.steepbook"), typed=["a\n", "b\n", "c\n"])
    check("three tries", code == 2 and said.count("Passphrase of") == 3 and said.count(FITS) == 3, code, said)
    code, said, _ = on_terminal("third", "take", path("other.steepbook"), typed=["\x04"])
    check("given up", code == 2 and "No passphrase was given" in said, code, said)
    code, said, _ = on_terminal("third", "take", path("other.steepbook"), path("other.steepbook"), typed=[PHRASE + "\n"])
    check("asked once for files of one passphrase", code == 0 and said.count("Passphrase of") == 1, code, said)
    code, said, shown = on_terminal("giver", "give", path("asked.steepbook"), "--lock", typed=[PHRASE + "\n", PHRASE + "\n"])
    check("locking asks twice", code == 0 and PHRASE not in shown, code, said)
    check("and locks with it", run("fourth", "take", path("asked.steepbook"), "--passphrase-file", phrase)[0] == 0)
    for what, words, sentence in (("two that differ", [PHRASE + "\n", "other\n"], "not the same"), ("an empty one", ["\n"], "empty"), ("none", ["\x04"], "No passphrase")):
        code, said, _ = on_terminal("giver", "give", path("none.steepbook"), "--lock", typed=words)
        check(f"{what}: nothing is written", code == 2 and sentence in said and not os.path.exists(path("none.steepbook")), code, said)
    code, _, said = run("giver", "give", path("none.steepbook"), "--lock")
    check("without a terminal the option is named", code == 2 and "--passphrase-file" in said, code, said)

    # A watched folder has nobody to ask: it says so, and takes the others.
    os.mkdir(path("sync"))
    write("sync/locked.steepbook", read("other.steepbook"))
    write("sync/plain.steepbook", read("plain.steepbook"))
    code, out, said = run("fifth", "watch", path("sync"), "--once")
    check("a locked file in a watched folder is named, as something to look at",
          code == 1 and "locked.steepbook: This file is locked" in said and "plain.steepbook" in out, code, out, said)

finish()
