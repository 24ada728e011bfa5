"""Sets papers of the demo's orders, reads them with Poppler, ZBar and pikepdf, and compares.

    python validation/papers/recipe.py            writes sizes.csv
    python validation/papers/recipe.py --check    sets them again, reads and compares

What is compared stands in README.md beside this file.
"""

import csv
import io
import json
import os
import re
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

import pdf_oxide
import pikepdf

HERE = Path(__file__).resolve().parent
ROOT = HERE.parent.parent
sys.path.insert(0, str(ROOT / "validation"))
from program import program  # noqa: E402
# Order, page size, units, who approves, why an order to ask about is made all the same.
CASES = [
    ("02-market-wagon", "letter", "inch", "Tove Lind", None),
    ("13-metric-camper", "a4", "millimetre", None, None),
    ("10-feed-van", "letter", "dual", "Tove Lind", "the customer took the reading again by telephone"),
    ("11-apiary-truck", "a4", "millimetre", "Tove Lind", None),
    ("12-drag-car", "letter", "inch", "Tove Lind", None),
]
RECORDED = "02-market-wagon"
# One in Letter and one in A4 are enough where a check is slow.
ONE_OF_EACH = ["02-market-wagon", "13-metric-camper"]
POINTS = {"letter": (612.0, 792.0), "a4": (595.28, 841.89)}
PAPERS = [
    "packet", "measuring-sheet", "confirmation", "shop-drawing", "traveler", "inspection-report", "certificate", "parts-list",
    "fitting-sheet", "packing-label",
]
CAUTIONS = [
    "This supports and does not replace the judgement of a qualified person.",
    "Local law on vehicle modification and licensed practice come first.",
]
GROUND = {
    "register_diameter", "wheel_pilot_diameter", "journal_diameter", "ring_seat_diameter", "seal_journal_diameter", "stud_hole",
}

problems = []
compared = 0


def hold(true, words):
    """Counts one comparison, and keeps what it is about where it fails."""
    global compared
    compared += 1
    if not true:
        problems.append(words)


def run(*words):
    return subprocess.run(words, cwd=ROOT, check=False, capture_output=True, text=True, env={**os.environ, "NO_COLOR": "1"})


def flat(text):
    return re.sub(r"\s+", " ", text)


def pages_of(path):
    """The text of each page, in reading order."""
    text = run("pdftotext", "-layout", str(path), "-").stdout
    return text.split("\f")[:-1]


def check_pages(path, case, review, paper, approved):
    name, size, _, _, _ = case
    pages = pages_of(path)
    what = f"{name}: {paper}"
    info = run("pdfinfo", "-f", "1", "-l", str(len(pages)), str(path)).stdout
    sizes = re.findall(r"Page +\d+ size: +([\d.]+) x ([\d.]+)", info)
    hold(len(sizes) == len(pages), f"{what}: pdfinfo and pdftotext count pages otherwise")
    for one in sizes:
        found = sorted(float(number) for number in one)
        hold(all(abs(a - b) < 0.1 for a, b in zip(found, POINTS[size])), f"{what}: a page of {one} points is not {size}")
    hold("Tagged:          yes" in info, f"{what}: not tagged")
    hold("Encrypted:       no" in info, f"{what}: encrypted")
    hold("JavaScript:      no" in info, f"{what}: holds a script")
    for number, page in enumerate(pages, 1):
        where = f"{what}, page {number}"
        words = flat(page)
        hold(f"page {number} of {len(pages)}" in words, f"{where}: does not say page {number} of {len(pages)}")
        hold(review["reference"] in words, f"{where}: no reference")
        hold("revision 3" in words, f"{where}: no revision")
        hold("2026-11-25" in words, f"{where}: no date")
    raw = run("pdftotext", "-raw", str(path), "-").stdout.split("\f")[:-1]
    for number, page in enumerate(raw, 1):
        where = f"{what}, page {number}"
        words = flat(page)
        for caution in CAUTIONS:
            hold(caution in words, f"{where}: lacks a caution")
        if paper == "packet" or paper == "measuring-sheet":
            continue
        stamped = "NOT FOR MANUFACTURE" in words
        hold(stamped != approved, f"{where}: approved is {approved}, stamped is {stamped}")
    fonts = run("pdffonts", str(path)).stdout.splitlines()[2:]
    hold(bool(fonts), f"{what}: no font")
    for line in fonts:
        columns = line.split()
        # The last columns are: encoding emb sub uni object-number generation.
        hold(columns[-5] == "yes" and columns[-3] == "yes", f"{what}: a font is not embedded or has no Unicode: {line}")


