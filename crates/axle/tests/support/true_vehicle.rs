//! A vehicle whose every size is known: what a perfect instrument would read on it.
//!
//! The sizes follow from a few true ones by the dimension chain, written out here once more and in other terms than in the
//! crate, so that the two can be held against each other. All lengths are inches.

use axle::Side;
use catalog::Measurand;
use elements::involute_spline::{InchSpline, Pitch, PressureAngle, RootForm, SplineFit};

/// The true sizes of one axle.
#[derive(Debug, Clone)]
pub struct TrueVehicle {
    pub shoulder_distance: f64,
    pub bearing: TrueBearing,
    pub bore_depth: f64,
    /// Half width of the housing on the left and on the right: housing-end face to differential centre.
    pub half_width: [f64; 2],
    pub half_pin: f64,
    /// Inner end of the old shaft to the cross pin, left and right.
    pub end_clearance: [f64; 2],
    /// From the cross pin to the outer end of the side gear's spline.
    pub gear_reach: f64,
    pub flange_thickness: f64,
    pub flange_diameter: f64,
    pub register: f64,
    pub register_height: f64,
    pub wheel_pilot: f64,
    pub wheel_pilot_height: f64,
    pub drum_bore: f64,
    pub drum_inside: f64,
    pub wheel_bore: f64,
    pub trapped: f64,
    pub ring_seat: f64,
    pub seal_journal: f64,
    pub housing_bore: f64,
    pub bolt_rectangle: [f64; 2],
    pub housing_bolt_hole: f64,
    pub holes: u32,
    pub bolt_circle: f64,
    pub stud_hole: f64,
    pub knurl: f64,
    pub teeth: u32,
    /// By how much the major diameter stays under the basic size, and the teeth under the basic thickness.
    pub spline_undersize: [f64; 2],
}

/// The true sizes of its wheel bearing and of the journal that carries it.
#[derive(Debug, Clone)]
pub struct TrueBearing {
    pub bore: f64,
    pub outside: f64,
    pub inner_width: f64,
    pub outer_width: f64,
    pub race_offset: f64,
    pub journal: f64,
}

impl TrueVehicle {
    /// A light truck: a ball unit of 40 x 80 x 18 mm (ISO 15) in an 80 mm end, five studs on 4 3/4 in, 31 teeth. Its left
    /// shaft is 29.625 in long and its brake offset is 2.360 in.
    pub fn light_truck() -> Self {
        Self {
            shoulder_distance: 2.2613,
            bearing: TrueBearing {
                bore: 1.5748,
                outside: 3.1496,
                inner_width: 0.7087,
                outer_width: 0.7087,
                race_offset: 0.0,
                journal: 1.5756,
            },
            bore_depth: 0.610,
            half_width: [27.8275, 26.6275],
            half_pin: 0.375,
            end_clearance: [0.1875, 0.1875],
            gear_reach: 1.95,
            flange_thickness: 0.420,
            flange_diameter: 6.0,
            register: 2.779,
            register_height: 0.250,
            wheel_pilot: 2.720,
            wheel_pilot_height: 0.620,
            drum_bore: 2.785,
            drum_inside: 6.6,
            wheel_bore: 2.785,
            trapped: 0.097,
            ring_seat: 1.5720,
            seal_journal: 1.5520,
            housing_bore: 3.1502,
            bolt_rectangle: [3.40, 2.60],
            housing_bolt_hole: 0.450,
            holes: 5,
            bolt_circle: 4.75,
            stud_hole: 0.606,
            knurl: 0.620,
            teeth: 31,
            spline_undersize: [0.018, 0.0028],
        }
    }

    /// What a perfect instrument reads; a count as a plain number, a size over pins with pins of 0.080 in.
    pub fn reads(&self, measurand: Measurand, side: Option<Side>) -> f64 {
        use Measurand as M;
        let at = usize::from(side == Some(Side::Right));
        let bearing = &self.bearing;
        let race = self.shoulder_distance + bearing.race_offset;
        let stands_proud = bearing.outer_width - self.bore_depth;
        let offset = race + stands_proud;
        let length = offset + self.half_width[at] - self.half_pin - self.end_clearance[at];
        let housing = self.half_width[0] + self.half_width[1];
        let chord =
            |rank: u32| self.bolt_circle * (std::f64::consts::PI * f64::from(rank) / f64::from(self.holes)).sin();
        match measurand {
            M::OverallLength => length,
            M::ShoulderDistance => self.shoulder_distance,
            M::RaceDistance => race,
            M::BrakeOffset => offset,
            M::ShoulderToEnd => length - self.shoulder_distance,
            M::FlangeThickness => self.flange_thickness,
            M::RegisterHeight => self.register_height,
            M::WheelPilotHeight => self.wheel_pilot_height,
            M::SplineContactLength => self.gear_reach - self.end_clearance[at],
            M::Reach => self.half_width[at] - self.half_pin,
            M::HalfWidth => self.half_width[at],
            M::HousingWidth => housing,
            M::FaceToFace => housing + 2.0 * offset,
            M::HousingBoreDepth => self.bore_depth,
            M::TrappedThickness => self.trapped,
            M::FlangeDiameter => self.flange_diameter,
            M::RegisterDiameter => self.register,
            M::WheelPilotDiameter => self.wheel_pilot,
            M::JournalDiameter => bearing.journal,
            M::RingSeatDiameter => self.ring_seat,
            M::SealJournalDiameter => self.seal_journal,
            M::BearingBore => bearing.bore,
            M::BearingOutside => bearing.outside,
            M::BearingInnerWidth => bearing.inner_width,
            M::BearingOuterWidth => bearing.outer_width,
            M::HousingBoreDiameter => self.housing_bore,
            M::BoltRectangleLong => self.bolt_rectangle[0],
            M::BoltRectangleShort => self.bolt_rectangle[1],
            M::BoltRectangleDiagonal => self.bolt_rectangle[0].hypot(self.bolt_rectangle[1]),
            M::HousingBoltHole => self.housing_bolt_hole,
            M::DrumBore => self.drum_bore,
            M::DrumInside => self.drum_inside,
            M::WheelBore => self.wheel_bore,
            M::BoltCircle => self.bolt_circle,
            M::ChordAdjacent => chord(1),
            M::ChordAlternate => chord(2),
            M::ChordOpposite => chord(self.holes / 2),
            M::EdgeGap => chord(1) - self.stud_hole,
            M::EdgeSpan => chord(1) + self.stud_hole,
            M::CentreToFarEdge => chord(self.holes / 2) + 0.5 * self.stud_hole,
            M::StudHole => self.stud_hole,
            M::HoleCount => f64::from(self.holes),
            M::KnurlDiameter => self.knurl,
            M::ToothCount => f64::from(self.teeth),
            M::SplineMajorDiameter => self.spline().external().major_in - self.spline_undersize[0],
            M::SplineOverPins => {
                let spline = self.spline();
                let thickness = spline.basic_width_in() - self.spline_undersize[1];
                spline.over_pins(thickness, PINS).expect("pins of 0.080 in touch the flanks at 24 pitch").size
            }
        }
    }

    /// A spline of the 24/48 series with 45 degrees and a fillet root.
    fn spline(&self) -> InchSpline {
        let pitch = Pitch::new(24.0, 48.0).expect("a standard pitch");
        InchSpline::new(self.teeth, pitch, PressureAngle::FortyFive, RootForm::Fillet, SplineFit::Side)
            .expect("a spline of the standard")
    }
}

/// Diameter of the pins under a size over pins.
pub const PINS: f64 = 0.080;
