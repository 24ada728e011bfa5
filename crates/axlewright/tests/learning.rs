//! `axlewright learn` and `axlewright simulate --write`, through the real program.

#![allow(clippy::unwrap_used, reason = "a test may fail where it stands")]

use std::path::{Path, PathBuf};
use std::process::Output;

use assert_cmd::Command;

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

fn run(arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_axlewright"))
        .current_dir(root())
        .args(["--colour", "never"])
        .args(arguments)
        .output()
        .unwrap()
}

/// The exit status, the output and the error output.
fn said(arguments: &[&str]) -> (i32, String, String) {
    let output = run(arguments);
    (
        output.status.code().unwrap(),
        String::from_utf8(output.stdout).unwrap(),
        String::from_utf8(output.stderr).unwrap(),
    )
}

/// A folder that goes away again.
struct Folder(tempfile::TempDir);

impl Folder {
    fn new() -> Self {
        Self(tempfile::tempdir().unwrap())
    }

    fn path(&self, name: &str) -> String {
        self.0.path().join(name).to_str().unwrap().to_owned()
    }

    fn put(&self, name: &str, text: &str) -> String {
        let path = self.0.path().join(name);
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(&path, text).unwrap();
        path.to_str().unwrap().to_owned()
    }

    /// The files of a folder in it, by name.
    fn files(&self, name: &str) -> Vec<(String, String)> {
        let mut files: Vec<(String, String)> = std::fs::read_dir(self.0.path().join(name))
            .unwrap()
            .map(|entry| {
                let entry = entry.unwrap();
                let text = std::fs::read_to_string(entry.path()).unwrap();
                (entry.file_name().to_str().unwrap().to_owned(), text)
            })
            .collect();
        files.sort();
        files
    }
}

const SHEET: &str = "[order]\nreference = \"A-1\"\nuse = \"street\"\nunit = \"in\"\nsides = [\"left\"]\n[shared]\nflange_thickness = 0.42\n";
const TRUTH: &str = "[truth]\norder = \"A-1\"\nunit = \"in\"\n[shared]\nflange_thickness = 0.4195\n";

#[test]
fn written_orders_are_learned_from_and_the_catalog_with_what_was_learned_is_used() {
    let folder = Folder::new();
    let orders = folder.path("orders");
    let (status, output, errors) = said(&["simulate", "--orders", "30", "--noise", "2", "--write", &orders]);
    assert_eq!((status, errors.as_str()), (0, ""));
    assert!(output.starts_with("30 orders and their truths written"), "{output}");
    assert_eq!(folder.files("orders").len(), 60);

    let shop = folder.path("shop");
    let (status, output, errors) = said(&["learn", &orders, "--out", &shop]);
    assert_eq!((status, errors.as_str()), (0, ""), "{output}");
    assert!(output.contains("tape, limit") && output.contains("Written: "), "{output}");
    let first = folder.files("shop");
    let names: Vec<&str> = first.iter().map(|(name, _)| name.as_str()).collect();
    assert_eq!(names, ["learned_instruments.toml", "learned_measurands.toml", "learned_mistakes.toml"]);

    // Again, with what was learned in the catalog: it does not count twice, and the same input gives the same bytes.
    let (status, _, errors) = said(&["learn", &orders, "--out", &shop]);
    assert_eq!((status, errors.as_str()), (0, ""));
    assert_eq!(folder.files("shop"), first);

    let sheet = "demo/orders/01-hay-truck.toml";
    let (_, with, errors) = said(&["check", sheet, "--catalog", &shop]);
    assert_eq!(errors, "");
    let (_, without, _) = said(&["check", sheet]);
    assert_ne!(with, without);
    // Undone by deleting what was written.
    for (name, _) in first {
        std::fs::remove_file(folder.0.path().join("shop").join(name)).unwrap();
    }
    folder.put("shop/mistakes.toml", "");
    assert_eq!(said(&["check", sheet, "--catalog", &shop]).1, without);
}

#[test]
fn without_a_folder_nothing_is_written() {
    let (status, output, errors) = said(&["learn", "demo/finished"]);
    assert_eq!((status, errors.as_str()), (0, ""));
    assert!(output.contains("Nothing was written."), "{output}");
}

#[test]
fn the_shops_own_rows_are_never_overwritten() {
    let folder = Folder::new();
    let shop = folder.path("shop");
    let own = "# Counted by hand.\n[anything]\nrate = 0.03\nsource = \"shop: 12 of 400\"\n";
    folder.put("shop/mistakes.toml", own);
    let (status, output, errors) = said(&["learn", "demo/finished", "--out", &shop]);
    assert_eq!((status, output.as_str()), (2, ""));
    assert!(errors.contains("learning did not start from it") && errors.contains("--catalog"), "{errors}");

    // Starting from them, they are what was believed before, and stay.
    let (status, output, errors) = said(&["learn", "demo/finished", "--out", &shop, "--catalog", &shop]);
    assert_eq!((status, errors.as_str()), (0, ""));
    assert!(output.contains("the shop's own catalog"), "{output}");
    assert_eq!(std::fs::read_to_string(folder.0.path().join("shop/mistakes.toml")).unwrap(), own);
    let files = folder.files("shop");
    let (_, mistakes) = files.iter().find(|(name, _)| name == "learned_mistakes.toml").unwrap();
    assert!(mistakes.contains("# rate: 0.03 before"), "{mistakes}");

    // A file of that name that was written by hand is not touched either.
    folder.put("other/learned_mistakes.toml", own);
    let (status, _, errors) = said(&["learn", "demo/finished", "--out", &folder.path("other")]);
    assert_eq!(status, 2);
    assert!(errors.contains("was not written by `axlewright learn`, and is not overwritten"), "{errors}");
    let file = folder.put("file", "");
    assert!(said(&["learn", "demo/finished", "--out", &file]).2.contains("this is a file"));
}

