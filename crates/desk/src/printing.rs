//! Where papers are set and pictures are read: work that takes long, off the threads that answer and no more at once than there
//! are cores.

use std::sync::{Arc, Mutex, PoisonError};

use paperwork::{Press, Shop};
use tokio::sync::Semaphore;

use crate::error::DeskError;

/// The press of the shop, kept warm, and the room for long work.
pub(crate) struct Printing {
    cores: Semaphore,
    /// The press with the shop that it was made for. Another letterhead makes another press.
    press: Mutex<Option<(Arc<Shop>, Arc<Press>)>>,
}

impl Default for Printing {
    fn default() -> Self {
        let cores = std::thread::available_parallelism().map_or(1, std::num::NonZero::get);
        Self { cores: Semaphore::new(cores), press: Mutex::default() }
    }
}

impl Printing {
    /// The press of a shop. Making one reads fonts and templates, so this belongs into [`Printing::work`].
    pub fn press(&self, shop: &Arc<Shop>) -> Arc<Press> {
        let mut kept = self.press.lock().unwrap_or_else(PoisonError::into_inner);
        match kept.as_ref() {
            Some((known, press)) if Arc::ptr_eq(known, shop) => press.clone(),
            _ => {
                let press = Arc::new(Press::new(shop));
                *kept = Some((shop.clone(), press.clone()));
                press
            }
        }
    }

    /// Does long work on a thread of its own once a core is free.
    ///
    /// # Errors
    ///
    /// What the work gives back, or that the desk is stopping.
    pub async fn work<T: Send + 'static>(
        &self,
        work: impl FnOnce() -> Result<T, DeskError> + Send + 'static,
    ) -> Result<T, DeskError> {
        let _core = self.cores.acquire().await.map_err(|_| DeskError::failed("the desk is stopping"))?;
        tokio::task::spawn_blocking(work)
            .await
            .map_err(|error| DeskError::failed(format!("the work broke off: {error}")))?
    }
}
