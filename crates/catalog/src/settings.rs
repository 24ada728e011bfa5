//! The shop's own decisions: clearances, tolerances, losses and thresholds, from `catalog/settings.toml`.

use quantity::Length;

use crate::provenance::Source;

/// A smallest and a largest permitted size.
#[derive(Debug, Clone, PartialEq)]
pub struct Window {
    /// Smallest permitted size.
    pub least: Length,
    /// Largest permitted size.
    pub most: Length,
    /// Where the window comes from.
    pub source: Source,
}

/// The clearances of the fit conditions.
#[derive(Debug, Clone)]
pub struct Clearances {
    /// Inner end of the shaft to the cross pin or block; the upper end only guides, the spline's engagement limits it.
    pub end_to_pin: Window,
    /// Engagement of the spline, as a multiple of its major diameter: the least.
    pub engagement_ratio: f64,
    /// By how much the brake offset of the new shaft may differ from the one wanted (`least` negative).
    pub brake_offset: Window,
    /// Drum bore minus register, on diameter.
    pub register_in_drum: Window,
    /// Rotor bore minus register, on diameter.
    pub register_in_rotor: Window,
    /// Wheel bore minus wheel pilot, on diameter.
    pub pilot_in_wheel: Window,
    /// Inside of drum or rotor hat minus flange, on diameter: the least.
    pub flange_in_drum: Length,
    /// Circle diameter against the one wanted (`least` negative).
    pub bolt_circle: Window,
    /// Thickness trapped under the retainer minus how far the outer ring stands proud: ball unit.
    pub retainer_ball: Window,
    /// The same for a tapered unit.
    pub retainer_tapered: Window,
    /// Least material between a stud hole and the edge of the flange.
    pub hole_to_edge: Length,
    /// Where the values come from that are no windows and so have no source of their own.
    pub source: Source,
}

/// Limits that the shop holds when it makes a shaft (half widths: the size is made within ± this).
#[derive(Debug, Clone)]
pub struct ShopTolerances {
    /// Overall length.
    pub overall_length: Length,
    /// Shoulder distance.
    pub shoulder_distance: Length,
    /// Register and wheel pilot diameters.
    pub register_diameter: Length,
    /// Ground seats: ring seat and seal journal.
    pub seat_diameter: Length,
    /// Flange diameter and thickness, and other sizes that nothing fits against.
    pub free_size: Length,
    /// Hole position, as a diameter of the zone.
    pub hole_position: Length,
    /// Where they come from.
    pub source: Source,
}

/// What a wrong size costs, in units of one scrapped shaft.
#[derive(Debug, Clone)]
pub struct Losses {
    /// The shaft cannot be saved.
    pub scrap: f64,
    /// It can be recut.
    pub rework: f64,
    /// It works, but not as it should.
    pub nuisance: f64,
    /// It is cut long on purpose and trimmed at fitting.
    pub trim: f64,
    /// A minute of the time of the one who is asked to measure.
    pub minute: f64,
    /// Where they come from.
    pub source: Source,
}

/// When the desk may cut.
#[derive(Debug, Clone)]
pub struct Thresholds {
    /// The least fit probability for `cut`.
    pub cut_at: f64,
    /// The least probability at which a part counts as identified.
    pub identified_at: f64,
    /// The probability from which a reading is called mistaken.
    pub blame_at: f64,
    /// The least redundancy number (0 to 1) at which a reading counts as checked by the others.
    pub checked_at: f64,
    /// Level of significance of the classical tests.
    pub significance: f64,
    /// How many questions are shown.
    pub questions_shown: usize,
    /// Where they come from.
    pub source: Source,
}

/// Sizes of brake parts that get measured along by mistake, when the sheet does not give them.
#[derive(Debug, Clone)]
pub struct StrayThicknesses {
    /// Web of a drum or rotor hat.
    pub drum_web: crate::parts::Spread,
    /// Brake plate.
    pub brake_plate: crate::parts::Spread,
    /// Caliper bracket.
    pub caliper_bracket: crate::parts::Spread,
    /// Width of the lock ring.
    pub lock_ring: crate::parts::Spread,
    /// Fillet radius at the bearing shoulder.
    pub shoulder_fillet: crate::parts::Spread,
    /// By how much the ring seat stays under the journal.
    pub ring_seat_step: crate::parts::Spread,
    /// By how much the seal journal stays under the ring seat.
    pub seal_journal_step: crate::parts::Spread,
    /// Half of the difference of the half widths.
    pub pinion_offset: crate::parts::Spread,
    /// By how much one side of an old axle differs from the other in a size that should be alike.
    pub side_to_side: Length,
    /// Where they come from.
    pub source: Source,
}

/// A multiple of what the instruments' rows say, by which all readings of a sheet may scatter.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scatter {
    /// The multiple of every standard uncertainty.
    pub multiple: f64,
    /// The share of sheets that are so.
    pub share: f64,
}

