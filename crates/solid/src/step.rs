//! The STEP file: header, product, units and geometry, in a fixed order.

mod entities;
mod geometry;
mod text;
mod time_stamp;

use crate::error::StepError;
use crate::shell::Shell;
use entities::Entities;
use text::{real, string};

/// What the head of a STEP file says. All of it comes from the caller; nothing is looked up.
///
/// ```
/// use solid::StepHeader;
/// use solid::StepUnit;
/// let header = StepHeader { name: "Shaft left", time_stamp: "2026-01-31T08:30:00", ..StepHeader::default() };
/// assert_eq!((header.author, header.unit), ("", StepUnit::Millimetre));
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct StepHeader<'a> {
    /// Name of the part; it also names the product.
    pub name: &'a str,
    /// What the product is told from others by, such as the number of an order; where it is empty, the name serves.
    pub id: &'a str,
    /// What else a reader has to know, a sentence each: it stands in the description of the file and of the product.
    pub notes: &'a [&'a str],
    /// The unit in which lengths are written.
    pub unit: StepUnit,
    /// When the file was made, in the extended form of ISO 8601, such as `2026-01-31T08:30:00` or with an offset, such
    /// as `2026-01-31T08:30:00+01:00`.
    pub time_stamp: &'a str,
    /// Who answers for the part; may be empty.
    pub author: &'a str,
    /// For whom; may be empty.
    pub organisation: &'a str,
    /// Program and version that wrote the file; may be empty.
    pub written_by: &'a str,
}

/// The unit in which the lengths of a file are written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum StepUnit {
    /// Millimetres.
    #[default]
    Millimetre,
    /// Inches of 25.4 mm.
    Inch,
}

impl StepUnit {
    fn in_millimetres(self) -> f64 {
        match self {
            Self::Millimetre => 1.0,
            Self::Inch => 25.4,
        }
    }

    fn plural(self) -> &'static str {
        match self {
            Self::Millimetre => "millimetres",
            Self::Inch => "inches",
        }
    }

    /// The unit as an entity; an inch is one by conversion from the millimetre.
    fn entity(self, entities: &mut Entities) -> usize {
        let millimetre = entities.add("(LENGTH_UNIT()NAMED_UNIT(*)SI_UNIT(.MILLI.,.METRE.))".to_owned());
        match self {
            Self::Millimetre => millimetre,
            Self::Inch => {
                let size = real(self.in_millimetres());
                let size = entities.add(format!("LENGTH_MEASURE_WITH_UNIT(LENGTH_MEASURE({size}),#{millimetre})"));
                let exponents = entities.add("DIMENSIONAL_EXPONENTS(1.,0.,0.,0.,0.,0.,0.)".to_owned());
                entities.add(format!("(CONVERSION_BASED_UNIT('INCH',#{size})LENGTH_UNIT()NAMED_UNIT(#{exponents}))"))
            }
        }
    }
}

/// The most letters of one string in the description of a file (ISO 10303-21:2002, 8.2.1).
const LONGEST_LINE: usize = 256;

/// Writes a shell as the one solid of a product.
pub(crate) fn write(shell: &Shell, header: &StepHeader<'_>) -> Result<String, StepError> {
    if header.name.trim().is_empty() {
        return Err(StepError::NoName);
    }
    if !time_stamp::is_one(header.time_stamp) {
        return Err(StepError::TimeStamp { given: header.time_stamp.to_owned() });
    }
    let mut entities = Entities::new(header.unit.in_millimetres());
    let context = product(&mut entities, header);
    let solid = geometry::solid(&mut entities, shell, header.name);
    shape(&mut entities, context, solid, header);
    let mut file = head(header);
    file.push_str("DATA;\n");
    file.push_str(entities.text());
    file.push_str("ENDSEC;\nEND-ISO-10303-21;\n");
    Ok(file)
}

