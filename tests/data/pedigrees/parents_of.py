"""The parents of everybody in a garden's folder, as a varieties file for `expected.py`.

Reads the records by their lines alone, as they lie in the folder, and shares nothing with the
program: candidate fathers are joined by `|`, and a selfing has its seed parent twice.
"""

import csv
import pathlib
import re
import sys


def keys(text, own_seed):
    if text.startswith("Selfed"):
        return own_seed
    if text.startswith("Known"):
        return re.search(r'"([^"]+)"', text)[1]
    if text.startswith("OneOf"):
        return "|".join(re.findall(r'\("([^"]+)", [\d.]+\)', text))
    return ""


rows = []
for path in sorted(pathlib.Path(sys.argv[1]).glob("*/**/*.ron")):
    text = path.read_text(encoding="utf-8")
    field = dict(re.findall(r"^    (id|seed|pollen): (.*),$", text, re.M))
    seed = keys(field.get("seed", ""), "")
    pollen = keys(field.get("pollen", ""), seed)
    if path.parent.name == "varieties":
        rows.append((field["id"].strip('"'), seed, pollen))
    for number, name in re.findall(r'^        \(number: "([^"]+)"(?:, id: "([^"]+)")?', text, re.M):
        rows.append((name or number, seed, pollen))

out = csv.writer(sys.stdout, lineterminator="\n")
out.writerow(["variety", "seed_parent", "pollen_parent"])
out.writerows(rows)
