//! Workbooks that would take more memory than a table is worth.

use std::io::{Cursor, Write};

use book::read_workbook;
use zip::ZipWriter;
use zip::write::SimpleFileOptions;

const RELATIONS: &str = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
const PACKAGE: &str = "http://schemas.openxmlformats.org/package/2006/relationships";
const MAIN: &str = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";

/// A workbook of one sheet, with more parts beside it.
fn workbook(rows: &str, more: &[(&str, &str)]) -> Vec<u8> {
    let mut writer = ZipWriter::new(Cursor::new(Vec::new()));
    let workbook = format!(
        "<workbook xmlns=\"{MAIN}\" xmlns:r=\"{RELATIONS}\"><sheets><sheet name=\"S\" sheetId=\"1\" r:id=\"r1\"/></sheets></workbook>"
    );
    let relations = format!(
        "<Relationships xmlns=\"{PACKAGE}\"><Relationship Id=\"r1\" Type=\"{RELATIONS}/worksheet\" \
         Target=\"worksheets/sheet1.xml\"/></Relationships>"
    );
    let root = format!(
        "<Relationships xmlns=\"{PACKAGE}\"><Relationship Id=\"r1\" Type=\"{RELATIONS}/officeDocument\" \
         Target=\"xl/workbook.xml\"/></Relationships>"
    );
    let sheet = format!("<worksheet xmlns=\"{MAIN}\"><sheetData>{rows}</sheetData></worksheet>");
    let parts = [
        ("_rels/.rels", root.as_str()),
        ("xl/workbook.xml", &workbook),
        ("xl/_rels/workbook.xml.rels", &relations),
        ("xl/worksheets/sheet1.xml", &sheet),
    ];
    for (name, text) in parts.iter().chain(more) {
        writer.start_file(*name, SimpleFileOptions::default()).unwrap();
        writer.write_all(text.as_bytes()).unwrap();
    }
    writer.finish().unwrap().into_inner()
}

fn cell(name: &str, row: usize) -> String {
    format!("<row r=\"{row}\"><c r=\"{name}\" t=\"str\"><v>x</v></c></row>")
}

#[test]
fn a_table_begins_where_its_first_cell_is() {
    let rows = read_workbook("t.xlsx", &workbook(&(cell("C3", 3) + &cell("B5", 5)), &[])).unwrap();
    let said = |texts: &[&str]| texts.iter().map(|text| (*text).to_owned()).collect::<Vec<_>>();
    assert_eq!(rows, [(3, said(&["", "x"])), (5, said(&["x"]))]);
}

#[test]
fn a_cell_far_away_is_refused_by_its_name() {
    let far = workbook(&(cell("A1", 1) + &cell("XFD1048576", 1_048_576)), &[]);
    assert!(far.len() < 2_000, "{}", far.len());
    let faults = read_workbook("t.xlsx", &far).unwrap_err();
    assert_eq!((faults.len(), faults[0].row), (1, 1_048_576));
    assert_eq!(faults[0].problem, "the cell XFD1048576 lies outside of any table");
    assert!(read_workbook("t.xlsx", &workbook(&cell("SF10000", 10_000), &[])).is_ok());
    assert!(read_workbook("t.xlsx", &workbook(&cell("SG1", 1), &[])).is_err());
    assert!(read_workbook("t.xlsx", &workbook(&cell("A10001", 10_001), &[])).is_err());
}

#[test]
fn a_part_that_unpacks_large_is_refused_whatever_it_says() {
    let blanks = " ".repeat(65 * 1024 * 1024);
    let large = workbook(&cell("A1", 1), &[("xl/media/blank.bin", &blanks)]);
    assert!(large.len() < 200_000, "{}", large.len());
    let refused = |bytes: &[u8]| read_workbook("t.xlsx", bytes).unwrap_err()[0].problem.clone();
    assert_eq!(refused(&large), "the workbook holds more than 64 MiB once it is unpacked");
    // The same file, saying that the part holds four bytes.
    let size = u32::try_from(blanks.len()).unwrap().to_le_bytes();
    let mut liar = large.clone();
    for at in 0..liar.len() - 4 {
        if liar[at..at + 4] == size {
            liar[at..at + 4].copy_from_slice(&4_u32.to_le_bytes());
        }
    }
    assert_ne!(liar, large);
    assert!(read_workbook("t.xlsx", &liar).is_err());
}

#[test]
fn a_list_of_texts_longer_than_its_file_is_refused() {
    let texts = |count: &str| {
        format!("<sst xmlns=\"{MAIN}\" count=\"1\" uniqueCount=\"{count}\"><si><t>Weir Dairy</t></si></sst>")
    };
    let read =
        |count: &str| read_workbook("t.xlsx", &workbook(&cell("A1", 1), &[("xl/sharedStrings.xml", &texts(count))]));
    assert!(read("1").is_ok());
    let faults = read("99999999999999").unwrap_err();
    assert!(faults[0].problem.contains("more texts than it has room for"), "{}", faults[0].problem);
}
