//! Sheets are reviewed off the threads that answer, no more at once than there are cores, and what was reviewed is kept: the same
//! sheet with the same catalog gives the same review.

use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{Arc, Mutex, PoisonError};

use book::{BookError, MarkedCatalog, ReviewedSheet};
use sha2::{Digest, Sha256};
use tokio::sync::Semaphore;

use crate::error::DeskError;

/// So many reviews are kept. One takes some hundred kilobytes at most.
const KEPT: usize = 200;

/// How much of a review is wanted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Depth {
    /// Without the ranked questions, which take longer than all the rest: for an answer to a keystroke.
    WithoutQuestions,
    /// Everything.
    Whole,
}

type Key = [u8; 32];

/// Where sheets are reviewed.
pub(crate) struct Reviewing {
    cores: Semaphore,
    kept: Mutex<Kept>,
    computed: AtomicU64,
    found: AtomicU64,
}

/// What was reviewed lately, the longest unused first.
#[derive(Default)]
struct Kept(Vec<(Key, Arc<ReviewedSheet>)>);

impl Default for Reviewing {
    fn default() -> Self {
        let cores = std::thread::available_parallelism().map_or(1, std::num::NonZero::get);
        Self {
            cores: Semaphore::new(cores),
            kept: Mutex::default(),
            computed: AtomicU64::new(0),
            found: AtomicU64::new(0),
        }
    }
}

impl Reviewing {
    /// Reviews a sheet; `name` stands in front of its faults.
    ///
    /// # Errors
    ///
    /// The sheet holds faults, or the catalog makes no sound model.
    pub async fn review(
        &self,
        name: &str,
        text: &str,
        catalog: &MarkedCatalog,
        depth: Depth,
    ) -> Result<Arc<ReviewedSheet>, DeskError> {
        let whole = key(text, catalog, Depth::Whole);
        let wanted = key(text, catalog, depth);
        if let Some(found) = self.find(&whole).or_else(|| self.find(&wanted)) {
            return Ok(found);
        }
        let closed = |_| DeskError::failed("the desk is stopping");
        let permit = self.cores.acquire().await.map_err(closed)?;
        // Somebody else may have wanted the same and been first.
        if let Some(found) = self.find(&wanted) {
            return Ok(found);
        }
        let (name, text, catalog) = (name.to_owned(), text.to_owned(), catalog.clone());
        let reviewed = tokio::task::spawn_blocking(move || reviewed(&name, &text, &catalog, depth))
            .await
            .map_err(|error| DeskError::failed(format!("the review broke off: {error}")))??;
        drop(permit);
        self.computed.fetch_add(1, Ordering::Relaxed);
        let reviewed = Arc::new(reviewed);
        self.keep(wanted, &reviewed);
        Ok(reviewed)
    }

    /// How many reviews were computed, and how many were there already.
    pub fn counted(&self) -> (u64, u64) {
        (self.computed.load(Ordering::Relaxed), self.found.load(Ordering::Relaxed))
    }

    fn find(&self, key: &Key) -> Option<Arc<ReviewedSheet>> {
        let mut kept = self.kept.lock().unwrap_or_else(PoisonError::into_inner);
        let place = kept.0.iter().position(|(known, _)| known == key)?;
        let entry = kept.0.remove(place);
        let found = entry.1.clone();
        kept.0.push(entry);
        self.found.fetch_add(1, Ordering::Relaxed);
        Some(found)
    }

    fn keep(&self, key: Key, reviewed: &Arc<ReviewedSheet>) {
        let mut kept = self.kept.lock().unwrap_or_else(PoisonError::into_inner);
        if kept.0.len() >= KEPT {
            kept.0.remove(0);
        }
        kept.0.push((key, reviewed.clone()));
    }
}

fn reviewed(name: &str, text: &str, catalog: &MarkedCatalog, depth: Depth) -> Result<ReviewedSheet, BookError> {
    match depth {
        Depth::WithoutQuestions => ReviewedSheet::read(name, text, catalog),
        Depth::Whole => {
            let sheet = axle::read_sheet(name, text, catalog.catalog())?;
            let review = axle::review(&sheet, catalog.catalog()).map_err(BookError::Model)?;
            Ok(ReviewedSheet::with_review(text, sheet, review, catalog))
        }
    }
}

fn key(text: &str, catalog: &MarkedCatalog, depth: Depth) -> Key {
    let mut hasher = Sha256::new();
    hasher.update(catalog.mark().as_bytes());
    hasher.update([u8::from(depth == Depth::Whole)]);
    hasher.update(text.as_bytes());
    hasher.finalize().into()
}
