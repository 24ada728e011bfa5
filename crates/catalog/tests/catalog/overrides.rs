//! What a shop's file changes, and what it leaves.

use catalog::{Catalog, Condition, Measurand, MistakeKind, Source, SplineSystem};
use quantity::{LengthExt, Limit, Shape, inches, millimetres};

use crate::files::with;

const NAME: &str = "1.5625 in x 80 x 25 tapered";

#[test]
fn a_known_name_changes_the_keys_that_it_gives() {
    let before = Catalog::shipped().unwrap();
    let after = with(
        "bearings.toml",
        &format!(
            "[[bearing]]\nname = {NAME:?}\nouter_width = \"24.6 mm\"\nrace_offset = {{ mean = \"0.9 mm\" }}\nsource = \"shop: three measured\"\n"
        ),
    )
    .unwrap();
    let (old, new) = (before.bearing(NAME).unwrap(), after.bearing(NAME).unwrap());
    assert_eq!(new.outer_width, millimetres(24.6));
    assert_eq!(new.race_offset.mean, millimetres(0.9));
    assert_eq!(new.race_offset.standard_deviation, old.race_offset.standard_deviation);
    assert_eq!((new.bore, new.weight, new.kind), (old.bore, old.weight, old.kind));
    assert_eq!(new.source, Source::Shop("three measured".to_owned()));
    assert_eq!(after.bearings.len(), before.bearings.len());
    let names = |catalog: &Catalog| catalog.bearings.iter().map(|row| row.name.clone()).collect::<Vec<_>>();
    assert_eq!(names(&after), names(&before), "a changed row keeps its place");
}

#[test]
fn a_new_name_adds_a_row() {
    let row = r#"
        [[brake]]
        name = "drum 12 x 3 in"
        kind = "drum"
        required_offset = '2 5/8"'
        bore = '3.065"'
        inside = '7 1/2"'
        source = "shop: maker's sheet"
    "#;
    let catalog = with("own/brakes.toml", row).unwrap();
    assert_eq!(catalog.brake("drum 12 x 3 in").unwrap().required_offset, inches(2.625));
    assert_eq!(catalog.brakes.len(), Catalog::shipped().unwrap().brakes.len() + 1);
}

#[test]
fn a_row_can_be_removed() {
    let catalog =
        with("steels.toml", "[[steel]]\ngrade = \"1541\"\ntreatment = \"hot-rolled\"\nremove = true\n").unwrap();
    assert!(catalog.steel("1541", "hot-rolled").is_none());
}

#[test]
fn later_files_lie_on_top_of_earlier_ones() {
    let file = |weight: f64| {
        let text = format!(
            "[[bolt_circle]]\nholes = 5\ndiameter = '4 3/4\"'\nweight = {weight}\nsource = \"shop: counted\"\n"
        );
        ("bolt_circles.toml".to_owned(), text)
    };
    let catalog = Catalog::with_folder(&[file(2.0), file(3.0)]).unwrap();
    assert_eq!(catalog.bolt_circle(5, inches(4.75)).unwrap().weight, 3.0);
}

#[test]
fn a_bolt_circle_is_the_same_row_in_either_unit() {
    let text = "bolt_circle = [{ holes = 5, diameter = \"120.65 mm\", weight = 20, source = \"shop: counted\" }]";
    let catalog = with("bolt_circles.toml", text).unwrap();
    assert_eq!(catalog.bolt_circles.len(), Catalog::shipped().unwrap().bolt_circles.len());
    assert_eq!(catalog.bolt_circle(5, inches(4.75)).unwrap().weight, 20.0);
}

#[test]
fn a_measurand_and_a_mistake_can_be_tuned() {
    let measurands = "[reach]\nusual = ['26\"', '31\"']\nsource = \"shop: 200 orders\"\n";
    let row = with("measurands.toml", measurands).unwrap().measurand(Measurand::Reach).clone();
    assert_eq!(row.usual, (inches(26.0), inches(31.0)));
    assert_eq!((row.words.as_str(), row.instrument.as_str()), ("reach", "tape"));

    let mistakes = "[rust_or_paint]\nrate = 0.02\nrate_when = { painted = 0.1 }\nsource = \"shop: 200 orders\"\n";
    let catalog = with("mistakes.toml", mistakes).unwrap();
    let row = catalog.mistake(MistakeKind::RustOrPaint);
    assert_eq!(row.rate_under(&[]), 0.02);
    assert_eq!(row.rate_under(&[Condition::Rusty, Condition::Painted]), 0.1);
    assert_eq!(row.rate_under(&[Condition::Rusty]), 0.02, "a table that is given replaces the old one whole");
    assert!(!row.spoils.is_empty() && !row.sizes.is_empty(), "what is not given stays");
}

#[test]
fn an_instrument_can_change_its_kind_of_limit() {
    let text = "[[instrument]]\nname = \"steel rule\"\nhalf_width = '1/64\"'\nsource = \"shop: certificate\"\n";
    let rule = with("instruments.toml", text).unwrap().instrument("steel rule").cloned().unwrap();
    let expected = Limit::HalfWidth {
        constant: inches(1.0 / 64.0),
        per_metre: millimetres(0.0),
        whole_metres: false,
        shape: Shape::Rectangular,
    };
    assert_eq!(rule.limit, expected);
    let text =
        "[[instrument]]\nname = \"metric tape, class II\"\nhalf_width_per_metre = \"0.1 mm\"\nsource = \"shop: x\"\n";
    let tape = with("instruments.toml", text).unwrap().instrument("metric tape, class II").cloned().unwrap();
    let expected = Limit::HalfWidth {
        constant: millimetres(0.3),
        per_metre: millimetres(0.1),
        whole_metres: true,
        shape: Shape::Rectangular,
    };
    assert_eq!(tape.limit, expected, "the rest of a half width stays");
}

#[test]
fn a_spline_series_keeps_its_system_and_changes_its_counts() {
    let text =
        "[[spline]]\nname = \"16/32, 30°, flat root\"\ncounts = [{ teeth = 21, weight = 1 }]\nsource = \"shop: x\"\n";
    let row = with("splines.toml", text).unwrap().spline("16/32, 30°, flat root").cloned().unwrap();
    assert_eq!(row.counts.iter().map(|count| count.teeth).collect::<Vec<_>>(), [21]);
    assert_eq!(row.system, SplineSystem::Inch { pitch: 16.0, stub_pitch: 32.0, fillet_root: false });
}

#[test]
fn settings_change_key_by_key() {
    let text = r#"
        [thresholds]
        cut_at = 0.98
        source = "shop: agreed with the owner"

        [clearances.end_to_pin]
        least = '1/8"'
        source = "shop: agreed with the owner"
    "#;
    let settings = with("settings.toml", text).unwrap().settings;
    let shipped = Catalog::shipped().unwrap().settings;
    assert_eq!(settings.thresholds.cut_at, 0.98);
    assert_eq!(settings.thresholds.questions_shown, shipped.thresholds.questions_shown);
    assert_eq!(settings.clearances.end_to_pin.least, inches(0.125));
    assert_eq!(settings.clearances.end_to_pin.most, shipped.clearances.end_to_pin.most);
    assert_eq!(settings.clearances.end_to_pin.source, Source::Shop("agreed with the owner".to_owned()));
    assert_eq!(settings.clearances.source, shipped.clearances.source);
    assert_eq!(settings.clearances.retainer_ball, shipped.clearances.retainer_ball);
    assert_eq!(settings.stray.lock_ring.mean.inches(), shipped.stray.lock_ring.mean.inches());
}
