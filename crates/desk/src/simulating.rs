//! Simulations that run beside the desk: one at a time, on one thread, so that the desk keeps answering.

use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::sync::{Arc, Mutex, PoisonError};

use axle::simulate::{Chance, People, Tally, Trials, Zeal};
use book::MarkedCatalog;
use jiff::Timestamp;
use rand::rngs::StdRng;
use rand::{RngExt, SeedableRng};

use crate::error::DeskError;

/// The fewest and the most orders of one simulation.
pub(crate) const ORDERS: std::ops::RangeInclusive<usize> = 20..=2_000;
/// So many results are kept.
const KEPT: usize = 20;
/// The questions of one order in so many are answered: they take far longer than the review itself.
const ASKED_OF: usize = 20;

/// What is simulated.
#[derive(Debug, Clone)]
pub(crate) struct Wanted {
    /// How many orders.
    pub orders: usize,
    /// The seed, from which all chance comes.
    pub seed: u64,
    /// How much is measured.
    pub zeal: Zeal,
    /// How people differ from what the catalog says of them.
    pub people: People,
}

/// How a simulation stands.
#[derive(Debug, Clone)]
pub(crate) enum Standing {
    /// It runs.
    Running,
    /// It was finished.
    Finished,
    /// Somebody stopped it; what it had counted by then is there.
    Stopped,
    /// It could not go on.
    Failed(String),
}

/// One simulation.
pub(crate) struct Run {
    /// Its number, counted from one since the desk was opened.
    pub number: usize,
    /// What is simulated.
    pub wanted: Wanted,
    /// Who asked for it.
    pub who: String,
    /// When.
    pub at: Timestamp,
    /// The mark of the catalog.
    pub catalog_mark: String,
    done: AtomicUsize,
    stop: AtomicBool,
    outcome: Mutex<(Standing, Tally)>,
}

impl Run {
    /// How many orders were tried.
    pub fn done(&self) -> usize {
        self.done.load(Ordering::Relaxed)
    }

    /// How it stands, and what was counted once it no longer runs.
    pub fn outcome(&self) -> (Standing, Tally) {
        self.outcome.lock().unwrap_or_else(PoisonError::into_inner).clone()
    }

    /// Whether it still runs.
    pub fn is_running(&self) -> bool {
        matches!(self.outcome().0, Standing::Running)
    }

    /// Lets it end after the order that it is at.
    pub fn stop(&self) {
        self.stop.store(true, Ordering::Relaxed);
    }

    fn carry_out(&self, catalog: &MarkedCatalog) {
        let Wanted { orders, seed, zeal, people } = &self.wanted;
        let trials = Trials::new(catalog.catalog().clone(), *zeal, *people);
        let mut tally = Tally::default();
        let mut standing = Standing::Finished;
        for order in 0..*orders {
            if self.stop.load(Ordering::Relaxed) {
                standing = Standing::Stopped;
                break;
            }
            let mut even = even_numbers(*seed, order);
            match trials.run(order % ASKED_OF == 0, &mut Chance::new(&mut even)) {
                Ok(Some(trial)) => tally.add(&trial),
                Ok(None) => {}
                Err(error) => {
                    standing = Standing::Failed(error.to_string());
                    break;
                }
            }
            self.done.store(order + 1, Ordering::Relaxed);
        }
        *self.outcome.lock().unwrap_or_else(PoisonError::into_inner) = (standing, tally);
    }
}

/// The chance of one order: numbers even between 0 and 1. The command line draws the same, so that the same seed gives the same
/// orders here and there.
pub fn even_numbers(seed: u64, order: usize) -> impl FnMut() -> f64 {
    let mut source = StdRng::seed_from_u64(seed.wrapping_add((order as u64) << 20));
    move || source.random_range(f64::EPSILON..1.0)
}

/// The simulations since the desk was opened, the oldest first.
#[derive(Default)]
pub(crate) struct Simulating(Mutex<(usize, Vec<Arc<Run>>)>);

impl Simulating {
    /// The simulations that are kept, the latest first.
    pub fn runs(&self) -> Vec<Arc<Run>> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner).1.iter().rev().cloned().collect()
    }

    /// Begins one.
    ///
    /// # Errors
    ///
    /// One is running already.
    pub fn begin(
        &self,
        wanted: Wanted,
        who: &str,
        at: Timestamp,
        catalog: Arc<MarkedCatalog>,
    ) -> Result<Arc<Run>, DeskError> {
        let mut kept = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(running) = kept.1.iter().find(|run| run.is_running()) {
            let problem = format!("simulation {} is running; there is one at a time", running.number);
            return Err(DeskError::refused(problem, "to wait until it has ended, or to stop it"));
        }
        kept.0 += 1;
        let run = Arc::new(Run {
            number: kept.0,
            wanted,
            who: who.to_owned(),
            at,
            catalog_mark: catalog.mark().to_owned(),
            done: AtomicUsize::new(0),
            stop: AtomicBool::new(false),
            outcome: Mutex::new((Standing::Running, Tally::default())),
        });
        if kept.1.len() >= KEPT {
            kept.1.remove(0);
        }
        kept.1.push(run.clone());
        let (running, watched) = (run.clone(), run.clone());
        let work = tokio::task::spawn_blocking(move || running.carry_out(&catalog));
        tokio::spawn(async move {
            if work.await.is_err() {
                let mut outcome = watched.outcome.lock().unwrap_or_else(PoisonError::into_inner);
                outcome.0 = Standing::Failed("the simulation broke off".to_owned());
            }
        });
        Ok(run)
    }
}

impl Drop for Simulating {
    /// A desk that closes waits for no simulation.
    fn drop(&mut self) {
        for run in self.runs() {
            run.stop();
        }
    }
}
