//! The outboard face: flange, register and wheel pilot, with the drum or rotor and the wheel that go on them.

use catalog::{Brake, BrakeKind, Catalog, Measurand, MistakeKind, Window};
use quantity::LengthExt;
use reconcile::{Form, Prior};

use crate::evidence::Taken;
use crate::geometry::{Geometry, known, usual};
use crate::sheet::Side;

const FLANGE: usize = 0;
const REGISTER: usize = 1;
const WHEEL_PILOT: usize = 2;
const REGISTER_HEIGHT: usize = 3;
const DRUM_CLEARANCE: usize = 4;
const DRUM_BORE: usize = 5;
const DRUM_INSIDE: usize = 6;
const WHEEL_CLEARANCE: usize = 7;

/// The face of the old shaft and the brake that the new one carries.
pub(crate) struct Face<'a> {
    /// Whether the new brake is another one, so that the old register says nothing about its bore.
    pub brake_changed: bool,
    /// The new brake, where the sheet names a row of the catalog.
    pub brake: Option<&'a Brake>,
    pub kind: BrakeKind,
    pub catalog: &'a Catalog,
}

/// Flange diameter of the old shaft.
pub(crate) fn flange() -> Form {
    Form::of(FLANGE)
}

/// Inside of the drum or rotor hat.
pub(crate) fn drum_inside() -> Form {
    Form::of(DRUM_INSIDE)
}

/// Register of the old shaft.
pub(crate) fn register() -> Form {
    Form::of(REGISTER)
}

/// Wheel pilot of the old shaft.
pub(crate) fn wheel_pilot() -> Form {
    Form::of(WHEEL_PILOT)
}

/// Bore of the wheel.
pub(crate) fn wheel_bore() -> Form {
    Form::new([(WHEEL_PILOT, 1.0), (WHEEL_CLEARANCE, 1.0)], 0.0)
}

/// Height of the old register.
pub(crate) fn register_height() -> Form {
    Form::of(REGISTER_HEIGHT)
}

impl Face<'_> {
    /// Bore of the drum or rotor that goes on the new shaft.
    pub fn drum_bore(&self) -> Form {
        if self.brake_changed { Form::of(DRUM_BORE) } else { Form::new([(REGISTER, 1.0), (DRUM_CLEARANCE, 1.0)], 0.0) }
    }

    /// The clearance that the brake leaves on its register.
    pub fn register_window(&self) -> &Window {
        let clearances = &self.catalog.settings.clearances;
        match self.kind {
            BrakeKind::Drum => &clearances.register_in_drum,
            BrakeKind::Disc => &clearances.register_in_rotor,
        }
    }

    fn usual(&self, measurand: Measurand) -> Prior {
        let (least, most) = self.catalog.measurand(measurand).usual;
        usual((least.millimetres(), most.millimetres()))
    }

    /// An old axle that runs true has the clearances of a sound one: the window as mean ± two standard deviations.
    fn sound(window: &Window) -> Prior {
        let range = usual((window.least.millimetres(), window.most.millimetres()));
        known(range.mean, range.standard_deviation / 2.0)
    }
}

impl Geometry for Face<'_> {
    fn priors(&self) -> Vec<Prior> {
        let made = self.catalog.settings.beliefs.brake_deviation.millimetres();
        let row = |size: Option<quantity::Length>, measurand| {
            size.map_or_else(|| self.usual(measurand), |size| known(size.millimetres(), made))
        };
        vec![
            self.usual(Measurand::FlangeDiameter),
            self.usual(Measurand::RegisterDiameter),
            self.usual(Measurand::WheelPilotDiameter),
            self.usual(Measurand::RegisterHeight),
            Self::sound(self.register_window()),
            row(self.brake.map(|brake| brake.bore), Measurand::DrumBore),
            row(self.brake.map(|brake| brake.inside), Measurand::DrumInside),
            Self::sound(&self.catalog.settings.clearances.pilot_in_wheel),
        ]
    }

    fn unknowns(&self) -> Vec<(&'static str, String)> {
        let usual = |measurand| self.catalog.measurand(measurand).source.to_string();
        let row =
            |measurand| self.brake.map_or_else(|| usual(measurand), |row| format!("{}: {}", row.name, row.source));
        vec![
            ("flange diameter", usual(Measurand::FlangeDiameter)),
            ("register of the old shaft", usual(Measurand::RegisterDiameter)),
            ("wheel pilot of the old shaft", usual(Measurand::WheelPilotDiameter)),
            ("height of the register", usual(Measurand::RegisterHeight)),
            ("clearance of the old register", self.register_window().source.to_string()),
            ("bore of drum or rotor", row(Measurand::DrumBore)),
            ("inside of drum or rotor hat", row(Measurand::DrumInside)),
            ("clearance of the old wheel pilot", self.catalog.settings.clearances.pilot_in_wheel.source.to_string()),
        ]
    }

    fn form(&self, measurand: Measurand, _side: Option<Side>) -> Option<Form> {
        match measurand {
            Measurand::FlangeDiameter => Some(flange()),
            Measurand::RegisterDiameter => Some(Form::of(REGISTER)),
            Measurand::WheelPilotDiameter => Some(Form::of(WHEEL_PILOT)),
            Measurand::RegisterHeight => Some(register_height()),
            Measurand::DrumBore => Some(self.drum_bore()),
            Measurand::DrumInside => Some(drum_inside()),
            Measurand::WheelBore => Some(wheel_bore()),
            _ => None,
        }
    }

    fn mistaken(&self, kind: MistakeKind, taken: &Taken<'_>) -> Option<Form> {
        match (kind, taken.measurand) {
            (MistakeKind::PilotForRegister, Measurand::RegisterDiameter) => Some(Form::of(WHEEL_PILOT)),
            (MistakeKind::RegisterForPilot, Measurand::WheelPilotDiameter) => Some(Form::of(REGISTER)),
            _ => None,
        }
    }
}
