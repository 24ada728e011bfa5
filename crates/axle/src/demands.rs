//! The demands of an order, dimension by dimension: which sizes would work, by the fit conditions.

use catalog::{Catalog, Window};
use quantity::{Length, LengthExt};
use reconcile::Form;

use crate::blocks::Blocks;
use crate::chain;
use crate::circle;
use crate::demand::{Demand, Limit};
use crate::face::{self, Face};
use crate::review::{Consequence, DimensionKind};
use crate::sheet::{Sheet, Side};

/// Words of the fit conditions.
pub(crate) mod words {
    pub const CLEARS_PIN: &str = "the inner end clears the cross pin";
    pub const ENGAGES: &str = "the spline engages the side gear far enough";
    pub const OFFSET_LEAST: &str = "the brake offset is not too small for the brake";
    pub const OFFSET_MOST: &str = "the brake offset is not too large for the brake";
    pub const REGISTER_ENTERS: &str = "the register enters drum or rotor";
    pub const REGISTER_CENTRES: &str = "the register centres drum or rotor";
    pub const PILOT_ENTERS: &str = "the wheel pilot enters the wheel";
    pub const PILOT_CENTRES: &str = "the wheel pilot centres the wheel";
    pub const FLANGE_CLEARS: &str = "the flange clears the inside of drum or rotor hat";
    pub const CIRCLE_LEAST: &str = "the bolt circle is not too small for the wheel";
    pub const CIRCLE_MOST: &str = "the bolt circle is not too large for the wheel";
    pub const RETAINER: &str = "the retainer holds the bearing as its kind requires";
    pub const BEARING: &str = "the bearing is the one the journal is made for";
    pub const SPLINE: &str = "count, series and form of the spline match the side gear";
    pub const HOLES: &str = "the number of holes suits wheel and drum";
}

/// Makes the limits of demands with the losses of the catalog.
struct Limits<'a> {
    catalog: &'a Catalog,
}

impl Limits<'_> {
    fn of(&self, form: Form, words: &'static str, consequence: Consequence) -> Option<Limit> {
        let losses = &self.catalog.settings.losses;
        let loss = match consequence {
            Consequence::Scrap => losses.scrap,
            Consequence::Rework => losses.rework,
            Consequence::Nuisance => losses.nuisance,
        };
        Some(Limit { form, words, consequence, loss })
    }

    /// A size that must stay below a bore by a clearance within a window. Too big can be turned down; too small is scrap.
    fn enters(&self, bore: &Form, window: &Window, words: (&'static str, &'static str), loose: Consequence) -> Ends {
        let (least, most) = (millimetres(window.least), millimetres(window.most));
        Ends {
            ideal: bore.offset_by(-0.5 * (least + most)),
            least: self.of(bore.offset_by(-most), words.1, loose),
            most: self.of(bore.offset_by(-least), words.0, Consequence::Rework),
        }
    }
}

struct Ends {
    ideal: Form,
    least: Option<Limit>,
    most: Option<Limit>,
}

fn millimetres(length: Length) -> f64 {
    length.millimetres()
}

/// Where the shoulder has to be: where the old one was, or where the brake's maker wants the housing end.
pub(crate) fn shoulder(sheet: &Sheet, catalog: &Catalog) -> Demand {
    let limits = Limits { catalog };
    let window = &catalog.settings.clearances.brake_offset;
    let ideal = match required_offset(sheet, catalog) {
        Some(required) => Form::constant_of(millimetres(required)).minus(&chain::shoulder_to_housing_end()),
        None => chain::shoulder(),
    };
    Demand {
        kind: DimensionKind::ShoulderDistance,
        side: None,
        least: limits.of(ideal.offset_by(millimetres(window.least)), words::OFFSET_LEAST, Consequence::Scrap),
        most: limits.of(ideal.offset_by(millimetres(window.most)), words::OFFSET_MOST, Consequence::Rework),
        ideal,
        tolerance: millimetres(catalog.settings.tolerances.shoulder_distance),
    }
}

/// The brake offset that the new brake requires: as the sheet states it, or as the row of the brake does.
pub(crate) fn required_offset(sheet: &Sheet, catalog: &Catalog) -> Option<Length> {
    let brake = &sheet.parts.brake;
    let row = brake.row.as_deref().and_then(|name| catalog.brake(name));
    brake.required_offset.or(row.map(|row| row.required_offset))
}

