#!/usr/bin/env python3
"""Rules of the house that a compiler can't see, checked on the text of the sources.

    python3 tests/include_order.py [FOLDER]

Prints a sentence for each break of a rule and ends with 'N passed, N failed', counted in rules.
FOLDER is the project's folder; another one is given by tests/include_order_test.py.
"""
import os
import re
import subprocess
import sys

# The folders of core/ in their order: each may include only folders that stand before it.
ORDER = ["base", "quantity", "trade", "host", "book", "demo", "handover", "paper", "look", "screens", "app"]
# These see less than all that stands before them.
ONLY = {"trade": {"base", "quantity"}, "host": {"base"}, "look": {"base", "quantity", "host"}}
IMGUI = {"look", "screens", "app"}  # besides native/ and wasm/
# The one other user of SQLite is the page's store, and its tests.
SQLITE = re.compile(r"core/book/|wasm/page_(store|vfs|os)|tests/")

INCLUDE = re.compile(r'^\s*#\s*include\s*[<"]([^>"]+)[>"]')
SYSTEM = re.compile(r"^\s*#\s*(?:if|ifdef|ifndef|elif)\b.*\b(__EMSCRIPTEN__|EMSCRIPTEN|_WIN32|WIN32|__linux__|__linux|__APPLE__|"
                    r"__unix__|__ANDROID__|__wasm__|_MSC_VER|__MINGW32__)\b")
# Calls that throw, or that the page's compiler lacks. Result, text helpers and error_code forms stand for them.
THROWING = re.compile(r"(\bstd::sto(?:i|l|ul|ll|ull|f|d|ld)\(|\bthrow\b|\bcatch\s*\(|\bstd::format\b|\bstd::expected\b|\bstd::jthread\b)")
TOP = {"CMakeLists.txt", "README.md", "DEVELOPERS.md", "LICENSE", "core", "wasm", "native", "tests", "assets"}
UNFINISHED = re.compile(r"\b(TODO|FIXME|XXX|HACK)\b|not yet implemented|not implemented yet", re.IGNORECASE)


def without_comments(text):
    """The code alone, lines kept: comments and the insides of string literals are blanked."""
    pattern = re.compile(r'//[^\n]*|/\*.*?\*/|R"([^(\s]*)\(.*?\)\1"|"(?:\\.|[^"\\\n])*"|\'(?:\\.|[^\'\\\n])\'', re.DOTALL)

    def blank(match):
        text = match.group(0)
        if text.startswith(("//", "/*")):
            return re.sub(r"[^\n]", " ", text)
        return '"' + re.sub(r"[^\n]", " ", text[1:-1]) + '"'

    return pattern.sub(blank, text)


class Source:
    def __init__(self, root, path):
        self.path = path
        with open(os.path.join(root, path), encoding="utf-8", errors="replace") as file:
            self.text = file.read()
        self.code = without_comments(self.text).split("\n")
        parts = path.split("/")
        self.folder = parts[1] if parts[0] == "core" and len(parts) > 2 else None

    def includes(self):
        """(line number, what is included) of every #include."""
        for number, line in enumerate(self.text.split("\n"), 1):
            found = INCLUDE.match(line)
            if found:
                yield number, found.group(1)


def sources(root):
    for top in ("core", "native", "wasm", "tests"):
        for folder, folders, files in os.walk(os.path.join(root, top)):
            folders[:] = sorted(name for name in folders if name != "node_modules")
            for name in sorted(files):
                if name.endswith((".h", ".cpp")):
                    yield Source(root, os.path.relpath(os.path.join(folder, name), root).replace(os.sep, "/"))


def folder_order(source):
    if source.folder is None:
        return
    if source.folder not in ORDER:
        yield f"{source.path}: core/ has no folder '{source.folder}' in its order"
        return
    place = ORDER.index(source.folder)
    for number, name in source.includes():
        if name.startswith((".", "core/")):
            yield f"{source.path}:{number} includes {name}: write it from core/ on, like \"base/text.h\""
            continue
        other = name.split("/")[0] if "/" in name else None
        if other in ("native", "wasm", "tests"):
            yield f"{source.path}:{number} includes {name}: core/ knows nothing of {other}/"
        if other not in ORDER or other == source.folder:
            continue
        if ORDER.index(other) > place:
            yield f"{source.path}:{number} includes {name}: {source.folder} stands above {other}"
        elif source.folder in ONLY and other not in ONLY[source.folder]:
            yield f"{source.path}:{number} includes {name}: {source.folder} sees {' and '.join(sorted(ONLY[source.folder]))} alone"


