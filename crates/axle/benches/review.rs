//! Times of the review of a usual order (11 readings, two bearings that are plausible) and of a full one (26 readings, two
//! bearings in three housing ends that are plausible): with the shipped catalog, of which the readings leave some twenty
//! choices of parts, and with a catalog that holds no more than those plausible ones; without questions and with them.

use axle::{Sheet, read_sheet, review, review_without_questions};
use catalog::Catalog;
use divan::Bencher;

/// Two shafts on the bench, a journal that two bearings fit, and a housing end that is known.
const USUAL: &str = r#"
[order]
reference = "usual"
use = "street"
unit = "in"
differential = "open"
sides = ["left", "right"]
[housing_end]
row = "80 mm bore, 3.65 x 2.45 in"
[stud]
thread = "1/2-20"
[spline]
series = "24/48, 45°, fillet root"
[shared]
journal_diameter = { value = "1.5640", instrument = "micrometer" }
bearing_outside = "3.150"
flange_diameter = '6 3/16"'
brake_offset = '2 13/16"'
register_diameter = "2.779"
wheel_pilot_diameter = "2.720"
hole_count = 5
chord_adjacent = "2.792"
tooth_count = 31
[left]
overall_length = '29 1/32"'
[right]
overall_length = '30 3/16"'
"#;

/// Both shafts, drum and housing, but of the bearing only what can be read without taking it to pieces.
const FULL: &str = r#"
[order]
reference = "full"
use = "street"
unit = "in"
differential = "open"
sides = ["left", "right"]
[stud]
thread = "1/2-20"
[shared]
journal_diameter = { value = "1.5640", instrument = "micrometer" }
shoulder_distance = "2.178"
flange_thickness = "0.421"
wheel_pilot_height = '5/8"'
housing_width = '55 5/8"'
trapped_thickness = "0.102"
flange_diameter = 6
register_diameter = "2.779"
wheel_pilot_diameter = "2.720"
drum_bore = "2.785"
drum_inside = '6 5/8"'
wheel_bore = "2.786"
bearing_outside = "3.149"
housing_bore_diameter = "3.151"
hole_count = 5
edge_gap = "2.185"
edge_span = "3.399"
chord_alternate = "4.512"
tooth_count = 31
spline_major_diameter = "1.3145"
[left]
overall_length = '29"'
brake_offset = '2 23/64"'
reach = '26 7/8"'
[right]
overall_length = '30 3/16"'
brake_offset = "2.345"
reach = '28 1/16"'
"#;

fn main() {
    divan::main();
}

/// The sheet with its catalog, read; nothing where the text has a fault, which the bench then shows by its absence.
fn prepared(text: &str) -> Option<(Sheet, Catalog)> {
    let catalog = Catalog::shipped().ok()?;
    let sheet = read_sheet("bench.toml", text, &catalog).ok()?;
    Some((sheet, catalog))
}

/// The catalog with no other bearings and housing ends than these.
fn narrowed(mut catalog: Catalog, bearings: &[&str], housing_ends: &[&str]) -> Catalog {
    catalog.bearings.retain(|row| bearings.contains(&row.name.as_str()));
    catalog.housing_ends.retain(|row| housing_ends.contains(&row.name.as_str()));
    catalog
}

const TWO_BEARINGS: [&str; 2] = ["1.5625 in x 80 x 20 ball", "1.5625 in x 80 x 25 tapered"];
const ONE_END: [&str; 1] = ["80 mm bore, 3.65 x 2.45 in"];
const THREE_ENDS: [&str; 3] =
    ["80 mm bore, 3.40 x 2.60 in", "80 mm bore, 3.45 x 2.30 in", "80 mm bore, 3.65 x 2.45 in"];

fn reviewing(bencher: Bencher, text: &str, narrow: impl Fn(Catalog) -> Catalog) {
    let Some((sheet, catalog)) = prepared(text) else { return };
    let catalog = narrow(catalog);
    bencher.bench(|| review_without_questions(divan::black_box(&sheet), &catalog));
}

#[divan::bench]
fn usual(bencher: Bencher) {
    reviewing(bencher, USUAL, |catalog| catalog);
}

#[divan::bench]
fn usual_of_two_choices(bencher: Bencher) {
    reviewing(bencher, USUAL, |catalog| narrowed(catalog, &TWO_BEARINGS, &ONE_END));
}

#[divan::bench]
fn full(bencher: Bencher) {
    reviewing(bencher, FULL, |catalog| catalog);
}

#[divan::bench]
fn full_of_six_choices(bencher: Bencher) {
    reviewing(bencher, FULL, |catalog| narrowed(catalog, &TWO_BEARINGS, &THREE_ENDS));
}

/// The review with its questions; what they take is the difference.
#[divan::bench]
fn full_with_questions(bencher: Bencher) {
    let Some((sheet, catalog)) = prepared(FULL) else { return };
    bencher.bench(|| review(divan::black_box(&sheet), &catalog));
}

/// A batch of full orders on so many threads: two must do nearly twice as many as one in the same time.
#[divan::bench(args = [1, 2])]
fn batch_of_sixteen_on_threads(bencher: Bencher, threads: usize) {
    let Some((sheet, catalog)) = prepared(FULL) else { return };
    bencher.bench(|| {
        std::thread::scope(|scope| {
            for _ in 0..threads {
                scope.spawn(|| {
                    for _ in 0..16 / threads {
                        let _ = divan::black_box(review_without_questions(&sheet, &catalog));
                    }
                });
            }
        });
    });
}

#[divan::bench]
fn reading_a_full_sheet(bencher: Bencher) {
    let Some((_, catalog)) = prepared(FULL) else { return };
    bencher.bench(|| read_sheet("bench.toml", divan::black_box(FULL), &catalog));
}
