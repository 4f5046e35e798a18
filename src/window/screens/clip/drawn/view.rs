//! Puts the clip screen together.

use iced::{
    Alignment, Element, Length, Size,
    widget::{
        center, column, container, mouse_area, opaque, responsive, row, rule, scrollable, stack,
    },
};

use crate::{
    sheet::{CAUTION, Status},
    window::{
        controls::{button, fence},
        keymap::{self, ClipCommand, Steady, Work},
        paper::{self, Damage, Key, Shown, Sign},
        placing::{self, Placing, What},
        screens::clip::{
            Clip, Dialogue, Message,
            writing::offers::{self, WriteLine},
        },
        theme::{self, Current, part, size, text},
        viewer::loupe,
        write::moments::Moment,
    },
};

use super::{
    clip_line::{ClipLine, Sort},
    invitation::invitation,
    under::Under,
};

impl Clip {
    /// Draws the screen.
    pub(crate) fn view(&self) -> Element<'_, Message> {
        let screen = responsive(|room| {
            let under = Under::of(Size::new(room.width - self.paper_width, room.height));
            row![
                container(self.stage_side(under))
                    .width(Length::Fill)
                    .height(Length::Fill)
                    .style(theme::stage),
                container(self.paper_side(under))
                    .width(self.paper_width)
                    .height(Length::Fill)
                    .style(theme::paper),
            ]
            .into()
        });
        match &self.dialogue {
            Dialogue::None => screen.into(),
            Dialogue::Help(find) => over(screen, self.view_help(find)),
            Dialogue::Jump(jump) => over(screen, jump.view()),
            Dialogue::Header(form) => over(screen, form.view().map(Message::Header)),
            Dialogue::Routines(picked) => over(screen, self.view_routines(*picked)),
            Dialogue::Asides(page) => over(screen, self.view_asides(*page)),
            Dialogue::Page(page) => over(screen, page.view()),
            Dialogue::Planes(form) => over(screen, form.view().map(Message::Planes)),
            Dialogue::Record(form) => over(screen, on_sheet(form.view().map(Message::Record))),
            Dialogue::Meet(form) => {
                let form = form.view(self.session.sheet()).map(Message::Meet);
                over(screen, on_sheet(form))
            }
            Dialogue::Cut(form) => over(screen, on_sheet(form.view())),
            Dialogue::HandOver(form) => over(screen, on_sheet(form.view())),
        }
    }

    fn stage_side(&self, under: Under) -> Element<'_, Message> {
        let frame = self.viewer.picture(self.turn(), Message::Frame).handles(self.handles());
        let mut layers = stack![frame, self.overlay().view()];
        if let Some(loupe) = self.loupe() {
            layers = layers.push(loupe);
        }
        // What is asked while points are placed takes the place of the ribbon: the picture stays
        // where it is under the hand.
        let above_line = match self.mode.placing().map(Placing::what) {
            Some(What::Plane(plane)) => plane.bar(Message::Asked),
            Some(What::Angle(angle)) => {
                let frame = self.viewer.stage().frame_ref(self.viewer.frame());
                placing::bar(angle, &frame, Message::Asked)
            }
            None => self.controls_and_ribbon(under),
        };
        let above_line = container(above_line).height(under.height()).clip(true);
        let below = column![above_line, self.line_with_steps(under)]
            .push(self.notes())
            .spacing(theme::space::SMALL)
            .padding([theme::space::SMALL, theme::space::MIDDLE]);
        let layers = layers.width(Length::Fill).height(Length::Fill);
        column![layers, container(below).width(Length::Fill).style(theme::stage_raised)].into()
    }

    /// What a judge should know of the clip; nothing of a clip without oddities.
    fn notes(&self) -> Option<Element<'_, Message>> {
        let notes: Vec<String> = self.viewer.stage().notes().collect();
        let quiet = theme::ink(theme::ON_STAGE_QUIET);
        let note = || text(notes.join(" · ")).size(size::SMALL).style(quiet);
        (!notes.is_empty()).then(|| note().into())
    }

    /// The loupe, while a point is placed or moved.
    fn loupe(&self) -> Option<Element<'_, Message>> {
        let at = self.mode.placing()?.look()?;
        Some(loupe::view(&self.viewer, self.turn(), at, Message::Frame))
    }

    pub(crate) fn clip_line(&self) -> ClipLine {
        let lines = self.session.paper().routine.lines.iter();
        let marks = lines.filter(|line| is_item(line.key)).filter_map(|line| {
            let sort = match (line.depth, line.sign) {
                (_, Sign::Settled(Status::Taken | Status::Missed)) if line.depth > 0 => Sort::Taken,
                (0, _) => Sort::Element,
                _ => Sort::Other,
            };
            Some((line.frame?, sort))
        });
        ClipLine {
            frame: self.viewer.frame(),
            last: self.viewer.stage().last_frame(),
            marks: marks.collect(),
            elements: self.session.paper().reaches(),
            routines: self.spans(),
        }
    }

    /// Returns what tells of the damage of frames, as it is known by now.
    pub(crate) fn damage(&self) -> Damage<'static> {
        let soundness = self.viewer.stage().soundness();
        Box::new(move |frame| soundness(frame).says())
    }

    fn paper_side(&self, under: Under) -> Element<'_, Message> {
        // With little height, what stands above the lines goes with them.
        let (head, above) = match under {
            Under::Low => (None, Some(self.paper_head())),
            Under::Wide | Under::Close | Under::Narrow => (Some(self.paper_head()), None),
        };
        let foot = self.paper_foot(under);
        let lines: Element<'_, Message> = if self.session.is_marked() {
            let shown = Shown {
                chosen: self.chosen,
                in_sight: self.in_sight,
                dragged: Some(Message::LineDragged),
                instead: self
                    .mode
                    .line()
                    .filter(|line| line.rewritten().is_some())
                    .map(WriteLine::view),
                damage: self.damage(),
            };
            let drawn = paper::view(self.session.paper(), shown, Message::LinePressed);
            container(drawn).padding([theme::space::SMALL, theme::space::MIDDLE]).into()
        } else {
            let event = self.routine().map(|routine| routine.event.as_str());
            let invitation = container(invitation(event)).padding(theme::space::WIDE);
            if head.is_some() {
                return column![].push(head).push(center(invitation)).push(foot).into();
            }
            invitation.into()
        };
        let lane = scrollable(column![].push(above).push(lines))
            .height(Length::Fill)
            .id(crate::window::screens::clip::update::PAPER)
            .on_scroll(|view| Message::PaperMoved([view.absolute_offset().y, view.bounds().height]))
            .style(theme::lane);
        column![].push(head).push(lane).push(foot).into()
    }

    fn paper_head(&self) -> Element<'_, Message> {
        let (title, aside) = self.session.routine_in_words();
        let words = column![
            text(title).size(size::LEAD).font(theme::STRONG),
            text(aside).size(size::SMALL).style(theme::ink(theme::INK_QUIET)),
        ]
        .width(Length::Fill);
        let label = if self.session.is_open() { "Change" } else { "Set" };
        let change = button(text(label).size(size::SMALL))
            .padding([theme::space::TIGHT, theme::space::SMALL])
            .style(theme::other_button)
            .on_press(Message::Asked(ClipCommand::Work(Work::Header)));
        let head = row![words, self.of_routine(), change]
            .spacing(theme::space::SMALL)
            .align_y(Alignment::Center);
        let head = column![self.ways(), head].spacing(theme::space::SMALL);
        let head = container(head).padding([theme::space::SMALL, theme::space::MIDDLE]);
        column![head, rule::horizontal(1).style(theme::divider)].into()
    }

    fn paper_foot(&self, under: Under) -> Element<'_, Message> {
        let mut foot = column![].spacing(theme::space::SMALL).padding(theme::space::MIDDLE);
        if let Some(sheet) = self.session.sheet().filter(|_| self.session.is_marked()) {
            foot = foot
                .push(paper::score_band(sheet))
                .push(text(CAUTION).size(size::SMALL).style(theme::ink(theme::INK_QUIET)));
        }
        foot = foot.push(self.file_signs());
        if let Some(complaint) = &self.complaint {
            foot = foot.push(complaint.view());
        }
        // With little height, what has a key of its own leaves its room to the lines.
        let has_room = under != Under::Low;
        foot = foot.push(self.view_put()).push(self.of_chosen().filter(|_| has_room));
        let most = if has_room { part::OFFERS } else { part::OFFERS / 2.0 };
        let offers = self.mode.line().and_then(|line| line.offers(most));
        foot = foot.push(offers).push(self.view_walk());
        foot = match self.mode.line() {
            None => foot.push(offers::prompt()),
            Some(line) if line.rewritten().is_none() => foot.push(line.view()),
            // It is written in the place of the line.
            Some(_) => foot,
        };
        foot = foot.push(has_room.then(|| self.moment_keys()));
        column![rule::horizontal(1).style(theme::divider), foot].into()
    }

    fn moment_keys(&self) -> Element<'_, Message> {
        let event = self.session.sheaf().map_or("", |sheaf| sheaf.routine.event.as_str());
        let keys = Moment::of_event(event).iter().map(|moment| {
            let cap = container(
                text(keymap::key_of(ClipCommand::Work(Work::Put(*moment)))).size(size::SMALL),
            )
            .padding([0.0, theme::space::TIGHT])
            .style(theme::key_cap);
            let label = text(moment.says()).size(size::SMALL);
            button(row![cap, label].spacing(theme::space::TIGHT))
                .padding(theme::space::HAIR)
                .style(theme::paper_line(Current::No))
                .on_press(Message::Asked(ClipCommand::Work(Work::Put(*moment))))
                .into()
        });
        row(keys).spacing(theme::space::SMALL).wrap().into()
    }
}

pub(crate) const fn is_item(key: Key) -> bool {
    matches!(key, Key::Item(_))
}

fn on_sheet(form: Element<'_, Message>) -> Element<'_, Message> {
    container(form).max_width(part::PAGE).style(theme::sheet).into()
}

fn over<'a>(
    screen: impl Into<Element<'a, Message>>,
    dialogue: Element<'a, Message>,
) -> Element<'a, Message> {
    let veil = opaque(
        mouse_area(center(opaque(dialogue)).padding(theme::space::WIDE).style(theme::veil))
            .on_press(Message::Asked(ClipCommand::Steady(Steady::Leave))),
    );
    stack![screen.into(), fence(veil)].into()
}
