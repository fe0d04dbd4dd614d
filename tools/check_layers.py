#!/usr/bin/env python3
"""Fails when a file under src/ includes a folder that tools/layers.txt does not let it."""
import pathlib
import re
import sys

root = pathlib.Path(__file__).resolve().parent.parent
CGAL_FILES = ("src/geometry/cgal.cpp", "src/geometry/cgal_distance.cpp",
              "src/geometry/cgal_hull.cpp")


def allowed():
    table = {}
    for line in (root / "tools/layers.txt").read_text().splitlines():
        line = line.split("#")[0].strip()
        if line:
            folder, _, rest = line.partition(":")
            unknown = [name for name in rest.split() if name not in table]
            if unknown:
                sys.exit(f"tools/layers.txt: {folder} names {unknown}, which do not stand below it")
            table[folder.strip()] = set(rest.split())
    return table


def main():
    table = allowed()
    include = re.compile(r'^\s*#\s*include\s+"([^"/]+)/[^"]+"')
    faults = []
    for path in sorted((root / "src").rglob("*.[ch]pp")):
        folder = path.relative_to(root / "src").parts[0]
        if folder not in table:
            faults.append(f"{path.relative_to(root)}: folder {folder} is not in tools/layers.txt")
            continue
        for number, line in enumerate(path.read_text().splitlines(), 1):
            match = include.match(line)
            if match and match[1] != folder and match[1] not in table[folder]:
                faults.append(f"{path.relative_to(root)}:{number}: {folder} may not include {match[1]}")
            if "<CGAL/" in line and path.relative_to(root).as_posix() not in CGAL_FILES:
                faults.append(f"{path.relative_to(root)}:{number}: CGAL stays in src/geometry/cgal*.cpp")
    print("\n".join(faults) or f"layers: {len(table)} folders in order")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
