//! Which standard spline a worn shaft was.

use axle::CAUTIONS;
use elements::involute_spline::{
    MeasuredSize, SplineCandidate, SplineError, SplineEvidence, SplineWear, StandardSpline, ToothDeviation, identify,
};
use quantity::{Leading, Length, LengthExt, LengthUnit, WrittenLength, inches, millimetres};

use super::reading::joined;
use super::{Asked, take};
use crate::{Block, Calculation, Inputs, Quantity, Refusals};

/// So many candidates are named; of more only the number is said.
const PLACES: [&str; 6] = ["first", "second", "third", "fourth", "fifth", "sixth"];

/// What is taken where nothing is said, mm. The tips: real parts run up to 0.05 in under.
const USUAL_UNCERTAINTY_MM: f64 = 0.03;
const USUAL_TIP_WEAR_MM: f64 = 1.27;
const USUAL_FLANK_WEAR_MM: f64 = 0.1;

/// Names the splines.
///
/// # Errors
///
/// Every argument that cannot be used.
pub fn compute(asked: &Asked<'_>, mut inputs: Inputs) -> Result<Calculation, Refusals> {
    let arguments = asked.arguments;
    let mut taken = Vec::new();
    let major = inputs.length("--major-diameter", &arguments.major_diameter);
    let uncertainty = inputs.length("--uncertainty", &arguments.uncertainty);
    let tips = inputs.length("--tip-wear", &arguments.tip_wear);
    let flanks = inputs.length("--flank-wear", &arguments.flank_wear);
    if asked.over_pins.is_some() && arguments.pin.is_none() {
        inputs.miss("--pin", "a size over pins takes the pin that it was measured with", "the pin's diameter");
    }
    if asked.over_pins.is_none() && arguments.pin.is_some() {
        let text = joined(&arguments.pin).unwrap_or_default();
        inputs.refuse("--pin", &text, "no size over pins is given", "--over-pins beside it, or no --pin");
    }
    if arguments.major_diameter.is_none() && arguments.over_pins.is_none() {
        let accepted = "--major-diameter, or --over-pins with --pin";
        inputs.miss("--major-diameter", "a spline cannot be told by its count alone", accepted);
    }
    inputs.settle()?;

    let mm = |written: &WrittenLength| written.value().millimetres();
    let uncertainty_mm = uncertainty.as_ref().map_or_else(
        || take(&mut taken, USUAL_UNCERTAINTY_MM, "a standard uncertainty of 0.03 mm (0.0012 in) for each size"),
        mm,
    );
    let tips_mm = tips.as_ref().map_or_else(
        || take(&mut taken, USUAL_TIP_WEAR_MM, "tips up to 0.05 in (1.27 mm) under (common practice, no source)"),
        mm,
    );
    let flanks_mm = flanks.as_ref().map_or_else(
        || {
            take(
                &mut taken,
                USUAL_FLANK_WEAR_MM,
                "teeth worn by up to 0.1 mm (0.004 in) beyond class 7 (own judgement)",
            )
        },
        mm,
    );
    let measured = |written: &WrittenLength| MeasuredSize { size_mm: mm(written), uncertainty_mm };
    let evidence = SplineEvidence {
        teeth: asked.teeth,
        major: major.as_ref().map(measured),
        over_pins: asked.over_pins.as_ref().zip(asked.pin.as_ref()).map(|(over, pin)| (measured(over), mm(pin))),
    };
    let found = identify(&evidence, SplineWear { tips_mm, flanks_mm }).map_err(|error| {
        let (argument, text) = match &error {
            SplineError::Teeth { .. } => ("--teeth", arguments.teeth.clone()),
            _ => ("--major-diameter", joined(&arguments.major_diameter)),
        };
        inputs.refuse(argument, &text.unwrap_or_default(), error.to_string(), "");
        inputs.take_refusals()
    })?;
    let written = major.as_ref().or(asked.over_pins.as_ref());
    let metric = written.is_some_and(|one| one.unit() == LengthUnit::Millimetre);
    Ok(Calculation {
        command: "spline",
        subject: "which standard spline the shaft was".to_owned(),
        leading: if metric { Leading::Millimetres } else { Leading::Inches },
        taken,
        blocks: vec![evidence_block(asked, major.as_ref()), candidate_block(&found)],
        cautions: &CAUTIONS[..1],
    })
}

fn evidence_block(asked: &Asked<'_>, major: Option<&WrittenLength>) -> Block {
    let mut block = Block::new("measured", "the readings as given");
    match asked.teeth {
        Some(teeth) => {
            block.one("teeth", Quantity::Number { value: f64::from(teeth), places: 0, unit: "" }, "");
        }
        None => block.words("teeth", "not counted", "counts of 6 to 100 were tried"),
    }
    if let Some(major) = major {
        block.size("major_diameter", major.value(), "over the tips");
    }
    if let (Some(over), Some(pin)) = (&asked.over_pins, &asked.pin) {
        block.size("size_over_pins", over.value(), "");
        block.size("pin", pin.value(), "");
    }
    block
}

fn candidate_block(found: &[SplineCandidate]) -> Block {
    let mut block = Block::new(
        "candidates",
        "diameters and tooth thickness of ANSI B92.1, ISO 4156 and DIN 5480, held against the readings with room for wear",
    );
    if found.is_empty() {
        block.words("first", "none", "no spline of these standards is within three standard uncertainties");
    }
    for (place, candidate) in PLACES.into_iter().zip(found) {
        block.words(place, candidate.spline.to_string(), standing(candidate.misfit));
        block.size(
            format!("{place}_major_diameter"),
            standard_major(&candidate.spline),
            "of the standard, the largest",
        );
        let deviation = |mm: f64| Quantity::Deviation(millimetres(mm));
        if let Some(under_mm) = candidate.tips_under_mm {
            block.one(format!("{place}_tips_under"), deviation(under_mm), "measured under the standard");
        }
        if let Some(thinner_mm) = candidate.thinner_mm {
            block.one(
                format!("{place}_teeth_thinner"),
                deviation(thinner_mm),
                "under the largest effective thickness: tolerance and wear together",
            );
        }
        block.one(format!("{place}_misfit"), Quantity::ratio(candidate.misfit, 2), "in standard uncertainties");
    }
    if found.len() > PLACES.len() {
        block.note(format!("{} more are within three standard uncertainties", found.len() - PLACES.len()));
    }
    if found.iter().filter(|one| one.misfit == 0.0).count() > 1 {
        block.note(
            "several are within what wear explains: the order among them says little, and one more size would help",
        );
    }
    block.note("flat or fillet root cannot be told by these sizes");
    block
}

fn standing(misfit: f64) -> String {
    if misfit == 0.0 {
        "within what wear explains".to_owned()
    } else {
        "somewhat outside of what wear explains".to_owned()
    }
}

fn standard_major(spline: &StandardSpline) -> Length {
    match spline {
        StandardSpline::Inch(spline) => inches(spline.external().major_in),
        StandardSpline::Iso4156(spline) => millimetres(spline.major_external_mm(ToothDeviation::H)),
        StandardSpline::Din5480(spline) => millimetres(spline.tip_external_mm()),
    }
}
