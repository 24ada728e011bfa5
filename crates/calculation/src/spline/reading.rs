//! What the splines of all standards read from the arguments, and where an error of a spline is put.

use elements::involute_spline::{Pitch, PressureAngle, SplineError};

use super::{Asked, SplineArguments};
use crate::{Inputs, Refusals, Words};

/// The pitch, which has to be there.
pub fn read_pitch(arguments: &SplineArguments, inputs: &mut Inputs) -> Option<Pitch> {
    const ACCEPTED: &str = "a pair such as 24/48, or --module for a metric spline";
    let Some(text) = &arguments.pitch else {
        inputs.miss("--pitch", "neither the pitch nor the module is given", ACCEPTED);
        return None;
    };
    let numbers = text
        .split_once('/')
        .and_then(|(diametral, stub)| Some((diametral.trim().parse::<f64>().ok()?, stub.trim().parse::<f64>().ok()?)));
    let Some((diametral, stub)) = numbers else {
        inputs.refuse("--pitch", text, "this is no pair of pitches", ACCEPTED);
        return None;
    };
    match Pitch::new(diametral, stub) {
        Ok(pitch) => Some(pitch),
        Err(error) => {
            refuse_spline(inputs, arguments, &error);
            None
        }
    }
}

/// The pressure angle, which may have to be there.
pub fn read_angle(arguments: &SplineArguments, inputs: &mut Inputs, required: bool) -> Option<PressureAngle> {
    const ACCEPTED: &str = "30, 37.5 or 45";
    if arguments.angle.is_none() && required {
        inputs.miss("--angle", "the pressure angle is not given", ACCEPTED);
    }
    let text = arguments.angle.as_deref().map(|text| text.trim_end_matches('°'));
    let degrees = inputs.number("--angle", text, ACCEPTED)?;
    match PressureAngle::from_degrees(degrees) {
        Ok(angle) => Some(angle),
        Err(error) => {
            refuse_spline(inputs, arguments, &error);
            None
        }
    }
}

/// Misses the number of teeth.
pub fn miss_teeth(asked: &Asked<'_>, inputs: &mut Inputs) {
    if asked.arguments.teeth.is_none() {
        inputs.miss("--teeth", "the number of teeth is not given", "a whole number from 6 to 100");
    }
}

/// Refuses an argument of another standard.
pub fn refuse_foreign(inputs: &mut Inputs, argument: &'static str, text: Option<&str>, standard: &str) {
    if let Some(text) = text {
        inputs.refuse(argument, text, format!("this has no meaning for a spline to {standard}"), "no such argument");
    }
}

/// The words of an argument as they were written.
pub fn joined(words: &Words) -> Option<String> {
    words.as_ref().map(|words| words.join(" "))
}

/// The spline or its limits, or what is wrong with the argument that they go by.
///
/// # Errors
///
/// The refusal of that argument.
pub fn settled<T>(
    outcome: Result<T, SplineError>,
    arguments: &SplineArguments,
    inputs: &mut Inputs,
) -> Result<T, Refusals> {
    outcome.map_err(|error| {
        refuse_spline(inputs, arguments, &error);
        inputs.take_refusals()
    })
}

/// Puts an error of the spline on the argument that it speaks of.
pub fn refuse_spline(inputs: &mut Inputs, arguments: &SplineArguments, error: &SplineError) {
    let (argument, text) = match error {
        SplineError::NoSuchPitch { .. } | SplineError::PitchNotInForm { .. } | SplineError::ToleranceNotHeld { .. } => {
            ("--pitch", arguments.pitch.clone())
        }
        SplineError::NoSuchAngle { .. } => ("--angle", arguments.angle.clone()),
        SplineError::NoSuchForm { .. } if arguments.root.is_some() => ("--root", arguments.root.clone()),
        SplineError::NoSuchForm { .. } => ("--fit", arguments.fit.clone()),
        SplineError::MajorDiameterLimits => ("--fit", arguments.fit.clone()),
        SplineError::NoSuchClass { .. } => ("--class", arguments.class.clone()),
        SplineError::Range { what, .. } if what.contains("profile shift") => {
            ("--reference-diameter", joined(&arguments.reference_diameter))
        }
        SplineError::Range { what, .. } | SplineError::NotPositive { what, .. } if what.contains("module") => {
            ("--module", joined(&arguments.module))
        }
        SplineError::Range { what, .. } | SplineError::NotPositive { what, .. } if what.contains("spline length") => {
            ("--length", joined(&arguments.length))
        }
        _ => ("--teeth", arguments.teeth.clone()),
    };
    // The words of the error say what would be accepted.
    inputs.refuse(argument, text.as_deref().unwrap_or_default(), error.to_string(), "");
}
