//! Properties: no text brings the reader down, and every fault has a place in the text.

use placed::{Document, Item, TableReader};
use proptest::prelude::{Strategy, any, prop, proptest};
use quantity::LengthUnit;

/// Texts that look like TOML more often than chance would have it.
fn near_toml() -> impl Strategy<Value = String> {
    let pieces = [
        "a",
        "b",
        "length",
        "\"x y\"",
        " = ",
        "=",
        ".",
        "\n",
        "\r\n",
        " ",
        "\t",
        "[",
        "]",
        "[[",
        "]]",
        "{",
        "}",
        ",",
        "#",
        "'",
        "\"",
        "'''",
        "\"\"\"",
        "\\",
        "\\u00bd",
        "31",
        "5/16",
        "0x",
        "1e9",
        "_",
        "-",
        "+",
        "inf",
        "true",
        "2026-11-25",
        "T10:00:00",
        "½",
        "\u{feff}",
        "\u{0}",
        "\u{7f}",
        "[t]\n",
        "a = 1\n",
        "[[r]]\n",
        "a.b = 2\n",
        "\n[t.u\n",
        "a = [1,\n",
        "a\n",
    ];
    prop::collection::vec(prop::sample::select(pieces.to_vec()), 0..24).prop_map(|pieces| pieces.concat())
}

/// Reads a value in every way there is.
fn read_item(item: &Item<'_>, depth: usize) {
    let _ = (item.text(), item.filled_text(), item.number(), item.integer());
    let _ = (item.boolean(), item.date(), item.count(), item.thread());
    let _ = (item.length(None), item.lengths(Some(LengthUnit::Inch)));
    let _ = item.one_of(&[("a", 1), ("b", 2)]);
    let _ = (item.raw(), item.key(), item.position(), item.number_in(0.0..=1.0));
    item.fault_within(1..3, "any", "any");
    item.fault_at_key("any", "any");
    if depth < 8 {
        for inner in item.list().unwrap_or_default() {
            read_item(&inner, depth + 1);
        }
        if let Some(table) = item.table() {
            read_table(table, depth + 1);
        }
    }
}

fn read_table(table: TableReader<'_>, depth: usize) {
    for key in ["a", "b", "length", "none"] {
        if let Some(item) = table.required(key) {
            read_item(&item, depth);
        }
        table.tables(key);
    }
    if depth.is_multiple_of(2) {
        for (_, item) in table.entries() {
            read_item(&item, depth);
        }
    }
    table.finish();
}

fn read_everything(text: &str) {
    let document = Document::parse("any.toml", text);
    read_table(document.root(), 0);
    read_table(document.root(), 1);
    let faults = document.faults();
    assert!(!faults.is_empty(), "the key `none` is never there");
    for fault in &faults {
        assert!(text.get(fault.span.clone()).is_some(), "{fault:?}");
        assert!(fault.line >= 1 && fault.line <= text.matches('\n').count() + 1);
        assert!(fault.source_line.contains(&fault.offending));
        assert!(fault.column <= fault.source_line.chars().count() + 2, "{fault:?}");
        assert!(!fault.problem.is_empty() && !fault.accepted.is_empty(), "{fault:?}");
        assert!(fault.to_string().lines().count() >= 4);
    }
    assert!(!faults.to_string().is_empty());
}

proptest! {
    #[test]
    fn no_text_brings_the_reader_down(text in any::<String>()) {
        read_everything(&text);
    }

    #[test]
    fn no_near_toml_brings_the_reader_down(text in near_toml()) {
        read_everything(&text);
    }
}

#[test]
fn wild_nesting_does_not_bring_the_reader_down() {
    for piece in ["[", "{a=", "a.", "[[", "'", "\"", "a = [\n", "a\n", "[a\n", "[a]\n[[a]]\n"] {
        read_everything(&piece.repeat(3000));
        read_everything(&format!("a = {}", piece.repeat(300)));
    }
}

#[test]
fn a_long_file_without_sense_is_read_in_good_time() {
    // Each line is mended by itself; the work must not grow with the square of their number.
    read_everything(&"please call back\n".repeat(5000));
}