def sqlite_in_one_place(source):
    if SQLITE.match(source.path):
        return
    for number, name in source.includes():
        if name.startswith("sqlite3"):
            yield f"{source.path}:{number} includes {name}: only core/book and the page store speak SQL"
    for number, line in enumerate(source.code, 1):
        if "sqlite3_" in line:
            yield f"{source.path}:{number} calls SQLite: only core/book and the page store do"


def imgui_in_its_folders(source):
    if source.folder is None or source.folder in IMGUI:
        return
    for number, name in source.includes():
        if name.startswith("imgui"):
            yield f"{source.path}:{number} includes {name}: {source.folder} knows nothing of Dear ImGui"


def no_system_in_core(source):
    if source.folder is None:
        return
    for number, line in enumerate(source.text.split("\n"), 1):
        found = SYSTEM.match(line)
        if found:
            yield f"{source.path}:{number} asks for {found.group(1)}: systems differ behind host/ only"


def nothing_throws_in_core(source):
    if source.folder is None:
        return
    for number, line in enumerate(source.code, 1):
        found = THROWING.search(line)
        if found:
            yield f"{source.path}:{number} uses {found.group(1).strip('(')}: core/ is built without exceptions, for compilers of 2022"


def nothing_unfinished(source):
    if source.path.startswith("tests/"):
        return
    for number, line in enumerate(source.text.split("\n"), 1):
        found = UNFINISHED.search(line)
        if found:
            yield f"{source.path}:{number} says '{found.group(0)}'"


def headers_guarded(source):
    if source.path.endswith(".h") and "#pragma once" not in source.text:
        yield f"{source.path} has no #pragma once"


TYPE = re.compile(r"^(?:(?:struct|class|enum(?: class)?)\s+(\w+)\s*(?:final\s*)?(?::[^:;][^;]*)?\{|using\s+(\w+)\s*=)")
seen_types = {}


def one_type_a_name(source):
    """Two types of one name in one namespace: the linker takes the functions of either, and memory is overwritten."""
    if source.folder is None or not source.path.endswith(".h"):
        return
    for number, line in enumerate(source.code, 1):
        found = TYPE.match(line)
        name = found and (found.group(1) or found.group(2))
        if name and seen_types.setdefault(name, source.path) != source.path:
            yield f"{source.path}:{number} defines {name}, as {seen_types[name]} does"


RULES = [
    ("a folder includes only folders above it", folder_order),
    ("SQL in core/book and the page store only", sqlite_in_one_place),
    ("Dear ImGui in look, screens, app, native, wasm only", imgui_in_its_folders),
    ("no system is named in core/", no_system_in_core),
    ("nothing in core/ throws", nothing_throws_in_core),
    ("nothing is left unfinished", nothing_unfinished),
    ("every header is read once", headers_guarded),
    ("no two types in the headers of core/ have one name", one_type_a_name),
]


def fixed_top(root):
    """The top level stays as it is: what a run leaves there is not committed."""
    names = set(os.listdir(root)) - {"build"}
    if os.path.exists(os.path.join(root, ".git")):
        listed = subprocess.run(["git", "-C", root, "ls-files"], capture_output=True, text=True, check=True).stdout
        names = {path.split("/")[0] for path in listed.splitlines()}
    for name in sorted(names - TOP):
        if not name.startswith("."):
            yield f"{name} does not belong on the top level"


def main():
    root = sys.argv[1] if len(sys.argv) > 1 else os.path.dirname(os.path.dirname(os.path.abspath(__file__)))
    every = list(sources(root))
    passed = failed = 0
    found = [(name, [sentence for source in every for sentence in rule(source)]) for name, rule in RULES]
    found.append(("the top level is fixed", list(fixed_top(root))))
    for name, sentences in found:
        for sentence in sentences:
            print("  " + sentence)
        print(f"{'FAILED' if sentences else 'ok':7} {name}")
        failed += bool(sentences)
        passed += not sentences
    print(f"{len(every)} files; {passed} passed, {failed} failed")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
