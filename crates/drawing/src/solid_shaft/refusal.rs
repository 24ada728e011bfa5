//! Why a shaft cannot be made into a solid, and what would make it one.

use std::fmt::Write;

use solid::{PartError, StepError};
use thiserror::Error;

use crate::shape::{ShaftShape, Size};

/// A size that a solid cannot do without.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct MissingSize {
    /// Its name for programs: `overall_length`.
    pub name: &'static str,
    /// Its name for people: `overall length`.
    pub words: &'static str,
    /// What on the order sheet would give it.
    pub given_by: &'static str,
}

/// Why a shaft cannot be made into a solid.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum SolidRefusal {
    /// Sizes of the turned body are not known.
    #[error("a solid needs every size of the shaft, and nothing gives {listed}", listed = listed(sizes))]
    Missing {
        /// Those sizes, in their order along the shaft.
        sizes: Vec<MissingSize>,
    },
    /// Sizes that cannot be on one shaft.
    #[error(
        "the {what} of {value_mm:.3} mm contradicts the sizes beside it, which need {beside_mm:.3} mm there\n  accepted: a sheet \
         whose readings give sizes that follow each other along the shaft"
    )]
    Contradiction {
        /// The size, in words.
        what: &'static str,
        /// What it is.
        value_mm: f64,
        /// What the sizes beside it would need.
        beside_mm: f64,
    },
    /// A hole does not lie within the flange.
    #[error(
        "{what} reaches from a diameter of {inner_mm:.3} mm to {outer_mm:.3} mm about the axis\n  accepted: a hole and a circle \
         that stay between {core_mm:.3} mm, the register or the fillet of the flange, and {rim_mm:.3} mm, its rim"
    )]
    HoleLeavesFlange {
        /// Which hole.
        what: &'static str,
        /// Diameter that its edge towards the axis lies on.
        inner_mm: f64,
        /// Diameter that its edge towards the rim lies on.
        outer_mm: f64,
        /// The least diameter that is free for holes.
        core_mm: f64,
        /// Diameter of the flange.
        rim_mm: f64,
    },
    /// Teeth are wanted and not known.
    #[error(
        "the spline is in no series that is known, so it has no teeth to cut\n  accepted: readings of tooth_count and \
         spline_over_pins or spline_major_diameter, or the series in [spline]; or no teeth"
    )]
    NoToothData,
    /// The part is not sound for another reason.
    #[error("the sizes give no solid: {0}")]
    Part(#[from] PartError),
    /// The file cannot be written.
    #[error(transparent)]
    File(#[from] StepError),
}

fn listed(sizes: &[MissingSize]) -> String {
    let mut all = String::new();
    for (place, size) in sizes.iter().enumerate() {
        let before = match place {
            0 => "",
            _ if place + 1 == sizes.len() => " and ",
            _ => ", ",
        };
        // Writing to a string cannot fail.
        let _ = write!(all, "{before}the {}", size.words);
    }
    all.push_str("\n  accepted: ");
    let mut given: Vec<&str> = sizes.iter().map(|size| size.given_by).collect();
    given.dedup();
    all + &given.join("; ")
}

/// Refuses a shape of which a size of the turned body is not known.
pub(super) fn missing(shape: &ShaftShape) -> Result<(), SolidRefusal> {
    let needed: [(&Size, &'static str); 21] = [
        (&shape.wheel_pilot_diameter, "a reading of wheel_pilot_diameter or wheel_bore"),
        (&shape.wheel_pilot_height, "a reading of wheel_pilot_height"),
        (&shape.register_diameter, "a reading of register_diameter or drum_bore"),
        (&shape.register_height, "a reading of register_height"),
        (&shape.flange_diameter, "a reading of flange_diameter"),
        (&shape.flange_thickness, "a reading of flange_thickness"),
        (&shape.flange_fillet, "`flange_fillet` in [shaft]"),
        (&shape.shoulder_distance, "a reading of shoulder_distance or race_distance"),
        (&shape.shoulder_diameter, "a reading of journal_diameter, or the bearing's row"),
        (&shape.shoulder_fillet, "`shoulder_fillet` in [shaft]"),
        (&shape.journal_diameter, "a reading of journal_diameter, or the bearing's row"),
        (&shape.journal_end, "readings of shoulder_distance and bearing_inner_width, or the bearing's row"),
        (&shape.ring_seat_diameter, "a reading of ring_seat_diameter"),
        (&shape.ring_seat_end, "`width` in [lock_ring]"),
        (&shape.seal_journal_diameter, "a reading of seal_journal_diameter"),
        (&shape.seal_journal_end, "`width` in [lock_ring]"),
        (&shape.body_outer, "`body_diameter` in [shaft]"),
        (&shape.body_inner, "`body_diameter` in [shaft]"),
        (&shape.spline_start, "readings of overall_length and spline_major_diameter"),
        (
            &shape.spline_major_diameter,
            "a reading of spline_major_diameter, or of tooth_count with the series in [spline]",
        ),
        (&shape.overall_length, "a reading of overall_length on that side, or of reach with the brake offset"),
    ];
    let lacking = needed.into_iter().filter(|(size, _)| !size.is_known());
    let sizes: Vec<MissingSize> =
        lacking.map(|(size, given_by)| MissingSize { name: size.name, words: size.words, given_by }).collect();
    if sizes.is_empty() { Ok(()) } else { Err(SolidRefusal::Missing { sizes }) }
}
