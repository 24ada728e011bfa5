//! Each fault of a model is refused, and the message says where it stands.

#![expect(clippy::panic, reason = "a fault that is not refused must fail the test")]

use reconcile::{Evidence, Form, Mistake, Model, ModelError, Options, Place, Prior, classical, explain};

fn sound() -> Model {
    let prior = Prior { mean: 10.0, standard_deviation: 5.0, firm: false };
    let reading = |unknown| Evidence { form: Form::of(unknown), value: 12.0, standard_uncertainty: 0.5 };
    let single = |reading_at, rate| Mistake { rate, spoils: vec![(reading_at, reading(1))] };
    let both = Mistake { rate: 0.01, spoils: vec![(0, reading(1)), (1, reading(0))] };
    Model {
        weight: 1.0,
        priors: vec![prior; 2],
        readings: vec![reading(0), reading(1)],
        mistakes: vec![single(0, 0.4), single(0, 0.3), both],
    }
}

/// The error of a sound model followed by one that is spoiled.
fn error_of(spoil: impl FnOnce(&mut Model)) -> ModelError {
    let mut model = sound();
    spoil(&mut model);
    match explain(&[sound(), model], &Options::default()) {
        Err(error) => error,
        Ok(_) => panic!("the model should have been refused"),
    }
}

fn assert_number(error: &ModelError, expected_place: Place, expected_what: &str) {
    match error {
        ModelError::Number { model: 1, place, what, .. } => {
            assert_eq!((*place, *what), (expected_place, expected_what));
        }
        other => panic!("{other}"),
    }
}

#[test]
fn no_model_is_an_error() {
    assert_eq!(explain(&[], &Options::default()).err(), Some(ModelError::NoModel));
}

#[test]
fn models_of_different_shape_are_refused() {
    let error = error_of(|model| {
        model.readings.pop();
        model.mistakes.clear();
    });
    let shape = ModelError::Shape { model: 1, found_unknowns: 2, found_readings: 1, unknowns: 2, readings: 2 };
    assert_eq!(error, shape);
    assert_eq!(
        error.to_string(),
        "model 1 has 2 unknowns and 1 readings, the first has 2 and 2; all must have as many"
    );
    let error = error_of(|model| model.priors.push(model.priors[0]));
    assert!(matches!(error, ModelError::Shape { model: 1, found_unknowns: 3, .. }));
}

#[test]
fn numbers_that_are_not_finite_or_out_of_bounds_are_placed() {
    for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 0.0, -1.0] {
        assert_number(&error_of(|model| model.weight = bad), Place::Model, "weight");
        let error = error_of(|model| model.priors[1].standard_deviation = bad);
        assert_number(&error, Place::Prior(1), "standard deviation");
        let error = error_of(|model| model.readings[1].standard_uncertainty = bad);
        assert_number(&error, Place::Reading(1), "standard uncertainty");
        let error = error_of(|model| model.mistakes[2].spoils[1].1.standard_uncertainty = bad);
        assert_number(&error, Place::Meaning { mistake: 2, reading: 1 }, "standard uncertainty");
        assert_number(&error_of(|model| model.mistakes[1].rate = bad), Place::Mistake(1), "rate");
    }
    assert_number(&error_of(|model| model.mistakes[1].rate = 1.0), Place::Mistake(1), "rate");
    for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
        assert_number(&error_of(|model| model.priors[0].mean = bad), Place::Prior(0), "mean");
        assert_number(&error_of(|model| model.readings[0].value = bad), Place::Reading(0), "value");
        let error = error_of(|model| model.readings[0].form = Form::of(0).offset_by(bad));
        assert_number(&error, Place::Reading(0), "constant");
        let error = error_of(|model| model.readings[0].form = Form::new([(0, bad)], 0.0));
        assert_number(&error, Place::Reading(0), "coefficient");
        let error = error_of(|model| model.mistakes[0].spoils[0].1.value = bad);
        assert_number(&error, Place::Meaning { mistake: 0, reading: 0 }, "value");
    }
    let error = error_of(|model| model.readings[1].standard_uncertainty = -0.5);
    assert_eq!(
        error.to_string(),
        "model 1, reading 1: the standard uncertainty is -0.5; it must be finite and positive"
    );
}

