//! Invented orders of the usual and of the full size: two length chains that share their parts, a bolt circle and some
//! diameters, in millimetres. The numbers are made up; what matters is how the forms hang together and how many
//! mistakes there are.

use reconcile::{Evidence, Form, Mistake, Model, Prior};

/// Half a millimetre is the standard uncertainty of a tape, a tenth that of a depth, a fiftieth that of a caliper.
const TAPE: f64 = 0.8;
const DEPTH: f64 = 0.25;
const CALIPER: f64 = 0.03;
const INCH: f64 = 25.4;

/// Unknowns by index. The first twelve are those of a usual order.
const SHOULDER: [usize; 2] = [0, 1];
const HALF_WIDTH: [usize; 2] = [2, 3];
const FLANGE: usize = 4;
const BORE_DEPTH: usize = 5;
const RING_OFFSET: usize = 6;
const RING_WIDTH: usize = 7;
const END_GAP: [usize; 2] = [8, 9];
const CIRCLE: usize = 10;
const JOURNAL: usize = 11;
const OUTSIDE: usize = 12;
const HOLE: usize = 13;
const DIAMETERS: std::ops::Range<usize> = 14..24;

/// What a part from the table fixes: ring offset, ring width, journal and outside diameter, and how common it is.
const PARTS: [([f64; 4], f64); 6] = [
    ([1.5, 18.0, 40.0, 80.0], 0.4),
    ([0.0, 21.0, 35.0, 80.0], 0.2),
    ([1.5, 17.0, 35.0, 72.0], 0.15),
    ([2.0, 19.0, 45.0, 85.0], 0.1),
    ([3.0, 23.0, 40.0, 80.0], 0.1),
    ([0.5, 18.0, 40.0, 90.0], 0.05),
];

/// Means and standard deviations beforehand of the unknowns that no part fixes, and the value that each has in this order.
const BROAD: [(usize, f64, f64, f64); 20] = [
    (0, 60.0, 12.0, 57.15),
    (1, 60.0, 12.0, 57.15),
    (2, 700.0, 75.0, 717.6),
    (3, 700.0, 75.0, 692.2),
    (4, 11.0, 2.0, 11.1),
    (5, 19.0, 4.0, 16.9),
    (8, 5.0, 2.0, 4.4),
    (9, 5.0, 2.0, 4.4),
    (10, 120.0, 10.0, 114.3),
    (13, 13.0, 1.0, 12.7),
    (14, 71.0, 5.0, 71.5),
    (15, 67.0, 5.0, 66.6),
    (16, 165.0, 12.0, 160.3),
    (17, 39.0, 3.0, 39.4),
    (18, 37.0, 3.0, 38.1),
    (19, 33.0, 3.0, 32.8),
    (20, 90.0, 10.0, 88.9),
    (21, 65.0, 10.0, 66.7),
    (22, 11.0, 1.0, 10.3),
    (23, 76.0, 6.0, 76.2),
];

/// Errors of the readings, in standard uncertainties, taken in turn.
const ERRORS: [f64; 10] = [0.31, -0.82, 1.13, -0.24, 0.65, -1.42, 0.93, 0.12, -0.54, 0.41];

#[derive(Clone, Copy)]
enum Kind {
    Tape,
    Depth,
    Chord,
    Diameter,
}

struct Reading {
    form: Form,
    standard_uncertainty: f64,
    kind: Kind,
}

/// How large an order is to be made.
#[derive(Clone, Copy)]
pub struct Size {
    unknowns: usize,
    models: usize,
    mistakes_each: usize,
    readings: usize,
}

/// Ten readings of twelve unknowns, two models, six mistakes a reading.
pub const USUAL: Size = Size { unknowns: 12, models: 2, mistakes_each: 6, readings: 10 };
/// Twenty-six readings of twenty-four unknowns, six models, seven mistakes a reading.
pub const FULL: Size = Size { unknowns: 24, models: 6, mistakes_each: 7, readings: 26 };