def check_archive(path, what):
    with pikepdf.open(path) as pdf:
        root = pdf.Root
        with pdf.open_metadata() as metadata:
            hold(str(metadata.get("pdfaid:part")) == "2", f"{what}: not PDF/A-2")
            hold(str(metadata.get("pdfaid:conformance")) == "A", f"{what}: not level A")
            hold(str(metadata.get("pdfuaid:part")) == "1", f"{what}: not PDF/UA-1")
            hold(bool(metadata.get("dc:title")), f"{what}: no title")
        intents = root.get("/OutputIntents")
        hold(intents is not None and "/DestOutputProfile" in intents[0], f"{what}: no output intent with a profile")
        hold(bool(root.get("/MarkInfo", {}).get("/Marked")), f"{what}: not marked as tagged")
        hold("/StructTreeRoot" in root, f"{what}: no structure tree")
        hold(str(root.get("/Lang", "")).startswith("en"), f"{what}: no language")
        hold("/EmbeddedFiles" not in root.get("/Names", {}), f"{what}: holds embedded files")
        hold(not pdf.check_pdf_syntax(), f"{what}: the file is not sound")
        hold("/OpenAction" not in root and "/AA" not in root, f"{what}: does something when opened")


def check_structure(path, what):
    """The rules of PDF/UA-1 that pdfua knows, 16 of 106."""
    found = run(sys.executable, "-m", "pdfua", "check", str(path))
    hold(found.returncode == 0 and "errors=0 warnings=0" in found.stdout, f"{what}: pdfua says {found.stdout}{found.stderr}")


def archive_faults(path):
    """What pdf_oxide finds against PDF/A-2a."""
    return pdf_oxide.PdfDocument(str(path)).validate_pdf_a("2a")["errors"]


def is_accessible(path):
    """Whether outloud finds no error against PDF/UA-1; TAG-002 would have the foot of every page read out."""
    words = ["--layer", "conformance", "--skip", "TAG-002", "--quiet", str(path)]
    return run(sys.executable, "-c", "from outloud.cli import main; main()", *words).returncode == 0


def without(kind, key):
    """Takes a key out of every dictionary that is of that kind."""

    def spoil(pdf):
        for one in pdf.objects:
            if isinstance(one, pikepdf.Dictionary) and kind(one) and key in one:
                del one[key]

    return spoil


def without_of_root(key):
    return lambda pdf: pdf.Root.__delitem__(key)


def with_script(pdf):
    pdf.Root.OpenAction = pikepdf.Dictionary(S=pikepdf.Name.JavaScript, JS="app.alert(1)")


# Faults that are planted, and which of the two checkers has to find each.
SPOILED = {
    "a font is not embedded": (without(lambda one: one.get("/Type") == "/FontDescriptor", "/FontFile2"), {"archive"}),
    "a script runs when it is opened": (with_script, {"archive"}),
    "no metadata": (without_of_root("/Metadata"), {"archive", "access"}),
    "no structure tree": (without_of_root("/StructTreeRoot"), {"archive", "access"}),
    "no language": (without_of_root("/Lang"), {"archive", "access"}),
    "no words for a picture": (without(lambda one: one.get("/S") == "/Figure", "/Alt"), {"access"}),
}


def check_checkers(path, name, folder):
    """Two checkers of other hands find nothing in the file, and find each of the faults that are planted in a copy."""
    hold(archive_faults(path) == [], f"{name}: pdf_oxide says {archive_faults(path)}")
    hold(is_accessible(path), f"{name}: outloud finds errors against PDF/UA-1")
    for fault, (spoil, finders) in SPOILED.items():
        spoiled = folder / "spoiled.pdf"
        with pikepdf.open(path) as pdf:
            spoil(pdf)
            pdf.save(spoiled)
        if "archive" in finders:
            hold(archive_faults(spoiled) != [], f"pdf_oxide does not see a planted fault: {fault}")
        if "access" in finders:
            hold(not is_accessible(spoiled), f"outloud does not see a planted fault: {fault}")


def in_inches(millimetres):
    return millimetres / 25.4


def check_confirmation(path, case, review):
    """Sizes, limits and marks against the review; gives what was read."""
    name, _, units, _, _ = case
    # In the order of the file: by place on the page, the letters of the stamp would come in between.
    words = flat(run("pdftotext", "-raw", str(path), "-").stdout)
    read = []
    inches = units != "millimetre"
    for one in review["dimensions"]:
        key, side = one["dimension"], one["side"]
        label = key.replace("_", " ").capitalize() + (f", {side}" if side else "")
        number = r"(\d*\.\d+)"
        unit = "in" if inches else "mm"
        found = re.search(re.escape(label) + rf" +{number} {unit}\b.*?{number}–{number} {unit}", words)
        hold(found is not None, f"{name}: the confirmation lacks {label}")
        if found is None:
            continue
        texts = found.groups()
        places = (4 if key in GROUND else 3) if inches else (3 if key in GROUND else 2)
        step = 10.0**-places
        scale = in_inches if inches else float
        cut, least, most = (scale(one[part]["millimetres"]) for part in ["cut", "least", "most"])
        hold(abs(float(texts[0]) - cut) <= 0.5001 * step, f"{name}: {label} is {texts[0]}, the review says {cut}")
        low, high = float(texts[1]), float(texts[2])
        hold(-1e-6 <= low - least <= step, f"{name}: lower limit of {label} is {low}, the review says {least}")
        hold(-1e-6 <= most - high <= step, f"{name}: upper limit of {label} is {high}, the review says {most}")
        read.append([label, *texts])
    return read