/// What is believed before any evidence: how far claims are trusted and how closely parts keep to their rows.
#[derive(Debug, Clone)]
pub struct Beliefs {
    /// How often a part that a sheet claims by name or kind is the one that is there.
    pub claim_right: f64,
    /// How often a part is in no row of the catalog.
    pub unlisted_part: f64,
    /// Race offset of a bearing that is in no row.
    pub unlisted_race_offset: crate::parts::Spread,
    /// Interference of a bearing that is in no row on its journal, on diameter.
    pub unlisted_interference: crate::parts::Spread,
    /// Standard deviation of a bearing's bore and outside from its row.
    pub ring_deviation: Length,
    /// Standard deviation of a housing end's bearing bore from its row.
    pub housing_bore_deviation: Length,
    /// Standard deviation of the sides of a bolt rectangle from its row.
    pub hole_pattern_deviation: Length,
    /// Standard deviation of a bolt hole's diameter from its row.
    pub bolt_hole_deviation: Length,
    /// Standard deviation of a bolt circle from its row.
    pub bolt_circle_deviation: Length,
    /// Standard deviation of a brake's bore and inside from its row.
    pub brake_deviation: Length,
    /// By how much the teeth of a real spline are thinner than nominal, by tolerance and wear.
    pub tooth_thinning: crate::parts::Spread,
    /// By how much a set-up suffers when the reading is taken through the access hole of the flange.
    pub access_hole_factor: f64,
    /// Which share of the variance of an instrument's limit of error all readings of one hand with it have in common (0 to 1).
    pub same_hand_share: f64,
    /// How much larger than the instruments' rows the errors of a whole sheet may be, by ascending multiple; the shares sum to
    /// one.
    pub scatter: Vec<Scatter>,
    /// A choice of parts is not weighed in full where the readings of the parts alone make it this many times less likely
    /// than the best.
    pub implausible_below: f64,
    /// Where they come from.
    pub source: Source,
}

/// A number of the proof with its source.
#[derive(Debug, Clone, PartialEq)]
pub struct ProofNumber {
    /// The number.
    pub value: f64,
    /// Where it comes from.
    pub source: Source,
}

/// What a proof of strength goes by: the least safeties, and what the shop makes its shafts of.
#[derive(Debug, Clone)]
pub struct Proof {
    /// Least safety of the shaft against yielding.
    pub yield_safety: ProofNumber,
    /// Least safety of the shaft against fatigue.
    pub fatigue_safety: ProofNumber,
    /// Least holding force of the lock ring over the side load of a corner at 1 g.
    pub lock_ring: ProofNumber,
    /// Least static safety of the bearing.
    pub bearing_static: ProofNumber,
    /// Least life of the bearing over the life of the shaft.
    pub bearing_life: ProofNumber,
    /// Least allowable stress over stress of the spline.
    pub spline_safety: ProofNumber,
    /// Least slip torque of the wheel joint over the worst torque at the wheel.
    pub stud_safety: ProofNumber,
    /// Fatigue notch factor of a ring pressed on a seat.
    pub press_fit_notch: ProofNumber,
    /// Fatigue notch factor of the roots of a spline, in torsion.
    pub spline_notch: ProofNumber,
    /// Metres over which one full launch lasts.
    pub launch_metres: ProofNumber,
    /// Hardness of an induction-hardened case, Rockwell C.
    pub case_hardness: ProofNumber,
    /// Grade of the steel that the shop uses where a sheet names none, a row of the steels.
    pub steel_grade: String,
    /// Its treatment.
    pub steel_treatment: String,
    /// Whether the shop hardens its shafts by induction where a sheet does not say.
    pub induction_hardened: bool,
    /// Where steel and hardening come from.
    pub source: Source,
}

/// How finished orders change the catalog, and how much the catalog counts against them.
#[derive(Debug, Clone)]
pub struct Learning {
    /// How many readings a rate of a mistake is worth: the weight of its beta distribution before any order.
    pub rates_are_worth: f64,
    /// How many readings the uncertainty of an instrument as a whole is worth: its degrees of freedom before any order.
    pub uncertainties_are_worth: f64,
    /// How many readings it is worth how repeatability and set-up stand to the instrument as a whole.
    pub parts_are_worth: f64,
    /// The probability that a credible interval holds.
    pub credible: f64,
    /// The relative change from which a learned value is written.
    pub written_from: f64,
    /// Where they come from.
    pub source: Source,
}

/// Everything in `settings.toml`.
#[derive(Debug, Clone)]
pub struct Settings {
    /// The clearances of the fit conditions.
    pub clearances: Clearances,
    /// Limits that the shop holds.
    pub tolerances: ShopTolerances,
    /// What a wrong size costs.
    pub losses: Losses,
    /// When the desk may cut.
    pub thresholds: Thresholds,
    /// Sizes of stray parts.
    pub stray: StrayThicknesses,
    /// What is believed before any evidence.
    pub beliefs: Beliefs,
    /// What a proof of strength goes by.
    pub proof: Proof,
    /// How finished orders change the catalog.
    pub learning: Learning,
}
