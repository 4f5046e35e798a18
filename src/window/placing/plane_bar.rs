//! The bar under the picture while a plane is clicked: which point comes next, and how well they fit.

use iced::{
    Alignment, Element, Length,
    widget::{column, row, space},
};

use crate::{
    figure::Ink,
    geometry::{HALF_WIDTH, PlaneFit},
    window::{
        controls::button,
        keymap::{ClipCommand, PointCommand, Steady},
        theme::{self, Current, size, text},
        viewer::ink,
    },
};

use super::planing::Planing;

/// What fewer points than six of known place mean; a point on an edge counts half.
const UNCHECKED: &str = "Too few points to check each other: until there are six, of which two on an edge \
                         count as one, clicks may be off unnoticed, and every angle is wider for it. \
                         Click those asked for (V passes over what is not there).";

impl Planing {
    /// Returns whether it can be used, but too few points tell how well they were clicked.
    fn is_unchecked(&self) -> bool {
        matches!(&self.fit, Some(Ok(fit)) if fit.measures() && !fit.is_checked())
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
            one("Not there V", ClipCommand::Points(PointCommand::Skip)),
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
        .align_y(Alignment::Center)
        .wrap();
        let mut lines = column![head].spacing(theme::space::TIGHT);
        if !said.is_empty() {
            lines = lines.push(text(said).size(size::SMALL).style(theme::ink(ink)));
        }
        if self.is_unchecked() {
            let more = text(UNCHECKED).size(size::SMALL);
            lines = lines.push(more.style(theme::ink(ink::tint(Ink::Open))));
        }
        lines.into()
    }

    fn prompt(&self) -> String {
        let name = &self.plane.name;
        match self.asked().and_then(|place| self.plane.points.get(place)) {
            Some(point) => {
                let what = if point.name.is_empty() { "next corner" } else { &point.name };
                format!("Plane “{name}”: click the {what}")
            }
            None if self.is_unchecked() => {
                format!("Plane “{name}”: Enter keeps it; R clicks every point once more")
            }
            None if self.is_good() => format!("Plane “{name}”: Enter keeps it"),
            None => format!("Plane “{name}”: move or take back what is wrong"),
        }
    }

    fn fit_in_words(&self) -> String {
        match &self.fit {
            None => String::new(),
            Some(Err(refusal)) => format!("✗ {refusal}."),
            Some(Ok(fit)) if !fit.measures() => {
                "✗ Seen almost along itself: it draws directions and measures nothing. Film from \
                 higher, or more squarely."
                    .to_owned()
            }
            Some(Ok(fit)) => fits(fit),
        }
    }
}

/// How well it fits, what it leaves to an angle by itself, and what would tell more.
fn fits(PlaneFit { residual, direction_u, .. }: &PlaneFit) -> String {
    let fit = match residual {
        Some(residual) => format!("✓ It fits; its points miss their places by {residual:.1} px."),
        None => "✓ Four points fix it, and nothing checks them.".to_owned(),
    };
    let own = direction_u.map_or_else(String::new, |u| {
        format!(" By itself it leaves ± {:.1}° to an angle (95 %).", u.0 * HALF_WIDTH)
    });
    fit + &own
}
