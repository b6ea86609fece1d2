#!/usr/bin/env python3
"""Files that cannot be taken, on the command line: one sentence, status 2, the book untouched, little memory;
and a pass that was never ended.   bad_files_test.py PROGRAM"""
import hashlib
import json
import os
import pty
import re
import sqlite3
import subprocess
import tempfile
import zlib

from checks import check, finish, home_in, program


with tempfile.TemporaryDirectory() as folder:
    home = home_in(folder)

    def path(name):
        return os.path.join(folder, name)

    def run(book, *words):
        """Status, what was said, and the most memory in KiB."""
        with open(path("out"), "w+b") as out, open(path("err"), "w+b") as err:
            child = subprocess.Popen([program, "--book", path(book), *words], stdout=out, stderr=err, env=home)
            _, status, usage = os.wait4(child.pid, 0)
            child.returncode = os.waitstatus_to_exitcode(status)
            out.seek(0), err.seek(0)
            return child.returncode, out.read().decode(), err.read().decode(), usage.ru_maxrss

    def stored(book):
        with open(path(book), "rb") as file:
            return hashlib.sha256(file.read()).hexdigest()

    def bomb(start):
        """256 MB of blanks, made without holding them: a child's memory counts from its parent's."""
        packer = zlib.compressobj(9, zlib.DEFLATED, 31)
        return packer.compress(start) + b"".join(packer.compress(b" " * (1 << 20)) for _ in range(256)) + packer.flush()

    def put(name, content):
        with open(path(name), "wb") as file:
            file.write(content)
        return path(name)

    run("giver", "demo", path("giver"))
    run("giver", "give", path("whole.steepbook.txt"))
    run("giver", "give", path("whole.steepbook"))
    with open(path("whole.steepbook.txt"), "rb") as file:
        plain = file.read()
    with open(path("whole.steepbook"), "rb") as file:
        packed = file.read()
    _, _, _, usual = run("taker", "take", path("whole.steepbook"))
    before = stored("taker")

    def refused(what, content, words):
        name = content if isinstance(content, str) else put("bad.steepbook", content)
        status, said, sentence, most = run("taker", "take", name)
        check(what + ": status 2", status == 2, status)
        check(what + ": one sentence", len(sentence.strip().splitlines()) == 1 and words in sentence, sentence)
        check(what + ": nothing on standard output", said == "", said)
        check(what + ": the book is untouched", stored("taker") == before)
        check(what + ": at most 64 MB more than usual", most - usual < 64 * 1024, most, usual)

    refused("empty", b"", "empty")
    refused("blank lines", b"\n\n  \n", "empty")
    refused("another program's JSON", b'{"rows":[1,2,3]}\n', "not a handover file")
    refused("a list of JSON", b"[" * 500_000, "not a handover file")
    refused("a page", b"<!DOCTYPE html><html><body>Sign in</body></html>", "web page")
    refused("a newer version", plain.replace(b'"major":1', b'"major":4', 1).replace(b'"program":"', b'"program":"9', 1), "newer Steepbook (9")
    refused("a text", "the quick brown fox\n".encode() * 1000, "not a handover file")
    refused("another database", b"SQLite format 3\0" + b"\0" * 4096, "")
    with open(path("zeros"), "wb") as file:
        file.truncate(1 << 30)  # 1 GB of zeros, no place on the disk
    refused("1 GB of zeros", path("zeros"), "not a handover file")
    refused("a bomb", bomb(b""), "larger than")
    refused("a bomb behind a header", bomb(plain[:200]), "larger than")
    refused("two members", packed + packed, "damaged")
    refused("no such file", path("nowhere"), "nowhere")
    for file in (plain, packed):
        for cut in list(range(0, 40)) + [len(file) // 3, len(file) // 2, len(file) - 2, len(file) - 1]:
            refused(f"cut at {cut} of {len(file)}", file[:cut], "")
        refused("cut in the middle", file[: len(file) // 2], "stops early")
        refused("one letter changed", file[: len(file) // 2] + bytes([file[len(file) // 2] ^ 1]) + file[len(file) // 2 + 1 :], "damaged")
    # Files are independent: the sound one beside a bad one is taken.
    put("bad.steepbook", plain[:1000])
    status, said, sentence, _ = run("fresh", "take", path("bad.steepbook"), path("whole.steepbook"))
    check("a sound file beside a bad one is taken, status 2", status == 2 and "came in" in said and "stops early" in sentence, status, said, sentence)
    run("empty-book", "take", path("bad.steepbook"))
    check("no book is left behind by a bad file", not os.path.exists(path("empty-book")))

    # ---- A name out of a file must not steer a terminal ---------------------------------------------
    def resealed(lines, old, new):
        """The file with one text of its last lane changed, its chain and sums right again."""
        *lines, _ = lines.rstrip(b"\n").split(b"\n")
        last, changed, size = b"", 0, 0
        for i, line in enumerate(lines):
            if line.startswith(b'{"lane":'):
                last = bytes.fromhex(json.loads(line)["prev"])
            elif line.startswith(b'{"v":'):
                if old in line and not changed:
                    lines[i], changed = line.replace(old, new), 1
                # References carry a piece of the hash: of a record nobody wrote again none goes astray.
                last, size = hashlib.sha256(last + lines[i]).digest(), size + len(lines[i]) + 1
            elif line.startswith(b'{"end":'):
                lines[i] = line[: line.index(b'"hash":')] + b'"hash":"' + last.hex().encode() + b'"}'
        lines[0] = re.sub(rb'"bytes":\d+', b'"bytes":%d' % size, lines[0])
        body = b"".join(line + b"\n" for line in lines)
        count = json.loads(lines[0])["changes"]
        return body + b'{"trailer":1,"changes":%d,"sha256":"%s"}\n' % (count, hashlib.sha256(body).hexdigest().encode())

    def shown_on_terminal(book, *words):
        ours, theirs = pty.openpty()
        child = subprocess.Popen([program, "--book", path(book), *words], stdin=theirs, stdout=theirs, stderr=theirs, env=home)
        os.close(theirs)
        shown = b""
        while True:
            try:
                piece = os.read(ours, 4096)
            except OSError:
                break
            if not piece:
                break
            shown += piece
        child.wait()
        os.close(ours)
        return shown

    run("other-giver", "demo", path("other-giver"))
    run("other-giver", "enter", "rig", "name=Steering rig", "--as", "Ana Leland")
    run("other-giver", "give", path("names.steepbook.txt"))
    with open(path("names.steepbook.txt"), "rb") as file:
        steering = resealed(file.read(), b"Steering rig", b"Steer\\u001b]0;mine\\u0007\xe2\x80\xae rig")
    status, said, sentence, _ = run("steered", "take", put("steering.steepbook.txt", steering))
    check("the file is as sound as any", status in (0, 1) and "came in" in said, status, said, sentence)
    shown = shown_on_terminal("steered", "list", "rig")
    check("a terminal sees the name, and nothing that steers it",
          b"Steer]0;mine rig" in shown and b"\x1b" not in shown and b"\xe2\x80\xae" not in shown, shown)
    shown = shown_on_terminal("steered", "history", "--kind", "rig")
    check("nor in a history", b"Steer" in shown and b"\x1b" not in shown, shown)

    # ---- Two books on one machine: each goes on in its own lanes -----------------------------------
    def lanes(book):
        return json.loads(run(book, "give", path("counted.steepbook"), "--json")[1])["lanes"]

    run("giver", "enter", "rig", "name=Hose", "--as", "Ana Leland")
    before = lanes("giver")
    for name in ("Cart", "Boom"):
        run("taker", "enter", "rig", "name=" + name, "--as", "Ana Leland")
        run("giver", "enter", "rig", "name=" + name, "--as", "Ana Leland")
    check("no new lanes at each start", lanes("giver") == before, before, lanes("giver"))

    # ---- A pass that was never ended refuses files, says which it is, and can be ended --------------
    status, _, sentence, _ = run("giver", "enter", "pass", "aim=leaf", "start=2026-05-20 17:00", "--as", "Ana Leland")
    check("a pass is entered", status == 0, sentence)
    # Only the window starts passes; one entered here is over. The table is made to say that nobody answered yet.
    with sqlite3.connect(path("giver")) as database:
        database.execute("UPDATE k_pass SET not_taken=NULL WHERE finish IS NULL")
    database.close()
    status, said, sentence, _ = run("giver", "take", path("whole.steepbook"))
    check("refused while it is open", status == 2 and "is still open on this device" in sentence and "steepbook end" in sentence, status, sentence)
    code = sentence.split("Pass ")[1].split(",")[0]
    status, _, sentence, _ = run("giver", "end", "pass " + code, "--at", "2026-05-20 18:40", "--as", "Ana Leland")
    check("ended by its code, late", status == 0, status, sentence)
    status, said, _, _ = run("giver", "take", path("whole.steepbook"))
    check("then files are taken", status == 0, status, said)

finish()
