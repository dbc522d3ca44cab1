"""Ancestors and descendants of everybody in a varieties file, by networkx.

Each set is written as "id generation" lines, sorted, generation by the shortest way; of it the
count and the 64-bit FNV-1a hash are kept, and for every 150th person the set itself.
"""

import csv
import sys

import networkx as nx


def fnv1a(text):
    h = 0xCBF29CE484222325
    for byte in text.encode():
        h = (h ^ byte) * 0x100000001B3 % 2**64
    return h


rows = list(csv.DictReader(open(sys.argv[1], encoding="utf-8")))
up = nx.DiGraph()
for row in rows:
    up.add_node(row["variety"])
    for side in ("seed_parent", "pollen_parent"):
        for parent in filter(None, row[side].split("|")):
            up.add_edge(row["variety"], parent)
down = up.reverse()

out = csv.writer(sys.stdout, lineterminator="\n")
out.writerow(["variety", "ancestors", "ancestors_hash", "descendants", "descendants_hash", "in_full"])
for n, row in enumerate(rows):
    who, line, full = row["variety"], [row["variety"]], []
    for graph in (up, down):
        steps = nx.single_source_shortest_path_length(graph, who)
        found = sorted(f"{other} {s}\n" for other, s in steps.items() if other != who)
        line += [len(found), f"{fnv1a(''.join(found)):016x}"]
        full.append(";".join(f.strip() for f in found))
    out.writerow(line + [" / ".join(full) if n % 150 == 0 else ""])
