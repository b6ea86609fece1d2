#!/usr/bin/env python3
"""Makes the three fonts of the program: B612 Regular and Bold, and the icons.

    make_fonts.py FOLDER FILE.cpp

writes FOLDER/regular.otf, bold.otf, icons.ttf with no glyphs but those of text_glyphs.txt and
icons.txt, and FILE.cpp with their bytes, as core/look/fonts_data.h declares them. Without the
module fontTools (Debian: fonttools) the whole files are taken: the page is then 400 KB heavier.
Glyphs that a font lacks are named, since a missing one would show as an empty box.
"""
import logging
import os
import shutil
import sys

HERE = os.path.dirname(os.path.abspath(__file__))
TEXT_FONTS = ["/usr/share/fonts/opentype/b612", "/usr/share/fonts/truetype/b612"]
ICON_FONTS = ["/usr/share/fonts/truetype/materialdesignicons-webfont"]
# Name of the function, file it is made from, where that may lie, name of the result, list of glyphs.
FONTS = [
    ("font_regular", "B612-Regular.otf", TEXT_FONTS, "regular.otf", "text"),
    ("font_bold", "B612-Bold.otf", TEXT_FONTS, "bold.otf", "text"),
    ("font_icons", "materialdesignicons-webfont.ttf", ICON_FONTS, "icons.ttf", "icons"),
]


def lines(name):
    with open(os.path.join(HERE, name), encoding="utf-8") as file:
        for line in file:
            line = line.strip()
            if line and not line.startswith("#"):
                yield line


def text_glyphs():
    wanted = set()
    for line in lines("text_glyphs.txt"):
        if line.startswith(":"):
            wanted.update(ord(sign) for sign in line[1:] if sign != " ")
        else:
            first, last = line.removeprefix("U+").split("-")
            wanted.update(range(int(first, 16), int(last, 16) + 1))
    return wanted


def icon_glyphs():
    return {int(line.split()[1], 16) for line in lines("icons.txt")}


def find(name, folders):
    # STEEPBOOK_FONTS_DIR: a folder that holds the three files, on systems that keep them elsewhere.
    for folder in [os.environ.get("STEEPBOOK_FONTS_DIR", ""), *folders]:
        path = os.path.join(folder, name)
        if folder and os.path.exists(path):
            return path
    sys.exit(f"make_fonts: {name} is not on this machine. native/setup installs fonts-b612 and "
             "fonts-materialdesignicons-webfont; or let STEEPBOOK_FONTS_DIR name the folder that has it.")


def subset(source, target, wanted):
    """Writes the subset; returns the code points that the font lacks."""
    try:
        from fontTools import subset as tool
        from fontTools.ttLib import TTFont
    except ImportError:
        print("make_fonts: fontTools is missing, the whole font is taken", file=sys.stderr)
        shutil.copyfile(source, target)
        return set()
    logging.getLogger("fontTools").setLevel(logging.ERROR)
    options = tool.Options(layout_features=[], hinting=False, name_IDs=[0, 1, 2, 4, 6, 13, 14],
                           notdef_outline=True, glyph_names=False, recalc_timestamp=False)
    font = TTFont(source, recalcTimestamp=False)
    missing = wanted - set(font.getBestCmap())
    subsetter = tool.Subsetter(options)
    subsetter.populate(unicodes=wanted)
    subsetter.subset(font)
    font.save(target)
    return missing


def as_cpp(fonts):
    out = ["// Made by assets/fonts/make_fonts.py.", '#include "look/fonts_data.h"', "", "namespace steep {"]
    for function, path in fonts:
        with open(path, "rb") as file:
            data = file.read()
        out.append(f"\nstd::span<const unsigned char> {function}() {{")
        out.append(f"  alignas(4) static constexpr unsigned char kBytes[{len(data)}] = {{")
        out += ["    " + ",".join(str(byte) for byte in data[at:at + 32]) + "," for at in range(0, len(data), 32)]
        out.append("  };\n  return kBytes;\n}")
    out.append("\n}  // namespace steep\n")
    return "\n".join(out)


def main():
    folder, cpp = sys.argv[1:]
    os.makedirs(folder, exist_ok=True)
    glyphs = {"text": text_glyphs(), "icons": icon_glyphs()}
    made = []
    for function, name, folders, result, list_name in FONTS:
        target = os.path.join(folder, result)
        missing = subset(find(name, folders), target, glyphs[list_name])
        if missing:
            print(f"make_fonts: {name} has no " + " ".join(f"U+{code:04X} {chr(code)}" for code in sorted(missing)))
        made.append((function, target))
    with open(cpp, "w", encoding="utf-8") as file:
        file.write(as_cpp(made))


if __name__ == "__main__":
    main()
