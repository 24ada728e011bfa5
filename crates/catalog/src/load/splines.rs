//! Reads `splines.toml`.

use elements::involute_spline::{
    Din5480Spline, InchSpline, Iso4156Spline, Pitch, PressureAngle, RootForm, SplineError, SplineFit,
};
use placed::Item;
use quantity::LengthExt;

use crate::parts::{SplineCount, SplineSeries, SplineSystem};

use super::row::{Row, Size, length};
use super::rows::KeyedRow;

/// The systems as the file names them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum System {
    Inch,
    Iso4156,
    Din5480,
}

const SYSTEMS: [(&str, System); 3] =
    [("ANSI B92.1", System::Inch), ("ISO 4156", System::Iso4156), ("DIN 5480", System::Din5480)];

const ROOTS: [(&str, bool); 2] = [("fillet", true), ("flat", false)];

impl KeyedRow for SplineSeries {
    const TABLE: &'static str = "spline";
    type Key = String;

    fn read_key(row: &Row<'_>) -> Option<String> {
        row.words("name", None)
    }

    fn is(&self, key: &String) -> bool {
        self.name == *key
    }

    fn read(row: &Row<'_>, name: String, old: Option<&Self>) -> Option<Self> {
        let system = read_system(row, old.map(|old| old.system));
        let angle = row.value("pressure_angle", old.map(|old| old.pressure_angle_degrees), |item| read_angle(&item));
        let counts = row.value("counts", old.map(|old| old.counts.clone()), |item| read_counts(&item));
        let undersize = row.spread("undersize", old.map(|old| old.undersize), Size::NotNegative);
        let weight = row.weight(old.map(|old| old.weight));
        let source = row.source();
        let series = Self {
            name,
            system: system?,
            pressure_angle_degrees: angle?,
            counts: counts?,
            undersize: undersize?,
            weight: weight?,
            source: source?,
        };
        is_sound(row, &series).then_some(series)
    }
}

/// Reads the system with its pitch or module. A row that names another system than the one it extends inherits nothing of
/// it.
fn read_system(row: &Row<'_>, old: Option<SplineSystem>) -> Option<SplineSystem> {
    let old_system = old.map(|old| match old {
        SplineSystem::Inch { .. } => System::Inch,
        SplineSystem::Iso4156 { .. } => System::Iso4156,
        SplineSystem::Din5480 { .. } => System::Din5480,
    });
    let system = row.value("system", old_system, |item| item.one_of(&SYSTEMS))?;
    let old = old.filter(|_| old_system == Some(system));
    if system == System::Inch {
        let (old_pitch, old_root) = match old {
            Some(SplineSystem::Inch { pitch, stub_pitch, fillet_root }) => {
                (Some((pitch, stub_pitch)), Some(fillet_root))
            }
            _ => (None, None),
        };
        let pitch = row.value("pitch", old_pitch, |item| read_pitch(&item));
        let root = row.value("root", old_root, |item| item.one_of(&ROOTS));
        let (pitch, stub_pitch) = pitch?;
        return Some(SplineSystem::Inch { pitch, stub_pitch, fillet_root: root? });
    }
    let old_module = match old {
        Some(SplineSystem::Iso4156 { module_mm } | SplineSystem::Din5480 { module_mm }) => Some(module_mm),
        _ => None,
    };
    let module_mm = row.value("module", old_module, |item| Some(length(&item, Size::Positive)?.millimetres()))?;
    Some(match system {
        System::Iso4156 => SplineSystem::Iso4156 { module_mm },
        _ => SplineSystem::Din5480 { module_mm },
    })
}