/// How long the shaft of one side has to be, once the shoulder is decided: the end must clear the cross pin, and the spline
/// must reach far enough into the side gear.
pub(crate) fn overall_length(side: Side, shoulder: f64, major_diameter: f64, catalog: &Catalog) -> Demand {
    let limits = Limits { catalog };
    let clearances = &catalog.settings.clearances;
    let window = &clearances.end_to_pin;
    let to_pin = chain::shoulder_to_housing_end().plus(&chain::reach(side)).offset_by(shoulder);
    // Engagement is gear reach less end clearance, and the end clearance is what is left of the way to the pin.
    let engagement = clearances.engagement_ratio * major_diameter;
    let engaged = to_pin.minus(&chain::gear_reach()).offset_by(engagement);
    Demand {
        kind: DimensionKind::OverallLength,
        side: Some(side),
        ideal: to_pin.minus(&chain::end_clearance(side)),
        least: limits.of(engaged, words::ENGAGES, Consequence::Scrap),
        most: limits.of(to_pin.offset_by(-millimetres(window.least)), words::CLEARS_PIN, Consequence::Rework),
        tolerance: millimetres(catalog.settings.tolerances.overall_length),
    }
}

/// Thickness of the flange: as it was.
pub(crate) fn flange_thickness(catalog: &Catalog) -> Demand {
    free(DimensionKind::FlangeThickness, chain::flange_thickness(), catalog)
}

/// Height of the wheel pilot: as it was.
pub(crate) fn wheel_pilot_height(catalog: &Catalog) -> Demand {
    free(DimensionKind::WheelPilotHeight, chain::pilot_height(), catalog)
}

/// Height of the register: as it was.
pub(crate) fn register_height(catalog: &Catalog) -> Demand {
    free(DimensionKind::RegisterHeight, face::register_height(), catalog)
}

/// A size that nothing fits against and that stays as it was.
fn free(kind: DimensionKind, ideal: Form, catalog: &Catalog) -> Demand {
    let tolerance = millimetres(catalog.settings.tolerances.free_size);
    Demand { kind, side: None, ideal, least: None, most: None, tolerance }
}

/// The register, that enters drum or rotor.
pub(crate) fn register(face: &Face<'_>, catalog: &Catalog) -> Demand {
    let words = (words::REGISTER_ENTERS, words::REGISTER_CENTRES);
    let ends = Limits { catalog }.enters(&face.drum_bore(), face.register_window(), words, Consequence::Scrap);
    entering(DimensionKind::RegisterDiameter, ends, catalog)
}

/// The wheel pilot, that enters the wheel.
pub(crate) fn wheel_pilot(catalog: &Catalog) -> Demand {
    let window = &catalog.settings.clearances.pilot_in_wheel;
    let words = (words::PILOT_ENTERS, words::PILOT_CENTRES);
    let mut ends = Limits { catalog }.enters(&face::wheel_bore(), window, words, Consequence::Nuisance);
    // The old pilot went in: its own size is better than the middle of a wide window.
    ends.ideal = face::wheel_pilot();
    entering(DimensionKind::WheelPilotDiameter, ends, catalog)
}

fn entering(kind: DimensionKind, ends: Ends, catalog: &Catalog) -> Demand {
    let tolerance = millimetres(catalog.settings.tolerances.register_diameter);
    Demand { kind, side: None, ideal: ends.ideal, least: ends.least, most: ends.most, tolerance }
}

/// The flange: as it was, unless drum or rotor hat leaves less room.
pub(crate) fn flange(blocks: &Blocks<'_>, inside_read: bool, catalog: &Catalog) -> Demand {
    let demand = free(DimensionKind::FlangeDiameter, face::flange(), catalog);
    if !inside_read {
        return demand;
    }
    let mut cleared = flange_in_drum(catalog);
    let mean = |form: &Form| blocks.face.mixture.marginal(form).mean();
    if let Some(largest) = &cleared.most
        && mean(&largest.form) - 2.0 * cleared.tolerance < mean(&cleared.ideal)
    {
        cleared.ideal = largest.form.offset_by(-2.0 * cleared.tolerance);
    }
    cleared
}

/// The flange as it was, held to clear the inside of drum or rotor hat.
pub(crate) fn flange_in_drum(catalog: &Catalog) -> Demand {
    let room = millimetres(catalog.settings.clearances.flange_in_drum);
    let largest = face::drum_inside().offset_by(-room);
    Demand {
        most: Limits { catalog }.of(largest, words::FLANGE_CLEARS, Consequence::Rework),
        ..free(DimensionKind::FlangeDiameter, face::flange(), catalog)
    }
}

/// The bolt circle.
pub(crate) fn bolt_circle(catalog: &Catalog) -> Demand {
    let limits = Limits { catalog };
    let window = &catalog.settings.clearances.bolt_circle;
    let ideal = circle::diameter();
    Demand {
        kind: DimensionKind::BoltCircle,
        side: None,
        least: limits.of(ideal.offset_by(millimetres(window.least)), words::CIRCLE_LEAST, Consequence::Scrap),
        most: limits.of(ideal.offset_by(millimetres(window.most)), words::CIRCLE_MOST, Consequence::Scrap),
        ideal,
        tolerance: 0.5 * millimetres(catalog.settings.tolerances.hole_position),
    }
}