fn head(header: &StepHeader<'_>) -> String {
    let [name, stamp, author, organisation, by] =
        [header.name, header.time_stamp, header.author, header.organisation, header.written_by].map(string);
    let mut said = vec![string(&format!("One turned part; lengths in {}", header.unit.plural()))];
    for note in header.notes {
        let letters: Vec<char> = note.chars().collect();
        said.extend(letters.chunks(LONGEST_LINE).map(|piece| string(&piece.iter().collect::<String>())));
    }
    let said = said.join(",");
    format!(
        "ISO-10303-21;\nHEADER;\n\
         FILE_DESCRIPTION(({said}),'2;1');\n\
         FILE_NAME({name},{stamp},({author}),({organisation}),{by},{by},'');\n\
         FILE_SCHEMA(('AUTOMOTIVE_DESIGN {{ 1 0 10303 214 1 1 1 1 }}'));\nENDSEC;\n"
    )
}

/// The product and its definition; returns the definition.
fn product(entities: &mut Entities, header: &StepHeader<'_>) -> usize {
    let (name, notes) = (string(header.name), string(&header.notes.join(" ")));
    let id = if header.id.is_empty() { name.clone() } else { string(header.id) };
    let application =
        entities.add("APPLICATION_CONTEXT('core data for automotive mechanical design processes')".to_owned());
    entities.add(format!(
        "APPLICATION_PROTOCOL_DEFINITION('international standard','automotive_design',2000,#{application})"
    ));
    let context = entities.add(format!("PRODUCT_CONTEXT('',#{application},'mechanical')"));
    let product = entities.add(format!("PRODUCT({id},{name},{notes},(#{context}))"));
    entities.add(format!("PRODUCT_RELATED_PRODUCT_CATEGORY('part',$,(#{product}))"));
    let formation = entities.add(format!("PRODUCT_DEFINITION_FORMATION('','',#{product})"));
    let context = entities.add(format!("PRODUCT_DEFINITION_CONTEXT('part definition',#{application},'design')"));
    entities.add(format!("PRODUCT_DEFINITION('design','',#{formation},#{context})"))
}

/// The shape of the product: its units, its accuracy, its solid.
fn shape(entities: &mut Entities, definition: usize, solid: usize, header: &StepHeader<'_>) {
    let length = header.unit.entity(entities);
    let angle = entities.add("(NAMED_UNIT(*)PLANE_ANGLE_UNIT()SI_UNIT($,.RADIAN.))".to_owned());
    let solid_angle = entities.add("(NAMED_UNIT(*)SI_UNIT($,.STERADIAN.)SOLID_ANGLE_UNIT())".to_owned());
    // Neighbouring surfaces meet to rounding; a hundredth of a micrometre is the accuracy of the flanks.
    let accuracy = entities.add(format!(
        "UNCERTAINTY_MEASURE_WITH_UNIT(LENGTH_MEASURE({}),#{length},'distance_accuracy_value','')",
        entities.length(crate::FLANK_TOLERANCE_MM)
    ));
    let context = entities.add(format!(
        "(GEOMETRIC_REPRESENTATION_CONTEXT(3)GLOBAL_UNCERTAINTY_ASSIGNED_CONTEXT((#{accuracy}))\
         GLOBAL_UNIT_ASSIGNED_CONTEXT((#{length},#{angle},#{solid_angle}))REPRESENTATION_CONTEXT('',''))"
    ));
    let whole = entities.placement([0.0; 3], [0.0, 0.0, 1.0], [1.0, 0.0, 0.0]);
    let name = string(header.name);
    let representation =
        entities.add(format!("ADVANCED_BREP_SHAPE_REPRESENTATION({name},(#{whole},#{solid}),#{context})"));
    let shape = entities.add(format!("PRODUCT_DEFINITION_SHAPE('','',#{definition})"));
    entities.add(format!("SHAPE_DEFINITION_REPRESENTATION(#{shape},#{representation})"));
}
