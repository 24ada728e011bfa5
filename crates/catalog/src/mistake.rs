//! The mistakes that people make when they measure, with their rates and sizes.
//!
//! Which reading a mistake can spoil and what the reading then means is geometry and lives in `axle`; how often it
//! happens and how large it is lives in `catalog/mistakes.toml`.

use quantity::Length;

use crate::measurand::Measurand;
use crate::provenance::Source;

/// A named way in which a reading can mean something else than it says.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[expect(missing_docs, reason = "each variant's meaning is its row in catalog/mistakes.toml")]
pub enum MistakeKind {
    // The wrong thing was measured.
    WrongFlangeFace,
    PilotCountedIn,
    DrumLeftOn,
    BrakePlateLeftOn,
    CaliperBracketLeftOn,
    RaceForShoulder,
    ShoulderForRace,
    FarFaceOfRing,
    LockRingFaceForShoulder,
    OffsetForRace,
    StraightedgeOnFillet,
    RingSeatForJournal,
    SealJournalForJournal,
    PilotForRegister,
    RegisterForPilot,
    EdgeForCentre,
    AdjacentChordForCircle,
    AlternateChordForCircle,
    AdjacentForAlternate,
    AlternateForAdjacent,
    CentreToFarEdgeForCircle,
    LeftRightSwapped,
    OneSideForOther,
    // It was measured badly.
    HookBent,
    TapeSlanted,
    TapeBowed,
    CaliperTilted,
    OddCountAcross,
    // The part was not clean or whole.
    RustOrPaint,
    WornSeat,
    OldPartWrong,
    // It was written down wrong.
    TickSlip,
    WholeInchSlip,
    ReadBackFromNextInch,
    BurntInch,
    CaseLengthLeftOut,
    DigitsSwapped,
    InchForMillimetre,
    MillimetreForInch,
    PointSlipped,
    Miscounted,
    HalfCountDoubled,
    // Nothing above explains it.
    Anything,
}

/// Every mistake with its key in `mistakes.toml`.
pub const MISTAKES: [(MistakeKind, &str); 43] = [
    (MistakeKind::WrongFlangeFace, "wrong_flange_face"),
    (MistakeKind::PilotCountedIn, "pilot_counted_in"),
    (MistakeKind::DrumLeftOn, "drum_left_on"),
    (MistakeKind::BrakePlateLeftOn, "brake_plate_left_on"),
    (MistakeKind::CaliperBracketLeftOn, "caliper_bracket_left_on"),
    (MistakeKind::RaceForShoulder, "race_for_shoulder"),
    (MistakeKind::ShoulderForRace, "shoulder_for_race"),
    (MistakeKind::FarFaceOfRing, "far_face_of_ring"),
    (MistakeKind::LockRingFaceForShoulder, "lock_ring_face_for_shoulder"),
    (MistakeKind::OffsetForRace, "offset_for_race"),
    (MistakeKind::StraightedgeOnFillet, "straightedge_on_fillet"),
    (MistakeKind::RingSeatForJournal, "ring_seat_for_journal"),
    (MistakeKind::SealJournalForJournal, "seal_journal_for_journal"),
    (MistakeKind::PilotForRegister, "pilot_for_register"),
    (MistakeKind::RegisterForPilot, "register_for_pilot"),
    (MistakeKind::EdgeForCentre, "edge_for_centre"),
    (MistakeKind::AdjacentChordForCircle, "adjacent_chord_for_circle"),
    (MistakeKind::AlternateChordForCircle, "alternate_chord_for_circle"),
    (MistakeKind::AdjacentForAlternate, "adjacent_for_alternate"),
    (MistakeKind::AlternateForAdjacent, "alternate_for_adjacent"),
    (MistakeKind::CentreToFarEdgeForCircle, "centre_to_far_edge_for_circle"),
    (MistakeKind::LeftRightSwapped, "left_right_swapped"),
    (MistakeKind::OneSideForOther, "one_side_for_other"),
    (MistakeKind::HookBent, "hook_bent"),
    (MistakeKind::TapeSlanted, "tape_slanted"),
    (MistakeKind::TapeBowed, "tape_bowed"),
    (MistakeKind::CaliperTilted, "caliper_tilted"),
    (MistakeKind::OddCountAcross, "odd_count_across"),
    (MistakeKind::RustOrPaint, "rust_or_paint"),
    (MistakeKind::WornSeat, "worn_seat"),
    (MistakeKind::OldPartWrong, "old_part_wrong"),
    (MistakeKind::TickSlip, "tick_slip"),
    (MistakeKind::WholeInchSlip, "whole_inch_slip"),
    (MistakeKind::ReadBackFromNextInch, "read_back_from_next_inch"),
    (MistakeKind::BurntInch, "burnt_inch"),
    (MistakeKind::CaseLengthLeftOut, "case_length_left_out"),
    (MistakeKind::DigitsSwapped, "digits_swapped"),
    (MistakeKind::InchForMillimetre, "inch_for_millimetre"),
    (MistakeKind::MillimetreForInch, "millimetre_for_inch"),
    (MistakeKind::PointSlipped, "point_slipped"),
    (MistakeKind::Miscounted, "miscounted"),
    (MistakeKind::HalfCountDoubled, "half_count_doubled"),
    (MistakeKind::Anything, "anything"),
];

