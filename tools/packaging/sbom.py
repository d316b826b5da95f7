#!/usr/bin/python3
"""Writes what a package is made of: a bill of materials (CycloneDX 1.5, JSON) and the licences as text.

Reads lock files and the packages in the local NuGet folder; asks no network, and the same input gives the same bytes. It must never let a
package pass whose contents are not what the committed lock file says, or whose licence nobody has weighed.
Usage: sbom.py COMMITTED-LOCK BUILT-LOCK RUNTIME(linux-x64|linux-arm64) VERSION EPOCH OUTPUT-FOLDER
"""
import base64, datetime, json, os, re, sys, uuid

WEIGHED = {"MIT", "Apache-2.0", "BSD-3-Clause"}
# The build takes these along; the first two leave nothing of themselves in the binary, the compiler leaves the runtime.
TOOLS = {"Microsoft.NET.ILLink.Tasks"}
FRAMEWORK = "net10.0"


def locked(path):
    with open(path, encoding="utf-8-sig") as file:
        return json.load(file)["dependencies"]


def nuspec(folder, name, version):
    path = os.path.join(folder, name.lower(), version, name.lower() + ".nuspec")
    with open(path, encoding="utf-8-sig") as file:
        return file.read()


def tag(text, name):
    found = re.search(r"<%s(?: [^>]*)?>([^<]*)</%s>" % (name, name), text)
    return found.group(1).strip() if found else ""


def packages(committed, built, runtime):
    """Every package of the executable for a runtime; what was locked before must be locked to the same contents."""
    for target, entries in committed.items():
        for name, entry in entries.items():
            other = built.get(target, {}).get(name)
            if entry["type"] == "Project":
                continue
            if other is None or other.get("contentHash") != entry.get("contentHash"):
                sys.exit(f"sbom: {name} of {target} was built from other contents than the committed lock file says")
    merged = dict(built[FRAMEWORK])
    merged.update(built.get(f"{FRAMEWORK}/{runtime}", {}))
    return {name: entry for name, entry in sorted(merged.items(), key=lambda item: item[0].lower()) if entry["type"] != "Project" and name not in TOOLS
            and not (name.startswith("runtime.") and not name.startswith(f"runtime.{runtime}."))}


def main():
    committed, built, runtime, version, epoch, output = sys.argv[1:]
    folder = os.environ.get("NUGET_PACKAGES") or os.path.expanduser("~/.nuget/packages")
    components, lines = [], []
    for name, entry in packages(locked(committed), locked(built), runtime).items():
        spec = nuspec(folder, name, entry["resolved"])
        licence = tag(spec, "license")
        if licence not in WEIGHED:
            sys.exit(f"sbom: {name} {entry['resolved']} has the licence \"{licence}\", which nobody has weighed (DEVELOPERS.md, Dependencies)")
        digest = base64.b64decode(entry["contentHash"]).hex()
        components.append({
            "type": "library", "name": name, "version": entry["resolved"], "purl": f"pkg:nuget/{name}@{entry['resolved']}",
            "licenses": [{"license": {"id": licence}}], "copyright": tag(spec, "copyright"),
            "properties": [{"name": "nuget:contentHash:sha512", "value": digest}]})
        lines.append(f"{name} {entry['resolved']}\n    licence: {licence}\n    {tag(spec, 'copyright') or tag(spec, 'authors')}\n")
    moment = datetime.datetime.fromtimestamp(int(epoch), datetime.timezone.utc).strftime("%Y-%m-%dT%H:%M:%SZ")
    bill = {
        "bomFormat": "CycloneDX", "specVersion": "1.5", "version": 1,
        "serialNumber": "urn:uuid:" + str(uuid.uuid5(uuid.NAMESPACE_URL, f"room-supervisor {version} {runtime}")),
        "metadata": {"timestamp": moment, "component": {"type": "application", "name": "room-supervisor", "version": version, "licenses": [{"license": {"id": "MIT"}}]}},
        "components": components}
    with open(os.path.join(output, "sbom.cdx.json"), "w", encoding="utf-8") as file:
        json.dump(bill, file, indent=1, ensure_ascii=False, sort_keys=True)
        file.write("\n")
    compiler = next(c for c in components if c["name"] == "Microsoft.DotNet.ILCompiler")
    notices = os.path.join(folder, "microsoft.dotnet.ilcompiler", compiler["version"], "THIRD-PARTY-NOTICES.TXT")
    with open(os.path.join(output, "LICENSES.txt"), "w", encoding="utf-8") as file:
        file.write("What this package is made of, and under which licences. Room Supervisor itself: MIT, see \"copyright\" beside this file.\n"
                   "libe_sqlite3.so holds SQLite, which its authors have given to the public domain. Texts of MIT, Apache-2.0 and BSD:\n"
                   "/usr/share/common-licenses and below.\n\n" + "\n".join(lines))
        file.write("\n\nNotices of the .NET runtime, whose parts are linked into the program\n\n")
        with open(notices, encoding="utf-8-sig") as source:
            file.write(source.read().replace("\r\n", "\n"))


main()
