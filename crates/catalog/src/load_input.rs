//! What a proof of strength needs to know beside the shaft: the inputs of the load cases, and what they are taken to be where
//! a sheet does not say.

use placed::Item;
use quantity::{
    Leading, LengthExt, LengthUnit, LoadKind, both_load, both_to, millimetres, read_length, read_written_load,
};

use crate::Catalog;
use crate::provenance::Source;

/// What a vehicle is used for, as far as its loads go.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
#[expect(missing_docs, reason = "each variant says what its name says")]
pub enum LoadUse {
    Street,
    Tow,
    OffRoad,
    Competition,
}

/// Every use with the word for it.
pub const LOAD_USES: [(LoadUse, &str); 4] = [
    (LoadUse::Street, "street"),
    (LoadUse::Tow, "tow"),
    (LoadUse::OffRoad, "off-road"),
    (LoadUse::Competition, "competition"),
];

/// How the value of an input is written, and the unit that it is held in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LoadMeasure {
    /// A mass; held in kg.
    Mass,
    /// A torque; held in N·m.
    Torque,
    /// A distance driven; held in km.
    Distance,
    /// A stress; held in MPa, and written with its unit or as a plain number of MPa.
    Stress,
    /// A length; held in mm.
    Length,
    /// A length with its sign; held in mm.
    SignedLength,
    /// A plain number.
    Number,
}

impl LoadMeasure {
    /// The kind of load that it is; none for lengths and plain numbers.
    #[must_use]
    pub fn load_kind(self) -> Option<LoadKind> {
        match self {
            Self::Mass => Some(LoadKind::Mass),
            Self::Torque => Some(LoadKind::Torque),
            Self::Distance => Some(LoadKind::Distance),
            Self::Stress => Some(LoadKind::Stress),
            Self::Length | Self::SignedLength | Self::Number => None,
        }
    }
}

/// One input of the load cases.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
#[expect(missing_docs, reason = "`LoadInput::words` says what each one is")]
pub enum LoadInput {
    AxleLoad,
    Mass,
    Wheelbase,
    CentreHeight,
    Track,
    TyreRadius,
    Grip,
    WheelOffset,
    EngineTorque,
    FirstGear,
    FinalDrive,
    Converter,
    Efficiency,
    ImpactFactor,
    TongueLoad,
    Distance,
    Launches,
    Corners,
    Bumps,
    UsualCorner,
    BodyDiameter,
    FlangeFillet,
    ShoulderFillet,
    CaseDepth,
    SplineCaseDepth,
    RingInterference,
    RingFriction,
    RingWall,
    RingWidth,
    StudProof,
    StudShare,
    JointFriction,
    HubOutside,
}

/// What is fixed about an input.
struct Spec {
    input: LoadInput,
    section: &'static str,
    key: &'static str,
    measure: LoadMeasure,
    least: f64,
    most: f64,
    words: &'static str,
}

const fn spec(
    input: LoadInput,
    (section, key): (&'static str, &'static str),
    measure: LoadMeasure,
    (least, most): (f64, f64),
    words: &'static str,
) -> Spec {
    Spec { input, section, key, measure, least, most, words }
}