/// The models of an order of this size, one for each choice of parts. Its first reading was taken from the tape's one-inch
/// line.
pub fn order(size: Size) -> Vec<Model> {
    let readings = readings(size);
    let truth = priors(size, 0, |_, _, true_value| true_value);
    let values: Vec<f64> = readings
        .iter()
        .enumerate()
        .map(|(at, reading)| {
            let error = ERRORS[at % ERRORS.len()] * reading.standard_uncertainty;
            let burnt = if at == 0 { INCH } else { 0.0 };
            // As written down: to a hundredth.
            ((reading.form.at(&truth) + error + burnt) * 100.0).round() / 100.0
        })
        .collect();
    (0..size.models)
        .map(|part| Model {
            weight: PARTS[part].1,
            priors: priors(size, part, |mean, standard_deviation, _| Prior {
                mean,
                standard_deviation,
                firm: standard_deviation < 0.5,
            }),
            readings: readings.iter().zip(&values).map(|(reading, value)| sound(reading, *value)).collect(),
            mistakes: mistakes(size, &readings, &values),
        })
        .collect()
}

/// One entry for each unknown: mean and standard deviation beforehand, and the true value.
fn priors<T>(size: Size, part: usize, entry: impl Fn(f64, f64, f64) -> T) -> Vec<T> {
    let [offset, width, journal, outside] = PARTS[part].0;
    let fixed = [(RING_OFFSET, offset), (RING_WIDTH, width), (JOURNAL, journal), (OUTSIDE, outside)];
    (0..size.unknowns)
        .map(|unknown| {
            if let Some((_, value)) = fixed.iter().find(|(at, _)| *at == unknown) {
                return entry(*value, 0.05, *value);
            }
            let broad = BROAD.iter().find(|(at, ..)| *at == unknown);
            let (_, mean, standard_deviation, true_value) = broad.copied().unwrap_or((unknown, 0.0, 1.0, 0.0));
            entry(mean, standard_deviation, true_value)
        })
        .collect()
}

fn sum(terms: &[usize], less: &[usize]) -> Form {
    let plus = terms.iter().map(|unknown| (*unknown, 1.0));
    Form::new(plus.chain(less.iter().map(|unknown| (*unknown, -1.0))), 0.0)
}

fn brake_offset(side: usize) -> Form {
    sum(&[SHOULDER[side], RING_OFFSET, RING_WIDTH], &[BORE_DEPTH])
}

fn overall_length(side: usize) -> Form {
    brake_offset(side).plus(&sum(&[HALF_WIDTH[side]], &[END_GAP[side]]))
}

fn race_distance(side: usize) -> Form {
    sum(&[SHOULDER[side], RING_OFFSET], &[])
}

fn chord(rank: f64) -> Form {
    Form::of(CIRCLE).times((std::f64::consts::PI * rank / 5.0).sin())
}

fn readings(size: Size) -> Vec<Reading> {
    let of = |form, standard_uncertainty, kind| Reading { form, standard_uncertainty, kind };
    let width = sum(&HALF_WIDTH, &[]);
    let mut readings = vec![
        of(overall_length(0), TAPE, Kind::Tape),
        of(overall_length(1), TAPE, Kind::Tape),
        of(brake_offset(0), DEPTH, Kind::Depth),
        of(brake_offset(1), DEPTH, Kind::Depth),
        of(Form::of(SHOULDER[0]), DEPTH, Kind::Depth),
        of(race_distance(1), DEPTH, Kind::Depth),
        of(width.plus(&brake_offset(0)).plus(&brake_offset(1)), TAPE, Kind::Tape),
        of(width, TAPE, Kind::Tape),
        of(chord(2.0), DEPTH, Kind::Chord),
        of(Form::of(JOURNAL), CALIPER, Kind::Diameter),
    ];
    if size.readings > readings.len() {
        readings.extend([
            of(Form::of(SHOULDER[1]), DEPTH, Kind::Depth),
            of(race_distance(0), DEPTH, Kind::Depth),
            of(Form::of(HALF_WIDTH[0]), TAPE, Kind::Tape),
            of(Form::of(HALF_WIDTH[1]), TAPE, Kind::Tape),
            of(Form::of(FLANGE), CALIPER, Kind::Diameter),
            of(Form::of(BORE_DEPTH), DEPTH, Kind::Depth),
            of(chord(1.0), DEPTH, Kind::Chord),
            of(chord(1.0).minus(&Form::of(HOLE)), DEPTH, Kind::Chord),
            of(Form::of(OUTSIDE), CALIPER, Kind::Diameter),
        ]);
        let left = size.readings - readings.len();
        readings.extend(DIAMETERS.take(left).map(|unknown| of(Form::of(unknown), CALIPER, Kind::Diameter)));
    }
    readings.truncate(size.readings);
    readings
}

