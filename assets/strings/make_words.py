#!/usr/bin/env python3
"""Writes words_table.cpp from the string files; the top of base.txt tells their form.

make_words.py OUTPUT FILE.txt…        Stops with a sentence at the first slip.
"""
import os
import re
import sys

LANGUAGES = ("en", "es")
KEY = re.compile(r"[a-z0-9][a-z0-9_\-]*(\.[A-Za-z0-9_\-%/ ]+)+\Z")
PLACE = re.compile(r"\{(\d)\}")


class Slip(Exception):
    """A sentence about a string file."""


def read_entries(path):
    """Yields (key, line number, {language: text}) and ('family', line number, prefix)."""
    key, at, texts = None, 0, {}
    with open(path, encoding="utf-8") as file:
        for number, line in enumerate(file, 1):
            line = line.rstrip("\n")
            where = f"{os.path.basename(path)}:{number}"
            if not line.strip() or line.startswith("#"):
                continue
            if "\t" in line or line != line.rstrip():
                raise Slip(f"{where}: tabs and spaces at the end are not taken.")
            if not line.startswith(" "):
                if key:
                    yield key, at, texts
                    key = None
                if line.startswith("family "):
                    yield "family", number, line[len("family "):]
                    continue
                if not KEY.match(line):
                    raise Slip(f"{where}: '{line}' is not a key like 'topic.name'.")
                key, at, texts = line, number, {}
                continue
            language, _, text = line.strip().partition(" ")
            if not key or language not in LANGUAGES or not text:
                raise Slip(f"{where}: a line 'en TEXT' or 'es TEXT' belongs below a key.")
            if language in texts:
                raise Slip(f"{where}: {key} has two texts for '{language}'.")
            texts[language] = text
    if key:
        yield key, at, texts


def check(path, number, key, texts):
    where = f"{os.path.basename(path)}:{number}"
    for language in LANGUAGES:
        if language not in texts:
            raise Slip(f"{where}: {key} has no text for '{language}'.")
        text = texts[language]
        if re.sub(r"\{\d\}", "", text).count("{") or re.sub(r"\{\d\}", "", text).count("}"):
            raise Slip(f"{where}: {key} has a brace in '{language}' that is not a place like {{0}}.")
        if "\\" in text.replace("\\n", ""):
            raise Slip(f"{where}: {key} has a backslash in '{language}' that is not \\n.")
    places = {language: sorted(set(PLACE.findall(texts[language]))) for language in LANGUAGES}
    # 'One bed' may leave out its number in one language.
    for language in LANGUAGES:
        if key.endswith(".one"):
            places[language] = [p for p in places[language] if p != "0"]
    if places["en"] != places["es"]:
        raise Slip(f"{where}: {key} has places {places['en']} in English and {places['es']} in Spanish.")


def read_all(paths):
    """({key: texts}, [family prefix])."""
    table, seen, families = {}, {}, []
    for path in sorted(paths):
        for key, number, value in read_entries(path):
            if key == "family":
                families.append(value)
                continue
            check(path, number, key, value)
            where = f"{os.path.basename(path)}:{number}"
            if key in table:
                raise Slip(f"{where}: {key} stands already in {seen[key]}.")
            table[key], seen[key] = value, where
    for key in table:
        stem, _, form = key.rpartition(".")
        other = {"one": "other", "other": "one"}.get(form)
        if other and f"{stem}.{other}" not in table:
            raise Slip(f"{seen[key]}: {key} needs {stem}.{other} beside it.")
    return table, families


def column(name, texts):
    """A text after the other, each ended by a zero: as many bytes as the letters, and no table of pointers."""
    rows = "".join(f'    "{text}\\0"\n' for text in (text.replace('"', '\\"') for text in texts))
    return f"constexpr char {name}[] =\n{rows}    ;\n"


def main():
    output, paths = sys.argv[1], sys.argv[2:]
    try:
        table, _ = read_all(paths)
    except Slip as slip:
        sys.exit(f"make_words.py: {slip}")
    keys = sorted(table, key=str.encode)
    text = (
        "// Made by assets/strings/make_words.py from the string files beside it.\n"
        '#include "base/words_table.h"\n\n'
        '#pragma GCC diagnostic ignored "-Woverlength-strings"\n\n'
        "namespace steep {\nnamespace {\n"
        + column("kKeys", keys)
        + column("kEnglish", [table[key]["en"] for key in keys])
        + column("kSpanish", [table[key]["es"] for key in keys])
        + "}  // namespace\n\n"
        f"WordColumns word_columns() {{ return {{{len(keys)}, kKeys, kEnglish, kSpanish}}; }}\n\n"
        "}  // namespace steep\n")
    os.makedirs(os.path.dirname(os.path.abspath(output)), exist_ok=True)
    with open(output, "w", encoding="utf-8") as file:
        file.write(text)


if __name__ == "__main__":
    main()
