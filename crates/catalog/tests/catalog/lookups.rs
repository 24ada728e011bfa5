//! Finding rows.

use catalog::{Catalog, MEASURANDS, Measurand, MistakeKind};
use quantity::{LengthExt, inches, millimetres};

#[test]
fn rows_are_found_by_name() {
    let catalog = Catalog::shipped().unwrap();
    assert_eq!(catalog.measurand(Measurand::Reach).words, "reach");
    assert_eq!(catalog.mistake(MistakeKind::BurntInch).kind, MistakeKind::BurntInch);
    assert_eq!(catalog.instrument("micrometer").unwrap().name, "micrometer");
    assert_eq!(catalog.differential("open").unwrap().name, "open");
    assert_eq!(catalog.brake("drum 10 x 2 1/2 in").unwrap().bore, inches(2.785));
    assert_eq!(catalog.housing_end("72 mm bore, 3.10 x 2.15 in").unwrap().bore_depth.mean, inches(0.6));
    assert!(catalog.bearing("none of that name").is_none());
    assert!(catalog.bolt_circle(4, inches(4.75)).is_none());
    assert!(catalog.steel("4140", "as it comes").is_none());
}

#[test]
fn a_bolt_circle_is_found_in_either_unit() {
    let catalog = Catalog::shipped().unwrap();
    assert_eq!(catalog.bolt_circle(5, millimetres(120.65)).unwrap().diameter, inches(4.75));
    assert!(catalog.bolt_circle(5, millimetres(120.6)).is_none(), "half a tenth off is another circle");
}

#[test]
fn every_measurand_has_its_instruments() {
    let catalog = Catalog::shipped().unwrap();
    for (measurand, _) in MEASURANDS {
        let row = catalog.measurand(measurand);
        assert_eq!(catalog.usual_instrument(row).name, row.instrument);
        assert_eq!(catalog.better_instrument(row).name, row.better_instrument);
        let middle = (row.usual.0 + row.usual.1) * 0.5;
        let uncertainty = |instrument: &quantity::Instrument| instrument.planned_standard_uncertainty(middle, 1);
        assert!(
            uncertainty(catalog.better_instrument(row)) <= uncertainty(catalog.usual_instrument(row)),
            "{} is no better than {} for {}",
            row.better_instrument,
            row.instrument,
            row.words
        );
    }
}

/// By hand: the variance over all rows is the mean of the variances plus the variance of the means.
#[test]
fn any_differential_covers_the_spread_within_and_between_the_rows() {
    let own = r#"
        [[differential]]
        name = "open"
        half_pin = { mean = "9 mm", deviation = "3 mm" }
        source = "shop: test"
        [[differential]]
        name = "locker"
        half_pin = { mean = "17 mm", deviation = "3 mm" }
        source = "shop: test"
        [[differential]]
        name = "limited-slip"
        remove = true
        [[differential]]
        name = "limited-slip, centre block"
        remove = true
        [[differential]]
        name = "open, centre block"
        remove = true
        [[differential]]
        name = "spool"
        remove = true
    "#;
    let any = crate::files::with("differentials.toml", own).unwrap().any_differential();
    assert_eq!(any.half_pin.mean.millimetres(), 13.0);
    assert!((any.half_pin.standard_deviation.millimetres() - 5.0).abs() < 1e-12, "√(3² + 4²)");
}
