//! Rows against what the trade does: common practice, no source.

use catalog::{BearingKind, Catalog};
use quantity::{Length, LengthExt, inches, millimetres, read_thread};

/// How far a factory journal may lie outside the limits of a row's interference: half of the last printed place.
const ROUNDING_IN: f64 = 0.0005;

/// The bearings of an outside that a journal is made for.
fn suited(catalog: &Catalog, journal: Length, outside: Length) -> Vec<&str> {
    let fits = |row: &&catalog::Bearing| {
        let interference = (journal - row.bore).inches();
        let (least, most) = row.seat_interference;
        row.outside == outside
            && interference >= least.inches() - ROUNDING_IN
            && interference <= most.inches() + ROUNDING_IN
    };
    catalog.bearings.iter().filter(fits).map(|row| row.name.as_str()).collect()
}

/// Common practice, no source: factory journals of 1.533 in (ball) and 1.564 in (tapered) belong to large-bore ends, one of
/// 1.379 in to a small-bore end.
#[test]
fn common_practice_factory_journals() {
    let catalog = Catalog::shipped().unwrap();
    let (large, small) = (millimetres(80.0), millimetres(72.0));
    assert_eq!(suited(&catalog, inches(1.533), large), ["1.532 in x 80 x 21 ball"]);
    // 1.564 in suits a ball and a tapered unit, so the journal does not settle the kind: it has to be asked for.
    let both = suited(&catalog, inches(1.564), large);
    let kinds: Vec<BearingKind> = both.iter().map(|name| catalog.bearing(name).unwrap().kind).collect();
    assert_eq!(kinds, [BearingKind::Ball, BearingKind::Tapered]);
    let small_bore = suited(&catalog, inches(1.379), small);
    assert!(small_bore.contains(&"35 x 72 x 18 ball"), "{small_bore:?}");
}

/// Common practice, no source: five holes on 4 1/2, 4 3/4, 5 and 5 1/2 in, and the metric circles beside them.
#[test]
fn common_practice_bolt_circles() {
    let catalog = Catalog::shipped().unwrap();
    let circles: [(u32, &[f64]); 4] = [
        (4, &[100.0, 108.0, 114.3]),
        (5, &[100.0, 108.0, 110.0, 112.0, 114.3, 115.0, 120.0, 120.65, 127.0, 130.0, 135.0, 139.7, 150.0]),
        (6, &[114.3, 120.0, 127.0, 132.0, 135.0, 139.7]),
        (8, &[165.1, 170.0, 180.0]),
    ];
    for (holes, diameters) in circles {
        for diameter in diameters {
            assert!(catalog.bolt_circle(holes, millimetres(*diameter)).is_some(), "{holes} × {diameter} mm");
        }
    }
    assert_eq!(catalog.bolt_circle(5, inches(4.75)).unwrap().diameter, inches(4.75));
    assert_eq!(catalog.bolt_circles.len(), circles.iter().map(|(_, diameters)| diameters.len()).sum::<usize>());
}

/// Common practice, no source: 31 teeth at 24 pitch.
#[test]
fn common_practice_31_teeth() {
    let catalog = Catalog::shipped().unwrap();
    let row = catalog.spline("24/48, 45°, fillet root").unwrap();
    assert!(row.counts.iter().any(|count| count.teeth == 31));
}

/// Common practice, no source: one classic 7/16 stud, hole 0.4687 ± 0.002 in under a knurl crest of 0.490 in; and the hole of
/// a 1/2-20 stud, 0.008 to 0.020 in under a knurl of 0.615 to 0.625 in.
#[test]
fn common_practice_studs() {
    let catalog = Catalog::shipped().unwrap();
    let row = catalog.stud(read_thread("7/16-20").unwrap()).unwrap();
    assert_eq!((row.hole.0.inches(), row.hole.1.inches()), (0.4667, 0.4707));
    assert!(row.knurl.0 <= inches(0.490) && inches(0.490) <= row.knurl.1);
    let row = catalog.stud(read_thread("1/2-20").unwrap()).unwrap();
    assert_eq!((row.knurl.0.inches(), row.knurl.1.inches()), (0.615, 0.625));
    let usual = (row.knurl.0 + row.knurl.1) * 0.5;
    let under = ((usual - row.hole.1).inches(), (usual - row.hole.0).inches());
    assert!(under.0 >= 0.008 - 1e-9 && under.1 <= 0.020 + 1e-9, "{under:?}");
}

/// Common practice, no source: a hand tape on a 30 in shaft is good to 1/32 in, one standard deviation, everything taken
/// together; an untrained caliper to 0.002 to 0.003 in at the utmost, so that it cannot settle a press fit.
#[test]
fn common_practice_instruments() {
    let catalog = Catalog::shipped().unwrap();
    let planned =
        |name: &str, length: Length| catalog.instrument(name).unwrap().planned_standard_uncertainty(length, 1).inches();
    let tape = planned("tape", inches(30.0));
    assert!((tape - 1.0 / 32.0).abs() < 0.001, "{tape}");
    let caliper = planned("caliper", inches(1.5));
    assert!((0.001..=0.003).contains(&caliper), "{caliper}");
    let micrometer = planned("micrometer", inches(1.5));
    assert!((0.0002..=0.0005).contains(&micrometer), "{micrometer}");
}
