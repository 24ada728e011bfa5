"""Holds the description of the JSON interface against the OpenAPI 3.1 schema with openapi-spec-validator.

    python validation/openapi/recipe.py            writes operations.csv
    python validation/openapi/recipe.py --check    asks for the description again, validates and compares

What is compared stands in README.md beside this file.
"""

import copy
import csv
import json
import subprocess
import sys
import tempfile
import urllib.request
from pathlib import Path

from openapi_spec_validator import OpenAPIV31SpecValidator

HERE = Path(__file__).resolve().parent
sys.path.insert(0, str(HERE.parent))
from program import program  # noqa: E402

RECORD = HERE / "operations.csv"


def document():
    """The description, from a desk that is opened on an empty book and closed again."""
    with tempfile.TemporaryDirectory() as folder:
        shop = Path(folder) / "shop"
        shop.mkdir()
        command = [
            program(), "desk", "--listen", "127.0.0.1:0", "--book", str(Path(folder) / "orders.db"), "--shop", str(shop),
            "--open",
        ]
        desk = subprocess.Popen(command, stdout=subprocess.PIPE, text=True)
        try:
            for line in desk.stdout:
                words = [word for word in line.split() if word.startswith("http://")]
                if words:
                    with urllib.request.urlopen(words[0] + "api/v1/openapi.json", timeout=30) as answer:
                        return json.load(answer)
            sys.exit("the desk said no address")
        finally:
            desk.terminate()
            desk.wait(timeout=30)


def faults(described):
    return [f"{list(fault.absolute_path)}: {fault.message}" for fault in OpenAPIV31SpecValidator(described).iter_errors()]


def operations(described):
    return sorted(
        [method.upper(), path, operation["operationId"]]
        for path, members in described["paths"].items()
        for method, operation in members.items()
    )


def main():
    described = document()
    problems = faults(described)
    # A check that cannot fail shows nothing: the same description without a thing that it must have is refused.
    for spoil in [
        lambda it: it.pop("info"),
        lambda it: it["paths"]["/api/v1/orders"]["get"]["parameters"][0].update({"in": "nowhere"}),
        lambda it: it["paths"]["/api/v1/orders/{number}"]["get"]["parameters"].clear(),
        lambda it: it["paths"]["/api/v1/orders"]["post"].update(operationId="listOrders"),
    ]:
        spoiled = copy.deepcopy(described)
        spoil(spoiled)
        if not faults(spoiled):
            problems.append("a description that is none was let through")
    found = operations(described)
    if "--check" in sys.argv:
        with RECORD.open(newline="") as file:
            kept = list(csv.reader(file))[1:]
        problems += [f"gone since it was recorded: {' '.join(one)}" for one in kept if one not in found]
        problems += [f"not recorded: {' '.join(one)}" for one in found if one not in kept]
    else:
        with RECORD.open("w", newline="") as file:
            csv.writer(file, lineterminator="\n").writerows([["method", "path", "operation"], *found])
    if problems:
        sys.exit("\n".join(problems))
    print(f"{len(found)} operations described, {len(described['components']['schemas'])} schemas, nothing against OpenAPI 3.1")


main()
