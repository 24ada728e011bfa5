//! Simulated people and their finished orders.

use std::fmt::Write as _;

use axle::learn::FinishedOrder;
use axle::simulate::{Chance, People, Zeal, draw_finished};
use catalog::{Catalog, MISTAKES, MistakeKind};
use quantity::{LengthExt, Limit, beta_quantile, chi_squared_quantile};
use rand::rngs::StdRng;
use rand::{RngExt, SeedableRng};

/// A stream of even numbers.
pub fn even(seed: u64) -> impl FnMut() -> f64 {
    let mut source = StdRng::seed_from_u64(seed);
    move || source.random_range(f64::EPSILON..1.0)
}

/// So many finished orders of people who are as the catalog says, but for what `people` multiplies.
pub fn finished(catalog: &Catalog, people: &People, zeal: Zeal, orders: u64, seed: u64) -> Vec<FinishedOrder> {
    (0..orders)
        .map(|order| {
            let mut even = even(seed * 1_000_000 + order);
            let reference = format!("S-{seed}-{order}");
            draw_finished(catalog, zeal, people, &reference, &mut Chance::new(&mut even)).unwrap()
        })
        .collect()
}

/// People drawn from what the shipped catalog believes of people: a catalog that is true of them, with the factor of every
/// instrument, repeatability and set-up and every rate drawn from its distribution beforehand.
pub fn drawn_from_the_catalog(shipped: &Catalog, seed: u64) -> Catalog {
    let mut even = even(seed);
    // The quantiles have no tails beyond one in a thousand.
    let mut level = move || 0.001 + 0.998 * even();
    let settings = &shipped.settings.learning;
    let mut factor = |degrees_of_freedom: f64| {
        (degrees_of_freedom / chi_squared_quantile(level(), degrees_of_freedom).unwrap()).sqrt()
    };
    let mut instruments = String::new();
    let mut hands = Vec::new();
    for row in &shipped.instruments {
        let hand = factor(settings.uncertainties_are_worth);
        let (limit, repeats) = (hand * factor(settings.parts_are_worth), factor(settings.parts_are_worth));
        hands.push((row.name.clone(), hand));
        let _ = writeln!(instruments, "[[instrument]]\nname = '{}'\nsource = 'shop: drawn'", row.name);
        match row.limit {
            Limit::HalfWidth { constant, per_metre, .. } => {
                let _ = writeln!(instruments, "half_width = '{} mm'", text(constant.millimetres() * limit));
                let _ = writeln!(instruments, "half_width_per_metre = '{} mm'", text(per_metre.millimetres() * limit));
            }
            Limit::Standard(standard) => {
                let _ = writeln!(instruments, "standard_uncertainty = '{} mm'", text(standard.millimetres() * limit));
            }
        }
        let repeatability = row.repeatability.millimetres() * hand * repeats;
        let _ = writeln!(instruments, "repeatability = '{} mm'", text(repeatability));
    }
    let mut measurands = String::new();
    for row in shipped.measurands.iter().filter(|row| row.set_up.millimetres() > 0.0) {
        let usual = &shipped.usual_instrument(row).name;
        let (_, hand) = hands.iter().find(|(name, _)| name == usual).unwrap();
        let set_up = text(row.set_up.millimetres() * hand * factor(settings.parts_are_worth));
        let _ = writeln!(measurands, "[{}]\nset_up = '{set_up} mm'\nsource = 'shop: drawn'", row.measurand.key());
    }
    let mut mistakes = String::new();
    let mut even = self::even(seed + 500_000);
    for (kind, key) in MISTAKES {
        let mut drawn = |rate: f64| {
            let belief = axle::learn::RateBelief::worth(rate, settings.rates_are_worth);
            beta_quantile(0.001 + 0.998 * even(), belief.first, belief.second).unwrap().min(0.2)
        };
        let rate = drawn(shipped.mistake(kind).rate);
        let when: Vec<String> =
            shipped.mistake(kind).rate_when.iter().map(|(at, _)| format!("'{}' = 0.2", phrase(*at))).collect();
        let _ = writeln!(mistakes, "[{key}]\nrate = {rate:.8}\nsource = 'shop: drawn'");
        if shipped.mistake(kind).together > 0.0 {
            let _ = writeln!(mistakes, "together = {:.8}", drawn(shipped.mistake(kind).together));
        }
        if !when.is_empty() {
            let _ = writeln!(mistakes, "rate_when = {{ {} }}", when.join(", "));
        }
    }
    let files = [("instruments.toml", instruments), ("measurands.toml", measurands), ("mistakes.toml", mistakes)];
    Catalog::with_folder(&files.map(|(name, text)| (name.to_owned(), text))).unwrap()
}

fn phrase(condition: catalog::Condition) -> &'static str {
    catalog::CONDITIONS.iter().find(|(known, _)| *known == condition).unwrap().1
}

/// A number that a catalog reads.
fn text(number: f64) -> String {
    format!("{number:.9}")
}

/// Mistakes that the simulation does not make as a review undoes them, so that their rates are not the ones that it was given. It
/// swaps the two shafts or everything of the housing, never a single pair of reaches or of half widths; and it swaps digits first
/// and adds the error then, which changes digits that a review would swap back.
pub fn is_simulated_otherwise(kind: MistakeKind) -> bool {
    matches!(kind, MistakeKind::LeftRightSwapped | MistakeKind::DigitsSwapped)
}
