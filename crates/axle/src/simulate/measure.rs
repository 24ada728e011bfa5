//! Measuring a true vehicle as people do: with an instrument's error, rounded to its scale, and now and then mistaken.

use catalog::{BearingKind, Catalog, Measurand, MistakeKind, Sides};
use placed::Position;
use quantity::{Instrument, LengthExt, LengthUnit, WrittenLength, millimetres, read_length};
use reconcile::Form;

use super::chance::Chance;
use super::vehicle::Vehicle;
use crate::evidence::{Taken, planned_uncertainty};
use crate::geometry::Geometry;
use crate::hands::common_deviation;
use crate::sheet::{BrakeClaim, Fitting, LoadClaims, Parts, Reading, Sheet, Side, Use, Value};
use crate::slips::slips;

/// How much of a vehicle gets measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Zeal {
    /// What a shaft cannot do without, and little to check it.
    Lean,
    /// What a desk usually gets.
    Usual,
    /// Nearly everything, much of it twice over.
    Full,
}

/// A mistake that was made on purpose.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Planted {
    /// Which mistake.
    pub kind: MistakeKind,
    /// The readings it spoils, by their place in the sheet.
    pub readings: Vec<usize>,
}

/// An order sheet with the mistakes that are in it.
#[derive(Debug, Clone)]
pub struct Measured {
    /// The sheet as it comes to the desk.
    pub sheet: Sheet,
    /// The mistakes.
    pub planted: Vec<Planted>,
}

/// How the people who measure differ from what the catalog says of them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct People {
    /// Their errors, as a multiple of the instruments' uncertainties.
    pub noise: f64,
    /// Their mistakes, as a multiple of the catalog's rates.
    pub rate: f64,
    /// How often a reading is wrong by something that no mistake describes: anywhere in its usual range.
    pub gross: f64,
}

impl Default for People {
    fn default() -> Self {
        Self { noise: 1.0, rate: 1.0, gross: 0.0 }
    }
}

/// What is read, with the chance that it is, for a lean, a usual and a full sheet.
const PLAN: [(Measurand, [f64; 3]); 35] = [
    (Measurand::OverallLength, [1.0, 1.0, 1.0]),
    (Measurand::ShoulderDistance, [0.7, 0.9, 1.0]),
    (Measurand::RaceDistance, [0.2, 0.6, 1.0]),
    (Measurand::BrakeOffset, [0.4, 0.8, 1.0]),
    (Measurand::ShoulderToEnd, [0.0, 0.1, 0.3]),
    (Measurand::Reach, [0.0, 0.5, 0.9]),
    (Measurand::HalfWidth, [0.0, 0.3, 0.6]),
    (Measurand::HousingWidth, [0.2, 0.5, 0.8]),
    (Measurand::FaceToFace, [0.1, 0.2, 0.4]),
    (Measurand::SplineContactLength, [0.0, 0.2, 0.6]),
    (Measurand::HousingBoreDepth, [0.2, 0.6, 1.0]),
    (Measurand::FlangeThickness, [0.6, 0.9, 1.0]),
    (Measurand::RegisterHeight, [0.1, 0.3, 0.6]),
    (Measurand::WheelPilotHeight, [0.1, 0.3, 0.6]),
    (Measurand::FlangeDiameter, [1.0, 1.0, 1.0]),
    (Measurand::RegisterDiameter, [1.0, 1.0, 1.0]),
    (Measurand::DrumBore, [0.2, 0.6, 1.0]),
    (Measurand::WheelPilotDiameter, [1.0, 1.0, 1.0]),
    (Measurand::WheelBore, [0.1, 0.4, 0.8]),
    (Measurand::DrumInside, [0.3, 0.5, 0.9]),
    (Measurand::JournalDiameter, [0.6, 0.9, 1.0]),
    (Measurand::RingSeatDiameter, [0.3, 0.6, 1.0]),
    (Measurand::SealJournalDiameter, [0.3, 0.6, 1.0]),
    (Measurand::BearingOutside, [0.5, 0.9, 1.0]),
    (Measurand::BearingOuterWidth, [0.3, 0.8, 1.0]),
    (Measurand::BearingInnerWidth, [0.1, 0.5, 1.0]),
    (Measurand::HousingBoreDiameter, [0.1, 0.4, 0.8]),
    (Measurand::BoltRectangleLong, [0.2, 0.6, 1.0]),
    (Measurand::BoltRectangleShort, [0.2, 0.6, 1.0]),
    (Measurand::HoleCount, [1.0, 1.0, 1.0]),
    (Measurand::BoltCircle, [0.6, 0.5, 0.5]),
    (Measurand::ChordAdjacent, [0.5, 0.7, 0.9]),
    (Measurand::ChordAlternate, [0.1, 0.5, 0.9]),
    (Measurand::ToothCount, [1.0, 1.0, 1.0]),
    (Measurand::SplineMajorDiameter, [1.0, 1.0, 1.0]),
];