// The order of the list is that of the variants, so that a mistake's place in it is its discriminant.
const _: () = {
    let mut at = 0;
    while at < MISTAKES.len() {
        assert!(MISTAKES[at].0 as usize == at);
        at += 1;
    }
    assert!(MISTAKES.len() == MistakeKind::Anything as usize + 1);
};

impl MistakeKind {
    /// Its place in [`MISTAKES`], and in the list of a catalog.
    #[must_use]
    pub const fn index(self) -> usize {
        self as usize
    }

    /// The key of the row in `mistakes.toml`.
    #[must_use]
    pub fn key(self) -> &'static str {
        MISTAKES.iter().find(|(kind, _)| *kind == self).map_or("", |(_, key)| key)
    }

    /// The mistake of that key.
    #[must_use]
    pub fn from_key(key: &str) -> Option<Self> {
        MISTAKES.iter().find(|(_, candidate)| *candidate == key).map(|(kind, _)| *kind)
    }
}

/// A state of the parts or of the measuring that a reading can be marked with.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[expect(missing_docs, reason = "each variant says what its name says")]
pub enum Condition {
    BrakesOn,
    BearingOff,
    DrumOn,
    BracketOn,
    Rusty,
    Painted,
    Worn,
    ThroughAccessHole,
}

/// Every condition with the phrase that a sheet uses.
pub const CONDITIONS: [(Condition, &str); 8] = [
    (Condition::BrakesOn, "brakes on"),
    (Condition::BearingOff, "bearing off"),
    (Condition::DrumOn, "drum on"),
    (Condition::BracketOn, "caliper bracket on"),
    (Condition::Rusty, "rusty"),
    (Condition::Painted, "painted"),
    (Condition::Worn, "worn"),
    (Condition::ThroughAccessHole, "through the access hole"),
];

/// One row of `mistakes.toml`.
#[derive(Debug, Clone)]
pub struct MistakeRow {
    /// Which mistake the row describes.
    pub kind: MistakeKind,
    /// What happened, in plain words that end a sentence beginning "the reading was probably …".
    pub words: String,
    /// How often it spoils a reading that it can spoil (probability, 0 to 0.2).
    pub rate: f64,
    /// How often one person makes it in all readings that it can spoil, or on a whole sheet (probability, 0 to 0.2).
    pub together: f64,
    /// The rate for a reading marked with a condition, where that differs.
    pub rate_when: Vec<(Condition, f64)>,
    /// The measurands it can spoil. Empty where the geometry in `axle` says so by itself.
    pub spoils: Vec<Measurand>,
    /// Sizes for slips of fixed size, each with its share of the rate (the shares sum to one); the sign is part of it.
    pub sizes: Vec<(Length, f64)>,
    /// The standard deviation that the mistake adds to the reading beyond its usual uncertainty.
    pub spread: Length,
    /// Where rate and sizes come from.
    pub source: Source,
}

impl MistakeRow {
    /// The largest rate of a mistake. A reading that fails more often than one time in five is not worth taking.
    pub const LARGEST_RATE: f64 = 0.2;

    /// The rate for a reading with these conditions: the largest that applies.
    #[must_use]
    pub fn rate_under(&self, conditions: &[Condition]) -> f64 {
        self.rate_when
            .iter()
            .filter(|(condition, _)| conditions.contains(condition))
            .map(|(_, rate)| *rate)
            .fold(self.rate, f64::max)
    }
}