#[test]
fn unknowns_that_are_not_there_are_placed() {
    let error = error_of(|model| model.readings[1].form = Form::new([(0, 1.0), (2, 1.0)], 0.0));
    assert_eq!(error, ModelError::Unknown { model: 1, place: Place::Reading(1), unknown: 2, unknowns: 2 });
    assert_eq!(error.to_string(), "model 1, reading 1: it names unknown 2, but there are only 2, counted from 0");
    let error = error_of(|model| model.mistakes[2].spoils[0].1.form = Form::of(7));
    let place = Place::Meaning { mistake: 2, reading: 0 };
    assert_eq!(error, ModelError::Unknown { model: 1, place, unknown: 7, unknowns: 2 });
}

#[test]
fn mistakes_that_spoil_nothing_or_what_is_not_there_are_placed() {
    let spoils = |mistake| ModelError::Spoils { model: 1, mistake, readings: 2 };
    assert_eq!(error_of(|model| model.mistakes[0].spoils.clear()), spoils(0));
    assert_eq!(error_of(|model| model.mistakes[1].spoils[0].0 = 2), spoils(1));
    assert_eq!(error_of(|model| model.mistakes[2].spoils.reverse()), spoils(2));
    assert_eq!(error_of(|model| model.mistakes[2].spoils[0].0 = 1), spoils(2));
}

#[test]
fn rates_of_one_reading_must_stay_under_one() {
    let error = error_of(|model| model.mistakes[1].rate = 0.6);
    assert_eq!(error, ModelError::Rates { model: 1, reading: 0, sum: 1.0 });
    assert_eq!(error.to_string(), "model 1, reading 0: the rates of its mistakes sum to 1; they must stay under 1");
}

#[test]
fn numbers_too_far_apart_are_refused() {
    let error = error_of(|model| {
        model.priors[0].standard_deviation = 1e200;
        model.readings[0].standard_uncertainty = 1e-200;
    });
    assert_eq!(error, ModelError::Singular { model: 1 });
}

#[test]
fn the_classical_tests_refuse_the_same_faults() {
    let mut model = sound();
    model.readings[1].form = Form::of(2);
    let expected = ModelError::Unknown { model: 0, place: Place::Reading(1), unknown: 2, unknowns: 2 };
    assert_eq!(classical(&model).err(), Some(expected));
}

#[test]
fn nothing_to_weigh_is_weighed_all_the_same() {
    let mut model = sound();
    model.readings.clear();
    model.mistakes.clear();
    let mixture = explain(&[model.clone()], &Options { most_mistakes: 2, ..Options::default() });
    let marginal = mixture.map(|mixture| mixture.marginal(&Form::of(1)));
    let marginal = marginal.unwrap();
    assert_eq!((marginal.mean(), marginal.standard_deviation()), (10.0, 5.0));
    assert_eq!(classical(&model).map(|tested| tested.degrees_of_freedom), Ok(0));

    model.priors.clear();
    let mixture = explain(&[model.clone()], &Options { most_mistakes: 2, ..Options::default() }).unwrap();
    assert_eq!(mixture.explanations().len(), 1);
    assert_eq!(classical(&model).map(|tested| tested.chi_squared), Ok(0.0));

    // A reading of no unknown at all checks a constant.
    let constant = Evidence { form: Form::constant_of(3.0), value: 3.5, standard_uncertainty: 0.5 };
    model.readings = vec![constant.clone()];
    model.mistakes = vec![Mistake { rate: 0.5, spoils: vec![(0, Evidence { standard_uncertainty: 1.0, ..constant })] }];
    let mixture = explain(&[model.clone()], &Options::default()).unwrap();
    // Densities at one deviation of 0.5 and at half a deviation of 1.0.
    let ratio = 2.0 * (-0.5_f64).exp() / (-0.125_f64).exp();
    let mistaken = 1.0 / (1.0 + ratio);
    assert!((mixture.mistaken()[0] - mistaken).abs() < 1e-12);
    assert_eq!(classical(&model).map(|tested| tested.chi_squared), Ok(1.0));
}
