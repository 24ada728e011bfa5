//! What is known of the axle behind an order of the demo. Lengths are millimetres.

use axle::{DimensionKind, Side};
use catalog::{Measurand, MistakeKind};
use placed::{Document, Item, TableReader};
use quantity::LengthExt;

/// One file of `demo/truth`.
pub struct Truth {
    pub expected_verdict: Vec<String>,
    /// The mistakes that were planted in the order: none, one or two.
    pub planted: Vec<Planted>,
    /// The smallest and the largest size that fit, by dimension.
    pub fits: Vec<(DimensionKind, Option<Side>, f64, f64)>,
    /// What the new shaft should be, and the true sizes of the old axle.
    make: Vec<(Measurand, Option<Side>, f64)>,
    sizes: Vec<(Measurand, Option<Side>, f64)>,
}

/// A mistake that was planted in an order.
pub struct Planted {
    pub mistake: MistakeKind,
    pub can_be_seen: bool,
    pub readings: Vec<ShouldSay>,
}

/// A spoiled reading and what it should say: millimetres, or a count.
pub struct ShouldSay {
    pub measurand: Measurand,
    pub side: Option<Side>,
    /// Who read it, where more than one person did.
    pub by: Option<String>,
    pub says: f64,
}

const SIDES: [(&str, Side); 2] = [("left", Side::Left), ("right", Side::Right)];

impl Truth {
    /// Reads a file of the truth.
    pub fn read(name: &str, text: &str) -> Self {
        let document = Document::parse(name, text);
        let root = document.root();
        let truth = Self {
            expected_verdict: strings(&required(&root, "expected_verdict")),
            planted: root.tables("planted").iter().map(Planted::read).collect(),
            fits: root.table("fits").map(|table| fits(&table)).unwrap_or_default(),
            make: root.table("make").map(|table| sizes(&table, None)).unwrap_or_default(),
            sizes: [("shared", None), ("left", Some(Side::Left)), ("right", Some(Side::Right))]
                .into_iter()
                .filter_map(|(section, side)| root.table(section).map(|table| sizes(&table, side)))
                .flatten()
                .collect(),
        };
        let faults = document.faults();
        assert!(faults.is_empty(), "{faults}");
        truth
    }

    /// The size that the new shaft should have, or else the true size of the old one. Where a new brake moves the shoulder,
    /// the bearing moves along.
    pub fn size(&self, measurand: Measurand, side: Option<Side>) -> Option<f64> {
        if measurand == Measurand::RaceDistance {
            let shoulder = find(&self.make, Measurand::ShoulderDistance, None)?;
            let old_shoulder = find(&self.sizes, Measurand::ShoulderDistance, None)?;
            return find(&self.sizes, measurand, None).map(|race| race - old_shoulder + shoulder);
        }
        find(&self.make, measurand, side).or_else(|| find(&self.sizes, measurand, side))
    }
}

fn find(sizes: &[(Measurand, Option<Side>, f64)], measurand: Measurand, side: Option<Side>) -> Option<f64> {
    sizes.iter().find(|(one, at, _)| *one == measurand && *at == side).map(|(_, _, size)| *size)
}

impl Planted {
    fn read(table: &TableReader<'_>) -> Self {
        let key = required(table, "mistake");
        let tables = table.tables("readings");
        let readings = tables.iter().map(|reading| {
            let measurand = key_of(&required(reading, "measurand"));
            let side = reading.optional("side").and_then(|item| item.one_of(&SIDES));
            let by = reading.optional("by").and_then(|item| item.text()).map(str::to_owned);
            ShouldSay { measurand, side, by, says: number(&required(reading, "should_say"), measurand) }
        });
        Self {
            mistake: key.text().and_then(MistakeKind::from_key).expect("a known mistake"),
            can_be_seen: required(table, "can_be_seen").boolean().expect("true or false"),
            readings: readings.collect(),
        }
    }
}

/// The sizes under a table's keys, with those of `left` and `right` below it.
fn sizes(table: &TableReader<'_>, side: Option<Side>) -> Vec<(Measurand, Option<Side>, f64)> {
    let mut all = Vec::new();
    for (key, item) in table.entries() {
        match SIDES.iter().find(|(word, _)| *word == key) {
            Some((_, side)) => all.extend(sizes(&item.table().expect("a table of one side"), Some(*side))),
            None => {
                let measurand = Measurand::from_key(key).expect("a known measurand");
                all.push((measurand, side, number(&item, measurand)));
            }
        }
    }
    all
}

fn fits(table: &TableReader<'_>) -> Vec<(DimensionKind, Option<Side>, f64, f64)> {
    let mut all = Vec::new();
    for (key, item) in table.entries() {
        match SIDES.iter().find(|(word, _)| *word == key) {
            Some((_, side)) => {
                let below = item.table().expect("a table of one side");
                all.extend(fits(&below).into_iter().map(|(kind, _, least, most)| (kind, Some(*side), least, most)));
            }
            None => {
                let ends: Vec<f64> = item
                    .list()
                    .expect("two sizes")
                    .iter()
                    .map(|end| end.length(None).expect("a size").value().millimetres())
                    .collect();
                all.push((dimension_of(key), None, ends[0], ends[1]));
            }
        }
    }
    all
}

fn dimension_of(key: &str) -> DimensionKind {
    match key {
        "overall_length" => DimensionKind::OverallLength,
        "brake_offset" => DimensionKind::BrakeOffset,
        "register_diameter" => DimensionKind::RegisterDiameter,
        "flange_diameter" => DimensionKind::FlangeDiameter,
        _ => panic!("no dimension {key:?}"),
    }
}

fn number(item: &Item<'_>, measurand: Measurand) -> f64 {
    if measurand.is_count() {
        f64::from(item.count().expect("a count"))
    } else {
        item.length(None).expect("a size").value().millimetres()
    }
}

fn key_of(item: &Item<'_>) -> Measurand {
    item.text().and_then(Measurand::from_key).expect("a known measurand")
}

fn strings(item: &Item<'_>) -> Vec<String> {
    item.list().expect("a list").iter().map(|one| one.text().expect("a text").to_owned()).collect()
}

fn required<'d>(table: &TableReader<'d>, key: &str) -> Item<'d> {
    table.required(key).unwrap_or_else(|| panic!("{key} is missing"))
}
