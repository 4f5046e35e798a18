//! Asking in the system's own dialogue where something is to go, or which file or folder is meant.

use std::path::{Path, PathBuf};

use iced::Task;
use rfd::AsyncFileDialog;

/// Where the dialogue begins, and with which name.
pub(crate) struct Wish<'a> {
    /// What is asked, as the dialogue's title.
    pub title: &'a str,
    /// A file beside which it begins.
    pub near: Option<&'a Path>,
    /// The name that is offered.
    pub name: &'a str,
    /// What such files are called, with the ending of their names.
    pub kind: (&'a str, &'a str),
}

/// Asks where a new file is to go.
pub(crate) fn ask_where<M: Send + 'static>(
    wish: &Wish<'_>,
    chosen: impl Fn(Option<PathBuf>) -> M + Send + 'static,
) -> Task<M> {
    let (kind, ending) = wish.kind;
    let dialogue = AsyncFileDialog::new().add_filter(kind, &[ending]).set_file_name(wish.name);
    let dialogue = begun(dialogue, wish.title, wish.near);
    answered(move || dialogue.save_file(), chosen)
}

/// Asks for a file that is there.
pub(crate) fn ask_which<M: Send + 'static>(
    title: &str,
    (kind, ending): (&str, &str),
    chosen: impl Fn(Option<PathBuf>) -> M + Send + 'static,
) -> Task<M> {
    let dialogue = AsyncFileDialog::new().add_filter(kind, &[ending]);
    let dialogue = begun(dialogue, title, None);
    answered(move || dialogue.pick_file(), chosen)
}

/// Asks for a folder.
pub(crate) fn ask_folder<M: Send + 'static>(
    title: &str,
    chosen: impl Fn(Option<PathBuf>) -> M + Send + 'static,
) -> Task<M> {
    let dialogue = begun(AsyncFileDialog::new(), title, None);
    answered(move || dialogue.pick_folder(), chosen)
}

fn begun(dialogue: AsyncFileDialog, title: &str, near: Option<&Path>) -> AsyncFileDialog {
    let dialogue = dialogue.set_title(title);
    match near.and_then(Path::parent) {
        Some(folder) => dialogue.set_directory(folder),
        None => dialogue,
    }
}

fn answered<M, D>(
    asking: impl FnOnce() -> D,
    chosen: impl Fn(Option<PathBuf>) -> M + Send + 'static,
) -> Task<M>
where
    M: Send + 'static,
    D: Future<Output = Option<rfd::FileHandle>> + Send + 'static,
{
    #[cfg(feature = "harness")]
    if let Some(answers::Answer(answer)) = answers::next() {
        return Task::done(chosen(answer));
    }
    Task::perform(asking(), move |file| chosen(file.map(|it| it.path().to_owned())))
}

/// What a test answers in the place of a person, because no dialogue is there to press.
#[cfg(feature = "harness")]
pub(crate) mod answers {
    use std::{cell::RefCell, collections::VecDeque, path::PathBuf};

    /// A place, or that the dialogue was closed.
    pub(super) struct Answer(pub(super) Option<PathBuf>);

    thread_local! {
        static ANSWERS: RefCell<VecDeque<Answer>> = const { RefCell::new(VecDeque::new()) };
    }

    /// Has the next dialogue of this thread answered so.
    pub(crate) fn give(answer: Option<PathBuf>) {
        ANSWERS.with_borrow_mut(|answers| answers.push_back(Answer(answer)));
    }

    pub(super) fn next() -> Option<Answer> {
        ANSWERS.with_borrow_mut(VecDeque::pop_front)
    }
}