/// How often the customer believes to know the kind of bearing and the series of the spline.
const CLAIMS: f64 = 0.8;

/// Measures a vehicle: the sheet that comes to the desk, and the mistakes that are in it.
pub fn measure(
    vehicle: &Vehicle<'_>,
    catalog: &Catalog,
    zeal: Zeal,
    people: &People,
    chance: &mut Chance<'_>,
) -> Measured {
    let mut readings: Vec<Reading> = Vec::new();
    let mut planted = Vec::new();
    // This sheet's own errors, which may be larger than the instruments' rows say.
    let scatter = chance.weighted(&catalog.settings.beliefs.scatter, |scatter| scatter.share);
    let noise = people.noise * scatter.map_or(1.0, |scatter| scatter.multiple);
    let people = &People { noise, ..*people };
    let mut habits = Habits::draw(catalog, people, chance);
    let column = zeal as usize;
    for (measurand, shares) in PLAN {
        if !chance.happens(shares[column]) {
            continue;
        }
        let row = catalog.measurand(measurand);
        let sides: &[Option<Side>] = match row.sides {
            Sides::Each => &[Some(Side::Left), Some(Side::Right)],
            Sides::Whole | Sides::Either => &[None],
        };
        for side in sides {
            if let Some((value, mistake)) = read(vehicle, catalog, measurand, *side, people, &mut habits, chance) {
                let at = readings.len();
                match mistake {
                    Some(Made::Alone(kind)) => planted.push(Planted { kind, readings: vec![at] }),
                    Some(Made::Together(kind)) => spoil_together(&mut planted, kind, at),
                    None => {}
                }
                readings.push(Reading {
                    measurand,
                    side: *side,
                    value,
                    instrument: None,
                    conditions: Vec::new(),
                    by: None,
                    pin_diameter: None,
                    taken_as: None,
                    position: Position { line: at + 1, column: 1 },
                });
            }
        }
    }
    planted.extend(swap_sides(&mut readings, catalog, people, chance));
    let parts = Parts {
        bearing_kind: claimed_kind(vehicle, catalog, chance),
        spline_series: claimed_series(vehicle, catalog, chance),
        stud: catalog.studs.first().map(|row| row.thread),
        brake: BrakeClaim { kind: Some(vehicle.face.kind), ..BrakeClaim::default() },
        ..Parts::default()
    };
    let sheet = Sheet {
        reference: "simulated".to_owned(),
        axle: None,
        use_: Use::Street,
        unit: Some(LengthUnit::Inch),
        differential: Some(vehicle.chain.differential.name.clone()),
        wanted: vec![Side::Left, Side::Right],
        note: None,
        parts,
        fitting: Fitting::default(),
        loads: LoadClaims::default(),
        readings,
    };
    Measured { sheet, planted }
}

