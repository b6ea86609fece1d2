#!/usr/bin/env python3
"""Is every function of core/trade held against the outside world, or is there a reason why it cannot be?

  published_reach.py BUILD     BUILD is a folder in which steepbook_published has been built.

The compiler answers, no text is searched: what libtrade.a defines is compared with what the published checks call.
A function that none of them calls must stand in tests/published/no_source.txt with a reason and the unit test that
has it instead, and only such a function may stand there. Inline functions leave no symbol and are not looked at.
Prints a sentence for each slip; exit status 1 when there is one.
"""
import glob
import os
import re
import subprocess
import sys

ROOT = os.path.abspath(os.path.join(os.path.dirname(__file__), ".."))


def name_of(symbol):
    """The name without its parameters.

    >>> name_of("steep::Inputs::find(std::basic_string_view<char>) const")
    'Inputs::find'
    >>> name_of("steep::figure[abi:cxx11](double, int)")
    'figure'
    >>> name_of("steep::Inputs::operator[](std::basic_string_view<char>) const")
    'Inputs::operator[]'
    >>> name_of("steep::(anonymous namespace)::helper(int)") is None
    True
    >>> name_of("boost::throw_exception(std::exception const&)") is None
    True
    """
    if not symbol.startswith("steep::") or "(anonymous namespace)" in symbol:
        return None
    return re.sub(r"\[abi:\w+\]", "", symbol[len("steep::"):].split("(")[0]) or None


def symbols(files, kind):
    """Demangled symbols of object files: 'T' = defined and to be called from elsewhere, 'U' = called."""
    listed = subprocess.run(["nm", "-C", *files], capture_output=True, text=True, check=True).stdout
    return {m.group(1) for m in re.finditer(rf"^[0-9a-f ]* {kind} (.+)$", listed, re.M) if name_of(m.group(1))}


def reasons(lines):
    """{name or 'Type::*' or 'work_*': reason}

    >>> reasons(["# words", "", "bill: arithmetic", "Inputs::*: reads what was typed"])
    {'bill': 'arithmetic', 'Inputs::*': 'reads what was typed'}
    """
    table = {}
    for line in lines:
        line = line.strip()
        if line and not line.startswith("#"):
            name, _, why = line.partition(": ")
            table[name] = why.strip()
    return table


def tested_in(entry, reason):
    """Is a test file named behind the reason, and does it speak of the function?"""
    path = os.path.join(ROOT, reason.rpartition("; ")[2])
    if not os.path.isfile(path):
        return False
    with open(path, encoding="utf-8") as file:
        return entry.endswith("*") or re.search(rf"\b{re.escape(entry.split('::')[-1])}\b", file.read()) is not None


def slips(defined, called, why, is_tested=lambda entry, reason: True):
    """Sentences.

    >>> list(slips({"steep::a(int)", "steep::a(double)"}, {"steep::a(int)"}, {}))
    ['a(double): no published check calls it. Add one with its source, or the reason to no_source.txt.']
    >>> list(slips({"steep::a(int)", "steep::a(double)"}, {"steep::a(int)"}, {"a": "names only"}))
    []
    >>> list(slips({"steep::a(int)"}, {"steep::a(int)"}, {"a": "names only"}))
    ['a: no_source.txt gives a reason, but a published check calls it (or it is gone).']
    >>> list(slips({"steep::B::c()"}, set(), {"B::*": "plumbing"}))
    []
    >>> list(slips({"steep::a()"}, set(), {"a": ""}))
    ['a: no_source.txt gives no reason.']
    >>> list(slips({"steep::a()"}, set(), {"a": "a sum; tests/unit/gone.cpp"}, tested_in))
    ["a: no_source.txt names no test of it; 'reason; tests/unit/FILE' is its form."]
    """
    def covers(entry, name):
        return name.startswith(entry[:-1]) if entry.endswith("*") else name == entry

    missing = sorted(defined - called)
    for symbol in missing:
        if not any(covers(entry, name_of(symbol)) for entry in why):
            yield f"{symbol[len('steep::'):]}: no published check calls it. Add one with its source, or the reason to no_source.txt."
    for entry, reason in why.items():
        if not reason:
            yield f"{entry}: no_source.txt gives no reason."
        elif not is_tested(entry, reason):
            yield f"{entry}: no_source.txt names no test of it; 'reason; tests/unit/FILE' is its form."
        if not any(covers(entry, name_of(symbol)) for symbol in missing):
            yield f"{entry}: no_source.txt gives a reason, but a published check calls it (or it is gone)."


def main():
    import doctest
    if doctest.testmod().failed:
        sys.exit("published_reach: its own examples fail.")
    build = sys.argv[1] if len(sys.argv) > 1 else os.path.join(ROOT, "build", "native")
    objects = glob.glob(os.path.join(build, "CMakeFiles", "steepbook_published.dir", "tests", "published", "*.o"))
    library = os.path.join(build, "libtrade.a")
    # Objects of sources that are gone stay in the folder of a build: they prove nothing.
    objects = [o for o in objects if os.path.exists(os.path.join(ROOT, "tests", "published", os.path.basename(o)[:-2]))]
    if not objects or not os.path.exists(library):
        sys.exit(f"published_reach: {build} has no built steepbook_published.")
    with open(os.path.join(ROOT, "tests", "published", "no_source.txt"), encoding="utf-8") as file:
        why = reasons(file)
    defined, called = symbols([library], "T"), symbols(objects, "U")
    found = list(slips(defined, called, why, tested_in))
    for sentence in found:
        print(sentence)
    reached = len(defined & called)
    print(f"{len(defined)} functions of core/trade: {reached} called by published checks, {len(defined) - reached} with a reason")
    print(f"{max(len(defined) - len(found), 0)} passed, {len(found)} failed")
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
