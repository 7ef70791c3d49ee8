"""Licences and sources of what `cargo metadata` lists (standard input), against .deny.toml."""

import json
import re
import sys
import tomllib

rules = tomllib.load(open(".deny.toml", "rb"))
allowed = set(rules["licenses"]["allow"])
registries = {"registry+" + url for url in rules["sources"]["allow-registry"]}


def passes(expression: str) -> bool:
    """An SPDX expression with its parts true where they are allowed; crates once wrote / for OR."""
    words = re.findall(r"[()]|[^()\s]+(?: WITH [^()\s]+)?", expression.replace("/", " OR "))
    meant = {"AND": "and", "OR": "or", "(": "(", ")": ")"}
    return eval(" ".join(meant.get(word, str(word in allowed)) for word in words))


assert passes("(MIT OR Nonsense-1.0) AND Zlib") and not passes("MIT AND Nonsense-1.0")
packages = json.load(sys.stdin)["packages"]
foreign = [package for package in packages if package["source"]]
wrong = []
for package in foreign:
    name = f"{package['name']} {package['version']}"
    if package["source"] not in registries:
        wrong.append(f"{name} comes from {package['source']}")
    if not passes(package["license"] or "none"):
        wrong.append(f"{name} is under {package['license']}")
assert len(foreign) > 20, "nothing was listed"
print("\n".join(wrong) or f"{sys.argv[1]}: {len(foreign)} dependencies, every licence and source allowed")
sys.exit(bool(wrong))