/// Adds a reading to those that a habit has spoiled.
fn spoil_together(planted: &mut Vec<Planted>, kind: MistakeKind, reading: usize) {
    match planted.iter_mut().find(|one| one.kind == kind) {
        Some(one) => one.readings.push(reading),
        None => planted.push(Planted { kind, readings: vec![reading] }),
    }
}

/// What the one who measures does wrong in every reading, and how far off the instruments in that hand are.
struct Habits {
    /// Mistakes that are made throughout; of one with sizes, which of them.
    mistakes: Vec<(MistakeKind, usize)>,
    /// The common error of each instrument that was taken up, in its standard deviations.
    instruments: Vec<(String, f64)>,
    noise: f64,
}

impl Habits {
    fn draw(catalog: &Catalog, people: &People, chance: &mut Chance<'_>) -> Self {
        let mut mistakes = Vec::new();
        for row in catalog.mistakes.iter().filter(|row| row.kind != MistakeKind::LeftRightSwapped) {
            if row.together > 0.0 && chance.happens(row.together * people.rate) {
                let places: Vec<usize> = (0..row.sizes.len().max(1)).collect();
                let share = |place: &usize| row.sizes.get(*place).map_or(1.0, |(_, share)| *share);
                mistakes.push((row.kind, chance.weighted(&places, share).copied().unwrap_or(0)));
            }
        }
        Self { mistakes, instruments: Vec::new(), noise: people.noise }
    }

    /// The common error of an instrument, in its standard deviations.
    fn common_error(&mut self, instrument: &Instrument, chance: &mut Chance<'_>) -> f64 {
        if let Some((_, error)) = self.instruments.iter().find(|(name, _)| *name == instrument.name) {
            return *error;
        }
        let error = chance.normal(0.0, self.noise);
        self.instruments.push((instrument.name.clone(), error));
        error
    }
}

/// A mistake of one reading, or one that the hand makes in all.
enum Made {
    Alone(MistakeKind),
    Together(MistakeKind),
}

/// The kind of bearing as the customer has it, if he knows it; wrong as often as claims are.
fn claimed_kind(vehicle: &Vehicle<'_>, catalog: &Catalog, chance: &mut Chance<'_>) -> Option<BearingKind> {
    let kind = vehicle.chain.parts.bearing?.kind;
    let right = chance.happens(catalog.settings.beliefs.claim_right);
    let said = match kind {
        _ if right => kind,
        BearingKind::Ball => BearingKind::Tapered,
        BearingKind::Tapered => BearingKind::Ball,
    };
    chance.happens(CLAIMS).then_some(said)
}

/// The spline series as the customer has it, if he knows it; a wrong one is any other, as often as it is met.
fn claimed_series(vehicle: &Vehicle<'_>, catalog: &Catalog, chance: &mut Chance<'_>) -> Option<String> {
    let (series, _, _) = vehicle.spline.listed.as_ref()?;
    let right = chance.happens(catalog.settings.beliefs.claim_right);
    let others = chance.weighted(&catalog.splines, |row| if row.name == series.name { 0.0 } else { row.weight });
    let said = if right { Some(*series) } else { others };
    said.filter(|_| chance.happens(CLAIMS)).map(|row| row.name.clone())
}

