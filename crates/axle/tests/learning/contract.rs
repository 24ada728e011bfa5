//! What has to hold whatever was read.

use axle::learn::{FinishedOrder, LEARNED_BY, Learned, Occasion, SkipReason, UncertaintyPart, learn, learned_files};
use axle::simulate::{People, Zeal, sheet_text, truth_text};
use axle::{read_sheet, read_truth};
use catalog::{Catalog, MistakeKind};
use quantity::{LengthExt, Limit};

use crate::people::finished;

const SHIPPED: &str = "the shipped catalog";

fn files_of(learned: &Learned, catalog: &Catalog) -> Vec<(String, String)> {
    learned_files(learned, catalog, SHIPPED).into_iter().map(|(name, text)| (name.to_owned(), text)).collect()
}

/// An order of a few readings of a flange, as texts.
fn order(sheet: &str, truth: &str) -> FinishedOrder {
    let catalog = Catalog::shipped().unwrap();
    let head = "[order]\nreference = \"A\"\nuse = \"street\"\nunit = \"mm\"\nsides = [\"left\", \"right\"]\n";
    let sheet = read_sheet("sheet.toml", &format!("{head}{sheet}"), &catalog).unwrap();
    let truth = read_truth("truth.toml", &format!("[truth]\norder = \"A\"\nunit = \"mm\"\n{truth}"), &catalog).unwrap();
    FinishedOrder { sheet, truth }
}

fn factor(learned: &Learned, part: &UncertaintyPart) -> f64 {
    learned.uncertainties.iter().find(|one| one.part == *part).unwrap().factor()
}

#[test]
fn without_orders_the_catalog_stays_as_it_is() {
    let catalog = Catalog::shipped().unwrap();
    let learned = learn(&[], &catalog).unwrap();
    assert!(learned.uncertainties.is_empty() && learned.rates.is_empty() && learned.settled);
    assert_eq!(files_of(&learned, &catalog), []);
}

#[test]
fn what_no_reading_speaks_of_stays_as_it_is() {
    let catalog = Catalog::shipped().unwrap();
    let learned = learn(&finished(&catalog, &People::default(), Zeal::Lean, 30, 1), &catalog).unwrap();
    let with = Catalog::with_folder(&files_of(&learned, &catalog)).unwrap();
    let spoke: Vec<&UncertaintyPart> = learned.uncertainties.iter().map(|one| &one.part).collect();
    let mut silent = 0;
    for row in catalog.instruments.iter().filter(|row| !spoke.contains(&&UncertaintyPart::Limit(row.name.clone()))) {
        assert_eq!(with.instrument(&row.name), Some(row));
        silent += 1;
    }
    assert!(silent >= 5, "simulated orders name no instruments, so pins and micrometers are silent");
    for row in &catalog.mistakes {
        if !learned.rates.iter().any(|one| one.kind == row.kind) {
            assert_eq!(with.mistake(row.kind).rate, row.rate);
            assert_eq!(with.mistake(row.kind).together, row.together);
        }
    }
}

#[test]
fn the_order_of_the_orders_and_of_their_readings_does_not_matter() {
    let catalog = Catalog::shipped().unwrap();
    let people = People { noise: 1.7, rate: 1.5, gross: 0.01 };
    let orders = finished(&catalog, &people, Zeal::Usual, 40, 2);
    let learned = learn(&orders, &catalog).unwrap();
    let mut turned = orders;
    turned.reverse();
    turned.rotate_left(7);
    for order in &mut turned {
        order.truth.sizes.reverse();
    }
    let again = learn(&turned, &catalog).unwrap();
    // The truths of an order in another order change the last bits of what follows from them; the files not.
    assert_eq!(files_of(&again, &catalog), files_of(&learned, &catalog));
}

