//! The rows of a kind out of the files that lie on top of each other: shipped, the shop's own, learned.

use quantity::{LengthExt, read_length};
use toml_edit::{DocumentMut, InlineTable, Item, TableLike, Value};

use super::kinds::{Kind, Table};

/// The source of what nobody has seen in print.
const FROM_MEMORY: &str = "from memory, check";

/// The keys of a row with what they hold, in the order of the file.
pub(crate) type Fields = Vec<(String, Value)>;

/// Where a row stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Standing {
    /// As it came with the program.
    Shipped,
    /// The shop's own, of a name that the shipped catalog does not hold.
    Own,
    /// Shipped, and changed by the shop.
    Overriding,
    /// What was learned from finished orders stands on top.
    Learned,
    /// Shipped, and taken out by the shop.
    TakenOut,
}

impl Standing {
    /// In words.
    pub fn words(self) -> &'static str {
        match self {
            Self::Shipped => "shipped",
            Self::Own => "shop's own",
            Self::Overriding => "overriding",
            Self::Learned => "learned",
            Self::TakenOut => "taken out",
        }
    }
}

/// A row with its layers.
#[derive(Debug, Clone)]
pub(crate) struct Row {
    /// What it is known by, as pages write it.
    pub name: String,
    /// What it is, with all layers on top of each other.
    pub fields: Fields,
    /// What stands below the shop's own file.
    pub shipped: Option<Fields>,
    /// What the shop's own file gives.
    pub own: Option<Fields>,
    /// Whether a learned file gives it.
    pub learned: bool,
    pub standing: Standing,
    /// The comment that stands over it in the file that gave it first.
    pub comment: String,
    canonical: String,
}

impl Row {
    /// The text of a key, where it is a text.
    pub fn text(&self, key: &str) -> Option<&str> {
        self.value(key)?.as_str()
    }

    /// What a key holds.
    pub fn value(&self, key: &str) -> Option<&Value> {
        value_in(&self.fields, key)
    }

    /// Whether the row counts: it was not taken out.
    pub fn counts(&self) -> bool {
        self.standing != Standing::TakenOut
    }

    /// Where the row comes from.
    pub fn source(&self) -> &str {
        self.text("source").unwrap_or_default()
    }

    /// Whether the row as a whole is from memory.
    pub fn is_from_memory(&self) -> bool {
        self.source() == FROM_MEMORY
    }

    /// The parts of the row that say of themselves that they are from memory, as the load ratings of a bearing may.
    pub fn parts_from_memory(&self) -> impl Iterator<Item = &str> {
        let is_unseen =
            |value: &Value| value.as_inline_table()?.get("source")?.as_str().map(|source| source.trim() == FROM_MEMORY);
        self.fields.iter().filter(move |(_, value)| is_unseen(value) == Some(true)).map(|(key, _)| key.as_str())
    }

    /// Whether the row counts and holds something that is to be checked.
    pub fn is_to_check(&self) -> bool {
        self.counts() && (self.is_from_memory() || self.parts_from_memory().next().is_some())
    }
}

/// What a key of some fields holds.
pub(crate) fn value_in<'f>(fields: &'f Fields, key: &str) -> Option<&'f Value> {
    fields.iter().find(|(known, _)| known == key).map(|(_, value)| value)
}

/// The rows of a kind.
#[derive(Debug, Clone)]
pub(crate) struct Layers {
    pub rows: Vec<Row>,
}

impl Layers {
    /// The rows of a kind out of the shop's files. The files were read by the catalog before; one that cannot be parsed holds no
    /// rows here.
    pub fn of(kind: &Kind, files: &[(String, String)]) -> Self {
        let mut rows = Vec::new();
        if let Some((_, text)) = catalog::shipped_texts().find(|(name, _)| *name == kind.file) {
            lay(&mut rows, kind, text, Layer::Shipped);
        }
        let named = |path: &str, name: &str| path.rsplit(['/', '\\']).next() == Some(name);
        let learned = format!("learned_{}", kind.file);
        for (_, text) in files.iter().filter(|(path, _)| named(path, kind.file)) {
            lay(&mut rows, kind, text, Layer::Own);
        }
        for (_, text) in files.iter().filter(|(path, _)| named(path, &learned)) {
            lay(&mut rows, kind, text, Layer::Learned);
        }
        Self { rows }
    }

