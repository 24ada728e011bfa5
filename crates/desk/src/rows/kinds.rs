//! The kinds of rows: their file, what a row is known by, and its keys in the order in which a form asks for them. A test holds
//! this table against the shipped files.

/// How the rows of a kind stand in their file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Table {
    /// A list of tables, each known by these keys.
    List { name: &'static str, keys: &'static [&'static str] },
    /// One table for each, known by its name; the names are a closed list.
    Named,
}

/// What a key holds, as far as a form has to know.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Shape {
    /// A text: words, a size with its unit, a thread.
    Text,
    /// Words of some length.
    Words,
    /// One of these words.
    Choice(&'static [&'static str]),
    /// A number.
    Number,
    /// A number, or a text with a unit.
    NumberOrText,
    /// Yes or no.
    Flag,
    /// `mean` and `deviation`.
    Spread,
    /// A smallest and a largest.
    Range,
    /// A list of texts, one a line.
    List,
    /// A list of tables, one a line: `teeth = 28, weight = 6`.
    Entries,
    /// A table of numbers by name, one a line: `rusty = 0.1`.
    Shares,
    /// A table with keys of its own, given whole or not at all.
    Part(&'static [Field]),
}

/// A key of a row.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Field {
    pub key: &'static str,
    pub shape: Shape,
    /// Whether it may be left out.
    pub optional: bool,
    /// Whether the table of the kind has a column for it.
    pub column: bool,
}

/// A kind of rows.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Kind {
    /// How it stands in an address.
    pub address: &'static str,
    /// The heading of its page.
    pub words: &'static str,
    /// One of it.
    pub one: &'static str,
    /// The file.
    pub file: &'static str,
    pub table: Table,
    pub fields: &'static [Field],
    /// What it is for, in a sentence.
    pub meaning: &'static str,
}

impl Kind {
    /// Whether rows can be added and taken out.
    pub fn is_open(&self) -> bool {
        matches!(self.table, Table::List { .. })
    }

    /// The keys that a row is known by; none where the name of its table does that.
    pub fn keys(&self) -> &'static [&'static str] {
        match self.table {
            Table::List { keys, .. } => keys,
            Table::Named => &[],
        }
    }
}

/// The kind at an address.
pub(crate) fn kind_at(address: &str) -> Option<&'static Kind> {
    KINDS.iter().find(|kind| kind.address == address)
}

const fn field(key: &'static str, shape: Shape) -> Field {
    Field { key, shape, optional: false, column: true }
}

const fn aside(key: &'static str, shape: Shape) -> Field {
    Field { key, shape, optional: false, column: false }
}

const fn optional(key: &'static str, shape: Shape) -> Field {
    Field { key, shape, optional: true, column: false }
}

const SOURCE: Field = Field { key: "source", shape: Shape::Text, optional: false, column: false };

const RATING: [Field; 7] = [
    field("dynamic_kn", Shape::Number),
    field("static_kn", Shape::Number),
    optional("f0", Shape::Number),
    optional("e", Shape::Number),
    optional("y", Shape::Number),
    optional("y0", Shape::Number),
    SOURCE,
];

