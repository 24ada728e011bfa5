//! Every calculation, as forms need it: what it is for, its arguments in groups, and how it is computed from what was filled in.

use catalog::Catalog;
use clap::{ArgMatches, Args, Command, FromArgMatches};

use super::bearing::{self, BearingArguments};
use super::bolt_circle::{self, BoltCircleArguments};
use super::fit::{self, FitArguments};
use super::spline::{self, SplineArguments};
use super::stud::{self, StudArguments};
use super::{Calculation, Refusals};

/// Computes from what the command line's parser has matched; the inner result is that of the calculation.
type FromMatches = fn(&ArgMatches, &Catalog) -> Result<Result<Calculation, Refusals>, clap::Error>;

/// A calculation as a form.
pub struct Calculator {
    /// Its name in addresses, with underscores for spaces.
    pub key: &'static str,
    /// Its title.
    pub title: &'static str,
    /// What it is for, in a sentence or two.
    pub purpose: &'static str,
    /// The subcommand of the command line that computes the same.
    pub subcommand: &'static str,
    /// The fields, in the order in which they are filled in.
    pub groups: &'static [Group],
    /// A switch of the command line that this form always sets.
    pub always: Option<&'static str>,
    pub(crate) examples: &'static str,
    pub(crate) command: fn() -> Command,
    pub(crate) from_matches: FromMatches,
}

/// Fields that are filled in together.
pub struct Group {
    /// Its heading.
    pub title: &'static str,
    /// The arguments by their names, with underscores.
    pub fields: &'static [&'static str],
}

/// Every calculation, in the order in which a shop meets them.
pub static CALCULATORS: [Calculator; 6] = [
    Calculator {
        key: "spline",
        title: "Involute spline",
        purpose: "Every diameter, tooth thickness, space width and size over pins of a spline to ANSI B92.1, ISO 4156 or \
                  DIN 5480, with the limits of its class; and what a measured size over pins says of the tooth.",
        subcommand: "spline",
        groups: &[
            Group { title: "Any spline", fields: &["teeth", "angle", "root", "class"] },
            Group { title: "Inch spline, ANSI B92.1", fields: &["pitch", "fit"] },
            Group {
                title: "Metric spline, ISO 4156 and DIN 5480",
                fields: &["module", "reference_diameter", "deviation", "length"],
            },
            Group { title: "Pins and what was measured", fields: &["pin", "hub_pin", "over_pins", "between_pins"] },
            UNIT,
        ],
        always: None,
        examples: spline::EXAMPLES,
        command: command::<SplineArguments>,
        from_matches: |matches, _| Ok(spline::compute(&SplineArguments::from_arg_matches(matches)?)),
    },
    Calculator {
        key: "spline_identification",
        title: "Which spline was it",
        purpose: "The standard splines that a worn shaft may have been, from its count of teeth, its size over the tips and \
                  its size over two pins, with how well each explains them.",
        subcommand: "spline",
        groups: &[
            Group { title: "What was measured", fields: &["teeth", "major_diameter", "over_pins", "pin"] },
            Group { title: "How far it may be off", fields: &["uncertainty", "tip_wear", "flank_wear"] },
            UNIT,
        ],
        always: Some("identify"),
        examples: spline::EXAMPLES,
        command: command::<SplineArguments>,
        from_matches: |matches, _| Ok(spline::compute(&SplineArguments::from_arg_matches(matches)?)),
    },
    Calculator {
        key: "fit",
        title: "Fit and press fit",
        purpose: "Limits of ISO tolerance zones, the kind of fit they make, and what a press fit does: pressure, stress, the \
                  force to press it on, the force that holds, and how far to heat the ring.",
        subcommand: "fit",
        groups: &[
            Group { title: "Size and zones", fields: &["size", "interference"] },
            Group { title: "Press fit", fields: &["hub_outside", "length", "bore", "friction", "finish"] },
            Group { title: "Steel", fields: &["modulus", "hub_modulus", "poisson", "hub_poisson"] },
            Group { title: "Heating", fields: &["assembly_clearance"] },
            UNIT,
        ],
        always: None,
        examples: fit::EXAMPLES,
        command: command::<FitArguments>,
        from_matches: |matches, _| Ok(fit::compute(&FitArguments::from_arg_matches(matches)?)),
    },
    Calculator {
        key: "bolt_circle",
        title: "Bolt circle",
        purpose: "The diameter of a bolt circle from chords between hole centres or from the edges of holes, how uncertain it \
                  is, and whether several readings agree.",
        subcommand: "bolt-circle",
        groups: &[
            Group { title: "Holes", fields: &["holes", "hole"] },
            Group { title: "Centre to centre", fields: &["adjacent", "alternate", "opposite"] },
            Group { title: "By the edges", fields: &["edge_gap", "edge_span", "edges_of"] },
            Group { title: "How it was measured", fields: &["instrument", "uncertainty"] },
            UNIT,
        ],
        always: None,
        examples: bolt_circle::EXAMPLES,
        command: command::<BoltCircleArguments>,
        from_matches: |matches, catalog| {
            Ok(bolt_circle::compute(&BoltCircleArguments::from_arg_matches(matches)?, catalog))
        },
    },
    Calculator {
        key: "bearing",
        title: "Bearing life",
        purpose: "Rating life, static safety and the rating needed for a distance, for a ball or tapered bearing by its ratings \
                  or out of the catalog; and what pressing on leaves of its clearance.",
        subcommand: "bearing",
        groups: &[
            Group { title: "A bearing of the catalog", fields: &["bearing", "bore"] },
            Group { title: "Which kind, either way", fields: &["kind"] },
            Group { title: "Or its ratings", fields: &["dynamic", "static_rating", "f0", "e", "y", "y0"] },
            Group { title: "Load", fields: &["radial", "axial", "other_radial"] },
            Group { title: "Life", fields: &["speed", "tyre_radius", "distance", "reliability", "edition"] },
            UNIT,
        ],
        always: None,
        examples: bearing::EXAMPLES,
        command: command::<BearingArguments>,
        from_matches: |matches, catalog| Ok(bearing::compute(&BearingArguments::from_arg_matches(matches)?, catalog)),
    },
    Calculator {
        key: "stud",
        title: "Wheel stud",
        purpose: "Strength, tightening torque and clamp of a wheel stud, the torque at which the wheel would slip, the hole for \
                  its knurl, and its length under the head.",
        subcommand: "stud",
        groups: &[
            Group { title: "Stud", fields: &["thread", "grade", "proof", "knurl"] },
            Group { title: "Tightening", fields: &["share", "clamp", "nut_factor", "scatter"] },
            Group { title: "Wheel joint", fields: &["studs", "circle", "friction"] },
            Group { title: "Length under the head", fields: &["flange", "drum", "wheel", "nut"] },
            UNIT,
        ],
        always: None,
        examples: stud::EXAMPLES,
        command: command::<StudArguments>,
        from_matches: |matches, catalog| Ok(stud::compute(&StudArguments::from_arg_matches(matches)?, catalog)),
    },
];

const UNIT: Group = Group { title: "Lengths written without a unit", fields: &["unit"] };

fn command<A: Args>() -> Command {
    A::augment_args(Command::new("calculation")).no_binary_name(true).disable_help_flag(true)
}

/// The calculation of that key.
#[must_use]
pub fn calculator(key: &str) -> Option<&'static Calculator> {
    CALCULATORS.iter().find(|calculator| calculator.key == key)
}
