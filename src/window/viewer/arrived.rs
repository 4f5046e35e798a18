//! The signal that a picture has arrived, from the reader's threads to the window.

use std::{
    hash::{Hash, Hasher},
    sync::Arc,
};

use iced::{Subscription, futures::stream};
use tokio::sync::Notify;

/// The signal; many arrivals in one turn of the window are one signal.
#[derive(Clone, Default)]
pub(crate) struct Arrived(Arc<Notify>);

impl Arrived {
    /// Gives the signal.
    pub(crate) fn signal(&self) {
        self.0.notify_one();
    }

    pub(crate) fn listen(&self) -> Subscription<()> {
        Subscription::run_with(self.clone(), |arrived| {
            stream::unfold(arrived.clone(), |arrived| async move {
                arrived.0.notified().await;
                Some(((), arrived))
            })
        })
    }
}

impl Hash for Arrived {
    fn hash<H: Hasher>(&self, state: &mut H) {
        Arc::as_ptr(&self.0).hash(state);
    }
}
