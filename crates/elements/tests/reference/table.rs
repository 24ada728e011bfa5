//! A table of outside values: compares, prints one line with the worst deviation, and fails with every row that is off.

use std::collections::BTreeSet;
use std::fmt::Write as _;
use std::io::Write as _;

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

    /// Deviation over tolerance puts lengths, stresses and pure numbers on one scale. An exact row has no tolerance to divide
    /// by: it counts as nothing when met, as infinite when not.
    fn share(&self) -> f64 {
        if self.deviation() == 0.0 { 0.0 } else { self.deviation() / self.tolerance }
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

    /// Prints the topic's line and fails if a row is off, or if the ids are not exactly `ids`.
    pub fn finish(self, ids: &[&str]) {
        let wanted: BTreeSet<&str> = ids.iter().copied().collect();
        let present: BTreeSet<&str> = self.rows.iter().map(|row| row.id).collect();
        assert_eq!(present, wanted, "{}: rows of the table", self.topic);

        say(&self.line());
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

    /// The topic in one line: how many values, of what standing, the worst of them, and against what.
    fn line(&self) -> String {
        let count = |standing| self.rows.iter().filter(|row| row.standing == standing).count();
        let (published, computed) = (count(Standing::Published), count(Standing::Computed));
        let remembered = count(Standing::FromMemory);
        let counted = self.rows.iter().filter(|row| row.standing != Standing::FromMemory);
        let cases: BTreeSet<&str> = counted.map(|row| row.id).collect();
        let mut line =
            format!("{}: {} cases, {published} values published, {computed} worked out apart", self.topic, cases.len());
        let counted = self.rows.iter().filter(|row| row.standing != Standing::FromMemory);
        if let Some(worst) = counted.max_by(|one, other| one.share().total_cmp(&other.share())) {
            let _ = write!(
                line,
                "; worst {} {}, off by {:.1e} of {:.1e} ({:.0} % of its tolerance)",
                worst.id,
                worst.what,
                worst.deviation(),
                worst.tolerance,
                100.0 * worst.share()
            );
        }
        if remembered > 0 {
            let _ = write!(line, "; {remembered} more from memory, not counted as validated");
        }
        let _ = write!(line, "; against {}", self.source);
        line
    }
}

/// Says something on the test's real standard output: what `println` says is kept back where a test passes, and a reader of
/// `cargo test` is to see how well each topic was held.
pub fn say(line: &str) {
    // A reader who has gone away misses the line and nothing else.
    let _ = std::io::stdout().write_all(format!("{line}\n").as_bytes());
}
