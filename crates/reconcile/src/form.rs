//! Linear forms of the unknowns.

use std::sync::Arc;

/// A linear form `a·x + b` of the unknowns `x`, sparse in `a`.
///
/// ```
/// use reconcile::Form;
/// // Overall length = brake offset + reach − end clearance, for unknowns 0, 1 and 2.
/// let length = Form::new([(0, 1.0), (1, 1.0), (2, -1.0)], 0.0);
/// assert_eq!(length.at(&[60.0, 740.0, 5.0]), 795.0);
/// // Terms of one unknown are gathered, so forms can be added freely.
/// let twice = length.plus(&length);
/// assert_eq!(twice.terms(), [(0, 2.0), (1, 2.0), (2, -2.0)]);
/// ```
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Form {
    /// Shared, since most readings that mean something else differ by a constant alone.
    terms: Arc<[(usize, f64)]>,
    constant: f64,
}

impl Form {
    /// The form with these terms (index of the unknown, coefficient) and this constant. Terms of the same unknown are
    /// added up; terms that vanish are dropped.
    #[must_use]
    pub fn new(terms: impl IntoIterator<Item = (usize, f64)>, constant: f64) -> Self {
        let mut gathered = Vec::new();
        for (unknown, coefficient) in terms {
            add_term(&mut gathered, unknown, coefficient);
        }
        Self { terms: gathered.into(), constant }
    }

    /// The form that is one unknown by itself.
    #[must_use]
    pub fn of(unknown: usize) -> Self {
        Self { terms: [(unknown, 1.0)].into(), constant: 0.0 }
    }

    /// The form that is a constant.
    #[must_use]
    pub fn constant_of(constant: f64) -> Self {
        Self { terms: [].into(), constant }
    }

    /// The terms: index of the unknown and its coefficient, in ascending order of the index.
    #[must_use]
    pub fn terms(&self) -> &[(usize, f64)] {
        &self.terms
    }

    /// The constant `b`.
    #[must_use]
    pub fn constant(&self) -> f64 {
        self.constant
    }

    /// The sum of two forms.
    #[must_use]
    pub fn plus(&self, other: &Self) -> Self {
        Self::new(self.terms.iter().chain(other.terms.iter()).copied(), self.constant + other.constant)
    }

    /// The difference of two forms.
    #[must_use]
    pub fn minus(&self, other: &Self) -> Self {
        self.plus(&other.times(-1.0))
    }

    /// The form times a number.
    #[must_use]
    pub fn times(&self, factor: f64) -> Self {
        Self::new(self.terms.iter().map(|(unknown, a)| (*unknown, a * factor)), self.constant * factor)
    }

    /// The form with a number added.
    #[must_use]
    pub fn offset_by(&self, addend: f64) -> Self {
        Self { terms: self.terms.clone(), constant: self.constant + addend }
    }

    /// The value of the form where the unknowns have these values.
    #[must_use]
    pub fn at(&self, unknowns: &[f64]) -> f64 {
        self.constant + self.terms.iter().map(|(unknown, a)| a * unknowns[*unknown]).sum::<f64>()
    }

    /// The largest index of an unknown that occurs.
    pub(crate) fn last_unknown(&self) -> Option<usize> {
        self.terms.last().map(|(unknown, _)| *unknown)
    }
}

/// Adds a term to others, which come in ascending order of the unknown.
fn add_term(terms: &mut Vec<(usize, f64)>, unknown: usize, coefficient: f64) {
    match terms.binary_search_by_key(&unknown, |(index, _)| *index) {
        Ok(place) => {
            terms[place].1 += coefficient;
            if terms[place].1 == 0.0 {
                terms.remove(place);
            }
        }
        Err(place) if coefficient != 0.0 => terms.insert(place, (unknown, coefficient)),
        Err(_) => {}
    }
}
