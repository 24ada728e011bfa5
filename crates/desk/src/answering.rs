//! How many requests are being answered at the moment, so that what the desk does in the background gives way to people.

use std::time::Duration;

use tokio::sync::{Mutex, MutexGuard, watch};
use tokio::time::timeout;

/// Work in the background waits no longer than this for a moment in which nobody is being answered. So it comes to its end under
/// steady traffic, and then takes about a tenth of one core.
const LONGEST_WAIT: Duration = Duration::from_millis(250);

/// The requests that are being answered.
#[derive(Debug, Default)]
pub(crate) struct Answering {
    requests: watch::Sender<usize>,
    long_work: Mutex<()>,
}

/// A request that is being answered, until this is dropped.
#[derive(Debug)]
pub(crate) struct Request<'a>(&'a watch::Sender<usize>);

impl Drop for Request<'_> {
    fn drop(&mut self) {
        self.0.send_modify(|requests| *requests -= 1);
    }
}

impl Answering {
    /// Counts a request as long as it is being answered.
    pub fn begin(&self) -> Request<'_> {
        self.requests.send_modify(|requests| *requests += 1);
        Request(&self.requests)
    }

    /// Waits before a small piece of work in the background: until nothing long is being done there, and then for a moment in which
    /// nobody is being answered.
    pub async fn give_way(&self) {
        drop(self.long_work.lock().await);
        let mut requests = self.requests.subscribe();
        // Where that moment never comes, the work goes on all the same.
        let _ = timeout(LONGEST_WAIT, requests.wait_for(|requests| *requests == 0)).await;
    }

    /// Begins long work in the background that cannot be divided. Small pieces wait until this is dropped, so that both together
    /// never take two cores.
    pub async fn begin_long_work(&self) -> MutexGuard<'_, ()> {
        self.long_work.lock().await
    }
}

#[cfg(test)]
mod tests {
    use std::pin::pin;
    use std::task::Poll;

    use super::Answering;

    /// Whether a future that is looked at for the first time has to wait.
    async fn waits(future: &mut (impl Future<Output = ()> + Unpin)) -> bool {
        std::future::poll_fn(|context| Poll::Ready(std::pin::Pin::new(&mut *future).poll(context).is_pending())).await
    }

    #[tokio::test]
    async fn work_waits_until_the_last_request_is_answered() {
        let answering = Answering::default();
        assert!(!waits(&mut pin!(answering.give_way())).await, "nobody asks");
        let (one, other) = (answering.begin(), answering.begin());
        let mut work = pin!(answering.give_way());
        assert!(waits(&mut work).await);
        drop(one);
        assert!(waits(&mut work).await);
        drop(other);
        work.await;
    }

    #[tokio::test]
    async fn work_goes_on_where_requests_never_end() {
        let answering = Answering::default();
        let _never_answered = answering.begin();
        answering.give_way().await;
        answering.give_way().await;
    }

    #[tokio::test]
    async fn small_work_waits_for_long_work() {
        let answering = Answering::default();
        let long = answering.begin_long_work().await;
        let mut work = pin!(answering.give_way());
        assert!(waits(&mut work).await);
        drop(long);
        work.await;
    }
}
