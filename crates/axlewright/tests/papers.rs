//! `axlewright papers` as a shell sees it: files, letterhead, warnings and faults.

#![allow(clippy::unwrap_used, reason = "a test may fail where it stands")]

use std::path::{Path, PathBuf};

use assert_cmd::Command;

const CUT: &str = "02-market-wagon.toml";
const ASK: &str = "10-feed-van.toml";
const STOP: &str = "12-drag-car.toml";

fn demo(path: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo").join(path)
}

fn order(name: &str) -> PathBuf {
    demo("orders").join(name)
}

/// What a run left behind.
struct Run {
    status: i32,
    out: String,
    error: String,
}

fn papers(folder: &Path, sheets: &[PathBuf], words: &[&str]) -> Run {
    let mut command = Command::new(env!("CARGO_BIN_EXE_axlewright"));
    command.env_remove("NO_COLOR").env_remove("CLICOLOR_FORCE");
    command.arg("papers").args(sheets).arg("--out").arg(folder).args(["--date", "2026-11-25"]).args(words);
    let output = command.output().unwrap();
    Run {
        status: output.status.code().unwrap(),
        out: String::from_utf8(output.stdout).unwrap(),
        error: String::from_utf8(output.stderr).unwrap(),
    }
}

fn names(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> =
        folder.read_dir().unwrap().map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect();
    names.sort();
    names
}

/// A shop's folder with this `shop.toml`.
fn shop(text: &str) -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("shop.toml"), text).unwrap();
    folder
}

#[test]
fn a_packet_is_one_file_and_papers_are_one_each() {
    let folder = tempfile::tempdir().unwrap();
    let run = papers(folder.path(), &[order(CUT)], &["--shop", demo("shop").to_str().unwrap()]);
    assert_eq!((run.status, run.error.as_str()), (0, ""));
    assert!(run.out.contains("Q-0102-packet.pdf: "), "{}", run.out);
    let run = papers(folder.path(), &[order(CUT)], &["--only", "parts-list", "--only", "packing-label"]);
    assert_eq!((run.status, run.error.as_str()), (0, ""));
    assert!(run.out.contains("Q-0102-packing-label.pdf: 1 page\n"), "{}", run.out);
    assert_eq!(names(folder.path()), ["Q-0102-packet.pdf", "Q-0102-packing-label.pdf", "Q-0102-parts-list.pdf"]);
    assert!(std::fs::read(folder.path().join("Q-0102-packet.pdf")).unwrap().starts_with(b"%PDF-1.7"));
}

#[test]
fn several_orders_are_set_and_one_that_cannot_be_read_does_not_hold_up_the_others() {
    let folder = tempfile::tempdir().unwrap();
    let sheets = [order(CUT), order("absent.toml"), order(ASK), order(CUT), order(STOP)];
    let run = papers(folder.path(), &sheets, &["--only", "packing-label", "--approved-by", "Tove Lind"]);
    assert_eq!(run.status, 2);
    let files = ["Q-0102-packing-label.pdf", "Q-0110-packing-label.pdf", "Q-0112-packing-label.pdf"];
    assert_eq!(names(folder.path()), files);
    let said: Vec<&str> = run.out.lines().filter_map(|line| line.rsplit('/').next()).collect();
    assert_eq!(said, files.map(|name| format!("{name}: 1 page")));
    assert!(run.error.contains("absent.toml: there is no such file or folder"), "{}", run.error);
    assert!(run.error.contains("the reference Q-0102 gives its papers the same names as those of "), "{}", run.error);
    assert!(run.error.contains("accepted: --overruling with the reason"), "{}", run.error);
    assert!(run.error.contains("the review stops this order"), "{}", run.error);
}

#[test]
fn a_reason_is_that_of_one_order() {
    let folder = tempfile::tempdir().unwrap();
    let words = ["--approved-by", "Tove Lind", "--overruling", "read again by telephone"];
    let run = papers(folder.path(), &[order(CUT), order(ASK)], &words);
    assert_eq!(run.status, 2);
    assert!(run.error.contains("accepted: --overruling with one sheet"), "{}", run.error);
    assert_eq!(names(folder.path()), Vec::<String>::new());
}

#[test]
fn a_logo_that_is_not_there_is_a_warning() {
    let folder = tempfile::tempdir().unwrap();
    let shop = shop("name = \"Weir Shafts\"\nlogo = \"logo.png\"\n");
    let words = ["--only", "packing-label", "--shop", shop.path().to_str().unwrap()];
    let run = papers(folder.path(), &[order(CUT)], &words);
    assert_eq!(run.status, 0);
    assert!(
        run.error.contains("logo.png: there is no such file or folder; the papers are made without a logo"),
        "{}",
        run.error
    );
    // Nor is one that is no picture of its kind.
    std::fs::write(shop.path().join("logo.png"), "no picture").unwrap();
    let run = papers(folder.path(), &[order(CUT)], &words);
    assert_eq!(run.status, 0, "{}", run.error);
    assert!(run.error.contains("the papers are made without a logo"), "{}", run.error);
    // Nor is one that hides what is unpacked on every page.
    std::fs::write(shop.path().join("shop.toml"), "name = \"Weir Shafts\"\nlogo = \"logo.svg\"\n").unwrap();
    let hidden = "<svg xmlns='http://www.w3.org/2000/svg'><image href='data:image/gif,GIF89a'/></svg>";
    std::fs::write(shop.path().join("logo.svg"), hidden).unwrap();
    let run = papers(folder.path(), &[order(CUT)], &words);
    assert_eq!(run.status, 0, "{}", run.error);
    assert!(run.error.contains("logo.svg: a picture in the SVG is neither PNG nor JPEG"), "{}", run.error);
    assert!(run.error.contains("accepted: an SVG, PNG or JPEG file of at most 4 MiB"), "{}", run.error);
}

#[test]
fn a_fault_in_a_template_of_the_shop_names_template_line_and_column() {
    let folder = tempfile::tempdir().unwrap();
    let shop = shop("name = \"Weir Shafts\"\n");
    std::fs::create_dir(shop.path().join("templates")).unwrap();
    let text = "#import \"/frame.typ\": *\n#paper(\"Certificate\")[\n  #no-such-thing\n]\n";
    std::fs::write(shop.path().join("templates/certificate.typ"), text).unwrap();
    let words = ["--only", "certificate", "--shop", shop.path().to_str().unwrap()];
    let run = papers(folder.path(), &[order(CUT), order(ASK)], &words);
    assert_eq!(run.status, 2);
    assert_eq!(run.error.matches("certificate.typ:3:4: unknown variable: no-such-thing").count(), 1, "{}", run.error);
    assert!(run.error.contains("accepted: a template that can be set"), "{}", run.error);
    assert_eq!(names(folder.path()), Vec::<String>::new());
}

#[test]
fn a_fault_in_shop_toml_is_named_with_its_place() {
    let folder = tempfile::tempdir().unwrap();
    let shop = shop("name = \"Weir Shafts\"\nlogo = \"logo.tiff\"\n");
    let run = papers(folder.path(), &[order(CUT)], &["--shop", shop.path().to_str().unwrap()]);
    assert_eq!(run.status, 2);
    assert!(run.error.contains("shop.toml:2:8: "), "{}", run.error);
}
