"""Which source files may be compiled as one, so that the headers they share are read once.

usage: groups.py MOST FILE...        prints one group a line, files parted by ';'

Two files go together only if no name that one keeps to itself (in an unnamed namespace, static, or a macro)
is a word of the other. Order in, order out: the same files always give the same groups."""
import re
import sys

QUIET = re.compile(r'//[^\n]*|/\*.*?\*/|R"(\w*)\((?:.*?)\)\1"|"(?:\\.|[^"\\\n])*"|\'(?:\\.|[^\'\\\n])\'', re.S)
OWN = re.compile(r'^namespace \{(.*?)^\}  // namespace$', re.S | re.M)
HIDDEN = re.compile(r'^(?:struct|class) \w+::\w+[^;]*\{', re.M)  # may hold what is the file's own: warned of in a group
TYPE = re.compile(r'(?:template <[^>]*> *)?(?:struct|class|enum class|enum|union)\s+(\w+)')
PLAIN = re.compile(r'[\w:<>,\s*&\[\].]*?(\w+)\s*[(={;\[]')


def read(path):
    with open(path, encoding="utf-8") as file:
        text = file.read()
    code = QUIET.sub(" ", text)
    own = set(re.findall(r"^#define (\w+)", code, re.M))
    own |= set(re.findall(r"^static [^=({;]*?(\w+)\s*[(={;]", code, re.M))
    for space in (QUIET.sub(" ", part) for part in OWN.findall(text)):
        for several in re.findall(r"^(?:static )?(?:constexpr|const) [^;(]*;", space, re.M):
            own |= set(re.findall(r"(\w+)(?:\[\w*\])? *[={]", several))
        for line in space.splitlines():
            if not line or line[0] in " }/#)" or line.startswith(("using ", "namespace ", "TEST", "INSTANTIATE")):
                continue
            found = TYPE.match(line) or PLAIN.match(line)
            if found:
                own.add(found.group(1))
    words = set(re.findall(r"(?<![.:\w])(?<!->)[A-Za-z_]\w*", re.sub(r"#include[^\n]*", "", code)))
    alias = {}
    for name, what in re.findall(r"^(?:using|namespace) (\w+) = ([^;]+);", code, re.M):
        alias[name] = what
    for what, name in re.findall(r"^using ([\w:]+::(\w+));", code, re.M):
        alias[name] = what.lstrip(":")
    return own, words, alias, HIDDEN.search(code) is not None


def apart(a, b):
    def taken(one, other):
        return one[0] & other[1] or any(n in other[1] and other[2].get(n) != w for n, w in one[2].items())

    return a[3] or b[3] or taken(a, b) or taken(b, a)


def main():
    most, paths = int(sys.argv[1]), sys.argv[2:]
    groups = []
    for path in paths:
        facts = read(path)
        for group in groups:
            if len(group) < most and not any(apart(facts, other) for _, other in group):
                group.append((path, facts))
                break
        else:
            groups.append([(path, facts)])
    for group in groups:
        print(";".join(path for path, _ in group))


main()
