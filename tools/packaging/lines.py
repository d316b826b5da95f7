#!/usr/bin/python3
"""Lines for lockstep: an afternoon of four hours in steps of a minute for the rooms and loops of a site file, seeded. Decides nothing, judges nothing.

Reads only names (two blanks deep below rooms: and loops:); the values are made up, so that every room is pulled down, dried and left alone.
Usage: lines.py SITE.YAML
"""
import json, random, re, sys

section, names = "", {"rooms": [], "loops": []}
for line in open(sys.argv[1], encoding="utf-8"):
    if re.match(r"^\S", line):
        section = line.split(":")[0]
    elif section in names and (found := re.match(r"^  ([a-z][a-z0-9-]*):", line)):
        names[section].append(found.group(1))
chance = random.Random(12)
for minute in range(240):
    readings = {}
    for i, room in enumerate(names["rooms"]):
        readings[f"{room}.air.temperature"] = round(26.5 - 0.012 * minute + 0.3 * i + chance.uniform(-0.05, 0.05), 3)
        readings[f"{room}.air.humidity"] = round(58 - 0.03 * minute + chance.uniform(-0.3, 0.3), 3)
    for loop in names["loops"]:
        readings[f"{loop}.supply.temperature"] = round(17.5 + chance.uniform(-0.2, 0.2), 3)
    print(json.dumps({"time": f"2026-07-14T{18 + minute // 60:02d}:{minute % 60:02d}:00Z", "readings": readings}))