/// The two shafts confused on the bench: their lengths trade places. Or somebody stood before the housing instead of behind it,
/// or before the whole axle, and everything that has a side trades places.
fn swap_sides(
    readings: &mut [Reading],
    catalog: &Catalog,
    people: &People,
    chance: &mut Chance<'_>,
) -> Option<Planted> {
    let kind = MistakeKind::LeftRightSwapped;
    let row = catalog.mistake(kind);
    let [all, housing] = [(); 2].map(|()| chance.happens(row.together * people.rate));
    let shafts = chance.happens(row.rate * people.rate);
    let trades = |measurand: Measurand| {
        let of_shafts = measurand == Measurand::OverallLength || measurand == Measurand::ShoulderToEnd;
        let of_housing = measurand == Measurand::Reach || measurand == Measurand::HalfWidth;
        (all && catalog.measurand(measurand).sides == Sides::Each) || (shafts && of_shafts) || (housing && of_housing)
    };
    let mut swapped = Vec::new();
    for left in 0..readings.len() {
        let one = &readings[left];
        if one.side != Some(Side::Left) || !trades(one.measurand) {
            continue;
        }
        let twin = |other: &Reading| other.measurand == one.measurand && other.side == Some(Side::Right);
        if let Some(right) = readings.iter().position(twin) {
            let (here, there) = (readings[left].value.clone(), readings[right].value.clone());
            readings[left].value = there;
            readings[right].value = here;
            swapped.extend([left, right]);
        }
    }
    (!swapped.is_empty()).then_some(Planted { kind, readings: swapped })
}

/// One reading, with the mistake that was made in it if one was.
fn read(
    vehicle: &Vehicle<'_>,
    catalog: &Catalog,
    measurand: Measurand,
    side: Option<Side>,
    people: &People,
    habits: &mut Habits,
    chance: &mut Chance<'_>,
) -> Option<(Value, Option<Made>)> {
    let (geometry, truth) = vehicle.topic_of(measurand, side)?;
    let row = catalog.measurand(measurand);
    let instrument = catalog.usual_instrument(row);
    let form = geometry.form(measurand, side)?;
    let right = form.at(truth);
    let text = (!measurand.is_count()).then(|| as_written(right, instrument)).flatten();
    let mut taken = Taken {
        index: 0,
        measurand,
        side,
        value: right,
        standard_uncertainty: planned_uncertainty(row, instrument),
        written: text.as_ref(),
        instrument,
        by: None,
        row,
        conditions: &[],
        pin_diameter: None,
    };
    if let Some(text) = &text {
        taken.value = text.value().millimetres();
    }
    let (least, most) = (row.usual.0.millimetres(), row.usual.1.millimetres());
    let gross = chance.happens(people.gross);
    let habit = habits.mistakes.iter().find_map(|(kind, which)| habit(geometry, &taken, &form, catalog, *kind, *which));
    let made_together = habit.is_some();
    let alone = slip(geometry, &taken, &form, catalog, people, chance);
    let mistake = if gross { None } else { habit.or(alone) };
    // An instrument's own error is the same in every reading that it takes.
    let common = if measurand.is_count() {
        0.0
    } else {
        common_deviation(&taken, catalog) * habits.common_error(instrument, chance)
    };
    // Rounding to the scale adds its own part of the uncertainty, so it is left out of the draw.
    let rounding = quantity::resolution(instrument.step.millimetres());
    let shared = common_deviation(&taken, catalog);
    let own = taken.standard_uncertainty;
    let own = (own * own - shared * shared).sqrt();
    let deviation = (own * own - rounding * rounding).max(0.25 * own * own).sqrt();
    let noise = |spread: f64, chance: &mut Chance<'_>| {
        let of_its_own = people.noise * deviation.hypot(spread);
        if measurand.is_count() { 0.0 } else { common + chance.normal(0.0, of_its_own) }
    };
    let value = match &mistake {
        _ if gross => least + (most - least) * chance.even(),
        None => right + noise(0.0, chance),
        Some(Slip { wrong: Wrong::Meaning(meant, spread), .. }) => meant.at(truth) + noise(*spread, chance),
        Some(Slip { wrong: Wrong::Written(size), .. }) => *size + noise(0.0, chance),
    };
    let made = |slip: Slip| if made_together { Made::Together(slip.kind) } else { Made::Alone(slip.kind) };
    let kind = mistake.map(made).or(gross.then_some(Made::Alone(MistakeKind::Anything)));
    let value = if measurand.is_count() {
        Value::Count(value.round().max(1.0) as u32)
    } else {
        Value::Length(vec![as_written(value, instrument)?])
    };
    Some((value, kind))
}

