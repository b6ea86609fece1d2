#!/usr/bin/env python3
"""Photos on the command line: entered, listed, given with and without, taken, checked, saved.   photo_test.py PROGRAM"""
import glob
import hashlib
import json
import os
import struct
import subprocess
import tempfile
import zlib

from checks import check, finish, home_in, program


def png(width, height, color):
    """A PNG of one color (W3C PNG, 5: signature, IHDR, IDAT, IEND)."""
    def chunk(kind, data):
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))
    rows = (b"\0" + bytes(color) * width) * height
    return (b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)) +
            chunk(b"IDAT", zlib.compress(rows)) + chunk(b"IEND", b""))


with tempfile.TemporaryDirectory() as folder:
    home = home_in(folder)

    def path(name):
        return os.path.join(folder, name)

    def run(book, *words):
        done = subprocess.run([program, "--book", path(book), *words], capture_output=True, text=True, env=home, cwd=folder)
        return done.returncode, done.stdout, done.stderr

    def answer(book, *words):
        return json.loads(run(book, *words, "--json")[1])

    run("giver", "demo", path("giver"))
    brew = answer("giver", "list", "brew")[-1]["id"]
    picture = png(40, 30, (200, 120, 40))
    digest = hashlib.sha256(picture).hexdigest()
    with open(path("foam.png"), "wb") as out:
        out.write(picture)
    with open(path("page.jpg"), "w", encoding="utf-8") as out:
        out.write("<html>not a photo</html>")

    code, out, said = run("giver", "--as", "Ana Leland", "enter", "photo", "of=" + brew, "file=" + path("foam.png"), "caption=foam at 20 h")
    check("a photo is entered", code == 0, code, out, said)
    photo = out.strip()
    check("its bytes lie beside the book under their SHA-256", open(path("giver-photos/" + digest), "rb").read() == picture)
    check("nothing half written is left", glob.glob(path("giver-photos/*")) == [path("giver-photos/" + digest)])
    for words, status, sentence in (
            (["of=" + brew, "file=" + path("foam.png")], 2, "already"),
            (["of=" + brew, "file=" + path("page.jpg")], 2, "only JPEG, PNG and WebP"),
            (["of=" + brew, "file=" + path("none.jpg")], 2, "cannot be read"),
            (["of=" + brew], 2, "file"), (["file=" + path("foam.png")], 2, "of"),
            (["of=" + brew, "file=" + path("foam.png"), "sha256=" + digest], 2, "sha256")):
        code, out, said = run("giver", "--as", "Ana Leland", "enter", "photo", *words)
        check(f"refused: {words[-1]}", code == status and sentence in said, code, said)
    rows = answer("giver", "list", "photo")
    check("it stands in the list of its kind", len(rows) == 1 and rows[0]["sha256"] == digest and rows[0]["caption"] == "foam at 20 h", rows)
    listed = answer("giver", "photo")
    check("and among the photos, here", len(listed) == 1 and listed[0]["here"] and listed[0]["size"] == len(picture), listed)
    code, out, said = run("giver", "photo", photo, "-o", path("out.png"))
    check("it is saved again", code == 0 and open(path("out.png"), "rb").read() == picture, said)
    checked = answer("giver", "check")
    check("it is whole", checked["photos"] == 1 and not checked["photos-missing"] and not checked["photos-damaged"], checked)

    given = answer("giver", "give", path("without.steepbook"), "--no-photos")
    check("given without photos", given["photos"] == 0, given)
    for name in ("with.steepbook", "with.steepbook.txt"):
        given = answer("giver", "give", path(name))
        check("given with photos", given["photos"] == 1 and given["photos-left-out"] == 0, given)

    code, out, said = run("taker", "take", path("without.steepbook"))
    check("taken without its photo", code == 0, code, out, said)
    code, out, _ = run("taker", "photo")
    check("which is said to be on its copy", "not on this copy (from " in out, out)
    code, out, _ = run("taker", "check")
    check("and a book whose photo is elsewhere is whole", code == 0 and "not on this copy" in out, code, out)
    check("--json names it", answer("taker", "check")["photos-missing"] == [photo])
    look = answer("taker", "take", "--look", path("with.steepbook"))[0]
    check("looked at: nothing new but a photo", look["new"] == 0 and look["photos-coming"] == 1, look)
    check("and nothing was kept by looking", not os.path.exists(path("taker-photos")))
    code, out, said = run("taker", "take", path("with.steepbook"))
    check("its photo comes later", code == 0 and "photo came in" in out, code, out, said)
    check("with the same bytes", open(path("taker-photos/" + digest), "rb").read() == picture)
    check("taken again: nothing new", answer("taker", "take", path("with.steepbook.txt"))[0]["photos"] == 0)

    # A photo that was damaged on this disk is told, and mended by the next file that has it.
    with open(path("taker-photos/" + digest), "r+b") as there:
        there.write(b"\xff")
    code, out, _ = run("taker", "check")
    check("a damaged photo is told", code == 1 and "damaged" in out, code, out)
    code, _, said = run("taker", "photo", photo, "-o", path("bad.png"))
    check("and not saved", code == 2 and not os.path.exists(path("bad.png")), code, said)
    run("taker", "take", path("with.steepbook"))
    check("and whole again after a file that has it", run("taker", "check")[0] == 0)

    # The plain photo by itself, as a messenger brings it; a photo nobody speaks of.
    run("third", "take", path("without.steepbook"))
    check("the photo alone is taken", answer("third", "take", path("foam.png"))[0]["photos"] == 1)
    with open(path("other.png"), "wb") as out:
        out.write(png(3, 3, (1, 2, 3)))
    code, _, said = run("third", "take", path("other.png"))
    check("one that no record names is refused", code == 2 and "No record here names this photo" in said, code, said)

    # Bytes that are not those of the hash: nothing of the file, the photo named; the records from a clean file.
    lines = open(path("with.steepbook.txt"), encoding="utf-8").read().split("\n")
    at = next(i for i, line in enumerate(lines) if line.startswith('{"photo":'))
    wrong = json.loads(lines[at])
    wrong["photo"] = hashlib.sha256(b"other").hexdigest()
    lines[at] = json.dumps(wrong, separators=(",", ":"))
    body = "\n".join(lines[:-2]) + "\n"
    trailer = json.loads(lines[-2])
    trailer["sha256"] = hashlib.sha256(body.encode()).hexdigest()
    with open(path("wrong.steepbook.txt"), "w", encoding="utf-8") as out:
        out.write(body + json.dumps(trailer, separators=(",", ":")) + "\n")
    code, _, said = run("fourth", "take", path("wrong.steepbook.txt"))
    check("a wrong hash refuses the file and names the photo", code == 2 and "foam at 20 h" in said, code, said)
    check("and no book begins", not os.path.exists(path("fourth")) and not os.path.exists(path("fourth-photos")))
    check("the clean file is taken", run("fourth", "take", path("without.steepbook"))[0] == 0)

finish()