#[test]
fn what_is_written_is_read_back() {
    let catalog = Catalog::shipped().unwrap();
    let people = People { noise: 2.0, rate: 3.0, gross: 0.0 };
    let learned = learn(&finished(&catalog, &people, Zeal::Full, 60, 3), &catalog).unwrap();
    let files = files_of(&learned, &catalog);
    assert_eq!(files.len(), 3);
    assert!(files.iter().all(|(_, text)| text.starts_with(LEARNED_BY)));
    let with = Catalog::with_folder(&files).unwrap();
    let same = |read: f64, learned: f64| (read / learned - 1.0).abs() < 1e-3;
    let mut written = 0;
    for one in &learned.uncertainties {
        let after = if one.changed_by(catalog.settings.learning.written_from) { one.after } else { one.before };
        let read = match &one.part {
            UncertaintyPart::Limit(name) => match with.instrument(name).unwrap().limit {
                Limit::HalfWidth { constant, .. } => constant,
                Limit::Standard(standard) => standard,
            },
            UncertaintyPart::Repeatability(name) => with.instrument(name).unwrap().repeatability,
            UncertaintyPart::SetUp(measurand) => with.measurand(*measurand).set_up,
        };
        assert!(same(read.millimetres(), after.millimetres()), "{:?}: {read:?} {after:?}", one.part);
        written += usize::from(one.after == after);
    }
    for one in &learned.rates {
        let changed = one.changed_by(catalog.settings.learning.written_from);
        let after = if changed { one.after.min(0.2) } else { one.before };
        let row = with.mistake(one.kind);
        let read = if one.occasion == Occasion::Throughout { row.together } else { row.rate };
        assert!(same(read, after), "{:?} {:?}", one.kind, one.occasion);
    }
    assert!(written > 20, "{written}");
    // A step is what it is.
    assert_eq!(with.instrument("tape").unwrap().step, catalog.instrument("tape").unwrap().step);
    assert!(with.instrument("tape").unwrap().source.contains("finished orders"));
}

#[test]
fn learned_rows_stand_on_top_of_rows_by_hand_whatever_the_order_of_the_files() {
    let by_hand = ("a/mistakes.toml", "[drum_left_on]\nrate = 0.02\nsource = \"shop: counted\"\n");
    let learned = ("a/learned_mistakes.toml", "[drum_left_on]\nrate = 0.03\nsource = \"shop: learned\"\n");
    for files in [[by_hand, learned], [learned, by_hand]] {
        let files = files.map(|(name, text)| (name.to_owned(), text.to_owned()));
        assert_eq!(Catalog::with_folder(&files).unwrap().mistake(MistakeKind::DrumLeftOn).rate, 0.03);
    }
}

#[test]
fn simulated_orders_are_the_same_as_texts() {
    let catalog = Catalog::shipped().unwrap();
    let orders = finished(&catalog, &People::default(), Zeal::Usual, 8, 4);
    let read: Vec<FinishedOrder> = orders
        .iter()
        .map(|one| FinishedOrder {
            sheet: read_sheet("sheet", &sheet_text(&one.sheet), &catalog).unwrap(),
            truth: read_truth("truth", &truth_text(&one.truth), &catalog).unwrap(),
        })
        .collect();
    let (own, from_text) = (learn(&orders, &catalog).unwrap(), learn(&read, &catalog).unwrap());
    assert_eq!(own.readings, from_text.readings);
    for (one, other) in own.uncertainties.iter().zip(&from_text.uncertainties) {
        // The texts round true sizes to a hundred-thousandth of an inch.
        assert!((one.factor() - other.factor()).abs() < 1e-3, "{:?}", one.part);
    }
}

/// Forty registers of 70 mm, each read three times with a caliper: the means are off by what the catalog says of limit and set-up,
/// and the repeats lie this far apart.
fn registers(apart: f64) -> Vec<FinishedOrder> {
    (0..40)
        .map(|number| {
            let mean = 70.0 + if number % 2 == 0 { 0.04 } else { -0.04 };
            let (low, high) = (mean - apart, mean + apart);
            let sheet =
                format!("[shared]\nregister_diameter = [\"{low:.3} mm\", \"{mean:.3} mm\", \"{high:.3} mm\"]\n");
            order(&sheet, "[shared]\nregister_diameter = \"70.000 mm\"\n")
        })
        .collect()
}

#[test]
fn repeats_teach_the_repeatability_and_means_the_limit() {
    let catalog = Catalog::shipped().unwrap();
    let limit = UncertaintyPart::Limit("caliper".to_owned());
    let repeatability = UncertaintyPart::Repeatability("caliper".to_owned());
    let learned = |apart: f64| {
        let learned = learn(&registers(apart), &catalog).unwrap();
        (factor(&learned, &limit), factor(&learned, &repeatability))
    };
    // A caliper repeats within 0.0254 mm, says the catalog.
    let (as_stated, alike, scattered) = (learned(0.025), learned(0.0), learned(0.075));
    println!("limit and repeatability: as stated {as_stated:.2?}, all alike {alike:.2?}, scattered {scattered:.2?}");
    assert!((as_stated.1 - 1.0).abs() < 0.15, "{as_stated:?}");
    // Repeats that are always alike show a scale that is easily read, and not that it is right.
    assert!(alike.1 < 0.5 && alike.0 > 0.75, "{alike:?}");
    assert!(scattered.1 > 2.0 && scattered.0 < 1.4, "{scattered:?}");
}

