//! The orders of the demo, whose truth was written down by hand: the mistakes that were planted in them are counted for what they
//! are, and nothing else is.

use axle::learn::{FinishedOrder, learn};
use axle::{read_sheet, read_truth};
use catalog::{Catalog, MistakeKind};
use placed::Document;

/// The folder of the repository.
fn folder(name: &str) -> std::path::PathBuf {
    std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../..").join(name)
}

/// The text of a truth file for an order, out of the demo's own, which says more than a truth: verdicts, limits, what was planted.
fn truth_of(text: &str, reference: &str) -> String {
    let mut kept = format!("[truth]\norder = \"{reference}\"\n");
    let mut keep = false;
    for line in text.lines() {
        if line.starts_with('[') {
            keep = ["[shared]", "[left]", "[right]"].contains(&line);
        }
        if keep {
            kept.push_str(line);
            kept.push('\n');
        }
    }
    kept
}

/// One order of the demo with the mistake that was planted in it.
fn demo_order(number: &str, catalog: &Catalog) -> (FinishedOrder, Option<MistakeKind>) {
    let sheet = std::fs::read_dir(folder("demo/orders"))
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .find(|path| path.file_name().unwrap().to_str().unwrap().starts_with(&format!("{number}-")))
        .unwrap();
    let sheet = read_sheet(number, &std::fs::read_to_string(sheet).unwrap(), catalog).unwrap();
    let text = std::fs::read_to_string(folder(&format!("demo/truth/{number}.toml"))).unwrap();
    let truth = read_truth(number, &truth_of(&text, &sheet.reference), catalog).unwrap();
    let document = Document::parse(number, &text);
    let planted = document.root().tables("planted").first().and_then(|table| table.required("mistake"));
    let planted = planted.map(|item| MistakeKind::from_key(item.text().unwrap()).unwrap());
    (FinishedOrder { sheet, truth }, planted)
}

#[test]
fn planted_mistakes_are_found_by_their_names() {
    let catalog = Catalog::shipped().unwrap();
    let (mut planted, mut named) = (0, 0);
    for number in 1..=16 {
        let (order, mistake) = demo_order(&format!("{number:02}"), &catalog);
        let reference = order.sheet.reference.clone();
        let learned = learn(&[order], &catalog).unwrap();
        let likeliest = learned.rates.iter().max_by(|one, other| one.spoilt.total_cmp(&other.spoilt)).unwrap();
        println!("{reference}: planted {mistake:?}, likeliest {:?} {:.3}", likeliest.kind, likeliest.spoilt);
        if let Some(mistake) = mistake {
            planted += 1;
            named += usize::from(likeliest.kind == mistake && likeliest.spoilt > 0.5);
        }
    }
    println!("{named} of {planted} planted mistakes found by name");
    assert!(planted >= 7);
    assert_eq!(named, planted);
}
