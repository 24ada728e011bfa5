//! Changes of the catalog that somebody has entered and not yet saved, each with what it would change in the open orders.

use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::sync::{Arc, Mutex, PoisonError};

use book::{Judgement, MarkedCatalog};

use crate::error::DeskError;
use crate::rows::{Change, Kind};

/// So many are kept; of more, the oldest is let go.
const KEPT: usize = 24;

/// A change that is not yet saved.
#[derive(Debug)]
pub(crate) struct Proposal {
    /// What it is known by in an address. Nobody can guess it.
    pub id: String,
    pub kind: &'static Kind,
    /// What was entered; none where a former text of the file is put back.
    pub changes: Option<Vec<Change>>,
    /// The text of the file that the change was built on.
    pub seen: String,
    /// The text with the change.
    pub text: String,
    /// The change in words: `Add the bearing 40x80x18 ball`.
    pub words: String,
    /// Where a page goes once it is saved or discarded.
    pub back: String,
    /// The catalog as it would be.
    pub catalog: MarkedCatalog,
    /// What would be held to less strictly than now.
    pub weakened: Vec<String>,
    /// Whether somebody else has saved the same file meanwhile, so that it was built anew.
    pub anew: bool,
    pub effect: Arc<Effect>,
}

/// What a change does to the open orders, as far as that has been worked out.
#[derive(Debug, Default)]
pub(crate) struct Effect {
    done: AtomicUsize,
    total: AtomicUsize,
    broken_off: AtomicBool,
    outcome: Mutex<Option<Result<Vec<OrderEffect>, String>>>,
}

/// An order of which something would change.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct OrderEffect {
    pub number: i64,
    pub reference: String,
    pub was: Judgement,
    pub becomes: Judgement,
    pub fit_was: Option<f64>,
    pub fit_becomes: Option<f64>,
    /// Sizes to cut that move: words, millimetres before and after.
    pub sizes: Vec<(String, Option<f64>, Option<f64>)>,
    /// The weightiest reason of the new review, or the first fault of the sheet.
    pub why: String,
}

impl Effect {
    /// How many orders of how many have been looked at.
    pub fn progress(&self) -> (usize, usize) {
        (self.done.load(Ordering::Relaxed), self.total.load(Ordering::Relaxed))
    }

    pub fn set_progress(&self, done: usize, total: usize) {
        self.done.store(done, Ordering::Relaxed);
        self.total.store(total, Ordering::Relaxed);
    }

    /// Stops working it out.
    pub fn break_off(&self) {
        self.broken_off.store(true, Ordering::Relaxed);
    }

    pub fn is_broken_off(&self) -> bool {
        self.broken_off.load(Ordering::Relaxed)
    }

    pub fn end(&self, outcome: Result<Vec<OrderEffect>, String>) {
        *self.outcome.lock().unwrap_or_else(PoisonError::into_inner) = Some(outcome);
    }

    /// What came out; none while it is being worked out.
    pub fn outcome(&self) -> Option<Result<Vec<OrderEffect>, String>> {
        self.outcome.lock().unwrap_or_else(PoisonError::into_inner).clone()
    }
}

/// The changes that are not yet saved.
#[derive(Debug, Default)]
pub(crate) struct Proposals(Mutex<Vec<Arc<Proposal>>>);

impl Proposals {
    /// A name for a new one.
    ///
    /// # Errors
    ///
    /// The operating system gives no random bytes.
    pub fn fresh_id() -> Result<String, DeskError> {
        let mut bytes = [0_u8; 12];
        getrandom::fill(&mut bytes)
            .map_err(|error| DeskError::failed(format!("the operating system gives no random bytes: {error}")))?;
        Ok(bytes.iter().map(|byte| format!("{byte:02x}")).collect())
    }

    pub fn keep(&self, proposal: Arc<Proposal>) {
        let mut kept = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        if kept.len() >= KEPT {
            kept.remove(0).effect.break_off();
        }
        kept.push(proposal);
    }

    pub fn get(&self, id: &str) -> Option<Arc<Proposal>> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner).iter().find(|one| one.id == id).cloned()
    }

    /// Lets one go, whether it was saved or not.
    pub fn let_go(&self, id: &str) {
        let mut kept = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(at) = kept.iter().position(|one| one.id == id) {
            kept.remove(at).effect.break_off();
        }
    }
}
