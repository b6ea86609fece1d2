#!/usr/bin/env python3
"""Writes the C++ file behind core/base/licenses.h: whose work is in the program, and the licences' texts.

    make_licenses.py FILE.cpp LICENSE licenses.txt PACKAGES

The texts are taken from where they came with the software itself: source trees in the folder PACKAGES and
Debian's copyright files. One that this machine lacks is named by its address.
"""
import os
import re
import sys

DOCS = "/usr/share/doc"


def read(path):
    try:
        with open(path, encoding="utf-8", errors="replace") as file:
            return file.read()
    except OSError:
        return ""


def from_debian(package, name):
    """The paragraph `License: name` of a package's copyright file (its machine-readable form)."""
    text = read(f"{DOCS}/{package}/copyright")
    found = re.search(rf"^License: {re.escape(name)}\n((?:[ \t].*\n)+)", text + "\n", re.MULTILINE)
    if not found:
        return ""
    return "\n".join("" if line.strip() == "." else line[1:].rstrip() for line in found.group(1).splitlines())


def after(path, begin, end=None):
    text = read(path)
    at = text.find(begin)
    if at < 0:
        return ""
    stop = text.find(end, at) if end else -1
    return text[at:] if stop < 0 else text[at:stop]


def bare(comment):
    """The text of a C comment without the stars before its lines."""
    return re.sub(r"^ \* ?", "", comment, flags=re.MULTILINE)


def texts(license_file, packages):
    return {
        "MIT": after(license_file, "Permission is hereby granted"),
        "Zlib": after(f"{packages}/zlib/LICENSE", "  This software is provided", "  Jean-loup Gailly"),
        "ISC": bare(after(f"{packages}/sodium/LICENSE", " * Permission to use", " */")),
        "BSD-3-Clause": from_debian("libcli11-dev", "BSD-3-clause"),
        "OFL-1.1": from_debian("fonts-b612", "OFL-1.1"),
        "BSL-1.0": "",  # needs no notice in a compiled program
        "CC0-1.0": "",
        "Apache-2.0 WITH LLVM-exception": "",  # nor does this
    }


def document(license_file, list_file, packages):
    rows = [[part.strip() for part in line.split("|")] for line in read(list_file).splitlines()
            if line.strip() and not line.startswith("#")]
    for row in rows:
        if len(row) != 4:
            sys.exit(f"make_licenses: '{' | '.join(row)}' is not name | use | whose | licence")
    out = ["Steepbook", "", read(license_file).strip(), "", ""]
    for name, use, whose, license_name in rows:
        out += [name, f"  {use}", f"  {whose}", f"  {license_name}", ""]
    known = texts(license_file, packages)
    for name in sorted({row[3] for row in rows} - {"public domain"}):
        address = "https://spdx.org/licenses/" + name.split(" ")[0] + ".html"
        if "LLVM" in name:
            address += " and https://spdx.org/licenses/LLVM-exception.html"
        body = known.get(name, "").strip("\n")
        out += ["", name, "", body if body.strip() else "Text: " + address, ""]
    return "\n".join(out)


def as_cpp(text):
    lines = ["// Made by assets/make_licenses.py.", '#include "base/licenses.h"', "", "namespace steep {", "",
             "std::string_view third_party_licenses() {", "  return"]
    for line in text.split("\n"):
        escaped = line.replace("\\", "\\\\").replace('"', '\\"')
        lines.append(f'      "{escaped}\\n"')
    lines[-1] += ";"
    return "\n".join(lines + ["}", "", "}  // namespace steep", ""])


def main():
    target, license_file, list_file, packages = sys.argv[1:]
    os.makedirs(os.path.dirname(target), exist_ok=True)
    with open(target, "w", encoding="utf-8") as file:
        file.write(as_cpp(document(license_file, list_file, packages)))


if __name__ == "__main__":
    main()
