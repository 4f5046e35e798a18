//! What the screens of practice ask of the program.

use iced::Task;

use crate::practice::gather;

/// What they ask of the program.
pub(crate) enum Action<M> {
    /// Nothing.
    None,
    /// A task of its own.
    Run(Task<M>),
    /// The start screen.
    Leave,
    /// To show how well these calls agree.
    Compare(gather::AgreementWanted),
}

impl<M: Send + 'static> Action<M> {
    /// Returns the same in the messages of another screen.
    pub(super) fn map<N: Send + 'static>(
        self,
        into: impl Fn(M) -> N + Clone + Send + 'static,
    ) -> Action<N> {
        match self {
            Self::None => Action::None,
            Self::Run(task) => Action::Run(task.map(into)),
            Self::Leave => Action::Leave,
            Self::Compare(wanted) => Action::Compare(wanted),
        }
    }
}
