"""Puts the page together: names with check sums, the security policy, the list of the service worker.

    pack.py PAGE_SOURCES PROGRAM_JS PROGRAM_WASM ICONS STYLE VERSION OUT

STYLE is core/paper/style.cpp, whose one raw string is the reports' style. Its SHA-256 is the only inline
style that the policy allows: reports are shown and printed as pages of their own, which inherit this
page's policy.
"""
import base64
import hashlib
import json
import re
import shutil
import sys
from pathlib import Path

SCRIPTS = ("store", "mirror", "input", "device", "pictures", "installed", "boot")  # In order: one scope, one file.


def style_sum(source):
    texts = re.findall(r'R"\((.*?)\)"', source.read_text(), re.DOTALL)
    if len(texts) != 1:
        raise SystemExit(f"{source}: expected one raw string, the style of the reports")
    return base64.b64encode(hashlib.sha256(texts[0].encode()).digest()).decode()


def policy(style, with_program):
    rules = {
        "default-src": "'self'",
        "script-src": "'self' 'wasm-unsafe-eval'" if with_program else "'self'",
        "style-src": "'self'" + (f" 'sha256-{style}'" if with_program else ""),
        "img-src": "'self' blob: data:",
        "frame-src": "'self' blob:" if with_program else "'none'",
        "connect-src": "'self'",
        "object-src": "'none'",
        "base-uri": "'none'",
        "form-action": "'none'",
    }
    return "; ".join(f"{name} {value}" for name, value in rules.items())


class Folder:
    """The page's folder: files under a name that holds their sum, so that a name never changes its content."""

    def __init__(self, path):
        self.path = path
        self.names = {}  # 'page.js' → 'page.1a2b3c4d5e.js'
        self.written = {}

    def put(self, name, data):
        (self.path / name).write_bytes(data)
        self.written[name] = data

    def put_hashed(self, name, data):
        stem, _, ending = name.rpartition(".")
        hashed = f"{stem}.{hashlib.sha256(data).hexdigest()[:10]}.{ending}"
        self.names[name] = hashed
        self.put(hashed, data)

    def filled(self, text, values):
        for name, hashed in {**self.names, **values}.items():
            text = text.replace(f"@{name}@", hashed)
        return text.encode()


def main():
    sources, program_js, program_wasm, icons, style, version, out = sys.argv[1:]
    sources, out, style = Path(sources), Path(out), style_sum(Path(style))
    shutil.rmtree(out, ignore_errors=True)
    out.mkdir(parents=True)
    folder = Folder(out)

    for icon in sorted(Path(icons).glob("*.png")):
        folder.put_hashed(icon.name, icon.read_bytes())
    folder.put_hashed("steepbook.wasm", Path(program_wasm).read_bytes())
    folder.put_hashed("steepbook.js", Path(program_js).read_bytes())
    scripts = [(sources / "js" / f"{name}.js").read_text().replace('"use strict";\n', "", 1) for name in SCRIPTS]
    folder.put_hashed("page.js", ('"use strict";\n(() => {\n' + "\n".join(scripts) + "\n})();\n").encode())
    for name in ("page.css", "rescue.css", "rescue.js"):
        folder.put_hashed(name, (sources / name).read_bytes())

    # The version changes with every byte of the page: two builds of one number are two versions to a browser.
    sum_of_all = hashlib.sha256("".join(sorted(folder.written)).encode())
    texts = {name: (sources / name).read_text() for name in ("index.html", "rescue.html", "manifest.webmanifest", "sw.js")}
    sum_of_all.update("".join(texts.values()).encode() + style.encode())
    values = {"VERSION": f"{version}-{sum_of_all.hexdigest()[:8]}", "CSP": policy(style, True),
              "CSP_RESCUE": policy(style, False)}
    for name in ("index.html", "rescue.html", "manifest.webmanifest"):
        folder.put(name, folder.filled(texts[name], values))
    files = [[name, hashlib.sha256(data).hexdigest()] for name, data in sorted(folder.written.items())]
    folder.put("sw.js", folder.filled(texts["sw.js"], {**values, "FILES": json.dumps(files, separators=(",", ":"))}))


main()