fn sound(reading: &Reading, value: f64) -> Evidence {
    Evidence { form: reading.form.clone(), value, standard_uncertainty: reading.standard_uncertainty }
}

/// What a reading means under each of its mistakes: rate, form, and standard uncertainty of a further error.
fn meanings(reading: &Reading, size: Size) -> Vec<(f64, Form, f64)> {
    let shifted = |by| reading.form.offset_by(by);
    let other_face = reading.form.plus(&Form::of(FLANGE));
    let anything = |spread| (0.002, reading.form.clone(), spread);
    match reading.kind {
        Kind::Tape => vec![
            (0.004, shifted(INCH), 0.0),
            (0.003, shifted(1.0 / 16.0 * INCH), 0.0),
            (0.003, shifted(-1.0 / 16.0 * INCH), 0.0),
            (0.004, other_face, 0.0),
            (0.005, shifted(1.5), 1.0),
            anything(60.0),
            (0.002, shifted(0.5 * INCH), 0.0),
        ],
        Kind::Depth => vec![
            (0.004, other_face.clone(), 0.0),
            (0.004, reading.form.minus(&Form::of(FLANGE)), 0.0),
            (0.003, shifted(1.0 / 8.0 * INCH), 0.0),
            (0.01, reading.form.plus(&Form::of(RING_OFFSET)), 0.0),
            (0.005, reading.form.plus(&Form::of(RING_WIDTH)), 0.0),
            anything(20.0),
            (0.003, shifted(-1.0 / 16.0 * INCH), 0.0),
        ],
        Kind::Chord => vec![
            (0.01, chord(1.0), 0.0),
            (0.01, Form::of(CIRCLE), 0.0),
            (0.01, reading.form.offset_by(12.7), 1.0),
            (0.01, reading.form.offset_by(-12.7), 1.0),
            (0.003, shifted(1.0 / 16.0 * INCH), 0.0),
            anything(15.0),
            (0.003, chord(2.0), 0.1),
        ],
        Kind::Diameter => vec![
            (0.02, shifted(0.2), 0.1),
            (0.02, shifted(0.5), 0.4),
            (0.01, Form::of(JOURNAL).offset_by(-0.8), 0.4),
            (0.005, reading.form.times(1.0 / INCH), 0.0),
            (0.005, shifted(0.09), 0.0),
            anything(5.0),
            (0.005, shifted(-0.9), 0.0),
        ],
    }
    .into_iter()
    .take(size.mistakes_each)
    .collect()
}

fn mistakes(size: Size, readings: &[Reading], values: &[f64]) -> Vec<Mistake> {
    let mut mistakes = Vec::new();
    let means = |at: usize, form: Form, further: f64| {
        let standard_uncertainty = readings[at].standard_uncertainty.hypot(further);
        (at, Evidence { form, value: values[at], standard_uncertainty })
    };
    for (at, reading) in readings.iter().enumerate() {
        for (rate, form, further) in meanings(reading, size) {
            mistakes.push(Mistake { rate, spoils: vec![means(at, form, further)] });
        }
    }
    let exchanged = |one: usize, other: usize| {
        vec![means(one, readings[other].form.clone(), 0.0), means(other, readings[one].form.clone(), 0.0)]
    };
    // Left for right; and a plate of 2.5 mm left on both ends of the housing.
    mistakes.push(Mistake { rate: 0.005, spoils: exchanged(0, 1) });
    let plate = |at: usize, ends: f64| means(at, readings[at].form.offset_by(2.5 * ends), 0.3 * ends);
    mistakes.push(Mistake { rate: 0.01, spoils: vec![plate(2, -1.0), plate(3, -1.0), plate(7, 2.0)] });
    if size.readings > 12 {
        mistakes.push(Mistake { rate: 0.005, spoils: exchanged(2, 3) });
        mistakes.push(Mistake { rate: 0.005, spoils: exchanged(12, 13) });
    }
    mistakes
}