/// One row for each input, in the order of the variants. The ranges keep out what cannot be, not what is odd: common
/// practice, no source.
const SPECS: [Spec; 33] = {
    use LoadInput as I;
    use LoadMeasure as M;
    [
        spec(I::AxleLoad, ("vehicle", "axle_load"), M::Mass, (50.0, 5000.0), "load on the axle at rest"),
        spec(I::Mass, ("vehicle", "mass"), M::Mass, (200.0, 12000.0), "mass of the vehicle"),
        spec(I::Wheelbase, ("vehicle", "wheelbase"), M::Length, (1000.0, 8000.0), "wheelbase"),
        spec(
            I::CentreHeight,
            ("vehicle", "centre_of_gravity_height"),
            M::Length,
            (100.0, 2500.0),
            "height of the centre of gravity",
        ),
        spec(I::Track, ("vehicle", "track"), M::Length, (600.0, 3000.0), "track"),
        spec(I::TyreRadius, ("vehicle", "tyre_radius"), M::Length, (150.0, 800.0), "radius of the tyre under load"),
        spec(I::Grip, ("vehicle", "grip"), M::Number, (0.1, 3.0), "grip of the tyres"),
        spec(
            I::WheelOffset,
            ("vehicle", "wheel_offset"),
            M::SignedLength,
            (-200.0, 200.0),
            "middle of the tyre outboard of the wheel face",
        ),
        spec(I::EngineTorque, ("vehicle", "engine_torque"), M::Torque, (10.0, 5000.0), "engine torque"),
        spec(
            I::FirstGear,
            ("vehicle", "first_gear"),
            M::Number,
            (0.5, 20.0),
            "ratio of the first gear, with any low range",
        ),
        spec(I::FinalDrive, ("vehicle", "final_drive"), M::Number, (1.0, 12.0), "final drive ratio"),
        spec(I::Converter, ("vehicle", "converter"), M::Number, (1.0, 4.0), "torque ratio of the converter"),
        spec(I::Efficiency, ("vehicle", "efficiency"), M::Number, (0.5, 1.0), "efficiency of the driveline"),
        spec(I::ImpactFactor, ("vehicle", "impact_factor"), M::Number, (1.0, 5.0), "impact factor of kerbs and bumps"),
        spec(I::TongueLoad, ("vehicle", "tongue_load"), M::Mass, (0.0, 2000.0), "load of a trailer on the axle"),
        spec(I::Distance, ("life", "distance"), M::Distance, (10.0, 2000000.0), "distance in the life of the shaft"),
        spec(I::Launches, ("life", "launches"), M::Number, (0.0, 1.0), "share of the distance in full launches"),
        spec(I::Corners, ("life", "corners"), M::Number, (0.0, 1.0), "share of the distance in corners"),
        spec(I::Bumps, ("life", "bumps"), M::Number, (0.0, 1.0), "share of the distance over kerbs and bumps"),
        spec(
            I::UsualCorner,
            ("life", "usual_corner"),
            M::Number,
            (0.0, 3.0),
            "lateral acceleration of a usual corner over gravity",
        ),
        spec(I::BodyDiameter, ("shaft", "body_diameter"), M::Length, (10.0, 100.0), "diameter of the body"),
        spec(I::FlangeFillet, ("shaft", "flange_fillet"), M::Length, (0.5, 40.0), "fillet radius at the flange"),
        spec(
            I::ShoulderFillet,
            ("shaft", "shoulder_fillet"),
            M::Length,
            (0.3, 20.0),
            "fillet radius at the bearing shoulder",
        ),
        spec(I::CaseDepth, ("steel", "case_depth"), M::Length, (0.1, 30.0), "depth of the hard case in the body"),
        spec(
            I::SplineCaseDepth,
            ("steel", "spline_case_depth"),
            M::Length,
            (0.1, 30.0),
            "depth of the hard case under the spline root",
        ),
        spec(
            I::RingInterference,
            ("lock_ring", "interference"),
            M::Length,
            (0.001, 1.0),
            "interference of the lock ring on its seat",
        ),
        spec(
            I::RingFriction,
            ("lock_ring", "friction"),
            M::Number,
            (0.01, 1.0),
            "friction of the lock ring on its seat",
        ),
        spec(I::RingWall, ("lock_ring", "wall"), M::Length, (1.0, 30.0), "wall of the lock ring"),
        spec(I::RingWidth, ("lock_ring", "width"), M::Length, (2.0, 60.0), "width of the lock ring"),
        spec(I::StudProof, ("stud", "proof_stress"), M::Stress, (100.0, 2000.0), "proof stress of the studs"),
        spec(
            I::StudShare,
            ("stud", "preload_share"),
            M::Number,
            (0.1, 1.0),
            "preload of the studs over their proof load",
        ),
        spec(
            I::JointFriction,
            ("stud", "joint_friction"),
            M::Number,
            (0.02, 0.8),
            "friction between wheel and drum or rotor",
        ),
        spec(
            I::HubOutside,
            ("spline", "hub_outside"),
            M::Length,
            (15.0, 200.0),
            "outside diameter of the side gear's hub around the spline",
        ),
    ]
};

impl LoadInput {
    /// Every input, in the order of the sheet.
    pub fn all() -> impl Iterator<Item = Self> {
        SPECS.iter().map(|spec| spec.input)
    }