/// Reads a pitch, `24/48`.
fn read_pitch(item: &Item<'_>) -> Option<(f64, f64)> {
    let text = item.filled_text()?;
    let numbers = text
        .split_once('/')
        .and_then(|(pitch, stub)| Some((pitch.trim().parse::<f64>().ok()?, stub.trim().parse::<f64>().ok()?)));
    let pitch = numbers.and_then(|(pitch, stub)| Pitch::new(pitch, stub).ok());
    match pitch {
        Some(pitch) => Some((pitch.diametral(), pitch.stub())),
        None => {
            let known: Vec<String> = Pitch::ALL.iter().map(Pitch::to_string).collect();
            item.fault(format!("{text:?} is no pitch of ANSI B92.1"), format!("one of {}", known.join(", ")));
            None
        }
    }
}

fn read_angle(item: &Item<'_>) -> Option<f64> {
    let degrees = item.number()?;
    match PressureAngle::from_degrees(degrees) {
        Ok(angle) => Some(angle.degrees()),
        Err(error) => {
            item.fault(error.to_string(), "30, 37.5 or 45");
            None
        }
    }
}

/// Reads the counts, `[{ teeth = 28, weight = 1 }]`.
fn read_counts(item: &Item<'_>) -> Option<Vec<SplineCount>> {
    let mut counts: Vec<SplineCount> = Vec::new();
    let mut sound = true;
    for entry in item.list()? {
        let row = Row::new(entry.table()?);
        let teeth = row.value("teeth", None, |item| item.count());
        let reference_diameter =
            row.value_or("reference_diameter", None, None, |item| length(&item, Size::Positive).map(Some));
        let weight = row.weight(None);
        let twice = counts
            .iter()
            .any(|earlier| Some(earlier.teeth) == teeth && Some(earlier.reference_diameter) == reference_diameter);
        if twice {
            row.fault_at("teeth", "this count is given twice", "each count once");
            sound = false;
        }
        row.finish();
        match (teeth, reference_diameter, weight) {
            (Some(teeth), Some(reference_diameter), Some(weight)) => {
                counts.push(SplineCount { teeth, reference_diameter, weight });
            }
            _ => sound = false,
        }
    }
    if counts.is_empty() && sound {
        item.fault("no count at all", "at least one count");
        return None;
    }
    sound.then_some(counts)
}

/// Whether the standard holds every count of the series; what it does not is recorded.
fn is_sound(row: &Row<'_>, series: &SplineSeries) -> bool {
    for count in &series.counts {
        let problem = match (series.system, count.reference_diameter) {
            (SplineSystem::Din5480 { .. }, None) => {
                Some("DIN 5480 sizes a spline by its reference diameter, and there is none".to_owned())
            }
            (SplineSystem::Inch { .. } | SplineSystem::Iso4156 { .. }, Some(_)) => {
                Some("only DIN 5480 has a reference diameter".to_owned())
            }
            (SplineSystem::Din5480 { .. }, Some(_)) if series.pressure_angle_degrees != 30.0 => {
                Some("DIN 5480 knows 30° only".to_owned())
            }
            _ => geometry(series, *count).err().map(|error| error.to_string()),
        };
        if let Some(problem) = problem {
            row.fault_at("counts", format!("{} teeth: {problem}", count.teeth), "splines that the standard holds");
            return false;
        }
    }
    true
}

/// Asks the standard for the spline of one count.
fn geometry(series: &SplineSeries, count: SplineCount) -> Result<(), SplineError> {
    let angle = PressureAngle::from_degrees(series.pressure_angle_degrees)?;
    match (series.system, count.reference_diameter) {
        (SplineSystem::Inch { pitch, stub_pitch, fillet_root }, _) => {
            let root = if fillet_root { RootForm::Fillet } else { RootForm::Flat };
            InchSpline::new(count.teeth, Pitch::new(pitch, stub_pitch)?, angle, root, SplineFit::Side).map(drop)
        }
        (SplineSystem::Iso4156 { module_mm }, _) => {
            Iso4156Spline::new(count.teeth, module_mm, angle, RootForm::Fillet).map(drop)
        }
        (SplineSystem::Din5480 { module_mm }, Some(reference)) => {
            Din5480Spline::new(reference.millimetres(), module_mm, count.teeth).map(drop)
        }
        (SplineSystem::Din5480 { .. }, None) => Ok(()),
    }
}