    /// The row of a name.
    pub fn row(&self, name: &str) -> Option<&Row> {
        self.rows.iter().find(|row| row.name == name)
    }

    /// The row that is known by the same as some fields, however the sizes are written.
    pub fn same_as(&self, kind: &Kind, fields: &Fields) -> Option<&Row> {
        let canonical = canonical_of(kind.keys(), fields);
        self.rows.iter().find(|row| row.canonical == canonical)
    }

    /// How many rows count.
    pub fn count(&self) -> usize {
        self.rows.iter().filter(|row| row.counts()).count()
    }
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Layer {
    Shipped,
    Own,
    Learned,
}

fn lay(rows: &mut Vec<Row>, kind: &Kind, text: &str, layer: Layer) {
    for given in fields_in(kind, text) {
        let known = rows.iter_mut().find(|row| row.canonical == given.canonical);
        let removed = value_in(&given.fields, "remove").and_then(Value::as_bool) == Some(true);
        match known {
            Some(row) => {
                if removed {
                    row.standing = Standing::TakenOut;
                } else {
                    merge(&mut row.fields, &given.fields);
                    row.standing = match layer {
                        Layer::Learned => Standing::Learned,
                        _ if row.shipped.is_some() => Standing::Overriding,
                        _ => Standing::Own,
                    };
                }
                row.learned |= layer == Layer::Learned;
                if layer == Layer::Own {
                    row.own = Some(given.fields);
                }
            }
            None => rows.push(Row {
                name: given.name,
                shipped: (layer == Layer::Shipped).then(|| given.fields.clone()),
                own: (layer == Layer::Own).then(|| given.fields.clone()),
                learned: layer == Layer::Learned,
                standing: match layer {
                    Layer::Shipped => Standing::Shipped,
                    Layer::Own => Standing::Own,
                    Layer::Learned => Standing::Learned,
                },
                fields: given.fields,
                comment: given.comment,
                canonical: given.canonical,
            }),
        }
    }
}

/// A row as one file gives it.
#[derive(Debug, Clone)]
pub(crate) struct Given {
    pub name: String,
    pub fields: Fields,
    pub comment: String,
    pub canonical: String,
}

/// The rows that a text gives, in its order.
pub(crate) fn fields_in(kind: &Kind, text: &str) -> Vec<Given> {
    let Ok(document) = text.parse::<DocumentMut>() else { return Vec::new() };
    let root = document.as_table();
    match kind.table {
        Table::Named => {
            let mut found = Vec::new();
            named_in(root, "", &mut found);
            found
        }
        Table::List { name, keys } => match root.get(name) {
            Some(Item::ArrayOfTables(list)) => {
                list.iter().map(|table| listed(table, keys, comment_of(table.decor()))).collect()
            }
            Some(Item::Value(Value::Array(list))) => list
                .iter()
                .filter_map(|value| Some(listed(value.as_inline_table()?, keys, comment_of(value.decor()))))
                .collect(),
            _ => Vec::new(),
        },
    }
}

/// Tables by their name; a table within a table is known by both names with a point between.
fn named_in(table: &dyn TableLike, before: &str, found: &mut Vec<Given>) {
    for (key, item) in table.iter() {
        let Item::Table(inner) = item else { continue };
        let name = if before.is_empty() { key.to_owned() } else { format!("{before}.{key}") };
        found.push(Given {
            fields: plain_fields(inner),
            comment: comment_of(inner.decor()),
            canonical: name.clone(),
            name: name.clone(),
        });
        named_in(inner, &name, found);
    }
}

fn listed(table: &dyn TableLike, keys: &[&str], comment: String) -> Given {
    let fields = plain_fields(table);
    let values: Vec<&Value> = keys.iter().filter_map(|key| value_in(&fields, key)).collect();
    let name = name_of(keys, &values);
    let canonical = canonical_of(keys, &fields);
    // A comment may stand over the row or over its first key.
    let first = table.iter().next().and_then(|(name, _)| table.key(name)).map(|key| comment_of(key.leaf_decor()));
    let comment = [comment, first.unwrap_or_default()].join(" ").trim().to_owned();
    Given { name, canonical, comment, fields }
}

fn canonical_of(keys: &[&str], fields: &Fields) -> String {
    let values = keys.iter().filter_map(|key| value_in(fields, key));
    values.map(canonical).collect::<Vec<_>>().join("|")
}

/// What some fields of a kind are known by.
pub(crate) fn name_of_row(kind: &Kind, fields: &Fields) -> String {
    let values: Vec<&Value> = kind.keys().iter().filter_map(|key| value_in(fields, key)).collect();
    name_of(kind.keys(), &values)
}

/// What a row is known by, as pages write it: `5 holes on 4.5"`, `1541, hot-rolled`.
fn name_of(keys: &[&str], values: &[&Value]) -> String {
    let texts: Vec<String> = values.iter().map(|value| plain(value)).collect();
    if let (["holes", "diameter"], [holes, diameter]) = (keys, texts.as_slice()) {
        return format!("{holes} holes on {diameter}");
    }
    texts.join(", ")
}

/// The same for two ways of writing the same size.
fn canonical(value: &Value) -> String {
    let text = plain(value);
    match read_length(&text, None) {
        Ok(length) => format!("{:.5}", length.value().millimetres()),
        Err(_) => text.trim().to_owned(),
    }
}

/// A value without quotation marks.
pub(crate) fn plain(value: &Value) -> String {
    match value {
        Value::String(text) => text.value().clone(),
        Value::Integer(number) => number.value().to_string(),
        Value::Float(number) => {
            // As it was written, where it was: 1e-7 stays 1e-7.
            number
                .as_repr()
                .and_then(|repr| repr.as_raw().as_str())
                .map_or_else(|| number.value().to_string(), str::to_owned)
        }
        Value::Boolean(flag) => flag.value().to_string(),
        other => other.to_string().trim().to_owned(),
    }
}

/// The keys of a table that hold a value; tables below it are rows of their own.
fn plain_fields(table: &dyn TableLike) -> Fields {
    table
        .iter()
        .filter_map(|(key, item)| match item {
            Item::Value(value) => Some((key.to_owned(), value.clone().decorated("", ""))),
            Item::ArrayOfTables(_) => Some((key.to_owned(), item.clone().into_value().ok()?)),
            _ => None,
        })
        .collect()
}

fn comment_of(decor: &toml_edit::Decor) -> String {
    words_of_comment(decor.prefix().and_then(toml_edit::RawString::as_str).unwrap_or_default())
}

/// The words of the comment lines that stand right before something; what is followed by an empty line belongs to the file.
pub(crate) fn words_of_comment(text: &str) -> String {
    let mut block: Vec<&str> = Vec::new();
    // What follows the last line break is the indent of the thing itself.
    let before = text.rsplit_once('\n').map_or("", |(before, _)| before);
    for line in before.split('\n').map(str::trim) {
        match line.strip_prefix('#') {
            Some(words) if !words.trim().starts_with("----") => block.push(words.trim()),
            _ => block.clear(),
        }
    }
    block.join(" ")
}

/// Puts fields on top of others: of `mean` and `deviation`, and of `least` and `most`, one may be given alone.
pub(crate) fn merge(fields: &mut Fields, above: &Fields) {
    for (key, value) in above {
        match fields.iter_mut().find(|(known, _)| known == key) {
            Some((_, old)) => match (old.as_inline_table_mut(), value.as_inline_table()) {
                (Some(old), Some(new)) if is_partial(new) => lay_over(old, new),
                _ => *old = value.clone(),
            },
            None => fields.push((key.clone(), value.clone())),
        }
    }
}

fn is_partial(table: &InlineTable) -> bool {
    table.iter().all(|(key, _)| matches!(key, "mean" | "deviation" | "least" | "most"))
}

fn lay_over(old: &mut InlineTable, new: &InlineTable) {
    for (key, value) in new {
        old.insert(key, value.clone());
    }
}
