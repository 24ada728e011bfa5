"""The program whose output the recipes read."""

import json
import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent


def program():
    """The program that AXLEWRIGHT_PROGRAM names, as the test command does; or else builds it. Returns its path."""
    if os.environ.get("AXLEWRIGHT_PROGRAM"):
        return os.environ["AXLEWRIGHT_PROGRAM"]
    command = ["cargo", "build", "--quiet", "--package", "axlewright", "--message-format", "json"]
    built = subprocess.run(command, cwd=ROOT, check=True, capture_output=True, text=True).stdout
    for line in built.splitlines():
        message = json.loads(line)
        if message.get("executable") and message["target"]["name"] == "axlewright":
            return message["executable"]
    sys.exit("cargo named no program")