    fn spec(self) -> &'static Spec {
        // The rows stand in the order of the variants; a test holds them to it.
        &SPECS[self as usize]
    }

    /// The section of a sheet that states it.
    #[must_use]
    pub fn section(self) -> &'static str {
        self.spec().section
    }

    /// Its key, in a sheet and in `loads.toml`.
    #[must_use]
    pub fn key(self) -> &'static str {
        self.spec().key
    }

    /// What it is, in words.
    #[must_use]
    pub fn words(self) -> &'static str {
        self.spec().words
    }

    /// How it is written.
    #[must_use]
    pub fn measure(self) -> LoadMeasure {
        self.spec().measure
    }

    /// Smallest and largest value that is accepted, in the unit that it is held in.
    #[must_use]
    pub fn accepted(self) -> (f64, f64) {
        (self.spec().least, self.spec().most)
    }

    /// A value in words, in both systems of units.
    ///
    /// ```
    /// use catalog::LoadInput;
    /// use quantity::Leading;
    /// assert_eq!(LoadInput::AxleLoad.text(816.466, Leading::Millimetres), "816 kg (1800 lb)");
    /// assert_eq!(LoadInput::StudProof.text(830.0, Leading::Inches), "120.4 ksi (830 MPa)");
    /// assert_eq!(LoadInput::Grip.text(0.9, Leading::Inches), "0.9");
    /// ```
    #[must_use]
    pub fn text(self, value: f64, leading: Leading) -> String {
        let short = |number: f64| {
            let text = format!("{number:.4}");
            text.trim_end_matches('0').trim_end_matches('.').to_owned()
        };
        if let Some(kind) = self.measure().load_kind() {
            return both_load(value, kind, leading);
        }
        if self.measure() == LoadMeasure::Number {
            return short(value);
        }
        let decimals = if value.abs() < 1.0 { 3 } else { 1 };
        both_to(millimetres(value), leading, decimals + 1, decimals)
    }

    /// Reads a value in the unit that the input is held in. A length without a unit is in `unit`, where there is one.
    ///
    /// Every fault is recorded at its place: a value of another kind, an unknown or missing unit, a value outside the
    /// accepted range.
    #[must_use]
    pub fn read(self, item: &Item<'_>, unit: Option<LengthUnit>) -> Option<f64> {
        let value = match self.measure() {
            LoadMeasure::Mass => item.load(LoadKind::Mass)?,
            LoadMeasure::Torque => item.load(LoadKind::Torque)?,
            LoadMeasure::Distance => item.load(LoadKind::Distance)?,
            LoadMeasure::Stress if item.is_text() => item.load(LoadKind::Stress)?,
            LoadMeasure::Stress => item.number()?,
            LoadMeasure::Length => item.length(unit)?.value().millimetres(),
            LoadMeasure::SignedLength => signed_length(item, unit)?,
            LoadMeasure::Number => item.number()?,
        };
        let (least, most) = self.accepted();
        if (least..=most).contains(&value) {
            return Some(value);
        }
        let leading = self.leading_of(item, unit);
        item.fault(
            format!("the {} cannot be {}", self.words(), self.text(value, leading)),
            format!("{} to {}", self.text(least, leading), self.text(most, leading)),
        );
        None
    }

    /// The system that a value is written in; that of `unit` where the value does not say, and else the metric one.
    fn leading_of(self, item: &Item<'_>, unit: Option<LengthUnit>) -> Leading {
        let text = if item.is_text() { item.text() } else { None };
        let bare = text.unwrap_or_default().trim_start_matches(['+', '-', '−']);
        let written = match self.measure().load_kind() {
            Some(kind) => read_written_load(bare, kind).ok().map(|(_, system)| system),
            None => read_length(bare, unit).ok().map(|written| system_of(written.unit())),
        };
        written.or(unit.map(system_of)).unwrap_or(Leading::Millimetres)
    }
}

fn system_of(unit: LengthUnit) -> Leading {
    if unit.is_metric() { Leading::Millimetres } else { Leading::Inches }
}

/// A length that may stand behind one sign.
fn signed_length(item: &Item<'_>, unit: Option<LengthUnit>) -> Option<f64> {
    if !item.is_text() {
        return item.length(unit).map(|written| written.value().millimetres());
    }
    let text = item.text()?;
    let bare = text.strip_prefix(['+', '-', '−']).unwrap_or(text);
    let before = text.len() - bare.len();
    match read_length(bare, unit) {
        Ok(written) => {
            let size = written.value().millimetres();
            Some(if text.starts_with(['-', '−']) { -size } else { size })
        }
        Err(error) => {
            let at = error.range();
            item.fault_within(at.start + before..at.end + before, error.to_string(), error.accepted());
            None
        }
    }
}

/// What an input is taken to be where a sheet does not state it, one row of `loads.toml`.
#[derive(Debug, Clone)]
pub struct LoadBound {
    /// The use that the row is for; none where it is for every use.
    pub use_: Option<LoadUse>,
    /// The input.
    pub input: LoadInput,
    /// The value that asks least of the shaft, among those that are usual.
    pub mild: f64,
    /// The value that asks most of it.
    pub harsh: f64,
    /// Where the row comes from.
    pub source: Source,
}

impl Catalog {
    /// What an input is taken to be for a use: the row of that use, or else the one for every use.
    ///
    /// ```
    /// use catalog::{Catalog, LoadInput, LoadUse};
    /// let catalog = Catalog::shipped()?;
    /// let grip = catalog.load_bound(LoadUse::Street, LoadInput::Grip).unwrap();
    /// assert!(grip.mild < grip.harsh);
    /// assert!(catalog.load_bound(LoadUse::Street, LoadInput::TongueLoad).is_none());
    /// # Ok::<(), placed::Faults>(())
    /// ```
    #[must_use]
    pub fn load_bound(&self, use_: LoadUse, input: LoadInput) -> Option<&LoadBound> {
        let of = |wanted: Option<LoadUse>| self.loads.iter().find(|row| row.input == input && row.use_ == wanted);
        of(Some(use_)).or_else(|| of(None))
    }
}

#[cfg(test)]
mod tests {
    use super::{LoadInput, SPECS};

    #[test]
    fn every_input_finds_its_own_row_and_has_a_key_of_its_own() {
        let mut keys: Vec<&str> = Vec::new();
        for (place, spec) in SPECS.iter().enumerate() {
            assert_eq!(spec.input as usize, place, "{:?}", spec.input);
            assert!(spec.least < spec.most, "{:?}", spec.input);
            keys.push(spec.key);
        }
        let count = keys.len();
        keys.sort_unstable();
        keys.dedup();
        assert_eq!(keys.len(), count);
        assert_eq!(LoadInput::all().count(), count);
    }
}
