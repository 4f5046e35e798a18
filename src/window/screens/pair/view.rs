//! Draws two clips side by side: the pictures, what leads and how they are tied, and the papers.

use iced::{
    Alignment, Element, Length,
    widget::{center, column, container, row, rule, scrollable, space},
};

use crate::{
    sheet::CAUTION,
    window::{
        controls::{quiet_button, stage_button},
        keymap::{Going, PairCommand, PairWork, View},
        paper::{self, Shown},
        screens::clip,
        theme::{self, Current, size, text},
        viewer::playback::Speed,
        words,
    },
};

use super::{
    message::{Message, Pressed, Which},
    screen::{Pair, Second},
    side::{NoFrame, Side, name},
};

/// Shares of a half's height that the picture and the paper have.
const SHARES: [u16; 2] = [11, 9];

impl Pair {
    /// Draws the screen.
    pub(crate) fn view(&self) -> Element<'_, Message> {
        view(self).map(Message::Pressed)
    }
}

fn view(pair: &Pair) -> Element<'_, Pressed> {
    let second: Element<'_, Pressed> = match &pair.second {
        Second::There(side) => half(pair, side, Which::Second),
        Second::Asked(ask) => container(ask.view())
            .width(Length::Fill)
            .height(Length::Fill)
            .style(theme::paper)
            .into(),
    };
    let halves = row![half(pair, &pair.first, Which::First), second]
        .spacing(theme::space::HAIR)
        .height(Length::Fill);
    let screen = column![halves].push(matches!(pair.second, Second::There(_)).then(|| bar(pair)));
    container(screen).style(theme::stage).into()
}

fn half<'a>(pair: &'a Pair, side: &'a Side, which: Which) -> Element<'a, Pressed> {
    let [picture_share, paper_share] = SHARES;
    let line = side.clip.view_line().map(move |message| match message {
        clip::Message::FramePointedAt(frame) => Pressed::PointedAt(which, frame),
        // The line tells nothing else.
        _ => Pressed::PointedAt(which, side.frame()),
    });
    let line = container(line).padding([0.0, theme::space::MIDDLE]).style(theme::stage_raised);
    let picture = container(picture(side, which)).height(Length::FillPortion(picture_share));
    let paper = container(written(side, which))
        .width(Length::Fill)
        .height(Length::FillPortion(paper_share))
        .style(theme::paper);
    column![head(pair, side, which), picture, line, paper].width(Length::Fill).into()
}

/// Which clip, which frame, how far from the tie, and whether it leads.
fn head<'a>(pair: &Pair, side: &'a Side, which: Which) -> Element<'a, Pressed> {
    let leads = pair.leads == which && matches!(pair.second, Second::There(_));
    let ink = if leads { theme::STAGE_ACCENT } else { theme::ON_STAGE };
    let leads = if leads { " · leads" } else { "" };
    let called = text(format!("{}{leads}", name(side.clip.path())))
        .font(theme::STRONG)
        .style(theme::ink(ink))
        .wrapping(text::Wrapping::None);
    let stage = side.stage();
    let place = if side.none.is_some() {
        "no frame here".to_owned()
    } else {
        let clock = words::clock(stage.time_base(), stage.ticks_of(side.frame()));
        let place = format!("Frame {} of {} · {clock}", side.frame(), stage.last_frame());
        let unsure = (!side.clip.viewer().is_sure()).then_some(words::NOT_PROVED);
        let also = [stage.soundness_of(side.frame()).says(), unsure].into_iter().flatten();
        also.fold(place, |place, said| format!("{place} · {said}"))
    };
    let from_tie = pair.tie_of(which).filter(|_| side.none.is_none()).map(|tie| {
        let apart = words::difference(tie.base, tie.ticks, stage.ticks_of(side.frame()));
        let said = format!("{apart} from where the two meet");
        text(said).style(theme::ink(theme::STAGE_ACCENT)).into()
    });
    let place = text(place).style(theme::ink(theme::ON_STAGE_QUIET)).into();
    let called = container(called).width(Length::Fill).clip(true).into();
    let line = row([called, place]).extend(from_tie).spacing(theme::space::MIDDLE);
    container(line)
        .padding([theme::space::SMALL, theme::space::MIDDLE])
        .style(theme::stage_raised)
        .into()
}

fn picture(side: &Side, which: Which) -> Element<'_, Pressed> {
    // A picture that plays tells how far it is, so it stays while it waits for its first frame.
    let none = side.none.filter(|_| !side.clip.viewer().plays()).map(why_none);
    if let Some(why) = none.or_else(|| side.clip.viewer().trouble()) {
        return center(text(why).style(theme::ink(theme::ON_STAGE_QUIET)))
            .padding(theme::space::WIDE)
            .into();
    }
    let tell = move |told| Pressed::Frame(which, told);
    let view = side.clip.viewer().picture(side.clip.turned(), tell);
    match which {
        Which::First => view.into(),
        Which::Second => view.beside().into(),
    }
}

