//! Every table of the book, in an order in which they can be filled: what others point at comes first.

use crate::work_record;

/// A table.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Table {
    pub name: &'static str,
    pub columns: &'static [&'static str],
    /// The columns of its primary key, by which it is read page by page.
    pub key: &'static [&'static str],
}

const fn table(name: &'static str, columns: &'static [&'static str], key: &'static [&'static str]) -> Table {
    Table { name, columns, key }
}

/// The tables that a backup holds: all but the sessions, whose tokens are worth nothing elsewhere, and the steps of the schema.
pub(crate) const TABLES: &[Table] = &[
    table("counter", &["name", "value"], &["name"]),
    table("event", &["sequence", "at", "who", "kind", "order_number", "body", "hash"], &["sequence"]),
    table("log_end", &["one", "sequence", "hash"], &["one"]),
    table(
        "orders",
        &[
            "number",
            "reference",
            "reference_key",
            "customer",
            "contact",
            "vehicle",
            "axle",
            "due",
            "state",
            "state_since",
            "revision",
            "approved_revision",
            "overruled",
            "verdict",
            "fit",
            "doubt",
            "catalog_mark",
            "reviewed_at",
            "placed_at",
            "placed_by",
            "changed_at",
        ],
        &["number"],
    ),
    table(
        "revision",
        &["order_number", "revision", "base", "at", "who", "reason", "customer", "contact", "vehicle", "due", "sheet"],
        &["order_number", "revision"],
    ),
    table(
        "reading_change",
        &["order_number", "revision", "position", "measurand", "side", "was", "becomes"],
        &["order_number", "revision", "position"],
    ),
    table("decided_size", &["order_number", "kind", "side", "size"], &["order_number", "kind", "side"]),
    table("search_word", &["word", "order_number"], &["word", "order_number"]),
    table("message", &["number", "order_number", "at", "who", "direction", "words"], &["number"]),
    table(
        "photo",
        &["number", "order_number", "at", "who", "name", "caption", "media_type", "width", "height", "size", "digest"],
        &["number"],
    ),
    table("photo_picture", &["photo_number", "picture", "thumbnail"], &["photo_number"]),
    table("account", &["number", "name", "name_key", "role", "secret", "active", "created_at"], &["number"]),
    table(
        "token",
        &["number", "name", "name_key", "role", "token_digest", "made_at", "made_by", "revoked_at", "used_on"],
        &["number"],
    ),
    table("sign_in", &["number", "at", "name", "name_key", "address", "outcome"], &["number"]),
    table("draft", &["account_number", "topic", "words", "base", "saved_at"], &["account_number", "topic"]),
    table("saved_view", &["account_number", "name", "body"], &["account_number", "name"]),
    table("rereview", &["number", "started_at", "finished_at", "who", "catalog_mark", "orders", "done"], &["number"]),
    table(
        "rereview_change",
        &["rereview_number", "order_number", "at", "verdict_was", "verdict_becomes", "fit_was", "fit_becomes", "why"],
        &["rereview_number", "order_number"],
    ),
    table(
        "inspected_size",
        &["order_number", "position", "revision", "at", "who", "kind", "side", "written", "size", "passed"],
        &["order_number", "position"],
    ),
    table("work_record", work_record::COLUMNS, &["order_number", "position"]),
];

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use super::TABLES;
    use crate::migration::STEPS;

    /// Read out of the migrations themselves, so that a backup cannot forget a table or a column.
    #[test]
    fn every_table_and_column_of_the_schema_is_listed() {
        let mut made: BTreeMap<String, Vec<String>> = BTreeMap::new();
        for step in STEPS {
            let mut table = None;
            for line in step.lines() {
                let words: Vec<&str> = line.split_whitespace().collect();
                match words.as_slice() {
                    ["CREATE", "TABLE", name, "("] => table = Some((*name).to_owned()),
                    [");"] => table = None,
                    [first, ..]
                        if line.starts_with("    ") && first.chars().all(|one| one.is_lowercase() || one == '_') =>
                    {
                        if let Some(table) = &table {
                            made.entry(table.clone()).or_default().push((*first).to_owned());
                        }
                    }
                    _ => {}
                }
            }
        }
        assert_eq!(made.remove("session").map(|columns| columns.len()), Some(5));
        assert_eq!(made.len(), TABLES.len());
        for table in TABLES {
            assert_eq!(made[table.name], table.columns, "{}", table.name);
            assert!(table.key.iter().all(|key| table.columns.contains(key)), "{}", table.name);
        }
    }
}
