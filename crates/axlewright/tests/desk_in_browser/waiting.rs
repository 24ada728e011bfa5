//! Waiting until something is so.

use std::future::Future;
use std::time::Duration;

/// How long something may take. A loaded machine is slow; a desk that never answers shall still fail.
pub const LIMIT: Duration = Duration::from_secs(40);

/// How often is asked whether it is so.
const PAUSE: Duration = Duration::from_millis(25);

/// Asks again and again until there is an answer. `None` when there was none within the limit.
pub async fn answer<T, F: Future<Output = Option<T>>>(mut ask: impl FnMut() -> F) -> Option<T> {
    let asking = async {
        loop {
            if let Some(answer) = ask().await {
                return answer;
            }
            tokio::time::sleep(PAUSE).await;
        }
    };
    tokio::time::timeout(LIMIT, asking).await.ok()
}
