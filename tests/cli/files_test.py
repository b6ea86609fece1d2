#!/usr/bin/env python3
"""Files around a book: what may be written over, what is read of a book that was not closed, safety copies, several programs
at once, a watched folder.   files_test.py PROGRAM"""
import glob
import gzip
import hashlib
import json
import os
import shutil
import sqlite3
import struct
import subprocess
import tempfile
import time
import zlib

from checks import check, finish, home_in, program

with tempfile.TemporaryDirectory() as folder:
    home = home_in(folder)
    homes = {}   # Of books on a device of their own.

    def path(name):
        return os.path.join(folder, name)

    def command(book, *words):
        """Books are named as from their own folder."""
        return [program, "--book", book, "--as", "Ana Leland", "--language", "en", *words]

    def run(book, *words):
        done = subprocess.run(command(book, *words), capture_output=True, text=True, env=homes.get(book, home), cwd=folder)
        return done.returncode, done.stdout, done.stderr

    def answer(book, *words):
        return json.loads(run(book, *words, "--json")[1])

    def enter(book, *words):
        code, out, said = run(book, "enter", *words)
        check("entered", code == 0, words, said)
        return out.split("\n")[0]

    def content(name):
        with open(path(name), "rb") as file:
            return file.read()

    def digest(book):
        return answer(book, "check")["digest"]

    # ---- Nothing is written over a book ------------------------------------------------------------
    run("office.sqlite", "demo", "office.sqlite")
    lot = answer("office.sqlite", "list", "lot")[0]["id"]
    enter("office.sqlite", "note", "of=" + lot, "text=first")
    run("other.sqlite", "demo", "other.sqlite")
    shutil.copy(path("office.sqlite"), path("plain"))
    os.symlink(path("office.sqlite"), path("link"))
    before = {name: content(name) for name in ("office.sqlite", "other.sqlite", "plain")}
    os.mkdir(path("office.sqlite-photos"))
    for target in ("office.sqlite", "./office.sqlite", "link", "other.sqlite", "plain", "office.sqlite-wal", "office.sqlite-shm",
                   "office.sqlite-photos/x", path("office.sqlite")):
        for words in (["give", target], ["paper", "inspection", "-o", target], ["paper", "lot", "-o", target]):
            code, out, said = run("office.sqlite", *words)
            check("not over a book: " + " ".join(words), code == 2 and "nothing was written over it" in said, code, said)
    code, out, said = run("office.sqlite", "demo", "demo2.sqlite", "--phone", "other.sqlite")
    check("nor a phone's file", code == 2 and "nothing was written over it" in said, said)
    check("all are as they were", all(content(name) == bytes for name, bytes in before.items()))
    check("and nothing is left beside", not os.path.exists(path("office.sqlite-wal")) and os.listdir(path("office.sqlite-photos")) == [])
    check("a file is given over an older one", run("office.sqlite", "give", "g.steepbook")[0] == 0 and
          run("office.sqlite", "give", "g.steepbook")[0] == 0)
    with open(path("mine.steepbook.part"), "w", encoding="utf-8") as file:
        file.write("somebody's own")
    run("office.sqlite", "give", "mine.steepbook")
    check("what is written for a while is nobody's file", content("mine.steepbook.part") == b"somebody's own")
    check("and gone afterwards", len(glob.glob(path("*.part"))) == 1, glob.glob(path("*.part")))

    # ---- A book that was not closed ----------------------------------------------------------------
    enter("office.sqlite", "note", "of=" + lot, "text=before")
    open_too = sqlite3.connect(path("office.sqlite"))
    open_too.execute("SELECT count(*) FROM change").fetchone()
    enter("office.sqlite", "note", "of=" + lot, "text=only in the log")
    os.mkdir(path("stick"))
    for rest in ("", "-wal"):
        shutil.copy(path("office.sqlite" + rest), path("stick/left.sqlite" + rest))
    open_too.close()
    check("its log holds something", os.path.getsize(path("stick/left.sqlite-wal")) > 0)
    left = content("stick/left.sqlite"), content("stick/left.sqlite-wal")
    run("taker.sqlite", "take", "g.steepbook")
    code, out, said = run("taker.sqlite", "take", "stick/left.sqlite")
    check("it is taken", code == 0, code, out, said)
    notes = [note["text"] for note in answer("taker.sqlite", "list", "note")]
    check("with what its log holds", "only in the log" in notes, notes)
    check("and itself left as it was", (content("stick/left.sqlite"), content("stick/left.sqlite-wal")) == left)
    run("watcher.sqlite", "take", "g.steepbook")
    run("watcher.sqlite", "watch", "stick", "--once")
    check("also from a watched folder", "only in the log" in [note["text"] for note in answer("watcher.sqlite", "list", "note")])
    with open(path("stick/left.sqlite-wal"), "wb") as file:
        file.write(b"\0" * 5000)
    code, out, said = run("taker.sqlite", "take", "stick/left.sqlite")
    check("a log of nothing is passed over as the database does it", code == 0, code, said)

    # ---- Safety copies -----------------------------------------------------------------------------
    run("office.sqlite", "give", "before.steepbook")
    notes = "".join(json.dumps({"kind": "note", "of": lot, "text": f"note {n}"}) + "\n" for n in range(1001))
    done = subprocess.run(command("office.sqlite", "enter", "-"), input=notes, capture_output=True, text=True, env=home, cwd=folder)
    check("a thousand notes", done.returncode == 0, done.stderr)
    os.mkdir(path("large"))
    run("office.sqlite", "give", "large/all.steepbook")
    for book, words in (("taken.sqlite", ["take", "large/all.steepbook"]), ("watched.sqlite", ["watch", "large", "--once"])):
        run(book, "take", "before.steepbook")
        before = digest(book)
        code, out, said = run(book, *words)
        copies = glob.glob(path(book + "-safety-copies/*"))
        check(words[0] + ": one safety copy, of this book", code == 0 and len(copies) == 1, code, said, copies)
        run("from-" + book, "take", *copies)
        check("it is the book of before", digest("from-" + book) == before and digest(book) != before)
    for number in range(5):
        shutil.copy(path("other.sqlite"), path(f"taken.sqlite-safety-copies/book-177879252000{number}.sqlite"))
    for name in ("mine.sqlite", "book-of-marek.sqlite", "letter.txt"):
        shutil.copy(path("other.sqlite"), path("taken.sqlite-safety-copies/" + name))
    os.remove(path("taken.sqlite"))
    run("taken.sqlite", "take", "before.steepbook")
    run("taken.sqlite", "take", "large/all.steepbook")
    copies = sorted(os.path.basename(name) for name in glob.glob(path("taken.sqlite-safety-copies/*")))
    check("three copies are kept, and what is no copy of this program",
          len(copies) == 6 and {"mine.sqlite", "book-of-marek.sqlite", "letter.txt"} < set(copies), copies)

    for number in range(2):
        run("office.sqlite", "give", "day.steepbook")
        run("day.sqlite", "take", "day.steepbook")
        copies = glob.glob(path("day.sqlite-safety-copies/*"))
        check("the file that brings a book needs no copy, the first of a day after it one", len(copies) == 0 if number == 0 else len(copies) == 1, copies)
        enter("office.sqlite", "note", "of=" + lot, f"text=day {number}")
    run("office.sqlite", "give", "day.steepbook")
    code, out, said = run("day.sqlite", "take", "day.steepbook")
    copies = glob.glob(path("day.sqlite-safety-copies/*"))
    check("the next of the day none", code in (0, 1) and "1 change" in out and len(copies) == 1, code, out, said, copies)

    # ---- A watched folder --------------------------------------------------------------------------
    def until(right, seconds=30):
        end = time.monotonic() + seconds
        while not right() and time.monotonic() < end:
            time.sleep(0.2)
        return right()

    class Watch:
        """The program at a watched folder; ends with the block."""
        def __init__(self, book, watched, **how):
            self.said = open(path("said"), "w", encoding="utf-8")
            self.child = subprocess.Popen(command(book, "watch", watched, "--every", "1"), stdout=self.said, stderr=self.said,
                                          env=home, cwd=folder, **how)
        def __enter__(self):
            return self
        def __exit__(self, *_):
            self.child.terminate()
            self.child.wait()
            self.said.close()
        def text(self):
            return content("said").decode()

    run("desk.sqlite", "take", "before.steepbook")
    passes = enter("desk.sqlite", "pass", "aim=leaf", "start=2026-05-20 17:00")
    # Only the window starts passes; one entered here is over. The table is made to say that nobody answered yet.
    with sqlite3.connect(path("desk.sqlite")) as database:
        database.execute("UPDATE k_pass SET not_taken=NULL WHERE finish IS NULL")
    database.close()
    enter("office.sqlite", "note", "of=" + lot, "text=while a pass is open")
    os.mkdir(path("meet"))
    with Watch("desk.sqlite", "meet") as watch:
        run("office.sqlite", "give", "meet/office.steepbook")
        check("a file that comes during a pass is refused", until(lambda: "office.steepbook:" in watch.text()), watch.text())
        time.sleep(3)
        check("which is said once", watch.text().count("office.steepbook:") == 1, watch.text())
        code, out, said = run("desk.sqlite", "end", passes, "--at", "2026-05-20 18:40")
        check("the pass is ended", code == 0, said)
        check("then the file is taken", until(lambda: " came in" in watch.text()), watch.text())

    os.mkdir(path("unread"))
    run("reader.sqlite", "take", "before.steepbook")
    shutil.copy(path("meet/office.steepbook"), path("unread/office.steepbook"))
    os.chmod(path("unread/office.steepbook"), 0)
    somebody = {}
    if os.geteuid() == 0:   # Root may read everything.
        somebody = {"user": 65534}
        os.chown(folder, 65534, -1)
        for inside, folders, files in os.walk(folder):
            for name in folders + files:
                os.chown(os.path.join(inside, name), 65534, -1, follow_symlinks=False)
    with Watch("reader.sqlite", "unread", **somebody) as watch:
        check("what cannot be read is named", until(lambda: "office.steepbook cannot be read" in watch.text()), watch.text())
        time.sleep(3)
        check("once", watch.text().count("cannot be read") == 1, watch.text())
        os.chmod(path("unread/office.steepbook"), 0o644)
        check("and taken once it can", until(lambda: " came in" in watch.text()), watch.text())
    os.remove(path("unread/office.steepbook"))
    run("reader.sqlite", "take", "large/all.steepbook")
    enter("office.sqlite", "note", "of=" + lot, "text=slowly")
    run("office.sqlite", "give", "slow.steepbook")
    with Watch("reader.sqlite", "unread") as watch:
        with open(path("unread/slow.steepbook"), "wb", buffering=0) as slow:
            whole = content("slow.steepbook")
            for at in range(0, len(whole), len(whole) // 8 + 1):
                slow.write(whole[at:at + len(whole) // 8 + 1])
                time.sleep(0.5)
        check("a file that is being written is taken once it is whole", until(lambda: " came in" in watch.text()), watch.text())
        check("and not called cut", "slow.steepbook: " in watch.text() and watch.text().count("slow.steepbook") == 1, watch.text())

    def png(color):
        """A PNG of one pixel (W3C PNG, 5)."""
        def chunk(kind, data):
            return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))
        return (b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", struct.pack(">IIBBBBB", 1, 1, 8, 2, 0, 0, 0)) +
                chunk(b"IDAT", zlib.compress(b"\0" + bytes(color))) + chunk(b"IEND", b""))

    os.mkdir(path("album"))
    pictures = [png((n, 100, 50)) for n in range(20)]
    for number, picture in enumerate(pictures):
        with open(path("p.png"), "wb") as file:
            file.write(picture)
        enter("office.sqlite", "photo", "of=" + lot, "file=p.png", f"caption=photo {number}")
    run("office.sqlite", "watch", "album", "--once")
    names = sorted(os.listdir(path("album/photos")))
    check("photos lie beside the file, by their SHA-256", names == sorted(hashlib.sha256(p).hexdigest() + ".png" for p in pictures), names)
    stamp = {name: os.stat(path("album/photos/" + name)).st_mtime_ns for name in names}
    with open(path("album/photos/" + names[0]), "wb") as file:
        file.write(pictures[0][:20])
    run("album.sqlite", "watch", "album", "--once")
    check("they come in with the records", len(os.listdir(path("album.sqlite-photos"))) == 19)
    enter("office.sqlite", "note", "of=" + lot, "text=later")
    os.remove(path("album/photos/" + names[0]))
    run("office.sqlite", "watch", "album", "--once")
    run("album.sqlite", "watch", "album", "--once")
    check("one that was damaged comes once it is whole", sorted(os.listdir(path("album.sqlite-photos"))) == [name[:64] for name in names])
    check("none is written twice", all(os.stat(path("album/photos/" + name)).st_mtime_ns == stamp[name] for name in names[1:]))

    code, out, said = run("folder.sqlite", "take", "--look", "album")
    check("to look at a folder brings nothing", not os.path.exists(path("folder.sqlite-photos")) or not os.listdir(path("folder.sqlite-photos")), said)
    code, out, said = run("folder.sqlite", "take", "album")
    check("a folder that is taken brings its photos too", sorted(os.listdir(path("folder.sqlite-photos"))) == [name[:64] for name in names], said)
    check("and says how many", code == 0 and "20 photos" in out, code, out, said)
    code, out, said = run("folder.sqlite", "take", "album")
    check("none comes twice", "photo" not in out, out)

    # ---- What crossed is said, however it came -----------------------------------------------------
    crossing = enter("office.sqlite", "lot", "code=X-1", "quantity=1 gal", "material=" + answer("office.sqlite", "list", "material")[0]["id"])
    run("office.sqlite", "give", "crossing.steepbook")
    run("crosser.sqlite", "take", "crossing.steepbook")
    enter("crosser.sqlite", "note", "of=" + crossing, "text=opened today")
    code, out, said = run("office.sqlite", "strike", crossing, "--why", "never came")
    check("struck", code == 0, said)
    os.mkdir(path("crossed"))
    run("crosser.sqlite", "give", "crossed/crosser.steepbook")
    shutil.copy(path("office.sqlite"), path("twin.sqlite"))
    code, out, said = run("office.sqlite", "take", "crossed/crosser.steepbook")
    check("a file whose child comes late ends with 1", code == 1, code, out, said)
    last = out.strip().split("\n")[-1]
    code, out, said = run("twin.sqlite", "watch", "crossed", "--once")
    check("so does a watched folder, with the same words", code == 1 and last in out, code, out, said)

    # ---- To one copy -------------------------------------------------------------------------------
    def label(book, text):
        with sqlite3.connect(path(book)) as database:
            database.execute("INSERT OR REPLACE INTO setting(key, value) VALUES('copy_label', ?)", (text,))
        database.close()

    def tell(book):
        """The office takes what the copy has; answers the copy's id."""
        run(book, "give", "told.txt", "--plain")
        run("office.sqlite", "take", "told.txt")
        time.sleep(0.05)
        return json.loads(content("told.txt").decode().split("\n")[0])["by"]

    def short(copy):
        """The end of the id; three digits, which would be read as a number, begin with a letter."""
        end = copy[-3:]
        return "abcdefghjk"[int(end[0])] + end[1:] if end.isdigit() else end

    run("phone.sqlite", "take", "before.steepbook")
    label("phone.sqlite", "Ana's phone")
    enter("phone.sqlite", "note", "of=" + lot, "text=before the backup")
    shutil.copy(path("phone.sqlite"), path("backup"))
    enter("phone.sqlite", "note", "of=" + lot, "text=lost")
    enter("phone.sqlite", "note", "of=" + lot, "text=lost too")
    first = tell("phone.sqlite")
    shutil.copy(path("backup"), path("phone.sqlite"))
    homes["phone.sqlite"] = home_in(path("new phone"))
    enter("phone.sqlite", "note", "of=" + lot, "text=after the backup came back")
    second = tell("phone.sqlite")
    check("a restored phone goes on under a new id", first != second)
    run("phone.sqlite", "take", "large/all.steepbook")
    second = tell("phone.sqlite")
    code, out, said = run("office.sqlite", "give", "to.txt", "--plain", "--to", "Ana's phone")
    check("the file for it is of the new id", code == 0, said)
    check("with what the restored phone lost", "lost too" in content("to.txt").decode())
    run("tablet.sqlite", "take", "before.steepbook")
    label("tablet.sqlite", "Ana's phone")
    enter("tablet.sqlite", "note", "of=" + lot, "text=by another of this name")
    third = tell("tablet.sqlite")
    enter("phone.sqlite", "note", "of=" + lot, "text=both are in use")
    tell("phone.sqlite")
    code, out, said = run("office.sqlite", "give", "to.txt", "--to", "Ana's phone")
    check("two of one name in use: which?", code == 2 and short(third) in said and short(second) in said and short(first) not in said, said)
    for one in (short(third), third):
        check("said by its code or id", run("office.sqlite", "give", "to.txt", "--to", one)[0] == 0, one)

    # ---- Several programs at once ------------------------------------------------------------------
    def lanes_of(book, text):
        """In how many lanes notes that begin so were written."""
        run(book, "give", "--plain", "lanes.txt")
        lane, lanes = None, set()
        for line in content("lanes.txt").decode().split("\n"):
            record = json.loads(line) if line else {}
            lane = record.get("lane", lane)
            if record.get("k") == "note" and any(str(field[2]).startswith(text) for field in record["f"]):
                lanes.add(lane)
        return len(lanes)

    def all_at_once(commands):
        running = [subprocess.Popen(words, stdout=subprocess.PIPE, stderr=subprocess.PIPE, env=home, cwd=folder) for words in commands]
        said = [one.communicate() for one in running]
        return [words[1].decode() if one.returncode else 0 for one, words in zip(running, said)]

    for attempt in range(5):
        book = f"several{attempt}.sqlite"
        run(book, "demo", book)
        lot = answer(book, "list", "lot")[0]["id"]
        ends = all_at_once([command(book, "enter", "note", "of=" + lot, f"text=at once {n}") for n in range(8)])
        check("eight entries at once", ends == [0] * 8, ends)
        check("are of one copy", lanes_of(book, "at once") == 1, lanes_of(book, "at once"))
    lot = answer("office.sqlite", "list", "lot")[0]["id"]
    held = sqlite3.connect(path("office.sqlite"), isolation_level=None)
    held.execute("BEGIN IMMEDIATE")  # As a window does while a large file comes in.
    waits = subprocess.Popen(command("office.sqlite", "enter", "note", "of=" + lot, "text=waited"), stdout=subprocess.PIPE,
                             stderr=subprocess.PIPE, env=home, cwd=folder)
    time.sleep(5)
    check("a command waits longer than a press in a window would", waits.poll() is None)
    held.execute("ROLLBACK")
    held.close()
    said = waits.communicate()
    check("and has its turn", waits.returncode == 0, said)

    books = [f"many{n}.sqlite" for n in range(8)]
    for book in books:
        run(book, "demo", book)
    lots = {book: answer(book, "list", "lot")[0]["id"] for book in books}
    for which in ("first", "second"):
        ends = all_at_once([command(book, "enter", "note", "of=" + lots[book], "text=many " + which) for book in books])
        check("eight books at once", ends == [0] * 8, ends)
    check("each knows its own lanes again", [lanes_of(book, "many") for book in books] == [1] * 8, [lanes_of(book, "many") for book in books])

    # ---- Looking at a book from another account ----------------------------------------------------
    enter("office.sqlite", "note", "of=" + lot, "text=before anybody looked")
    elsewhere = home_in(path("elsewhere"))
    os.mkdir(path("elsewhere"))
    for words in (["list", "lot"], ["history", lot], ["trace", lot], ["check"], ["paper", "lot", "-o", "-"]):
        done = subprocess.run(command("office.sqlite", *words), capture_output=True, text=True, env=elsewhere, cwd=folder)
        check(f"{words[0]} from another account", done.returncode == 0, done.stderr)
    enter("office.sqlite", "note", "of=" + lot, "text=before anybody wrote")
    check("who only looks is no copy", lanes_of("office.sqlite", "before anybody") == 1, lanes_of("office.sqlite", "before anybody"))

    # ---- What this copy is called ------------------------------------------------------------------
    check("a name is given", run("office.sqlite", "copy", "Office")[0] == 0)
    check("and said", run("office.sqlite", "copy")[1].strip() == "Office", run("office.sqlite", "copy"))
    enter("office.sqlite", "note", "of=" + lot, "text=from the office")
    run("office.sqlite", "give", "named.steepbook")
    check("others see it", b'"label":"Office"' in gzip.decompress(content("named.steepbook")))
    check("an empty name is none", run("office.sqlite", "copy", "  ")[0] == 2)

finish()