def check_numbers(path, what):
    """The balloons of each shaft's form run from 1 without a gap; what one label says has one number."""
    # In the order of the file: by place on the page, the letters of the stamp would come in between.
    text = run("pdftotext", "-raw", str(path), "-").stdout
    forms = re.split(r"Axle shaft, (?:left|right)\. Numbers", text)[1:]
    hold(bool(forms), f"{what}: no form")
    for form in forms:
        numbers = [int(found) for found in re.findall(r"^(\d{1,2}) (?!Weir Yard)[A-Z][a-z]", form, re.MULTILINE)]
        once = sorted(set(numbers))
        hold(numbers == sorted(numbers) and once == list(range(1, len(once) + 1)), f"{what}: balloons are {numbers}")
        hold(len(once) >= 10, f"{what}: only {len(once)} balloons")


def check_code(path, reference, folder):
    run("pdftoppm", "-r", "150", "-png", "-singlefile", str(path), str(folder / "label"))
    found = run("zbarimg", "--quiet", "--raw", str(folder / "label.png")).stdout.strip()
    hold(found == reference, f"the code of the label says {found!r} and not {reference!r}")


def main():
    for tool in ["pdftotext", "pdfinfo", "pdffonts", "pdftoppm", "zbarimg"]:
        if shutil.which(tool) is None:
            sys.exit(f"{tool} is missing; install poppler-utils and zbar-tools")
    executable = program()
    recorded = None
    for case in CASES:
        name, size, units, approves, overruling = case
        sheet = ROOT / "demo" / "orders" / f"{name}.toml"
        review = json.loads(run(executable, "check", str(sheet), "--format", "json").stdout)
        approved = approves is not None and (review["verdict"] == "cut" or (review["verdict"] == "ask" and overruling is not None))
        words = ["--paper", size, "--units", units, "--date", "2026-11-25", "--revision", "3", "--shop", str(ROOT / "demo" / "shop")]
        words += ["--approved-by", approves] if approves else []
        words += ["--overruling", overruling] if overruling else []
        with tempfile.TemporaryDirectory() as one, tempfile.TemporaryDirectory() as other:
            # The packet twice, in processes of their own, and each paper singly.
            for folder, kind in [(one, []), (other, []), (one, ["--singly"])]:
                made = run(executable, "papers", str(sheet), "--out", folder, *words, *kind)
                if made.returncode != 0:
                    sys.exit(f"{name}: {made.stderr}")
            packet = f"{review['reference']}-packet.pdf"
            same = (Path(one) / packet).read_bytes() == (Path(other) / packet).read_bytes()
            hold(same, f"{name}: the packet differs from run to run")
            for paper in PAPERS:
                path = Path(one) / f"{review['reference']}-{paper}.pdf"
                check_pages(path, case, review, paper, approved)
                check_archive(path, f"{name}: {paper}")
            by_name = lambda paper: Path(one) / f"{review['reference']}-{paper}.pdf"
            if name in ONE_OF_EACH:
                check_structure(by_name("packet"), name)
                check_checkers(by_name("shop-drawing"), name, Path(one))
            read = check_confirmation(by_name("confirmation"), case, review)
            check_numbers(by_name("inspection-report"), name)
            check_code(by_name("packing-label"), review["reference"], Path(one))
            if review["verdict"] == "stop":
                front = flat(pages_of(by_name("confirmation"))[0])
                hold("must not be made" in front, f"{name}: the confirmation does not say that it must not be made")
            if name == RECORDED:
                recorded = read
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(["size", "cut", "least", "most"])
    writer.writerows(recorded)
    record = HERE / "sizes.csv"
    if "--check" in sys.argv[1:]:
        hold(record.read_text() == out.getvalue(), "what was read off the confirmation is not what sizes.csv holds")
        print(f"{compared} comparisons, {len(problems)} failed")
        for problem in problems:
            print(f"  {problem}")
        sys.exit(1 if problems else 0)
    record.write_text(out.getvalue())
    print(f"{compared} comparisons, {len(problems)} failed; wrote {record.relative_to(ROOT)}")
    for problem in problems:
        print(f"  {problem}")


if __name__ == "__main__":
    main()
