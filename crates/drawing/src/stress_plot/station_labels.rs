//! The names of the sections over the shaft, each with a line down to its place.
//!
//! A name begins at its line and runs to the right. Of two names that would meet, the one further left stands higher: its
//! line then passes no other name, for every lower name begins to the right of it.

use super::svg::text_width;

/// A name with its place.
#[derive(Debug, Clone, PartialEq)]
pub struct StationLabel<'a> {
    /// The name.
    pub words: &'a str,
    /// Where its line stands.
    pub x: f64,
    /// In which row it stands, counted from the shaft upwards.
    pub row: usize,
}

/// Room between the line and its name.
pub const AFTER_LINE: f64 = 4.0;

/// Places the names, which come in order from the left.
pub fn place<'a>(stations: &[(&'a str, f64)], height: f64) -> Vec<StationLabel<'a>> {
    let mut placed: Vec<StationLabel<'a>> = Vec::with_capacity(stations.len());
    for &(words, x) in stations.iter().rev() {
        let end = x + 2.0 * AFTER_LINE + text_width(words, height);
        let in_the_way = placed.iter().filter(|right| right.x < end).map(|right| right.row + 1);
        placed.push(StationLabel { words, x, row: in_the_way.max().unwrap_or(0) });
    }
    placed.reverse();
    placed
}

#[cfg(test)]
mod tests {
    use super::place;

    #[test]
    fn names_that_would_meet_stand_in_different_rows_the_left_one_higher() {
        let placed = place(&[("flange fillet", 10.0), ("bearing seat", 40.0), ("spline roots", 400.0)], 12.0);
        let rows: Vec<usize> = placed.iter().map(|label| label.row).collect();
        assert_eq!(rows, [1, 0, 0]);
    }
}