#[test]
fn a_clear_slip_is_counted_for_its_mistake_alone() {
    let catalog = Catalog::shipped().unwrap();
    // A left overall length that is short by the flange thickness.
    let sheet = "[left]\noverall_length = { value = \"690.0 mm\", instrument = \"metric tape, class I\" }\n";
    let truth = "[shared]\nflange_thickness = \"9.53 mm\"\nwheel_pilot_height = \"16.00 mm\"\n\
                 [left]\noverall_length = \"699.50 mm\"\n";
    let learned = learn(&[order(sheet, truth)], &catalog).unwrap();
    let spoilt = |kind| learned.rates.iter().find(|one| one.kind == kind).unwrap().spoilt;
    assert!(spoilt(MistakeKind::WrongFlangeFace) > 0.9, "{}", spoilt(MistakeKind::WrongFlangeFace));
    assert!(spoilt(MistakeKind::PilotCountedIn) < 1e-6);
    let all: f64 = learned.rates.iter().map(|one| one.spoilt).sum();
    assert!(all <= 1.0 + 1e-9, "one reading holds one mistake at most, and {all} were counted");
    // A rate under a condition is another one, and no reading was marked.
    assert!(learned.rates.iter().all(|one| one.occasion == Occasion::Usual));
}

#[test]
fn a_condition_teaches_the_rate_that_goes_with_it() {
    let catalog = Catalog::shipped().unwrap();
    let sheet = "[shared]\nbrake_offset = { value = \"58.0 mm\", conditions = [\"brakes on\"] }\n";
    let learned = learn(&[order(sheet, "[shared]\nbrake_offset = \"60.50 mm\"\n")], &catalog).unwrap();
    let of = |kind| learned.rates.iter().filter(|one| one.kind == kind).map(|one| one.occasion).collect::<Vec<_>>();
    assert_eq!(of(MistakeKind::BrakePlateLeftOn), [Occasion::Marked(catalog::Condition::BrakesOn)]);
    assert_eq!(of(MistakeKind::RaceForShoulder), []);
}

#[test]
fn only_a_reading_whose_truth_is_known_teaches() {
    let catalog = Catalog::shipped().unwrap();
    let sheet = "[shared]\nflange_thickness = \"10.0 mm\"\nflange_diameter = \"150 mm\"\nbolt_circle = \"114.3 mm\"\n\
                 register_height = [\"4.0 mm\", \"5.9 mm\"]\nhousing_width = \"1400 mm\"\n";
    let truth = "[shared]\nflange_thickness = \"9.98 mm\"\nbolt_circle = \"114.30 mm\"\nregister_height = \"5.00 mm\"\n\
                 [left]\nhalf_width = \"700.00 mm\"\n[right]\nhalf_width = \"699.50 mm\"\n";
    let learned = learn(&[order(sheet, truth)], &catalog).unwrap();
    let skipped: Vec<(&str, SkipReason)> =
        learned.skipped.iter().map(|one| (one.measurand.key(), one.reason)).collect();
    assert_eq!(
        skipped,
        [
            ("flange_diameter", SkipReason::NoTruth),
            ("bolt_circle", SkipReason::NoHoleCount),
            ("register_height", SkipReason::RepeatsDisagree),
        ]
    );
    // The housing width is the sum of two sizes that are stated, so it is known without being stated itself.
    assert_eq!(learned.readings, 2);
}

/// How often people err shows in what they wrote, whatever was made of it at the desk.
#[test]
fn a_corrected_reading_is_learned_from_as_it_was_written() {
    let catalog = Catalog::shipped().unwrap();
    let truth = "[shared]\nregister_diameter = \"70.00\"\n";
    let learned = |keys: &str| {
        let sheet = format!("[shared]\nregister_diameter = {{ value = \"70.84\"{keys} }}\n");
        learn(&[order(&sheet, truth)], &catalog).unwrap()
    };
    let corrected = learned(", taken_as = \"70.01\", confirmed_by = \"customer\"");
    assert_eq!(format!("{corrected:?}"), format!("{:?}", learned("")));
    let right = order("[shared]\nregister_diameter = \"70.01\"\n", truth);
    assert_ne!(format!("{corrected:?}"), format!("{:?}", learn(&[right], &catalog).unwrap()));
}
