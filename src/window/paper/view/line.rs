//! One line of the paper, and what stands above lines.

use iced::{
    Alignment, Element, Length,
    widget::{column, container, row, space},
};

use crate::{
    sheet::Status,
    units::FrameIndex,
    window::{
        controls::button,
        paper::lines::{Block, Key, Line, RECOGNISED, Sign},
        theme::{self, Current, part, size, text},
    },
};

/// What the paper is drawn with.
pub(crate) struct Shown<'a, M> {
    /// The line that is chosen.
    pub chosen: Option<Key>,
    /// How far down what is in sight begins, and its height, in logical pixels.
    pub in_sight: [f32; 2],
    /// Makes a message of a line that was dragged onto another one, where lines can be dragged.
    pub dragged: Option<fn(Key, Key) -> M>,
    /// What stands in the place of the chosen line, where that is written anew.
    pub instead: Option<Element<'a, M>>,
    /// What is to be said of the damage of a frame.
    pub damage: Damage<'a>,
}

/// Returns what is to be said of the damage of a frame, if anything.
pub(crate) type Damage<'a> = Box<dyn Fn(FrameIndex) -> Option<&'static str> + 'a>;

/// Height of a row of text over its size.
pub(super) const ROW: f32 = 1.3;

pub(super) fn heading<'a, M: 'a>(block: &'a Block) -> Element<'a, M> {
    let quiet = |said: &'a str| text(said).size(size::SMALL).style(theme::ink(theme::INK_QUIET));
    let title = quiet(block.title).font(theme::STRONG);
    let head = row![title, space().width(Length::Fill), quiet(&block.total)];
    let note = (!block.note.is_empty()).then(|| quiet(block.note));
    column![head].push(note).padding([0.0, theme::space::SMALL]).into()
}

pub(super) fn line<'a, M: Clone + 'a>(
    line: &'a Line,
    damage: &Damage<'_>,
    chosen: Option<Key>,
    on_press: impl Fn(Key) -> M + Copy + 'a,
) -> Element<'a, M> {
    let frame = line.frame.map(|frame| frame.to_string()).unwrap_or_default();
    let margin = container(text(frame).size(size::SMALL).style(theme::ink(theme::INK_QUIET)))
        .width(part::FRAME)
        .align_x(Alignment::End);
    let sign = container(
        text(line.sign.shape().to_string())
            .font(theme::STRONG)
            .style(theme::ink(sign_ink(line.sign))),
    )
    .width(part::SIGN)
    .align_x(Alignment::Center);
    let right =
        container(text(&line.right).style(theme::ink(right_ink(line)))).align_x(Alignment::End);
    let hang = space().width(f32::from(line.depth) * part::HANG);
    let content = row![margin, hang, sign, words(line, damage), right]
        .spacing(theme::space::SMALL)
        .align_y(Alignment::Start);
    button(content)
        .width(Length::Fill)
        .padding([theme::space::HAIR, theme::space::SMALL])
        .style(theme::paper_line(Current::from(chosen == Some(line.key))))
        .on_press(on_press(line.key))
        .into()
}

fn words<'a, M: 'a>(line: &'a Line, damage: &Damage<'_>) -> Element<'a, M> {
    let of_routine = matches!(line.key, Key::Item(_) | Key::Sheet(RECOGNISED, _));
    let font = if line.depth == 0 && of_routine { theme::STRONG } else { theme::FONT };
    let said = text(&line.text).font(font);
    let damage = line.frame.and_then(damage);
    let damage = damage.map(|says| format!("picture: {says}"));
    let aside = joined([&aside(line), &damage.unwrap_or_default()]);
    if aside.is_empty() {
        return container(said).width(Length::Fill).into();
    }
    let aside = text(aside).size(size::SMALL).style(theme::ink(theme::INK_QUIET));
    column![said, aside].width(Length::Fill).into()
}

/// What is said beside a line; where its sign is bad news or none yet, first the sign's word.
pub(super) fn aside(line: &Line) -> String {
    let word = if line.sign.is_told() { line.sign.word() } else { "" };
    joined([word, &line.aside])
}

fn joined(words: [&str; 2]) -> String {
    words.into_iter().filter(|it| !it.is_empty()).collect::<Vec<_>>().join(" · ")
}

const fn sign_ink(sign: Sign) -> theme::Tint {
    match sign {
        Sign::Plain | Sign::Waiting | Sign::Settled(Status::NotCounted) => theme::INK_QUIET,
        Sign::Settled(Status::Met) => theme::INK_MET,
        Sign::Settled(Status::Missed | Status::Taken) => theme::INK_MISSED,
        Sign::Settled(Status::Close) => theme::INK_OPEN,
    }
}

/// An angle below nothing takes nothing off.
fn right_ink(line: &Line) -> theme::Tint {
    if line.right.starts_with('−') && !line.right.contains('°') {
        theme::INK_MISSED
    } else {
        theme::INK
    }
}
