//! The tables: line types, layers, styles, and the records of the blocks.

use super::writer::{Writer, hex};
use crate::ink::{INKS, Ink};
use crate::item::Drawing;

/// The names of the tables' entries that other parts refer to.
pub(super) const TEXT_STYLE: &str = "LETTERING";
pub(super) const DIMENSION_STYLE: &str = "AXLEWRIGHT";
pub(super) const APPLICATION: &str = "AXLEWRIGHT";

/// The handles of the block records, in the order of the blocks.
pub(super) struct Records {
    pub model_space: u32,
    pub paper_space: u32,
    pub dimensions: Vec<u32>,
}

/// The layer of an ink.
pub(super) fn layer(ink: Ink) -> String {
    ink.word().to_uppercase()
}

fn line_type(ink: Ink) -> String {
    if ink.pattern().is_empty() { "Continuous".to_owned() } else { format!("{}_LINE", layer(ink)) }
}

pub(super) fn write(writer: &mut Writer, drawing: &Drawing, dimensions: usize) -> Records {
    writer.pair(0, "SECTION");
    writer.pair(2, "TABLES");
    viewport(writer, drawing);
    line_types(writer);
    layers(writer, drawing);
    text_styles(writer);
    empty(writer, "VIEW");
    empty(writer, "UCS");
    applications(writer);
    dimension_styles(writer, drawing);
    let records = block_records(writer, dimensions);
    writer.pair(0, "ENDSEC");
    records
}

/// The head of a table; returns its handle.
fn head(writer: &mut Writer, name: &str, entries: usize) -> u32 {
    let table = writer.handle();
    writer.pair(0, "TABLE");
    writer.pair(2, name);
    writer.pair(5, hex(table));
    writer.pair(330, 0);
    writer.pair(100, "AcDbSymbolTable");
    writer.pair(70, entries);
    table
}

/// The head of an entry; returns its handle.
fn entry(writer: &mut Writer, kind: &str, table: u32, class: &str, name: &str, flags: u16) -> u32 {
    let handle = writer.handle();
    writer.pair(0, kind);
    // A dimension style has its handle at another code than everything else.
    writer.pair(if kind == "DIMSTYLE" { 105 } else { 5 }, hex(handle));
    writer.pair(330, hex(table));
    writer.pair(100, "AcDbSymbolTableRecord");
    writer.pair(100, class);
    writer.pair(2, name);
    writer.pair(70, flags);
    handle
}

fn end(writer: &mut Writer) {
    writer.pair(0, "ENDTAB");
}

fn empty(writer: &mut Writer, name: &str) {
    head(writer, name, 0);
    end(writer);
}

fn viewport(writer: &mut Writer, drawing: &Drawing) {
    let (width, height) = drawing.style.paper;
    let table = head(writer, "VPORT", 1);
    entry(writer, "VPORT", table, "AcDbViewportTableRecord", "*Active", 0);
    for (code, x, y) in [(10, 0.0, 0.0), (11, 1.0, 1.0), (12, 0.5 * width, 0.5 * height)] {
        writer.number(code, x);
        writer.number(code + 10, y);
    }
    writer.number(40, 1.05 * height);
    writer.number(41, width / height);
    end(writer);
}

fn line_types(writer: &mut Writer) {
    let patterned: Vec<Ink> = INKS.into_iter().filter(|ink| !ink.pattern().is_empty()).collect();
    let table = head(writer, "LTYPE", 3 + patterned.len());
    for name in ["ByBlock", "ByLayer", "Continuous"] {
        entry(writer, "LTYPE", table, "AcDbLinetypeTableRecord", name, 0);
        writer.pair(3, "");
        writer.pair(72, 65);
        writer.pair(73, 0);
        writer.pair(40, 0);
    }
    for ink in patterned {
        entry(writer, "LTYPE", table, "AcDbLinetypeTableRecord", &line_type(ink), 0);
        writer.pair(3, ink.word());
        writer.pair(72, 65);
        writer.pair(73, ink.pattern().len());
        writer.number(40, ink.pattern().iter().sum());
        for (number, length) in ink.pattern().iter().enumerate() {
            // Dashes are positive, gaps negative.
            writer.number(49, if number % 2 == 0 { *length } else { -*length });
            writer.pair(74, 0);
        }
    }
    end(writer);
}

fn layers(writer: &mut Writer, drawing: &Drawing) {
    let table = head(writer, "LAYER", 1 + INKS.len());
    entry(writer, "LAYER", table, "AcDbLayerTableRecord", "0", 0);
    writer.pair(62, 7);
    writer.pair(6, "Continuous");
    for ink in INKS {
        entry(writer, "LAYER", table, "AcDbLayerTableRecord", &layer(ink), 0);
        writer.pair(62, 7);
        writer.pair(6, line_type(ink));
        // Hundredths of a millimetre.
        writer.pair(370, (100.0 * ink.weight(&drawing.style)).round());
    }
    end(writer);
}

fn text_styles(writer: &mut Writer) {
    let table = head(writer, "STYLE", 2);
    for name in ["Standard", TEXT_STYLE] {
        entry(writer, "STYLE", table, "AcDbTextStyleTableRecord", name, 0);
        for (code, value) in [(40, "0"), (41, "1"), (50, "0"), (71, "0"), (42, "2.5"), (3, "txt"), (4, "")] {
            writer.pair(code, value);
        }
    }
    end(writer);
}

fn applications(writer: &mut Writer) {
    let table = head(writer, "APPID", 2);
    entry(writer, "APPID", table, "AcDbRegAppTableRecord", "ACAD", 0);
    entry(writer, "APPID", table, "AcDbRegAppTableRecord", APPLICATION, 0);
    end(writer);
}

fn dimension_styles(writer: &mut Writer, drawing: &Drawing) {
    let style = &drawing.style;
    let table = head(writer, "DIMSTYLE", 1);
    writer.pair(100, "AcDbDimStyleTable");
    entry(writer, "DIMSTYLE", table, "AcDbDimStyleTableRecord", DIMENSION_STYLE, 0);
    writer.number(41, style.arrow);
    writer.number(42, style.gap);
    writer.number(44, style.overshoot);
    writer.number(140, style.lettering);
    // What a distance on the paper is multiplied with to give the size in the leading unit.
    writer.pair(144, format!("{:.15}", super::length_factor(drawing)));
    writer.number(147, 1.0);
    writer.pair(77, u8::from(style.text_above_line()));
    writer.pair(271, 3);
    writer.pair(278, 46);
    end(writer);
}

fn block_records(writer: &mut Writer, dimensions: usize) -> Records {
    let table = head(writer, "BLOCK_RECORD", 2 + dimensions);
    let mut record = |name: &str| {
        let handle = writer.handle();
        writer.begin("BLOCK_RECORD", handle);
        writer.pair(330, hex(table));
        writer.pair(100, "AcDbSymbolTableRecord");
        writer.pair(100, "AcDbBlockTableRecord");
        writer.pair(2, name);
        handle
    };
    let (model_space, paper_space) = (record("*Model_Space"), record("*Paper_Space"));
    let dimensions = (0..dimensions).map(|number| record(&super::block_name(number))).collect();
    end(writer);
    Records { model_space, paper_space, dimensions }
}
