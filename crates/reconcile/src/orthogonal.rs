//! The QR factorisation of the identity on top of a matrix, and the small vector arithmetic that goes with it.
//!
//! Householder reflections (Golub and Van Loan, *Matrix Computations*, 4th ed., 5.1 and 5.2), made for this shape: in
//! column `k` only row `k` of the identity and the matrix below take part, so that each reflection is short.

/// For a matrix `Ã` with a row for each reading and a column for each unknown, `W`, `Q` and `P` with
/// `W Wᵀ = (I + ÃᵀÃ)⁻¹`, `Q = Ã W` and `P Pᵀ = (I + ÃÃᵀ)⁻¹`. The rows of `(Q P)` are orthonormal.
///
/// Each is a product of reflections or the inverse of a triangle; neither `ÃᵀÃ` nor a difference from the identity is
/// formed, so that small entries keep their digits.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Orthogonal {
    unknowns: usize,
    readings: usize,
    root: Vec<f64>,
    explained: Vec<f64>,
    unexplained: Vec<f64>,
    ln_triangle: f64,
}

impl Orthogonal {
    /// Factorises a matrix given by columns, one after the other, each with an entry for each reading.
    pub fn new(mut columns: Vec<f64>, unknowns: usize, readings: usize) -> Self {
        let mut triangle = vec![0.0; unknowns * unknowns];
        let mut explained = vec![0.0; readings * unknowns];
        let mut unexplained = vec![0.0; readings * readings];
        for reading in 0..readings {
            unexplained[reading * readings + reading] = 1.0;
        }
        let mut ln_triangle = 0.0;
        for at in 0..unknowns {
            let (done, later) = columns.split_at_mut((at + 1) * readings);
            let column = &mut done[at * readings..];
            let square = dot(column, column);
            if square == 0.0 {
                triangle[at * unknowns + at] = 1.0;
                continue;
            }
            // The reflection I − τ v vᵀ with v = (1, column/(1 + length)) takes (1, column) to (−length, 0).
            let length = (1.0 + square).sqrt();
            let twist = (1.0 + length) / length;
            column.iter_mut().for_each(|entry| *entry /= 1.0 + length);
            triangle[at * unknowns + at] = -length;
            ln_triangle += length.ln();
            for (next, other) in later.chunks_exact_mut(readings).enumerate() {
                let share = twist * dot(column, other);
                if share != 0.0 {
                    triangle[at * unknowns + at + 1 + next] = -share;
                    add(other, -share, column);
                }
            }
            for (reading, row) in unexplained.chunks_exact_mut(readings).enumerate() {
                let share = twist * dot(column, row);
                if share != 0.0 {
                    explained[reading * unknowns + at] = -share;
                    add(row, -share, column);
                }
            }
        }
        Self { unknowns, readings, root: inverse(&triangle, unknowns), explained, unexplained, ln_triangle }
    }

    /// The row of `W` that belongs to an unknown.
    pub fn root(&self, unknown: usize) -> &[f64] {
        &self.root[unknown * self.unknowns..][..self.unknowns]
    }

    /// The row of `Q` that belongs to a reading.
    pub fn explained(&self, reading: usize) -> &[f64] {
        &self.explained[reading * self.unknowns..][..self.unknowns]
    }

    /// The row of `P` that belongs to a reading.
    pub fn unexplained(&self, reading: usize) -> &[f64] {
        &self.unexplained[reading * self.readings..][..self.readings]
    }

    /// `½ ln|I + ÃᵀÃ|`.
    pub fn ln_triangle(&self) -> f64 {
        self.ln_triangle
    }
}

/// The inverse of an upper triangle, by rows from the last.
fn inverse(triangle: &[f64], size: usize) -> Vec<f64> {
    let mut inverse = vec![0.0; size * size];
    for at in (0..size).rev() {
        let (upper, lower) = inverse.split_at_mut((at + 1) * size);
        let row = &mut upper[at * size..];
        row[at] = 1.0;
        for (below, other) in lower.chunks_exact(size).enumerate() {
            let entry = triangle[at * size + at + 1 + below];
            if entry != 0.0 {
                add(row, -entry, other);
            }
        }
        let diagonal = triangle[at * size + at];
        row.iter_mut().for_each(|entry| *entry /= diagonal);
    }
    inverse
}

/// The inner product, summed in four strands so that the processor can take several steps at a time.
pub(crate) fn dot(one: &[f64], other: &[f64]) -> f64 {
    let mut strands = [0.0; 4];
    let (ones, others) = (one.chunks_exact(4), other.chunks_exact(4));
    let rest: f64 = ones.remainder().iter().zip(others.remainder()).map(|(a, b)| a * b).sum();
    for (a, b) in ones.zip(others) {
        for strand in 0..4 {
            strands[strand] += a[strand] * b[strand];
        }
    }
    (strands[0] + strands[2]) + (strands[1] + strands[3]) + rest
}

/// Adds a multiple of one vector to another.
pub(crate) fn add(to: &mut [f64], factor: f64, vector: &[f64]) {
    for (entry, addend) in to.iter_mut().zip(vector) {
        *entry += factor * addend;
    }
}
