//! The orders of the demo shop, through the real program.

#![allow(clippy::unwrap_used, reason = "a test may fail where it stands")]

use std::path::{Path, PathBuf};

use assert_cmd::Command;
use placed::Document;
use serde_json::Value;

/// The repository's root, where a reader of the manual would run the program.
fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

/// The demo's sheets by name, relative to the root.
fn sheets() -> Vec<String> {
    let mut names: Vec<String> = std::fs::read_dir(root().join("demo/orders"))
        .unwrap()
        .map(|entry| format!("demo/orders/{}", entry.unwrap().file_name().to_str().unwrap()))
        .filter(|name| name.ends_with(".toml"))
        .collect();
    names.sort();
    assert!(!names.is_empty());
    names
}

fn check(sheets: &[String], format: &str) -> (i32, String) {
    let output = Command::new(env!("CARGO_BIN_EXE_axlewright"))
        .current_dir(root())
        .args(["check", "--colour", "never", "--format", format])
        .args(sheets)
        .output()
        .unwrap();
    assert_eq!(String::from_utf8(output.stderr).unwrap(), "");
    (output.status.code().unwrap(), String::from_utf8(output.stdout).unwrap())
}

/// The verdicts that the order may get, from what is known of the axle behind it.
fn expected_verdicts(sheet: &str) -> Vec<String> {
    let file = Path::new(sheet).file_name().unwrap().to_str().unwrap();
    let (number, _) = file.split_once('-').unwrap();
    let text = std::fs::read_to_string(root().join(format!("demo/truth/{number}.toml"))).unwrap();
    let truth = Document::parse(file, &text);
    let items = truth.root().required("expected_verdict").and_then(|item| item.list()).unwrap();
    items.iter().map(|item| item.text().unwrap().to_owned()).collect()
}

#[test]
fn every_order_gets_a_verdict_that_its_axle_allows() {
    let sheets = sheets();
    let (_, text) = check(&sheets, "json");
    let reviews: Value = serde_json::from_str(&text).unwrap();
    let reviews = reviews.as_array().unwrap();
    assert_eq!(reviews.len(), sheets.len());
    let mut wrong = Vec::new();
    for (sheet, review) in sheets.iter().zip(reviews) {
        assert_eq!(review["sheet"], sheet.as_str());
        let verdict = review["verdict"].as_str().unwrap();
        let expected = expected_verdicts(sheet);
        if !expected.iter().any(|one| one == verdict) {
            wrong.push(format!("{sheet}: {verdict}, expected {}", expected.join(" or ")));
        }
    }
    assert_eq!(wrong, Vec::<String>::new());
}

#[test]
fn the_exit_status_and_the_text_say_what_the_json_says() {
    let sheets = sheets();
    let (all, text) = check(&sheets, "json");
    let reviews: Value = serde_json::from_str(&text).unwrap();
    let mut held_back = false;
    for (sheet, review) in sheets.iter().zip(reviews.as_array().unwrap()) {
        let (status, text) = check(std::slice::from_ref(sheet), "text");
        let verdict = review["verdict"].as_str().unwrap();
        assert_eq!(status, i32::from(verdict != "cut"), "{sheet}");
        let headline = format!("  {}  {}: ", review["reference"].as_str().unwrap(), verdict.to_uppercase());
        assert!(text.contains(&headline), "{sheet}: {headline} is not in\n{text}");
        held_back |= verdict != "cut";
    }
    assert_eq!(all, i32::from(held_back));
}

#[test]
fn every_review_satisfies_the_committed_schema() {
    let schema: Value =
        serde_json::from_str(&std::fs::read_to_string(root().join("docs/review.schema.json")).unwrap()).unwrap();
    let validator = jsonschema::validator_for(&schema).unwrap();
    let (_, text) = check(&sheets(), "json");
    let reviews: Value = serde_json::from_str(&text).unwrap();
    let faults: Vec<String> = validator.iter_errors(&reviews).map(|error| error.to_string()).collect();
    assert_eq!(faults, Vec::<String>::new());
}

#[test]
fn sheets_side_by_side_give_what_each_gives_alone() {
    let sheets = sheets();
    let (_, together) = check(&sheets, "json");
    let together: Value = serde_json::from_str(&together).unwrap();
    for (sheet, among_others) in sheets.iter().zip(together.as_array().unwrap()) {
        let (_, alone) = check(std::slice::from_ref(sheet), "json");
        assert_eq!(&serde_json::from_str::<Value>(&alone).unwrap(), among_others, "{sheet}");
    }
}

#[test]
fn the_demo_shops_own_catalog_is_needed_for_its_own_order() {
    let check = |catalog: &[&str]| {
        Command::new(env!("CARGO_BIN_EXE_axlewright"))
            .current_dir(root())
            .args(["check", "demo/shop/orders/creamery-van.toml"])
            .args(catalog)
            .output()
            .unwrap()
    };
    let without = check(&[]);
    assert_eq!(without.status.code(), Some(2));
    let faults = String::from_utf8(without.stderr).unwrap();
    assert!(faults.contains("creamery-van.toml:"), "{faults}");
    let with = check(&["--catalog", "demo/shop/catalog"]);
    assert_eq!(String::from_utf8(with.stderr).unwrap(), "");
    assert!(with.status.code() < Some(2));
}

/// Regression: the shape of whole reports that were looked at and found good.
#[test]
fn whole_reports_keep_their_shape() {
    let sheets = sheets();
    let report = |number: &str| {
        let sheet: Vec<String> = sheets.iter().filter(|sheet| sheet.contains(number)).cloned().collect();
        assert_eq!(sheet.len(), 1);
        check(&sheet, "text").1
    };
    insta::assert_snapshot!("demo_wrong_flange_face", report("/02-"));
    insta::assert_snapshot!("demo_phoned_in", report("/11-"));
    insta::assert_snapshot!("demo_bracket_is_retainer", report("/12-"));
}