/// Every kind, the parts first.
pub(crate) const KINDS: [Kind; 13] = [
    Kind {
        address: "bearings",
        words: "Bearings",
        one: "bearing",
        file: "bearings.toml",
        table: Table::List { name: "bearing", keys: &["name"] },
        fields: &[
            field("name", Shape::Text),
            field("kind", Shape::Choice(&["ball", "tapered"])),
            field("bore", Shape::Text),
            field("outside", Shape::Text),
            field("inner_width", Shape::Text),
            field("outer_width", Shape::Text),
            field("race_offset", Shape::Spread),
            aside("width_deviation", Shape::Text),
            aside("seat_interference", Shape::Range),
            optional("rating", Shape::Part(&RATING)),
            field("weight", Shape::Number),
            SOURCE,
        ],
        meaning: "Wheel bearings that may sit on an old shaft or go on a new one, by dimension.",
    },
    Kind {
        address: "housing-ends",
        words: "Housing ends",
        one: "housing end",
        file: "housing_ends.toml",
        table: Table::List { name: "housing_end", keys: &["name"] },
        fields: &[
            field("name", Shape::Text),
            field("bolt_rectangle_long", Shape::Text),
            field("bolt_rectangle_short", Shape::Text),
            field("bolt_hole", Shape::Text),
            field("bore_diameter", Shape::Text),
            field("bore_depth", Shape::Spread),
            field("weight", Shape::Number),
            SOURCE,
        ],
        meaning: "The flanged ends of axle housings that the shop meets: bolt rectangle, bearing bore and its depth.",
    },
    Kind {
        address: "splines",
        words: "Splines",
        one: "spline series",
        file: "splines.toml",
        table: Table::List { name: "spline", keys: &["name"] },
        fields: &[
            field("name", Shape::Text),
            field("system", Shape::Choice(&["ANSI B92.1", "ISO 4156", "DIN 5480"])),
            Field { key: "pitch", shape: Shape::Text, optional: true, column: true },
            optional("root", Shape::Choice(&["fillet", "flat"])),
            Field { key: "module", shape: Shape::Text, optional: true, column: true },
            field("pressure_angle", Shape::Number),
            field("undersize", Shape::Spread),
            field("weight", Shape::Number),
            aside("counts", Shape::Entries),
            SOURCE,
        ],
        meaning: "Spline series. The page of each tells the tooth counts that are met in it.",
    },
    Kind {
        address: "bolt-circles",
        words: "Bolt circles",
        one: "bolt circle",
        file: "bolt_circles.toml",
        table: Table::List { name: "bolt_circle", keys: &["holes", "diameter"] },
        fields: &[
            field("holes", Shape::Number),
            field("diameter", Shape::Text),
            field("weight", Shape::Number),
            SOURCE,
        ],
        meaning: "Wheel bolt circles. A reading is never snapped to the nearest row: two chords settle the circle.",
    },
    Kind {
        address: "studs",
        words: "Studs",
        one: "stud",
        file: "studs.toml",
        table: Table::List { name: "stud", keys: &["thread"] },
        fields: &[field("thread", Shape::Text), field("knurl", Shape::Range), field("hole", Shape::Range), SOURCE],
        meaning: "Press-in wheel studs: thread, knurl, and the hole that is drilled for it in the flange.",
    },
    Kind {
        address: "brakes",
        words: "Brakes",
        one: "brake",
        file: "brakes.toml",
        table: Table::List { name: "brake", keys: &["name"] },
        fields: &[
            field("name", Shape::Text),
            field("kind", Shape::Choice(&["drum", "disc"])),
            field("required_offset", Shape::Text),
            field("bore", Shape::Text),
            field("inside", Shape::Text),
            SOURCE,
        ],
        meaning: "What a new shaft has to suit when the brake is another one than the old shaft carried.",
    },
    Kind {
        address: "differentials",
        words: "Differentials",
        one: "differential",
        file: "differentials.toml",
        table: Table::List { name: "differential", keys: &["name"] },
        fields: &[
            field("name", Shape::Text),
            field("half_pin", Shape::Spread),
            field("end_clearance", Shape::Spread),
            field("gear_reach", Shape::Spread),
            optional("locks", Shape::Flag),
            SOURCE,
        ],
        meaning: "How far in a shaft may reach, and how far the side gear reaches out over it.",
    },
    Kind {
        address: "steels",
        words: "Steels",
        one: "steel",
        file: "steels.toml",
        table: Table::List { name: "steel", keys: &["grade", "treatment"] },
        fields: &[
            field("grade", Shape::Text),
            field("treatment", Shape::Text),
            field("tensile_strength", Shape::Number),
            field("yield_strength", Shape::Number),
            SOURCE,
        ],
        meaning: "Steels for shafts, with the strengths of the core by grade and heat treatment.",
    },
    Kind {
        address: "instruments",
        words: "Instruments",
        one: "instrument",
        file: "instruments.toml",
        table: Table::List { name: "instrument", keys: &["name"] },
        fields: &[
            field("name", Shape::Text),
            Field { key: "standard_uncertainty", shape: Shape::Text, optional: true, column: true },
            Field { key: "half_width", shape: Shape::Text, optional: true, column: true },
            optional("half_width_per_metre", Shape::Text),
            optional("whole_metres", Shape::Flag),
            optional("shape", Shape::Choice(&["rectangular", "triangular", "arcsine"])),
            field("step", Shape::Text),
            Field { key: "repeatability", shape: Shape::Text, optional: true, column: true },
            optional("set_up", Shape::Text),
            SOURCE,
        ],
        meaning: "What a reading can be taken with, and how far it can then be trusted.",
    },
    Kind {
        address: "mistakes",
        words: "Mistakes",
        one: "mistake",
        file: "mistakes.toml",
        table: Table::Named,
        fields: &[
            field("words", Shape::Words),
            field("rate", Shape::Number),
            Field { key: "together", shape: Shape::Number, optional: true, column: true },
            Field { key: "rate_when", shape: Shape::Shares, optional: true, column: true },
            optional("spoils", Shape::List),
            optional("sizes", Shape::Entries),
            optional("spread", Shape::Text),
            SOURCE,
        ],
        meaning: "What people get wrong when they measure and write down, and how often. The page of each tells by how much, where the parts do not say so themselves.",
    },
    Kind {
        address: "measurands",
        words: "Measurands",
        one: "measurand",
        file: "measurands.toml",
        table: Table::Named,
        fields: &[
            field("words", Shape::Text),
            field("sides", Shape::Choice(&["each", "whole", "either"])),
            field("accepted", Shape::Range),
            field("usual", Shape::Range),
            field("instrument", Shape::Text),
            aside("better_instrument", Shape::Text),
            aside("set_up", Shape::Text),
            field("effort_minutes", Shape::Number),
            aside("how", Shape::Words),
            SOURCE,
        ],
        meaning: "What can be read for an order: its usual size, what it is read with, and how to take it.",
    },
    Kind {
        address: "inquiries",
        words: "Inquiries",
        one: "inquiry",
        file: "inquiries.toml",
        table: Table::List { name: "inquiry", keys: &["name"] },
        fields: &[
            field("name", Shape::Text),
            field("words", Shape::Words),
            aside("how", Shape::Words),
            aside("readings", Shape::List),
            optional("needs_old_shaft", Shape::Flag),
            field("effort_minutes", Shape::Number),
            SOURCE,
        ],
        meaning: "Several readings that are taken in one go, by a better way than each alone.",
    },
    Kind {
        address: "loads",
        words: "Loads",
        one: "load",
        file: "loads.toml",
        table: Table::List { name: "load", keys: &["use", "input"] },
        fields: &[
            field("use", Shape::Choice(&["any", "street", "tow", "off-road", "competition"])),
            field("input", Shape::Text),
            field("mild", Shape::NumberOrText),
            field("harsh", Shape::NumberOrText),
            SOURCE,
        ],
        meaning: "What the inputs of a proof of strength are taken to be where an order sheet does not state them.",
    },
];

/// The settings, whose sections are changed as rows are. Their keys come from the shipped file.
pub(crate) const SETTINGS: Kind = Kind {
    address: "settings",
    words: "Settings",
    one: "section",
    file: "settings.toml",
    table: Table::Named,
    fields: &[],
    meaning: "The shop's own decisions: clearances, tolerances, losses, thresholds and beliefs.",
};
