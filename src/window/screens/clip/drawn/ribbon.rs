//! The ribbon: the neighbouring frames as small pictures, with their distance in time.

use std::collections::BTreeMap;

use iced::{
    Alignment, Element, Length,
    widget::{column, container, image, row, space},
};

use crate::{
    footage::Soundness,
    units::FrameIndex,
    window::{
        controls::button,
        screens::clip::Message,
        theme::{self, Current, part, size, text},
        viewer::stage::Stage,
        words,
    },
};

/// How many neighbours are shown on each side.
pub(crate) const EACH_SIDE: u64 = 4;
/// How many where there is little room.
pub(crate) const EACH_SIDE_NARROW: u64 = 2;
/// How many small pictures are kept; a few screens to and fro.
const KEPT: usize = 200;

/// The small pictures that are there.
#[derive(Default)]
pub(crate) struct Ribbon {
    middle: FrameIndex,
    pictures: BTreeMap<FrameIndex, image::Handle>,
}

impl Ribbon {
    /// Asks for the small pictures around a frame.
    pub(crate) fn look_around(&mut self, stage: &Stage, middle: FrameIndex) {
        self.middle = middle;
        self.collect(stage);
    }

    /// Takes in those that have arrived, and asks again for those that have not.
    pub(crate) fn collect(&mut self, stage: &Stage) {
        let mut frames: Vec<FrameIndex> =
            around(self.middle, stage.last_frame(), EACH_SIDE).flatten().collect();
        // The newest wish comes first, so the middle one is wished for last.
        frames.sort_by_key(|frame| std::cmp::Reverse(self.away(*frame)));
        for frame in frames {
            if !self.pictures.contains_key(&frame)
                && let Some(picture) = stage.small(frame, part::SMALL_PICTURE as u32)
            {
                self.pictures.insert(frame, picture);
            }
        }
        while self.pictures.len() > KEPT {
            // The farther end goes: it is the least likely to be looked at next.
            let (first, last) = (self.pictures.keys().next(), self.pictures.keys().next_back());
            let far = first.zip(last).map(|(first, last)| {
                if self.away(*first) > self.away(*last) { *first } else { *last }
            });
            far.map(|frame| self.pictures.remove(&frame));
        }
    }

    /// Returns whether all its pictures are there.
    #[cfg(feature = "harness")]
    pub(crate) fn is_full(&self, stage: &Stage) -> bool {
        let mut frames = around(self.middle, stage.last_frame(), EACH_SIDE).flatten();
        frames.all(|frame| self.pictures.contains_key(&frame))
    }

    /// Draws the ribbon; `marked` are the frames that carry something.
    pub(crate) fn view<'a>(
        &'a self,
        stage: &'a Stage,
        marked: &[FrameIndex],
        each_side: u64,
    ) -> Element<'a, Message> {
        let places = around(self.middle, stage.last_frame(), each_side)
            .map(|frame| frame.map_or_else(empty, |frame| self.place(stage, frame, marked)));
        row(places).spacing(theme::space::TIGHT).align_y(Alignment::End).into()
    }

    /// How many frames a frame is away from the middle.
    fn away(&self, frame: FrameIndex) -> u64 {
        self.middle.0.abs_diff(frame.0)
    }

    fn place<'a>(
        &'a self,
        stage: &'a Stage,
        frame: FrameIndex,
        marked: &[FrameIndex],
    ) -> Element<'a, Message> {
        let current = Current::from(frame == self.middle);
        let picture: Element<'_, Message> = match self.pictures.get(&frame) {
            Some(handle) => {
                image(handle.clone()).width(Length::Fill).height(part::SMALL_PICTURE).into()
            }
            None => space().width(Length::Fill).height(part::SMALL_PICTURE).into(),
        };
        let sign = if marked.binary_search(&frame).is_ok() { "▲" } else { "" };
        let damaged = match stage.soundness_of(frame) {
            Soundness::Sound => "",
            // Its words stand above once it is on screen; here is no room for them.
            Soundness::Following => "?",
            Soundness::Damaged => "✗",
        };
        let caption = match current {
            Current::Yes => frame.to_string(),
            Current::No => words::difference(
                stage.time_base(),
                stage.ticks_of(self.middle),
                stage.ticks_of(frame),
            ),
        };
        let ink = match current {
            Current::Yes => theme::ON_STAGE,
            Current::No => theme::ON_STAGE_QUIET,
        };
        let caption = row![
            text(caption).size(size::SMALL).style(theme::ink(ink)),
            text(sign).size(size::SMALL).style(theme::ink(theme::STAGE_ACCENT)),
            text(damaged).size(size::SMALL).style(theme::ink(theme::STAGE_ACCENT)),
        ]
        .spacing(theme::space::TIGHT);
        let framed = container(picture).padding(2).style(theme::small_picture(current));
        button(column![framed, caption].align_x(Alignment::Center))
            .padding(0)
            .width(Length::FillPortion(1))
            .style(theme::stage_button(Current::No))
            .on_press(Message::FramePicked(frame))
            .into()
    }
}

/// The frames from left to right; nothing where the clip has not begun or is over.
fn around(
    middle: FrameIndex,
    last: FrameIndex,
    each_side: u64,
) -> impl Iterator<Item = Option<FrameIndex>> {
    let offset = -(each_side as i64)..=each_side as i64;
    offset.map(move |by| {
        middle.0.checked_add_signed(by).map(FrameIndex).filter(|frame| *frame <= last)
    })
}

fn empty<'a>() -> Element<'a, Message> {
    space().width(Length::FillPortion(1)).into()
}
