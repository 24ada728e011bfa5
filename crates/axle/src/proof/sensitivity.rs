//! Which inputs move the weakest safety most.

use super::Sensitivity;
use super::inputs::{End, Inputs, Values};

/// So many inputs are named.
const NAMED: usize = 3;

/// A stated input is moved by this share of itself, either way.
const STATED_MOVE: f64 = 0.1;

/// A move of the safety by less than this share of it is no move.
const NOTICED_FROM: f64 = 0.005;

/// Moves one input after the other, from the harsh end: an open one to its mild end, a stated one by a tenth to the side that
/// helps. `safety` works the weakest safety out.
pub(super) fn sensitivity(inputs: &Inputs, from: f64, safety: impl Fn(&Values) -> Option<f64>) -> Vec<Sensitivity> {
    let harsh = inputs.at(End::Harsh);
    let mut moves = Vec::new();
    for one in inputs.known() {
        let (least, most) = one.input.accepted();
        let targets = if one.line.is_some() {
            vec![one.harsh * (1.0 - STATED_MOVE), one.harsh * (1.0 + STATED_MOVE)]
        } else {
            vec![one.mild]
        };
        let moved = targets.into_iter().filter(|target| (least..=most).contains(target)).filter_map(|target| {
            let to = safety(&harsh.with(one.input, target))?;
            let text = |value| one.input.text(value, inputs.leading);
            let words = format!("{}: {} instead of {}", one.input.words(), text(target), text(one.harsh));
            Some(Sensitivity { input: Some(one.input), words, from, to })
        });
        moves.extend(moved.reduce(|best, next| if next.to > best.to { next } else { best }));
    }
    if inputs.locks == (false, true) {
        let mut open = harsh.clone();
        open.locks = false;
        if let Some(to) = safety(&open) {
            let words = "differential: an open one instead of one that can give one shaft all of the torque".to_owned();
            moves.push(Sensitivity { input: None, words, from, to });
        }
    }
    moves.retain(|one| one.to.is_finite() && (one.to - from).abs() > NOTICED_FROM * from.abs().max(1e-6));
    moves.sort_by(|one, other| (other.to - other.from).abs().total_cmp(&(one.to - one.from).abs()));
    moves.truncate(NAMED);
    moves
}
