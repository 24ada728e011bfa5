//! The entities of a STEP file, numbered as they are added. Geometry that is written alike is written once.

use std::collections::BTreeMap;
use std::fmt::Write;

use super::text::real;
use crate::shell::Triple;

/// The data section as it grows.
#[derive(Debug)]
pub(crate) struct Entities {
    text: String,
    count: usize,
    shared: BTreeMap<String, usize>,
    /// Millimetres in one unit of the file.
    unit_mm: f64,
}

impl Entities {
    /// No entities yet; lengths are handed over in millimetres and written in a unit of so many of them.
    pub fn new(unit_mm: f64) -> Self {
        Self { text: String::new(), count: 0, shared: BTreeMap::new(), unit_mm }
    }

    /// A length in the unit of the file.
    pub fn length(&self, millimetres: f64) -> String {
        real(millimetres / self.unit_mm)
    }

    /// Adds an entity and returns its number.
    pub fn add(&mut self, entity: String) -> usize {
        self.count += 1;
        // Writing to a string cannot fail.
        let _ = writeln!(self.text, "#{}={entity};", self.count);
        self.count
    }

    /// The number of an entity that may serve in several places: points, directions, curves and surfaces.
    pub fn share(&mut self, entity: String) -> usize {
        if let Some(number) = self.shared.get(&entity) {
            return *number;
        }
        let number = self.add(entity.clone());
        self.shared.insert(entity, number);
        number
    }

    pub fn point(&mut self, place: Triple) -> usize {
        let [x, y, z] = place.map(|along| self.length(along));
        self.share(format!("CARTESIAN_POINT('',({x},{y},{z}))"))
    }

    pub fn direction(&mut self, ratios: Triple) -> usize {
        let [x, y, z] = ratios.map(real);
        self.share(format!("DIRECTION('',({x},{y},{z}))"))
    }

    /// A direction with a length of one.
    pub fn vector(&mut self, ratios: Triple) -> usize {
        let direction = self.direction(ratios);
        self.share(format!("VECTOR('',#{direction},1.)"))
    }

    /// A place with its axis and the direction from which angles count.
    pub fn placement(&mut self, place: Triple, axis: Triple, zero: Triple) -> usize {
        let (place, axis, zero) = (self.point(place), self.direction(axis), self.direction(zero));
        self.share(format!("AXIS2_PLACEMENT_3D('',#{place},#{axis},#{zero})"))
    }

    /// All entities, one a line.
    pub fn text(&self) -> &str {
        &self.text
    }
}

/// Numbers of entities as a list between parentheses.
pub(crate) fn list(numbers: &[usize]) -> String {
    let mut written = String::from("(");
    for (place, number) in numbers.iter().enumerate() {
        let comma = if place == 0 { "" } else { "," };
        // Writing to a string cannot fail.
        let _ = write!(written, "{comma}#{number}");
    }
    written.push(')');
    written
}
