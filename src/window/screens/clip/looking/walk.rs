//! The guide: what the rules of this event look at, one thing after the other in time.

mod order;

use iced::{
    Alignment, Element, Length,
    widget::{column, container, row},
};

use crate::{
    report,
    rulebook::Book,
    window::{
        controls::button,
        keymap::{self, ClipCommand, Work},
        screens::clip::Message,
        theme::{self, size, text},
    },
};

use order::Stretch;

/// The guide at one of its steps.
#[derive(Debug)]
pub(crate) struct Walk {
    steps: Vec<Step>,
    at: usize,
}

/// One thing to look for.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Step {
    /// When in the exercise it is.
    when: Stretch,
    /// What it is.
    what: String,
    /// What the book says of it.
    says: String,
    /// How it is written down.
    how: &'static str,
}

impl Walk {
    /// Returns the guide through an event and division; nothing where the book says nothing.
    pub(super) fn begin(book: &Book, event: &str, division: &str) -> Option<Self> {
        let card = report::card(book, event, division)?;
        let steps = card.sections.iter().flat_map(|section| {
            let how = how_to_write(section.title);
            section.rows.iter().filter_map(move |row| {
                let (what, says) = (row.label.clone(), row.says.clone());
                let when = order::stretch(book, section, row, (event, division));
                Some(Step { when, what, says, how: how? })
            })
        });
        let mut steps: Vec<Step> = steps.collect();
        // The sort is stable: within one stretch the order stays the card's.
        steps.sort_by_key(|step| step.when);
        (!steps.is_empty()).then_some(Self { steps, at: 0 })
    }

    /// Goes on to the next step; returns whether there is one.
    pub(super) const fn go_on(&mut self) -> bool {
        self.at += 1;
        self.at < self.steps.len()
    }

    pub(super) fn view(&self) -> Option<Element<'_, Message>> {
        let step = self.steps.get(self.at)?;
        let small = |said: String| text(said).size(size::SMALL).style(theme::ink(theme::INK_QUIET));
        let (at, all, when) = (self.at + 1, self.steps.len(), step.when.says());
        let place = small(format!("Guide, {at} of {all}, {when}"));
        let keys =
            small(format!("{} next · Esc end", keymap::key_of(ClipCommand::Work(Work::Walk))));
        let next = button(text("Next").size(size::SMALL))
            .padding([theme::space::HAIR, theme::space::SMALL])
            .style(theme::other_button)
            .on_press(Message::Asked(ClipCommand::Work(Work::Walk)));
        let head = row![place.width(Length::Fill), keys, next]
            .spacing(theme::space::SMALL)
            .align_y(Alignment::Center);
        let said = format!("{}: {}.", step.what, step.says);
        let content = column![head, text(said), small(step.how.to_owned())];
        let content = content.spacing(theme::space::HAIR);
        let boxed = container(content).width(Length::Fill).padding(theme::space::SMALL);
        Some(boxed.style(theme::offers).into())
    }
}

/// Returns what is to be done about the rules of a section of the card; nothing where there is
/// nothing to look for in the clip.
fn how_to_write(section: &str) -> Option<&'static str> {
    Some(match section {
        "Requirements" => "Go to the frame where it is shown, press Enter and write the element.",
        "Angles" => {
            "Choose the element, go to the frame that decides, and press Y, N or U, or write the \
             angle: Enter, angle 78."
        }
        "Faults" => "Go to the frame where you see it, press Enter and write amount and name.",
        "Falls, help, swings, contacts" | "Void and not allowed" => {
            "If you see it, go to its frame and press its key, or Enter and write it."
        }
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rulebook;

    #[test]
    fn every_step_of_the_shipped_book_says_what_and_how() {
        let book = rulebook::load("saltmarsh").unwrap();
        for event in &book.events {
            for division in book.divisions_of(&event.id) {
                let walk = Walk::begin(&book, &event.id, &division.id).unwrap();
                for step in &walk.steps {
                    assert!(!step.what.is_empty() && !step.how.is_empty(), "{step:?}");
                }
            }
        }
    }

    /// A vault in the order in which it happens: flight onto the hands, support, repulsion, second
    /// flight, landing (common knowledge, no source). The labels are the shipped book's.
    #[test]
    fn the_steps_follow_one_another_in_time() {
        let book = rulebook::load("saltmarsh").unwrap();
        let vault = Walk::begin(&book, "vault", "heron").unwrap();
        let places = [
            "Touches the stack before the hands do",
            "Head on the stack while the hands support",
            "Repulsion, hands to hips at release",
            "Brush of the stack on the way over",
            "Feet square to the travel at landing",
        ]
        .map(|what| vault.steps.iter().position(|step| step.what == what).unwrap());
        assert!(places.is_sorted(), "{places:?}");
        // Bars end with their dismount, though the book names it among the requirements.
        let bars = Walk::begin(&book, "bars", "heron").unwrap();
        let place = |what: &str| bars.steps.iter().position(|step| step.what == what).unwrap();
        assert!(place("Ends with a dismount") > place("Extra swing"));
    }
}
