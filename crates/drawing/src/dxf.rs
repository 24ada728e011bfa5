//! DXF of release 2000, with dimensions that a CAD program knows as such.
//!
//! The paper is the model: one drawing unit is one millimetre of paper. `DIMLFAC` of the dimension style turns a distance on
//! the paper into the size in the leading unit. Each dimension has its block and, as extended data of the application
//! `AXLEWRIGHT`, its name, its side, how it came about, whether it is drawn to scale, and its size in millimetres.

mod entities;
mod tables;
mod writer;

use crate::item::{Dimension, Drawing, Item};

use writer::{Writer, hex};

/// The drawing as a DXF file, in seven-bit text.
#[must_use]
pub fn dxf(drawing: &Drawing) -> String {
    let dimensions: Vec<&Dimension> = drawing
        .items
        .iter()
        .filter_map(|item| match item {
            Item::Dimension(dimension) => Some(dimension),
            _ => None,
        })
        .collect();
    let mut body = Writer::new();
    body.pair(0, "SECTION");
    body.pair(2, "CLASSES");
    body.pair(0, "ENDSEC");
    let records = tables::write(&mut body, drawing, dimensions.len());
    blocks(&mut body, &records, &dimensions);
    body.pair(0, "SECTION");
    body.pair(2, "ENTITIES");
    let mut next_dimension = 0;
    let factors = (drawing.scale, length_factor(drawing));
    for item in &drawing.items {
        entities::write(&mut body, records.model_space, item, &mut next_dimension, factors);
    }
    body.pair(0, "ENDSEC");
    objects(&mut body);
    body.pair(0, "EOF");
    // The header names a handle beyond all that are used, so it is written last.
    let mut file = Writer::new();
    header(&mut file, drawing, body.seed());
    file.out.push_str(&body.out);
    file.out
}

/// What a distance on the paper is multiplied with to give a size in the leading unit.
fn length_factor(drawing: &Drawing) -> f64 {
    let unit = if drawing.style.units.leads_with_inches() { 25.4 } else { 1.0 };
    1.0 / (drawing.scale * unit)
}

/// The name of the block of a dimension, counted from nought.
fn block_name(number: usize) -> String {
    format!("*D{}", number + 1)
}

fn header(writer: &mut Writer, drawing: &Drawing, seed: u32) {
    let (width, height) = drawing.style.paper;
    writer.pair(0, "SECTION");
    writer.pair(2, "HEADER");
    for (name, code, value) in [
        ("$ACADVER", 1, "AC1015".to_owned()),
        ("$DWGCODEPAGE", 3, "ANSI_1252".to_owned()),
        ("$HANDSEED", 5, hex(seed)),
        ("$INSUNITS", 70, "4".to_owned()),
        ("$MEASUREMENT", 70, "1".to_owned()),
        ("$LTSCALE", 40, "1".to_owned()),
        ("$LWDISPLAY", 290, "1".to_owned()),
        ("$DIMSTYLE", 2, tables::DIMENSION_STYLE.to_owned()),
        ("$TEXTSTYLE", 7, tables::TEXT_STYLE.to_owned()),
    ] {
        writer.pair(9, name);
        writer.pair(code, value);
    }
    for (name, x, y) in
        [("$EXTMIN", 0.0, 0.0), ("$EXTMAX", width, height), ("$LIMMIN", 0.0, 0.0), ("$LIMMAX", width, height)]
    {
        writer.pair(9, name);
        writer.number(10, x);
        writer.number(20, y);
        if name.starts_with("$EXT") {
            writer.pair(30, 0);
        }
    }
    writer.pair(0, "ENDSEC");
}

fn blocks(writer: &mut Writer, records: &tables::Records, dimensions: &[&Dimension]) {
    writer.pair(0, "SECTION");
    writer.pair(2, "BLOCKS");
    block(writer, records.model_space, "*Model_Space", &[]);
    block(writer, records.paper_space, "*Paper_Space", &[]);
    for (number, dimension) in dimensions.iter().enumerate() {
        if let Some(record) = records.dimensions.get(number) {
            block(writer, *record, &block_name(number), &dimension.items);
        }
    }
    writer.pair(0, "ENDSEC");
}

fn block(writer: &mut Writer, record: u32, name: &str, items: &[Item]) {
    let handle = writer.handle();
    writer.begin("BLOCK", handle);
    writer.pair(330, hex(record));
    writer.pair(100, "AcDbEntity");
    writer.pair(8, 0);
    writer.pair(100, "AcDbBlockBegin");
    writer.pair(2, name);
    // A block without a name that a person gave it.
    writer.pair(70, u8::from(name.starts_with("*D")));
    for code in [10, 20, 30] {
        writer.pair(code, 0);
    }
    writer.pair(3, name);
    writer.pair(1, "");
    let mut none = 0;
    for item in items {
        entities::write(writer, record, item, &mut none, (1.0, 1.0));
    }
    let handle = writer.handle();
    writer.begin("ENDBLK", handle);
    writer.pair(330, hex(record));
    writer.pair(100, "AcDbEntity");
    writer.pair(8, 0);
    writer.pair(100, "AcDbBlockEnd");
}

/// The dictionary that every file of this release must have.
fn objects(writer: &mut Writer) {
    let (root, group) = (writer.handle(), writer.handle());
    writer.pair(0, "SECTION");
    writer.pair(2, "OBJECTS");
    writer.begin("DICTIONARY", root);
    writer.pair(330, 0);
    writer.pair(100, "AcDbDictionary");
    writer.pair(281, 1);
    writer.pair(3, "ACAD_GROUP");
    writer.pair(350, hex(group));
    writer.begin("DICTIONARY", group);
    writer.pair(330, hex(root));
    writer.pair(100, "AcDbDictionary");
    writer.pair(281, 1);
    writer.pair(0, "ENDSEC");
}
