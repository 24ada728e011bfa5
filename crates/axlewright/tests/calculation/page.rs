//! What every calculation keeps to.

use std::path::Path;

use unicode_width::UnicodeWidthStr;

use crate::program::{json, page, run};

/// One usual line of each command.
const LINES: [&str; 5] = [
    "spline --teeth 30 --pitch 24/48 --angle 45",
    "fit 40 H7/s6 --hub-outside 80 mm --length 40 mm",
    "bolt-circle --holes 5 --adjacent 2.793 in",
    "bearing --bearing 40x80x18 ball --radial 900 lbf --axial 200 lbf --speed 800 --tyre-radius 13 in",
    "stud 1/2-20 --grade 8 --studs 5 --circle 120.65 mm",
];

#[test]
fn no_line_is_wider_than_the_page_or_ends_in_spaces() {
    for line in LINES {
        for printed in page(line).lines() {
            assert!(printed.width() <= 100, "{line}: {} columns: {printed}", printed.width());
            assert_eq!(printed.trim_end(), printed);
        }
    }
}

#[test]
fn every_block_names_its_source_and_every_page_the_first_caution() {
    for line in LINES {
        let output = json(line);
        let blocks = output["blocks"].as_array().unwrap();
        assert!(!blocks.is_empty(), "{line}");
        for block in blocks {
            assert!(block["source"].as_str().unwrap().len() > 5, "{line}: {block}");
        }
        let text = page(line);
        assert_eq!(text.matches("Source: ").count(), blocks.len(), "{line}\n{text}");
        assert!(text.contains(axle::CAUTIONS[0]), "{line}\n{text}");
    }
}

#[test]
fn both_units_stand_on_every_page() {
    for line in LINES {
        let text = page(line);
        let pairs = [("  in  ", "  mm"), ("  lbf  ", "  kN")];
        let both = pairs.iter().any(|(inch, metric)| text.contains(inch) && text.contains(metric));
        assert!(both, "{line}\n{text}");
    }
}

#[test]
fn the_same_line_gives_the_same_bytes() {
    for line in LINES {
        assert_eq!(run(line).out, run(line).out);
    }
}

#[test]
fn the_committed_schema_is_the_one_that_the_program_prints() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../docs/calculation.schema.json");
    let committed = std::fs::read_to_string(path).unwrap();
    assert!(
        committed == page("schema calculation"),
        "write it anew: axlewright schema calculation > docs/calculation.schema.json"
    );
}
