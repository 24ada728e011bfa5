//! The shaft as a row of steps from its outboard end to its inboard end, for pictures and for solids.

use super::ShaftShape;

/// What a step is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
#[expect(missing_docs, reason = "each variant says what its name says")]
pub enum StepKind {
    WheelPilot,
    Register,
    Flange,
    Shoulder,
    Journal,
    RingSeat,
    SealJournal,
    Body,
    Spline,
}

/// One step: a cylinder, or a cone where its two diameters differ. Millimetres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Step {
    /// What it is.
    pub kind: StepKind,
    /// Where it begins, from the wheel face, inboard positive.
    pub from_mm: f64,
    /// Where it ends.
    pub to_mm: f64,
    /// Diameter where it begins.
    pub outer_mm: f64,
    /// Diameter where it ends.
    pub inner_mm: f64,
}

impl ShaftShape {
    /// The steps from the outboard end to the inboard end. Where a size is not known its stand-in is taken, and where sizes
    /// contradict each other the steps stay in order: no step is shorter than nothing.
    #[must_use]
    pub fn steps(&self) -> Vec<Step> {
        let journal = self.journal_diameter.drawn(38.0);
        let ring_seat = self.ring_seat_diameter.drawn(journal - 0.1);
        let seal_journal = self.seal_journal_diameter.drawn(ring_seat - 0.5);
        let major = self.spline_major_diameter.drawn(33.0);
        let thickness = self.flange_thickness.drawn(10.0).max(0.5);
        let shoulder_at = self.shoulder_distance.drawn(60.0).max(thickness + 1.0);
        let journal_end = self.journal_end.drawn(shoulder_at + 20.0).max(shoulder_at + 1.0);
        let ring_end = self.ring_seat_end.drawn(journal_end + 12.0).max(journal_end + 1.0);
        let seal_end = self.seal_journal_end.drawn(ring_end + 12.0).max(ring_end + 1.0);
        let spline_length = self.spline_length.drawn(1.5 * major).max(1.0);
        let length = self.overall_length.drawn(750.0).max(seal_end + spline_length + 1.0);
        let register_height = self.register_height.drawn(6.0).max(0.0);
        let pilot_height = self.wheel_pilot_height.drawn(14.0).max(register_height);
        let register = self.register_diameter.drawn(70.0);
        let pilot = self.wheel_pilot_diameter.drawn(65.0).min(register);
        let flange = self.flange_diameter.drawn(150.0).max(register);
        let step = |kind, from_mm, to_mm, outer_mm, inner_mm| Step { kind, from_mm, to_mm, outer_mm, inner_mm };
        let even = |kind, from_mm, to_mm, diameter| step(kind, from_mm, to_mm, diameter, diameter);
        let start = length - spline_length;
        vec![
            even(StepKind::WheelPilot, -pilot_height, -register_height, pilot),
            even(StepKind::Register, -register_height, 0.0, register),
            even(StepKind::Flange, 0.0, thickness, flange),
            even(StepKind::Shoulder, thickness, shoulder_at, self.shoulder_diameter.drawn(1.1 * journal)),
            even(StepKind::Journal, shoulder_at, journal_end, journal),
            even(StepKind::RingSeat, journal_end, ring_end, ring_seat),
            even(StepKind::SealJournal, ring_end, seal_end, seal_journal),
            step(StepKind::Body, seal_end, start, self.body_outer.drawn(major), self.body_inner.drawn(major)),
            even(StepKind::Spline, start, length, major),
        ]
    }
}
