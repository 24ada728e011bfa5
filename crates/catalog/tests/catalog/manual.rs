//! The examples of `docs/catalog.md` are files that load, and do what the text says.

use catalog::{Catalog, Source};
use quantity::inches;

const MANUAL: &str = include_str!("../../../../docs/catalog.md");

/// The fenced examples; the first line of each is a comment that names its file.
fn examples() -> Vec<(String, String)> {
    let mut examples = Vec::new();
    let mut rest = MANUAL;
    while let Some((_, block)) = rest.split_once("```toml\n") {
        let (text, behind) = block.split_once("```").expect("every fence is closed");
        let name = text.lines().next().and_then(|line| line.strip_prefix("# ")).expect("the file's name comes first");
        examples.push((name.to_owned(), text.to_owned()));
        rest = behind;
    }
    examples
}

#[test]
fn the_examples_load_together() {
    let files = examples();
    assert!(files.len() >= 4, "{}", files.len());
    let catalog = match Catalog::with_folder(&files) {
        Ok(catalog) => catalog,
        Err(faults) => panic!("{faults}"),
    };
    let shipped = Catalog::shipped().unwrap();

    let added = catalog.housing_end("80 mm bore, 3.52 x 2.38 in").unwrap();
    assert_eq!(added.bore_depth.mean, inches(0.734));
    assert_eq!(added.source, Source::Shop("five ends measured on the bench".to_owned()));
    assert!(catalog.housing_end("80 mm bore, 3.45 x 2.30 in").is_none(), "the invented row is gone");

    let name = "1.5625 in x 80 x 25 tapered";
    let (old, new) = (shipped.bearing(name).unwrap(), catalog.bearing(name).unwrap());
    assert_ne!(new.outer_width, old.outer_width);
    assert_eq!(new.bore, old.bore);

    assert_eq!(catalog.mistake(catalog::MistakeKind::DrumLeftOn).rate, 0.012);
    assert_eq!(catalog.settings.thresholds.cut_at, 0.97);
}