fn why_none(none: NoFrame) -> String {
    match none {
        NoFrame::BeginsIn(seconds) => {
            format!("No frame here: this clip begins {seconds:.2} s later.")
        }
        NoFrame::EndedSince(seconds) if seconds < 0.005 => {
            "No frame here: this clip is over.".to_owned()
        }
        NoFrame::EndedSince(seconds) => {
            format!("No frame here: this clip ended {seconds:.2} s earlier.")
        }
        NoFrame::NotCounted => "Not counted so far yet.".to_owned(),
    }
}

fn written(side: &Side, which: Which) -> Element<'_, Pressed> {
    let complaint = side.clip.complaint().map(|said| {
        let sign = text("✗").font(theme::STRONG).style(theme::ink(theme::INK_MISSED));
        container(row![sign, text(said).width(Length::Fill)].spacing(theme::space::SMALL))
            .padding([theme::space::SMALL, theme::space::MIDDLE])
    });
    let session = side.clip.session();
    let Some(sheet) = session.sheet().filter(|_| session.is_marked()) else {
        let nothing = column![
            text(if session.is_open() {
                "Nothing is marked of this clip yet."
            } else {
                "No marks lie beside this clip."
            }),
            text("Shown alone, it can be written about.").style(theme::ink(theme::INK_QUIET)),
            quiet_button("This clip alone", Pressed::Alone(which)),
        ]
        .spacing(theme::space::SMALL);
        return column![].push(complaint).push(center(nothing)).into();
    };
    let (title, aside) = session.routine_in_words();
    let title = column![
        text(title).font(theme::STRONG),
        text(aside).size(size::SMALL).style(theme::ink(theme::INK_QUIET)),
    ]
    .width(Length::FillPortion(2));
    let band = container(paper::score_band(sheet)).width(Length::FillPortion(3));
    let head = row![title, band]
        .spacing(theme::space::MIDDLE)
        .align_y(Alignment::End)
        .padding([theme::space::SMALL, theme::space::MIDDLE]);
    let (chosen, in_sight) = side.clip.on_paper();
    let damage = side.clip.damage();
    let shown = Shown { chosen, in_sight, dragged: None, instead: None, damage };
    let lines = paper::view(session.paper(), shown, move |key| Pressed::Line(which, key));
    let lines = container(lines).padding([theme::space::SMALL, theme::space::MIDDLE]);
    let lines = scrollable(lines)
        .height(Length::Fill)
        .on_scroll(move |view| {
            let in_sight = [view.absolute_offset().y, view.bounds().height];
            Pressed::PaperMoved(which, in_sight)
        })
        .style(theme::lane);
    column![]
        .push(complaint)
        .push(head)
        .push(rule::horizontal(1).style(theme::divider))
        .push(lines)
        .into()
}

fn bar(pair: &Pair) -> Element<'_, Pressed> {
    let button = |label: &'static str, current: bool, command| {
        stage_button(label, Current::from(current), command, Pressed::Command)
    };
    let plays = |side: &Side| side.clip.viewer().plays();
    let plays = plays(&pair.first) || matches!(&pair.second, Second::There(side) if plays(side));
    let speeds = Speed::ALL.map(|speed| {
        let (now, command) =
            (speed == pair.speed(), PairCommand::Going(Going::Speed(speed.part())));
        stage_button(speed.says(), Current::from(now), command, Pressed::Command)
    });
    let tied = pair.tie.is_some();
    let said = if tied {
        "Tied: both are stepped together."
    } else {
        "Step each to the same moment, then tie them."
    };
    let buttons = row![button(
        if plays { "■ Stop" } else { "▶ Play" },
        false,
        PairCommand::Going(Going::Play)
    )]
    .extend(speeds)
    .push(space().width(theme::space::MIDDLE))
    .push(button("Whole", false, PairCommand::View(View::Fit)))
    .push(button("1:1", false, PairCommand::View(View::OneToOne)))
    .push(space().width(theme::space::MIDDLE))
    .push(button("Other leads", false, PairCommand::Work(PairWork::OtherSide)))
    .push(button(if tied { "Untie" } else { "Tie here" }, !tied, PairCommand::Work(PairWork::Tie)))
    .push(space().width(theme::space::MIDDLE))
    .push(button("Back", false, PairCommand::Work(PairWork::Leave)))
    .spacing(theme::space::HAIR);
    let said = column![
        text(said).style(theme::ink(theme::ON_STAGE)),
        text(CAUTION).size(size::SMALL).style(theme::ink(theme::ON_STAGE_QUIET)),
    ];
    let line = row![said.width(Length::Fill), buttons]
        .spacing(theme::space::MIDDLE)
        .align_y(Alignment::Center);
    container(line)
        .padding([theme::space::SMALL, theme::space::MIDDLE])
        .style(theme::stage_raised)
        .into()
}