#[test]
fn what_an_earlier_run_wrote_and_no_longer_holds_goes() {
    let folder = Folder::new();
    let shop = folder.path("shop");
    said(&["learn", "demo/finished", "--out", &shop]);
    assert_eq!(folder.files("shop").len(), 3);
    // One reading that is right says too little of any rate to be written.
    folder.put("one/sheet.toml", SHEET);
    folder.put("one/truth.toml", TRUTH);
    let (status, output, errors) = said(&["learn", &folder.path("one"), "--out", &shop]);
    assert_eq!((status, errors.as_str()), (0, ""));
    assert!(output.contains("Removed, because nothing in it holds any more"), "{output}");
    assert!(folder.files("shop").iter().all(|(name, _)| name != "learned_mistakes.toml"));
}

#[test]
fn the_order_of_the_files_does_not_matter() {
    let folder = Folder::new();
    let files: Vec<String> = std::fs::read_dir(root().join("demo/finished"))
        .unwrap()
        .map(|entry| entry.unwrap().path().to_str().unwrap().to_owned())
        .collect();
    let mut turned: Vec<&str> = files.iter().map(String::as_str).collect();
    turned.sort_by_key(|name| std::cmp::Reverse(name.len() * 31 + name.bytes().map(usize::from).sum::<usize>() % 17));
    let out = folder.path("turned");
    let mut arguments = vec!["learn"];
    arguments.extend(turned);
    arguments.extend(["--out", &out]);
    assert_eq!(said(&arguments).0, 0);
    said(&["learn", "demo/finished", "--out", &folder.path("whole")]);
    assert_eq!(folder.files("turned"), folder.files("whole"));
}

#[test]
fn every_fault_of_every_file_is_said_and_nothing_is_written() {
    let folder = Folder::new();
    folder.put("orders/sheet.toml", &SHEET.replace("0.42", "\"0.42 yards\""));
    folder.put("orders/truth.toml", &TRUTH.replace("flange_thickness", "flange_thicknes"));
    folder.put("orders/neither.toml", "[colour]\nred = 1\n");
    folder.put("orders/both.toml", &format!("{SHEET}[truth]\norder = \"A-1\"\n"));
    let shop = folder.path("shop");
    let (status, output, errors) = said(&["learn", &folder.path("orders"), "--out", &shop]);
    assert_eq!((status, output.as_str()), (2, ""));
    for words in [
        "sheet.toml:7:",
        "truth.toml:5:1: `flange_thicknes` is not known as a reading, did you mean `flange_thickness`?",
        "neither.toml:1:1: this is neither an order sheet nor a truth",
        "both.toml:1:1: this is an order sheet and a truth in one",
    ] {
        assert!(errors.contains(words), "{words} is not in\n{errors}");
    }
    assert!(!Path::new(&shop).exists());
}

#[test]
fn a_truth_needs_its_sheet_and_an_order_counts_once() {
    let folder = Folder::new();
    let truth = folder.put("truth.toml", TRUTH);
    let (status, _, errors) = said(&["learn", &truth]);
    assert_eq!(status, 2);
    assert!(errors.contains("no sheet among these files has the reference \"A-1\""), "{errors}");

    let sheet = folder.put("sheet.toml", SHEET);
    let again = folder.put("again.toml", SHEET);
    let (status, _, errors) = said(&["learn", &truth, &sheet, &again]);
    assert_eq!(status, 2);
    assert!(errors.contains("is a sheet with the reference \"A-1\" as well"), "{errors}");

    // A sheet without its truth is an order that is not finished.
    let (status, output, errors) = said(&["learn", &sheet]);
    assert_eq!((status, errors.as_str()), (0, ""));
    assert!(output.contains("order has no truth yet."), "{output}");
}

#[test]
fn an_empty_folder_teaches_nothing_and_is_said() {
    let folder = Folder::new();
    std::fs::create_dir(folder.0.path().join("empty")).unwrap();
    let (status, _, errors) = said(&["learn", &folder.path("empty")]);
    assert_eq!(status, 2);
    assert!(errors.contains("the folder holds no *.toml file"), "{errors}");
    assert_eq!(said(&["learn", &folder.path("absent")]).0, 2);
    assert_eq!(said(&["learn"]).0, 2);
}
