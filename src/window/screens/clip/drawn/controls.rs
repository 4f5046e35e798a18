//! Under the picture: which frame is on screen, what is pinned to it, and buttons.

use iced::{
    Alignment, Element, Length,
    widget::{column, container, row, space},
};

use crate::{
    footage::TimeSource,
    units::{FrameIndex, counted},
    window::{
        controls::{self, button},
        keymap::{ClipCommand, Going, Heading, Steady, View, Work},
        screens::clip::{Clip, Message},
        theme::{self, Current, size, text},
        viewer::{
            playback::Speed,
            viewport::{Scale, Viewport},
        },
        words,
    },
};

use super::{under::Under, view::is_item};

impl Clip {
    /// Draws which frame is on screen, the buttons, and the small pictures around it.
    pub(crate) fn controls_and_ribbon(&self, under: Under) -> Element<'_, Message> {
        let buttons = row(self.buttons(under)).spacing(theme::space::HAIR);
        if under == Under::Low {
            return column![self.place(under), buttons].spacing(theme::space::TIGHT).into();
        }
        let marked = self.session.marked_frames();
        let ribbon = self.ribbon.view(self.viewer.stage(), &marked, under.each_side());
        let controls: Element<'_, Message> = if under == Under::Narrow {
            column![self.place(under), buttons.wrap()].spacing(theme::space::TIGHT).into()
        } else {
            row![self.place(under), buttons]
                .spacing(theme::space::MIDDLE)
                .align_y(Alignment::Center)
                .into()
        };
        column![controls, space().height(Length::Fill), ribbon].into()
    }

    /// Draws the clip line between the buttons that step through the clip.
    pub(crate) fn line_with_steps(&self, under: Under) -> Element<'_, Message> {
        let step = |label, going| stage_button(label, Current::No, ClipCommand::Going(going));
        let turn =
            |label, way| stage_button(label, Current::No, ClipCommand::Work(Work::Turn(way)));
        let has_room = matches!(under, Under::Wide | Under::Close);
        let tens = |label, by| has_room.then(|| step(label, Going::Step(by)));
        row![step("‹ 1 s", Going::Seconds(-1))]
            .push(tens("‹ 10", -10))
            .push(turn("‹ turn", Heading::Back))
            .push(self.clip_line().view())
            .push(turn("turn ›", Heading::On))
            .push(tens("10 ›", 10))
            .push(step("1 s ›", Going::Seconds(1)))
            .spacing(theme::space::HAIR)
            .align_y(Alignment::Center)
            .into()
    }

    /// Frame and time, and what is pinned there.
    fn place(&self, under: Under) -> Element<'_, Message> {
        let seen = self.viewer.frame_seen();
        let going = if seen == self.viewer.frame() {
            String::new()
        } else {
            format!(" → {}", self.viewer.frame())
        };
        // Nobody can tell such frames apart, so what is seen on one may have been on the other.
        let same = self.viewer.stage().same_as(seen);
        let same = same.map(|first| format!(", same picture as frame {first}")).unwrap_or_default();
        let last = self.viewer.stage().last_frame();
        let place = text(format!("Frame {seen} of {last}{same}{going}"))
            .font(theme::STRONG)
            .wrapping(text::Wrapping::None);
        // None of it goes on in a second line: that would move the picture.
        let stage = self.viewer.stage();
        let clock = text(words::clock(stage.time_base(), stage.ticks_of(seen)))
            .size(size::SMALL)
            .style(theme::ink(theme::ON_STAGE_QUIET))
            .wrapping(text::Wrapping::None);
        // The line is there also where nothing is to be said, so that stepping moves nothing else.
        let here = text(self.said_here(seen))
            .size(size::SMALL)
            .style(theme::ink(theme::STAGE_ACCENT))
            .wrapping(text::Wrapping::None);
        let late = (self.viewer.dropped() > 0).then(|| {
            let pictures = counted(self.viewer.dropped() as usize, "picture");
            text(format!("{pictures} dropped")).style(theme::ink(theme::STAGE_ACCENT))
        });
        // The time stands beneath the number, where there is a second line.
        let (beside, beneath) = match under {
            Under::Low => (Some(clock), None),
            Under::Wide | Under::Close | Under::Narrow => {
                (None, Some(row![clock, here].spacing(theme::space::SMALL)))
            }
        };
        let place = row![place].push(beside).spacing(theme::space::MIDDLE);
        let place = button(place)
            .padding(0)
            .style(theme::stage_button(Current::No))
            .on_press(Message::Asked(ClipCommand::Work(Work::Jump)));
        let place = row![controls::tipped(place.into(), ClipCommand::Work(Work::Jump)), late]
            .spacing(theme::space::MIDDLE);
        container(column![place].push(beneath)).width(Length::Fill).clip(true).into()
    }

    fn buttons(&self, under: Under) -> Vec<Element<'_, Message>> {
        let play = if self.viewer.plays() { "■ Stop" } else { "▶ Play" };
        let speeds = Speed::ALL.map(|speed| {
            let current = Current::from(speed == self.viewer.speed());
            stage_button(speed.says(), current, ClipCommand::Going(Going::Speed(speed.part())))
        });
        let whole = Current::from(self.viewer.viewport() == Viewport::FIT);
        let real = Current::from(self.viewer.viewport().scale() == Scale::Times(1.0));
        let gap = || (under != Under::Close).then(|| space().width(theme::space::MIDDLE).into());
        let mut buttons = vec![stage_button(play, Current::No, ClipCommand::Going(Going::Play))];
        if under == Under::Low {
            buttons.extend([
                stage_button(self.measure_label(), Current::No, ClipCommand::Work(Work::Measure)),
                stage_button("Hand over", Current::No, ClipCommand::Work(Work::HandOver)),
                stage_button("Commands ?", Current::No, ClipCommand::Steady(Steady::Help)),
            ]);
            return buttons;
        }
        buttons.extend(speeds);
        buttons.extend(gap());
        buttons.extend([
            stage_button("Whole", whole, ClipCommand::View(View::Fit)),
            stage_button("1:1", real, ClipCommand::View(View::OneToOne)),
            stage_button("−", Current::No, ClipCommand::View(View::ZoomOut)),
            stage_button("+", Current::No, ClipCommand::View(View::ZoomIn)),
        ]);
        buttons.extend(gap());
        buttons.extend([
            stage_button(self.measure_label(), Current::No, ClipCommand::Work(Work::Measure)),
            stage_button("Hand over", Current::No, ClipCommand::Work(Work::HandOver)),
            stage_button("Beside", Current::No, ClipCommand::Work(Work::LayBeside)),
            stage_button("Commands ?", Current::No, ClipCommand::Steady(Steady::Help)),
        ]);
        buttons
    }

    /// What is to be said of the frame on screen, and what is pinned to it.
    fn said_here(&self, seen: FrameIndex) -> String {
        let damage = self.viewer.stage().soundness_of(seen).says();
        let damage = damage.map(|says| format!("picture: {says}")).unwrap_or_default();
        let source = match self.viewer.stage().time_source(seen) {
            TimeSource::Given => "",
            TimeSource::Joined => "joined here",
            TimeSource::Assumed => "time assumed",
        };
        let looks = if self.turning.is_some() { "looking for where it turns …" } else { "" };
        let sure = if self.viewer.is_sure() { "" } else { words::NOT_PROVED };
        let said = [looks, sure, &damage, source, &self.marks_here()];
        said.into_iter().filter(|it| !it.is_empty()).collect::<Vec<_>>().join(" · ")
    }

    /// What is pinned to the frame on screen, in words.
    fn marks_here(&self) -> String {
        let lines = self.session.paper().routine.lines.iter();
        let here =
            lines.filter(|line| line.frame == Some(self.viewer.frame()) && is_item(line.key));
        here.map(|line| line.text.as_str()).collect::<Vec<_>>().join(" · ")
    }
}

fn stage_button<'a>(
    label: impl text::IntoFragment<'a>,
    current: Current,
    command: ClipCommand,
) -> Element<'a, Message> {
    controls::stage_button(label, current, command, Message::Asked)
}
