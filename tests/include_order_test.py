#!/usr/bin/env python3
"""Does tests/include_order.py see each kind of break? A small wrong tree is made and shown to it."""
import os
import subprocess
import sys
import tempfile

CHECKER = os.path.join(os.path.dirname(os.path.abspath(__file__)), "include_order.py")
GUARD = "#pragma once\n"
WRONG = {
    "core/trade/x.h": (GUARD + '#include "book/y.h"\n', "core/trade/x.h:2 includes book/y.h: trade stands above book"),
    "core/look/a.h": (GUARD + '#include "book/y.h"\n', "core/look/a.h:2 includes book/y.h: look sees base and host and quantity alone"),
    "core/paper/b.cpp": ('#include <sqlite3.h>\n', "core/paper/b.cpp:1 includes sqlite3.h: only core/book"),
    "core/demo/c.cpp": ("void f() { sqlite3_open(0, 0); }\n", "core/demo/c.cpp:1 calls SQLite"),
    "core/book/d.cpp": ('#include "imgui.h"\n', "core/book/d.cpp:1 includes imgui.h: book knows nothing of Dear ImGui"),
    "core/host/e.h": (GUARD + "#ifdef __EMSCRIPTEN__\n#endif\n", "core/host/e.h:2 asks for __EMSCRIPTEN__"),
    "core/base/f.cpp": ("int g(S s) { return std::stoi(s); }\n", "core/base/f.cpp:1 uses std::stoi"),
    "native/g.cpp": ("// TO" "DO: window\n", "native/g.cpp:1 says 'TO" "DO'"),
    "wasm/h.h": ("int x;\n", "wasm/h.h has no #pragma once"),
    "left.sqlite": ("", "left.sqlite does not belong on the top level"),
}
RIGHT = {
    # Words in comments and in text are no code.
    "core/app/z.cpp": ('#include "screens/today.h"\n#include "imgui.h"\n// sqlite3_open and throw are words here\n'
                       'const char* t = "catch (this)";\n', None),
    "core/book/y.h": (GUARD + '#include <sqlite3.h>\n#include "trade/x.h"\n', None),
}


TWICE = {
    "core/base/i.h": (GUARD + "struct Row {\n};\n", None),
    "core/trade/j.h": (GUARD + "struct Row {\n  int a;\n};\nstruct Row;\nstruct Row::In {\n};\n", None),
}
TWICE_SAID = "core/trade/j.h:2 defines Row, as core/base/i.h does"


def run(files):
    with tempfile.TemporaryDirectory() as root:
        for path, (text, _) in files.items():
            os.makedirs(os.path.join(root, os.path.dirname(path)), exist_ok=True)
            with open(os.path.join(root, path), "w", encoding="utf-8") as file:
                file.write(text)
        return subprocess.run([sys.executable, CHECKER, root], capture_output=True, text=True, check=False)


def main():
    passed = failed = 0
    for path, (text, sentence) in WRONG.items():
        answer = run({path: (text, sentence)})
        seen = answer.returncode == 1 and sentence in answer.stdout
        passed, failed = passed + seen, failed + (not seen)
        if not seen:
            print(f"  not seen: {sentence}\n{answer.stdout}")
    answer = run(TWICE)
    seen = answer.returncode == 1 and answer.stdout.count("defines Row") == 1 and TWICE_SAID in answer.stdout
    passed, failed = passed + seen, failed + (not seen)
    if not seen:
        print(f"  not seen: {TWICE_SAID}\n{answer.stdout}")
    answer = run(RIGHT)
    quiet = answer.returncode == 0
    passed, failed = passed + quiet, failed + (not quiet)
    if not quiet:
        print("  a right tree is called wrong:\n" + answer.stdout)
    print(f"{passed} passed, {failed} failed")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
