//! A plane whose points are being clicked, and the bar that says which comes next.

use iced::{
    Alignment, Element, Length,
    widget::{button, column, container, row, space, text},
};

use crate::{
    figure::{Form, Ink, Shape, plane},
    geometry::{PlaneFit, Refusal, placing::mean},
    marks::{ReferencePlane, Sheaf, check_plane},
    units::Upright,
    window::{
        keymap::{ClipCommand, PointCommand, Steady},
        theme::{self, Current, size},
        viewer::ink,
    },
};

/// A plane whose points are being clicked.
pub(crate) struct Planing {
    /// The plane so far.
    pub plane: ReferencePlane,
    /// How often each point is to be clicked beyond the first time.
    pub again: usize,
    /// Points that cannot be seen, by their places.
    pub skipped: Vec<usize>,
    /// The point placed or moved last, by its place.
    pub chosen: Option<usize>,
    /// The point that the pointer holds, and where, in upright pixels.
    pub held: Option<(usize, [f64; 2])>,
    /// What the loupe looks at, in upright pixels.
    pub look: Option<[f64; 2]>,
    fit: Option<Result<PlaneFit, Refusal>>,
}

impl Planing {
    /// Begins with a plane, or goes on with it.
    pub(crate) fn begin(plane: ReferencePlane, sheaf: &Sheaf) -> Self {
        let again = plane.points.iter().map(|point| point.coded.len()).min().unwrap_or(0);
        let mut planing = Self {
            plane,
            again,
            skipped: Vec::new(),
            chosen: None,
            held: None,
            look: None,
            fit: None,
        };
        planing.follow(sheaf);
        planing
    }

    /// Brings everything in step with the marks.
    pub(crate) fn follow(&mut self, sheaf: &Sheaf) {
        match sheaf.plane(&self.plane.name) {
            Some(plane) => self.plane = plane.clone(),
            None => self.plane.points.iter_mut().for_each(|point| point.coded.clear()),
        }
        self.fit = self.plane.is_clicked().then(|| check_plane(sheaf, &self.plane));
    }

    /// Returns the place of the point that is asked for.
    pub(crate) fn asked(&self) -> Option<usize> {
        self.plane.missing(self.again, &self.skipped)
    }

    /// Returns whether it may be used.
    pub(crate) fn is_good(&self) -> bool {
        matches!(self.fit, Some(Ok(_)))
    }

    /// Returns the points clicked, with their places, in upright pixels.
    pub(crate) fn in_sight(&self, upright: &Upright) -> Vec<(usize, [f64; 2])> {
        let clicked = self.plane.points.iter().enumerate();
        let clicked = clicked.filter(|(_, point)| !point.coded.is_empty());
        let held = |place: usize| self.held.filter(|held| held.0 == place).map(|held| held.1);
        clicked
            .map(|(place, point)| {
                (place, held(place).unwrap_or_else(|| upright.to_shown(mean(&point.coded))))
            })
            .collect()
    }

    /// Returns what is drawn.
    pub(crate) fn shapes(&self, upright: &Upright) -> Vec<Shape> {
        let in_sight = self.in_sight(upright);
        // The outline goes through the corners; further points lie on its edges.
        let corners: Vec<[f64; 2]> =
            in_sight.iter().filter(|(place, _)| *place < 4).map(|(_, at)| *at).collect();
        let mut shapes = plane(&corners, "");
        let further = in_sight.iter().filter(|(place, _)| *place >= 4);
        shapes.extend(further.map(|(_, at)| Shape::Dot {
            at: *at,
            ink: Ink::World,
            form: Form::Square,
        }));
        let chosen = in_sight.iter().find(|(place, _)| Some(*place) == self.chosen);
        shapes.extend(chosen.map(|(_, at)| Shape::Dot {
            at: *at,
            ink: Ink::World,
            form: Form::Chosen,
        }));
        shapes
    }

    /// Draws the bar; `on` makes a message of what a button stands for.
    pub(crate) fn bar<'a, M: Clone + 'a>(
        &'a self,
        on: impl Fn(ClipCommand) -> M + Copy + 'a,
    ) -> Element<'a, M> {
        let one = |label: &'static str, command| {
            button(text(label).size(size::SMALL))
                .padding([theme::space::TIGHT, theme::space::SMALL])
                .style(theme::stage_button(Current::No))
                .on_press(on(command))
        };
        let buttons = row![
            one("Back ⌫", ClipCommand::Points(PointCommand::TakeBack)),
            one("Not there Tab", ClipCommand::Points(PointCommand::Skip)),
            one("All again R", ClipCommand::Points(PointCommand::Again)),
            one("Keep ⏎", ClipCommand::Points(PointCommand::Keep)),
            one("Leave Esc", ClipCommand::Steady(Steady::Leave)),
        ]
        .spacing(theme::space::HAIR);
        let said = self.fit_in_words();
        let ink = if self.is_good() { ink::tint(Ink::Met) } else { ink::tint(Ink::Open) };
        let head = row![
            text(self.prompt()).size(size::LEAD).font(theme::STRONG),
            space().width(Length::Fill),
            buttons,
        ]
        .spacing(theme::space::MIDDLE)
        .align_y(Alignment::Center);
        let mut lines = column![head].spacing(theme::space::TIGHT);
        if !said.is_empty() {
            lines = lines.push(text(said).size(size::SMALL).style(theme::ink(ink)));
        }
        container(lines)
            .width(Length::Fill)
            .height(super::bar::HEIGHT)
            .clip(true)
            .padding([theme::space::SMALL, theme::space::MIDDLE])
            .style(theme::stage_raised)
            .into()
    }

    fn prompt(&self) -> String {
        let name = &self.plane.name;
        match self.asked().and_then(|place| self.plane.points.get(place)) {
            Some(point) => {
                let what = if point.name.is_empty() { "next corner" } else { &point.name };
                format!("Plane “{name}”: click the {what}")
            }
            None if self.is_good() => format!("Plane “{name}”: Enter keeps it"),
            None => format!("Plane “{name}”: move or take back what is wrong"),
        }
    }

    fn fit_in_words(&self) -> String {
        match &self.fit {
            None => String::new(),
            Some(Err(refusal)) => format!("✗ {refusal}."),
            Some(Ok(PlaneFit { residual: Some(residual), .. })) => {
                format!("✓ It fits; its points miss their places by {residual:.1} px.")
            }
            Some(Ok(PlaneFit { residual: None, .. })) => {
                "✓ Four points fix it; a fifth would tell how well they fit.".to_owned()
            }
        }
    }
}