/// A mistake as it was made.
struct Slip {
    kind: MistakeKind,
    wrong: Wrong,
}

enum Wrong {
    /// The reading means this form, with this spread beyond its own uncertainty.
    Meaning(Form, f64),
    /// The pen wrote this size.
    Written(f64),
}

/// What a habit makes of a reading that it can spoil.
fn habit(
    geometry: &dyn Geometry,
    taken: &Taken<'_>,
    form: &Form,
    catalog: &Catalog,
    kind: MistakeKind,
    which: usize,
) -> Option<Slip> {
    let row = catalog.mistake(kind);
    let wrong = match geometry.mistaken(kind, taken) {
        Some(meant) => Wrong::Meaning(meant, row.spread.millimetres()),
        None => {
            let (_, meaning) = slips(row, taken, form).into_iter().nth(which)?;
            Wrong::Meaning(meaning.form, row.spread.millimetres())
        }
    };
    Some(Slip { kind, wrong })
}

/// Draws the mistake of one reading, if one is made.
fn slip(
    geometry: &dyn Geometry,
    taken: &Taken<'_>,
    form: &Form,
    catalog: &Catalog,
    people: &People,
    chance: &mut Chance<'_>,
) -> Option<Slip> {
    let mut ways: Vec<(f64, Slip)> = Vec::new();
    for row in &catalog.mistakes {
        let rate = row.rate * people.rate;
        let spread = row.spread.millimetres();
        if let Some(meant) = geometry.mistaken(row.kind, taken) {
            ways.push((rate, Slip { kind: row.kind, wrong: Wrong::Meaning(meant, spread) }));
            continue;
        }
        for (share, meaning) in slips(row, taken, form) {
            let wrong = match row.kind {
                // The other way round than the review undoes it: the right text is at hand, the wrong one is sought.
                MistakeKind::DigitsSwapped => Wrong::Written(taken.value - (meaning.form.constant() - form.constant())),
                MistakeKind::ReadBackFromNextInch => Wrong::Written(read_back(taken.value)),
                _ => {
                    let own = taken.standard_uncertainty;
                    let wide = meaning.standard_uncertainty;
                    Wrong::Meaning(meaning.form, (wide * wide - own * own).max(0.0).sqrt())
                }
            };
            ways.push((rate * share, Slip { kind: row.kind, wrong }));
        }
    }
    let mut left = chance.even();
    ways.into_iter().find_map(|(rate, slip)| {
        left -= rate;
        (left < 0.0).then_some(slip)
    })
}

/// What somebody reads who counts the fraction back from the next inch: 29 5/8 becomes 30 3/8.
fn read_back(right: f64) -> f64 {
    let inches = millimetres(right).inches();
    quantity::inches(inches.floor() + 1.0 + (1.0 - inches.fract())).millimetres()
}

/// A size as people write it who read it off that instrument: to its step, in inches, or in millimetres where the scale is
/// metric. None for a size that nobody would write.
pub(super) fn as_written(size: f64, instrument: &Instrument) -> Option<WrittenLength> {
    let length = millimetres(size);
    let step = instrument.step;
    let denominator = (1.0 / step.inches()).round();
    let text = if (step.millimetres() - step.millimetres().round()).abs() < 1e-9 && step.millimetres() > 0.5 {
        quantity::millimetres_text(length, 0)
    } else if [16.0, 32.0, 64.0].contains(&denominator) {
        quantity::fraction_inches(length, denominator as u32)
    } else {
        let places = if step.inches() < 0.0007 { 4 } else { 3 };
        quantity::decimal_inches(length, places)
    };
    // What comes out as nothing or less is no size, and nobody writes it down.
    read_length(&text, None).ok().filter(|written| written.value().value > 0.0)
}
