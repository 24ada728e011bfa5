//! Explanations: a choice of parts and the mistakes that were made, each with its probability.

use crate::mixture::Mixture;
use crate::model::{Model, ModelError};
use crate::search::Search;

/// How far the enumeration goes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Options {
    /// Every explanation with up to so many mistakes is weighed, four at most.
    pub most_mistakes: usize,
    /// Explanations with that many mistakes whose probability reaches this are grown by one more mistake: three that hide each
    /// other are seldom likelier than their likeliest two. None grows nothing.
    pub grown_from: Option<f64>,
    /// An explanation whose weight is bounded to less than so many times that of the likeliest need not be weighed; the sum
    /// of the bounds is reported ([`Mixture::pruned`]). Zero weighs all.
    pub negligible: f64,
}

impl Default for Options {
    fn default() -> Self {
        Self { most_mistakes: 2, grown_from: Some(1e-3), negligible: 1e-7 }
    }
}

/// The most mistakes that one explanation can hold.
pub(crate) const MOST_MISTAKES: usize = 4;

/// The mistakes of an explanation: indices into [`Model::mistakes`], ascending. It is a slice that needs no allocation.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub struct MistakeSet {
    members: [usize; MOST_MISTAKES],
    count: usize,
}

impl MistakeSet {
    /// The set with these members, four at most.
    pub(crate) fn new(mistakes: &[usize]) -> Self {
        let mut set = Self { members: [0; MOST_MISTAKES], count: mistakes.len() };
        set.members[..mistakes.len()].copy_from_slice(mistakes);
        set.members[..mistakes.len()].sort_unstable();
        set
    }

    /// The set with one more member.
    pub(crate) fn with(&self, mistake: usize) -> Self {
        let mut set = *self;
        set.members[set.count] = mistake;
        set.count += 1;
        set.members[..set.count].sort_unstable();
        set
    }
}

impl std::ops::Deref for MistakeSet {
    type Target = [usize];

    fn deref(&self) -> &[usize] {
        &self.members[..self.count]
    }
}

/// A choice of parts and the mistakes that were made.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Explanation {
    /// Index of the model.
    pub model: usize,
    /// Indices of its mistakes, ascending.
    pub mistakes: MistakeSet,
    /// Logarithm of prior times marginal likelihood.
    pub ln_weight: f64,
    /// Its probability among all that were weighed.
    pub probability: f64,
    /// The factorisation that its posterior comes from.
    pub(crate) frame: usize,
}

/// Weighs every explanation with up to [`Options::most_mistakes`] mistakes, over all models, and grows the best by one more.
///
/// The result does not depend on the order of models, readings or mistakes but for the indices in it and the last bits of
/// a sum: explanations come by descending probability, equal ones by index. Where two mistakes of an explanation would
/// spoil the same reading it is not weighed; [`Mixture::prior_left_out`] counts it.
///
/// # Errors
/// [`ModelError`] where a model is not sound: sizes that differ, numbers that are not finite, indices out of range, rates
/// outside (0, 1), more mistakes asked for than an explanation can hold.
///
/// ```
/// use reconcile::{explain, Evidence, Form, Mistake, Model, Options, Prior};
/// // Two readings of one length disagree by an inch; one was taken with a tape from its one-inch line.
/// let reading = |value| Evidence { form: Form::of(0), value, standard_uncertainty: 0.8 };
/// let burnt = |value| Evidence { form: Form::of(0).offset_by(25.4), value, standard_uncertainty: 0.8 };
/// let model = Model {
///     weight: 1.0,
///     priors: vec![Prior { mean: 760.0, standard_deviation: 75.0, firm: false }],
///     readings: vec![reading(820.4), reading(795.1)],
///     mistakes: vec![
///         Mistake { rate: 0.01, spoils: vec![(0, burnt(820.4))] },
///         Mistake { rate: 0.0001, spoils: vec![(1, burnt(795.1))] },
///     ],
/// };
/// let mixture = explain(&[model], &Options::default())?;
/// assert_eq!(*mixture.explanations()[0].mistakes, [0]);
/// assert!((mixture.marginal(&Form::of(0)).mean() - 795.05).abs() < 0.01);
/// # Ok::<(), reconcile::ModelError>(())
/// ```
pub fn explain(models: &[Model], options: &Options) -> Result<Mixture, ModelError> {
    let first = models.first().ok_or(ModelError::NoModel)?;
    for (index, model) in models.iter().enumerate() {
        model.check(index, first)?;
    }
    let most = options.most_mistakes + usize::from(options.grown_from.is_some());
    if most > MOST_MISTAKES {
        return Err(ModelError::Mistakes { asked: most, most: MOST_MISTAKES });
    }
    let mut search = Search::new(models, options)?;
    search.sound_and_single();
    search.pairs_of_readings();
    search.ties_with_others();
    search.larger_sets();
    search.grow_the_best();
    search.finish()
}
