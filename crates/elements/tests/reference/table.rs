//! A table of outside values: compares, prints the worst and the usual deviation, and fails with
//! every row that is off.

use std::collections::BTreeSet;
use std::fmt::Write;

/// How well the outside number is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Standing {
    /// Seen in the published text that the table names.
    Published,
    /// Worked out independently of this crate, from the published formula or by a library.
    Computed,
    /// Remembered, not seen; counted apart and never called a validation.
    FromMemory,
}

struct Row {
    id: &'static str,
    what: String,
    got: f64,
    expected: f64,
    tolerance: f64,
    standing: Standing,
}

impl Row {
    fn deviation(&self) -> f64 {
        (self.got - self.expected).abs()
    }

    fn holds(&self) -> bool {
        // Written so that a value that is not a number fails.
        self.deviation() <= self.tolerance
    }
}

/// The rows of one topic.
pub struct Table {
    topic: &'static str,
    source: &'static str,
    rows: Vec<Row>,
}

impl Table {
    /// An empty table with the published sources it stands on.
    pub fn new(topic: &'static str, source: &'static str) -> Self {
        Self { topic, source, rows: Vec::new() }
    }

    /// Adds a row whose deviation may reach `tolerance`, in the unit of the value.
    pub fn within(
        &mut self,
        id: &'static str,
        what: impl Into<String>,
        got: f64,
        expected: f64,
        tolerance: f64,
        standing: Standing,
    ) {
        self.rows.push(Row { id, what: what.into(), got, expected, tolerance, standing });
    }

    /// Adds a row whose deviation may reach the share `tolerance` of the expected value.
    pub fn within_share(
        &mut self,
        id: &'static str,
        what: impl Into<String>,
        got: f64,
        expected: f64,
        tolerance: f64,
        standing: Standing,
    ) {
        self.within(id, what, got, expected, expected.abs() * tolerance, standing);
    }

    /// Prints the summary and fails if a row is off, or if the ids are not exactly `ids`.
    pub fn finish(self, ids: &[&str]) {
        let wanted: BTreeSet<&str> = ids.iter().copied().collect();
        let present: BTreeSet<&str> = self.rows.iter().map(|row| row.id).collect();
        assert_eq!(present, wanted, "{}: rows of the table", self.topic);

        let mut summary = format!("{} against {}", self.topic, self.source);
        for standing in [Standing::Published, Standing::Computed, Standing::FromMemory] {
            self.summarise(standing, &mut summary);
        }
        // One print, so that tables that run side by side do not mix their lines.
        println!("{summary}");
        let mut off = String::new();
        for row in self.rows.iter().filter(|row| !row.holds()) {
            let _ = writeln!(
                off,
                "{} {}: got {}, expected {} within {:e}",
                row.id, row.what, row.got, row.expected, row.tolerance
            );
        }
        assert!(off.is_empty(), "{} rows are off:\n{off}", self.topic);
    }

    fn summarise(&self, standing: Standing, summary: &mut String) {
        let mut rows: Vec<&Row> = self.rows.iter().filter(|row| row.standing == standing).collect();
        if rows.is_empty() {
            return;
        }
        // Deviation over tolerance puts lengths, stresses and pure numbers on one scale. An exact
        // row has no tolerance to divide by: it counts as nothing when met, as infinite when not.
        let share = |row: &Row| {
            if row.deviation() == 0.0 { 0.0 } else { row.deviation() / row.tolerance }
        };
        rows.sort_by(|a, b| share(a).total_cmp(&share(b)));
        let usual = rows[rows.len() / 2];
        let worst = rows[rows.len() - 1];
        let relative = rows
            .iter()
            .filter(|row| row.expected != 0.0)
            .map(|row| row.deviation() / row.expected.abs())
            .fold(0.0, f64::max);
        let _ = write!(
            summary,
            "\n  {standing:?}: {} values; worst {} {} off by {:.2e} ({:.2} of its tolerance), \
             usual {:.2} of the tolerance; worst relative {relative:.2e}",
            rows.len(),
            worst.id,
            worst.what,
            worst.deviation(),
            share(worst),
            share(usual),
        );
    }
}
