#!/usr/bin/env python3
"""Do the words of the code and the string files agree?

  - each "key"_w in core, native and wasm has a text (or KEY.one and KEY.other, for counted things);
  - each text is used: by its key in the code, or as one of a family declared as made at run time;
  - each key that the code makes at run time begins as a family does;
  - the string files are well formed, both languages complete;
  - the terms of the trade have one Spanish word each;
  - no four figures are parted by a comma, and in Spanish none at all: half of its readers take it for the decimal mark.
Prints a sentence for each slip; exit status 1 when there is one.   words.py [ROOT]
"""
import glob
import os
import re
import sys

ROOT = os.path.abspath(sys.argv[1] if len(sys.argv) > 1 else os.path.join(os.path.dirname(__file__), ".."))
sys.path.insert(0, os.path.join(ROOT, "assets", "strings"))
sys.dont_write_bytecode = True
import make_words  # noqa: E402

# One thing, one word: what a person learns on one screen stands on all. Where English has the first, Spanish has the second.
TERMS = [("swath", "franja"), ("gal spray|L spray|spray per|spray rate|of spray", "mezcla"), ("recipe", "receta"), ("rig", "equipo"),
         ("vessel", "recipiente"), ("harvest", "cosech"), ("stretch", "tramo"), ("struck", "tach")]

# One C++ token of interest: a comment, a raw string, a string or a character.
TOKEN = re.compile(r'//[^\n]*|/\*.*?\*/|R"(\w*)\((?:.*?)\)\1"|"((?:\\.|[^"\\\n])*)"(_w\b)?|\'(?:\\.|[^\'\\\n])+\'', re.S)


# A text looked up by a key made at run time: 'stored("time.month." + …'.
STORED = re.compile(r'\bstored\((?:std::string\()?"([a-z_.-]+\.)"')


def literals(path):
    """(line, text, is a word id) of each string literal outside comments."""
    with open(path, encoding="utf-8") as file:
        source = file.read()
    for match in TOKEN.finditer(source):
        if match.group(2):
            yield source.count("\n", 0, match.start()) + 1, match.group(2), match.group(3) is not None


def main():
    slips = []
    try:
        table, families = make_words.read_all(glob.glob(os.path.join(ROOT, "assets", "strings", "*.txt")))
    except make_words.Slip as slip:
        sys.exit(f"words: {slip}")
    plain = set()
    ids = {}
    prefixes = {}
    for folder in ("core", "native", "wasm"):
        for where, _, files in os.walk(os.path.join(ROOT, folder)):
            for name in files:
                if not name.endswith((".cpp", ".h", ".mm")):
                    continue
                path = os.path.join(where, name)
                with open(path, encoding="utf-8") as file:
                    for made in STORED.finditer(file.read()):
                        prefixes.setdefault(made.group(1), os.path.relpath(path, ROOT))
                for line, text, is_id in literals(path):
                    if is_id:
                        ids.setdefault(text, f"{os.path.relpath(path, ROOT)}:{line}")
                    else:
                        plain.add(text)
    for prefix, where in sorted(prefixes.items()):
        if not any(prefix.startswith(family) or family.startswith(prefix) for family in families):
            slips.append(f"{where}: no family of texts begins with '{prefix}'.")
    for key, where in sorted(ids.items()):
        counted = f"{key}.one" in table and f"{key}.other" in table
        if key not in table and not counted:
            slips.append(f"{where}: '{key}' has no text in assets/strings.")
    for family in families:
        if not any(key.startswith(family) for key in table):
            slips.append(f"assets/strings: the family '{family}' has no member.")
    for key in sorted(table):
        stem = re.sub(r"\.(one|other)\Z", "", key)
        used = key in ids or stem in ids or key in plain or stem in plain
        if not used and not any(key.startswith(family) for family in families):
            slips.append(f"assets/strings: no code uses '{key}'. Take it out, or declare its family.")
    terms = 0
    for key, text in sorted(table.items()):
        for english, spanish in TERMS:
            if re.search(rf"\b({english})s?\b", text["en"], re.I):
                terms += 1
                if not re.search(spanish, text["es"], re.I):
                    slips.append(f"assets/strings: '{key}' says '{english}' in English and not '{spanish}' in Spanish.")
        if re.search(r"\d,\d{3}", text["es"]) or re.search(r"(?<![\d,])\d,\d{3}(?![\d,])", text["en"]):
            slips.append(f"assets/strings: '{key}' parts thousands by a comma, which may be read as a decimal one.")
    for slip in slips:
        print(slip)
    checks = len(ids) + 2 * len(table) + len(families) + terms
    print(f"{len(table)} texts in {len(make_words.LANGUAGES)} languages, {len(ids)} ids in the code: "
          f"{checks - len(slips)} passed, {len(slips)} failed")
    return 1 if slips else 0


if __name__ == "__main__":
    sys.exit(main())
