//! Several sheets put together as the book says, as a page over the wall: a panel of judges, or one
//! athlete's attempts.

use std::sync::Arc;

use iced::{
    Alignment, Element, Length, Padding, Task,
    keyboard::Event,
    widget::{
        Id, column, container,
        operation::{AbsoluteOffset, scroll_by},
        row, scrollable,
    },
};

use crate::{
    judged::Judging,
    library::{self, Index, Judges, Page},
    marks::StateFolder,
    report::{self, Document},
    sheet,
    window::{
        controls::quiet_button,
        document,
        keymap::{self, LibraryCommand},
        theme::{self, size, text},
        words::sentence,
    },
};

use super::{
    aside::aside,
    jobs::{Kept, there},
    message::{Action, Message},
    screen::Library,
};

/// More than anybody attempts.
const MOST: u32 = 12;
/// Id of the lane in which the page is moved.
const LANE: &str = "together";
/// How far a key moves it, in logical pixels.
const LINE: f32 = 60.0;

/// Puts what judges of one routine marked together as a panel.
pub(super) fn panel(judges: &Judges) -> Result<Arc<Document>, String> {
    match judges.panel() {
        Ok(together) => Ok(Arc::new(report::together(&together))),
        Err(error) => Err(format!("{}.", sentence(&error.to_string()))),
    }
}

/// Puts all that a search finds together as one athlete's attempts, the earliest first.
fn attempts(kept: &Kept, words: &str) -> Result<Arc<Document>, String> {
    let together = || -> anyhow::Result<Document> {
        let index = Index::open(there(kept)?)?;
        let page = Page { from: 0, most: MOST + 1 };
        let (mut hits, all) =
            library::find(&index, &library::parse(words)?, page, library::today())?;
        anyhow::ensure!(
            all <= MOST,
            "These are {all} routines; search for the attempts of one athlete first, as \"event \
             vault athlete SC-07\""
        );
        hits.sort_by(|a, b| (&a.date, &a.clip, &a.routine).cmp(&(&b.date, &b.clip, &b.routine)));
        let mut judging = Judging::new(StateFolder::of_user().as_ref());
        let mut all = Vec::new();
        for marks in hits.iter().filter(|hit| hit.watched).filter_map(|hit| hit.marks.as_ref()) {
            let judged = judging.judge(marks)?;
            judging.keep_to(&judged.ruled);
            all.push(judged);
        }
        let Some(first) = all.first() else {
            anyhow::bail!("Nobody has marked any of it yet");
        };
        let book = Arc::clone(&first.ruled.book);
        let sheets: Vec<_> = all.into_iter().map(|judged| judged.sheet).collect();
        Ok(report::together(&sheet::attempts_together(&book, &sheets)?))
    };
    together().map(Arc::new).map_err(|error| format!("{}.", sentence(&format!("{error:#}"))))
}

impl Library {
    /// Shows all that is found as attempts of one athlete.
    pub(super) fn show_attempts(&mut self) -> Action {
        (self.asking, self.said) = (None, None);
        let (kept, words) = (self.kept.clone(), self.searched.clone());
        Action::Run(aside(move || attempts(&kept, &words), Message::Together))
    }

    /// Shows the judges that are side by side as a panel.
    pub(super) fn show_panel(judges: &Arc<Judges>) -> Task<Message> {
        let judges = Arc::clone(judges);
        aside(move || panel(&judges), Message::Together)
    }

    pub(super) fn key_over_page(&mut self, event: &Event) -> Action {
        match keymap::in_library(event) {
            Some(LibraryCommand::Leave | LibraryCommand::GoOn) => self.page = None,
            Some(LibraryCommand::Tile(0, by)) => {
                let by = AbsoluteOffset { x: 0.0, y: f32::from(by) * LINE };
                return Action::Run(scroll_by(Id::new(LANE), by));
            }
            _ => {}
        }
        Action::None
    }
}

/// Draws the page.
pub(super) fn view(page: &Document) -> Element<'_, Message> {
    let heading = column![
        text(page.title.as_str()).size(size::LEAD).font(theme::STRONG),
        quiet(page.head.join(" · ")),
    ]
    .width(Length::Fill);
    let close = quiet_button("Close (Esc)", Message::Asked(LibraryCommand::Leave));
    let body =
        container(document::parts(&page.parts)).padding(Padding::ZERO.right(theme::space::LARGE));
    let body =
        scrollable(body).id(LANE).width(Length::Fill).height(Length::Fill).style(theme::lane);
    let head = row![heading, close].align_y(Alignment::Center);
    column![head, body, quiet(page.caution.clone())].spacing(theme::space::MIDDLE).into()
}

fn quiet<'a>(said: String) -> Element<'a, Message> {
    text(said).size(size::SMALL).style(theme::ink(theme::INK_QUIET)).into()
}
